"""The moments of a night by touch, counted in taps, with and without a script."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from service.counter.known import Known
from tests.browser.demo_bar import serving_demo
from tests.browser.visiting import PHONE, SCREENS, Screen, Visit, visiting

EITHER_WAY = pytest.mark.parametrize("script", [True, False], ids=["script", "no-script"])
EVERY_SCREEN = pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.name)
MOST_TAPS_RESCUE, MOST_TAPS_TELL, MOST_TAPS_TRIAL, MOST_TAPS_DRAFT = 3, 1, 8, 6


@pytest.fixture
def bar(known: Known, tmp_path: Path) -> Iterator[str]:
    """The demo bar, fresh for each journey."""
    with serving_demo(known, tmp_path) as address:
        yield address


def section(name: str) -> str:
    return f".sections a:has-text('{name}')"


def radio(visit: Visit, name: str, value: str) -> None:
    visit.tap(f"label:has(input[name={name}][value='{value}'])")


@EVERY_SCREEN
@EITHER_WAY
def test_a_rescue_in_three_taps_from_the_first_page(
    browser: Browser, bar: str, screen: Screen, script: bool
) -> None:
    with visiting(browser, bar, screen, script=script) as visit:
        visit.open("/")
        visit.tap(section("Rescue"))
        visit.tap(".tile:has-text('fig liqueur')")
        visit.tap("button:has-text('Pour this tonight')")
        expect(visit.page.locator(".tonight")).to_contain_text("Poured tonight")
        assert visit.taps <= MOST_TAPS_RESCUE
        visit.open("/list/1/card")
        expect(visit.page.locator(".build")).not_to_contain_text("fig liqueur")
        assert visit.complaints == []


@EITHER_WAY
def test_the_sentence_for_a_guest_in_one_tap_from_the_list(
    browser: Browser, bar: str, script: bool
) -> None:
    with visiting(browser, bar, PHONE, script=script) as visit:
        visit.open("/list")
        visit.tap("a:has-text('Tell')")
        assert visit.taps <= MOST_TAPS_TELL
        said = visit.page.locator(".say").first
        expect(said).to_be_in_viewport()
        assert said.evaluate("e => parseFloat(getComputedStyle(e).fontSize)") >= 24
        assert visit.complaints == []


@EITHER_WAY
def test_a_trial_in_eight_taps_from_the_list(browser: Browser, bar: str, script: bool) -> None:
    with visiting(browser, bar, PHONE, script=script) as visit:
        visit.open("/list")
        visit.tap("a:has-text('Trial')")
        visit.tap("button[aria-label='less: Came through']")
        for taste in ("sweetness", "bitterness", "coffee_strength", "strength"):
            radio(visit, taste, "0")
        radio(visit, "liking", "7")
        visit.tap("button:has-text('Keep the trial')")
        expect(visit.page.locator("h1")).to_contain_text("Kept")
        expect(visit.page.locator(".page-head")).to_contain_text("mL out")
        expect(visit.page.locator(".page-head")).to_contain_text("liked 7 of 9")
        assert visit.taps <= MOST_TAPS_TRIAL
        visit.tap("button:has-text('Undo this trial')")
        expect(visit.page.locator("h1")).to_contain_text("Undone")
        assert visit.complaints == []


@EITHER_WAY
def test_from_the_bag_to_a_saved_draft_in_six_taps_and_one_text_field(
    browser: Browser, bar: str, script: bool
) -> None:
    with visiting(browser, bar, PHONE, script=script) as visit:
        visit.open("/")
        visit.tap("#notes")
        visit.page.locator("#notes").fill("dried fig, hazelnut")
        visit.tap("button:has-text('What suits it?')")
        visit.tap("button:has-text('Pour it')")
        visit.tap("button:has-text('Keep as a draft')")
        expect(visit.page.locator(".page-head")).to_contain_text("Draft; version 1")
        assert visit.taps <= MOST_TAPS_DRAFT
        assert visit.complaints == []


def test_the_plus_moves_in_place_and_coming_back_counts_as_measured(
    browser: Browser, bar: str
) -> None:
    with visiting(browser, bar, PHONE) as visit:
        visit.open("/list/1/trial")
        field, same = visit.page.locator("#liquid_out_ml"), "input[name=same_liquid_out_ml]"
        foretold = field.input_value()
        visit.tap("button[aria-label='more: Came through']")
        assert float(field.input_value()) == float(foretold) + 2
        expect(visit.page.locator(same)).not_to_be_checked()
        visit.tap("button[aria-label='less: Came through']")
        expect(visit.page.locator(same)).to_be_checked()
        assert visit.path() == "/list/1/trial"


def test_enter_in_a_number_keeps_the_trial_and_steps_nothing(browser: Browser, bar: str) -> None:
    with visiting(browser, bar, PHONE, script=False) as visit:
        visit.open("/list/1/trial")
        visit.page.locator("#liquid_out_ml").fill("91")
        visit.page.locator("#liquid_out_ml").press("Enter")
        expect(visit.page.locator(".page-head")).to_contain_text("91 mL out")


def test_a_bottle_goes_out_and_comes_back_where_the_thumb_is(browser: Browser, bar: str) -> None:
    with visiting(browser, bar, PHONE) as visit:
        visit.open("/shelf")
        line = visit.page.locator(".bottle:has-text('Cardamom bitters')")
        line.locator("button").tap()
        expect(line).to_contain_text("Out.")
        expect(line).to_be_in_viewport()
        line.locator("button").tap()
        expect(line).not_to_contain_text("Out.")


def test_a_file_is_looked_at_and_then_loaded(browser: Browser, bar: str, tmp_path: Path) -> None:
    file = tmp_path / "shelf.csv"
    file.write_text("ingredient,size_ml,label\ncognac,700,new one\nnobody,700,\n", encoding="utf-8")
    with visiting(browser, bar, PHONE, script=False) as visit:
        visit.open("/shelf")
        visit.page.locator("#csv").set_input_files(file)
        visit.tap("button:has-text('Look at it')")
        expect(visit.page.locator("main")).to_contain_text("Nothing is written yet")
        visit.tap("button:has-text('Load what can be read')")
        expect(visit.page.locator("h1")).to_contain_text("Loaded")
        visit.open("/shelf")
        expect(visit.page.locator("main")).to_contain_text("New one")


def test_two_tablets_one_spec_and_the_second_is_told(browser: Browser, bar: str) -> None:
    with visiting(browser, bar) as one, visiting(browser, bar) as other:
        for visit in (one, other):
            visit.open("/list/1/edit")
        one.page.locator("[name=amount]").first.fill("50 ml")
        one.tap("button:has-text('Save')")
        other.page.locator("[name=amount]").first.fill("40 ml")
        other.tap("button:has-text('Save')")
        expect(other.page.locator(".problem")).to_contain_text("Somebody was faster")
        expect(other.page.locator("[name=amount]").first).to_have_value("40 ml")
