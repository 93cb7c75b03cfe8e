"""Finding an ingredient by what a bartender calls it."""

import pytest

from service.ingredients import Catalogue, NameIndex, near_names, plain
from service.kit import NotFound


@pytest.fixture(scope="module")
def names(catalogue: Catalogue) -> NameIndex:
    return NameIndex.of(catalogue.ingredients.values())


def test_names_are_compared_without_case_accents_or_dashes() -> None:
    assert plain(" Crème-de  CACAO ") == "creme de cacao"


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("sweet-vermouth", "sweet-vermouth"),
        ("Sweet Vermouth", "sweet-vermouth"),
        ("oloroso", "oloroso-sherry"),
        ("nocino", "walnut-liqueur"),
    ],
)
def test_ids_names_and_trade_words_find_the_same_bottle(
    names: NameIndex, said: str, meant: str
) -> None:
    assert names.find(said).id == meant


def test_a_slip_is_not_guessed_but_the_nearest_are_named(names: NameIndex) -> None:
    with pytest.raises(NotFound, match="sweet vermouth"):
        names.find("swet vermuth", field="pours.0.ingredient")


def test_a_megabyte_of_nonsense_is_not_echoed_back(names: NameIndex) -> None:
    with pytest.raises(NotFound) as caught:
        names.find("x" * 1_000_000)
    assert len(caught.value.message) < 300


def test_search_puts_names_that_hold_the_word_first(names: NameIndex) -> None:
    found = [i.id for i in names.search("amaro", limit=20)]
    assert {"light-amaro", "alpine-amaro", "fernet"} & set(found[:12])


@pytest.mark.parametrize(
    "invented",
    ["moonbeam", "campfire", "kelp syrup", "net loft vermouth", "nothing known", "xyz", "aaaa", ""],
)
def test_a_word_that_only_shares_letters_or_a_common_word_gets_no_proposal(
    names: NameIndex, invented: str
) -> None:
    assert near_names(names.names, invented, limit=10) == []


@pytest.mark.parametrize(
    ("slip", "meant"),
    [
        ("swet vermuth", "sweet vermouth"),      # letters left out
        ("bourbonn", "bourbon"),                 # a letter too many
        ("creme de cacoa", "creme de cacao"),    # two letters changed places
        ("walnut likeur", "walnut liqueur"),     # as it sounds
        ("amonitllado", "amontillado"),
        ("tekila", "tequila"),
        ("anejo tequilla", "tequila anejo"),     # words in another order
        ("london dri gin", "london dry gin"),
        ("walnutliqueur", "walnut liqueur"),     # run together
        ("sweetvermuth", "sweet vermouth"),
        ("hazel liqueur", "hazelnut liqueur"),   # only begun
    ],
)  # fmt: skip
def test_true_slips_are_understood(names: NameIndex, slip: str, meant: str) -> None:
    assert near_names(names.names, slip)[0] == meant


def test_each_ingredient_is_proposed_once(names: NameIndex) -> None:
    with pytest.raises(NotFound) as caught:
        names.find("bourbonn")
    proposed = caught.value.message.partition("nearest: ")[2].split(", ")
    found = [names.names[name].id for name in proposed]
    assert len(found) == len(set(found))
