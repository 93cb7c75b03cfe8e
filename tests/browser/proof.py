"""What is asked of every page: quiet, still, light, nothing off the side, nothing too small.

axe-core (Deque Systems; the rules of WCAG 2.2) looks at every width in both themes. The screenshots
are kept as build output, to be looked at one by one.
"""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urlsplit

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page, Response

from tests.browser.visiting import SCREENS, Screen, Visit

SCREENSHOTS = Path(__file__).parents[2] / "build" / "screenshots"
MOST_BYTES = 150_000
MOST_SHIFT = 0.05
NARROWEST_PX = 320  # WCAG 1.4.10: a window of 1280 px, four times as large
AXE = """async () => {
    const found = await axe.run(document, {resultTypes: ['violations']});
    return found.violations
        .filter(v => ['serious', 'critical'].includes(v.impact))
        .map(v => [v.id, v.nodes.slice(0, 3).map(n => n.html.slice(0, 160))]);
}"""
SHIFT = """() => new Promise(done => {
    let total = 0;
    new PerformanceObserver(list => {
        for (const e of list.getEntries()) if (!e.hadRecentInput) total += e.value;
    }).observe({type: 'layout-shift', buffered: true});
    setTimeout(() => done(total), 50);
})"""
ROOM = "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
TWICE = "document.documentElement.style.fontSize = '200%'"
USUAL = "document.documentElement.style.fontSize = ''"
# What is tapped, by the box that takes the tap: a row for its link, a label for its box. Links
# within a sentence are excepted, as in WCAG 2.5.8.
SMALL = """() => [...document.querySelectorAll('a, button, summary, select, textarea, input')]
    .filter(e => e.type !== 'hidden' && !e.closest('.skip-link, td, .citation'))
    .filter(e => e.tagName !== 'A' || !e.closest('p:not(.row)') || e.matches('.more, .button'))
    .map(e => e.closest('.entry, label, .suggestion-head') ?? e)
    .map(e => [e.outerHTML.slice(0, 90), e.getBoundingClientRect()])
    .filter(([, b]) => b.width && b.height && (b.height < 47.5 || b.width < 24))
    .map(([name, b]) => name + ' ' + Math.round(b.width) + ' × ' + Math.round(b.height))"""
# Forms that nothing sends where there is no script.
MUTE = """() => [...document.forms]
    .filter(f => ![...f.elements].some(e => e.type === 'submit'))
    .map(f => f.outerHTML.slice(0, 160))"""
# What is ticked is told beside the button by the script alone.
SAID = """() => {
    const main = document.querySelector('main').cloneNode(true);
    main.querySelectorAll('[data-picked]').forEach(e => e.remove());
    return main.textContent.replace(/\\s+/g, ' ');
}"""


def weigh(answer: Response, sizes: dict[str, int]) -> None:
    """Note the size of what came, pictures left out."""
    if answer.request.resource_type == "document":
        sizes.clear()  # a page on the way to the one that is meant
    if "/pictures/" not in answer.url and not 300 <= answer.status < 400:
        sizes[answer.url] = len(answer.body())


def settle(page: Page) -> None:
    """Wait for the pictures, where there are any."""
    if page.locator("figure.picture").count():
        page.wait_for_load_state("networkidle")


def assert_quiet(visit: Visit, *, fault: bool) -> None:
    """No complaint on the console but the fault that was asked for, and no other host."""
    expected = ["Failed to load resource"] if fault else []
    assert [complaint[:23] for complaint in visit.complaints] == expected
    assert visit.hosts == {urlsplit(visit.address).netloc}


def assert_nothing_serious(page: Page) -> None:
    """axe-core, told once per page what it is."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    assert page.evaluate(AXE) == []


def assert_looks_right(page: Page, name: str, theme: str) -> None:
    """On every screen: a picture of the whole page, and axe-core over all of it.

    The window is as high as the page, so that the bars stand where they end up and cover nothing.
    """
    SCREENSHOTS.mkdir(parents=True, exist_ok=True)
    for screen in SCREENS:
        page.set_viewport_size({"width": screen.width, "height": screen.height})
        height = max(screen.height, page.evaluate("document.body.scrollHeight"))
        page.set_viewport_size({"width": screen.width, "height": height})
        page.screenshot(path=SCREENSHOTS / f"{name}-{screen.name}-{theme}.png")
        assert_nothing_serious(page)
        if screen.touch:
            assert page.evaluate(SMALL) == []


def assert_fits(page: Page, screens: tuple[Screen, ...] = SCREENS) -> None:
    """Nothing runs off the side: as it is, the page twice as large, and the letters twice as large
    (WCAG 1.4.4 and 1.4.10)."""
    for screen in screens:
        for width, letters in (
            (screen.width, USUAL),
            (screen.width, TWICE),
            (max(screen.width // 2, NARROWEST_PX), USUAL),
        ):
            page.set_viewport_size({"width": width, "height": screen.height})
            page.evaluate(letters)
            wide, room = page.evaluate(ROOM)
            assert wide <= room, f"{wide} in {room} px, {letters}"
    page.evaluate(USUAL)
