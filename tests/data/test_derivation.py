"""The derived odorants follow the written rule, the law's bands and what a liquid can hold."""

from __future__ import annotations

import csv
import re
from collections import defaultdict
from math import exp, log, sqrt

import pytest

import pairing_data
from pairing_data.build import derive
from pairing_data.build.spread import Spread, product, published, total

Cells = dict[str, str]

CLOVE: Cells = {
    "material_id": "clove",
    "oil_percent_low": "15",
    "oil_percent": "15",
    "oil_percent_high": "15",
    "grade": "measured",
}
EUGENOL: Cells = {
    "material_id": "clove",
    "odorant_id": "eugenol",
    "amount_low": "80",
    "amount": "80",
    "amount_high": "80",
    "unit": "percent_of_oil",
    "impact": "character",
    "grade": "measured",
    "source_id": "a-paper",
}


def botanical(dose: float = 10.0, extraction: float = 0.8, **cells: str) -> Cells:
    """A bottle with cloves in it, dose and extraction known exactly."""
    return {
        "ingredient_id": "a-bottle",
        "material_id": "clove",
        "dose_g_per_l_low": str(dose),
        "dose_g_per_l": str(dose),
        "dose_g_per_l_high": str(dose),
        "extraction_low": str(extraction),
        "extraction": str(extraction),
        "extraction_high": str(extraction),
        "grade": "measured",
        "source_id": "a-recipe",
    } | cells


@pytest.fixture(scope="module")
def rows() -> list[Cells]:
    return derive.table("derived_odorants")


@pytest.fixture(scope="module")
def usual(rows: list[Cells]) -> dict[tuple[str, str], float]:
    """Usual amount in µg/L by ingredient and odorant."""
    return {
        (row["ingredient_id"], row["odorant_id"]): float(row["ug_per_l"])
        for row in rows
        if row["ug_per_l"]
    }


def test_the_committed_table_is_what_the_rule_gives() -> None:
    committed = pairing_data.table_path("derived_odorants").read_bytes()
    assert derive.rebuild().encode() == committed


def test_cloves_on_paper() -> None:
    """10 g/L x 15 % oil x 80 % eugenol x 0.8 = 0.96 g/L, counted by hand."""
    amount = derive.amount_ug_per_l(botanical(), EUGENOL, CLOVE)
    assert amount.mid == pytest.approx(960_000)


def test_one_percent_of_an_oil_is_ten_million_micrograms_per_kilogram() -> None:
    pure = CLOVE | dict.fromkeys(("oil_percent_low", "oil_percent", "oil_percent_high"), "100")
    one = EUGENOL | dict.fromkeys(("amount_low", "amount", "amount_high"), "1")
    assert derive.content_ug_per_kg(one, pure).mid == pytest.approx(1e7)


def test_the_worked_example_of_the_notes_holds() -> None:
    notes = (pairing_data.FOLDER / "DERIVATION.md").read_text(encoding="utf-8")
    match = re.search(r"(\d+) g/L × (\d+) % × (\d+) % × ([\d.]+) = ([\d ]+) µg/L", notes)
    assert match is not None
    dose, oil, share, extraction, answer = match.groups()
    clove = CLOVE | dict.fromkeys(("oil_percent_low", "oil_percent", "oil_percent_high"), oil)
    eugenol = EUGENOL | dict.fromkeys(("amount_low", "amount", "amount_high"), share)
    amount = derive.amount_ug_per_l(botanical(float(dose), float(extraction)), eugenol, clove)
    assert amount.mid == pytest.approx(float(answer.replace(" ", "")))


def test_three_factors_each_known_within_two_multiply_to_within_three_and_a_third() -> None:
    """Log distances in quadrature: sqrt(3) times ln 2 is ln 3.322, counted by hand."""
    whole = product([Spread(5, 10, 20), Spread(1, 2, 4), Spread(0.5, 1, 2)])
    assert whole.mid == pytest.approx(20)
    assert whole.high / whole.mid == pytest.approx(3.322, abs=5e-4)
    assert whole.mid / whole.low == pytest.approx(3.322, abs=5e-4)
    assert whole.high / whole.mid == pytest.approx(exp(sqrt(3) * log(2)))


