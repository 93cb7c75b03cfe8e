"""Reading a drink: what it is before and after the coffee, and whether it is in balance."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, fields, replace
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.bed import DEFAULT, BedPriors, caffeine_ceiling_mg
from service.drink.balance import Balance, balances_of
from service.drink.cautions import DEFAULT_COUNTRY, Caution, cautions_for
from service.drink.levers import Larder, Lever
from service.drink.parts import Drink, bitter_liqueur_share, spirit_share
from service.drink.passage import Beds, Chilled, Filtered, chill, filter_through
from service.drink.remedies import FIRST_LEVERS, Remedy, remedies_for
from service.drink.sampling import DEFAULT_SEED, as_liquid, drink_masses
from service.drink.state import Amounts, State, amounts_of, intervals_of, states_of
from service.kit import Interval, OutOfRange, plain_number
from service.taste import USUAL, Band, Parameters, Style, Verdict, draw_parameters, style_of

FloatArray = NDArray[np.float64]
DEFAULT_DRAWS: Final = 2000
LIST_DRAWS: Final = 200
LEAST_YIELD_SHARE: Final = 0.1


@dataclass(frozen=True, slots=True)
class Reading:
    """What is foretold of one drink. Without coffee, before and after are the same moment."""

    before: State
    after: State
    balance_before: Balance
    balance_after: Balance
    kept_ml: Interval
    yield_share: Interval
    drain_seconds: Interval
    caffeine_ceiling_mg: float
    cautions: tuple[Caution, ...]
    remedies: tuple[Remedy, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """Of the drink as the guest gets it."""
        return self.balance_after.verdict


def read(
    drink: Drink,
    band: Band,
    *,
    draws: int = DEFAULT_DRAWS,
    seed: int = DEFAULT_SEED,
    priors: BedPriors = DEFAULT,
    country: str = DEFAULT_COUNTRY,
    larder: Larder | None = None,
    levers: Collection[Lever] = tuple(Lever),
) -> Reading:
    """One drink, with remedies where a larder is given and the drink is not inside the band."""
    return read_many(
        [drink],
        band,
        draws=draws,
        seed=seed,
        priors=priors,
        country=country,
        larder=larder,
        levers=levers,
    )[0]


def read_many(
    drinks: Sequence[Drink],
    band: Band,
    *,
    draws: int = LIST_DRAWS,
    seed: int = DEFAULT_SEED,
    priors: BedPriors = DEFAULT,
    country: str = DEFAULT_COUNTRY,
    larder: Larder | None = None,
    levers: Collection[Lever] = FIRST_LEVERS,
) -> list[Reading]:
    """Many drinks in one pass, on the same possible bottles, hands and beds (see `sampling`)."""
    if not drinks:
        return []
    amounts, glass = _passed(drinks, draws, seed, priors)
    _check_yield(drinks, glass)
    kept = _kept(glass)
    balances = balances_of(band, amounts, 2 * styles_of(drinks, amounts))
    states = states_of(amounts, _palates(draws, seed))
    many = len(drinks)
    readings = [
        _reading(
            drink,
            (states[row], states[row + many]),
            (balances[row], balances[row + many]),
            kept[row],
            country,
        )
        for row, drink in enumerate(drinks)
    ]
    if larder is None:
        return readings
    off = [row for row, reading in enumerate(readings) if reading.verdict is not Verdict.INSIDE]
    found = remedies_for(
        [drinks[row] for row in off], band, larder=larder, levers=levers, seed=seed, priors=priors
    )
    for row, remedies in zip(off, found, strict=True):
        readings[row] = replace(readings[row], remedies=remedies)
    return readings


def styles_of(drinks: Sequence[Drink], before: Amounts) -> list[Style]:
    """The family of each drink, by what is poured and by the usual bottles after chilling."""
    sugar, acid, qhe = (
        before.of(name)[:, 0].tolist() for name in ("sugar_g_per_l", "acid_g_per_l", "qhe_mg_per_l")
    )
    return [
        style_of(
            spirit_share=spirit_share(drink),
            bitter_liqueur_share=bitter_liqueur_share(drink),
            sugar_g_per_l=sugar[row],
            acid_g_per_l=acid[row],
            qhe_mg_per_l=qhe[row],
        )
        for row, drink in enumerate(drinks)
    ]


def before_coffee(drinks: Sequence[Drink], *, draws: int = 0, seed: int = DEFAULT_SEED) -> Amounts:
    """What the drinks are when they leave the mixing glass."""
    chilled = _chilled(drinks, draws, seed)
    return amounts_of((chilled.liquid, chilled.celsius))


def _chilled(drinks: Sequence[Drink], draws: int, seed: int) -> Chilled:
    poured = as_liquid(drink_masses(drinks, draws, seed))
    return chill(poured, [drink.preparation for drink in drinks], draws=draws, seed=seed)


def _passed(
    drinks: Sequence[Drink], draws: int, seed: int, priors: BedPriors
) -> tuple[Amounts, Filtered]:
    """All drinks before, and below them all drinks after the coffee."""
    chilled = _chilled(drinks, draws, seed)
    glass = filter_through(chilled, Beds.of([d.bed for d in drinks]), seed=seed, priors=priors)
    both = ((chilled.liquid, chilled.celsius), (glass.liquid, glass.celsius))
    return amounts_of(*both), glass


def _check_yield(drinks: Sequence[Drink], glass: Filtered) -> None:
    """A bed that usually drinks nearly all of the drink is a mistake, not a recipe."""
    for drink, share in zip(drinks, glass.kept_share[:, 0].tolist(), strict=True):
        if drink.bed is not None and share > 1.0 - LEAST_YIELD_SHARE:
            raise OutOfRange(
                f"{plain_number(drink.bed.dose_g, 6)} g of coffee keep nearly all of a drink of "
                f"{plain_number(drink.poured_ml, 6)} mL; pour more, or use less coffee",
                field="dose_g",
            )


def _kept(glass: Filtered) -> list[list[Interval]]:
    """Per drink: what the bed keeps [mL], the share that reaches the glass, time to drain [s]."""
    flows = glass.flows
    columns = np.stack([flows["retained_ml"], 1.0 - glass.kept_share, flows["drain_seconds"]])
    return [list(row) for row in zip(*intervals_of(columns), strict=True)]


def _reading(
    drink: Drink,
    state: tuple[State, State],
    balance: tuple[Balance, Balance],
    kept: list[Interval],
    country: str,
) -> Reading:
    ceiling = 0.0 if drink.bed is None else caffeine_ceiling_mg(drink.bed).high
    after = state[1]
    return Reading(
        before=state[0],
        after=after,
        balance_before=balance[0],
        balance_after=balance[1],
        kept_ml=kept[0],
        yield_share=kept[1],
        drain_seconds=kept[2],
        caffeine_ceiling_mg=ceiling,
        cautions=cautions_for(
            drink,
            ethanol_g=after.ethanol_g,
            caffeine_mg=after.caffeine_mg,
            caffeine_ceiling_mg=ceiling,
            volume_ml=after.volume_ml.mid,
            country=country,
        ),
    )


@lru_cache(maxsize=8)
def _palates(draws: int, seed: int) -> Parameters:
    """The usual palate first, then as many others as there are draws."""
    if draws == 0:
        return USUAL
    drawn = draw_parameters(draws, seed)
    return Parameters(
        **{
            field.name: np.concatenate([[getattr(USUAL, field.name)], getattr(drawn, field.name)])
            for field in fields(Parameters)
        }
    )
