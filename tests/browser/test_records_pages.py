"""Every page of the records: on every screen in both themes, with no script, and on paper."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browser.proof import assert_nothing_serious
from tests.browser.proving import prove
from tests.browser.shown import RECORDS, Bars, Shown
from tests.browser.visiting import PHONE, visiting

PAPER = Path(__file__).parents[2] / "build" / "paper"
BY_NAME = {shown.name: shown for shown in RECORDS}


@pytest.mark.parametrize("shown", RECORDS, ids=lambda shown: shown.name)
def test_a_page_as_a_person_finds_it(browser: Browser, bars: Bars, shown: Shown) -> None:
    prove(browser, bars, shown)


@pytest.mark.parametrize("name", ["run-out", "tell", "trial"])
def test_nothing_serious_with_everything_unfolded(browser: Browser, bars: Bars, name: str) -> None:
    with visiting(browser, bars.address(BY_NAME[name]), PHONE) as visit:
        visit.open(bars.path(BY_NAME[name]))
        visit.page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        assert_nothing_serious(visit.page)


@pytest.mark.parametrize("name", ["card", "batch", "menu", "run-out", "shopping", "guest"])
def test_a_sheet_prints_on_one_page_without_controls(
    browser: Browser, bars: Bars, name: str
) -> None:
    """A sheet of A4 (ISO 216), black on white, nothing to tap on it."""
    with visiting(browser, bars.address(BY_NAME[name])) as visit:
        visit.open(bars.path(BY_NAME[name]), settled=True)
        PAPER.mkdir(parents=True, exist_ok=True)
        file = PAPER / f"{name}.pdf"
        visit.page.pdf(path=file, format="A4")
        assert file.read_bytes().count(b"/Type /Page\n") == 1
        visit.page.emulate_media(media="print")
        seen = "[...document.querySelectorAll('button, nav, select')].filter(e => e.offsetParent)"
        assert visit.page.evaluate(f"{seen}.length") == 0
        ground = visit.page.evaluate("getComputedStyle(document.body).backgroundColor")
        assert ground == "rgb(255, 255, 255)"
