"""Named rules over whole rows: unit sanity, sources, law, names. Named in datapackage.json.

A rule yields (line, column, reason). Cells that failed on their own are not judged again.
"""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from typing import Final

from pairing_data.files import Table

Place = tuple[int, str, str]
Rule = Callable[[Table], Iterator[Place]]
LinkedRule = Callable[[Table, Mapping[str, Table]], Iterator[Place]]

# g sucrose per g invert sugar: molar masses 342.30 / (2 x 180.156), CIAAW 2021.
SUCROSE_PER_INVERT: Final = 0.950
# mL that a gram takes in solution: sucrose near 0.62 (partial specific volume, Bates 1942);
# salt and acid are left out, they never decide. The margin is for contraction of strong mixes.
SUCROSE_ML_PER_G: Final = 0.62
FULL_LITRE_ML: Final = 1010.0
# An analysed oil may add up to a little over 100 where usual values come from several papers.
OIL_PERCENT_AT_MOST: Final = 105.0


def resolvable_source(table: Table) -> Iterator[Place]:
    """A reader can find the source: by DOI or standard number, or by authors and container."""
    for row in table.rows:
        cells = row.cells
        numbered = cells["doi"] or cells["standard"]
        if cells["kind"] == "practice":
            continue
        if not (cells["year"] or cells["standard"]):
            yield row.line, "year", "a source needs its year, unless a standard number stands"
        elif not (numbered or cells["container"]):
            yield row.line, "container", "name the journal or book, a DOI or a standard number"
        elif not (numbered or cells["authors"]):
            yield row.line, "authors", "name the authors, or give a DOI or a standard number"


def cas_check_digit(table: Table) -> Iterator[Place]:
    """The last digit of a registry number follows from the others."""
    for row in table.rows:
        digits = row.cells["cas"].replace("-", "")
        if not digits.isdigit():
            continue
        weighted = sum(n * int(d) for n, d in enumerate(reversed(digits[:-1]), start=1))
        if weighted % 10 != int(digits[-1]):
            yield row.line, "cas", f"{row.cells['cas']} has a wrong check digit; a digit is off"


def measured_was_read(table: Table, tables: Mapping[str, Table]) -> Iterator[Place]:
    """Nothing is called measured on the word of a source that nobody opened."""
    how = {row.cells["source_id"]: row.cells["how"] for row in tables["sources"].rows}
    for row in table.rows:
        if row.cells["grade"] == "measured" and how.get(row.cells["source_id"]) == "recalled":
            reason = f"measured, but {row.cells['source_id']} is itself recalled; grade it recalled"
            yield row.line, "grade", reason


def fits_in_a_litre(table: Table) -> Iterator[Place]:
    """Ethanol and sugar together cannot take more room than there is."""
    for row in table.rows:
        abv, sugar = _number(row.cells["abv_percent"]), _number(row.cells["sugar_g_per_l"])
        if abv is None or sugar is None:
            continue
        taken = 10 * abv + SUCROSE_ML_PER_G * sugar
        if taken > FULL_LITRE_ML:
            reason = f"{abv:g} % vol with {sugar:g} g/L sugar takes {taken:.0f} mL of a litre"
            yield row.line, "sugar_g_per_l", reason


def within_the_law(table: Table) -> Iterator[Place]:
    """The range stays inside the legal limits of the category, which count invert sugar."""
    for row in table.rows:
        cells = {name: _number(cell) for name, cell in row.cells.items()}
        abv, least_abv = cells["abv_percent_low"], cells["legal_abv_percent_min"]
        low, high = cells["sugar_g_per_l_low"], cells["sugar_g_per_l_high"]
        least, most = cells["legal_sugar_g_per_l_min"], cells["legal_sugar_g_per_l_max"]
        if abv is not None and least_abv is not None and abv < least_abv:
            yield row.line, "abv_percent_low", f"{abv:g} % is below the legal {least_abv:g} %"
        if low is not None and least is not None and low / SUCROSE_PER_INVERT < least:
            reason = f"{low:g} g/L is below the legal {least:g} g/L as invert sugar"
            yield row.line, "sugar_g_per_l_low", reason
        if high is not None and most is not None and high / SUCROSE_PER_INVERT > most + 1e-9:
            reason = f"{high:g} g/L is above the legal {most:g} g/L as invert sugar"
            yield row.line, "sugar_g_per_l_high", reason


