"""Everything by keyboard alone, with the focus always to be seen."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.keys import FOCUS, tab, tab_until
from tests.browser.shown import EVERY_PAGE, Bars
from tests.browser.visiting import DESK, PHONE, visiting

MOST_LOOKED_AT = 45
SEEN = (
    "() => {"
    + FOCUS
    + """
    const e = document.activeElement;
    if (!e || e === document.body) return null;
    const box = drawn(e).getBoundingClientRect();
    return {
        outline: outlined(e),
        visible: box.width > 0 && box.height > 0,
        name: e.outerHTML.slice(0, 120),
    };
}"""
)
COVERED = """() => {
    const box = document.activeElement.getBoundingClientRect();
    const middle = [box.x + box.width / 2, box.y + Math.min(box.height / 2, 40)];
    const bar = document.elementFromPoint(...middle)?.closest('.act-bar, .sections');
    return !!bar && !bar.contains(document.activeElement);
}"""


def test_brainstorm_by_keyboard(browser: Browser, address: str) -> None:
    with visiting(browser, address, DESK) as visit:
        page = visit.page
        visit.open("/")
        tab(page)
        expect(page.locator(".skip-link")).to_be_focused()
        page.keyboard.press("Enter")
        expect(page.locator("#content")).to_be_focused()
        tab_until(page, "#notes")
        page.keyboard.type("dried cherry, smoke")
        expect(page.locator("#notes")).to_have_value("dried cherry, smoke")
        tab_until(page, "[name=roast]")
        page.keyboard.press("ArrowRight")
        expect(page.locator("[name=roast]:checked")).to_have_value("medium-dark")
        tab_until(page, ".coffee-form button.large")
        page.keyboard.press("Enter")
        page.wait_for_url("**/pairings?**")
        assert "roast=medium-dark" in page.url
        tab_until(page, "[name=modifier]")
        first = page.locator("[name=modifier]:checked").get_attribute("value") or ""
        page.keyboard.press("ArrowDown")
        expect(page.locator("[name=modifier]:checked")).not_to_have_value(first)
        tab_until(page, "#picks .act-bar .button")
        page.keyboard.press("Enter")
        page.wait_for_url("**/drink?**")
        assert first not in page.url
        tab_until(page, "[id^=more-]")
        amount = page.locator(".stepper output").first.text_content() or ""
        page.keyboard.press("Enter")
        expect(page.locator(".stepper output").first).not_to_have_text(amount)
        expect(page.locator("[id^=more-]").first).to_be_focused()
        assert visit.complaints == []


@pytest.mark.parametrize("name", ["coffee", "pairings", "drink", "run-out", "trial", "shelf"])
def test_wherever_the_keyboard_goes_the_focus_is_seen(
    browser: Browser, bars: Bars, name: str
) -> None:
    """And not under the bars that lie over the page (WCAG 2.2, 2.4.7 and 2.4.11)."""
    shown = next(each for each in EVERY_PAGE if each.name == name)
    with visiting(browser, bars.address(shown), PHONE) as visit:
        visit.page.emulate_media(reduced_motion="reduce")
        visit.open(bars.path(shown))
        steps = 0
        for _ in range(MOST_LOOKED_AT):
            tab(visit.page)
            place = visit.page.evaluate(SEEN)
            if place is None:
                break
            steps += 1
            assert place["outline"], place["name"]
            assert place["visible"], place["name"]
            assert not visit.page.evaluate(COVERED), place["name"]
        assert steps > 10
