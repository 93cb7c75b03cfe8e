"""Rescue: a written drink without one of its bottles; what to pour instead, and how much of all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from service.bed import DEFAULT, BedPriors
from service.drink import Drink, Pour, Reading, read_many
from service.drink.lattice import FIVE_ML, Lattice
from service.kit import NotFound, OutOfRange
from service.recommend.swap.candidates import (
    Bench,
    Candidate,
    amounts_again,
    bench_of,
    one_bottle,
    two_bottles,
)
from service.recommend.swap.flags import new_flags
from service.recommend.swap.likeness import SWAP_WEIGHTS, SwapKnowledge, SwapWeights, dense_rows
from service.recommend.swap.noticed import noticed
from service.recommend.swap.standins import (
    GOOD,
    MOST_OPTIONS,
    MOST_TO_BUY,
    StandIn,
    check_replaceable,
    ranked_rows,
    stand_ins_of,
    trust_in,
)
from service.recommend.swap.swaps import Change, Rescue, Swap
from service.recommend.swap.tolerance import Held, held
from service.recommend.swap.twos import twos_of
from service.taste import Band

SWAP_DRAWS: Final = 200
# More candidates are worked out than are asked for: amounts may turn their order.
EXTRA: Final = 4
# Off the score for each tolerance beyond the first, up to a limit, and for each other line that
# must move; off the confidence for each measure out of tolerance. Estimates.
BEYOND_PENALTY, MOST_PENALTY, LINE_PENALTY = 0.05, 0.20, 0.01
LESS_SURE: Final = 0.9
# Two bottles are more work than one: they must be better by this much.
TWO_MUST_GAIN: Final = 0.02
MOST_TWOS: Final = 3
# Below this share of the missing notes a second bottle is looked for even so (estimate).
GOOD_KEPT_SHARE: Final = 0.55


def rescue(
    known: SwapKnowledge,
    band: Band,
    drink: Drink,
    missing: str,
    *,
    shelf: Iterable[str] | None = None,
    limit: int = 10,
    weights: SwapWeights = SWAP_WEIGHTS,
    lattice: Lattice = FIVE_ML,
    avoid: frozenset[str] = frozenset(),
    priors: BedPriors = DEFAULT,
) -> Rescue:
    """The best replacements of one bottle of a drink, each with new amounts and read again.

    `avoid` are allergens that nothing new may hold. What is in the drink already is not offered.
    """
    if not 1 <= limit <= MOST_OPTIONS:
        raise OutOfRange.of("limit", limit, 1, MOST_OPTIONS, "replacements")
    check_replaceable(known, missing)
    drink = _merged(drink)
    slot = _slot(drink, missing)
    allowed = {i for i in known.ids if not avoid & known.ingredients[i].allergens}
    standing = frozenset(allowed if shelf is None else allowed & set(shelf)) - {missing}
    (reading,) = read_many([drink], band, draws=SWAP_DRAWS, priors=priors)
    bench = bench_of(known, drink, slot, reading, standing, weights, lattice)
    ranked = [
        row
        for row in ranked_rows(known, missing, bench.parts, weights, avoid)
        if row in bench.pourable
    ]
    here = [row for row in ranked if known.ids[row] in standing]
    ones = [one_bottle(bench, row) for row in here[: limit + EXTRA]]
    every = [*ones, *_twos(bench, here, standing, ones)]
    swaps = _read_twice(bench, every, reading, band, priors)
    singles = sorted(swaps[: len(ones)], key=_best_first)[:limit]
    return Rescue(
        drink=drink,
        missing=missing,
        reading=reading,
        swaps=tuple(singles),
        twos=_worth_it(singles, swaps[len(ones) :]),
        to_buy=_to_buy(bench, ranked, standing) if shelf is not None else (),
        weights=weights,
        lattice=lattice,
    )


def _merged(drink: Drink) -> Drink:
    """Lines of the same bottle added up."""
    volumes: dict[str, Pour] = {}
    for pour in drink.pours:
        known = volumes.get(pour.ingredient.id)
        more = pour.volume_ml if known is None else known.volume_ml + pour.volume_ml
        volumes[pour.ingredient.id] = replace(pour, volume_ml=more)
    return replace(drink, pours=tuple(volumes.values()))


def _slot(drink: Drink, missing: str) -> Pour:
    for pour in drink.pours:
        if pour.ingredient.id == missing:
            return pour
    poured = ", ".join(p.ingredient.id for p in drink.pours)
    raise NotFound(f"the drink does not pour {missing!r}; it pours {poured}", field="ingredient")


def _twos(
    bench: Bench, here: Sequence[int], standing: frozenset[str], ones: Sequence[Candidate]
) -> list[Candidate]:
    """Pairs, where the best single bottle is not good enough by itself or loses many notes."""
    if ones and ones[0].likeness >= GOOD and ones[0].kept_share >= GOOD_KEPT_SHARE:
        return []
    shelf = sorted(row for row in bench.pourable if bench.known.ids[row] in standing)
    missing = bench.slot.ingredient.id
    twos = twos_of(bench.known, missing, bench.parts, bench.weights, here, shelf)
    return [two_bottles(bench, two) for two in twos[: 2 * MOST_TWOS]]


def _read_twice(
    bench: Bench, candidates: Sequence[Candidate], was: Reading, band: Band, priors: BedPriors
) -> list[Swap]:
    """Each candidate read; those out of tolerance set again by what their reading taught.

    A stronger drink melts more ice: the second time a candidate's own dilution is reckoned with.
    """

    def read_all(asked: Sequence[Candidate]) -> list[Swap]:
        readings = read_many([c.drink for c in asked], band, draws=SWAP_DRAWS, priors=priors)
        return [_swap(bench, c, was, now) for c, now in zip(asked, readings, strict=True)]

    swaps = read_all(candidates)
    off = [i for i, swap in enumerate(swaps) if not swap.in_tolerance]
    again = [amounts_again(bench, candidates[i], swaps[i].reading) for i in off]
    for i, swap in zip(off, read_all(again), strict=True):
        if swap.score > swaps[i].score:
            swaps[i] = swap
    return swaps


def _swap(bench: Bench, candidate: Candidate, was: Reading, now: Reading) -> Swap:
    known = bench.known
    names = tuple(known.ids[row] for row in candidate.rows)
    changes = _changes(bench.drink, candidate.drink)
    measured = held(was.after, now.after)
    others = [known.index[p.ingredient.id] for p in bench.rest if p.ingredient.id in known.index]
    old, rest = known.index[bench.slot.ingredient.id], dense_rows(known.space.notes, others)
    before = [pour.ingredient for pour in bench.drink.pours]
    missing = bench.slot.ingredient.id
    told = dense_rows(known.space.trust, [old, *candidate.rows])
    trust = min(
        trust_in(known, missing, name, candidate.parts, (told[0], told[place]))
        for place, name in enumerate(names, start=1)
    )
    return Swap(
        flags=new_flags(before, [pour.ingredient for pour in candidate.drink.pours]),
        ingredients=names,
        score=candidate.likeness - _penalty(measured, changes, len(names)),
        likeness=candidate.likeness,
        parts=candidate.parts,
        kept_share=candidate.kept_share,
        drink=candidate.drink,
        changes=changes,
        held=measured,
        noticed=noticed(
            known.space.descriptors,
            (dense_rows(known.space.notes, [old])[0], candidate.notes),
            rest,
            (was.after, now.after),
        ),
        reading=now,
        confidence=trust * LESS_SURE ** sum(not one.within for one in measured),
    )


def _changes(was: Drink, now: Drink) -> tuple[Change, ...]:
    """Every line that moved, in the order of the old drink, new lines last."""
    names = dict.fromkeys(pour.ingredient.id for drink in (was, now) for pour in drink.pours)
    changes = (Change(name, was.volume_of(name), now.volume_of(name)) for name in names)
    return tuple(c for c in changes if abs(c.now_ml - c.was_ml) > 1e-6)


def _penalty(measured: Sequence[Held], changes: Sequence[Change], bottles: int) -> float:
    """The line that goes and those that come instead are not counted."""
    beyond = min(BEYOND_PENALTY * sum(one.beyond for one in measured), MOST_PENALTY)
    return beyond + LINE_PENALTY * (len(changes) - 1 - bottles)


def _best_first(swap: Swap) -> tuple[float, tuple[str, ...]]:
    return -round(swap.score, 12), swap.ingredients


def _worth_it(ones: Sequence[Swap], twos: Sequence[Swap]) -> tuple[Swap, ...]:
    """Those that gain enough on the best single one; of the same two bottles the better order."""
    best = ones[0].score if ones else 0.0
    good = sorted((two for two in twos if two.score >= best + TWO_MUST_GAIN), key=_best_first)
    once = {frozenset(two.ingredients): two for two in reversed(good)}
    return tuple(two for two in good if once[frozenset(two.ingredients)] is two)[:MOST_TWOS]


def _to_buy(bench: Bench, ranked: Sequence[int], standing: frozenset[str]) -> tuple[StandIn, ...]:
    """The nearest that the shelf lacks, where its own best is not good."""
    known, score = bench.known, bench.parts.score(bench.weights)
    best = max((score[row] for row in ranked if known.ids[row] in standing), default=0.0)
    if best >= GOOD:
        return ()
    wanted = [r for r in ranked if known.ids[r] not in standing and score[r] > best]
    missing = bench.slot.ingredient.id
    return tuple(stand_ins_of(known, missing, wanted[:MOST_TO_BUY], bench.parts, bench.weights))
