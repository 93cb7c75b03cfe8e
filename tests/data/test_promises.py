"""What the dataset promises a reader: sources that can be found, grades that hold, enough of all.

The numbers are those of the project's own plan; units and limits are physics or law.
"""

from __future__ import annotations

import csv
import json
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import pairing_data
from pairing_data import table_path

Row = dict[str, str]
TABLES = pairing_data.FOLDER / "tables"
# Read on pages that show neither authors nor a number: to be found by title and journal.
BY_TITLE_ALONE = {
    "avai-chilli-2021", "banana-fhia", "bitter-almond-oil-pf", "fig-bouhouli", "orange-mekong",
    "rum-cnic-2024",
}  # fmt: skip


@cache
def read(path: Path) -> tuple[Row, ...]:
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def rows(name: str) -> tuple[Row, ...]:
    return read(table_path(name))


SOURCES = {row["source_id"]: row for row in rows("sources")}


def sources_of(row: Row) -> list[str]:
    cells = (row.get("source_id", ""), *row.get("source_ids", "").split(";"))
    return [cell for cell in cells if cell]


def tables_and_references() -> Iterator[tuple[str, Row]]:
    for folder in (TABLES, pairing_data.FOLDER / "reference"):
        for path in sorted(folder.glob("*.csv")):
            if path.stem != "sources":
                yield from ((path.stem, row) for row in read(path))


def graded() -> Iterator[tuple[str, Row]]:
    for path in sorted(TABLES.glob("*.csv")):
        yield from ((path.stem, row) for row in read(path) if row.get("grade"))


# ---------------------------------------------------------------- sources


@pytest.mark.parametrize("source", SOURCES)
def test_every_source_can_be_found(source: str) -> None:
    """A DOI, a standard or law number, or authors with year and journal or book."""
    row = SOURCES[source]
    if row["kind"] == "practice" or row["doi"] or row["standard"]:
        return
    assert row["year"], source
    assert row["container"], source
    named = bool(row["authors"]) and row["authors"] != "Authors not shown"
    assert named != (source in BY_TITLE_ALONE), source
    assert len(row["title"]) > 5, source


def test_dois_have_the_form_of_a_doi_and_stand_once() -> None:
    # ISO 26324: directory indicator 10, registrant, slash, suffix.
    dois = [row["doi"] for row in SOURCES.values() if row["doi"]]
    assert [d for d in dois if not (d.startswith("10.") and "/" in d and " " not in d)] == []
    assert [doi for doi, count in Counter(map(str.lower, dois)).items() if count > 1] == []


def test_every_source_is_used_by_a_table_or_a_reference_table() -> None:
    used = {source for _, row in tables_and_references() for source in sources_of(row)}
    assert used - SOURCES.keys() == set()
    assert SOURCES.keys() - used == set()


def test_every_recalled_row_names_the_paper_to_confirm_it_in() -> None:
    """Memory without a paper is an estimate: trade practice and our own guesses do not count."""
    for name, row in graded():
        if row["grade"] == "recalled":
            papers = [s for s in sources_of(row) if SOURCES[s]["kind"] != "practice"]
            assert papers, (name, row)


def test_nothing_measured_rests_on_a_source_that_nobody_read() -> None:
    for name, row in graded():
        if row["grade"] == "measured":
            assert all(SOURCES[s]["how"] == "read" for s in sources_of(row)), (name, row)


# ---------------------------------------------------------------- enough of all


def pairs() -> dict[tuple[str, str], list[Row]]:
    found: dict[tuple[str, str], list[Row]] = defaultdict(list)
    for name in ("ingredient_odorants", "derived_odorants"):
        for row in rows(name):
            found[row["ingredient_id"], row["odorant_id"]].append(row)
    return found


def test_the_dataset_is_as_large_as_planned() -> None:
    assert len(SOURCES) >= 120
    assert len(rows("odorants")) >= 220
    assert len(rows("descriptors")) >= 80
    assert len({row["phrase"] for row in rows("note_words")}) >= 700
    assert len(pairs()) >= 2000
    roles = Counter(row["role"] for row in rows("ingredients"))
    assert sum(roles.values()) >= 170
    assert roles["base"] >= 28
    assert roles["modifier"] >= 80
    assert roles["bitters"] >= 35
    assert {"garnish", "sweetener", "seasoning"} <= roles.keys()


def test_a_third_and_more_of_the_pairs_rest_on_something_that_was_read() -> None:
    """At least 35 % measured or derived, each pair taken at its best; and of the bare rows too."""
    good = {"measured", "derived"}
    best = [any(row["grade"] in good for row in listed) for listed in pairs().values()]
    assert sum(best) / len(best) >= 0.35
    every = [row["grade"] in good for listed in pairs().values() for row in listed]
    assert sum(every) / len(every) >= 0.35


def test_a_guess_never_stands_beside_something_better_known() -> None:
    """Our estimate gives way where raw material gives a better grade; a bound by law stays."""
    for pair, listed in pairs().items():
        if len(listed) == 2:
            direct, derived = listed
            if direct["grade"] == "estimate" and not direct["source_id"].startswith("eu-"):
                assert derived["grade"] == "estimate", pair


