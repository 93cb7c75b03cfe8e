"""A bottle is out: each drink that pours it, with its ways out, allergens before anything else."""

from __future__ import annotations

from dataclasses import dataclass

from service.counter.house_known import House
from service.counter.run_out import RunOut, SpecOut, pours_of, ways_out
from service.ingredients.records import Ingredient, SpecPour
from service.recommend.explain import spoken_note
from service.recommend.swap import Change, FlagKind, Held, StandIn, StandIns, Swap, note_clauses
from service.web.pages.house import amount_words, build_words
from service.web.pages.pieces import CautionLine, ConfidenceMark, VerdictMark
from service.web.pages.telling import confidence_mark, listed, number, verdict_mark

_FLAG_SOURCES = {
    FlagKind.ALLERGEN: "Regulation (EU) No 1169/2011, Annex II; your own label comes first",
    FlagKind.CAUTION: "from the dataset's cautions; your own label comes first",
}


@dataclass(frozen=True, slots=True)
class MovedLine:
    """One line of the build after the swap: how much now, and how much before where it moved."""

    name: str
    now: str
    was: str
    mark: str


@dataclass(frozen=True, slots=True)
class WayCard:
    """One way out."""

    title: str
    flags: tuple[CautionLine, ...]
    lines: tuple[MovedLine, ...]
    noticed: str
    verdict: VerdictMark
    tolerance: str
    confidence: ConfidenceMark
    pours: tuple[str, ...]
    remarks: str


@dataclass(frozen=True, slots=True)
class TonightLine:
    """What was accepted for tonight."""

    words: str
    id: int
    version: int


@dataclass(frozen=True, slots=True)
class SpecRescue:
    """One drink that cannot be made as written."""

    id: int
    name: str
    address: str
    written: str
    also_out: str
    tonight: TonightLine | None
    best: WayCard | None
    others: tuple[WayCard, ...]
    trouble: str


@dataclass(frozen=True, slots=True)
class StandInLine:
    """A bottle that stands in, before any amounts."""

    name: str
    flags: tuple[CautionLine, ...]
    words: str
    confidence: ConfidenceMark


@dataclass(frozen=True, slots=True)
class RunOutPage:
    """All that follows from one bottle being out."""

    id: str
    name: str
    on_shelf: bool
    out: bool
    suffer: str
    specs: tuple[SpecRescue, ...]
    stand_ins: tuple[StandInLine, ...]
    nothing: str
    night: str


def run_out_page(house: House, found: RunOut, missing: Ingredient) -> RunOutPage:
    """Everything that the page says."""
    return RunOutPage(
        id=missing.id,
        name=missing.name,
        on_shelf=any(b.ingredient == missing.id for b in house.bottles),
        out=missing.id in house.lacking,
        suffer=_suffer_words(found),
        specs=tuple(_spec_rescue(house, one) for one in found.specs),
        stand_ins=tuple(_stand_in(house, one) for one in found.stand_ins.options),
        nothing=_nothing_words(house, found.stand_ins, missing.name),
        night=house.night.strftime("%A, %-d %B"),
    )


def _suffer_words(found: RunOut) -> str:
    many = len(found.specs)
    if not many:
        return "No drink on the list pours it."
    drinks = "One drink on the list pours it" if many == 1 else f"{many} drinks on the list pour it"
    return f"{drinks}. Pour a way out tonight: the sheet changes, the spec does not."


def _nothing_words(house: House, answer: StandIns, name: str) -> str:
    """Said plainly where the shelf has nothing, with the nearest to buy."""
    if answer.options:
        return ""
    buy = listed(house.name_of(one.ingredient) for one in answer.to_buy)
    nearest = f" The nearest to buy: {buy}." if buy else ""
    return f"Nothing on this shelf stands in for {name}.{nearest}"


