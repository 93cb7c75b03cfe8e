"""The aroma tables, held to what papers and law report.

The paper stands beside each check, with whether its figure was read or is recalled.
"""

from __future__ import annotations

import csv
from statistics import median

import pytest

from pairing_data import table_path

Row = dict[str, str]
Coffee = dict[tuple[str, str, str], tuple[float, float, float]]


def rows(name: str) -> list[Row]:
    """All rows of one table."""
    with table_path(name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


# ---------------------------------------------------------------- published findings: spirits


def thresholds(matrix: str, *, published: bool = True) -> dict[str, float]:
    """Thresholds in one matrix [ug/L]; our own estimates left out if `published`."""
    return {
        row["odorant_id"]: float(row["threshold_ug_per_l"])
        for row in rows("thresholds")
        if row["matrix"] == matrix and not (published and row["grade"] == "estimate")
    }


def amounts(ingredient: str) -> dict[str, float | None]:
    """Odorants of one ingredient [ug/L], None where only an impact class is known."""
    return {
        row["odorant_id"]: float(row["ug_per_l"]) if row["ug_per_l"] else None
        for row in rows("ingredient_odorants")
        if row["ingredient_id"] == ingredient
    }


def test_bourbon_odour_activities_fall_in_the_printed_order() -> None:
    # Poisson and Schieberle 2008, J Agric Food Chem 56:5820-5826, abstract (read): the order below.
    # Amounts and thresholds behind it are recalled; (E,E)-2,4-decadienal stands after the lactone
    # in print, but no amount of it is recalled well enough to be in the table.
    printed = [
        "ethyl-2-methylbutanoate",
        "3-methylbutanal",
        "vanillin",
        "beta-damascenone",
        "ethyl-hexanoate",
        "ethyl-butanoate",
        "ethyl-octanoate",
        "isobutanal",
        "whisky-lactone-cis",
        "eugenol",
        "ethyl-3-methylbutanoate",
        "ethyl-isobutanoate",
    ]
    spirit, bourbon = thresholds("ethanol-40"), amounts("bourbon")
    activity = {odorant: (bourbon[odorant] or 0) / spirit[odorant] for odorant in printed}
    assert sorted(activity, key=lambda odorant: -activity[odorant]) == printed
    assert min(activity.values()) > 1


def test_ethanol_raises_most_thresholds() -> None:
    # Lu et al. (abstract read): 30 of 40 odorants of baijiu had thresholds that rose with ethanol
    # from 20 to 60 %. From water to spirit at least as large a share should rise.
    water = thresholds("water")
    spirit = thresholds("ethanol-46") | thresholds("ethanol-40")
    ratios = [spirit[odorant] / water[odorant] for odorant in spirit.keys() & water.keys()]
    assert len(ratios) > 40
    assert sum(ratio > 1 for ratio in ratios) / len(ratios) >= 30 / 40


def test_unchanged_estimated_spirit_thresholds_are_ten_times_those_in_water() -> None:
    # Ours, not published: ten is the median of the known ratios, rounded to a power of ten.
    water, known = thresholds("water", published=False), thresholds("ethanol-40")
    known |= {o: t for o, t in thresholds("ethanol-46").items() if o not in known}
    assert 10**0.5 < median(known[o] / water[o] for o in known.keys() & water.keys()) < 10**1.5
    estimated = [row for row in rows("thresholds") if row["source_id"] == "estimate-ethanol-ratio"]
    assert estimated
    for row in estimated:
        ratio = float(row["threshold_ug_per_l"]) / water[row["odorant_id"]]
        assert ratio == pytest.approx(10, rel=0.05), row


def test_cresols_set_peated_whisky_apart() -> None:
    # Lehtonen 1983, Chromatographia 16:201-203, abstract (read).
    cresols = {"o-cresol", "m-cresol", "p-cresol"}
    assert cresols <= amounts("peated-malt-whisky").keys()
    for other in ("bourbon", "rye-whiskey", "irish-whiskey", "canadian-whisky", "malt-whisky"):
        assert not cresols & amounts(other).keys(), other


def test_rotundone_stands_where_it_was_found() -> None:
    # Genthner-Kreger and Cadwallader 2021, Molecules 26:4368, abstract (read).
    for spirit in ("bourbon", "rye-whiskey", "malt-whisky", "aged-rum", "tequila-anejo"):
        assert "rotundone" in amounts(spirit), spirit


def test_acetaldehyde_of_named_spirits_is_the_printed_molar_figure() -> None:
    # Linderborg, Salaspuro and Väkeväinen 2011, J Exp Clin Cancer Res 30:3 (read, micromol/L).
    molar_mass = 44.053  # g/mol, from the formula C2H4O
    for spirit, printed in (("tequila-blanco", 530), ("apple-brandy", 1095)):
        assert amounts(spirit)["acetaldehyde"] == pytest.approx(printed * molar_mass, rel=2e-3)


def test_legal_figures_for_anethole_and_thujone_hold() -> None:
    # Regulation (EU) 2019/787, Annex I: pastis has 1.5 to 2 g/L anethole (recalled).
    # Regulation (EC) No 1334/2008, Annex III B: thujone at most 35 mg/kg in spirits from
    # Artemisia (recalled); a spirit of 60 % vol weighs about 0.91 kg/L.
    table = {(r["ingredient_id"], r["odorant_id"]): r for r in rows("ingredient_odorants")}
    pastis = table["pastis", "anethole-e"]
    assert (float(pastis["ug_per_l_low"]), float(pastis["ug_per_l_high"])) == (1.5e6, 2e6)
    thujone = sum(
        float(table["absinthe", isomer]["ug_per_l_high"])
        for isomer in ("alpha-thujone", "beta-thujone")
    )
    assert thujone <= 35_000 * 0.91


# ---------------------------------------------------------------- published findings: coffee


def coffee_effects() -> Coffee:
    return {
        (row["dimension"], row["level"], row["odorant_id"]): (
            float(row["factor_low"]),
            float(row["factor"]),
            float(row["factor_high"]),
        )
        for row in rows("coffee_effects")
    }


def test_effects_touch_only_odorants_of_the_reference_brew_at_known_levels() -> None:
    brew = {row["odorant_id"] for row in rows("coffee_odorants")}
    levels = {
        ("roast", "light"),
        ("roast", "dark"),
        ("process", "honey"),
        ("process", "natural"),
        ("process", "fermented"),
        ("species", "canephora"),
    }
    assert {key[:2] for key in coffee_effects()} == levels
    assert {key[2] for key in coffee_effects()} <= brew


def test_the_odorants_that_carry_the_brew_are_above_threshold() -> None:
    # Mayer, Czerny and Grosch 2000, Eur Food Res Technol 211:272-276, abstract (read): omission
    # tests name these as carriers of the brew.
    water = thresholds("water", published=False)
    brew = {r["odorant_id"]: float(r["ug_per_l"] or 0) for r in rows("coffee_odorants")}
    for odorant in [
        "2-furfurylthiol",
        "methional",
        "3-mercapto-3-methylbutyl-formate",
        "furaneol",
        "homofuraneol",
        "2-ethyl-3-5-dimethylpyrazine",
        "2-3-diethyl-5-methylpyrazine",
        "guaiacol",
    ]:
        assert brew[odorant] > 10 * water[odorant], odorant


def test_what_no_omission_study_missed_is_heard_as_background_whatever_its_threshold() -> None:
    # Mayer, Czerny and Grosch 2000, abstract (read), for the brew: alkylpyrazines, furanones,
    # phenols, 2-furfurylthiol, methional and 3-mercapto-3-methylbutyl formate. Czerny, Mayer and
    # Grosch 1999, J Agric Food Chem 47:695-699 (recalled), for ground coffee: the Strecker
    # aldehydes as well. These eight are in neither list.
    brew = {row["odorant_id"]: row for row in rows("coffee_odorants")}
    for odorant in [
        "methanethiol",
        "2-methyl-3-furanthiol",
        "dimethyl-trisulfide",
        "dimethyl-sulfide",
        "prenylthiol",
        "2-isobutyl-3-methoxypyrazine",
        "2-isopropyl-3-methoxypyrazine",
        "beta-damascenone",
    ]:
        assert (brew[odorant]["ug_per_l"], brew[odorant]["impact"]) == ("", "background"), odorant


@pytest.mark.parametrize(
    ("odorants", "direction"),
    [
        # Baggenstoss et al. 2008, J Agric Food Chem 56:5836-5846, abstract (read).
        ("pyridine dimethyl-trisulfide hexanal", "up"),
        # Mayer, Czerny and Grosch 1999, Eur Food Res Technol 209:242-250 (recalled).
        ("2-furfurylthiol guaiacol 4-ethylguaiacol methanethiol", "up"),
        ("furaneol homofuraneol", "down"),
        # Moon and Shibamoto 2009, J Agric Food Chem 57:5823-5831 (recalled).
        ("phenol o-cresol m-cresol p-cresol", "up"),
        ("furfural 5-methylfurfural", "down"),
        # Park et al. 2021, Food Chem, research summary (read): down 17 to 76 % with roasting.
        ("hydroxymethylfurfural", "down"),
        # doi 10.48130/BPR-2023-0008, abstract (read), robusta.
        ("furfuryl-alcohol", "up"),
        # Poisson et al. 2017 in The Craft and Science of Coffee, chapter 12 (recalled).
        ("linalool phenylacetaldehyde ethyl-3-methylbutanoate", "down"),
    ],
)
def test_roast_moves_odorants_as_published(odorants: str, direction: str) -> None:
    effects = coffee_effects()
    for odorant in odorants.split():
        light, dark = effects["roast", "light", odorant][1], effects["roast", "dark", odorant][1]
        assert (dark > 1 > light) if direction == "up" else (dark < 1 < light), odorant


def test_4_vinylguaiacol_peaks_at_medium_roast() -> None:
    # Mayer, Czerny and Grosch 1999 (recalled).
    effects = coffee_effects()
    assert effects["roast", "light", "4-vinylguaiacol"][1] < 1
    assert effects["roast", "dark", "4-vinylguaiacol"][1] < 1


def test_hmf_lost_over_the_roast_is_within_the_printed_range() -> None:
    # Park et al. 2021 (read): 17 to 76 % less, so 0.24 to 0.83 is left.
    effects = coffee_effects()
    light, dark = (
        effects["roast", level, "hydroxymethylfurfural"][1] for level in ("light", "dark")
    )
    assert 0.24 <= dark / light <= 0.83


def test_drying_in_the_fruit_raises_short_esters_and_honey_lies_between() -> None:
    # Akiyama et al. 2008, J Food Sci 73:C335-C346; Poisson et al. 2017 (both recalled): twofold to
    # tenfold or more.
    effects = coffee_effects()
    for ester in ("ethyl-3-methylbutanoate", "ethyl-2-methylbutanoate"):
        low, usual, high = effects["process", "natural", ester]
        assert low >= 2
        assert high >= 10
        assert low < usual < high
        assert 1 < effects["process", "honey", ester][1] < usual
    assert effects["process", "natural", "3-methylbutanoic-acid"][1] > 1


def test_canephora_keeps_the_published_ratios_to_arabica() -> None:
    # Semmelroch, Laskawy, Blank and Grosch 1995, Flavour Fragr J 10:1-7 (recalled): contents of
    # robusta over arabica at the same roast.
    recalled = {
        "4-ethylguaiacol": 11,
        "guaiacol": 8.6,
        "vanillin": 3.9,
        "2-3-diethyl-5-methylpyrazine": 3.4,
        "4-vinylguaiacol": 3.2,
        "2-ethyl-3-5-dimethylpyrazine": 2.9,
        "furaneol": 0.46,
        "sotolon": 0.43,
        "methional": 0.43,
        "2-isobutyl-3-methoxypyrazine": 0.21,
    }
    effects = coffee_effects()
    for odorant, ratio in recalled.items():
        low, usual, high = effects["species", "canephora", odorant]
        assert usual == pytest.approx(ratio)
        assert low < ratio < high
    # Park et al. 2021 (read): highest in robusta.
    assert effects["species", "canephora", "hydroxymethylfurfural"][1] > 1
