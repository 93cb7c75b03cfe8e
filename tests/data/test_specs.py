"""The public specifications and the coffee combinations: breadth, links, and printed facts.

Facts of the international bartenders' official list are recalled from its editions of 1961, 2011
and 2020; facts marked "read" were read in a scan of the printed page.
"""

from __future__ import annotations

import csv
from collections import Counter, defaultdict
from itertools import combinations

import pytest

from pairing_data import table_path
from service.kit.units import BARSPOON_ML, DASH_ML, US_FLUID_OUNCE_ML

Row = dict[str, str]
COFFEE = "coffee"
SUGAR_ML_PER_LUMP = 4.0 / 1.587  # 4 g of sucrose; crystal density 1.587 g/mL (CRC Handbook)


def rows(table: str) -> list[Row]:
    with table_path(table).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


SPECS = {row["spec_id"]: row for row in rows("specs")}
INGREDIENTS = {row["ingredient_id"]: row for row in rows("ingredients")}
SOURCES = {row["source_id"]: row for row in rows("sources")}
COMBINATIONS = rows("combinations")
POURS: dict[str, list[Row]] = defaultdict(list)
for _row in rows("spec_pours"):
    POURS[_row["spec_id"]].append(_row)
REFERENCES = [name for name, row in SPECS.items() if row["reference"] == "yes"]


def recipe(spec_id: str) -> dict[str, float]:
    return {row["ingredient_id"]: float(row["volume_ml"]) for row in POURS[spec_id]}


def role(ingredient_id: str) -> str:
    return COFFEE if ingredient_id == COFFEE else INGREDIENTS[ingredient_id]["role"]


def strength_percent(spec_id: str) -> float:
    parts = recipe(spec_id)
    ethanol = sum(ml * float(INGREDIENTS[i]["abv_percent"]) for i, ml in parts.items())
    return ethanol / sum(parts.values())


def pairs_of_roles() -> dict[tuple[str, str], set[tuple[str, str]]]:
    found: dict[tuple[str, str], set[tuple[str, str]]] = defaultdict(set)
    for spec_id in SPECS:
        for a, b in combinations(sorted(recipe(spec_id)), 2):
            first, second = sorted((role(a), role(b)))
            found[first, second].add((a, b))
    return found


# Breadth.


def test_there_are_at_least_450_specifications() -> None:
    assert len(SPECS) >= 450


def test_at_least_400_stand_in_the_official_list_or_in_a_manual_from_before_1929() -> None:
    public = [
        row
        for row in SPECS.values()
        if SOURCES[row["source_id"]]["standard"].startswith("IBA official list")
        or int(row["year"]) < 1929
    ]
    assert len(public) >= 400


def test_they_come_from_at_least_30_sources_most_of_them_before_1929() -> None:
    years = {row["source_id"]: int(row["year"]) for row in SPECS.values()}
    assert len(years) >= 30
    assert sum(year < 1929 for year in years.values()) >= 25


def test_at_least_40_drinks_define_the_balance_band() -> None:
    assert len({SPECS[name]["name"] for name in REFERENCES}) >= 40


def test_the_pairs_that_the_evaluation_needs_are_many() -> None:
    found = pairs_of_roles()
    assert len(found["base", "modifier"]) >= 180
    assert len(found["base", "bitters"]) >= 45
    assert len(found["bitters", "modifier"]) >= 50


def test_coffee_is_poured_in_at_least_30_specifications_with_at_least_20_partners() -> None:
    with_coffee = [recipe(name) for name in SPECS if COFFEE in recipe(name)]
    assert len(with_coffee) >= 30
    partners = {i for parts in with_coffee for i in parts if role(i) in ("base", "modifier")}
    assert len(partners) >= 20


# Soundness.


def test_every_specification_has_two_pours_or_more_and_every_pour_a_specification() -> None:
    assert set(POURS) == set(SPECS)
    assert min(len(lines) for lines in POURS.values()) >= 2


def test_every_pour_is_a_known_ingredient_or_coffee() -> None:
    poured = {row["ingredient_id"] for lines in POURS.values() for row in lines}
    assert poured - {COFFEE} <= set(INGREDIENTS)


