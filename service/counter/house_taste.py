"""The house's taste at the counter: trials as tastings of drinks that were foretold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from service.bar import Trial, Unit, list_coffees, list_trials, read_spec
from service.counter.house_drinks import coffee_of, made_of, measure_of
from service.counter.house_known import House
from service.counter.measure import drink_of
from service.drink import Drink, Reading, read_many
from service.taste import House as HouseTaste
from service.taste import Penalty, Percept, Tasting, learn_house, penalties

# Trials beyond these are too old to say what the house likes now.
MOST_TASTINGS: Final = 400


@dataclass(frozen=True, slots=True, eq=False)
class TasteLearnt:
    """What the answers of the trials have taught, and how many there were."""

    tastings: tuple[Tasting, ...]
    house: HouseTaste
    penalties: tuple[Penalty, ...]


def taste_in(unit: Unit, house: House) -> TasteLearnt:
    """From all trials that count and in which somebody tasted something."""
    tasted = [trial for trial in list_trials(unit) if _tasted(trial)][-MOST_TASTINGS:]
    found = _tastings(unit, house, tasted)
    usual = [t.coffee_g_per_l for t in found if t.coffee_g_per_l]
    return TasteLearnt(
        tastings=found,
        house=learn_house(
            found,
            house.known.band,
            usual_coffee_g_per_l=sorted(usual)[len(usual) // 2] if usual else None,
        ),
        penalties=penalties(found),
    )


def _tasted(trial: Trial) -> bool:
    said = (trial.sweetness, trial.bitterness, trial.strength, trial.coffee_strength, trial.liking)
    return any(answer is not None for answer in said)


def _tastings(unit: Unit, house: House, tasted: list[Trial]) -> tuple[Tasting, ...]:
    """Each revision is read once, in one pass for all."""
    drinks = _drinks(unit, house, tasted)
    readings = read_many(list(drinks.values()), house.known.band, priors=house.known.priors)
    by_revision = dict(zip(drinks, readings, strict=True))
    return tuple(
        _tasting(trial, by_revision[_key(trial)]) for trial in tasted if _key(trial) in by_revision
    )


def _drinks(unit: Unit, house: House, tasted: list[Trial]) -> dict[tuple[int, int], Drink]:
    coffees = {coffee.id: coffee for coffee in list_coffees(unit)}
    drinks: dict[tuple[int, int], Drink] = {}
    for spec_id, revision in sorted({_key(trial) for trial in tasted}):
        spec = read_spec(unit, spec_id, revision)
        if made_of(house.known, spec):
            kept = None if spec.coffee_id is None else coffees.get(spec.coffee_id)
            asked = measure_of(spec, coffee_of(spec, kept))
            drinks[spec_id, revision] = drink_of(house.known, asked)
    return drinks


def _key(trial: Trial) -> tuple[int, int]:
    return trial.spec_id, trial.revision or 1


def _tasting(trial: Trial, reading: Reading) -> Tasting:
    before, after = reading.before, reading.after
    bitter_before = before.qhe_mg_per_l.mid * before.volume_ml.mid
    bitter_after = after.qhe_mg_per_l.mid * after.volume_ml.mid
    share = 1.0 - bitter_before / bitter_after if bitter_after > 0 else 0.0
    return Tasting(
        key=f"{trial.id:09d}",
        taster=trial.taster,
        percept=Percept(*(getattr(after, n).mid for n in ("sweet", "bitter", "sour", "salt",
                                                          "heat"))),
        style=reading.balance_after.style,
        coffee_qhe_share=min(max(share, 0.0), 1.0),
        coffee_g_per_l=after.coffee_solids_g_per_l.mid or None,
        sweetness=trial.sweetness,
        bitterness=trial.bitterness,
        strength=trial.strength,
        coffee_strength=trial.coffee_strength,
        liking=trial.liking,
    )  # fmt: skip
