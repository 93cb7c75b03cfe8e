"""The dataset: how much is known, how well, under which licence, and the files themselves."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import FileResponse, Response

import pairing_data
from service.counter.browse import counts
from service.counter.known import Known
from service.kit import NotFound
from service.web.deps import KnownHere
from service.web.pages.pictures import coverage
from service.web.pages.pieces import Figure, GradeMark, PictureView
from service.web.pages.rendering import page_answer
from service.web.pages.telling import grade_mark, number

router = APIRouter()
_FIGURES: Final = {
    "ingredients": "bottles and coffees",
    "odorants": "odorants",
    "ingredient_odorants": "odorants of ingredients",
    "descriptors": "notes",
    "note_words": "words of coffee bags",
    "specs": "drink specifications",
    "sources": "sources",
}
_GRADES: Final = ("measured", "derived", "recalled", "estimate")


@dataclass(frozen=True, slots=True)
class TableLine:
    """One table of the dataset, to be taken along."""

    name: str
    description: str
    address: str


@dataclass(frozen=True, slots=True)
class DatasetPage:
    """The dataset in figures, its picture, its tables."""

    title: str
    version: str
    licence: str
    figures: tuple[Figure, ...]
    grades: tuple[GradeMark, ...]
    picture: PictureView
    tables: tuple[TableLine, ...]


@router.get("/dataset", include_in_schema=False)
async def whole_dataset(request: Request, known: KnownHere) -> Response:
    """What the dataset holds."""
    return page_answer(request, "dataset.html", dataset_page(known), section="dataset")


@router.get("/dataset/tables/{name}.csv", include_in_schema=False)
async def one_table(name: str) -> Response:
    """One table as it stands in the dataset."""
    if name not in {line.name for line in _tables()}:
        raise NotFound(f"the dataset has no table {name!r}; its page lists them")
    return FileResponse(
        pairing_data.table_path(name), media_type="text/csv; charset=utf-8", filename=f"{name}.csv"
    )


@router.get("/dataset/datapackage.json", include_in_schema=False)
async def description() -> Response:
    """The dataset's own description."""
    return FileResponse(pairing_data.FOLDER / "datapackage.json", media_type="application/json")


def dataset_page(known: Known) -> DatasetPage:
    """Everything that the page says."""
    held = counts(known.catalogue)
    package = _package()
    licences = package.get("licenses", [])
    return DatasetPage(
        title=str(package.get("title", package["name"])),
        version=known.catalogue.version,
        licence=", ".join(str(x.get("title") or x.get("name")) for x in licences),
        figures=tuple(Figure(label, number(held[key], 6)) for key, label in _FIGURES.items()),
        grades=tuple(grade_mark(grade) for grade in _GRADES),
        picture=coverage(known),
        tables=_tables(),
    )


@lru_cache(maxsize=1)
def _package() -> dict[str, Any]:
    text = (pairing_data.FOLDER / "datapackage.json").read_text(encoding="utf-8")
    package: dict[str, Any] = json.loads(text)
    return package


@lru_cache(maxsize=1)
def _tables() -> tuple[TableLine, ...]:
    """The tables that the description lists."""
    return tuple(
        TableLine(
            str(resource["name"]),
            str(resource.get("description", "")),
            f"/dataset/tables/{resource['name']}.csv",
        )
        for resource in _package()["resources"]
        if str(resource["path"]).startswith("tables/")
    )
