"""Why two things belong together: one short sentence, and the reasons that sum to the score."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from service.counter.explain import explaining
from service.counter.known import Known
from service.ingredients import Catalogue
from service.recommend import Affinity, Part, Reason
from service.recommend.explain import why_line
from service.web.pages.pieces import ReasonLine

LINES: Final = 8
# What would be rounded to nothing is no reason.
_WORTH_A_LINE: Final = 0.005
_RESTS: Final = {
    Part.ECHO: "smaller shared notes",
    Part.BRIDGE: "what else joins them",
    Part.CONTRAST: "smaller contrasts",
    Part.CUSTOM: "what else was poured before",
}


def why(known: Known, affinity: Affinity) -> str:
    """One sentence, in the words of the explanations."""
    line = why_line(affinity, explaining(known).speech)
    return f"{line[:1].upper()}{line[1:]}."


def reason_lines(catalogue: Catalogue, affinity: Affinity) -> tuple[ReasonLine, ...]:
    """The reasons of a score, the largest first; what is small is summed by part."""
    named = [r for r in affinity.reasons if r.names and abs(r.amount) >= _WORTH_A_LINE]
    shown = sorted(named, key=lambda r: -abs(r.amount))[:LINES]
    chosen = {id(reason) for reason in shown}
    lines = [_line(_WORDS[r.part](catalogue, affinity, r), r.amount, affinity) for r in shown]
    for part in Part:
        rest = sum(r.amount for r in affinity.reasons if r.part is part and id(r) not in chosen)
        if abs(rest) >= _WORTH_A_LINE:
            lines.append(_line(_RESTS[part], rest, affinity))
    return tuple(lines)


def _line(words: str, amount: float, affinity: Affinity) -> ReasonLine:
    share = 100.0 * max(amount, 0.0) / max(abs(affinity.score), 1e-9)
    return ReasonLine(words, f"{amount:+.2f}".replace("-", "\u2212"), round(min(share, 100.0), 1))


def _echo(catalogue: Catalogue, _affinity: Affinity, reason: Reason) -> str:
    return f"both smell of {catalogue.descriptors[reason.names[0]].name}"


def _bridge(catalogue: Catalogue, _affinity: Affinity, reason: Reason) -> str:
    return f"{catalogue.ingredients[reason.names[0]].name} has something of both"


def _contrast(catalogue: Catalogue, _affinity: Affinity, reason: Reason) -> str:
    first, second = (catalogue.families[family] for family in reason.names)
    return f"{first} and {second} set each other off"


def _custom(catalogue: Catalogue, affinity: Affinity, reason: Reason) -> str:
    like_coffee, like_it = (
        catalogue.ingredients[name].name if name in catalogue.ingredients else name
        for name in reason.names
    )
    if reason.names[0] != "coffee":
        return f"books and lists put {like_it} with {like_coffee}, near to coffee"
    if reason.names[1] == affinity.b:
        return "books and lists already put it with coffee"
    return f"books and lists put {like_it}, near to it, with coffee"


_WORDS: Final[Mapping[Part, Callable[[Catalogue, Affinity, Reason], str]]] = {
    Part.ECHO: _echo,
    Part.BRIDGE: _bridge,
    Part.CONTRAST: _contrast,
    Part.CUSTOM: _custom,
}