def test_every_specification_names_a_known_source() -> None:
    assert {row["source_id"] for row in SPECS.values()} <= set(SOURCES)


def test_positions_run_from_one_and_no_ingredient_comes_twice() -> None:
    for lines in POURS.values():
        assert [int(row["position"]) for row in lines] == list(range(1, len(lines) + 1))
        assert len({row["ingredient_id"] for row in lines}) == len(lines)


def test_no_two_specifications_are_the_same() -> None:
    seen = Counter(
        (row["name"], tuple(sorted(recipe(name).items()))) for name, row in SPECS.items()
    )
    assert [key for key, count in seen.items() if count > 1] == []


def test_volumes_are_those_of_one_serve() -> None:
    # From a drop (0.05 mL) to a cup of hot coffee. What has no id (juice, egg, sparkling wine)
    # stands in the note, so only a drink without a note must be whole.
    for name in SPECS:
        parts = recipe(name)
        assert all(0.05 <= ml <= 180.0 for ml in parts.values()), name
        assert sum(parts.values()) <= 260.0, name
        if not POURS[name][0]["note"]:
            assert sum(parts.values()) >= 40.0, name


def test_bitters_are_dashes_but_for_the_drinks_printed_otherwise() -> None:
    # Thomas 1862 (a third of bitters, half a teaspoon), Engel 1878 (a teaspoon) and the official
    # list's rye and bitters sour (45 mL) and gin casino (10 mL).
    printed_otherwise = {
        "alabazam-engel-1878",
        "brandy-champerelle-thomas-1862",
        "casino-iba-2011",
        "trinidad-sour-iba-2020",
    }
    heavy = {
        name
        for name in SPECS
        for i, ml in recipe(name).items()
        if role(i) == "bitters" and ml > 6 * DASH_ML
    }
    assert heavy == printed_otherwise


def test_what_is_called_measured_stands_in_a_source_that_was_opened() -> None:
    measured = [*SPECS.values(), *COMBINATIONS]
    opened = {r["source_id"] for r in measured if r["grade"] == "measured"}
    assert {SOURCES[name]["how"] for name in opened} == {"read"}


# The drinks of the balance band.


def test_reference_drinks_are_stirred_or_built() -> None:
    assert {SPECS[name]["method"] for name in REFERENCES} <= {"stirred", "built"}


@pytest.mark.parametrize("word", ["juice", "egg", "cream", "soda", "seltzer", "wine", "milk"])
def test_the_whole_reference_drink_is_in_its_pours(word: str) -> None:
    noted = [row["note"] for name in REFERENCES for row in POURS[name]]
    assert not [note for note in noted if word in note]


def test_reference_drinks_have_the_strength_of_stirred_drinks_before_the_ice() -> None:
    # Arnold, Liquid Intelligence (2014): 29-43 % before dilution, from memory. Wine-based classics
    # (sherry and vermouth) lie below it, and so do parts of three bottles of which two are wine.
    inside = [name for name in REFERENCES if 28.0 <= strength_percent(name) <= 43.5]
    assert len(inside) >= 0.85 * len(REFERENCES)
    assert strength_percent("bamboo-iba-1961") < 20.0


# How the specifications are known.


def test_a_good_part_of_the_specifications_was_read() -> None:
    assert sum(row["grade"] == "measured" for row in SPECS.values()) >= 160


def test_nothing_recalled_is_left_of_a_manual_that_was_read_in_full() -> None:
    grades = {row["grade"] for row in SPECS.values() if row["source_id"] == "kappeler-1895"}
    assert grades == {"measured"}


# Spot checks of the official list, from memory of the edition named in the id.


