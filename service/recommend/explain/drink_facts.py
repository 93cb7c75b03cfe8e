"""The facts of a whole drink: its pairings, its pours, and its reading before and after."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from service.aroma import Aroma, ingredient_aroma
from service.drink import Drink, Reading, State
from service.recommend.affinity import Affinity
from service.recommend.explain.facts import Fact, FactKind, Facts
from service.recommend.explain.pairing_facts import (
    Explaining,
    bottle_facts,
    loudest,
    pairing_facts,
)

BEFORE, AFTER = "before", "after"
TASTES: Final = ("sweet", "bitter", "sour", "salt", "heat")


def drink_facts(
    known: Explaining,
    drink: Drink,
    reading: Reading,
    coffee: Aroma | None = None,
    affinities: Sequence[Affinity] = (),
) -> Facts:
    """Everything that is known of a drink; `affinities` are those of its coffee with its pours."""
    ids = list(dict.fromkeys(pour.ingredient.id for pour in drink.pours))
    pairings = [] if coffee is None else [pairing_facts(known, coffee, a) for a in affinities]
    return Facts.gathered(
        *pairings,
        _pours(drink),
        (note for name in ids for note in _notes(known, name)),
        _states(reading),
        _verdicts(reading),
        _bed(drink, reading),
        _remedies(reading),
        bottle_facts(known, ids),
    )


def _pours(drink: Drink) -> Iterator[Fact]:
    for pour in drink.pours:
        name = pour.ingredient.id
        about = (name, str(pour.ingredient.role))
        yield Fact(f"pour:{name}", FactKind.POUR, about, drink.volume_of(name), "ml")


def _notes(known: Explaining, name: str) -> Iterator[Fact]:
    space = known.knowledge.space
    if name in space.index:
        yield from loudest(space, ingredient_aroma(space, name))


def _states(reading: Reading) -> Iterator[Fact]:
    for moment, state in ((BEFORE, reading.before), (AFTER, reading.after)):
        for taste in TASTES:
            value = getattr(state, taste).mid
            yield Fact(f"taste:{taste}:{moment}", FactKind.TASTE, (taste, moment), value, "points")
        yield from _amounts(state, moment)


def _amounts(state: State, moment: str) -> Iterator[Fact]:
    amounts = (
        ("strength", 100.0 * state.abv.mid, "% vol"),
        ("volume", state.volume_ml.mid, "ml"),
        ("alcohol", state.ethanol_g.mid, "g"),
        ("caffeine", state.caffeine_mg.mid, "mg"),
        ("sugar", state.sugar_g_per_l.mid, "g/L"),
        ("acid", state.acid_g_per_l.mid, "g/L"),
        ("bitterness", state.qhe_mg_per_l.mid, "mg/L QHE"),
    )
    for name, value, unit in amounts:
        yield Fact(f"amount:{name}:{moment}", FactKind.AMOUNT, (name, moment), value, unit)


def _verdicts(reading: Reading) -> Iterator[Fact]:
    balances = ((BEFORE, reading.balance_before), (AFTER, reading.balance_after))
    for moment, balance in balances:
        yield Fact(
            id=f"verdict:{moment}",
            kind=FactKind.VERDICT,
            about=(moment, str(balance.verdict)),
            value=balance.inside_probability,
            words=balance.words,
        )


def _bed(drink: Drink, reading: Reading) -> Iterator[Fact]:
    if drink.bed is None:
        return
    yield Fact("amount:kept", FactKind.AMOUNT, ("kept", AFTER), reading.kept_ml.mid, "ml")
    seconds = reading.drain_seconds.mid
    yield Fact("amount:drain", FactKind.AMOUNT, ("drain", AFTER), seconds, "s")


def _remedies(reading: Reading) -> Iterator[Fact]:
    """The smallest change that brings it inside, where there is one."""
    for remedy in reading.remedies:
        if remedy.reaches:
            about = (str(remedy.lever), remedy.ingredient_id)
            words = remedy.words.split(" (")[0]
            yield Fact(f"remedy:{remedy.lever}", FactKind.REMEDY, about, remedy.then, remedy.unit,
                       words)  # fmt: skip
            return
