"""A person with a keyboard alone: one step at a time, and along a whole page."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

MOST_STEPS = 400
MOST_WAITS, WAIT_MS = 100, 20
# The browser stops at day, month, year and calendar of a date, which is one element.
STEPS_OF_A_DATE = 3
# The part of an element that shows its focus: of a tile the one drawn beside its hidden input.
FOCUS = """
    const drawn = e => e.matches('.choice input') ? e.nextElementSibling : e;
    const outlined = e => {
        const style = getComputedStyle(drawn(e));
        return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
    };
"""
# What the Tab key comes to, in the order of the document: of radio buttons the chosen one.
STOPS = (
    "() => {"
    + FOCUS
    + """
    const wanted = 'a[href], button, input, select, textarea, summary, [tabindex]';
    const radio = e => e.type === 'radio';
    const group = e => [...document.querySelectorAll('input[type=radio]')]
        .filter(other => other.name === e.name && other.form === e.form);
    const chosen = e => group(e).find(other => other.checked) ?? group(e)[0];
    window.stops = [...document.querySelectorAll(wanted)]
        .filter(e => e.tabIndex >= 0 && e.type !== 'hidden' && !e.disabled)
        .filter(e => e.checkVisibility({visibilityProperty: true}))
        .filter(e => !radio(e) || chosen(e) === e);
    window.went = [];
    addEventListener('focusin', event => {
        const e = event.target;
        window.went.push([window.stops.indexOf(e), outlined(e), e.outerHTML.slice(0, 120)]);
    });
    return window.stops.length;
}"""
)


def tab(page: Page) -> None:
    """One step on, waited for: a busy browser takes its time to move the focus."""
    page.evaluate("window.was = document.activeElement")
    page.keyboard.press("Tab")
    for _ in range(MOST_WAITS):
        if page.evaluate("document.activeElement !== window.was"):
            return
        page.wait_for_timeout(WAIT_MS)
    pytest.fail("the focus did not move on")


def tab_until(page: Page, wanted: str) -> None:
    """Go on from where the focus is until it is on the wanted element."""
    for _ in range(MOST_STEPS):
        tab(page)
        if page.evaluate("s => document.activeElement?.matches(s) ?? false", wanted):
            return
    pytest.fail(f"the keyboard never came to {wanted}")


def assert_keyboard_goes_everywhere(page: Page) -> None:
    """From the skip link to the last thing, each once and in order, the focus always to be seen:
    so nothing is left out, and nothing is a trap (WCAG 2.1.1, 2.1.2, 2.4.1, 2.4.3, 2.4.7)."""
    many = page.evaluate(STOPS)
    if many == 0:  # a page that is only read
        return
    for _ in range(many):
        page.keyboard.press("Tab")
    for _ in range(STEPS_OF_A_DATE):
        if page.evaluate("window.went.length") < many:
            page.keyboard.press("Tab")
    page.wait_for_function("many => window.went.length >= many", arg=many)
    went = page.evaluate("window.went")
    assert "skip-link" in went[0][2]
    unseen = [name for _, outlined, name in went if not outlined]
    assert unseen == []
    for place, (index, _, name) in enumerate(went):
        assert index == place, name
