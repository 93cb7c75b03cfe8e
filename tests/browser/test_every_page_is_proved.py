"""No page without proof: what is shown is compared with the service's routes and templates."""

from __future__ import annotations

import importlib
import pkgutil
import re
import time
from collections.abc import Iterator
from functools import wraps
from statistics import median

import httpx
import pytest
from jinja2.runtime import Macro
from starlette.routing import compile_path

from service.web import pages, problem_kinds
from service.web.pages import rendering
from tests.browser.shown import DEMO, EVERY_PAGE, Bars, Shown

MOST_SERVER_MS = 60.0
TIMES = 5
HTML = {"accept": "text/html"}
# Files, not pages.
FILES = re.compile(r"^/problems$|\.(csv|json|svg|\{kind\})$")
# These answer to a form only, and `then` shows them; the frame is part of every page.
FRAME = {"base.html"}


def page_routes() -> dict[str, re.Pattern[str]]:
    """Every address that answers with a page, as written and as a pattern."""
    names = [f"{pages.__name__}.{found.name}" for found in pkgutil.iter_modules(pages.__path__)]
    modules = [*map(importlib.import_module, names), problem_kinds]
    routers = [module.router for module in modules if hasattr(module, "router")]
    addresses = [r.path for router in routers for r in router.routes if "GET" in r.methods]
    return {a: compile_path(a)[0] for a in addresses if not FILES.search(a)}


def test_every_route_is_shown() -> None:
    routes = page_routes()
    assert len(routes) > 30
    shown = [page.path.split("?")[0] for page in EVERY_PAGE]
    # The first that matches answers, as in the service.
    answering = {next((a for a, p in routes.items() if p.match(path)), path) for path in shown}
    assert sorted(set(routes) - answering) == []


def test_every_template_is_shown(bars: Bars, monkeypatch: pytest.MonkeyPatch) -> None:
    """By the pages themselves; those that a form answers with stand in the list by name."""
    asked: set[str] = set()
    real = rendering.rendered

    def noted(template: str, frame: object, page: object) -> str:
        asked.add(template)
        return real(template, frame, page)

    monkeypatch.setattr(rendering, "rendered", noted)
    for shown in EVERY_PAGE:
        if shown.then is None:
            answer = httpx.get(bars.address(shown) + bars.path(shown), headers=HTML)
            assert (answer.status_code >= 400) == shown.fault, shown
    by_form = {"file_preview.html", "spec_keep.html"}
    every = {file.name for file in rendering.TEMPLATES.glob("*.html")}
    assert sorted(every - asked - by_form - FRAME) == []


def test_every_piece_is_shown_among_all_pieces(bars: Bars, monkeypatch: pytest.MonkeyPatch) -> None:
    """`/patterns` calls every macro of the shared pieces, the frame's own among them."""
    called: set[str] = set()
    real = Macro.__call__

    @wraps(real)
    def noted(self: Macro, *given: object, **named: object) -> str:
        called.add(self.name)
        return real(self, *given, **named)

    monkeypatch.setattr(Macro, "__call__", noted)
    assert httpx.get(f"{bars.addresses[DEMO]}/patterns", headers=HTML).status_code == 200
    folders = ("parts", "records")
    files = [f for folder in folders for f in (rendering.TEMPLATES / folder).glob("*.html")]
    every = {name for f in files for name in re.findall(r"{% macro (\w+)\(", f.read_text("utf-8"))}
    assert len(every) > 30
    assert sorted(every - called) == []


@pytest.fixture(scope="module")
def clients(bars: Bars) -> Iterator[dict[str, httpx.Client]]:
    made = {name: httpx.Client(base_url=a, headers=HTML) for name, a in bars.addresses.items()}
    yield made
    for client in made.values():
        client.close()


@pytest.mark.parametrize(
    "shown", [s for s in EVERY_PAGE if s.then is None], ids=lambda shown: shown.name
)
def test_a_warm_page_is_made_in_less_than_60_ms(
    bars: Bars, clients: dict[str, httpx.Client], shown: Shown
) -> None:
    """The median of several: processor time of this process, the client's part included, so that
    what else the machine does at the time does not count."""
    client, path = clients[shown.bar], bars.path(shown)
    client.get(path)
    times = []
    for _ in range(TIMES):
        start = time.process_time()
        client.get(path)
        times.append((time.process_time() - start) * 1000.0)
    assert median(times) < MOST_SERVER_MS
