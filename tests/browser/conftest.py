"""The real service on free ports of this machine, and a real browser before it."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

pytest.register_assert_rewrite("tests.browser.proof", "tests.browser.keys", "tests.browser.proving")

from service.counter.known import Known  # noqa: E402
from tests.browser.chromium import NOT_RUN, launched  # noqa: E402
from tests.browser.served import serving  # noqa: E402
from tests.browser.shown import Bars, serving_bars  # noqa: E402


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A browser; where there is none, the tests say plainly that they did not run."""
    with sync_playwright() as playwright:
        found = launched(playwright)
        if found is None:
            if os.environ.get("MARC_TEST_ALL"):
                pytest.fail(NOT_RUN)
            pytest.skip(NOT_RUN)
        yield found
        found.close()


@pytest.fixture(scope="session")
def address(known: Known, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Where the service answers, on the real dataset and an empty bar."""
    with serving(known, tmp_path_factory.mktemp("bar")) as found:
        yield found


@pytest.fixture(scope="session")
def bars(known: Known, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bars]:
    """Every bar that a page is shown in."""
    with serving_bars(known, tmp_path_factory.mktemp("bars")) as found:
        yield found
