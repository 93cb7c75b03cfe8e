"""The aroma tables, held to registry numbers and to a reference library.

Names and registry numbers are compared with the `chemicals` library, whose identifiers come from
PubChem. What papers and law report is checked in test_core_findings.py.
"""

from __future__ import annotations

import csv
import re
from collections import Counter, defaultdict

import chemicals
import pytest

from pairing_data import table_path

Row = dict[str, str]
GRADES = {"measured", "derived", "recalled", "estimate"}
IMPACTS = {"character", "key", "background", ""}
MATRICES = {
    "water": 0,
    "ethanol-10": 10,
    "wine": 12,
    "port": 20,
    "ethanol-40": 40,
    "ethanol-46": 46,
}
OWN_TABLES = (
    "thresholds",
    "odorant_descriptors",
    "ingredient_odorants",
    "coffee_odorants",
    "coffee_effects",
)

# The library knows the number under other names only; each pair was compared by structure.
NAMED_OTHERWISE = {
    "13-tridecanolide": "ring name",
    "4-5-epoxydecenal": "the library draws the enol; number as in the bread and hop papers",
    "5-methyl-4-heptanone": "numbered from the other end: 3-methylheptan-4-one",
    "alpha-damascone": "systematic name",
    "alpha-humulene": "systematic name",
    "ambrettolide": "ring name",
    "beta-asarone": "systematic name",
    "beta-thujone": "3-thujanone, isomer not shown",
    "cis-jasmone": "systematic name",
    "farnesol": "systematic name",
    "geranial": "shown under citral, of which it is the (E) half",
    "geraniol": "the library drops (E) and (Z) and shows nerol",
    "ionone-beta": "systematic name",
    "irone-alpha-trans": "systematic name",
    "jasmine-lactone": "systematic name",
    "longicyclene": "systematic name",
    "methyl-2-4-decadienoate": "acid name first",
    "nootkatone": "systematic name",
    "santalol-alpha": "systematic name",
    "sinapaldehyde": "systematic name",
    "solanone": "systematic name",
    "valencene": "written valencen",
}
# Not in the library: check digit only; numbers from the papers that report the compounds.
NOT_IN_LIBRARY = set(
    [
        "1-5-octadien-3-one",
        "2-ethenyl-3-5-dimethylpyrazine",
        "2-hydroxy-4-4-6-trimethylcyclohexadienone",
        "2-methoxy-3-5-dimethylpyrazine",
        "2-methoxycinnamaldehyde",
        "2-methyl-4-propyl-1-3-oxathiane",
        "2-propionyl-1-pyrroline",
        "3-methyl-2-4-nonanedione",
        "4-ethylsyringol",
        "4-vinylsyringol",
        "bergamotene-alpha",
        "beta-sinensal",
        "chrysanthenol",
        "chrysanthenyl-acetate",
        "ddmp",
        "dill-ether",
        "ectocarpene",
        "ethoxymethylfurfural",
        "ethyl-melilotate",
        "foeniculin",
        "htcc",
        "irone-alpha-cis",
        "isoamyl-angelate",
        "megastigmatrienone",
        "rotundone",
        "sclareolide",
        "sedanenolide",
        "sedanolide",
        "solerone",
        "theaspirane",
        "vitispirane",
        "whisky-lactone-cis",
    ]
)
# The papers that report them give no number.
WITHOUT_NUMBER = {"dioxane-acetal-cis", "epoxyocimene-cis", "ethyl-4-7-octadienoate"}


def rows(name: str) -> list[Row]:
    """All rows of one table."""
    with table_path(name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def identifiers(name: str, column: str) -> set[str]:
    return {row[column] for row in rows(name)}


def check_digit_holds(cas: str) -> bool:
    """The registry's own rule: digits weighted by place from the right, sum modulo ten."""
    digits, last = cas.replace("-", "")[:-1], int(cas[-1])
    return sum(place * int(d) for place, d in enumerate(reversed(digits), 1)) % 10 == last


def bare(name: str) -> str:
    """A chemical name without case, punctuation and stereo marks."""
    name = re.sub(r"\.(alpha|beta|gamma|delta)\.", r"\1", name.lower())
    name = name.replace("1h-", "").replace("(3h)", "")
    name = re.sub(r"\((?:[0-9]*[ezrs+\-±](?:,[0-9]*[ezrs+\-])*)\)", "", name)
    name = re.sub(r"\b(cis|trans|dl|d|l|racemic)-", "", name)
    return re.sub(r"[^a-z0-9]", "", name)


# ---------------------------------------------------------------- shape


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("odorants", ("odorant_id",)),
        ("thresholds", ("odorant_id", "matrix")),
        ("odorant_descriptors", ("odorant_id", "descriptor_id")),
        ("ingredient_odorants", ("ingredient_id", "odorant_id")),
        ("coffee_odorants", ("odorant_id",)),
        ("coffee_effects", ("dimension", "level", "odorant_id")),
    ],
)
def test_each_key_stands_once_and_in_order(name: str, key: tuple[str, ...]) -> None:
    keys = [tuple(row[column] for column in key) for row in rows(name)]
    assert keys == sorted(set(keys))