def test_a_guessed_background_amount_could_be_smelled_at_the_top_of_its_range() -> None:
    """Unless the ingredient would fall to a dozen odorants; such rows tell nothing of a smell."""
    thresholds: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for row in rows("thresholds"):
        at = float(row["ethanol_percent"])
        thresholds[row["odorant_id"]].append((at, float(row["threshold_ug_per_l"])))
    strength = {row["ingredient_id"]: float(row["abv_percent"]) for row in rows("ingredients")}
    known = Counter(ingredient for ingredient, _ in pairs())
    direct = Counter(row["ingredient_id"] for row in rows("ingredient_odorants"))
    for (ingredient, odorant), listed in pairs().items():
        row = listed[0]
        few = min(known[ingredient], direct[ingredient]) <= 12
        if few or len(listed) > 1 or (row["grade"], row["impact"]) != ("estimate", "background"):
            continue
        nearest = min(
            thresholds[odorant], key=lambda t: abs(t[0] - strength[ingredient]), default=(0, 0)
        )
        assert float(row["ug_per_l_high"]) >= nearest[1], (ingredient, odorant)


# ---------------------------------------------------------------- units


def test_one_percent_of_an_oil_is_ten_million_micrograms_a_kilogram() -> None:
    """10 g/kg. Nothing in µg per litre or kilogram may weigh more than the litre or kilogram."""
    assert 0.01 * 1e9 == 1e7
    for name, row in tables_and_references():
        for column in ("ug_per_l", "ug_per_l_high"):
            if row.get(column):
                assert float(row[column]) < 1e9, (name, row)
        if row.get("unit") == "percent_of_oil":
            assert float(row["amount_high"]) <= 100, row
        if row.get("unit") == "ug_per_kg":
            assert float(row["amount_high"]) < 1e9, row


def test_units_of_concentration_columns_are_written_down() -> None:
    package = json.loads((pairing_data.FOLDER / "datapackage.json").read_text(encoding="utf-8"))
    for resource in package["resources"]:
        for field in resource["schema"]["fields"]:
            if "_per_l" in field["name"] or field["name"].endswith(("percent", "_percent_low")):
                assert field.get("unit"), (resource["name"], field["name"])


# ---------------------------------------------------------------- caffeine and quinine

# mg caffeine per gram of dry material, recalled: coffee 9 to 22 (both species; Clarke and Macrae
# 1985), tea 20 to 45 (Harbowy and Balentine 1997, Crit Rev Plant Sci 16:415-480), cocoa 0.6 to 4
# (Minifie 1989, Chocolate, cocoa and confectionery).
CAFFEINE_MG_PER_G = {"coffee": (9, 22), "tea": (20, 45), "tea-smoked": (20, 45), "cocoa": (0.6, 4)}


@pytest.mark.parametrize(
    ("ingredient", "material"),
    [
        ("coffee-liqueur", "coffee"),
        ("coffee-amaro", "coffee"),
        ("coffee-bitters", "coffee"),
        ("tea-liqueur", "tea"),
        ("smoked-tea-liqueur", "tea-smoked"),
        ("tea-bitters", "tea"),
        ("smoke-bitters", "tea-smoked"),
        ("jasmine-liqueur", "tea"),
        ("swedish-punsch", "tea"),
        ("cacao-liqueur-dark", "cocoa"),
        ("chocolate-bitters", "cocoa"),
        ("mole-bitters", "cocoa"),
    ],
)
def test_caffeine_is_what_the_dose_can_give(ingredient: str, material: str) -> None:
    """Dose times content, a third to all of it extracted, meets the range of the table."""
    low, high = CAFFEINE_MG_PER_G[material]
    dose = next(
        row
        for row in rows("botanicals")
        if (row["ingredient_id"], row["material_id"]) == (ingredient, material)
    )
    least = float(dose["dose_g_per_l_low"]) * low / 3
    most = float(dose["dose_g_per_l_high"]) * high
    row = next(row for row in rows("ingredients") if row["ingredient_id"] == ingredient)
    assert least <= float(row["caffeine_mg_per_l_high"])
    assert least <= float(row["caffeine_mg_per_l"]) <= most
    assert "caffeine" in row["cautions"].split(";")


def test_wines_bittered_with_cinchona_stay_within_the_limit_for_quinine() -> None:
    # Regulation (EU) No 872/2012 (recalled): quinine salts at most 250 mg/kg, as quinine, in
    # alcoholic drinks; 1 mg of the base is 396.91 / 324.42 mg of the hydrochloride dihydrate.
    limit = 250 * 396.91 / 324.42
    for row in rows("ingredients"):
        if "quinine" in row["cautions"].split(";") and row["style"] == "aromatised wine":
            assert float(row["qhe_mg_per_l_high"]) <= limit, row["ingredient_id"]


# ---------------------------------------------------------------- unknown sugar


def test_unknown_sugar_begins_at_the_legal_minimum_and_says_so() -> None:
    """Law counts invert sugar: 342.30 g sucrose give 360.31 g."""
    guessed = [
        row
        for row in rows("ingredients")
        if row["grade"] == "estimate" and row["legal_sugar_g_per_l_min"]
    ]
    assert len(guessed) > 30
    for row in guessed:
        least = float(row["legal_sugar_g_per_l_min"]) * 342.30 / 360.31
        assert float(row["sugar_g_per_l_low"]) == pytest.approx(least, rel=2e-3), row
        assert "legal minimum" in row["note"] or float(row["sugar_g_per_l_low"]) <= least
