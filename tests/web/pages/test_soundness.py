"""Rules that hold on every page: strict content policy, sound HTML, nothing from elsewhere."""

from __future__ import annotations

import re
from collections import Counter
from urllib.parse import quote

import pytest
from fastapi.testclient import TestClient

from service.counter.known import Known
from service.web.pages.assets import ASSETS, FOLDER
from tests.web.pages.reading import Element, read_page

NOTES = quote("dark chocolate, dried cherry and a bit of smoke, quench, hazelnutt, no citrus")
DRINK = "/drink?pour=bourbon=50ml&pour=sweet-vermouth=20ml&pour=aromatic-bitters=1.6ml"
EVERY = (
    "/",
    f"/pairings?notes={NOTES}",
    f"/pairings?notes={NOTES}&show=modifier&novelty=1",
    f"{DRINK}&notes={NOTES}",
    f"{DRINK}&coffee=none",
    DRINK.replace("/drink", "/reach"),
    f"{DRINK.replace('/drink', '/reach')}&strength=24&glass=110",
    f"{DRINK.replace('/drink', '/reach')}&strength=70&coffee=none",
    f"{DRINK.replace('/drink', '/reach')}&strength=strong&glass=90g",
    "/instead",
    "/instead?out=oloroso",
    "/instead?out=curacao&pour=bourbon=50ml&pour=curacao=20ml",
    "/ingredients",
    "/ingredients?text=xyzzy",
    "/ingredients/oloroso-sherry",
    "/ingredients/coffee-light-washed-arabica",
    "/sources",
    "/sources?from=100",
    "/dataset",
    "/patterns",
)
PIECES = ("script", "link", "img", "use", "iframe", "object", "source")
LARGEST_PAGE_BYTES = 150_000


def page_of(client: TestClient, address: str) -> Element:
    return read_page(client.get(address, headers={"accept": "text/html"}).text)


@pytest.mark.parametrize("address", EVERY)
def test_a_page_has_one_title_one_heading_and_a_language(client: TestClient, address: str) -> None:
    page = page_of(client, address)
    assert page.first("html").attributes["lang"] == "en"
    assert page.first("title").text.endswith("Marc & Measure")
    headings = list(page.every("h1"))
    assert len(headings) == (2 if address == "/patterns" else 1)


@pytest.mark.parametrize("address", EVERY)
def test_nothing_stands_in_line_that_the_content_policy_forbids(
    client: TestClient, address: str
) -> None:
    answer = client.get(address)
    policy = answer.headers["content-security-policy"]
    assert "unsafe" not in policy
    assert "default-src 'none'" in policy
    page = read_page(answer.text)
    for element in page.every():
        assert element.tag != "style"
        assert "style" not in element.attributes
        assert not [name for name in element.attributes if name.startswith("on")]
    for script in page.every("script"):
        assert script.attributes["src"].startswith(ASSETS)
        assert not script.text


@pytest.mark.parametrize("address", EVERY)
def test_no_page_asks_another_host_for_anything(client: TestClient, address: str) -> None:
    page = page_of(client, address)
    for tag in PIECES:
        for element in page.every(tag):
            given = element.attributes.get("src") or element.attributes.get("href", "")
            assert given.startswith("/")
            assert not given.startswith("//")


@pytest.mark.parametrize("address", EVERY)
def test_ids_are_one_of_a_kind_and_labels_find_their_fields(
    client: TestClient, address: str
) -> None:
    page = page_of(client, address)
    ids = Counter(e.attributes["id"] for e in page.every() if "id" in e.attributes)
    assert [name for name, count in ids.items() if count > 1] == []
    for label in page.every("label"):
        wanted = label.attributes.get("for")
        assert wanted is None or wanted in ids
    for element in page.every():
        for name in ("aria-labelledby", "aria-describedby"):
            assert set(element.attributes.get(name, "").split()) <= set(ids)


@pytest.mark.parametrize("address", EVERY)
def test_every_link_within_leads_somewhere(client: TestClient, address: str) -> None:
    """Links of the page's own kind; one of each path, because all of a kind are made alike."""
    page = page_of(client, address)
    links = {a.attributes["href"] for a in page.every("a")}
    by_path = {re.sub(r"/[a-z0-9-]+$", "/*", link.split("?")[0]): link for link in links}
    for link in by_path.values():
        assert link.startswith(("/", "#"))
        assert link.startswith("#") or client.get(link).status_code == 200, link


@pytest.mark.parametrize("address", EVERY)
def test_a_page_with_its_files_weighs_less_than_150_kb(client: TestClient, address: str) -> None:
    """The limit of the design, pictures left out."""
    files = sum(f.stat().st_size for f in FOLDER.rglob("*") if f.suffix in {".css", ".js", ".svg"})
    assert len(client.get(address).content) + files < LARGEST_PAGE_BYTES


def test_every_ingredient_has_a_page(client: TestClient, known: Known) -> None:
    for ingredient_id in list(known.catalogue.ingredients)[::7]:
        page = page_of(client, f"/ingredients/{ingredient_id}")
        assert page.first("h1").text


def test_every_source_has_a_page(client: TestClient, known: Known) -> None:
    for source_id in list(known.catalogue.sources)[::11]:
        page = page_of(client, f"/sources/{source_id}")
        assert page.first("p", class_="citation").text
