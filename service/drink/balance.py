"""A drink against the band, in words: inside, on the edge or outside, how far and which way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.drink.state import TASTES, Amounts, intervals_of
from service.kit import Interval
from service.taste import AXES, Band, Judgement, Percept, Style, Verdict, judge, leanings

FloatArray = NDArray[np.float64]

# What a person says of too much, and of too little, of each taste.
TOO_MUCH: Final = {
    "sweet": "too sweet",
    "bitter": "too bitter",
    "sour": "too sharp",
    "salt": "too salty",
    "heat": "too strong",
}
TOO_LITTLE: Final = {
    "sweet": "too dry",
    "bitter": "not bitter enough",
    "sour": "too flat",
    "salt": "",
    "heat": "too thin",
}
# A leaning is named when it is at least this much, and at least this share of the largest.
_NAMED_FROM_SPREADS: Final = 1.0
_NAMED_FROM_SHARE: Final = 0.6


@dataclass(frozen=True, slots=True)
class Leaning:
    """One taste a drink leans to, or lacks [standard spreads of the classics]."""

    taste: str
    spreads: float
    words: str


@dataclass(frozen=True, slots=True)
class Balance:
    """The verdict on one moment of a drink.

    `distance` is measured from the border of the inside, in standard spreads: below 0 inside, up
    to `edge_width` on the edge. The three probabilities are shares of the draws.
    """

    verdict: Verdict
    distance: Interval
    edge_width: float
    inside_probability: float
    edge_probability: float
    outside_probability: float
    style: Style
    leanings: tuple[Leaning, ...]
    warning: str = ""

    @property
    def words(self) -> str:
        """Which way the drink is off, strongest first; empty where it is inside."""
        return " and ".join(leaning.words for leaning in self.leanings)


def balances_of(band: Band, amounts: Amounts, styles: Sequence[Style]) -> list[Balance]:
    """One `Balance` per drink, all draws judged by the palate the band was learnt with.

    The band is drawn from classics as that same palate tastes them. To vary the palate for the
    drink but not for the classics would count its uncertainty twice, so only bottles, hands and
    beds vary here; how much the palate matters is tested by fitting the band again.
    """
    percept = amounts.tasted()
    judgement = judge_all(band, percept, styles)
    usual = Percept(*(taste[:, 0] for taste in _tastes(percept)))
    drawn = slice(1, None) if judgement.distance.shape[-1] > 1 else slice(None)
    inside = judgement.inside[:, drawn].mean(axis=-1).tolist()
    outside = judgement.outside[:, drawn].mean(axis=-1).tolist()
    distances = intervals_of(judgement.distance[None].copy())[0]
    leans = leanings(band, usual).tolist()
    verdicts = judgement.usual_verdicts()
    return [
        Balance(
            verdict=verdict,
            distance=distances[row],
            edge_width=band.edge_width,
            inside_probability=inside[row],
            edge_probability=max(1.0 - inside[row] - outside[row], 0.0),
            outside_probability=outside[row],
            style=styles[row],
            leanings=_named(leans[row]) if verdict is not Verdict.INSIDE else (),
            warning=_warning(styles[row], verdict),
        )
        for row, verdict in enumerate(verdicts)
    ]


def judge_all(band: Band, percept: Percept, styles: Sequence[Style]) -> Judgement:
    """All drinks judged at once; those of a style of their own looked at again."""
    judgement = judge(band, percept)
    excused = judgement.excused
    for row, style in enumerate(styles):
        if style in band.own_styles:
            one = Percept(*(taste[row] for taste in _tastes(percept)))
            excused[row] = judge(band, one, style).excused
    return Judgement(judgement.distance, excused, judgement.edge_width)


def _named(spreads: Sequence[float]) -> tuple[Leaning, ...]:
    """The leanings worth a word, strongest first."""
    all_ = [
        Leaning(taste, much, TOO_MUCH[taste] if much > 0 else TOO_LITTLE[taste])
        for taste, much in zip(AXES, spreads, strict=True)
    ]
    said = sorted((lean for lean in all_ if lean.words), key=lambda lean: -abs(lean.spreads))
    least = max(_NAMED_FROM_SPREADS, _NAMED_FROM_SHARE * abs(said[0].spreads))
    return tuple(lean for lean in said if abs(lean.spreads) >= least) or (said[0],)


def _warning(style: Style, verdict: Verdict) -> str:
    if verdict is Verdict.INSIDE or not style.of_its_own:
        return ""
    if style is Style.WINE_LED:
        return "little spirit: the references hold few such drinks, so trust your tongue"
    return f"{style.value}: a style of its own, sweeter or weaker than spirit-led classics"


def _tastes(percept: Percept) -> tuple[FloatArray, ...]:
    return tuple(np.asarray(getattr(percept, taste)) for taste in TASTES)
