"""The demo bar's pages, with forms sent as a browser sends them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from httpx import Response

from service.counter.known import Known
from service.settings import Settings
from service.web.app import create_app
from tests.web.conftest import HERE
from tests.web.pages.reading import Element, read_page

Value = str | list[str]


class Desk:
    """A person before the pages: opens them and sends their forms."""

    def __init__(self, client: TestClient) -> None:
        self.client = client

    def get(self, path: str, status: int = 200) -> Element:
        answer = self.client.get(path, headers={"accept": "text/html"})
        assert answer.status_code == status, answer.text[:600]
        return read_page(answer.text)

    def send(self, path: str, files: Any = None, **fields: Value) -> Response:
        """A form with its token; nothing is followed."""
        data = {"csrf": self.token(), **fields}
        return self.client.post(
            path, data=data, files=files, headers={"accept": "text/html"}, follow_redirects=False
        )

    def done(self, path: str, **fields: Value) -> str:
        """A form that is taken: where it leads to."""
        answer = self.send(path, **fields)
        assert answer.status_code == 303, told(answer.text)
        return answer.headers["location"]

    def token(self) -> str:
        page = self.get("/list")
        return page.first("input", name="csrf").attributes["value"]

    def values(self, path: str, form: str) -> dict[str, Value]:
        """All that a form would send as it stands."""
        return form_values(self.get(path), form)

    def spec_id(self, name: str) -> int:
        for link in self.get("/list").every("a"):
            if link.text == name:
                return int(link.attributes["href"].rsplit("/", 1)[1])
        raise AssertionError(f"{name} is not on the list page")


def form_values(page: Element, action: str) -> dict[str, Value]:
    """The fields of a form of the page, buttons left out."""
    form = next(f for f in page.every("form") if f.attributes.get("action") == action)
    found: dict[str, list[str]] = {}
    for element in form.every():
        name = element.attributes.get("name")
        if name is None or element.tag == "button":
            continue
        ticked = element.attributes.get("type") not in {"radio", "checkbox"}
        if element.tag == "select":
            chosen = [o for o in element.every("option") if "selected" in o.attributes]
            found.setdefault(name, []).extend(o.attributes["value"] for o in chosen[:1])
        elif element.tag == "textarea":
            found.setdefault(name, []).append(element.text)
        elif ticked or "checked" in element.attributes:
            found.setdefault(name, []).append(element.attributes.get("value", ""))
    return {name: values[0] if len(values) == 1 else values for name, values in found.items()}


def number_in(text: str) -> float:
    return float(re.sub(r"[^\d.]", "", re.findall(r"[\d.\u202f]+", text)[0]))


@pytest.fixture
def desk(known: Known, tmp_path: Path) -> Iterator[Desk]:
    """The demo bar, fresh for each test."""
    yield from _desk(known, tmp_path, demo=True)


@pytest.fixture
def empty_desk(known: Known, tmp_path: Path) -> Iterator[Desk]:
    """A bar in which nothing was ever written."""
    yield from _desk(known, tmp_path, demo=False)


def _desk(known: Known, folder: Path, *, demo: bool) -> Iterator[Desk]:
    database = f"sqlite:///{folder / 'bar.sqlite'}"
    settings = Settings(database_url=database, secret="for tests", demo=demo)
    with TestClient(create_app(settings, known), base_url=HERE) as client:
        yield Desk(client)


def told(text: str) -> str:
    """The words of a page, for a failing test to show."""
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", text[text.find("<main") :]))[:800]
