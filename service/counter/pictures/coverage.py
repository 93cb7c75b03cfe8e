"""How much the dataset knows: odorants of each ingredient, by how they came to be known."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any, Final

from service.counter.pictures.look import (
    BAND,
    INK,
    SOFT,
    STRONG,
    amount,
    bare,
    layer,
    picture_of,
)
from service.counter.pictures.picture import Picture
from service.ingredients import Catalogue
from service.ingredients.records import Grade, Role

HEIGHT: Final = 300
GROUPS: Final = {
    "bases": (Role.BASE,),
    "modifiers": (Role.MODIFIER,),
    "bitters": (Role.BITTERS,),
    "others": (Role.SWEETENER, Role.SEASONING, Role.GARNISH),
}
# The nearer to ink, the better known.
SHADES: Final = {
    Grade.MEASURED: INK,
    Grade.DERIVED: SOFT,
    Grade.RECALLED: STRONG,
    Grade.ESTIMATE: BAND,
}
_GAP: Final = 6
_BAR: Final = 0.9
Counts = Mapping[str, Counter[Grade]]


def coverage_picture(catalogue: Catalogue) -> Picture:
    """One thin bar per ingredient, role by role, the best documented first."""
    counts: dict[str, Counter[Grade]] = {id_: Counter() for id_ in catalogue.ingredients}
    for occurrence in catalogue.occurrences:
        counts[occurrence.ingredient][occurrence.grade] += 1
    bars, heads, width = _bars(catalogue, counts)
    x = bare("at", scale={"domain": [0, width], "nice": False})
    shades = {
        "field": "grade", "type": "nominal", "title": None,
        "scale": {"domain": [str(g) for g in Grade], "range": [SHADES[g] for g in Grade]},
        "legend": {"orient": "top", "labelColor": SOFT, "labelFontSize": 12, "symbolType": "square",
                   "symbolStrokeWidth": 0, "columns": 4, "offset": 6},
    }  # fmt: skip
    return picture_of(
        "Odorants known of each ingredient",
        _words(catalogue, counts),
        [
            layer(
                bars, {"type": "rect"},
                x=x, x2={"field": "next"}, y=amount("from", "odorants", axis={"tickCount": 5}),
                y2={"field": "to"}, color=shades,
            ),
            layer(
                heads,
                {"type": "text", "align": "left", "baseline": "top", "y": "height", "dy": 6,
                 "color": SOFT, "fontSize": 11},
                x=x, text={"field": "text"},
            ),
        ],
        height=HEIGHT,
    )  # fmt: skip


def _bars(
    catalogue: Catalogue, counts: Counts
) -> tuple[list[dict[str, Any]], list[dict[str, Any]], int]:
    """The stacked bars, the heading of each role, and how far they reach."""
    bars: list[dict[str, Any]] = []
    heads: list[dict[str, Any]] = []
    at = 0
    for name, roles in GROUPS.items():
        ids = [i.id for role in roles for i in catalogue.of_role(role)]
        heads.append({"at": at, "text": name})
        for id_ in sorted(ids, key=lambda i: (-counts[i].total(), i)):
            bars += _stack(counts[id_], at)
            at += 1
        at += _GAP
    return bars, heads, at


def _stack(counted: Counter[Grade], at: int) -> Iterator[dict[str, Any]]:
    start = 0
    for grade in Grade:
        if counted[grade]:
            end = start + counted[grade]
            yield {"at": at, "next": at + _BAR, "from": start, "to": end, "grade": str(grade)}
            start = end


def _words(catalogue: Catalogue, counts: Counts) -> list[str]:
    total = sum((c for c in counts.values()), Counter[Grade]())
    said = [
        f"{total.total()} odorants of ingredients: "
        + ", ".join(f"{total[grade]} {grade}" for grade in Grade)
        + "."
    ]
    for name, roles in GROUPS.items():
        totals = sorted(counts[i.id].total() for role in roles for i in catalogue.of_role(role))
        known = sum(1 for n in totals if n)
        if totals:
            said.append(
                f"{name}: {known} of {len(totals)} ingredients with odorants, "
                f"{totals[len(totals) // 2]} each in the middle."
            )
    return said
