"""Everything to open formats, and back."""

from __future__ import annotations

from pathlib import Path

from service.bar import Bar, Progress, load_package, write_package


def export_all(bar: Bar, place: Path) -> int:
    """Every record to a folder, or to a zip where the name ends so; how many rows it was."""
    with bar.look() as unit:
        return write_package(unit, place)


def import_all(
    bar: Bar, who: str, place: Path, *, replace: bool = False, progress: Progress | None = None
) -> int:
    """Every record back from there, identical: all of them, or none where anything is wrong."""
    with bar.unit(who) as unit:
        return load_package(unit, place, replace=replace, progress=progress)
