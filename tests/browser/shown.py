"""Every page that is put to the proof, and in which state of the bar.

A page that a form answers with is reached by `then`. `test_every_page_is_proved.py` compares these
lists with the routes and the templates of the service.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

from service.counter.known import Known
from tests.browser.demo_bar import live_a_night
from tests.browser.served import serving
from tests.browser.visiting import ADDRESSES, PAIRINGS, Visit

PASSPHRASE = "low tide at the salt stair"
DEMO, EMPTY, LOCKED = "demo", "empty", "locked"
SHELF_FILE = (
    "ingredient,size_ml,label,price\n"
    "cognac,700,new one,31\n"
    "nobody knows,700,,\n"
    "fig liqueur,half,,\n"
)

OWN_FILE = "name,role,like\nharbour vermouth,modifier,dry vermouth\nnobody's,modifier,nobody\n"


@dataclass(frozen=True, slots=True)
class Shown:
    """One page to be proved.

    bar : which bar: the demo bar after a night of work, an empty one, or one with a passphrase
    fault : whether the page answers with a fault on purpose; the browser notes that
    then : what is done on the page to come to the one that is meant
    """

    name: str
    path: str
    bar: str = DEMO
    fault: bool = False
    then: Callable[[Visit], None] | None = None


def _send(visit: Visit, button: str) -> None:
    with visit.page.expect_navigation():
        visit.tap(button)


def _look_at(visit: Visit, text: str) -> None:
    visit.page.locator("#csv").set_input_files(
        {"name": "file.csv", "mimeType": "text/csv", "buffer": text.encode()}
    )
    _send(visit, "button:has-text('Look at it')")


def _look_at_a_file(visit: Visit) -> None:
    _look_at(visit, SHELF_FILE)


def _look_at_a_file_of_own(visit: Visit) -> None:
    _look_at(visit, OWN_FILE)


def _keep_without_a_name(visit: Visit) -> None:
    visit.page.locator("input[name=name]").fill(" ")
    _send(visit, "button:has-text('Keep as a draft')")


def _say_the_wrong_word(visit: Visit) -> None:
    visit.page.locator("#passphrase").fill("open sesame")
    _send(visit, ".act-bar button")


def _save_nonsense(visit: Visit) -> None:
    visit.page.locator("[name=amount]").first.fill("a lot")
    _send(visit, ".act-bar button")


DRINKS_AND_EVIDENCE = (
    *(
        Shown(name, path, fault=name in {"coffee-misread", "problem"})
        for name, path in ADDRESSES.items()
    ),
    Shown("compose", "/compose?notes=dried+fig,+hazelnut"),
    Shown("compose-empty-bar", "/compose?notes=dried+fig,+hazelnut", EMPTY),
    Shown("pairings-empty-bar", PAIRINGS, EMPTY),
    Shown("drink-out-of-balance", "/drink?pour=bourbon=50ml&pour=px-sherry=40ml"),
    Shown("drink-without-coffee", "/drink?pour=bourbon=50ml&pour=px-sherry=40ml&coffee=none"),
    Shown("reach-strength", "/reach?pour=bourbon=50ml&pour=sweet-vermouth=20ml&strength=24"),
    Shown("reach-misread", "/reach?pour=bourbon=50ml&strength=a+lot", fault=True),
    Shown("source", "/sources/arnold-2014"),
    Shown("problem-kind", "/problems/bad-data"),
    Shown("login", "/login", LOCKED),
    Shown("login-wrong", "/login", LOCKED, fault=True, then=_say_the_wrong_word),
    Shown("keep-nameless", ADDRESSES["drink"], fault=True, then=_keep_without_a_name),
)
RECORDS = (
    Shown("rescue", "/rescue"),
    Shown("rescue-empty-bar", "/rescue", EMPTY),
    Shown("run-out", "/rescue?bottle=fig-liqueur"),
    Shown("run-out-tonight", "/rescue?bottle=chamomile-liqueur"),
    Shown("run-out-unused", "/rescue?bottle=mezcal"),
    Shown("list", "/list"),
    Shown("list-empty-bar", "/list", EMPTY),
    Shown("spec", "/list/1"),
    Shown("spec-out-of-balance", "/list/3"),
    Shown("spec-draft", "/list/5"),
    Shown("tell", "/list/1/tell"),
    Shown("trial", "/list/1/trial"),
    Shown("trial-kept", "/list/1/trial/1"),
    Shown("trial-undone", "/list/1/trial/2"),
    Shown("trial-slip", "/list/1/trial/4"),
    Shown("edit", "/list/1/edit"),
    Shown("edit-misread", "/list/1/edit", fault=True, then=_save_nonsense),
    Shown("spec-new", "/list/new"),
    Shown("versions", "/list/1/versions"),
    Shown("card", "/list/1/card"),
    Shown("batch", "/list/1/batch?price=14"),
    Shown("guest-links", "/list/1/guests"),
    Shown("guest", "/g/{guest}"),
    Shown("shelf", "/shelf"),
    Shown("shelf-empty-bar", "/shelf", EMPTY),
    Shown("shelf-preview", "/shelf", then=_look_at_a_file),
    Shown("bottle-form", "/shelf/1"),
    Shown("bottle-new", "/shelf/new"),
    Shown("coffees", "/coffees"),
    Shown("coffees-empty-bar", "/coffees", EMPTY),
    Shown("coffee-form", "/coffees/1"),
    Shown("coffee-new", "/coffees/new"),
    Shown("learning", "/learning"),
    Shown("learning-empty-bar", "/learning", EMPTY),
    Shown("menu", "/menu"),
    Shown("menu-empty-bar", "/menu", EMPTY),
    Shown("shopping", "/shopping"),
    Shown("shopping-empty-bar", "/shopping", EMPTY),
    Shown("settings", "/settings"),
    Shown("own", "/own"),
    Shown("own-empty-bar", "/own", EMPTY),
    Shown("own-form", "/own/new"),
    Shown("own-preview", "/own", then=_look_at_a_file_of_own),
    Shown("own-one", "/own/own-quayside-fig-infusion"),
    Shown("blind-tests", "/blind-tests"),
    Shown("blind-tests-empty-bar", "/blind-tests", EMPTY),
    Shown("blind-test", "/blind-tests/1"),
)
EVERY_PAGE = (*DRINKS_AND_EVIDENCE, *RECORDS)


@dataclass(frozen=True, slots=True)
class Bars:
    """Where each bar answers, and the guest page that is open in the demo bar."""

    addresses: dict[str, str]
    guest: str

    def address(self, shown: Shown) -> str:
        return self.addresses[shown.bar]

    def path(self, shown: Shown) -> str:
        return shown.path.replace("/g/{guest}", self.guest)


@contextmanager
def serving_bars(known: Known, folder: Path) -> Iterator[Bars]:
    """All bars at once."""
    with ExitStack() as opened:

        def bar(name: str, **more: str | bool) -> str:
            (folder / name).mkdir()
            return opened.enter_context(serving(known, folder / name, **more))  # type: ignore[arg-type]

        demo = bar(DEMO, demo=True)
        guest = live_a_night(demo)
        yield Bars(
            {DEMO: demo, EMPTY: bar(EMPTY), LOCKED: bar(LOCKED, passphrase=PASSPHRASE)}, guest
        )
