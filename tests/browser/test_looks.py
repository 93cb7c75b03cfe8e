"""Themes and paper."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.visiting import ADDRESSES, DRINK, PHONE, visiting

PAPER_FOLDER = Path(__file__).parents[2] / "build" / "paper"
GROUND = "getComputedStyle(document.body).backgroundColor"
INK_OF_PICTURE = (
    "getComputedStyle(document.querySelector('figure svg')).getPropertyValue('--ink').trim()"
)
LIGHT_SWITCH = ".theme-switch button[value=light]"
DARK, LIGHT, PAPER = "rgb(20, 17, 15)", "rgb(250, 246, 238)", "rgb(255, 255, 255)"


@pytest.mark.parametrize("device", ["dark", "light"])
def test_every_device_is_dark_until_somebody_taps(
    browser: Browser, address: str, device: Literal["dark", "light"]
) -> None:
    with visiting(browser, address, device=device) as visit:
        visit.open("/")
        assert visit.page.evaluate(GROUND) == DARK
        visit.tap(LIGHT_SWITCH)
        expect(visit.page.locator(f"{LIGHT_SWITCH}[aria-pressed=true]")).to_have_count(1)
        assert visit.page.evaluate(GROUND) == LIGHT
        visit.open("/ingredients")
        assert visit.page.evaluate(GROUND) == LIGHT


@pytest.mark.parametrize("script", [True, False], ids=["script", "no-script"])
def test_the_switch_turns_the_page_over_and_comes_back_to_it(
    browser: Browser, address: str, script: bool
) -> None:
    with visiting(browser, address, script=script) as visit:
        visit.open("/ingredients?text=sherry")
        visit.tap(LIGHT_SWITCH)
        expect(visit.page.locator(f"{LIGHT_SWITCH}[aria-pressed=true]")).to_have_count(1)
        assert visit.path() == "/ingredients?text=sherry"
        style = visit.page.locator("link[href*=daylight]").get_attribute("media")
        assert style == "all"


def test_pictures_turn_over_with_the_page(browser: Browser, address: str) -> None:
    """A picture has the page's own colours, also when the person chose against the device."""
    with visiting(browser, address, theme="dark") as visit:
        visit.open("/dataset")
        assert visit.page.evaluate(INK_OF_PICTURE) == "#f5eee3"
        visit.tap(LIGHT_SWITCH)
        expect(visit.page.locator(f"{LIGHT_SWITCH}[aria-pressed=true]")).to_have_count(1)
        assert visit.page.evaluate(INK_OF_PICTURE) == "#1d1813"


def test_a_dark_page_is_printed_on_white_paper_without_its_controls(
    browser: Browser, address: str
) -> None:
    with visiting(browser, address, PHONE, theme="dark") as visit:
        visit.open(DRINK)
        visit.page.emulate_media(media="print")
        assert visit.page.evaluate(GROUND) == PAPER
        assert visit.page.evaluate(INK_OF_PICTURE) == "#000000"
        for hidden in (".sections", ".theme-switch", ".stepper button", ".act-bar", ".remedies a"):
            for place in visit.page.locator(hidden).all():
                expect(place).to_be_hidden()
        for kept in ("h1", ".verdict.large", ".figures", ".cautions", "figure svg"):
            expect(visit.page.locator(kept).first).to_be_visible()


@pytest.mark.parametrize("name", ["pairings", "drink", "bottle", "dataset"])
def test_every_kind_of_page_can_be_put_on_paper(browser: Browser, address: str, name: str) -> None:
    """Kept as build output, to be looked at."""
    PAPER_FOLDER.mkdir(parents=True, exist_ok=True)
    with visiting(browser, address) as visit:
        visit.open(ADDRESSES[name], settled=True)
        file = PAPER_FOLDER / f"{name}.pdf"
        visit.page.pdf(path=file, format="A4", prefer_css_page_size=True)
        assert file.read_bytes().startswith(b"%PDF")
        assert file.stat().st_size > 10_000


def test_less_motion_is_respected(browser: Browser, address: str) -> None:
    with visiting(browser, address) as visit:
        visit.open("/")
        for asked, behaviour in (("reduce", "auto"), ("no-preference", "smooth")):
            visit.page.emulate_media(reduced_motion=asked)  # type: ignore[arg-type]
            told = visit.page.evaluate("getComputedStyle(document.documentElement).scrollBehavior")
            assert told == behaviour


@pytest.mark.parametrize("path", ["/drink?pour=bourbon=", "/reach?pour=bourbon=50ml&glass="])
def test_a_quoted_word_without_a_break_stays_on_the_phone(
    browser: Browser, address: str, path: str
) -> None:
    with visiting(browser, address, PHONE) as visit:
        visit.page.goto(f"{address}{path}{'9' * 400}")
        expect(visit.page.locator(".problem, .field-error").first).to_contain_text("99999999")
        assert visit.page.evaluate("document.documentElement.scrollWidth") == PHONE.width
