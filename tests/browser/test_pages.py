"""Every page of drinks and evidence, on every screen in both themes, with and without a script."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from tests.browser.proof import assert_nothing_serious
from tests.browser.proving import prove
from tests.browser.shown import DRINKS_AND_EVIDENCE, Bars, Shown
from tests.browser.visiting import ADDRESSES, DESK, visiting

EVERY_PAGE = pytest.mark.parametrize("shown", DRINKS_AND_EVIDENCE, ids=lambda shown: shown.name)


@EVERY_PAGE
def test_a_page_as_a_person_finds_it(browser: Browser, bars: Bars, shown: Shown) -> None:
    prove(browser, bars, shown)


@pytest.mark.parametrize("name", ["pairings", "drink"])
def test_axe_finds_nothing_serious_with_everything_unfolded(
    browser: Browser, address: str, name: str
) -> None:
    with visiting(browser, address, DESK) as visit:
        visit.open(ADDRESSES[name])
        visit.page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        assert_nothing_serious(visit.page)
