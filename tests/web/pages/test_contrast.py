"""Colours against the contrast rule of WCAG 2.2 (W3C Recommendation, 2023).

Success criteria 1.4.3 (text, 4.5 to 1) and 1.4.11 (parts and pictures, 3 to 1); the formula is
that of its definitions of relative luminance and contrast ratio.
"""

from __future__ import annotations

import re

import pytest

from service.counter.pictures.look import COLOURS
from service.web.pages.assets import FOLDER

THEMES = ("tokens", "daylight", "paper")
TEXT = [
    ("ink", "ground"), ("ink", "surface"), ("ink", "raised"), ("ink", "act-ground"),
    ("ink-soft", "ground"), ("ink-soft", "surface"), ("ink-soft", "act-ground"),
    ("act", "ground"), ("act", "surface"), ("act", "act-ground"), ("act-ink", "act"),
    ("edge", "ground"), ("edge", "surface"), ("edge", "act-ground"),
    ("out", "ground"), ("out", "surface"), ("out", "act-ground"),
]  # fmt: skip
PARTS = [
    ("line-strong", "ground"), ("line-strong", "surface"),
    ("before", "ground"), ("before", "band"), ("before", "rim"),
    ("after", "ground"), ("after", "band"), ("after", "rim"),
]  # fmt: skip


def tokens(theme: str) -> dict[str, str]:
    text = (FOLDER / "css" / f"{theme}.css").read_text(encoding="utf-8")
    return dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", text))


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour, as WCAG 2.2 defines it."""
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    dark, light = sorted((luminance(a), luminance(b)))
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_limits_that_the_rule_names() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    # The standard's usual example of a grey that just passes on white.
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("over", "under"), TEXT)
def test_text_can_be_read(theme: str, over: str, under: str) -> None:
    colours = tokens(theme)
    assert contrast(colours[over], colours[under]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("over", "under"), PARTS)
def test_parts_can_be_told_from_their_ground(theme: str, over: str, under: str) -> None:
    colours = tokens(theme)
    assert contrast(colours[over], colours[under]) >= 3.0


def test_every_theme_sets_the_same_colours() -> None:
    assert tokens("tokens").keys() == tokens("daylight").keys() == tokens("paper").keys()


def test_paper_is_grey() -> None:
    for colour in tokens("paper").values():
        assert colour[1:3] == colour[3:5] == colour[5:7]


def test_pictures_take_the_colours_of_the_pages() -> None:
    dark, light = tokens("tokens"), tokens("daylight")
    for role, (daylight, at_night) in COLOURS.items():
        assert at_night[:6] == dark[role][:6]
        assert daylight[:6] == light[role][:6]


def test_before_and_after_differ_in_lightness_or_shape_too() -> None:
    """On grey paper the two are told apart: the disc is full, the ring is hollow and paler."""
    paper = tokens("paper")
    assert luminance(paper["before"]) - luminance(paper["after"]) > 0.05