@pytest.mark.parametrize("name", OWN_TABLES)
def test_every_row_has_a_grade_and_a_source_that_exists(name: str) -> None:
    sources = identifiers("sources", "source_id")
    for row in rows(name):
        assert row["grade"] in GRADES, row
        assert row["source_id"] in sources, row


@pytest.mark.parametrize("name", OWN_TABLES)
def test_every_link_has_two_ends(name: str) -> None:
    ends = {
        "odorant_id": identifiers("odorants", "odorant_id"),
        "descriptor_id": identifiers("descriptors", "descriptor_id"),
        "ingredient_id": identifiers("ingredients", "ingredient_id"),
    }
    for row in rows(name):
        for column in ends.keys() & row.keys():
            assert row[column] in ends[column], row


@pytest.mark.parametrize(
    ("name", "columns", "may_be_empty"),
    [
        ("ingredient_odorants", ("ug_per_l_low", "ug_per_l", "ug_per_l_high"), True),
        ("coffee_odorants", ("ug_per_l_low", "ug_per_l", "ug_per_l_high"), True),
        ("coffee_effects", ("factor_low", "factor", "factor_high"), False),
    ],
)
def test_ranges_are_positive_and_in_order(
    name: str, columns: tuple[str, ...], may_be_empty: bool
) -> None:
    for row in rows(name):
        cells = [row[column] for column in columns]
        if not any(cells):
            assert may_be_empty, row
            assert row["impact"], row
            continue
        low, usual, high = map(float, cells)
        assert 0 < low <= usual <= high, row


def test_an_estimated_amount_always_has_a_width_and_says_so() -> None:
    for row in rows("ingredient_odorants"):
        if row["grade"] == "estimate":
            assert float(row["ug_per_l_high"]) > float(row["ug_per_l_low"]), row
            assert "estimate" in row["note"], row


def test_thresholds_are_positive_and_the_matrix_gives_the_strength() -> None:
    for row in rows("thresholds"):
        assert float(row["threshold_ug_per_l"]) > 0, row
        assert float(row["ethanol_percent"]) == MATRICES[row["matrix"]], row


def test_every_odorant_has_one_to_four_words_with_weights() -> None:
    words: dict[str, list[float]] = defaultdict(list)
    for row in rows("odorant_descriptors"):
        words[row["odorant_id"]].append(float(row["weight"]))
    assert words.keys() == identifiers("odorants", "odorant_id")
    for odorant, weights in words.items():
        assert 1 <= len(weights) <= 4, odorant
        assert all(0 < weight <= 1 for weight in weights), odorant


def test_impact_classes_are_known() -> None:
    for name in ("ingredient_odorants", "coffee_odorants"):
        assert {row["impact"] for row in rows(name)} <= IMPACTS


def test_the_tables_are_as_large_as_promised() -> None:
    assert len(rows("odorants")) >= 300
    assert len(identifiers("thresholds", "odorant_id")) >= 250
    assert len(rows("ingredient_odorants")) >= 900
    assert len(rows("coffee_odorants")) >= 45


def test_every_base_is_known_by_at_least_twelve_odorants() -> None:
    pairs = {
        (row["ingredient_id"], row["odorant_id"])
        for name in ("ingredient_odorants", "derived_odorants")
        for row in rows(name)
    }
    known = Counter(ingredient for ingredient, _ in pairs)
    bases = [row["ingredient_id"] for row in rows("ingredients") if row["role"] == "base"]
    assert {base: known[base] for base in bases if known[base] < 12} == {}


# ---------------------------------------------------------------- registry numbers and names


def test_every_registry_number_passes_its_check_digit_and_stands_once() -> None:
    numbers = [row["cas"] for row in rows("odorants") if row["cas"]]
    assert [cas for cas in numbers if not check_digit_holds(cas)] == []
    assert len(numbers) == len(set(numbers))
    assert {r["odorant_id"] for r in rows("odorants") if not r["cas"]} == WITHOUT_NUMBER


def test_names_agree_with_the_reference_library() -> None:
    missing, different = set(), set()
    for row in rows("odorants"):
        if not row["cas"]:
            continue
        try:
            found = chemicals.search_chemical(row["cas"])
        except ValueError:
            missing.add(row["odorant_id"])
            continue
        theirs = {bare(n or "") for n in (found.common_name, found.iupac_name, *found.synonyms)}
        ours = {bare(n) for n in (row["name"], *row["synonyms"].split(";")) if n}
        if not ours & theirs:
            different.add(row["odorant_id"])
    assert different == NAMED_OTHERWISE.keys()
    assert missing == NOT_IN_LIBRARY
