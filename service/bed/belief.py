"""What is believed of one uncertain number: a prior, then what each trial found, on a fixed grid.

The grid stands on the prior's own scale (standard normal deviates), so that the prior is met
exactly and what a trial says is multiplied in without any approximation that depends on order:
one trial after the other gives what all at once give. Beside the number itself the belief holds
how far one drink differs from the next at this bar, because no two bartenders are equally steady.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final, Protocol, TypeVar

import numpy as np

from service.bed.limits import FloatArray, Numbers
from service.bed.prior import Prior
from service.kit import Interval

# A slip (a mixed-up cup, a clock started late) is five times as far off as is usual: estimate.
# It is weighed down, never thrown out.
SLIP_FACTOR: Final = 5.0

_Trial = TypeVar("_Trial")
_GRID: Final = np.linspace(-6.0, 6.0, 601)
_SPREAD_NODES: Final = 7  # steadinesses that are weighed against each other, equally likely
_ATOMS: Final = 33  # points that stand for the level when the next drink is foretold
_APART: Final = np.linspace(-3.0, 3.0, 25)  # where a coffee may lie among coffees [deviates]
_APART_SHARES: Final = np.exp(-0.5 * _APART**2) / np.exp(-0.5 * _APART**2).sum()
_INTERVAL: Final = (0.1, 0.5, 0.9)
# A trial is doubted aloud when a slip is likelier than not.
_DOUBTED_FROM: Final = 0.5


@dataclass(frozen=True, slots=True)
class Doubt:
    """A trial that looks like a slip, and how likely it is one [0..1]."""

    key: str
    probability: float


@dataclass(frozen=True, slots=True)
class Learnt:
    """One quantity before and after a bar's trials, for one coffee.

    prior, posterior : of the level around which drinks vary
    data_mean : what the trials alone say (of this coffee, if it has any); None without trials
    next_drink : as a single drink will show it: the posterior and what drinks differ by
    spread : standard deviation of the natural logarithm from drink to drink
    trials, of_this_coffee : how many measured it
    doubts : trials that look like slips and were weighed down for it
    """

    quantity: str
    unit: str
    prior: Interval
    data_mean: float | None
    posterior: Interval
    next_drink: Interval
    spread: Interval
    trials: int
    of_this_coffee: int
    doubts: tuple[Doubt, ...]

    @property
    def words(self) -> str:
        """Prior, data, posterior and number of trials in one line."""
        before, after = (
            f"{i.mid:.3g} ({i.low:.3g} to {i.high:.3g})" for i in (self.prior, self.posterior)
        )
        if self.data_mean is None:
            return f"before any trial {before}; no trial measured it yet"
        many = "1 trial" if self.trials == 1 else f"{self.trials} trials"
        if self.of_this_coffee != self.trials:
            many += f", {self.of_this_coffee or 'none'} of this coffee"
        return f"before {before}; measured {self.data_mean:.3g} ({many}); now {after}"

    def as_prior(self, like: Prior) -> Prior:
        """The next drink in the form the bed takes; `like` itself where nothing was measured."""
        if not self.trials:
            return like
        source = f"{self.trials} trials of this bar, on top of: {like.source}"
        drink = self.next_drink
        return Prior(drink.mid, drink.low, drink.high, like.unit, source, like.scale)


@dataclass(frozen=True, slots=True, eq=False)
class Finding:
    """What one trial says of the number.

    observed : what was measured, on the scale on which it is compared
    expected : what each value of the grid would have led to, on the same scale
    error : standard deviation of the measuring, same scale
    slope : how far one unit of drink-to-drink difference (natural logarithm) moves it
    implied : the value that this trial alone would give
    """

    key: str
    coffee: str
    observed: float
    expected: FloatArray
    error: Numbers
    slope: Numbers
    implied: float


class Scatter(Protocol):
    """How coffees of one bar differ (natural logarithm), and how many trials hold a slip."""

    @property
    def coffees_apart(self) -> float: ...

    @property
    def slip_share(self) -> float: ...


@dataclass(frozen=True, slots=True, eq=False)
class Belief:
    """A number (columns) and a drink-to-drink spread (rows), with the weight of each together."""

    values: FloatArray
    spreads: FloatArray
    log_weight: FloatArray
    slip_share: float

    @classmethod
    def before(cls, prior: Prior, spread: Prior, slip_share: float) -> Belief:
        """Before any trial: the prior, and steadinesses as they are spread among bars."""
        from scipy.special import ndtri

        shares = (np.arange(_SPREAD_NODES) + 0.5) / _SPREAD_NODES
        rows = np.zeros((_SPREAD_NODES, 1))
        return cls(prior.at(_GRID), spread.at(ndtri(shares)), rows - 0.5 * _GRID**2, slip_share)

    def given(self, finding: Finding) -> Belief:
        """After one more trial."""
        return replace(self, log_weight=self.log_weight + self._log_likelihood(finding))

    def given_another(self, findings: Sequence[Finding], apart: float) -> Belief:
        """After trials of another coffee, which lies somewhere near this bar's level."""
        theirs = np.zeros_like(self.log_weight)
        for finding in findings:
            theirs += self._log_likelihood(finding)
        moved = self._moved(theirs, apart) + np.log(_APART_SHARES)[:, None]
        seen = np.logaddexp.reduce(moved, axis=1)
        return replace(self, log_weight=self.log_weight + seen)

    def of_one_coffee(self, apart: float) -> Belief:
        """What a coffee may be that lies somewhere near the bar's level."""
        cell = np.gradient(np.log(self.values))
        weight = _APART_SHARES @ self._moved(self._weight() / cell, apart) * cell
        return replace(self, log_weight=np.log(np.maximum(weight, 1e-300)))

    def slip_probability(self, finding: Finding) -> float:
        """How likely it is, after all trials, that this one holds a slip [0..1]."""
        honest, slip = self._log_likelihoods(finding)
        return float((self._weight() / (1.0 + np.exp(honest - slip))).sum())

    def level(self) -> Interval:
        """The number around which drinks vary [its unit]."""
        return _interval(np.interp(_INTERVAL, _cumulative(self._weight().sum(axis=0)), self.values))

    def next_drink(self) -> Interval:
        """The number as the next drink will show it: the level, and what drinks differ by."""
        weight = self._weight()
        shares = (np.arange(_ATOMS) + 0.5) / _ATOMS
        logs = np.log(self.values)
        atoms = np.array([np.interp(shares, _cumulative(row), logs) for row in weight])
        return _interval(np.exp(_mixture_quantiles(atoms, self.spreads, weight.sum(axis=1))))

    def spread(self) -> Interval:
        """How far one drink differs from the next [natural logarithm, standard deviation]."""
        return _interval(
            np.interp(_INTERVAL, _cumulative(self._weight().sum(axis=1)), self.spreads)
        )

    def log_moments(self) -> tuple[float, float]:
        """Mean and standard deviation of the number's natural logarithm."""
        weight, logs = self._weight().sum(axis=0), np.log(self.values)
        mean = float(weight @ logs)
        return mean, float(np.sqrt(weight @ (logs - mean) ** 2))

    def _moved(self, rows: FloatArray, apart: float) -> FloatArray:
        """Each row as seen from each place a coffee may lie: spreads by places by values."""
        logs = np.log(self.values)
        place = np.interp(logs + apart * _APART[:, None], logs, np.arange(logs.size, dtype=float))
        left = np.minimum(place.astype(np.intp), logs.size - 2)
        between = place - left
        return np.asarray((1.0 - between) * rows[:, left] + between * rows[:, left + 1])

    def _weight(self) -> FloatArray:
        behind = self.log_weight - self.log_weight.max()
        weight = np.exp(np.maximum(behind, -600.0))  # never nothing, so that every row has a sum
        return np.asarray(weight / weight.sum())

    def _log_likelihood(self, finding: Finding) -> FloatArray:
        return np.asarray(np.logaddexp(*self._log_likelihoods(finding)))

    def _log_likelihoods(self, finding: Finding) -> tuple[FloatArray, FloatArray]:
        """Of an honest trial, and of one with a slip; each with its share of all trials."""
        steady = self.spreads[:, None]
        usual = steady[_SPREAD_NODES // 2]  # a slip is no larger where the hand is steadier
        slips = max(self.slip_share, 1e-300)  # none at all has no logarithm
        honest = np.log(1.0 - self.slip_share) + self._log_normal(finding, steady, 1.0)
        slip = np.log(slips) + self._log_normal(finding, usual, SLIP_FACTOR)
        return honest, slip

    @staticmethod
    def _log_normal(finding: Finding, spread: FloatArray, factor: float) -> FloatArray:
        variance = factor**2 * (np.square(finding.error) + np.square(finding.slope * spread))
        off = np.square(finding.observed - finding.expected)
        return np.asarray(-0.5 * (off / variance + np.log(variance)))


def learn(
    quantity: str,
    prior: Prior,
    spread: Prior,
    scatter: Scatter,
    trials: Iterable[_Trial],
    read: Callable[[FloatArray, _Trial], Finding | None],
    coffee: str,
) -> tuple[Learnt, Belief]:
    """What trials say of one quantity; `read` gives None for a trial that did not measure it.

    What is known exactly has nothing to learn: trials do not count for it.
    """
    belief = Belief.before(prior, spread, scatter.slip_share)
    known = prior.low == prior.high
    found = [] if known else [read(belief.values, trial) for trial in trials]
    findings = [finding for finding in found if finding is not None]
    own = [finding for finding in findings if finding.coffee == coffee]
    for name in sorted({finding.coffee for finding in findings} - {coffee}):
        theirs = [finding for finding in findings if finding.coffee == name]
        belief = belief.given_another(theirs, scatter.coffees_apart)
    if findings:
        belief = belief.of_one_coffee(scatter.coffees_apart)
    for finding in own:
        belief = belief.given(finding)
    slips = {finding.key: belief.slip_probability(finding) for finding in own}
    learnt = Learnt(
        quantity=quantity,
        unit=prior.unit,
        prior=prior.interval,
        data_mean=_mean_of(own or findings, slips),
        posterior=belief.level() if findings else prior.interval,
        next_drink=belief.next_drink(),
        spread=belief.spread(),
        trials=len(findings),
        of_this_coffee=len(own),
        doubts=tuple(Doubt(key, slip) for key, slip in slips.items() if slip > _DOUBTED_FROM),
    )
    return learnt, belief


def _mean_of(findings: Sequence[Finding], slips: dict[str, float]) -> float | None:
    """What the trials alone say, each by how likely it is honest; None where there are none."""
    if not findings:
        return None
    honest = [max(1.0 - slips.get(finding.key, 0.0), 1e-9) for finding in findings]
    return float(np.average([finding.implied for finding in findings], weights=honest))


def _cumulative(weight: FloatArray) -> FloatArray:
    return np.asarray((np.cumsum(weight) - 0.5 * weight) / weight.sum())


def _interval(three: FloatArray) -> Interval:
    low, middle, high = (float(value) for value in three)
    return Interval(low, middle, high)


def _mixture_quantiles(atoms: FloatArray, spreads: FloatArray, share: FloatArray) -> FloatArray:
    """10th, 50th and 90th percentile of normals around atoms (rows share a spread), by halving."""
    from scipy.special import ndtr

    reach = 6.0 * spreads.max()
    low = np.full(3, atoms.min() - reach)
    high = np.full(3, atoms.max() + reach)
    for _ in range(50):
        middle = 0.5 * (low + high)
        below = ndtr((middle[:, None, None] - atoms) / spreads[:, None]).mean(axis=-1) @ share
        low = np.where(below < _INTERVAL, middle, low)
        high = np.where(below < _INTERVAL, high, middle)
    return np.asarray(0.5 * (low + high))
