"""A person before a screen: which screen, which theme, with a script or without."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, Literal
from urllib.parse import urlsplit

from playwright.sync_api import Browser, ConsoleMessage, Page, Request

from service.web.pages.frame import THEME_COOKIE

PATIENCE_MS = 10_000
PATIENCE_FOR_A_PAGE_MS = 30_000  # whole drinks of every bottle, on a busy machine


@dataclass(frozen=True, slots=True)
class Screen:
    """A screen in CSS pixels, and whether it is touched."""

    name: str
    width: int
    height: int
    touch: bool


PHONE = Screen("phone", 390, 844, True)
TABLET = Screen("tablet", 820, 1180, True)
DESK = Screen("desk", 1440, 900, False)
SCREENS = (PHONE, TABLET, DESK)

NOTES = "dark chocolate, dried cherry and a bit of smoke, quench, hazelnutt, no citrus"
PAIRINGS = "/pairings?notes=dark+chocolate,+dried+cherry+and+a+bit+of+smoke,+quench"
DRINK = (
    "/drink?pour=dark-rum=50ml&pour=sweet-vermouth=20ml&pour=mole-bitters=1.6ml"
    "&notes=dark+chocolate,+dried+cherry"
)
ADDRESSES = {
    "coffee": "/",
    "coffee-misread": "/pairings?dose_g=much&notes=fig",
    "pairings": PAIRINGS,
    "drink": DRINK,
    "instead": "/instead?out=curacao&pour=bourbon=50ml&pour=curacao=20ml",
    "reach": f"{DRINK.replace('/drink', '/reach')}&strength=24&glass=110",
    "bottles": "/ingredients",
    "bottles-empty": "/ingredients?text=zzzz",
    "bottle": "/ingredients/oloroso-sherry",
    "sources": "/sources",
    "dataset": "/dataset",
    "patterns": "/patterns",
    "problem": "/nowhere",
}
# Pages that answer with a fault on purpose; the browser notes that on its console.
FAULTS = ("coffee-misread", "problem")


@dataclass(eq=False)
class Visit:
    """An open page, and all that its browser complained of or asked for."""

    page: Page
    address: str
    complaints: list[str] = field(default_factory=list)
    hosts: set[str] = field(default_factory=set)
    taps: int = 0

    def open(self, path: str, *, settled: bool = False) -> None:
        """Go there; `settled` waits until nothing is fetched any more, pictures included."""
        self.page.goto(self.address + path)
        if settled:
            self.page.wait_for_load_state("networkidle")

    def tap(self, what: str) -> None:
        """One touch, or one click where there is no touch; counted."""
        place = self.page.locator(what).first
        place.scroll_into_view_if_needed()
        if self.page.evaluate("navigator.maxTouchPoints > 0"):
            place.tap()
        else:
            place.click()
        self.taps += 1

    def path(self) -> str:
        parts = urlsplit(self.page.url)
        return f"{parts.path}?{parts.query}" if parts.query else parts.path


@contextmanager
def visiting(
    browser: Browser,
    address: str,
    screen: Screen = PHONE,
    *,
    theme: str = "",
    device: Literal["dark", "light"] = "light",
    script: bool = True,
    **more: Any,
) -> Iterator[Visit]:
    """Sit down before a screen; `theme` is what the person chose there, if anything.

    The device prefers light, which must not matter.
    """
    context = browser.new_context(
        viewport={"width": screen.width, "height": screen.height},
        has_touch=screen.touch,
        java_script_enabled=script,
        color_scheme=device,
        **more,
    )
    if theme:
        context.add_cookies([{"name": THEME_COOKIE, "value": theme, "url": address}])
    context.set_default_timeout(PATIENCE_MS)
    context.set_default_navigation_timeout(PATIENCE_FOR_A_PAGE_MS)
    visit = Visit(context.new_page(), address)

    def heard(message: ConsoleMessage) -> None:
        if message.type in {"error", "warning"}:
            visit.complaints.append(message.text)

    def asked(request: Request) -> None:
        visit.hosts.add(urlsplit(request.url).netloc)

    visit.page.on("console", heard)
    visit.page.on("pageerror", lambda error: visit.complaints.append(str(error)))
    visit.page.on("request", asked)
    try:
        yield visit
    finally:
        context.close()
