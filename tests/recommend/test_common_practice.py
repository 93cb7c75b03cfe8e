"""What a bartender would expect of a coffee. Common practice, no source."""

from __future__ import annotations

import pytest

from service.counter.known import Known
from service.ingredients import CoffeeProfile
from service.ingredients.records import Process, Roast, Role
from service.recommend import of_role, rank
from tests.recommend.conftest import Places, aroma_of_bag

MEDIUM = CoffeeProfile()
DARK = CoffeeProfile(Roast.DARK)
ROUND = CoffeeProfile(Roast.MEDIUM_DARK, Process.NATURAL)
LIGHT = CoffeeProfile(Roast.LIGHT)
LIGHT_NATURAL = CoffeeProfile(Roast.LIGHT, Process.NATURAL)
CHOCOLATE = "dark chocolate"
CARAMEL = "dark chocolate, caramel, hazelnut"
FLOWERS = "bergamot, jasmine, peach"
SMOKE = "smoke, tobacco, dark chocolate"
CITRUS = "lemon, orange, grapefruit"
BERRIES = "blueberry, strawberry, cherry"
THIRD, HALF = 1 / 3, 1 / 2

# coffee, its bag, role, what is expected, and how far up
EXPECTED = [
    (MEDIUM, CHOCOLATE, Role.MODIFIER, "banana-liqueur", THIRD),
    (MEDIUM, CHOCOLATE, Role.BITTERS, "walnut-bitters", THIRD),
    (MEDIUM, CHOCOLATE, Role.BITTERS, "chocolate-bitters", THIRD),
    (ROUND, CARAMEL, Role.BASE, "bourbon", THIRD),
    (ROUND, CARAMEL, Role.BASE, "aged-rum", THIRD),
    (ROUND, CARAMEL, Role.BASE, "cognac", HALF),
    (ROUND, CARAMEL, Role.BASE, "rye-whiskey", HALF),
    (LIGHT, FLOWERS, Role.MODIFIER, "jasmine-liqueur", 0.05),
    (LIGHT, FLOWERS, Role.MODIFIER, "peach-liqueur", 0.05),
    (LIGHT, FLOWERS, Role.MODIFIER, "bergamot-liqueur", 0.1),
    (LIGHT, FLOWERS, Role.MODIFIER, "tea-liqueur", THIRD),
    (LIGHT, FLOWERS, Role.BITTERS, "peach-bitters", 0.1),
    (LIGHT, FLOWERS, Role.BASE, "london-gin", THIRD),
    (DARK, SMOKE, Role.BASE, "mezcal", 0.25),
    (DARK, SMOKE, Role.BASE, "peated-malt-whisky", 0.25),
    (DARK, SMOKE, Role.BITTERS, "smoke-bitters", THIRD),
    (LIGHT, CITRUS, Role.BASE, "london-gin", THIRD),
    (LIGHT, CITRUS, Role.MODIFIER, "triple-sec", 0.1),
    (LIGHT, CITRUS, Role.MODIFIER, "lemon-liqueur", 0.15),
    (LIGHT, CITRUS, Role.BITTERS, "orange-bitters", THIRD),
    (LIGHT, CITRUS, Role.BITTERS, "lemon-bitters", THIRD),
    (LIGHT_NATURAL, BERRIES, Role.MODIFIER, "strawberry-liqueur", 0.1),
    (LIGHT_NATURAL, BERRIES, Role.MODIFIER, "cherry-liqueur", 0.1),
    (LIGHT_NATURAL, BERRIES, Role.MODIFIER, "ruby-port", 0.1),
    (LIGHT_NATURAL, BERRIES, Role.BITTERS, "cherry-bitters", 0.1),
]


@pytest.mark.parametrize(("profile", "words", "role", "expected", "share"), EXPECTED)
def test_what_is_expected_of_a_coffee_ranks_high(
    ranked: Places, profile: CoffeeProfile, words: str, role: Role, expected: str, share: float
) -> None:
    order = ranked(profile, words, role)
    assert order.index(expected) < share * len(order), order[:12]


@pytest.mark.parametrize("role", [Role.BASE, Role.MODIFIER, Role.BITTERS])
def test_rankings_differ_between_coffees(ranked: Places, role: Role) -> None:
    bags = [(ROUND, CARAMEL), (LIGHT, FLOWERS), (LIGHT, CITRUS), (LIGHT_NATURAL, BERRIES)]
    tops = [set(ranked(profile, words, role)[:8]) for profile, words in bags]
    pairs = [(a, b) for i, a in enumerate(tops) for b in tops[i + 1 :]]
    shared = sum(len(a & b) / 8 for a, b in pairs) / len(pairs)
    assert shared < 0.55


def test_a_smoky_bag_moves_smoky_bottles_up(ranked: Places) -> None:
    smoky, plain = ranked(DARK, SMOKE, Role.BASE), ranked(DARK, "", Role.BASE)
    assert smoky.index("mezcal") < plain.index("mezcal")
    assert smoky.index("peated-malt-whisky") < plain.index("peated-malt-whisky")


def test_what_goes_against_the_bag_does_not_lead(ranked: Places) -> None:
    order = ranked(LIGHT, FLOWERS, Role.MODIFIER)
    for heavy in ("cacao-liqueur-dark", "coffee-liqueur", "px-sherry"):
        assert order.index(heavy) > 10


def test_from_tried_to_new_custom_gives_way(known: Known) -> None:
    from dataclasses import replace

    knowledge = known.knowledge
    aroma = aroma_of_bag(known, MEDIUM, CHOCOLATE)
    bottles = of_role(known.catalogue, Role.MODIFIER)
    tried, new = (
        rank(knowledge, aroma, bottles, replace(knowledge.weights, novelty=n), 10)
        for n in (0.0, 1.0)
    )
    attested = knowledge.custom.specs[knowledge.custom.index["coffee"]]

    def already_poured(answers: list) -> int:  # type: ignore[type-arg]
        return sum(attested[knowledge.custom.index[a.b]] > 0 for a in answers)

    assert already_poured(tried) > already_poured(new)


# Beside chocolate the bag names something else, and the kitchen's pairs still hold.
@pytest.mark.parametrize(
    ("words", "share"),
    [
        ("dark chocolate, hazelnut", THIRD),
        ("dark chocolate, cherry", THIRD),
        ("dark chocolate, hazelnut, cherry", HALF),
        ("dark chocolate, orange", HALF),
    ],
)
def test_banana_stays_with_chocolate_in_company(ranked: Places, words: str, share: float) -> None:
    order = ranked(MEDIUM, words, Role.MODIFIER)
    assert order.index("banana-liqueur") < share * len(order)


def test_a_coffee_without_notes_is_led_by_brown_spirits(ranked: Places) -> None:
    order = ranked(MEDIUM, "", Role.BASE)
    brown = {"dark-rum", "aged-rum", "cognac", "grape-brandy", "solera-brandy", "irish-whiskey"}
    assert len(brown & set(order[:6])) >= 4
    assert "vodka" not in order[:6]
    assert order.index("cherry-spirit") > 0
