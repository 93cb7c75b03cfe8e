"""Brainstorm: the read-back, the columns, and every suggestion with its why and its checks."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

import pytest
from fastapi.testclient import TestClient

from service.counter.coffees import Coffee
from service.counter.known import Known
from service.counter.suggest import Question, Suggestion, pairings
from service.ingredients.records import Role
from service.web.pages.pairings import ticked_of, ticked_words
from service.web.pages.why import reason_lines
from tests.web.pages.conftest import Opener
from tests.web.pages.reading import Element

BAG = "dark chocolate, dried cherry and a bit of smoke, quench, hazelnutt, no citrus"
ROLES = ("base", "modifier", "bitters")


@pytest.fixture(scope="module")
def page(opened: Opener) -> Element:
    return opened("/pairings", [("notes", BAG)])


def cards_of(page: Element, role: str) -> list[Element]:
    return list(page.first("fieldset", id=role).every("li", class_="suggestion"))


def test_the_bag_is_read_back_word_by_word(page: Element) -> None:
    heard = [e.text for e in page.first("ul", class_="heard").every("li")]
    assert heard == [
        "dark chocolate",
        "dried cherry",
        "smoke a little",
        "hazelnut for “hazelnutt”",
        "citrus not in it",
    ]


def test_an_unknown_word_is_shown_with_words_that_take_its_place(
    page: Element, known: Known
) -> None:
    misheard = page.first(class_="misheard")
    assert "“quench” is not known here" in misheard.text
    for link in misheard.every("a", class_="word"):
        notes = parse_qs(urlsplit(link.attributes["href"]).query)["notes"][0]
        assert "quench" not in notes
        assert notes.startswith("dark chocolate, dried cherry")
        if link.text != "leave it out":
            assert link.text in notes
            assert known.vocabulary.nearest(link.text)


def test_a_coffee_without_notes_says_that_it_is_guessed_from_its_kind(opened: Opener) -> None:
    assert "No tasting notes were given" in opened("/pairings").first(id="read-back").text


@pytest.mark.parametrize("role", ROLES)
def test_the_columns_are_those_of_the_counter(page: Element, known: Known, role: str) -> None:
    answer = pairings(known, Question(Coffee(notes=BAG), limit=5))
    expected = [s.ingredient.id for s in answer.suggestions[Role(role)]]
    shown = [c.first("input").attributes["value"] for c in cards_of(page, role)]
    assert shown == expected


@pytest.mark.parametrize("role", ROLES)
def test_every_suggestion_says_why_how_sure_and_whether_it_balances(
    page: Element, role: str
) -> None:
    for card in cards_of(page, role):
        assert card.first(class_="verdict").text
        assert "evidence" in card.first(class_="confidence").text
        checks = list(card.every(class_="taste"))
        assert [c.first(class_="name").text for c in checks] == ["Sweetness", "Bitterness"]
        for check in checks:
            assert "of 15 points through the coffee" in check.first("svg").attributes["aria-label"]
        assert list(card.first("ul", class_="reasons").every("li"))
        assert "before the coffee" in card.first("details").text


def test_a_suggestion_out_of_balance_comes_with_a_remedy(page: Element) -> None:
    for role in ROLES:
        for card in cards_of(page, role):
            inside = "inside" in card.first(class_="verdict").attributes["class"]
            assert inside or "Remedy." in card.text


def test_the_reasons_shown_sum_to_the_score(known: Known) -> None:
    """Up to the rounding of each line to two decimals."""
    answer = pairings(known, Question(Coffee(notes=BAG), limit=5))
    for found in answer.suggestions.values():
        for suggestion in found:
            lines = reason_lines(known.catalogue, suggestion.affinity)
            told = sum(float(line.amount.replace("−", "-")) for line in lines)
            assert told == pytest.approx(suggestion.affinity.score, abs=0.005 * (len(lines) + 4))


def test_the_best_of_each_column_is_ticked_so_that_one_tap_pours_it(
    page: Element, client: TestClient
) -> None:
    ticked = [e for e in page.every("input", class_="pick") if "checked" in e.attributes]
    assert [e.attributes["name"] for e in ticked] == list(ROLES)
    fields = [(e.attributes["name"], e.attributes["value"]) for e in ticked]
    answer = client.get("/drink", params=[*fields, ("notes", BAG)], follow_redirects=False)
    assert answer.status_code == 303
    query = parse_qs(urlsplit(answer.headers["location"]).query)
    assert [p.split("=")[0] for p in query["pour"]] == [value for _, value in fields]
    assert query["notes"] == [BAG]


LEMON = "lemon, black tea, sage"


@pytest.mark.parametrize("shown", ["", *ROLES])
@pytest.mark.parametrize("notes", [BAG, LEMON, "sweet cherry, plum", "wormwood, herbs, mint"])
def test_what_is_ticked_is_the_highest_in_balance(opened: Opener, notes: str, shown: str) -> None:
    """Inside before edge before outside; of the same verdict the highest ranked; words say so."""
    page = opened("/pairings", [("notes", notes), ("show", shown)])
    for role in ROLES:
        cards = cards_of(page, role)
        verdicts = [card.first(class_="verdict").attributes["class"].split()[1] for card in cards]
        ticked = ["checked" in c.first("input", class_="pick").attributes for c in cards]
        best = next(v for v in ("inside", "edge", "outside") if v in verdicts)
        assert ticked == [n == verdicts.index(best) for n in range(len(cards))]
        said = [p.text for p in page.first(id=role).every("p", class_="ticked")]
        assert bool(said) is not (best == "inside" and ticked[0])
        if said:
            assert cards[ticked.index(True)].first("label").text in said[0]
            assert ("None of these is in balance" in said[0]) is (best != "inside")


@pytest.mark.parametrize(
    ("verdicts", "ticked", "words"),
    [
        (["inside", "edge"], 0, ""),
        (["outside", "edge", "inside", "inside"], 2, "first of these in balance"),
        (["outside", "outside", "edge"], 2, "on the edge of it"),
        (["outside", "outside"], 0, "suits the coffee best"),
    ],
)
def test_no_verdict_is_passed_over(
    known: Known, verdicts: list[str], ticked: int, words: str
) -> None:
    every = pairings(known, Question(Coffee(notes=LEMON), limit=25)).suggestions
    of_verdict: dict[str, list[Suggestion]] = {}
    for suggestion in (s for found in every.values() for s in found):
        of_verdict.setdefault(str(suggestion.standard.reading.verdict), []).append(suggestion)
    cards = [of_verdict[verdict].pop() for verdict in verdicts]
    assert ticked_of(cards) == ticked
    assert words in ticked_words(cards, ticked)
    assert bool(ticked_words(cards, ticked)) is bool(words)


def test_of_bitters_several_may_be_picked_and_of_bases_one(page: Element) -> None:
    kinds = {e.attributes["name"]: e.attributes["type"] for e in page.every("input", class_="pick")}
    assert kinds == {"base": "radio", "modifier": "radio", "bitters": "checkbox"}


def test_one_column_can_be_made_longer(opened: Opener) -> None:
    page = opened("/pairings", [("notes", BAG), ("show", "modifier")])
    assert [len(cards_of(page, role)) for role in ROLES] == [5, 12, 5]


def test_the_slider_stays_where_it_was_put_and_turns_custom_off(opened: Opener) -> None:
    page = opened("/pairings", [("notes", BAG), ("novelty", "1")])
    assert page.first("input", id="novelty").attributes["value"] == "1"
    told = page.first("form", id="picks").text
    assert "old pair" not in told
    assert "books and lists" not in told
    word = page.first("a", class_="word").attributes["href"]
    assert parse_qs(urlsplit(word).query)["novelty"] == ["1"]
