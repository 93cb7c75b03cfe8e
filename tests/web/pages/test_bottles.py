"""Bottles and sources: each number one tap from where it comes from."""

from __future__ import annotations

from fastapi.testclient import TestClient

from service.counter.browse import counts, ingredient_evidence
from service.counter.known import Known
from service.ingredients import plain
from service.web.pages.sources import SHOWN_AT_ONCE, sources_page
from tests.web.pages.conftest import Opener


def names(opened: Opener, address: str) -> list[str]:
    return [e.first("a").text for e in opened(address).every("li", class_="entry")]


def test_the_list_holds_every_bottle_and_no_coffee(opened: Opener, known: Known) -> None:
    listed = names(opened, "/ingredients")
    assert len(listed) == len([i for i in known.catalogue.ingredients.values()
                               if i.role != "coffee"])  # fmt: skip
    assert listed == sorted(listed, key=str.casefold)


def test_the_list_can_be_kept_to_a_role_and_a_word(opened: Opener) -> None:
    found = names(opened, "/ingredients?text=sherry&role=modifier")
    assert "oloroso sherry" in found
    assert "bourbon" not in " ".join(found)


def test_an_empty_list_says_what_to_try(opened: Opener) -> None:
    page = opened("/ingredients?text=zzzzzzzz")
    assert "Try a word of the kind" in page.first(class_="empty").text


def test_an_ingredient_shows_all_its_odorants_with_grade_and_source(
    opened: Opener, known: Known
) -> None:
    evidence = ingredient_evidence(known, "oloroso-sherry")
    page = opened("/ingredients/oloroso-sherry")
    rows = [e for e in page.first("ul", class_="evidence").every("li")]
    lists = list(page.every("ul", class_="evidence"))
    assert len(rows) + sum(len(list(x.every("li"))) for x in lists[1:]) == len(
        evidence.occurrences
    ) + len(evidence.words)
    for entries in lists:
        for row in entries.every("li"):
            assert row.first(class_="grade").text in {"measured", "derived", "recalled", "estimate"}
            link = row.first("p", class_="citation").first("a").attributes["href"]
            assert link.removeprefix("/sources/") in known.catalogue.sources


def test_a_composition_shows_its_range(opened: Opener, known: Known) -> None:
    abv = known.catalogue.ingredients["oloroso-sherry"].composition.abv
    facts = opened("/ingredients/oloroso-sherry").first("dl", class_="facts").text
    assert f"{abv.mid * 100:g} % vol" in facts
    assert f"{abv.low * 100:g} to {abv.high * 100:g}" in facts


def test_an_unknown_bottle_is_told_as_a_page(opened: Opener) -> None:
    page = opened("/ingredients/moonbeam", status=404)
    assert "moonbeam" in page.first(class_="problem").text


def test_a_source_lists_what_rests_on_it(opened: Opener, known: Known) -> None:
    occurrence = next(o for o in known.catalogue.occurrences if o.ingredient == "oloroso-sherry")
    page = opened(f"/sources/{occurrence.source}")
    assert "oloroso sherry" in [a.text for a in page.every("a")]


def test_sources_are_found_by_author_and_come_a_hundred_at_a_time(
    opened: Opener, known: Known
) -> None:
    first = opened("/sources")
    assert len(list(first.every("li", class_="citation"))) == 100
    later = next(a for a in first.every("a") if a.text == "Later")
    assert list(opened(later.attributes["href"]).every("li", class_="citation"))
    source = next(iter(known.catalogue.sources.values()))
    author = source.citation.split(",")[0]
    found = opened("/sources", [("text", author)])
    assert source.citation in [a.text for a in found.every("a")]


def test_the_dataset_page_counts_what_there_is_and_names_its_licence(
    opened: Opener, known: Known
) -> None:
    page = opened("/dataset")
    told = {f.first("dt").text: f.first(class_="value").text for f in page.every(class_="figure")}
    assert told["sources"] == str(counts(known.catalogue)["sources"])
    assert "Creative Commons" in page.text
    assert known.catalogue.version in page.text


def test_every_table_can_be_taken_along_as_it_stands(client: TestClient, opened: Opener) -> None:
    from pairing_data import FOLDER

    links = [e.first("a").attributes["href"] for e in opened("/dataset").every(class_="stacked")]
    assert len(links) > 15
    for link in links:
        file = FOLDER / link.removeprefix("/dataset/")
        assert client.get(link).content == file.read_bytes()
    assert client.get("/dataset/tables/secrets.csv").status_code == 404
    assert client.get("/dataset/datapackage.json").json()["name"] == "pairing-data"


def test_no_source_stands_under_its_year_and_accents_do_not_move_a_name(known: Known) -> None:
    """A work of unknown author goes by its title, among the others."""
    told = []
    for start in range(0, len(known.catalogue.sources), SHOWN_AT_ONCE):
        told += [line.citation for line in sources_page(known, "", start).sources]
    assert len(told) == len(known.catalogue.sources)
    assert not [citation for citation in told if citation[:1].isdigit()]
    names = [plain(citation)[:4] for citation in told]
    assert names == sorted(names)
