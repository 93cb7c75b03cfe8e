"""Why two things belong together: one short sentence, and the reasons that sum to the score."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from service.ingredients import Catalogue
from service.recommend import Affinity, Part, Reason
from service.web.pages.pieces import ReasonLine
from service.web.pages.telling import listed

NAMED: Final = 3
LINES: Final = 8
# A part is worth a clause from this share of the score on, a note from this share of the loudest.
_WORTH_A_CLAUSE: Final = 0.12
_WORTH_A_WORD: Final = 0.25
# What would be rounded to nothing is no reason.
_WORTH_A_LINE: Final = 0.005
_PARTS: Final = {
    Part.ECHO: "smaller shared notes",
    Part.BRIDGE: "what else joins them",
    Part.CONTRAST: "smaller contrasts",
    Part.CUSTOM: "what else was poured before",
}


def why(catalogue: Catalogue, affinity: Affinity) -> str:
    """One sentence of at most two clauses, the weightier part first.

    Each clause tells of one part: shared notes, a third thing between, a contrast, custom.
    """
    worth = _WORTH_A_CLAUSE * abs(affinity.score)
    parts = sorted(Part, key=lambda part: -affinity.parts[part])
    clauses = [
        clause
        for part in parts
        if affinity.parts[part] >= worth and (clause := _clause(catalogue, affinity, part))
    ]
    if not clauses:
        return "Little is known that speaks for it or against it."
    text = "; ".join(clauses[:2])
    return f"{text[:1].upper()}{text[1:]}."


def reason_lines(catalogue: Catalogue, affinity: Affinity) -> tuple[ReasonLine, ...]:
    """The reasons of a score, the largest first; what is small is summed by part."""
    named = [r for r in affinity.reasons if r.names and abs(r.amount) >= _WORTH_A_LINE]
    shown = sorted(named, key=lambda r: -abs(r.amount))[:LINES]
    chosen = {id(reason) for reason in shown}
    lines = [_line(_words(catalogue, affinity, r), r.amount, affinity) for r in shown]
    for part in Part:
        rest = sum(r.amount for r in affinity.reasons if r.part is part and id(r) not in chosen)
        if abs(rest) >= _WORTH_A_LINE:
            lines.append(_line(_PARTS[part], rest, affinity))
    return tuple(lines)


def _line(words: str, amount: float, affinity: Affinity) -> ReasonLine:
    share = 100.0 * max(amount, 0.0) / max(abs(affinity.score), 1e-9)
    return ReasonLine(words, f"{amount:+.2f}".replace("-", "\u2212"), round(min(share, 100.0), 1))


def _clause(catalogue: Catalogue, affinity: Affinity, part: Part) -> str:
    reasons = [r for r in affinity.reasons if r.part is part and r.names and r.amount > 0]
    if not reasons:
        return ""
    if part is Part.ECHO:
        loud = [r for r in reasons if r.amount >= _WORTH_A_WORD * reasons[0].amount][:NAMED]
        return (
            f"shares {listed(catalogue.descriptors[r.names[0]].name for r in loud)} with the coffee"
        )
    return _words(catalogue, affinity, reasons[0])


def _words(catalogue: Catalogue, affinity: Affinity, reason: Reason) -> str:
    tell = {
        Part.ECHO: _echo,
        Part.BRIDGE: _bridge,
        Part.CONTRAST: _contrast,
        Part.CUSTOM: _custom,
    }[reason.part]
    return next(tell(catalogue, affinity, reason))


def _echo(catalogue: Catalogue, _affinity: Affinity, reason: Reason) -> Iterator[str]:
    yield f"both smell of {catalogue.descriptors[reason.names[0]].name}"


def _bridge(catalogue: Catalogue, _affinity: Affinity, reason: Reason) -> Iterator[str]:
    yield f"{catalogue.ingredients[reason.names[0]].name} has something of both"


def _contrast(catalogue: Catalogue, _affinity: Affinity, reason: Reason) -> Iterator[str]:
    first, second = (catalogue.families[family] for family in reason.names)
    yield f"{first} and {second} set each other off"


def _custom(catalogue: Catalogue, affinity: Affinity, reason: Reason) -> Iterator[str]:
    like_coffee, like_it = reason.names
    itself = catalogue.ingredients[affinity.b].name
    poured = _poured(catalogue, like_it)
    if like_coffee == "coffee":
        if poured == itself:
            yield "books and lists already put it with coffee"
        else:
            yield f"books and lists put {poured}, near to it, with coffee"
    else:
        yield f"books and lists put {poured} with {_poured(catalogue, like_coffee)}, near to coffee"


def _poured(catalogue: Catalogue, name: str) -> str:
    return catalogue.ingredients[name].name if name in catalogue.ingredients else name
