"""The taste of this house: what its tasters find just about right, against the classics.

Three things are kept apart. *Penalties* only describe: how much less a drink is liked by those
who call it too sweet, and how many they are. *Shifts* are learnt: how far from the classics'
middle this house's own middle lies, starting at nothing and moved by answers no further than they
carry. And where answers on bitterness rise with the coffee's share of it, the coffee is taken to
be more bitter than foretold, and the classics' middle is left alone.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from service.kit import BadData, Interval
from service.taste.band import Band, leanings
from service.taste.density import AXES, coordinates
from service.taste.parameters import USUAL
from service.taste.tasting import Attribute, Tasting

if TYPE_CHECKING:
    from numpy.typing import NDArray

# A middle that moved by less than this [points] is not spoken of (estimate).
HARDLY_A_SHIFT: Final = 0.05
_INTERVAL: Final = (0.1, 0.5, 0.9)
_PLACES: Final = np.linspace(-4.5, 4.5, 151)  # [prior deviates] where the house may stand
_FACTORS: Final = np.linspace(-3.2, 3.2, 41)  # [prior deviates] how bitter its coffee may be
_TASTERS: Final = np.linspace(-2.5, 2.5, 11)  # [deviates] how a taster may differ from the house


_TASTE_OF: Final = {
    Attribute.SWEETNESS: "sweet",
    Attribute.BITTERNESS: "bitter",
    Attribute.STRENGTH: "heat",
}


@dataclass(frozen=True, slots=True)
class JarScale:
    """How answers come about, in standard spreads of the classics: estimates throughout.

    right_within : how far off a drink may be and half of its tasters still call it right
    much_from : from where half call it *much* too much
    noise : standard deviation of one answer
    tasters_apart : that between tasters
    house_apart : that between houses, before any answer
    coffee_apart : that of the coffee's bitterness, natural logarithm
    coffee_step : one spread of coffee strength, natural logarithm
    stray : share of answers that mean nothing (a thumb slipped)
    """

    right_within: float = 0.8
    much_from: float = 2.2
    noise: float = 1.0
    tasters_apart: float = 0.5
    house_apart: float = 0.8
    coffee_apart: float = 0.5
    coffee_step: float = 0.4
    stray: float = 0.03


@dataclass(frozen=True, slots=True)
class HouseShift:
    """One learnt thing before and after the answers.

    `answers_mean` is what the answers alone would say, without the prior; None without answers.
    """

    name: str
    unit: str
    prior: Interval
    answers_mean: float | None
    posterior: Interval
    answers: int
    tasters: int
    too_little: int
    just_right: int
    too_much: int

    @property
    def words(self) -> str:
        """Prior, answers and posterior in one line."""
        now = self.posterior
        if not self.answers:
            return f"no answers yet: {now.mid:.2g} ({now.low:.2g} to {now.high:.2g}) {self.unit}"
        before = self.prior
        return (
            f"before {before.mid:.2g} ({before.low:.2g} to {before.high:.2g}); {self.answers} "
            f"answers of {self.tasters} tasters: {self.too_little} too little, {self.just_right} "
            f"right, {self.too_much} too much; now {now.mid:.2g} ({now.low:.2g} to {now.high:.2g})"
            f" {self.unit}"
        )


@dataclass(frozen=True, slots=True)
class BandShift:
    """How far the house's middle lies from the classics' [points]; positive wants more of it."""

    sweet: float = 0.0
    bitter: float = 0.0
    heat: float = 0.0


@dataclass(frozen=True, slots=True)
class House:
    """What was learnt of a house's taste.

    `coffee_bitterness` is a factor on the foretold bitterness of its coffee, `coffee_strength` a
    factor on what is usual: what the house would find right.
    """

    sweet: HouseShift
    bitter: HouseShift
    strength: HouseShift
    coffee_bitterness: HouseShift
    coffee_strength: HouseShift

    @property
    def band_shift(self) -> BandShift:
        """For `shifted_band`: the middle of each posterior, already drawn towards nothing."""
        return BandShift(
            self.sweet.posterior.mid, self.bitter.posterior.mid, self.strength.posterior.mid
        )


def learn_house(
    tastings: Sequence[Tasting],
    band: Band,
    *,
    usual_coffee_g_per_l: float | None = None,
    scale: JarScale | None = None,
) -> House:
    """How far this house's taste lies from the classics' [points], from all its answers.

    A function of the tastings alone, in any order: undo one, and its influence is gone exactly.

    Parameters
    ----------
    tastings : Sequence[Tasting]
        The house's tastings; each key once [points]
    band : Band
        The classics' band, unshifted [-]
    usual_coffee_g_per_l : float
        Dissolved coffee of the usual build, as foretold; None: coffee strength is not learnt [g/L]
    scale : JarScale
        How answers come about [-]

    Valid for: any number of tastings; without answers each shift is its prior, at nothing.
    BadData where two tastings have the same key.
    Source: ordinal probit (McCullagh 1980, J. R. Stat. Soc. B 42, 109) with tasters as random
    effects, Bayes' rule on a grid; widths are our estimates, because nobody has published them
    for drinks of this kind.

    >>> from service.taste import Reference, Style, fit_band, perceive
    >>> drinks = [Reference(str(s), perceive(sugar_g_per_l=float(s), qhe_mg_per_l=20.0, abv=0.23),
    ...                     Style.SUGAR) for s in range(35, 56)]
    >>> sweet = [Tasting(str(i), "ab", drinks[10].percept, sweetness=1) for i in range(6)]
    >>> learn_house(sweet, fit_band(drinks)).band_shift.sweet < 0
    True
    """
    scale = scale or JarScale()
    ordered = sorted(tastings, key=lambda tasting: tasting.key)
    if len({tasting.key for tasting in ordered}) < len(ordered):
        raise BadData("two tastings have the same key; count each once", field="tastings")
    shifts, leans = {}, {tasting.key: _lean(tasting, band) for tasting in ordered}
    for attribute, taste in _TASTE_OF.items():
        axis = AXES.index(taste)
        answers = _answers(ordered, attribute, {k: float(lean[axis]) for k, lean in leans.items()})
        step = scale.house_apart * float(band.spread[axis])
        learnt = _learn(answers, _pulls(ordered, taste, band), scale)
        shifts[taste] = _told(f"{taste} shift", "points", step * _PLACES, learnt.place, answers)
        if attribute is Attribute.BITTERNESS:
            factors = np.exp(scale.coffee_apart * _FACTORS)
            coffee = _told("bitterness of the coffee", "1", factors, learnt.factor, answers)
    strengths = _coffee_offsets(ordered, usual_coffee_g_per_l, scale)
    answers = _answers(ordered, Attribute.COFFEE_STRENGTH, strengths)
    learnt = _learn(answers, {}, scale)
    wanted = np.exp(scale.house_apart * scale.coffee_step * _PLACES)
    strength = _told("coffee strength wanted", "1", wanted, learnt.place, answers)
    return House(shifts["sweet"], shifts["bitter"], shifts["heat"], coffee, strength)


def shifted_band(band: Band, shift: BandShift) -> Band:
    """The band moved to where a house likes its drinks [distances in standard spreads].

    Parameters
    ----------
    band : Band
        From `fit_band` [-]
    shift : BandShift
        How far, along sweet, bitter and heat [points]

    Valid for: any shift; its shape, width and thresholds stay.
    Source: our estimate, because a house differs in what it finds right more than in how far off
    it lets a drink be.

    >>> from service.taste import Reference, Style, fit_band, perceive
    >>> drinks = [Reference(str(s), perceive(sugar_g_per_l=float(s), qhe_mg_per_l=20.0, abv=0.23),
    ...                     Style.SUGAR) for s in range(35, 56)]
    >>> moved = shifted_band(fit_band(drinks), BandShift(sweet=1.0))
    >>> round(float(moved.clusters[0].middle[0] - fit_band(drinks).clusters[0].middle[0]), 6)
    1.0
    """
    steps = np.zeros(len(AXES))
    for taste in ("sweet", "bitter", "heat"):
        steps[AXES.index(taste)] = getattr(shift, taste)
    moved = {taste for taste, step in zip(AXES, steps, strict=True) if abs(step) >= HARDLY_A_SHIFT}
    return replace(
        band,
        moved=band.moved | moved,
        clusters=tuple(replace(each, middle=each.middle + steps) for each in band.clusters),
        own_styles={style: rows + steps for style, rows in band.own_styles.items()},
    )


class _Answer(NamedTuple):
    """One answer: how far off the drink is foretold to be [spreads], and what was said."""

    key: str
    taster: str
    offset: float
    said: int


class _Weights(NamedTuple):
    """Weights over a grid: by prior and answers, and by the answers alone."""

    prior: NDArray[np.float64]
    posterior: NDArray[np.float64]
    answers: NDArray[np.float64]


class _Learned(NamedTuple):
    place: _Weights
    factor: _Weights


def _lean(tasting: Tasting, band: Band) -> NDArray[np.float64]:
    """How far a drink lies from its classics [spreads]; one of an own style from its own kind."""
    own = None if tasting.style is None else band.own_styles.get(tasting.style)
    if own is None:
        return leanings(band, tasting.percept)
    return np.asarray((coordinates(tasting.percept) - own.mean(axis=0)) / band.spread)


def _pulls(tastings: Sequence[Tasting], taste: str, band: Band) -> dict[str, float]:
    """What coffee e times as bitter would add to a drink's bitterness [spreads]."""
    if taste != "bitter":
        return {}
    spread = float(band.spread[AXES.index(taste)])
    exponent = float(USUAL.bitter_exponent)
    return {
        t.key: exponent * t.coffee_qhe_share * float(t.percept.bitter) / spread for t in tastings
    }


