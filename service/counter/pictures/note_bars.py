"""Shared notes: the loudest notes of a coffee and how loud each part of the drink has them."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.counter.coffees import CoffeeReading
from service.counter.known import Known
from service.counter.pictures.look import AFTER, BEFORE, LINE, SOFT, bare, layer, picture_of
from service.counter.pictures.picture import Picture, Spec
from service.recommend import aroma_of

NOTES_SHOWN: Final = 9
PARTS_SHOWN: Final = 3
_ROW: Final = 28
_LONGEST_LINE: Final = 11
_MOST_LINES: Final = 2


def shared_notes_picture(known: Known, coffee: CoffeeReading, parts: Sequence[str]) -> Picture:
    """The coffee's loudest notes beside those of the first parts of a drink."""
    ids = list(parts)[:PARTS_SHOWN]
    names = ["coffee", *(known.catalogue.ingredients[i].name for i in ids)]
    shares = np.array(
        [
            coffee.aroma.notes**2,
            *(aroma_of(known.knowledge, known.catalogue, i).notes ** 2 for i in ids),
        ]
    )
    common = shares[0] * shares[1:].max(axis=0, initial=0.0)
    together = shares[0] + np.sqrt(common)
    rows = [int(i) for i in np.argsort(-together, kind="stable")[:NOTES_SHOWN]]
    notes = [known.catalogue.descriptors[known.knowledge.space.descriptors[i]].name for i in rows]
    shown = np.sqrt(shares[:, rows])
    return picture_of(
        "Which notes they share",
        _words(names, notes, shares[:, rows]),
        _layers(names, notes, shown),
        height=_ROW * len(notes) + 50,
    )


def _layers(names: Sequence[str], notes: Sequence[str], shown: NDArray[np.float64]) -> list[Spec]:
    """One column of bars per part; a bar's length is the loudness of the note."""
    most = max(float(shown.max(initial=0.0)), 1e-9)
    bars = [
        {"note": note, "start": column, "end": column + 0.86 * float(shown[column, row]) / most,
         "part": "coffee" if column == 0 else "part"}
        for column in range(len(names))
        for row, note in enumerate(notes)
    ]  # fmt: skip
    heads = [{"at": column, "text": _heading(name)} for column, name in enumerate(names)]
    ends = [{"at": column} for column in range(len(names))]
    y = {
        "field": "note", "type": "ordinal", "sort": list(notes),
        "axis": {"title": None, "ticks": False, "domain": False, "labelLimit": 110},
        "scale": {"paddingInner": 0.45, "paddingOuter": 0.3},
    }  # fmt: skip
    x = bare("start", scale={"domain": [0, len(names)], "nice": False})
    colour = {
        "field": "part", "type": "nominal", "legend": None,
        "scale": {"domain": ["coffee", "part"], "range": [AFTER, BEFORE]},
    }  # fmt: skip
    return [
        layer(ends, {"type": "rule", "color": LINE}, x=bare("at")),
        layer(bars, {"type": "bar"}, x=x, x2={"field": "end"}, y=y, color=colour),
        layer(
            heads,
            {"type": "text", "align": "left", "baseline": "bottom", "y": -6, "color": SOFT,
             "fontSize": 12, "lineBreak": "\n", "lineHeight": 13},
            x=bare("at"), text={"field": "text"},
        ),
    ]  # fmt: skip


def _heading(name: str) -> str:
    """A name in at most two lines that a column can hold."""
    lines = wrap(name, _LONGEST_LINE, break_long_words=False)
    if len(lines) > _MOST_LINES or len(lines[0]) > _LONGEST_LINE:
        lines = [lines[0][:_LONGEST_LINE], f"{' '.join(lines[1:])[: _LONGEST_LINE - 1].rstrip()}…"]
    return "\n".join(lines)


def _words(names: Sequence[str], notes: Sequence[str], shares: NDArray[np.float64]) -> list[str]:
    """Each note with its share of every aroma."""
    said = []
    for row, note in enumerate(notes):
        of_each = zip(names, shares[:, row], strict=True)
        said.append(f"{note}: {', '.join(f'{name} {share:.0%}' for name, share in of_each)}")
    return [
        "Share of each note in the aroma (a bar is as long as its square root). "
        + "; ".join(said)
        + "."
    ]
