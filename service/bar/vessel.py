"""A folder or a zip, written so that it is there only when it is complete, and read again."""

from __future__ import annotations

import errno
import io
import os
import shutil
import struct
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal, Protocol, TextIO
from uuid import uuid4

from service.kit import BadData, Conflict

ZIP = ".zip"
_UTF_8 = "utf-8"
_OWNER_ONLY_FILE, _OWNER_ONLY_FOLDER = 0o600, 0o700
# What the zip module says of a zip that was cut, flipped, locked, or is none.
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, UnicodeDecodeError)
_UNREADABLE = (*_BROKEN, NotImplementedError, RuntimeError, ValueError, struct.error)


class Vessel(Protocol):
    """Something that holds named text files."""

    @contextmanager
    def open(self, name: str) -> Iterator[TextIO]: ...


Target = Vessel
Source = Vessel


class Folder:
    """Named text files in a folder."""

    def __init__(self, path: Path, mode: Literal["r", "w"]) -> None:
        self.path, self.mode = path, mode

    @contextmanager
    def open(self, name: str) -> Iterator[TextIO]:
        try:
            with open(self.path / name, self.mode, encoding=_UTF_8, newline="") as file:
                yield file
        except FileNotFoundError:
            raise BadData(f"there is no {name} in {self.path}", field=name) from None
        except UnicodeDecodeError:
            raise BadData(f"{name} is not UTF-8 text", field=name) from None


class Zip:
    """Named text files in a zip."""

    def __init__(self, archive: zipfile.ZipFile, mode: Literal["r", "w"]) -> None:
        self.archive, self.mode = archive, mode

    @contextmanager
    def open(self, name: str) -> Iterator[TextIO]:
        try:
            file = self.archive.open(name, self.mode)
        except KeyError:
            raise BadData(f"there is no {name} in the zip", field=name) from None
        except (*_UNREADABLE, OSError) as error:
            if _of_the_disk(error):
                raise
            raise BadData(f"{name} is broken, locked or packed oddly", field=name) from None
        try:
            with file, io.TextIOWrapper(file, encoding=_UTF_8, newline="") as text:
                yield text
        except _BROKEN:
            raise BadData(f"{name} is broken", field=name) from None


@contextmanager
def complete(place: Path) -> Iterator[Path]:
    """A place to write to, which is moved to where it belongs at the end, and removed on errors.

    Never writes over what is there. Only the owner may read it: records are nobody else's.
    """
    if place.exists():
        raise Conflict(f"{place} exists already; choose another name")
    if not place.parent.is_dir():
        raise BadData(f"there is no folder {place.parent}; make it first")
    part = place.with_name(f".{place.name}.{uuid4().hex[:8]}")
    try:
        yield part
        part.chmod(_OWNER_ONLY_FOLDER if part.is_dir() else _OWNER_ONLY_FILE)
        part.rename(place)
        _to_disk(place.parent)
    finally:
        if part.is_dir():
            shutil.rmtree(part)
        else:
            part.unlink(missing_ok=True)


@contextmanager
def open_target(place: Path) -> Iterator[Target]:
    """A folder or zip to write to."""
    with complete(place) as part:
        if place.suffix.lower() == ZIP:
            with zipfile.ZipFile(part, "w", zipfile.ZIP_DEFLATED) as archive:
                yield Zip(archive, "w")
        else:
            part.mkdir(_OWNER_ONLY_FOLDER)
            yield Folder(part, "w")


@contextmanager
def open_source(place: Path) -> Iterator[Source]:
    """A folder or zip to read from."""
    if place.is_dir():
        yield Folder(place, "r")
    elif zipfile.is_zipfile(place):
        try:
            archive = zipfile.ZipFile(place)
        except (*_UNREADABLE, OSError) as error:
            if _of_the_disk(error):
                raise
            raise BadData(f"{place} is broken") from None
        with archive:
            yield Zip(archive, "r")
    elif place.exists():
        raise BadData(f"{place} is neither a folder nor a zip")
    else:
        raise BadData(f"there is no {place}")


def _of_the_disk(error: Exception) -> bool:
    """Whether the disk failed and not the zip. One that points before its own beginning is to the
    disk an argument that is not valid."""
    return isinstance(error, OSError) and error.errno not in {None, errno.EINVAL}


def _to_disk(folder: Path) -> None:
    """The move itself has to outlast a power cut."""
    descriptor = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)