def _coffee_offsets(
    tastings: Sequence[Tasting], usual_g_per_l: float | None, scale: JarScale
) -> dict[str, float]:
    if usual_g_per_l is None:
        return {}
    return {
        tasting.key: float(np.log(tasting.coffee_g_per_l / usual_g_per_l)) / scale.coffee_step
        for tasting in tastings
        if tasting.coffee_g_per_l
    }


def _answers(
    tastings: Sequence[Tasting], attribute: Attribute, offsets: dict[str, float]
) -> list[_Answer]:
    return [
        _Answer(tasting.key, tasting.taster, offsets[tasting.key], said)
        for tasting in tastings
        if tasting.key in offsets and (said := tasting.answer(attribute)) is not None
    ]


def _learn(answers: Sequence[_Answer], pulls: dict[str, float], scale: JarScale) -> _Learned:
    """Where the house stands (columns) and how bitter its coffee is (rows), from all answers."""
    log_chances, latents = _chances(scale)
    pulled = any(pulls.get(answer.key, 0.0) for answer in answers)
    factors = scale.coffee_apart * _FACTORS if pulled else np.zeros(1)  # where all are alike, one
    log_likelihood = np.zeros((len(_FACTORS), len(_PLACES)))
    apart = scale.tasters_apart * _TASTERS[:, None]
    place = scale.house_apart * _PLACES
    for taster in sorted({answer.taster for answer in answers}):
        theirs = np.zeros((len(factors), len(_TASTERS), len(_PLACES)))
        for answer in answers:
            if answer.taster == taster:
                more = pulls.get(answer.key, 0.0) * factors[:, None, None]
                felt = answer.offset + more - place - apart
                theirs += np.interp(felt, latents, log_chances[answer.said + 2])
        theirs += np.log(_normal(_TASTERS))[:, None]
        log_likelihood += np.logaddexp.reduce(theirs, axis=1)
    alone = np.exp(log_likelihood - log_likelihood.max())
    prior = np.outer(_normal(_FACTORS), _normal(_PLACES))
    together = alone * prior
    return _Learned(
        *(
            _Weights(
                prior=prior.sum(axis=axis),
                posterior=together.sum(axis=axis) / together.sum(),
                answers=alone.sum(axis=axis) / alone.sum(),
            )
            for axis in (0, 1)
        )
    )


