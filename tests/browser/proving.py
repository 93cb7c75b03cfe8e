"""One page put to the proof: dark on the phone first, light on the desk first, then bare."""

from __future__ import annotations

from playwright.sync_api import Browser

from tests.browser.keys import assert_keyboard_goes_everywhere
from tests.browser.proof import (
    MOST_BYTES,
    MOST_SHIFT,
    MUTE,
    SAID,
    SHIFT,
    assert_fits,
    assert_looks_right,
    assert_quiet,
    settle,
    weigh,
)
from tests.browser.shown import Bars, Shown
from tests.browser.visiting import DESK, PHONE, Screen, Visit, visiting


def prove(browser: Browser, bars: Bars, shown: Shown) -> None:
    """Everything that is asked of a page. Each theme is a visit of its own, and a window that
    changes its size, so that a page is fetched once per theme."""
    with visiting(browser, bars.address(shown), PHONE, theme="dark") as visit:
        said = _visited(visit, bars, shown, PHONE, "dark")
        assert_fits(visit.page)
        visit.page.set_viewport_size({"width": PHONE.width, "height": PHONE.height})
        assert_keyboard_goes_everywhere(visit.page)
    with visiting(browser, bars.address(shown), DESK, theme="light") as visit:
        assert _visited(visit, bars, shown, DESK, "light") == said
    with visiting(browser, bars.address(shown), PHONE, script=False) as visit:
        _come_to(visit, bars, shown)
        assert visit.page.evaluate(SAID) == said
        assert visit.page.evaluate(MUTE) == []


def _visited(visit: Visit, bars: Bars, shown: Shown, screen: Screen, theme: str) -> str:
    """Found as a person finds it; then on every screen. What it says."""
    sizes: dict[str, int] = {}
    visit.page.on("response", lambda answer: weigh(answer, sizes))
    _come_to(visit, bars, shown)
    settle(visit.page)
    assert visit.page.evaluate(SHIFT) < MOST_SHIFT
    assert_quiet(visit, fault=shown.fault)
    assert 0 < sum(sizes.values()) < MOST_BYTES
    said: str = visit.page.evaluate(SAID)
    assert_looks_right(visit.page, shown.name, theme)
    return said


def _come_to(visit: Visit, bars: Bars, shown: Shown) -> None:
    visit.open(bars.path(shown))
    if shown.then:
        shown.then(visit)
