"""Candidates for a rescue: one bottle or two in the missing one's place, with new amounts."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.drink import Drink, Pour, Reading
from service.drink.lattice import Lattice
from service.ingredients.records import Ingredient, Role
from service.recommend.swap.amounts import (
    Line,
    Moves,
    Target,
    best_amounts,
    moves_of,
    other_lines,
    own_line,
    second_line,
)
from service.recommend.swap.likeness import (
    LikenessPart,
    LikenessParts,
    SwapKnowledge,
    SwapWeights,
    dense_rows,
    likeness_parts,
)
from service.recommend.swap.twos import Two

Vector = NDArray[np.float64]
# What may be added in small amounts to make up for what the missing bottle brought.
SYRUPS: Final = ("simple-syrup", "rich-syrup", "gum-syrup", "cane-syrup", "demerara-syrup")
ACID, SALT, WATER = "citric-solution", "saline", "water"
LEAST_ACID_G_PER_L: Final = 1.0
LITTLE_ALCOHOL: Final = 0.1
NOT_POURED: Final = frozenset({Role.GARNISH, Role.COFFEE})


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """What stays the same while candidates are tried. `helped` may add a helper, `plain` not."""

    known: SwapKnowledge
    drink: Drink
    slot: Pour
    rest: tuple[Pour, ...]
    parts: LikenessParts
    weights: SwapWeights
    lattice: Lattice
    target: Target
    helpers: frozenset[str]
    helped: Moves
    plain: Moves

    def moves(self, instead: Iterable[Ingredient]) -> Moves:
        """What may move besides the replacement; a helper does not help itself."""
        return self.plain if any(i.id in self.helpers for i in instead) else self.helped

    @property
    def pourable(self) -> set[int]:
        """Rows that can be poured and are not in the drink already."""
        poured = {pour.ingredient.id for pour in self.rest}
        return {
            row
            for row, name in enumerate(self.known.ids)
            if self.known.ingredients[name].role not in NOT_POURED and name not in poured
        }


@dataclass(frozen=True, slots=True, eq=False)
class Candidate:
    """One or two bottles (rows) before the drink is read: likeness, notes and new drink."""

    rows: tuple[int, ...]
    likeness: float
    parts: dict[LikenessPart, float]
    kept_share: float
    notes: Vector
    drink: Drink
    own: tuple[Line, ...]


def bench_of(
    known: SwapKnowledge,
    drink: Drink,
    slot: Pour,
    reading: Reading,
    standing: frozenset[str],
    weights: SwapWeights,
    lattice: Lattice,
) -> Bench:
    """Set up for one drink and its missing bottle."""
    rest = tuple(p for p in drink.pours if p.ingredient.id != slot.ingredient.id)
    helpers = _helpers(known, slot.ingredient, standing)
    return Bench(
        known=known,
        drink=drink,
        slot=slot,
        rest=rest,
        parts=likeness_parts(known, slot.ingredient.id),
        weights=weights,
        lattice=lattice,
        target=Target.of(drink, reading),
        helpers=frozenset(helper.id for helper in helpers),
        helped=moves_of(other_lines(rest, helpers, lattice)),
        plain=moves_of(other_lines(rest, [], lattice)),
    )


def one_bottle(bench: Bench, row: int) -> Candidate:
    """One bottle, with the amounts of all that cost the least."""
    known = bench.known
    ingredient = known.ingredients[known.ids[row]]
    own = own_line(ingredient, bench.slot.ingredient, bench.slot.volume_ml, bench.lattice)
    values = {p: bench.weights.of(p) * float(v[row]) for p, v in bench.parts.values.items()}
    return Candidate(
        rows=(row,),
        likeness=sum(values.values()),
        parts=values,
        kept_share=float(bench.parts.kept[row]),
        notes=dense_rows(known.space.notes, [row])[0],
        drink=_with_amounts(bench, [own], bench.target),
        own=(own,),
    )


def two_bottles(bench: Bench, two: Two) -> Candidate:
    """Two bottles, likewise."""
    known, slot = bench.known, bench.slot
    first, second = (known.ingredients[known.ids[row]] for row in (two.first, two.second))
    own = own_line(first, slot.ingredient, slot.volume_ml, bench.lattice)
    more = second_line(second, slot.ingredient, slot.volume_ml, bench.lattice)
    return Candidate(
        rows=(two.first, two.second),
        likeness=two.likeness,
        parts=two.parts,
        kept_share=two.kept_share,
        notes=two.notes,
        drink=_with_amounts(bench, [own, more], bench.target),
        own=(own, more),
    )


def amounts_again(bench: Bench, candidate: Candidate, reading: Reading) -> Candidate:
    """The same bottles, the way from pours to glass taken from their own reading."""
    target = replace(Target.of(candidate.drink, reading), glass=bench.target.glass)
    target = replace(target, poured_ml=bench.target.poured_ml)
    return replace(candidate, drink=_with_amounts(bench, candidate.own, target))


def _helpers(
    known: SwapKnowledge, missing: Ingredient, standing: frozenset[str]
) -> list[Ingredient]:
    """Plain sugar, acid or salt from the shelf, and water, where the missing bottle brought any."""
    holds = missing.composition
    wanted = []
    if holds.sugar_g_per_l.mid > 0:
        wanted.append(next((s for s in SYRUPS if s in standing and s != missing.id), ""))
    if holds.acid_g_per_l.mid >= LEAST_ACID_G_PER_L:
        wanted.append(ACID)
    if holds.salt_g_per_l.mid > 0:
        wanted.append(SALT)
    wanted = [name for name in wanted if name in standing and name != missing.id]
    if WATER in known.ingredients and holds.abv.mid < LITTLE_ALCOHOL:
        wanted.append(WATER)
    return [known.ingredients[name] for name in wanted]


def _with_amounts(bench: Bench, own: Sequence[Line], target: Target) -> Drink:
    """The drink as written, the replacement in the missing line's place, new lines last."""
    moves = bench.moves(line.ingredient for line in own)
    moving = {line.ingredient.id for line in moves.lines}
    fixed = [pour for pour in bench.rest if pour.ingredient.id not in moving]
    instead, others = best_amounts(fixed, own, moves, target)
    amounts = {
        line.ingredient.id: Pour(line.ingredient, amount)
        for line, amount in zip(moves.lines, others, strict=True)
        if amount > 0
    }
    pours: list[Pour] = []
    for pour in bench.drink.pours:
        if pour.ingredient.id == bench.slot.ingredient.id:
            pours += [Pour(o.ingredient, v) for o, v in zip(own, instead, strict=True)]
        else:
            pours.append(amounts.pop(pour.ingredient.id, pour))
    return replace(bench.drink, pours=(*pours, *amounts.values()))