def _chances(scale: JarScale) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Logarithm of the chance of each of the five answers, by how far off a drink is felt."""
    from scipy.special import ndtr

    latents = np.linspace(-15.0, 15.0, 1501)
    cuts = np.array([-scale.much_from, -scale.right_within, scale.right_within, scale.much_from])
    below = ndtr((cuts[:, None] - latents) / scale.noise)
    ends = np.zeros((1, latents.size))
    chances = np.diff(np.concatenate([ends, below, ends + 1.0]), axis=0)
    return np.log((1.0 - scale.stray) * chances + scale.stray / 5.0), latents


def _told(
    name: str,
    unit: str,
    values: NDArray[np.float64],
    weights: _Weights,
    answers: Sequence[_Answer],
) -> HouseShift:
    prior = _interval(values, weights.prior)
    said = Counter((answer.said > 0) - (answer.said < 0) for answer in answers)
    return HouseShift(
        name=name,
        unit=unit,
        prior=prior,
        answers_mean=float(values @ weights.answers) if answers else None,
        posterior=_interval(values, weights.posterior) if answers else prior,
        answers=len(answers),
        tasters=len({answer.taster for answer in answers}),
        too_little=said[-1],
        just_right=said[0],
        too_much=said[1],
    )


def _interval(values: NDArray[np.float64], weights: NDArray[np.float64]) -> Interval:
    below = (np.cumsum(weights) - 0.5 * weights) / weights.sum()
    low, middle, high = (float(value) for value in np.interp(_INTERVAL, below, values).round(9))
    return Interval(low, middle, high)


def _normal(deviates: NDArray[np.float64]) -> NDArray[np.float64]:
    density = np.exp(-0.5 * deviates**2)
    return np.asarray(density / density.sum())
