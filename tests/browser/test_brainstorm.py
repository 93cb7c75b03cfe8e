"""Brainstorm from the bag to a drink in balance, by touch, with and without a script."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.visiting import NOTES, SCREENS, Screen, Visit, visiting

EITHER_WAY = pytest.mark.parametrize("script", [True, False], ids=["script", "no-script"])
EVERY_SCREEN = pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.name)
# Opening the notes, asking, pouring.
MOST_TAPS_TO_A_DRINK = 3


def write_notes(visit: Visit) -> None:
    visit.tap("#notes")
    visit.page.locator("#notes").fill(NOTES)


@EVERY_SCREEN
@EITHER_WAY
def test_from_the_bag_to_a_drink_in_three_taps_and_one_field(
    browser: Browser, address: str, screen: Screen, script: bool
) -> None:
    with visiting(browser, address, screen, script=script) as visit:
        visit.open("/")
        write_notes(visit)
        visit.tap("button:has-text('What suits it?')")
        expect(visit.page.locator("h1")).to_have_text("What suits this coffee")
        expect(visit.page.locator(".heard")).to_contain_text("dried cherry")
        expect(visit.page.locator(".suggestion")).to_have_count(15)
        visit.tap("button:has-text('Pour it')")
        expect(visit.page.locator(".pour")).to_have_count(5)
        expect(visit.page.locator(".verdict.large")).to_be_visible()
        assert visit.path().startswith("/drink?pour=")
        assert visit.taps <= MOST_TAPS_TO_A_DRINK
        assert visit.complaints == []


@EITHER_WAY
def test_an_unknown_word_is_put_right_by_tapping_another(
    browser: Browser, address: str, script: bool
) -> None:
    with visiting(browser, address, script=script) as visit:
        visit.open("/pairings?notes=dried+cherry,+quench")
        word = visit.page.locator(".misheard .word").first.text_content() or ""
        visit.tap(".misheard .word")
        expect(visit.page.locator(".misheard")).to_have_count(0)
        expect(visit.page.locator(".heard")).to_contain_text(word)
        assert "quench" not in visit.path()


@EITHER_WAY
def test_tapping_other_bottles_pours_those(browser: Browser, address: str, script: bool) -> None:
    with visiting(browser, address, script=script) as visit:
        visit.open("/pairings?notes=dried+cherry")
        chosen = [visit.page.locator(f"#{role} .pick").nth(2) for role in ("base", "modifier")]
        names = [pick.get_attribute("data-name") or "" for pick in chosen]
        for pick in chosen:
            visit.tap(f"label[for={pick.get_attribute('id')}]")
        visit.tap("button:has-text('Pour it')")
        for name in names:
            expect(visit.page.locator(".pours")).to_contain_text(name)


@EITHER_WAY
def test_amounts_move_and_the_balance_moves_with_them(
    browser: Browser, address: str, script: bool
) -> None:
    with visiting(browser, address, script=script) as visit:
        visit.open("/drink?pour=bourbon=50ml&pour=px-sherry=40ml")
        before = visit.page.locator("#drink .taste svg").first.get_attribute("aria-label")
        for _ in range(4):
            amount = visit.page.locator(".stepper output").nth(1).text_content()
            visit.tap("#less-px-sherry")
            expect(visit.page.locator(".stepper output").nth(1)).not_to_have_text(amount or "")
        expect(visit.page.locator(".stepper output").nth(1)).to_contain_text("20")
        after = visit.page.locator("#drink .taste svg").first.get_attribute("aria-label")
        assert before != after
        assert "px-sherry=20ml" in visit.path()


@EITHER_WAY
def test_a_remedy_is_made_by_tapping_it(browser: Browser, address: str, script: bool) -> None:
    with visiting(browser, address, script=script) as visit:
        visit.open("/drink?pour=bourbon=50ml&pour=px-sherry=40ml")
        expect(visit.page.locator(".verdict.large")).not_to_contain_text("In balance")
        visit.tap(".remedies .button")
        expect(visit.page.locator(".verdict.large")).to_contain_text("In balance")


def test_back_goes_from_the_drink_to_the_list_however_often_amounts_were_moved(
    browser: Browser, address: str
) -> None:
    with visiting(browser, address) as visit:
        visit.open("/pairings?notes=dried+cherry")
        visit.tap("button:has-text('Pour it')")
        for _ in range(3):
            amount = visit.page.locator(".stepper output").first.text_content()
            visit.tap(".stepper button[id^=more]")
            expect(visit.page.locator(".stepper output").first).not_to_have_text(amount or "")
        visit.page.go_back()
        expect(visit.page.locator("h1")).to_have_text("What suits this coffee")
        visit.page.go_forward()
        expect(visit.page.locator(".stepper output").first).to_contain_text("65")


def test_a_deep_link_opens_the_same_page_again(browser: Browser, address: str) -> None:
    with visiting(browser, address) as visit:
        visit.open("/pairings?notes=dried+cherry&roast=light")
        visit.tap("button:has-text('Pour it')")
        expect(visit.page.locator(".verdict.large")).to_be_visible()
        link, title = visit.path(), visit.page.title()
        told = visit.page.locator(".figures").text_content()
    with visiting(browser, address, script=False) as other:
        other.open(link)
        assert other.page.title() == title
        assert other.page.locator(".figures").text_content() == told


def test_the_slider_ranks_again_in_place(browser: Browser, address: str) -> None:
    with visiting(browser, address) as visit:
        visit.open("/pairings?notes=dried+cherry")
        names = visit.page.locator("#base .suggestion label").all_text_contents()
        visit.page.locator("#novelty").focus()
        visit.page.keyboard.press("End")
        visit.page.wait_for_url("**novelty=1**")
        expect(visit.page.locator("#novelty")).to_be_focused()
        assert visit.page.locator("#base .suggestion label").all_text_contents() != names
        expect(visit.page.locator("#said")).to_have_text("Ranked again")


@EITHER_WAY
def test_a_bottle_is_out_and_another_poured_in_three_taps(
    browser: Browser, address: str, script: bool
) -> None:
    with visiting(browser, address, script=script) as visit:
        visit.open("/drink?pour=bourbon=50ml&pour=sweet-vermouth=20ml")
        visit.tap("#bottle-out summary")
        visit.tap("#bottle-out .word:has-text('vermouth')")
        expect(visit.page.locator("h1")).to_have_text("Instead of sweet red vermouth")
        visit.tap(".ways .button")
        expect(visit.page.locator(".verdict.large")).to_be_visible()
        assert "sweet-vermouth" not in visit.path()
        assert visit.taps <= 3
