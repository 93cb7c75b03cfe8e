"""The demo bar behind a real port, for journeys that change records; and after a night of work."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from html import unescape
from pathlib import Path

import httpx

from service.counter.known import Known
from tests.browser.served import serving


@contextmanager
def serving_demo(known: Known, folder: Path) -> Iterator[str]:
    """Where it answers; its records are fresh."""
    with serving(known, folder, demo=True) as address:
        yield address


def _fields(form: str) -> dict[str, str | list[str]]:
    """What a form would send; pours come several times."""
    pairs = re.findall(r'name="(\w+)" value="([^"]*)"', form)
    fields: dict[str, str | list[str]] = {k: unescape(v) for k, v in pairs if k != "csrf"}
    return fields | {"pour": [unescape(v) for k, v in pairs if k == "pour"]}


def live_a_night(address: str) -> str:
    """Trials, a rescue, a blind test and an own ingredient; the address of an open guest page."""
    with httpx.Client(base_url=address, headers={"accept": "text/html"}) as client:

        def sent(path: str, **fields: str | list[str]) -> None:
            page = client.get("/list").text
            token = page.split('name="csrf" value="')[1].split('"')[0]
            answer = client.post(path, data={"csrf": token, **fields})
            assert answer.status_code == 303, answer.text[:2000]

        for out in ("99", "97", "101", "45"):
            sent("/list/1/trial", liquid_out_ml=out, drain_seconds="165", liking="7",
                 sweetness="1", words="rounder", taster="ab")  # fmt: skip
        sent("/list/1/trial/2", count="no")
        sent("/list/1/guests")
        offered = client.get("/rescue?bottle=chamomile-liqueur").text
        form = offered.split('action="/rescue/accept"')[1].split("</form>")[0]
        sent("/rescue/accept", **_fields(form))
        sent("/blind-tests", name="Salt or none", kind="triangle", assessors="6")
        sent("/own/new", name="Quayside fig infusion", role="modifier", like="fig liqueur")
        page = client.get("/list/1/guests").text
        return "/g/" + page.split('href="/g/')[1].split('"')[0]
