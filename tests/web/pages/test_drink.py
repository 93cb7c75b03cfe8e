"""One drink: amounts that move on the lattice, and the same reading as the counter's."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

import pytest
from fastapi.testclient import TestClient
from starlette.datastructures import QueryParams

from service.counter.known import Known
from service.counter.measure import measure
from service.taste import Verdict
from service.web.pages.drink_form import DrinkAsked, drink_asked, remedied
from service.web.pages.telling import number
from tests.web.pages.conftest import Opener
from tests.web.pages.reading import Element

POURS = [("pour", "bourbon=50ml"), ("pour", "sweet-vermouth=20ml"),
         ("pour", "aromatic-bitters=1.6ml")]  # fmt: skip
TOO_SWEET = [("pour", "bourbon=30ml"), ("pour", "px-sherry=45ml")]


@pytest.fixture(scope="module")
def page(opened: Opener) -> Element:
    return opened("/drink", POURS)


def asked_of(known: Known, fields: list[tuple[str, str]]) -> DrinkAsked:
    return drink_asked(known, QueryParams(fields))


def moved_to(client: TestClient, fields: list[tuple[str, str]]) -> dict[str, list[str]]:
    answer = client.get("/drink", params=fields, follow_redirects=False)
    assert answer.status_code == 303
    return parse_qs(urlsplit(answer.headers["location"]).query)


def test_the_page_tells_what_the_counter_measures(page: Element, known: Known) -> None:
    reading = measure(known, asked_of(known, POURS).measure).reading
    figures = {
        f.first("dt").text: f.first(class_="value").text for f in page.every(class_="figure")
    }
    assert figures["in the glass"] == f"{number(reading.after.volume_ml.mid, 2)} mL"
    assert figures["strength"] == f"{number(reading.after.abv.mid * 100, 3)} % vol"
    assert figures["caffeine"] == f"{number(reading.after.caffeine_mg.mid, 2)} mg"
    told = {Verdict.INSIDE: "In balance", Verdict.EDGE: "On the edge",
            Verdict.OUTSIDE: "Out of balance"}  # fmt: skip
    assert page.first(class_="verdict").text.startswith(told[reading.verdict])


def test_amounts_stand_in_the_measure_of_their_bottle(page: Element) -> None:
    assert [o.text for o in page.every("output")] == ["50 mL", "20 mL", "2 dashes", "15 g", "30 s"]


@pytest.mark.parametrize(
    ("button", "expected"),
    [
        ("less-bourbon", "bourbon=45ml"),
        ("more-sweet-vermouth", "sweet-vermouth=25ml"),
        ("more-aromatic-bitters", "aromatic-bitters=2.4ml"),
    ],
)
def test_a_button_moves_one_amount_by_one_step(
    page: Element, client: TestClient, button: str, expected: str
) -> None:
    change = page.first("button", id=button).attributes["value"]
    assert expected in moved_to(client, [*POURS, ("change", change)])["pour"]


def test_an_amount_between_two_steps_goes_to_the_next_one(known: Known, opened: Opener) -> None:
    page = opened("/drink", [("pour", "bourbon=47ml")])
    assert page.first("button", id="less-bourbon").attributes["value"] == "bourbon=45"
    assert page.first("button", id="more-bourbon").attributes["value"] == "bourbon=50"


def test_the_last_step_down_takes_the_bottle_out(client: TestClient) -> None:
    left = moved_to(client, [*POURS, ("change", "aromatic-bitters=0")])
    assert left["pour"] == ["bourbon=50ml", "sweet-vermouth=20ml"]


@pytest.mark.parametrize(
    ("change", "name", "value"),
    [("dose_g=16", "dose_g", "16"), ("seconds=35", "seconds", "35")],
)
def test_coffee_and_stirring_move_too(
    client: TestClient, change: str, name: str, value: str
) -> None:
    assert moved_to(client, [*POURS, ("change", change)])[name] == [value]


def test_a_bottle_can_be_added_by_its_trade_name(client: TestClient) -> None:
    assert "orange-bitters=0.8ml" in moved_to(client, [*POURS, ("add", "orange bitters")])["pour"]


def test_two_bitters_share_the_dashes_of_one(client: TestClient) -> None:
    picks = [("base", "bourbon"), ("bitters", "orange-bitters"), ("bitters", "mole-bitters")]
    poured = moved_to(client, picks)["pour"]
    assert poured == ["bourbon=50ml", "orange-bitters=0.8ml", "mole-bitters=0.8ml"]


def test_every_remedy_that_is_offered_works_when_it_is_tapped(known: Known, opened: Opener) -> None:
    asked = asked_of(known, TOO_SWEET)
    reading = measure(known, asked.measure).reading
    assert reading.verdict is not Verdict.INSIDE
    reaching = [r for r in reading.remedies if r.reaches]
    page = opened("/drink", TOO_SWEET)
    links = [a.attributes["href"] for a in page.first("ul", class_="remedies").every("a")]
    assert links
    for remedy, link in zip(reaching or reading.remedies, links, strict=False):
        assert remedied(asked, remedy).address == link
        again = measure(
            known, asked_of(known, list(QueryParams(urlsplit(link).query).multi_items())).measure
        )
        if remedy.reaches:
            assert again.reading.verdict is Verdict.INSIDE


def test_without_the_coffee_nothing_is_said_of_it(opened: Opener) -> None:
    page = opened("/drink", [*POURS, ("coffee", "none")])
    figures = [f.first("dt").text for f in page.every(class_="figure")]
    assert "drains in" not in figures
    titles = [f.text for f in page.every("figcaption")]
    assert "Which notes they share" not in titles
    back = next(a for a in page.every("a") if a.text == "Pour it through the coffee")
    assert "coffee=none" not in back.attributes["href"]


def test_a_misread_coffee_keeps_the_drink_and_what_was_typed(opened: Opener) -> None:
    page = opened("/drink", [*POURS, ("dose_g", "much")], status=422)
    assert page.first("input", id="dose_g").attributes["value"] == "much"
    assert "is no number" in page.first(class_="field-error").text
    assert len(list(page.every(class_="stepper"))) == 5


@pytest.mark.parametrize(
    ("fields", "status", "said"),
    [
        ([], 404, "nothing was picked"),
        ([("base", "aromatic-bitters")], 422, "picked as base"),
        ([("bitters", "bourbon")], 422, "picked as bitters"),
        ([("pour", "moonbeam=45ml")], 404, "moonbeam"),
        ([("pour", "bourbon=lots")], 422, "is not an amount"),
        ([("pour", "lemon-peel=5ml")], 422, "garnish"),
        ([("pour", "bourbon=50ml"), ("seconds", "900")], 422, "outside 0 to 180"),
    ],
)
def test_a_drink_that_cannot_be_is_told_as_a_page(
    opened: Opener, fields: list[tuple[str, str]], status: int, said: str
) -> None:
    page = opened("/drink", fields, status=status)
    assert said in page.first(class_="problem").text.lower() + page.text


def test_the_same_bottle_twice_is_one_amount(known: Known) -> None:
    asked = asked_of(known, [("pour", "bourbon=20ml"), ("pour", "bourbon=30ml")])
    assert asked.pours == (("bourbon", 50.0),)


def test_the_chance_and_the_cautions_are_told(page: Element) -> None:
    assert "chance that it is in balance is" in page.text
    cautions = page.first("ul", class_="cautions").text
    assert "Coffee may hide how drunk a guest feels" in cautions
