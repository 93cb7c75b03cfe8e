"""Instead of a bottle that is out: the counter's answer, flags first, a tap from the drink."""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

from service.counter.known import Known
from service.counter.swap import SwapQuestion, swap
from service.recommend.swap import Rescue, StandIns
from tests.web.pages.conftest import Opener

POURS = [("pour", "bourbon=50ml"), ("pour", "sweet-vermouth=20ml"),
         ("pour", "aromatic-bitters=1.6ml")]  # fmt: skip


def test_an_empty_form_says_what_it_is_for(opened: Opener) -> None:
    page = opened("/instead")
    assert "what the guest will notice" in page.text
    assert len(list(page.first("datalist").every("option"))) > 200


def test_without_a_drink_the_nearest_bottles_are_told(opened: Opener, known: Known) -> None:
    answer = swap(known, SwapQuestion("oloroso", limit=6))
    assert isinstance(answer, StandIns)
    page = opened("/instead", [("out", "out of oloroso")])
    assert page.first("h1").text == "Instead of oloroso sherry"
    names = [h.text for h in page.every("h3")]
    assert names == [known.catalogue.ingredients[o.ingredient].name for o in answer.options]


def test_in_a_drink_every_way_has_its_amounts_and_leads_to_its_drink(
    opened: Opener, known: Known
) -> None:
    pours = [("bourbon", 50.0), ("sweet-vermouth", 20.0), ("aromatic-bitters", 1.6)]
    answer = swap(known, SwapQuestion("sweet-vermouth", pours=pours, limit=6))
    assert isinstance(answer, Rescue)
    page = opened("/instead", [("out", "sweet-vermouth"), *POURS])
    ways = list(page.first("ol", class_="ways").every("li", class_="suggestion"))
    assert len(ways) >= len(answer.swaps[:6])
    for way in ways:
        assert "sweet red vermouth 20 mL → none" in way.first("ul", class_="moves").text
        address = way.first("a", class_="button").attributes["href"]
        poured = parse_qs(urlsplit(address).query)["pour"]
        assert not any(pour.startswith("sweet-vermouth=") for pour in poured)
        assert opened(address).first(class_="verdict").text == way.first(class_="verdict").text


def test_what_is_new_to_mind_stands_before_the_amounts(opened: Opener, known: Known) -> None:
    pours = [("bourbon", 50.0), ("curacao", 20.0)]
    answer = swap(known, SwapQuestion("curacao", pours=pours, limit=6))
    assert isinstance(answer, Rescue)
    flagged = {s.ingredients: s.flags for s in (*answer.swaps, *answer.twos) if s.flags}
    page = opened("/instead", [("out", "curacao"), ("pour", "bourbon=50ml"),
                               ("pour", "curacao=20ml")])  # fmt: skip
    shown = {w.attributes["id"].removeprefix("way-"): w for w in page.every(class_="suggestion")}
    for ingredients, flags in flagged.items():
        way = shown.get("-".join(ingredients))
        if way is not None:
            for flag in flags:
                assert way.text.index(flag.words) < way.text.index("→")


def test_an_unknown_bottle_keeps_what_was_typed(opened: Opener) -> None:
    page = opened("/instead", [("out", "moonbeam juice")], status=422)
    assert page.first("input", id="out").attributes["value"] == "moonbeam juice"
    assert page.first(id="out-error").text


def test_the_drink_leads_to_the_rescue_of_each_of_its_bottles(opened: Opener) -> None:
    page = opened("/drink", POURS)
    links = page.first("details", id="bottle-out").every("a")
    addresses = [a.attributes["href"] for a in links]
    assert [parse_qs(urlsplit(a).query)["out"][0] for a in addresses] == [
        "bourbon",
        "sweet-vermouth",
        "aromatic-bitters",
    ]


def test_what_to_say_to_a_guest_stands_large_and_staff_unfold_the_rest(opened: Opener) -> None:
    page = opened("/drink", POURS)
    assert len(page.first("p", class_="guest").text.split()) > 6
    assert "alcohol" in page.first("details", id="staff").text
