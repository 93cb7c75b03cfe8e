"""The open dataset: where its tables lie. Imports nothing of the service."""

from __future__ import annotations

from pathlib import Path
from typing import Final

FOLDER: Final = Path(__file__).resolve().parent


def table_path(name: str) -> Path:
    """The file of one table, such as `odorants`."""
    return FOLDER / "tables" / f"{name}.csv"


def reference_path(name: str) -> Path:
    """The file of one published physics or taste table."""
    return FOLDER / "reference" / f"{name}.csv"
