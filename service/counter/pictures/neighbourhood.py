"""The graph around an ingredient: odorants, the notes they give, and the nearest other bottles."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from service.counter.known import Known
from service.counter.pictures.look import (
    AFTER,
    BEFORE,
    GROUND,
    INK,
    SOFT,
    STRONG,
    bare,
    layer,
    picture_of,
)
from service.counter.pictures.picture import Picture, Spec
from service.recommend import aroma_of

HEIGHT: Final = 380
ODORANTS, NOTES, OTHERS = 7, 6, 5
_COLUMN: Final = 0.9
_LONGEST_NAME: Final = 15
_WORTH_DRAWING: Final = 0.12


@dataclass(frozen=True, slots=True)
class Node:
    """One thing in the picture: its column, its height from 0 (low) to 1, its name."""

    column: int
    height: float
    name: str


@dataclass(frozen=True, slots=True)
class Link:
    """A link with its weight, 0 to 1 of the strongest of its kind."""

    start: Node
    end: Node
    weight: float


def neighbourhood_picture(known: Known, ingredient_id: str) -> Picture:
    """What an ingredient smells of and why, and which others smell alike.

    The strongest way from an odorant over a note to another bottle is drawn in ink.
    """
    name = known.catalogue.ingredients[ingredient_id].name
    first, second = _links(known, ingredient_id)
    path = _strongest(first, second)
    return picture_of(
        f"What {name} smells of, and what else does",
        _words(name, first, second, path),
        _layers(first, second, path),
        height=HEIGHT,
    )


def _links(known: Known, ingredient_id: str) -> tuple[list[Link], list[Link]]:
    """Odorant to note, and note to other bottle: the strongest of each."""
    space, catalogue = known.knowledge.space, known.catalogue
    aroma = aroma_of(known.knowledge, catalogue, ingredient_id)
    notes = _strongest_of(aroma.notes, NOTES)
    gives = aroma.odorants[:, None] * space.odorant_notes[:, notes].toarray()
    odorants = _strongest_of(gives.sum(axis=1), ODORANTS)
    alike = np.asarray(space.notes @ aroma.notes).ravel()
    if ingredient_id in space.index:
        alike[space.index[ingredient_id]] = 0.0
    others = _strongest_of(alike, OTHERS)
    have = space.notes[others].toarray()[:, notes] * aroma.notes[notes]
    odorant_names = [catalogue.odorants[space.odorant_ids[i]].name for i in odorants]
    note_names = [catalogue.descriptors[space.descriptors[i]].name for i in notes]
    other_names = [catalogue.ingredients[space.ingredients[i]].name for i in others]
    left, middle, right = (
        _column(column, names)
        for column, names in enumerate((odorant_names, note_names, other_names))
    )
    return _joined(left, middle, gives[odorants]), _joined(middle, right, have.T)


def _strongest_of(values: NDArray[np.float64], limit: int) -> list[int]:
    return [int(i) for i in np.argsort(-values, kind="stable")[:limit] if values[i] > 0]


def _column(column: int, names: Sequence[str]) -> list[Node]:
    steps = max(len(names) - 1, 1)
    return [Node(column, 1.0 - place / steps, name) for place, name in enumerate(names)]


def _joined(
    left: Sequence[Node], right: Sequence[Node], weights: NDArray[np.float64]
) -> list[Link]:
    most = float(weights.max(initial=0.0))
    return [
        Link(a, b, float(weights[i, j]) / most)
        for i, a in enumerate(left)
        for j, b in enumerate(right)
        if most > 0 and weights[i, j] > _WORTH_DRAWING * most
    ]


def _strongest(first: Sequence[Link], second: Sequence[Link]) -> tuple[Link, ...]:
    """The way of the greatest product of weights; without odorants the strongest second half."""
    ways = [(a, b) for a in first for b in second if a.end == b.start]
    if ways:
        return max(ways, key=lambda way: way[0].weight * way[1].weight)
    return (max(second, key=lambda link: link.weight),) if second else ()


def _layers(first: Sequence[Link], second: Sequence[Link], path: Sequence[Link]) -> list[Spec]:
    links = [*first, *second]
    nodes = list(dict.fromkeys(n for link in links for n in (link.start, link.end)))
    on_path = {n for link in path for n in (link.start, link.end)}
    return [
        _rules([link for link in links if link not in path], STRONG, opacity=0.7),
        _rules(path, INK, opacity=1.0),
        *_dots(nodes),
        *_names(nodes, on_path),
    ]


def _rules(links: Sequence[Link], colour: str, *, opacity: float) -> Spec:
    rows = [
        {"x": link.start.column * _COLUMN, "y": link.start.height, "x2": link.end.column * _COLUMN,
         "y2": link.end.height, "weight": round(link.weight, 3)}
        for link in links
    ]  # fmt: skip
    width = {
        "field": "weight", "type": "quantitative", "legend": None,
        "scale": {"domain": [0, 1], "range": [0.5, 4.5]},
    }  # fmt: skip
    mark = {"type": "rule", "color": colour, "opacity": opacity}
    return layer(
        rows, mark,
        x=bare("x", scale={"domain": [-1.02, 2.82], "nice": False}),
        y=bare("y", scale={"domain": [-0.06, 1.16], "nice": False}),
        x2={"field": "x2"}, y2={"field": "y2"}, strokeWidth=width,
    )  # fmt: skip


def _dots(nodes: Sequence[Node]) -> Iterator[Spec]:
    """Odorants are squares, notes discs, bottles triangles."""
    looks = (("square", BEFORE), ("circle", AFTER), ("triangle-up", INK))
    for column, (shape, colour) in enumerate(looks):
        rows = [{"x": n.column * _COLUMN, "y": n.height} for n in nodes if n.column == column]
        mark = {
            "type": "point", "shape": shape, "size": 70, "filled": True, "opacity": 1,
            "color": colour, "stroke": GROUND, "strokeWidth": 1,
        }  # fmt: skip
        yield layer(rows, mark, x=bare("x"), y=bare("y"))


def _names(nodes: Sequence[Node], on_path: set[Node]) -> Iterator[Spec]:
    """Names left of the odorants, above the notes, right of the bottles; the path's are bold."""
    places = (("right", -8, 0), ("center", 0, -12), ("left", 8, 0))
    for column, (align, dx, dy) in enumerate(places):
        for bold in (False, True):
            rows = [
                {"x": n.column * _COLUMN, "y": n.height, "text": _short(n.name)}
                for n in nodes
                if n.column == column and (n in on_path) is bold
            ]
            letters = {
                "type": "text", "align": align, "dx": dx, "dy": dy, "fontSize": 11,
                "fontWeight": "bold" if bold else "normal",
            }  # fmt: skip
            halo = {"color": GROUND, "stroke": GROUND, "strokeWidth": 4, "strokeJoin": "round"}
            for mark in (halo, {"color": INK if bold else SOFT}):
                yield layer(
                    rows, {**letters, **mark}, x=bare("x"), y=bare("y"), text={"field": "text"}
                )


def _short(name: str) -> str:
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1].rstrip()}…"


def _words(
    name: str, first: Sequence[Link], second: Sequence[Link], path: Sequence[Link]
) -> list[str]:
    by_note: dict[str, list[str]] = {}
    for link in sorted(first, key=lambda link: -link.weight):
        by_note.setdefault(link.end.name, []).append(link.start.name)
    notes = "; ".join(f"{note}, from {', '.join(names[:3])}" for note, names in by_note.items())
    by_words = f"No odorant of {name} is known here; its notes are known by words."
    said = [f"{name} smells of {notes}." if notes else by_words]
    by_other: dict[str, list[str]] = {}
    for link in sorted(second, key=lambda link: -link.weight):
        by_other.setdefault(link.end.name, []).append(link.start.name)
    others = "; ".join(f"{other} ({', '.join(notes[:3])})" for other, notes in by_other.items())
    if others:
        said.append(f"Others that smell alike: {others}.")
    if path:
        way = [path[0].start.name, *(link.end.name for link in path)]
        said.append(f"The strongest way between them: {', '.join(way)}.")
    return said
