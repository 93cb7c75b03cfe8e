"""Every page of the records on every screen and on paper: as `test_pages` asks of the others."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest
from playwright.sync_api import Browser

from service.counter.known import Known
from tests.browser.demo_bar import serving_demo
from tests.browser.test_pages import (
    MOST_BYTES,
    MOST_SHIFT,
    ROOM,
    SHIFT,
    SMALL,
    _fits,
    _nothing_serious,
    _quiet,
    _screenshot,
    _weigh,
)
from tests.browser.visiting import PHONE, SCREENS, Screen, visiting

PAPER = Path(__file__).parents[2] / "build" / "paper"
PAGES = {
    "rescue": "/rescue",
    "run-out": "/rescue?bottle=fig-liqueur",
    "run-out-tonight": "/rescue?bottle=chamomile-liqueur",
    "list": "/list",
    "spec": "/list/1",
    "tell": "/list/1/tell",
    "trial": "/list/1/trial",
    "trial-kept": "/list/1/trial/1",
    "edit": "/list/1/edit",
    "versions": "/list/1/versions",
    "card": "/list/1/card",
    "batch": "/list/1/batch?price=14",
    "guest-links": "/list/1/guests",
    "shelf": "/shelf",
    "bottle-form": "/shelf/1",
    "coffees": "/coffees",
    "coffee-form": "/coffees/1",
    "learning": "/learning",
    "menu": "/menu",
    "shopping": "/shopping",
    "settings": "/settings",
    "own": "/own",
    "own-form": "/own/new",
    "blind-tests": "/blind-tests",
    "blind-test": "/blind-tests/1",
    "guest": "",
}


@pytest.fixture(scope="module")
def bar(known: Known, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The demo bar with a trial, a rescue, a blind test and an open guest page."""
    with serving_demo(known, tmp_path_factory.mktemp("bar")) as address:
        PAGES["guest"] = _lived_in(address)
        yield address


def _lived_in(address: str) -> str:
    """A night's worth of records; the address of the guest page."""
    with httpx.Client(base_url=address, headers={"accept": "text/html"}) as client:

        def sent(path: str, **fields: str) -> None:
            page = client.get("/list").text
            token = page.split('name="csrf" value="')[1].split('"')[0]
            answer = client.post(path, data={"csrf": token, **fields})
            assert answer.status_code == 303, answer.text[:500]

        for out in ("99", "97", "101"):
            sent("/list/1/trial", liquid_out_ml=out, drain_seconds="165", liking="7",
                 sweetness="1", words="rounder", taster="ab")  # fmt: skip
        sent("/list/1/guests")
        sent("/rescue/accept", bottle="chamomile-liqueur", spec="2", version="",
             pour="rye-whiskey=50ml")  # fmt: skip
        sent("/blind-tests", name="Salt or none", kind="triangle", assessors="6")
        page = client.get("/list/1/guests").text
        return "/g/" + page.split('href="/g/')[1].split('"')[0]


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.name)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_as_a_person_finds_it(browser: Browser, bar: str, name: str, screen: Screen) -> None:
    with visiting(browser, bar, screen) as visit:
        sizes: dict[str, int] = {}
        visit.page.on("response", lambda answer: _weigh(answer, sizes))
        visit.open(PAGES[name], settled=True)
        assert visit.page.evaluate(SHIFT) < MOST_SHIFT
        _quiet(visit, name)
        assert 0 < sum(sizes.values()) < MOST_BYTES
        for theme in ("dark", "light"):
            visit.page.emulate_media(color_scheme=theme)
            _screenshot(visit.page, f"records-{name}-{screen.name}-{theme}")
            if screen is PHONE:
                _nothing_serious(visit.page)
        if screen is PHONE:
            assert visit.page.evaluate(SMALL) == []
        _fits(visit.page, screen)


@pytest.mark.parametrize("name", ["rescue", "run-out", "list", "trial", "edit", "batch", "shelf"])
def test_letters_twice_as_large_still_fit(browser: Browser, bar: str, name: str) -> None:
    with visiting(browser, bar, PHONE) as visit:
        visit.open(PAGES[name])
        visit.page.evaluate("document.documentElement.style.fontSize = '200%'")
        wide, room = visit.page.evaluate(ROOM)
        assert wide <= room


@pytest.mark.parametrize("name", ["run-out", "tell", "trial"])
def test_nothing_serious_with_everything_unfolded(browser: Browser, bar: str, name: str) -> None:
    with visiting(browser, bar, PHONE) as visit:
        visit.open(PAGES[name])
        visit.page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        _nothing_serious(visit.page)


@pytest.mark.parametrize("name", ["card", "batch", "menu", "run-out", "shopping", "guest"])
def test_a_sheet_prints_on_one_page_without_controls(browser: Browser, bar: str, name: str) -> None:
    """A sheet of A4 (ISO 216), black on white, nothing to tap on it."""
    with visiting(browser, bar) as visit:
        visit.open(PAGES[name], settled=True)
        PAPER.mkdir(parents=True, exist_ok=True)
        file = PAPER / f"{name}.pdf"
        visit.page.pdf(path=file, format="A4")
        assert file.read_bytes().count(b"/Type /Page\n") == 1
        visit.page.emulate_media(media="print")
        seen = "[...document.querySelectorAll('button, nav, select')].filter(e => e.offsetParent)"
        assert visit.page.evaluate(f"{seen}.length") == 0
        ground = visit.page.evaluate("getComputedStyle(document.body).backgroundColor")
        assert ground == "rgb(255, 255, 255)"