def test_two_materials_add_up_and_their_doubts_add_in_quadrature() -> None:
    """3-4-5: distances of 3 and 4 give 5."""
    whole = total([Spread(7, 10, 13), Spread(16, 20, 24)])
    assert (whole.low, whole.mid, whole.high) == pytest.approx((25, 30, 35))


def test_a_lone_figure_and_a_trace_are_not_taken_as_exact() -> None:
    assert published(30, 30, 30) == Spread(20, 30, 45)
    assert published(0, 5, 20) == Spread(0.5, 5, 20)


def test_twice_the_dose_gives_twice_the_odorant() -> None:
    once = derive.derived([botanical(10)], [CLOVE], [EUGENOL])[0]
    twice = derive.derived([botanical(20)], [CLOVE], [EUGENOL])[0]
    for column in ("ug_per_l_low", "ug_per_l", "ug_per_l_high"):
        assert float(twice[column]) == pytest.approx(2 * float(once[column]), rel=0.006)


def test_more_of_any_plant_never_gives_less_of_any_odorant() -> None:
    botanicals = derive.table("botanicals")
    doubled = [
        row | {name: str(2 * float(row[name])) for name in row if name.startswith("dose_")}
        for row in botanicals
    ]
    materials, odorants = derive.table("raw_materials"), derive.table("raw_material_odorants")
    before = derive.derived(botanicals, materials, odorants)
    after = derive.derived(doubled, materials, odorants)
    assert len(before) == len(after)
    for one, two in zip(before, after, strict=True):
        assert one["impact"] == two["impact"]
        if one["ug_per_l"]:
            assert float(two["ug_per_l"]) > float(one["ug_per_l"])


@pytest.mark.parametrize(
    ("dose_grade", "content_grade", "oil_grade", "expected"),
    [
        ("measured", "measured", "measured", "derived"),
        ("derived", "measured", "measured", "derived"),
        ("estimate", "measured", "measured", "estimate"),
        ("measured", "recalled", "measured", "recalled"),
        ("measured", "measured", "recalled", "recalled"),
        ("estimate", "recalled", "measured", "estimate"),
    ],
)
def test_a_row_is_as_good_as_the_worst_that_went_into_it(
    dose_grade: str, content_grade: str, oil_grade: str, expected: str
) -> None:
    row = derive.derived(
        [botanical(grade=dose_grade)],
        [CLOVE | {"grade": oil_grade}],
        [EUGENOL | {"grade": content_grade}],
    )[0]
    assert row["grade"] == expected


def test_no_derived_grade_rests_on_memory(rows: list[Cells]) -> None:
    """Counted again from the tables, for the rows that one material alone gives."""
    odorants = {
        (r["material_id"], r["odorant_id"]): r for r in derive.table("raw_material_odorants")
    }
    materials = {r["material_id"]: r for r in derive.table("raw_materials")}
    doses = {(r["ingredient_id"], r["material_id"]): r for r in derive.table("botanicals")}
    for row in rows:
        if row["grade"] != "derived" or ";" in row["material_ids"]:
            continue
        content = odorants[row["material_ids"], row["odorant_id"]]
        dose = doses[row["ingredient_id"], row["material_ids"]]
        assert content["grade"] == "measured", row
        assert dose["grade"] in {"measured", "derived"}, row
        if content["unit"] == "percent_of_oil":
            assert materials[row["material_ids"]]["grade"] == "measured", row


def test_a_minor_plant_is_known_by_its_character_alone() -> None:
    saffron = {"material_id": "saffron", "grade": "measured"}
    note = {"material_id": "saffron", "unit": "none", "grade": "measured", "source_id": "a-paper"}
    names = [("honeyed", "character"), ("spicy", "key"), ("faint", "background")]
    odorants = [note | {"odorant_id": name, "impact": impact} for name, impact in names]
    used = [botanical(10), botanical(0.5, material_id="saffron")]
    made = derive.derived(used, [CLOVE, saffron], [EUGENOL, *odorants])
    assert {row["odorant_id"]: row["impact"] for row in made} == {"eugenol": "", "honeyed": "key"}


