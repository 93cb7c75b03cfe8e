"""Every picture: sound, legible at the width of a phone, told in words, grey-proof."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from service.counter.coffees import Coffee, read_coffee
from service.counter.known import Known
from service.counter.measure import Measure, Measured, measure
from service.counter.physics import stirred, through_bed
from service.counter.pictures import (
    Picture,
    balance_plane,
    contact_picture,
    coverage_picture,
    neighbourhood_picture,
    shared_notes_picture,
    stirring_picture,
    svg_of,
)
from service.counter.pictures.look import COLOURS, WIDTH
from service.counter.suggest import bed_of
from service.ingredients.records import Grade, Role
from service.liquid import Stirring

POURS = [("bourbon", 50.0), ("sweet-vermouth", 20.0), ("aromatic-bitters", 1.6)]
COFFEE = Coffee(notes="dark chocolate, dried cherry, smoke")
SVG = "{http://www.w3.org/2000/svg}"
SMALLEST_LETTERS = 11.0


@pytest.fixture(scope="module")
def measured(known: Known) -> Measured:
    return measure(known, Measure(POURS, bed=bed_of(COFFEE)))


@pytest.fixture(scope="module")
def pictures(known: Known, measured: Measured) -> dict[str, Picture]:
    curve = through_bed(known, POURS, Stirring(), bed_of(COFFEE), 600.0)
    ids = [name for name, _ in POURS]
    return {
        "balance": balance_plane(known, measured.reading, with_coffee=True),
        "plain": balance_plane(known, measured.reading, with_coffee=False),
        "stirring": stirring_picture(stirred(known, POURS, Stirring(), 90.0), 30.0),
        "contact": contact_picture(curve.extraction, measured.reading.drain_seconds),
        "notes": shared_notes_picture(known, read_coffee(known, COFFEE), ids),
        "neighbourhood": neighbourhood_picture(known, "oloroso-sherry"),
        "coverage": coverage_picture(known.catalogue),
    }


KINDS = ("balance", "plain", "stirring", "contact", "notes", "neighbourhood", "coverage")


@pytest.mark.parametrize("kind", KINDS)
def test_a_picture_is_drawn_as_large_as_it_says(pictures: dict[str, Picture], kind: str) -> None:
    """Vega-Lite itself says how large the drawing became."""
    import vl_convert

    picture = pictures[kind]
    drawn = vl_convert.vegalite_to_svg(picture.spec)
    assert f'viewBox="0 0 {picture.width} {picture.height}"' in drawn
    assert picture.width == WIDTH
    root = ElementTree.fromstring(svg_of(picture))
    assert root.attrib["id"] == "picture"


@pytest.mark.parametrize("kind", KINDS)
def test_letters_are_large_enough_for_a_phone(pictures: dict[str, Picture], kind: str) -> None:
    sizes = [float(s) for s in re.findall(r'font-size="([\d.]+)px"', svg_of(pictures[kind]))]
    assert sizes
    assert min(sizes) >= SMALLEST_LETTERS


@pytest.mark.parametrize("kind", KINDS)
def test_every_colour_is_one_that_a_page_can_set(pictures: dict[str, Picture], kind: str) -> None:
    svg = svg_of(pictures[kind])
    variables = set(re.findall(r"var\(--([a-z-]+),", svg))
    assert variables <= COLOURS.keys()
    bare = set(re.findall(r'(?:fill|stroke)="(#[^"]+|black|white)"', svg))
    assert bare == set()


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_is_fetched_and_nothing_is_styled_in_line(
    pictures: dict[str, Picture], kind: str
) -> None:
    svg = svg_of(pictures[kind])
    assert "style=" not in svg
    assert "url(" not in svg
    assert not re.search(r'(?:href|src)="(?!#)', svg)


@pytest.mark.parametrize("kind", KINDS)
def test_the_same_content_has_the_same_name(
    pictures: dict[str, Picture], kind: str, known: Known
) -> None:
    picture = pictures[kind]
    assert re.fullmatch("[0-9a-f]{24}", picture.hash)
    others = [p.hash for name, p in pictures.items() if name != kind]
    assert picture.hash not in others


def test_the_plane_tells_the_readings_own_numbers(
    pictures: dict[str, Picture], measured: Measured
) -> None:
    told = " ".join(pictures["balance"].words)
    before, after = measured.reading.before, measured.reading.after
    for value in (before.sweet.mid, before.bitter.mid, after.sweet.mid, after.bitter.mid):
        assert f"{value:.1f}" in told
    rows = [row for layer in pictures["balance"].spec["layer"] for row in layer["data"]["values"]]
    ends = [(r["x2"], r["y2"]) for r in rows if "middle" in r]
    assert (after.sweet.mid, after.bitter.mid) in ends


def test_before_and_after_differ_by_more_than_colour(pictures: dict[str, Picture]) -> None:
    marks = [layer["mark"] for layer in pictures["balance"].spec["layer"]]
    circles = [m for m in marks if m.get("shape") == "circle"]
    assert [m["filled"] for m in circles if "filled" in m] == [True]
    assert len(circles) == 2


@pytest.mark.parametrize("kind", ["stirring", "contact"])
def test_curves_differ_by_their_dashes(pictures: dict[str, Picture], kind: str) -> None:
    lines: list[tuple[float, ...]] = []

    def look(layer: dict[str, object]) -> None:
        mark = layer.get("mark")
        if isinstance(mark, dict) and mark.get("type") == "line":
            lines.append(tuple(mark.get("strokeDash", ())))
        for below in layer.get("layer", []):  # type: ignore[attr-defined]
            look(below)

    look(pictures[kind].spec)
    assert len(lines) >= 2
    assert len(set(lines)) == len(lines)


def test_the_stir_cools_and_dilutes_along_the_whole_curve(known: Known) -> None:
    curve = stirred(known, POURS, Stirring(), 90.0)
    assert all(b <= a for a, b in pairwise(curve.celsius.tolist()))
    assert all(b >= a for a, b in pairwise(curve.dilution.tolist()))


def test_coverage_counts_every_row(pictures: dict[str, Picture], known: Known) -> None:
    bars = pictures["coverage"].spec["layer"][0]["data"]["values"]
    drawn = sum(bar["to"] - bar["from"] for bar in bars)
    poured = {i.id for i in known.catalogue.ingredients.values() if i.role is not Role.COFFEE}
    assert drawn == sum(o.ingredient in poured for o in known.catalogue.occurrences)
    assert {bar["grade"] for bar in bars} <= {str(g) for g in Grade}


def test_shared_notes_are_shares_of_each_aroma(pictures: dict[str, Picture], known: Known) -> None:
    reading = read_coffee(known, COFFEE)
    told = pictures["notes"].words[0]
    loudest, share = next(iter(reading.strongest.items()))
    name = known.catalogue.descriptors[loudest].name
    assert f"{name}: coffee {share:.0%}" in told


def test_the_neighbourhood_draws_the_strongest_way_in_ink(pictures: dict[str, Picture]) -> None:
    rules = [x for x in pictures["neighbourhood"].spec["layer"] if x["mark"]["type"] == "rule"]
    others, way = rules
    assert way["mark"]["color"] == COLOURS["ink"][0]
    assert 1 <= len(way["data"]["values"]) <= 2
    assert len(others["data"]["values"]) > len(way["data"]["values"])


def test_an_ingredient_without_odorants_is_drawn_by_its_words(known: Known) -> None:
    with_odorants = {o.ingredient for o in known.catalogue.occurrences}
    by_words = {n.subject for n in known.catalogue.ingredient_notes} - with_odorants
    for name in sorted(by_words)[:3]:
        picture = neighbourhood_picture(known, name)
        assert "its notes are known by words" in picture.words[0]
        assert svg_of(picture)


@pytest.mark.parametrize("draw", [neighbourhood_picture])
def test_every_ingredient_has_a_neighbourhood(
    known: Known, draw: Callable[[Known, str], Picture]
) -> None:
    for name in list(known.catalogue.ingredients)[::5]:
        assert draw(known, name).words
