"""The ingredient table against the law's figures, the allergen list and plain sense.

Figures of law were read in the texts of Regulation (EU) 2019/787 (Annex I), Regulation (EU)
No 251/2014 (Articles 3 and 6, Annex II), 27 CFR 5.143 and Decree 6.871/2009 of Brazil (Article
53). Recalled, to be confirmed in the standards named: the 35 % of NOM-006, NOM-070 and NOM-159,
and the port, marsala and madeira strengths of the national rules.
"""

from __future__ import annotations

import csv
import re
from collections import Counter

import pytest

import pairing_data

# Regulation (EU) No 1169/2011, Annex II: the fourteen, in the words of this dataset.
EU_ALLERGENS = {
    "gluten", "crustaceans", "eggs", "fish", "peanuts", "soybeans", "milk", "nuts", "celery",
    "mustard", "sesame", "sulphites", "lupin", "molluscs",
}  # fmt: skip
SUCROSE_PER_INVERT = 0.950  # 342.30 / 360.31, the molar masses
RANGES = ("abv_percent", "sugar_g_per_l", "acid_g_per_l", "qhe_mg_per_l", "caffeine_mg_per_l",
          "salt_g_per_l")  # fmt: skip

Row = dict[str, str]


def read(name: str) -> list[Row]:
    with pairing_data.table_path(name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = {row["ingredient_id"]: row for row in read("ingredients")}


def usual(ingredient: str, stem: str) -> float:
    return float(ROWS[ingredient][stem])


def invert(ingredient: str) -> float:
    """Usual sugar as the law counts it [g/L invert sugar]."""
    return usual(ingredient, "sugar_g_per_l") / SUCROSE_PER_INVERT


def items(row: Row, column: str) -> list[str]:
    return [item for item in row[column].split(";") if item]


def test_a_back_bar_is_covered() -> None:
    roles = Counter(row["role"] for row in ROWS.values())
    assert len(ROWS) >= 170
    assert roles["base"] >= 28
    assert roles["modifier"] >= 80
    assert roles["bitters"] >= 35


@pytest.mark.parametrize("ingredient", ROWS)
def test_the_usual_value_lies_in_its_range(ingredient: str) -> None:
    row = ROWS[ingredient]
    for stem in RANGES:
        assert float(row[f"{stem}_low"]) <= float(row[stem]) <= float(row[f"{stem}_high"]), stem


# (ingredient, least strength % vol, least and most sugar g/L as invert sugar)
SPIRITS = [
    ("malt-whisky", 40, None, 0),  # EU 2019/787 Annex I, 2: no sweetening
    ("bourbon", 40, None, 0),  # 27 CFR 5.143(a): 40 %
    ("corn-whiskey", 40, None, None),  # 27 CFR 5.143(a)
    ("white-rum", 37.5, None, 20),  # 1
    ("rhum-agricole", 37.5, None, 0),  # 1(g): agricultural rum is not sweetened
    ("cognac", 37.5, None, 20),  # 4
    ("grape-brandy", 36, None, 35),  # 5
    ("marc", 37.5, None, 20),  # 6
    ("plum-spirit", 37.5, None, 18),  # 9
    ("apple-brandy", 37.5, None, 15),  # 10
    ("vodka", 37.5, None, 8),  # 15
    ("raspberry-spirit", 37.5, None, 10),  # 17
    ("genever", 30, None, None),  # 19
    ("old-tom-gin", 37.5, None, None),  # 20
    ("london-gin", 37.5, None, 0.1),  # 22
    ("aquavit", 37.5, None, None),  # 24
    ("absinthe", 15, None, None),  # 25
    ("pastis", 40, None, 100),  # 26: less than 100
    ("cachaca", 38, None, 6),  # Brazil, Decree 6.871/2009, Article 53
    ("tequila-blanco", 35, None, None),  # NOM-006-SCFI, recalled
    ("mezcal", 35, None, None),  # NOM-070-SCFI, recalled
    ("sotol", 35, None, None),  # NOM-159-SCFI, recalled
]
LIQUEURS = [
    ("triple-sec", 15, 100, None),  # 33(a)(i)
    ("cherry-liqueur", 15, 70, None),  # 33(a)(i), all alcohol from cherry spirit
    ("gentian-liqueur", 15, 80, None),  # 33(a)(i), gentian alone
    ("genepi-liqueur", 15, 80, None),  # 33(a)(i), wormwood alone
    ("cacao-liqueur-dark", 15, 250, None),  # 34
    ("violet-liqueur", 15, 250, None),  # 34
    ("blackcurrant-liqueur", 15, 400, None),  # 34(g): more than 400
    ("sloe-gin", 25, 100, None),  # 35, a liqueur
    ("anise-liqueur", 38, 350, None),  # 36, as sambuca
    ("maraschino", 24, 250, None),  # 37
    ("walnut-liqueur", 30, 100, None),  # 38, nocino
    ("egg-liqueur", 14, 150, None),  # 39
    ("kummel", 30, 100, None),  # 23 and 33
    ("red-bitter-aperitif", 15, None, None),  # 30: bitter, no sugar rule
    ("fernet", 15, None, None),  # 30
]
WINES = [
    ("extra-dry-vermouth", 14.5, None, 30),  # EU 251/2014 Art. 6(1)(a): less than 30
    ("dry-vermouth", 14.5, None, 50),  # (b): less than 50
    ("bianco-vermouth", 14.5, 130, None),  # (e): 130 or more
    ("sweet-vermouth", 14.5, 130, None),  # (e)
    ("red-quinquina", 14.5, None, None),  # Annex II A(4)
    ("fino-sherry", 15, None, 5),  # Jerez specification
    ("oloroso-sherry", 17, None, 5),
    ("cream-sherry", 15.5, 115, 140),
    ("px-sherry", 15, 212, None),
    ("dry-madeira", 17, None, 65),  # institute's indicative classes
    ("medium-madeira", 17, 57, 96),
    ("sweet-madeira", 17, 96, None),
]
LAW = SPIRITS + LIQUEURS + WINES


@pytest.mark.parametrize(("ingredient", "abv", "least", "most"), LAW)
def test_legal_limits_are_those_of_the_text(
    ingredient: str, abv: float, least: float | None, most: float | None
) -> None:
    row = ROWS[ingredient]
    stated = [
        float(row[column]) if row[column] else None
        for column in (
            "legal_abv_percent_min", "legal_sugar_g_per_l_min", "legal_sugar_g_per_l_max",
        )
    ]  # fmt: skip
    assert stated == [abv, least, most]


def test_limits_agree_with_the_reference_table_of_the_spirits_law() -> None:
    """reference/legal_sugar.csv, read in Regulation (EU) 2019/787 Annex I by another hand."""
    by_category = {
        "brandy": "grape-brandy", "creme de": "banana-liqueur", "vodka": "vodka",
        "creme de cassis": "blackcurrant-liqueur", "egg liqueur": "egg-liqueur",
        "fruit spirit": "cherry-spirit", "gentian liqueur": "gentian-liqueur",
        "liqueur": "pear-liqueur", "liqueur of cherry spirit alone": "cherry-liqueur",
        "london gin": "london-gin", "maraschino": "maraschino", "nocino": "walnut-liqueur",
        "whisky": "irish-whiskey", "wine spirit": "armagnac",
        "anis-flavoured liqueur of sambuca type": "anise-liqueur",
    }  # fmt: skip
    with pairing_data.reference_path("legal_sugar").open(encoding="utf-8", newline="") as file:
        reference = list(csv.DictReader(file))
    assert {row["category"] for row in reference} == set(by_category)
    for row in reference:
        end = "max" if row["bound"] == "maximum" else "min"
        ours = ROWS[by_category[row["category"]]][f"legal_sugar_g_per_l_{end}"]
        assert float(ours) == float(row["g_per_l_invert"]), row["category"]


@pytest.mark.parametrize("ingredient", [i for i, row in ROWS.items() if row["legal_category"]])
def test_the_whole_range_is_legal(ingredient: str) -> None:
    row = ROWS[ingredient]
    low, high = (float(row[f"sugar_g_per_l_{end}"]) / SUCROSE_PER_INVERT for end in ("low", "high"))
    assert float(row["abv_percent_low"]) >= float(row["legal_abv_percent_min"] or 0)
    assert low >= float(row["legal_sugar_g_per_l_min"] or 0)
    assert high <= float(row["legal_sugar_g_per_l_max"] or "inf") + 1e-9


@pytest.mark.parametrize(
    ("ingredient", "limit"),
    [("extra-dry-vermouth", 30), ("dry-vermouth", 50), ("pastis", 100)],
)
def test_where_the_law_says_less_than_the_range_stays_below(ingredient: str, limit: float) -> None:
    assert float(ROWS[ingredient]["sugar_g_per_l_high"]) / SUCROSE_PER_INVERT < limit


def test_cassis_has_more_than_400_grams() -> None:
    """Regulation (EU) 2019/787 Annex I, 34(g): more than, not at least."""
    assert float(ROWS["blackcurrant-liqueur"]["sugar_g_per_l_low"]) / SUCROSE_PER_INVERT > 400


@pytest.mark.parametrize(
    ("ingredient", "total"),
    [
        ("extra-dry-vermouth", 15),  # Article 6(1)(a)
        ("dry-vermouth", 16),  # Article 6(1)(b)
        ("bianco-vermouth", 17.5),  # Article 3(2)(g), as the rest
        ("sweet-vermouth", 17.5),
        ("americano-aperitif-wine", 17.5),
        ("red-quinquina", 17.5),
        ("chinato", 17.5),
    ],
)
def test_aromatised_wine_has_the_total_strength_of_the_law(ingredient: str, total: float) -> None:
    """Actual and potential strength; 16.83 g/L sugar count as 1 % vol (wine law, recalled)."""
    assert 14.5 <= usual(ingredient, "abv_percent") < 22
    assert usual(ingredient, "abv_percent") + invert(ingredient) / 16.83 >= total


@pytest.mark.parametrize(
    ("ingredient", "limit"),
    [("cachaca", 48), ("tequila-anejo", 55), ("mezcal", 55), ("sotol", 55), ("oloroso-sherry", 22),
     ("tawny-port", 22), ("sweet-madeira", 22), ("fino-sherry", 17)],
)  # fmt: skip
def test_no_range_passes_a_legal_ceiling_of_strength(ingredient: str, limit: float) -> None:
    """Decree 6.871/2009; Mexican standards (recalled); Jerez specification; port and madeira."""
    assert float(ROWS[ingredient]["abv_percent_high"]) <= limit


def test_aquavit_sugar_stays_below_its_dry_extract() -> None:
    """Regulation (EU) 2019/787 Annex I, 24(d): dry extract at most 1.5 g per 100 mL."""
    assert float(ROWS["aquavit"]["sugar_g_per_l_high"]) <= 15


def test_bitterness_of_plain_gentian_bitters_follows_the_pharmacopoeia() -> None:
    """Ph. Eur. 2.8.15: quinine hydrochloride 200 000; gentian root at least 10 000 (recalled).

    QHE = dose x bitterness value / 200 in mg/L: 60 g/L gives the usual 3 000.
    """
    assert usual("gentian-bitters", "qhe_mg_per_l") == pytest.approx(60 * 10_000 / 200)


def test_syrup_sugar_is_that_of_the_density_table() -> None:
    """ICUMSA SPS-4 (1998): 50 and 66.7 % sucrose weigh 1229.65 and 1326.96 kg/m³ at 20 °C."""
    assert usual("simple-syrup", "sugar_g_per_l") == pytest.approx(0.500 * 1229.65, rel=0.002)
    assert usual("rich-syrup", "sugar_g_per_l") == pytest.approx(0.667 * 1326.96, rel=0.002)


def test_salt_solutions_weigh_what_the_handbook_says() -> None:
    """CRC Handbook: 20 and 4 % sodium chloride weigh 1.1478 and 1.0268 g/mL (recalled)."""
    assert usual("saline", "salt_g_per_l") == pytest.approx(0.20 * 1147.8, rel=0.01)
    assert usual("weak-saline", "salt_g_per_l") == pytest.approx(0.04 * 1026.8, rel=0.01)


def test_home_made_coffee_liqueur_as_measured_lies_in_the_range() -> None:
    """Oh 2019: mean 2081.2 mg/L caffeine over 54 analyses of macerations."""
    low, high = (float(ROWS["coffee-liqueur"][f"caffeine_mg_per_l_{e}"]) for e in ("low", "high"))
    assert low < 2081.2 <= high


def test_allergens_are_words_of_the_european_list() -> None:
    named = {word for row in ROWS.values() for word in items(row, "allergens")}
    assert named <= EU_ALLERGENS
    assert {"milk", "eggs", "nuts", "sulphites", "celery"} <= named


def test_distillates_are_exempt_and_macerations_are_not() -> None:
    """Regulation (EU) No 1169/2011 Annex II: distillates of cereals and nuts are exempt."""
    for row in ROWS.values():
        if row["role"] == "base":
            assert not row["allergens"], row["ingredient_id"]
    nutty = [i for i in ROWS if re.match(r"(almond|walnut|hazelnut|pecan|pistachio)-", i)]
    assert len(nutty) == 9
    assert all("nuts" in items(ROWS[i], "allergens") for i in [*nutty, "orgeat"])


@pytest.mark.parametrize(
    "style", ["vermouth", "aromatised wine", "sherry", "port", "madeira", "fortified wine"]
)
def test_wines_name_their_sulphites(style: str) -> None:
    rows = [row for row in ROWS.values() if row["style"] == style]
    assert rows
    assert all("sulphites" in items(row, "allergens") for row in rows)


def test_cautions_follow_from_what_is_in_the_bottle() -> None:
    for ingredient, row in ROWS.items():
        cautions = items(row, "cautions")
        assert ("high-proof" in cautions) == (usual(ingredient, "abv_percent") >= 50), ingredient
        if usual(ingredient, "caffeine_mg_per_l") > 0:
            assert "caffeine" in cautions, ingredient
        if row["style"] == "vermouth" or "absinthe" in ingredient:
            assert "thujone" in cautions, ingredient
    quinine = ("white-quinquina", "red-quinquina", "chinato", "orange-amer")
    assert all("quinine" in items(ROWS[i], "cautions") for i in quinine)


def test_garnishes_add_nothing_but_the_cherry() -> None:
    for ingredient, row in ROWS.items():
        if row["role"] == "garnish" and ingredient != "cherry-garnish":
            assert all(float(row[stem]) == 0 for stem in RANGES), ingredient


# Places, peoples and a grape: the only capitals in a generic name.
GEOGRAPHY = {
    "Scotch", "Irish", "Canadian", "Japanese", "Cognac", "Armagnac", "Jerez", "Batavia", "London",
    "Pedro", "Ximénez",
}  # fmt: skip


def test_names_are_generic_so_only_places_have_capitals() -> None:
    for row in ROWS.values():
        capitals = {w for w in re.findall(r"[\w']+", row["name"]) if w != w.lower()}
        assert capitals <= GEOGRAPHY, row["name"]
        assert row["aliases"] == row["aliases"].lower(), row["ingredient_id"]
        assert not re.search(r"[®™©]", row["name"] + row["aliases"] + row["note"])


def bare(word: str) -> str:
    from service.ingredients.names import plain

    return plain(word)


def test_one_alias_means_one_ingredient_as_the_service_compares_names() -> None:
    owners: dict[str, set[str]] = {}
    for ingredient, row in ROWS.items():
        for word in {bare(ingredient), bare(row["name"]), *map(bare, items(row, "aliases"))}:
            owners.setdefault(word, set()).add(ingredient)
    assert {word: ids for word, ids in owners.items() if len(ids) > 1} == {}


@pytest.mark.parametrize(
    ("word", "ingredient"),
    [
        ("rosso", "sweet-vermouth"), ("italian vermouth", "sweet-vermouth"),
        ("french vermouth", "dry-vermouth"), ("nocino", "walnut-liqueur"),
        ("creme de cacao", "cacao-liqueur-dark"), ("oloroso", "oloroso-sherry"),
        ("kirsch", "cherry-spirit"), ("grappa", "marc"), ("cassis", "blackcurrant-liqueur"),
        ("amaretto", "almond-liqueur"), ("limoncello", "lemon-liqueur"), ("gin", "london-gin"),
        ("px", "px-sherry"), ("jenever", "genever"), ("akvavit", "aquavit"), ("rye", "rye-whiskey"),
        ("pimento dram", "allspice-liqueur"), ("bitters", "aromatic-bitters"),
    ],
)  # fmt: skip
def test_words_of_the_trade_find_their_bottle(word: str, ingredient: str) -> None:
    """Common practice, no source."""
    row = ROWS[ingredient]
    known = {bare(ingredient), bare(row["name"]), *map(bare, items(row, "aliases"))}
    assert bare(word) in known


# A bartender who says only this must be asked which: no ingredient may own the word.
AMBIGUOUS = (
    "vermouth", "whisky", "whiskey", "rum", "sherry", "port", "madeira", "amaro", "syrup",
    "cherry", "mint", "orange", "lemon", "coffee", "chocolate", "walnut", "honey", "cinnamon",
)  # fmt: skip


@pytest.mark.parametrize("word", AMBIGUOUS)
def test_a_word_with_several_meanings_belongs_to_nobody(word: str) -> None:
    owners = [
        ingredient
        for ingredient, row in ROWS.items()
        if word in {bare(ingredient), bare(row["name"]), *map(bare, items(row, "aliases"))}
    ]
    assert owners == []


ODOURLESS = {"saline", "weak-saline", "citric-solution", "water"}


def test_every_ingredient_that_smells_has_notes_and_no_two_have_the_same() -> None:
    notes: dict[str, dict[str, float]] = {}
    for row in read("ingredient_descriptors"):
        notes.setdefault(row["ingredient_id"], {})[row["descriptor_id"]] = float(row["weight"])
    assert set(ROWS) - set(notes) == ODOURLESS
    for ingredient, own in notes.items():
        least = 3 if ROWS[ingredient]["role"] in ("base", "modifier", "bitters") else 1
        assert least <= len(own) <= 8, ingredient
    told = Counter(tuple(sorted(own.items())) for own in notes.values())
    twins = [notes_ for notes_, count in told.items() if count > 1]
    assert all(len(pair) == 1 for pair in twins), "only plain sugars may share their one note"


@pytest.mark.parametrize(
    ("ingredient", "first"),
    [
        ("peated-malt-whisky", {"smoke"}),  # Lee et al. 2001, whisky wheel: peaty
        ("aged-rum", {"caramel", "vanilla", "oak"}),  # Ickes et al. 2017: most prominent terms
        ("london-gin", {"juniper"}),  # EU 2019/787 Annex I, 20: predominantly juniper
        ("aquavit", {"caraway"}),  # EU 2019/787 Annex I, 24: caraway or dill
        ("anise-liqueur", {"aniseed"}),  # EU 2019/787 Annex I, 36
        ("sweet-vermouth", {"wormwood"}),  # EU 251/2014 Annex II A(3): Artemisia
        ("maraschino", {"cherry"}),  # EU 2019/787 Annex I, 37: marasca cherries
        ("tequila-blanco", {"black-pepper"}),  # recalled from Benn & Peppard 1996
    ],
)
def test_the_first_note_is_the_one_that_law_or_lexicon_names(
    ingredient: str, first: set[str]
) -> None:
    own = {
        row["descriptor_id"]: float(row["weight"])
        for row in read("ingredient_descriptors")
        if row["ingredient_id"] == ingredient
    }
    strongest = sorted(own, key=lambda note: -own[note])[: len(first)]
    assert set(strongest) == first