def test_an_estimated_dose_brings_no_background() -> None:
    minor = EUGENOL | {"odorant_id": "a-trace", "impact": "background"}
    made = derive.derived([botanical(grade="estimate")], [CLOVE], [EUGENOL, minor])
    assert [row["odorant_id"] for row in made] == ["eugenol"]


def test_every_botanical_links_two_ends() -> None:
    ingredients = {row["ingredient_id"] for row in derive.table("ingredients")}
    materials = {row["material_id"] for row in derive.table("raw_materials")}
    for row in derive.table("botanicals"):
        assert row["ingredient_id"] in ingredients
        assert row["material_id"] in materials


def test_only_taste_materials_bring_no_odour() -> None:
    smelling = {row["material_id"] for row in derive.table("raw_material_odorants")}
    silent = {
        row["material_id"]: row["note"]
        for row in derive.table("raw_materials")
        if row["material_id"] not in smelling
    }
    assert silent
    assert all(note.startswith("taste only") for note in silent.values()), silent


def test_the_parts_of_an_oil_do_not_pass_the_whole() -> None:
    whole: dict[str, float] = defaultdict(float)
    for row in derive.table("raw_material_odorants"):
        if row["unit"] == "percent_of_oil":
            whole[row["material_id"]] += float(row["amount"])
    assert max(whole.values()) <= 105.0  # usual values of several papers need not sum to 100


def test_intervals_are_ordered_and_wide(rows: list[Cells]) -> None:
    for row in rows:
        if row["ug_per_l"]:
            low, mid, high = (float(row[f"ug_per_l{end}"]) for end in ("_low", "", "_high"))
            assert 0 < low <= mid <= high
            if "-base" not in row["material_ids"]:
                assert high / low > 1.5, row  # an extraction alone is no better known


def test_the_derivation_covers_the_shelf(rows: list[Cells]) -> None:
    """What the dataset set out to reach: 1 300 rows over 170 ingredients."""
    assert len({row["ingredient_id"] for row in rows}) >= 170
    assert sum(row["grade"] == "derived" for row in rows) >= 1_300


@pytest.mark.parametrize(
    ("ingredient", "low_g_per_l", "high_g_per_l"),
    [
        ("pastis", 1.5, 2.0),  # Regulation (EU) 2019/787, Annex I, category 28
        ("anise-liqueur", 1.0, 2.0),  # the same, category 36 (sambuca)
    ],
)
def test_anethole_stays_in_the_band_of_the_law(
    usual: dict[tuple[str, str], float], ingredient: str, low_g_per_l: float, high_g_per_l: float
) -> None:
    assert low_g_per_l <= usual[ingredient, "anethole-e"] / 1e6 <= high_g_per_l


def test_thujone_keeps_to_the_law(usual: dict[tuple[str, str], float]) -> None:
    """Regulation (EC) No 1334/2008, Annex III B: 35 mg/kg with Artemisia, 10 mg/kg without."""
    artemisia = {"wormwood", "wormwood-roman", "genepi"}
    with_artemisia = {
        row["ingredient_id"]
        for row in derive.table("botanicals")
        if row["material_id"] in artemisia
    }
    whole: dict[str, float] = defaultdict(float)
    for (ingredient, odorant), amount in usual.items():
        if odorant in {"alpha-thujone", "beta-thujone"}:
            whole[ingredient] += amount / 1e3
    assert "absinthe" in whole
    assert "sage-bitters" in whole
    for ingredient, mg_per_l in whole.items():
        assert mg_per_l <= (35.0 if ingredient in with_artemisia else 10.0), ingredient


def test_thujone_of_absinthe_lies_where_old_bottles_had_it(
    usual: dict[tuple[str, str], float],
) -> None:
    """0.5-48.3 mg/L in bottles from before the ban.

    Lachenmeier and others 2008, J Agric Food Chem 56:3073-3081, from memory.
    """
    mg_per_l = sum(usual["absinthe", f"{kind}-thujone"] for kind in ("alpha", "beta")) / 1e3
    assert 0.5 <= mg_per_l <= 48.3


