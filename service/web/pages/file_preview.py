"""What loading a spreadsheet's file would do, row by row: the same for every kind of record."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass, replace
from http import HTTPStatus
from typing import Any, BinaryIO, Final

from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import Response

from service.bar import BadRow, FileImport, GoodRow, Outcome
from service.kit import BadData
from service.web.pages.house import go_to, texts_of
from service.web.pages.rendering import page_answer
from service.web.pages.telling import listed

# A file up to this size waits inside the preview for the tap that loads it.
LARGEST_KEPT_BYTES: Final = 400_000
_SHOWN: Final = 60


@dataclass(frozen=True, slots=True)
class RowLine:
    """One row of a file: its line, what becomes of it, and what it is."""

    line: str
    words: str
    reason: str


@dataclass(frozen=True, slots=True)
class FilePlace:
    """Where a kind of file is loaded, and what one row of it is."""

    noun: str
    action: str
    back: str
    back_words: str


@dataclass(frozen=True, slots=True)
class FileForm:
    """Where a file is chosen or its rows are pasted; after a refusal with why, beside the field,
    and with what was pasted."""

    action: str
    hint: str
    text: str = ""
    text_error: str = ""
    file_error: str = ""

    @property
    def status(self) -> HTTPStatus:
        wrong = self.text_error or self.file_error
        return HTTPStatus.UNPROCESSABLE_ENTITY if wrong else HTTPStatus.OK


@dataclass(frozen=True, slots=True)
class FilePreviewPage:
    """What loading a file would do; nothing is written yet. Or what it did, with its bad rows."""

    place: FilePlace
    title: str
    summary: str
    good: tuple[RowLine, ...]
    bad: tuple[RowLine, ...]
    more: str
    text: str
    loads: bool
    loaded: bool


@dataclass(frozen=True, slots=True)
class FileKind:
    """A kind of file: where it is loaded, its form while it is empty, what each row should be,
    what does the loading (or only looks), what is said of a good row, and the page of its form."""

    place: FilePlace
    empty: FileForm
    wanted: str
    load: Callable[[BinaryIO], FileImport]
    told: Callable[[GoodRow], str]
    again: Callable[[FileForm], Response]


def file_looked_at(request: Request, form: FormData, kind: FileKind) -> Response:
    """What loading a file would do, row by row."""
    return _answered(request, form, kind, loaded=False)


def file_loaded(request: Request, form: FormData, kind: FileKind) -> Response:
    """Back to the list where all rows are in; else what was loaded, and the bad rows with why."""
    return _answered(request, form, kind, loaded=True)


def _answered(request: Request, form: FormData, kind: FileKind, *, loaded: bool) -> Response:
    try:
        content = file_content(form, kind.wanted)
        done = kind.load(io.BytesIO(content))
    except BadData as error:
        return kind.again(refused(kind.empty, form, error))
    if loaded and not done.bad_count and changes_something(done):
        return go_to(kind.place.back)
    page = file_preview(kind.place, done, content, kind.told, loaded=loaded)
    return page_answer(request, "file_preview.html", page, section="shelf")


def refused(empty: FileForm, form: FormData, error: BadData) -> FileForm:
    """The form again where a file is no such file at all; any other fault stays a fault."""
    if error.field != "file":
        raise error
    said = f"{error.message[:1].upper()}{error.message[1:]}."
    text = texts_of(form).get("text", "")
    if _chosen(form) is None and text.strip():
        return replace(empty, text=text, text_error=said.replace("The file is", "This is"))
    again = "" if _chosen(form) is None else " Then choose it again: no browser keeps the choice."
    return replace(empty, text=text, file_error=f"{said}{again}")


def file_content(form: FormData, wanted: str) -> bytes:
    """The file that was chosen, or the text that was pasted or waited in the preview."""
    chosen = _chosen(form)
    if chosen is not None:
        return chosen.file.read()
    text = texts_of(form).get("text", "")
    if not text.strip():
        raise BadData(f"choose a file first: {wanted}", field="file")
    return text.encode("utf-8", "replace")


def file_preview(
    place: FilePlace,
    result: FileImport,
    content: bytes,
    told: Callable[[GoodRow], str],
    *,
    loaded: bool = False,
) -> FilePreviewPage:
    """The page; `told` says in words what a good row is of."""
    counts = result.counts
    good = [row for row in result.good if row.outcome is not Outcome.UNCHANGED]
    fits = len(content) <= LARGEST_KEPT_BYTES and not loaded
    many = max(len(good), result.bad_count) > _SHOWN
    return FilePreviewPage(
        place=place,
        title="What the file would do"
        if not loaded
        else "Loaded, except for some rows"
        if changes_something(result)
        else "Nothing was loaded",
        summary=f"{counts[Outcome.ADDED]} new, {counts[Outcome.CHANGED]} changed, "
        f"{counts[Outcome.UNCHANGED]} as they were; {result.bad_count} cannot be read",
        good=tuple(RowLine(str(row.line), told(row), _becomes(row)) for row in good[:_SHOWN]),
        bad=tuple(_bad(row) for row in result.bad[:_SHOWN]),
        more=f"The first {_SHOWN} of each kind are shown." if many else "",
        text=content.decode("utf-8-sig") if fits else "",
        loads=changes_something(result),
        loaded=loaded,
    )


def changes_something(result: FileImport) -> bool:
    """Whether any row is new or differs from what is here."""
    return bool(result.counts[Outcome.ADDED] + result.counts[Outcome.CHANGED])


def _chosen(form: FormData) -> UploadFile | None:
    given: Any = form.get("file")
    return given if isinstance(given, UploadFile) and given.filename else None


def _becomes(row: GoodRow) -> str:
    if row.outcome is Outcome.ADDED:
        return str(row.outcome)
    return f"changes {listed(name.replace('_', ' ') for name in row.changes)}"


def _bad(row: BadRow) -> RowLine:
    column = f"{row.column.replace('_', ' ')}: " if row.column else ""
    return RowLine(str(row.line), ", ".join(filter(None, row.cells)), f"{column}{row.reason}")
