"""The bar's records by keyboard alone: shelf, trial, list, a rescue, the guest page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from service.counter.known import Known
from tests.browser.demo_bar import serving_demo
from tests.browser.keys import tab, tab_until
from tests.browser.visiting import DESK, visiting


@pytest.fixture
def bar(known: Known, tmp_path: Path) -> Iterator[str]:
    """The demo bar, fresh for each journey."""
    with serving_demo(known, tmp_path) as address:
        yield address


def to_the_content(page: Page) -> None:
    """Over the sections by the skip link."""
    tab(page)
    expect(page.locator(".skip-link")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#content")).to_be_focused()


def press(page: Page, wanted: str) -> None:
    """Go on to a button or link, press it, and wait for the page it leads to."""
    tab_until(page, wanted)
    with page.expect_navigation():
        page.keyboard.press("Enter")


def test_a_bottle_goes_out_and_comes_back(browser: Browser, bar: str) -> None:
    with visiting(browser, bar, DESK) as visit:
        visit.open("/shelf")
        line = visit.page.locator(".bottle:has-text('Aquavit')")
        number = line.locator("button").get_attribute("value")
        to_the_content(visit.page)
        press(visit.page, f"button[name=out][value='{number}']")
        expect(line).to_contain_text("Out.")
        press(visit.page, f"button[name=in][value='{number}']")
        expect(line).not_to_contain_text("Out.")
        assert visit.complaints == []


def test_a_trial_is_logged(browser: Browser, bar: str) -> None:
    with visiting(browser, bar, DESK) as visit:
        page = visit.page
        visit.open("/list")
        to_the_content(page)
        press(page, "a[href='/list/1/trial']")
        to_the_content(page)
        tab_until(page, "button[aria-label='less: Came through']")
        foretold = float(page.locator("#liquid_out_ml").input_value())
        page.keyboard.press("Enter")
        expect(page.locator("#liquid_out_ml")).to_have_value(f"{foretold - 2:g}")
        tab_until(page, "[name=sweetness]")
        page.keyboard.press("ArrowRight")
        expect(page.locator("[name=sweetness]:checked")).to_have_count(1)
        tab_until(page, "[name=liking]")
        page.keyboard.press("Space")
        press(page, ".act-bar button")
        expect(page.locator("h1")).to_contain_text("Kept")
        expect(page.locator(".page-head")).to_contain_text(f"{foretold - 2:g} mL out")
        assert visit.complaints == []


def test_a_draft_goes_on_the_list(browser: Browser, bar: str) -> None:
    with visiting(browser, bar, DESK) as visit:
        visit.open("/list")
        draft = visit.page.locator("section:has(h2:text('Drafts')) h3 a").first
        name, address = draft.inner_text(), draft.get_attribute("href")
        to_the_content(visit.page)
        press(visit.page, f"h3 a[href='{address}']")
        to_the_content(visit.page)
        press(visit.page, "button[name=status][value='on the list']")
        expect(visit.page.locator(".page-head")).to_contain_text("On the list")
        visit.open("/list")
        listed = visit.page.locator("section:has(h2:text('On the list'))")
        expect(listed).to_contain_text(name)
        assert visit.complaints == []


def test_a_way_out_is_taken_for_tonight(browser: Browser, bar: str) -> None:
    with visiting(browser, bar, DESK) as visit:
        visit.open("/rescue")
        to_the_content(visit.page)
        press(visit.page, ".tile[href*='fig-liqueur']")
        to_the_content(visit.page)
        press(visit.page, ".way-card .button.large")
        expect(visit.page.locator(".tonight")).to_contain_text("Poured tonight")
        assert visit.complaints == []


def test_a_guest_page_is_opened_and_read(browser: Browser, bar: str) -> None:
    with visiting(browser, bar, DESK) as visit:
        visit.open("/list/1/guests")
        to_the_content(visit.page)
        press(visit.page, "form button.button:not(.second)")
        to_the_content(visit.page)
        press(visit.page, "a[href^='/g/'], a[href*='/g/']")
        expect(visit.page.locator("h1")).to_have_text("Low Tide Letter")
        expect(visit.page.locator("main")).to_contain_text("Allergens")
        assert visit.complaints == []
