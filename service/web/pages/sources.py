"""Sources: what one is, and everything in the dataset that rests on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.counter.known import Known
from service.ingredients import Catalogue, plain
from service.kit import NotFound
from service.web.deps import KnownHere
from service.web.pages.coffee_form import address
from service.web.pages.pieces import SourceLine
from service.web.pages.rendering import page_answer

router = APIRouter()
SHOWN_AT_ONCE: Final = 100
LONGEST_SEARCH: Final = 100


@dataclass(frozen=True, slots=True)
class UsedFor:
    """One thing that rests on the source, and how many rows of it do."""

    name: str
    rows: str
    address: str


@dataclass(frozen=True, slots=True)
class SourcePage:
    """One source."""

    citation: str
    doi: str
    standard: str
    ingredients: tuple[UsedFor, ...]
    tables: tuple[UsedFor, ...]


@dataclass(frozen=True, slots=True)
class SourcesPage:
    """Some of all sources, in order of author (or of title), and where the list goes on."""

    text: str
    count_words: str
    sources: tuple[SourceLine, ...]
    earlier_address: str
    later_address: str


@router.get("/sources", include_in_schema=False)
async def every_source(request: Request, known: KnownHere) -> Response:
    """The list, by a word of the citation, a hundred at a time."""
    text = request.query_params.get("text", "").strip()[:LONGEST_SEARCH]
    given = request.query_params.get("from", "0")
    start = int(given) if given.isdigit() and len(given) < 6 else 0
    page = sources_page(known, text, start)
    return page_answer(request, "sources.html", page, section="dataset")


@router.get("/sources/{source_id}", include_in_schema=False)
async def one_source(request: Request, known: KnownHere, source_id: str) -> Response:
    """One source and what rests on it."""
    if source_id not in known.catalogue.sources:
        raise NotFound(f"no source has the id {source_id!r}; open it from a bottle's page")
    page = source_page(known, source_id)
    return page_answer(request, "source.html", page, section="dataset")


def sources_page(known: Known, text: str, start: int) -> SourcesPage:
    """A stretch of the list."""
    found = sorted(
        (s for s in known.catalogue.sources.values() if text.casefold() in s.citation.casefold()),
        key=lambda s: (plain(s.citation), s.id),
    )

    def stretch(at: int) -> str:
        return address("/sources", [*([("text", text)] if text else []), ("from", str(at))])

    end = start + SHOWN_AT_ONCE
    return SourcesPage(
        text=text,
        count_words=f"{len(found)} sources",
        sources=tuple(source_line(known.catalogue, s.id) for s in found[start:end]),
        earlier_address=stretch(max(start - SHOWN_AT_ONCE, 0)) if start else "",
        later_address=stretch(end) if end < len(found) else "",
    )


def source_page(known: Known, source_id: str) -> SourcePage:
    """Everything that the page says."""
    catalogue = known.catalogue
    source = catalogue.sources[source_id]
    return SourcePage(
        citation=source.citation,
        doi=source.doi,
        standard=source.standard,
        ingredients=tuple(_ingredients(catalogue, source_id)),
        tables=tuple(_tables(catalogue, source_id)),
    )


def source_line(catalogue: Catalogue, source_id: str) -> SourceLine:
    """A source as a link; one that is only named keeps its name."""
    source = catalogue.sources.get(source_id)
    citation = source.citation if source else source_id
    return SourceLine(source_id, citation, f"/sources/{source_id}")


def _ingredients(catalogue: Catalogue, source_id: str) -> Iterable[UsedFor]:
    rows = Counter(o.ingredient for o in catalogue.occurrences if o.source == source_id)
    rows.update(n.subject for n in catalogue.ingredient_notes if n.source == source_id)
    rows.update(i.id for i in catalogue.ingredients.values() if source_id in i.sources)
    for ingredient_id, count in sorted(rows.items()):
        name = catalogue.ingredients[ingredient_id].name
        yield UsedFor(name, _rows(count), f"/ingredients/{ingredient_id}")


def _tables(catalogue: Catalogue, source_id: str) -> Iterable[UsedFor]:
    """What else rests on it; things without a page of their own."""
    kinds: Sequence[tuple[str, int]] = (
        ("odour thresholds", sum(t.source == source_id for t in catalogue.thresholds)),
        ("notes of odorants", sum(n.source == source_id for n in catalogue.odorant_notes)),
        ("odorants of coffee", sum(o.source == source_id for o in catalogue.coffee)),
        (
            "what roast, process and species do",
            sum(e.source == source_id for e in catalogue.coffee_effects),
        ),
        ("drink specifications", sum(s.source == source_id for s in catalogue.specs)),
        ("things put with coffee", sum(c.source == source_id for c in catalogue.combinations)),
    )
    for name, count in kinds:
        if count:
            yield UsedFor(name, _rows(count), "")


def _rows(count: int) -> str:
    return "1 row" if count == 1 else f"{count} rows"
