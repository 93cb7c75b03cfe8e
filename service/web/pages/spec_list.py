"""The list: what is served, what is a draft, what is retired; and tonight's changes."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.bar import BarSpec, SpecStatus, Substitution, Unit, list_specs, substitutions_of
from service.counter.house_known import House
from service.counter.house_readings import readings_of
from service.counter.measure import Measured
from service.counter.run_out import names_out
from service.counter.this_bar import ThisBar
from service.web.deps import BarLooked, LookHere
from service.web.pages.house import build_words
from service.web.pages.pieces import VerdictMark
from service.web.pages.rendering import page_answer
from service.web.pages.telling import listed, verdict_mark

router = APIRouter()


@dataclass(frozen=True, slots=True)
class OutLine:
    """A bottle of a drink that is out, and where its rescue is."""

    name: str
    address: str


@dataclass(frozen=True, slots=True)
class SpecEntry:
    """One drink of the list."""

    id: int
    name: str
    address: str
    build: str
    verdict: VerdictMark | None
    out: tuple[OutLine, ...]
    tonight: str


@dataclass(frozen=True, slots=True)
class ListPage:
    """All specs by how far they have come."""

    bar: str
    night: str
    listed: tuple[SpecEntry, ...]
    drafts: tuple[SpecEntry, ...]
    retired: tuple[SpecEntry, ...]
    changed: str


@router.get("/list", include_in_schema=False)
def whole_list(request: Request, bar: BarLooked, unit: LookHere) -> Response:
    """Every spec."""
    page = list_page(unit, bar)
    return page_answer(request, "list.html", page, section="list")


def list_page(unit: Unit, bar: ThisBar) -> ListPage:
    """Everything that the page says."""
    house = bar.house
    every = list_specs(unit)
    current = [spec for spec in every if spec.status is not SpecStatus.RETIRED]
    readings = readings_of(bar, current)
    out = names_out(house, every)
    tonight = {
        each.spec_id: each
        for each in substitutions_of(unit, house.night)
        if any(s.id == each.spec_id and s.revision == each.revision for s in every)
    }

    def of(status: SpecStatus) -> tuple[SpecEntry, ...]:
        return tuple(
            _entry(house, spec, readings.get(spec.id), out[spec.id], tonight.get(spec.id))
            for spec in every
            if spec.status is status
        )

    return ListPage(
        bar=", ".join(filter(None, (house.settings.name, house.settings.place))),
        night=house.night.strftime("%A, %-d %B"),
        listed=of(SpecStatus.LISTED),
        drafts=of(SpecStatus.DRAFT),
        retired=of(SpecStatus.RETIRED),
        changed=listed(spec.name for spec in every if spec.id in tonight),
    )


def _entry(
    house: House,
    spec: BarSpec,
    measured: Measured | None,
    out: tuple[str, ...],
    tonight: Substitution | None,
) -> SpecEntry:
    changed = tonight is not None
    return SpecEntry(
        id=spec.id,
        name=spec.name,
        address=f"/list/{spec.id}",
        build=build_words(house, spec.pours),
        verdict=None if measured is None else verdict_mark(measured.reading.balance_after),
        out=tuple(
            OutLine(house.name_of(name), f"/rescue?bottle={name}")
            for name in out
            if not (changed and tonight is not None and tonight.ingredient_out == name)
        ),
        tonight=build_words(house, tonight.pours) if tonight is not None else "",
    )