def one_alias_one_ingredient(table: Table) -> Iterator[Place]:
    """Ids, names and aliases, compared without accents and case, each mean one ingredient."""
    owner: dict[str, str] = {}
    for row in table.rows:
        for word in (row.cells["ingredient_id"], row.cells["name"]):
            owner.setdefault(bare(word), row.cells["ingredient_id"])
    for row in table.rows:
        for alias in filter(None, row.cells["aliases"].split(";")):
            other = owner.setdefault(bare(alias), row.cells["ingredient_id"])
            if other != row.cells["ingredient_id"]:
                yield row.line, "aliases", f"{alias!r} already means {other}"
                break


def amount_or_impact(table: Table) -> Iterator[Place]:
    """An odorant row says how much, or at least how much it matters."""
    for row in table.rows:
        if not row.cells["ug_per_l"] and not row.cells["impact"]:
            yield row.line, "impact", "give a concentration or an impact class"


def amount_fits_unit(table: Table) -> Iterator[Place]:
    """An amount is possible in its unit: 1 % of an oil is 10 000 000 µg per kg of oil."""
    for row in table.rows:
        unit, amount = row.cells["unit"], row.cells["amount"]
        high = _number(row.cells["amount_high"])
        if unit == "none" and amount:
            yield row.line, "unit", f"an amount of {amount} needs a unit"
        elif unit != "none" and not amount:
            yield row.line, "amount", f"the unit is {unit}, but there is no amount"
        elif unit == "none" and not row.cells["impact"]:
            yield row.line, "impact", "give an amount or an impact class"
        elif unit == "percent_of_oil" and high is not None and high > 100:
            reason = f"{high:g} % of an oil is more than all of it; is it µg/kg (1 % = 1e7)?"
            yield row.line, "amount_high", reason


def oil_adds_up(table: Table) -> Iterator[Place]:
    """The usual shares of one oil do not add up to more than the oil."""
    total: dict[str, float] = defaultdict(float)
    for row in table.rows:
        amount = _number(row.cells["amount"])
        if row.cells["unit"] != "percent_of_oil" or amount is None:
            continue
        material = row.cells["material_id"]
        before = total[material]
        total[material] += amount
        if before <= OIL_PERCENT_AT_MOST < total[material]:
            reason = f"the usual shares of {material} add up to {total[material]:.0f} % here"
            yield row.line, "amount", reason


def oil_has_a_yield(table: Table, tables: Mapping[str, Table]) -> Iterator[Place]:
    """A material with shares of its oil says how much oil it has."""
    shares = {
        row.cells["material_id"]
        for row in tables["raw_material_odorants"].rows
        if row.cells["unit"] == "percent_of_oil"
    }
    for row in table.rows:
        if row.cells["material_id"] in shares and not row.cells["oil_percent"]:
            yield row.line, "oil_percent", "shares of the oil are given, but not how much oil"


def bare(word: str) -> str:
    """A name as it is compared: lower case, no accents, single spaces.

    >>> bare("Crème de CASSIS")
    'creme de cassis'
    """
    letters = unicodedata.normalize("NFKD", word.casefold())
    plain = "".join(c for c in letters if not unicodedata.combining(c))
    return " ".join(re.sub(r"[\W_]+", " ", plain).split())


def _number(cell: str) -> float | None:
    try:
        return float(cell)
    except ValueError:
        return None


RULES: Final[Mapping[str, Rule]] = {
    "resolvable-source": resolvable_source,
    "cas-check-digit": cas_check_digit,
    "fits-in-a-litre": fits_in_a_litre,
    "within-the-law": within_the_law,
    "one-alias-one-ingredient": one_alias_one_ingredient,
    "amount-or-impact": amount_or_impact,
    "amount-fits-unit": amount_fits_unit,
    "oil-adds-up": oil_adds_up,
}

# Rules that look into other tables too.
LINKED_RULES: Final[Mapping[str, LinkedRule]] = {
    "measured-was-read": measured_was_read,
    "oil-has-a-yield": oil_has_a_yield,
}
