"""What the pieces of a page are given: plain words and places, all reckoned before the template."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Option:
    """One of several to choose from."""

    value: str
    label: str
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A large number with its unit and its 80 % range."""

    label: str
    value: str
    unit: str = ""
    range: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class VerdictMark:
    """Inside, on the edge or outside: a shape and words."""

    kind: str
    words: str
    chance: str = ""


@dataclass(frozen=True, slots=True)
class ConfidenceMark:
    """How well the evidence is known: one to three bars and a word."""

    bars: int
    words: str


@dataclass(frozen=True, slots=True)
class GradeMark:
    """How a number came to be known."""

    grade: str
    words: str


@dataclass(frozen=True, slots=True)
class TasteTrack:
    """Places on the track of a taste, 0 to 200 from too little to too much.

    `low` to `high` is the 80 % range after the coffee.
    """

    was: float
    now: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class TasteCheck:
    """One taste before and after the coffee, against the classics."""

    name: str
    saying: str
    off: bool
    points: str
    told: str
    track: TasteTrack


@dataclass(frozen=True, slots=True)
class ReasonLine:
    """One reason of a score: what it says, its share in words, and as a length of 0 to 100."""

    words: str
    amount: str
    share: float


@dataclass(frozen=True, slots=True)
class RemedyLine:
    """One change that helps, and the address of the drink with it made ('' where there is none)."""

    words: str
    reaches: bool
    address: str = ""


@dataclass(frozen=True, slots=True)
class CautionLine:
    """What must be told: its level in words, the message, the source."""

    level: str
    level_words: str
    message: str
    source: str


@dataclass(frozen=True, slots=True)
class SourceLine:
    """A citation and the page about it."""

    id: str
    citation: str
    address: str


@dataclass(frozen=True, slots=True)
class PictureView:
    """A picture: where it lies, how large it is, and the same in words."""

    id: str
    title: str
    words: tuple[str, ...]
    svg_address: str
    spec_address: str
    width: int
    height: int