@pytest.mark.parametrize(("odorant", "limit_mg_per_kg"), [("pulegone", 100), ("menthofuran", 200)])
def test_mint_keeps_to_the_law(
    usual: dict[tuple[str, str], float], odorant: str, limit_mg_per_kg: float
) -> None:
    """Regulation (EC) No 1334/2008, Annex III B: mint-flavoured spirits, from memory."""
    amounts = {who: amount / 1e3 for (who, what), amount in usual.items() if what == odorant}
    assert {"mint-liqueur-white", "fernet", "mint-bitters"} <= set(amounts)
    assert max(amounts.values()) <= limit_mg_per_kg


def test_vanilla_bitters_hold_the_vanillin_of_vanilla_extract(
    usual: dict[tuple[str, str], float],
) -> None:
    """Single-fold extract has about 0.6-3 g/L.

    Ranadive 1992, J Agric Food Chem 40:1922-1924, from memory.
    """
    assert 0.6 <= usual["vanilla-bitters", "vanillin"] / 1e6 <= 3.0


# Solubility in water [mg/L] and octanol-water partition (log10), handbook values from memory.
SOLUBILITY = {
    "limonene": (13.8, 4.57),
    "alpha-pinene": (2.49, 4.83),
    "anethole-e": (111.0, 3.39),
    "eugenol": (2460.0, 2.27),
    "menthol": (456.0, 3.40),
    "carvone-s": (1310.0, 2.71),
    "cinnamaldehyde": (1420.0, 1.90),
    "linalool": (1590.0, 2.97),
    "thymol": (900.0, 3.30),
    "benzaldehyde": (6950.0, 1.48),
    "vanillin": (11000.0, 1.21),
    "coumarin": (1900.0, 1.39),
}
CLOUDY = {"lemon-liqueur"}  # an emulsion: the oil that does not dissolve stays as droplets


def test_no_clear_drink_holds_more_than_dissolves(usual: dict[tuple[str, str], float]) -> None:
    """Log-linear cosolvency: log S = log S(water) + (0.93 log Kow + 0.40) x ethanol fraction.

    Millard, Alvarez-Nunez and Yalkowsky 2002, Int J Pharm 245:153-166, constants from memory.
    Garnishes give a film, not a solution.
    """
    shelf = {row["ingredient_id"]: row for row in derive.table("ingredients")}
    checked = 0
    for (ingredient, odorant), amount in usual.items():
        if odorant not in SOLUBILITY or ingredient in CLOUDY:
            continue
        if shelf[ingredient]["role"] == "garnish":
            continue
        water_mg_per_l, log_kow = SOLUBILITY[odorant]
        ethanol = float(shelf[ingredient]["abv_percent"] or 0) / 100
        limit = water_mg_per_l * 10 ** ((0.93 * log_kow + 0.40) * ethanol)
        assert amount / 1e3 <= limit, (ingredient, odorant, amount / 1e3, limit)
        checked += 1
    assert checked > 300


def test_nothing_passes_five_grams_per_litre(usual: dict[tuple[str, str], float]) -> None:
    assert max(usual.values()) <= 5e6


def profile(rows: list[Cells], ingredient: str) -> set[str]:
    return {row["odorant_id"] for row in rows if row["ingredient_id"] == ingredient}


def shared(rows: list[Cells], one: str, other: str) -> float:
    """Odorants in both over odorants in either."""
    a, b = profile(rows, one), profile(rows, other)
    return len(a & b) / len(a | b)


def test_twins_are_closer_than_strangers(rows: list[Cells]) -> None:
    twins = [
        ("triple-sec", "curacao"),
        ("london-gin", "navy-gin"),
        ("fernet", "mint-fernet"),
        ("hazelnut-liqueur", "hazelnut-bitters"),
        ("tea-liqueur", "tea-bitters"),
    ]
    strangers = [
        ("triple-sec", "walnut-liqueur"),
        ("hazelnut-liqueur", "walnut-liqueur"),
        ("rose-liqueur", "violet-liqueur"),
        ("london-gin", "coffee-liqueur"),
        ("alpine-amaro", "coffee-amaro"),
    ]
    assert min(shared(rows, *pair) for pair in twins) > max(shared(rows, *p) for p in strangers)


def test_the_table_opens_like_any_other() -> None:
    text = pairing_data.table_path("derived_odorants").read_text(encoding="utf-8")
    assert "\r" not in text
    assert next(csv.reader(text.splitlines())) == list(derive.COLUMNS)
