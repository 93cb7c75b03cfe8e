"""Pictures as files: drawn once, kept for ever, and made again by any worker."""

from __future__ import annotations

import json
from xml.etree import ElementTree

import pytest
from fastapi.testclient import TestClient

from tests.web.pages.conftest import Opener

DRINK = "/drink?pour=bourbon=50ml&pour=sweet-vermouth=20ml&notes=dried+fig"
PAGES = (DRINK, "/ingredients/oloroso-sherry", "/dataset")
SVG = "{http://www.w3.org/2000/svg}"


def pictures(opened: Opener, address: str) -> list[str]:
    return [u.attributes["href"].removesuffix("#picture") for u in opened(address).every("use")]


@pytest.mark.parametrize("address", PAGES)
def test_a_picture_is_svg_as_large_as_its_page_says(
    opened: Opener, client: TestClient, address: str
) -> None:
    page = opened(address)
    figures = list(page.every("figure"))
    assert figures
    for figure in figures:
        shown = figure.first("svg")
        answer = client.get(figure.first("use").attributes["href"].removesuffix("#picture"))
        assert answer.headers["content-type"].startswith("image/svg+xml")
        root = ElementTree.fromstring(answer.text)
        assert root.attrib["id"] == "picture"
        assert root.attrib["viewBox"] == shown.attributes["viewbox"]
        assert "immutable" in answer.headers["cache-control"]


@pytest.mark.parametrize("address", PAGES)
def test_each_picture_is_told_in_words_beside_it(opened: Opener, address: str) -> None:
    for figure in opened(address).every("figure"):
        named = figure.first("svg").attributes["aria-labelledby"].split()
        told = figure.first(id=named[1]).text
        assert len(told) > 60
        assert any(character.isdigit() for character in told) or "smells" in told


def test_the_specification_can_be_taken_along(opened: Opener, client: TestClient) -> None:
    links = [
        a.attributes["href"] for a in opened(DRINK).every("a") if ".json?" in a.attributes["href"]
    ]
    assert len(links) == 5
    for link in links:
        spec = json.loads(client.get(link).text)
        assert spec["$schema"].startswith("https://vega.github.io/schema/vega-lite/")
        assert spec["description"]


def test_an_old_address_leads_to_the_picture_as_it_is_now(
    opened: Opener, client: TestClient
) -> None:
    address = pictures(opened, DRINK)[0]
    stale = address.replace(address.split("/")[2].split(".")[0], "0" * 24)
    answer = client.get(stale, follow_redirects=False)
    assert answer.status_code == 307
    assert answer.headers["location"] == address


@pytest.mark.parametrize(
    "address",
    ["/pictures/abc.svg", "/pictures/abc.svg?draw=nothing", "/pictures/abc.png?draw=coverage",
     "/pictures/abc.svg?draw=neighbourhood&of=moonbeam"],
)  # fmt: skip
def test_a_picture_that_is_not_there_is_a_plain_problem(client: TestClient, address: str) -> None:
    answer = client.get(address, headers={"accept": "text/html"})
    assert answer.status_code == 404
    assert answer.headers["content-type"] == "application/problem+json"