@pytest.mark.parametrize(
    ("spec_id", "printed"),
    [
        ("dry-martini-iba-2011", {"london-gin": 60, "dry-vermouth": 10}),
        ("manhattan-iba-2011", {"rye-whiskey": 50, "sweet-vermouth": 20}),
        ("negroni-iba-2011", {"london-gin": 30, "red-bitter-aperitif": 30, "sweet-vermouth": 30}),
        ("black-russian-iba-2011", {"vodka": 50, "coffee-liqueur": 20}),
        ("rusty-nail-iba-2011", {"blended-scotch": 45, "honey-herb-liqueur": 25}),
        ("stinger-iba-2011", {"cognac": 50, "mint-liqueur-white": 20}),
        ("hanky-panky-iba-2020", {"london-gin": 45, "sweet-vermouth": 45, "fernet": 7.5}),
        ("boulevardier-iba-2020", {"bourbon": 45, "red-bitter-aperitif": 30, "sweet-vermouth": 30}),
        ("tipperary-iba-2020", {"irish-whiskey": 50, "green-herb-liqueur": 15}),
        ("vieux-carre-iba-2020", {"rye-whiskey": 30, "cognac": 30, "sweet-vermouth": 30}),
        ("irish-coffee-iba-2020", {"irish-whiskey": 50, COFFEE: 120}),
        ("last-word-iba-2020", {"london-gin": 22.5, "maraschino": 22.5}),
        ("trinidad-sour-iba-2020", {"aromatic-bitters": 45, "orgeat": 30, "rye-whiskey": 15}),
    ],
)
def test_volumes_are_those_of_the_official_list(spec_id: str, printed: dict[str, float]) -> None:
    parts = recipe(spec_id)
    assert {i: parts[i] for i in printed} == printed


def test_dashes_barspoons_and_lumps_are_turned_into_millilitres() -> None:
    # Official list 2011 and 2020, from memory: one dash; one bar spoon and two dashes; one cube.
    assert recipe("manhattan-iba-2011")["aromatic-bitters"] == pytest.approx(DASH_ML)
    assert recipe("vieux-carre-iba-2020")["monastic-herb-liqueur"] == pytest.approx(BARSPOON_ML)
    assert recipe("vieux-carre-iba-2020")["anise-bitters"] == pytest.approx(2 * DASH_ML)
    assert recipe("old-fashioned-iba-2011")["sugar"] == pytest.approx(SUGAR_ML_PER_LUMP, abs=0.01)


@pytest.mark.parametrize(
    ("spec_id", "parts_in_ten"),
    [
        # Official list in tenths, read: 7/10 and 3/10; 6/10 and 3/10 with 1/10 juice;
        # 4/10, 2/10 and 2/10 with 2/10 juice.
        ("black-russian-iba-1993", {"vodka": 7, "coffee-liqueur": 3}),
        ("banana-daiquiri-iba-1993", {"white-rum": 6, "banana-liqueur": 3}),
        ("bronx-iba-1993", {"london-gin": 4, "sweet-vermouth": 2, "dry-vermouth": 2}),
    ],
)
def test_parts_are_those_of_the_list_in_tenths(
    spec_id: str, parts_in_ten: dict[str, float]
) -> None:
    parts = recipe(spec_id)
    unit = {parts[name] / tenths for name, tenths in parts_in_ten.items()}
    assert max(unit) == pytest.approx(min(unit))


# Spot checks of printed pages, read.


def test_coffee_with_cherry_and_anise_spirit_as_printed_in_1908() -> None:
    # Boothby 1908, number 210, read: half a pony each (a pony is one ounce), two cubes of sugar.
    parts = recipe("cafe-kirsch-boothby-1908")
    half_pony = US_FLUID_OUNCE_ML / 2.0
    assert parts["cherry-spirit"] == pytest.approx(half_pony, abs=0.3)
    assert parts["anise-liqueur"] == pytest.approx(half_pony, abs=0.3)
    assert parts["sugar"] == pytest.approx(2 * SUGAR_ML_PER_LUMP, abs=0.01)


def test_the_burnt_coffee_bowl_is_a_twentieth_of_the_printed_one() -> None:
    # Arthur 1937, read in the printing of 1938: one cup (half a pint) of brandy, 45 lumps of
    # sugar and one quart of coffee serve 20.
    parts = recipe("cafe-brulot-arthur-1937")
    assert parts["cognac"] == pytest.approx(8 * US_FLUID_OUNCE_ML / 20, rel=0.03)
    assert parts[COFFEE] == pytest.approx(32 * US_FLUID_OUNCE_ML / 20, rel=0.03)
    assert parts["sugar"] == pytest.approx(45 / 20 * SUGAR_ML_PER_LUMP, rel=0.01)