def _spec_rescue(house: House, one: SpecOut) -> SpecRescue:
    spec, tonight = one.spec, one.tonight
    ways = [] if one.rescue is None else [_way(house, way) for way in ways_out(one.rescue)]
    also = [p.ingredient for p in spec.pours if p.ingredient in house.lacking]
    trouble = one.trouble
    if one.rescue is not None and not ways:
        buy = listed(house.name_of(each.ingredient) for each in one.rescue.to_buy)
        trouble = "Nothing on this shelf does it in this drink"
        trouble += f"; the nearest to buy: {buy}." if buy else ". Take it off the list for tonight."
    return SpecRescue(
        id=spec.id,
        name=spec.name,
        address=f"/list/{spec.id}",
        written=build_words(house, spec.pours),
        also_out=listed(house.name_of(i) for i in also) if len(also) > 1 else "",
        tonight=None
        if tonight is None
        else TonightLine(build_words(house, tonight.pours), tonight.id, tonight.version),
        best=ways[0] if ways else None,
        others=tuple(ways[1:]),
        trouble=trouble,
    )


def _way(house: House, way: Swap) -> WayCard:
    moved = {change.ingredient: change for change in way.changes}
    return WayCard(
        title=listed(house.name_of(name) for name in way.ingredients),
        flags=tuple(
            CautionLine("stop" if f.kind is FlagKind.ALLERGEN else "warn",
                        "Allergen" if f.kind is FlagKind.ALLERGEN else "Mind",
                        f"{f.words[:1].upper()}{f.words[1:]}.", _FLAG_SOURCES[f.kind])
            for f in way.flags
        ),
        lines=(
            *(_line(house, pour, moved.get(pour.ingredient)) for pour in pours_of(way)),
            *(_gone(house, c) for c in way.changes if c.now_ml <= 0),
        ),
        noticed=_noticed(way),
        verdict=verdict_mark(way.reading.balance_after),
        tolerance=_tolerance(way.held),
        confidence=confidence_mark(way.confidence),
        pours=tuple(f"{p.ingredient}={p.volume_ml:.6g}ml" for p in pours_of(way)),
        remarks=_noticed(way),
    )  # fmt: skip


def _line(house: House, pour: SpecPour, change: Change | None) -> MovedLine:
    found = house.known.catalogue.ingredients.get(pour.ingredient)
    units = house.settings.units
    now = amount_words(found, pour.volume_ml, units)
    if change is None:
        return MovedLine(house.name_of(pour.ingredient), now, "", "")
    was = amount_words(found, change.was_ml, units) if change.was_ml > 0 else ""
    return MovedLine(
        house.name_of(pour.ingredient), now, f"instead of {was}" if was else "new", "moved"
    )


def _gone(house: House, change: Change) -> MovedLine:
    found = house.known.catalogue.ingredients.get(change.ingredient)
    was = amount_words(found, change.was_ml, house.settings.units)
    return MovedLine(house.name_of(change.ingredient), "out", f"was {was}", "gone")


def _noticed(way: Swap) -> str:
    """What a guest will notice, in one sentence."""
    lost = [spoken_note(n.descriptor) for n in way.noticed.lost]
    gained = [spoken_note(n.descriptor) for n in way.noticed.gained]
    clauses = [
        *([f"less {listed(lost)}"] if lost else []),
        *([f"more {listed(gained)}"] if gained else []),
        *way.noticed.taste.words,
    ]
    if not clauses:
        return "A guest will hardly notice."
    return f"A guest will notice: {', '.join(clauses)}."


def _tolerance(every: tuple[Held, ...]) -> str:
    off = [
        f"{held.measure} {number(held.was)} to {number(held.now)} {held.measure.unit}".strip()
        for held in every
        if not held.within
    ]
    if not off:
        return "Sweetness, bitterness, acid and strength stay within tolerance."
    return f"Out of tolerance: {listed(off)}."


def _stand_in(house: House, one: StandIn) -> StandInLine:
    clauses = [f"does the same job: {one.jobs[0]}"] if one.jobs else []
    clauses += note_clauses(kept=one.notes.kept, lost=one.notes.lost)
    text = "; ".join(clauses)
    return StandInLine(
        name=house.name_of(one.ingredient),
        flags=tuple(
            CautionLine("stop", "Allergen", f"{f.words[:1].upper()}{f.words[1:]}.",
                        _FLAG_SOURCES[f.kind])
            for f in one.flags
        ),
        words=f"{text[:1].upper()}{text[1:]}." if text else "",
        confidence=confidence_mark(one.confidence),
    )  # fmt: skip
