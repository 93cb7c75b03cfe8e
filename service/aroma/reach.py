"""How far a negation and a word of intensity reach over the stretches that follow.

A negation reaches to the next comma, full stop, "but" or "and"; "without", "free of" and their
like also over "and" when a bare note follows ("without smoke and ash"), and all of them over "or"
and over a list that ends in "or". An intensity weighs the next note; with "of" ("hints of jasmine
and bergamot") also what "and" joins to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from service.aroma.prose import FOLLOWING, PREPOSITIONS
from service.aroma.stretches import Gap, Kind, Stretch, Token

_WORDS_BETWEEN = 3  # a negation reaches its note over at most so many other words
_WORDS_IN_LIST_ITEM = 4
_STRETCHES_IN_LIST = 16


@dataclass(slots=True)
class _Reach:
    """What is in force at one place of the text."""

    negation: str = ""
    denied: int = 0  # notes that the negation has reached so far
    between: int = 0  # other words since the negation
    factor: float = 1.0
    carries: bool = False  # the intensity holds over "and"

    def end_negation(self) -> None:
        self.negation, self.denied, self.between = "", 0, 0

    def end_intensity(self) -> None:
        self.factor, self.carries = 1.0, False


def weighed(stretches: Sequence[Stretch], tokens: Sequence[Token]) -> list[Stretch]:
    """The stretches with each note's intensity and whether it is denied."""
    reach = _Reach()
    weighed: list[Stretch] = []
    for at, stretch in enumerate(stretches):
        _cross_gap(reach, stretches, at)
        if stretch.kind is Kind.NOTE:
            denied = bool(reach.negation)
            weighed.append(replace(stretch, negated=denied, factor=1 if denied else reach.factor))
            reach.denied += denied
            if not reach.carries:
                reach.end_intensity()
            continue
        weighed.append(stretch)
        previous = weighed[-2] if len(weighed) > 1 and stretch.gap is Gap.JOINED else None
        if previous and previous.kind is Kind.NOTE and _follows(stretch, tokens):
            free = stretch.kind is not Kind.INTENSITY
            factor = previous.factor if free else stretch.factor
            weighed[-2] = replace(previous, negated=free or previous.negated, factor=factor)
        else:
            _pass_word(reach, stretches, at, tokens)
    return weighed


def _follows(stretch: Stretch, tokens: Sequence[Token]) -> bool:
    """Whether this speaks of the note before it: "cherry undertones", "smoke-free"."""
    if stretch.kind is Kind.INTENSITY:
        return stretch.words in FOLLOWING and not _before_of(stretch, tokens)
    return stretch.kind is Kind.FILLER and tokens[stretch.start].word == "free"


def _before_of(stretch: Stretch, tokens: Sequence[Token]) -> bool:
    return stretch.end < len(tokens) and tokens[stretch.end].word == "of"


def _cross_gap(reach: _Reach, stretches: Sequence[Stretch], at: int) -> None:
    gap = stretches[at].gap
    if gap in {Gap.FULL_STOP, Gap.COLON}:
        reach.end_negation()
        reach.end_intensity()
    elif gap is Gap.COMMA:
        reach.end_intensity()
        if reach.negation and not _list_ends_in_or(stretches, at):
            reach.end_negation()
    elif gap is Gap.AMPERSAND:
        _cross_and(reach, stretches, at)


def _cross_and(reach: _Reach, stretches: Sequence[Stretch], following: int) -> None:
    """What still holds after "and", where the stretch at `following` comes next."""
    bare = following < len(stretches) and stretches[following].kind is Kind.NOTE
    if not (bare and reach.carries):
        reach.end_intensity()
    alone = following + 1 >= len(stretches) or (
        stretches[following + 1].gap is not Gap.JOINED
        or stretches[following + 1].kind in {Kind.AND, Kind.OR, Kind.BREAKER}
    )
    if reach.denied and not (bare and alone and reach.negation in PREPOSITIONS):
        reach.end_negation()


def _pass_word(
    reach: _Reach, stretches: Sequence[Stretch], at: int, tokens: Sequence[Token]
) -> None:
    stretch = stretches[at]
    if stretch.kind is Kind.NEGATION:
        reach.end_negation()
        reach.end_intensity()
        reach.negation = stretch.words
    elif stretch.kind is Kind.INTENSITY:
        if reach.denied:
            reach.end_negation()
        reach.factor = stretch.factor
        reach.carries = stretch.words.endswith(" of") or _before_of(stretch, tokens)
    elif stretch.kind is Kind.AND:
        _cross_and(reach, stretches, at + 1)
    elif stretch.kind is Kind.BREAKER:
        reach.end_negation()
        reach.end_intensity()
    elif stretch.kind in {Kind.PROSE, Kind.UNKNOWN}:
        reach.between += 1
        if reach.denied or reach.between > _WORDS_BETWEEN:
            reach.end_negation()
        if not reach.carries:
            reach.end_intensity()


def _list_ends_in_or(stretches: Sequence[Stretch], at: int) -> bool:
    """Whether the list that goes on here is closed by "or", as in "not smoky, ashy or bitter"."""
    words = 0
    for place, stretch in enumerate(stretches[at : at + _STRETCHES_IN_LIST]):
        if place and stretch.gap in {Gap.FULL_STOP, Gap.COLON, Gap.AMPERSAND}:
            return False
        if stretch.gap is Gap.COMMA:
            words = 0
        if stretch.kind is Kind.OR or stretch.words == "nor":
            return True
        words += stretch.end - stretch.start
        ends = {Kind.AND, Kind.BREAKER, Kind.NEGATION, Kind.INTENSITY}
        if stretch.kind in ends or words > _WORDS_IN_LIST_ITEM:
            return False
    return False