def test_the_ounce_of_the_1895_book_is_kept() -> None:
    # Kappeler 1895, read: his jigger holds two ounces.
    parts = recipe("old-fashioned-kappeler-1895")
    assert parts["rye-whiskey"] == pytest.approx(2 * US_FLUID_OUNCE_ML, rel=0.02)


@pytest.mark.parametrize(
    ("spec_id", "printed"),
    [
        # Kappeler 1895, read; pages 33, 36, 110, and the cocktails of the letters L and P. A jigger
        # is 60 mL, a pony 30, a dash 0.8.
        ("brant-kappeler-1895", {"cognac": 40, "mint-liqueur-white": 20, "aromatic-bitters": 1.6}),
        ("hiram-kappeler-1895", {"canadian-whisky": 30, "sweet-vermouth": 30}),
        ("liberal-kappeler-1895", {"rye-whiskey": 30, "orange-amer": 30, "gum-syrup": 0.8}),
        ("princeton-kappeler-1895", {"old-tom-gin": 45, "ruby-port": 15, "orange-bitters": 2.4}),
        ("widows-kiss-kappeler-1895", {"apple-brandy": 30, "yellow-herb-liqueur": 15}),
        # Grohusko 1910, page 89, read: equal parts of 60 mL.
        ("tuxedo-grohusko-1910", {"old-tom-gin": 30, "dry-vermouth": 30, "aromatic-bitters": 2.4}),
        # Ukers 1922, chapter 35, read: black coffee and brandy in equal parts.
        ("gloria-ukers-1922", {"cognac": 60, COFFEE: 60}),
    ],
)
def test_volumes_are_those_of_the_printed_page(spec_id: str, printed: dict[str, float]) -> None:
    parts = recipe(spec_id)
    assert {i: parts[i] for i in printed} == printed


def test_equal_parts_are_equal() -> None:
    # Boothby 1908 numbers 65 and 72, and 1900 number 178, read.
    for spec_id, count in (("sunshine-boothby-1908", 3), ("zaza-boothby-1908", 2),
                           ("knickebein-boothby-1900", 4)):  # fmt: skip
        parts = sorted(recipe(spec_id).values(), reverse=True)[:count]
        assert max(parts) == min(parts)


# What goes with coffee.


def test_there_are_at_least_120_combinations_of_at_least_80_ingredients() -> None:
    assert len(COMBINATIONS) >= 120
    assert len({row["ingredient_id"] for row in COMBINATIONS}) >= 80


def test_combinations_have_two_ends_and_none_comes_twice() -> None:
    assert {row["ingredient_id"] for row in COMBINATIONS} <= set(INGREDIENTS)
    assert {row["source_id"] for row in COMBINATIONS} <= set(SOURCES)
    keys = [(row["food"], row["ingredient_id"], row["source_id"]) for row in COMBINATIONS]
    assert len(set(keys)) == len(keys)


@pytest.mark.parametrize(
    ("ingredient", "source"),
    [
        # Donadini & Fumi 2014 (abstract read): chocolate goes with coffee, 80 consumers.
        ("cacao-liqueur-dark", "donadini-2014"),
        # Davids 2001 (read): hazelnut leads the flavoured coffees, Irish cream comes second.
        ("hazelnut-liqueur", "davids-2001"),
        ("cream-liqueur", "davids-2001"),
        # Ukers 1922, chapter 35 (read): cloves and cinnamon in Arabian coffee.
        ("clove-bitters", "ukers-1922"),
        ("cinnamon-bitters", "ukers-1922"),
        # The same: cardamom or saffron in Arabia, a herb or mint cordial in France, apple brandy in
        # Normandy.
        ("cardamom-bitters", "ukers-1922"),
        ("saffron-bitters", "ukers-1922"),
        ("monastic-herb-liqueur", "ukers-1922"),
        ("mint-liqueur-green", "ukers-1922"),
        ("apple-brandy", "ukers-1922"),
        # Farmer 1910 (read): coffee ice cream with maraschino cherries.
        ("cherry-garnish", "farmer-1910"),
    ],
)
def test_published_partners_of_coffee_are_listed(ingredient: str, source: str) -> None:
    assert (ingredient, source) in {(r["ingredient_id"], r["source_id"]) for r in COMBINATIONS}
