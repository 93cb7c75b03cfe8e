"""Derive the odorants of an ingredient from its raw materials; DERIVATION.md states the rule.

    python -m pairing_data.build.derive

rewrites `tables/derived_odorants.csv` from botanicals, raw_materials and raw_material_odorants.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from io import StringIO
from typing import Final

from pairing_data import table_path
from pairing_data.build.spread import Spread, product, published, total

Row = Mapping[str, str]

UG_PER_KG_IN_ONE_PERCENT: Final = 1e7  # 1 % by weight is 10 g/kg
KG_PER_G: Final = 1e-3
GRADES: Final = ("measured", "derived", "recalled", "estimate")
CLASSES: Final = ("character", "key", "background")
CARRIER: Final = "-base"
MAIN_SHARE: Final = 0.1
MINOR_SHARE: Final = 0.01
COLUMNS: Final = (
    "ingredient_id",
    "odorant_id",
    "ug_per_l_low",
    "ug_per_l",
    "ug_per_l_high",
    "impact",
    "grade",
    "source_id",
    "note",
    "material_ids",
)


@dataclass(frozen=True, slots=True)
class Part:
    """What one raw material brings of one odorant: an amount in µg/L or, failing that, a class."""

    material: str
    amount: Spread | None
    impact: str
    grade: str
    source: str
    dose_source: str
    dose_g_per_l: float


def table(name: str) -> list[dict[str, str]]:
    """All rows of one table."""
    with table_path(name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def worst(*grades: str) -> str:
    """The weakest of the grades, never better than `derived`.

    >>> worst("measured", "measured")
    'derived'
    >>> worst("measured", "recalled", "derived")
    'recalled'
    """
    return GRADES[max(1, *(GRADES.index(grade) for grade in grades))]


def content_ug_per_kg(odorant: Row, material: Row) -> Spread:
    """What a kilogram of the raw material holds of the odorant [µg/kg]."""
    amount = published(
        float(odorant["amount_low"]), float(odorant["amount"]), float(odorant["amount_high"])
    )
    if odorant["unit"] == "ug_per_kg":
        return amount
    oil = published(
        float(material["oil_percent_low"]),
        float(material["oil_percent"]),
        float(material["oil_percent_high"]),
    )
    share = UG_PER_KG_IN_ONE_PERCENT / 100.0
    return product([oil, amount, Spread(share, share, share)])


def amount_ug_per_l(botanical: Row, odorant: Row, material: Row) -> Spread:
    """Dose times content times extraction [µg per litre of finished ingredient]."""
    dose = Spread(
        float(botanical["dose_g_per_l_low"]) or 0.1 * float(botanical["dose_g_per_l"]),
        float(botanical["dose_g_per_l"]),
        float(botanical["dose_g_per_l_high"]),
    )
    extraction = Spread(
        float(botanical["extraction_low"]),
        float(botanical["extraction"]),
        float(botanical["extraction_high"]),
    )
    per_gram = Spread(KG_PER_G, KG_PER_G, KG_PER_G)
    return product([dose, extraction, per_gram, content_ug_per_kg(odorant, material)])


def lowered(impact: str, share: float) -> str:
    """A class as it stands in the ingredient: a minor material is known by its character alone.

    >>> lowered("key", 0.5), lowered("character", 0.03), lowered("key", 0.03)
    ('key', 'key', '')
    """
    if share >= MAIN_SHARE:
        return impact
    return "key" if impact == "character" and share >= MINOR_SHARE else ""


def shares(botanicals: Iterable[Row]) -> dict[str, float]:
    """Each material's dose over the largest dose of its kind (carriers among carriers)."""
    doses = {row["material_id"]: float(row["dose_g_per_l"]) for row in botanicals}
    largest: dict[bool, float] = {}
    for material, dose in doses.items():
        largest[is_carrier(material)] = max(dose, largest.get(is_carrier(material), 0.0))
    return {material: dose / largest[is_carrier(material)] for material, dose in doses.items()}


def is_carrier(material: str) -> bool:
    """Whether the material is the wine or spirit that the plants are in."""
    return CARRIER in material


def part(botanical: Row, odorant: Row, material: Row, share: float) -> Part | None:
    """One material's contribution of one odorant, or None where it is too faint to list.

    A background odorant needs firm ground: no estimated dose and, without a figure, no memory.
    """
    grades = [odorant["grade"], botanical["grade"]]
    remembered = odorant["unit"] == "none" and odorant["grade"] != "measured"
    if odorant["impact"] == "background" and (botanical["grade"] == "estimate" or remembered):
        return None
    amount, impact = None, ""
    if odorant["unit"] == "none":
        impact = lowered(odorant["impact"], share)
        if not impact:
            return None
    else:
        amount = amount_ug_per_l(botanical, odorant, material)
        if odorant["unit"] == "percent_of_oil":
            grades.append(material["grade"])
    return Part(
        odorant["material_id"],
        amount,
        impact,
        worst(*grades),
        odorant["source_id"],
        botanical["source_id"],
        float(botanical["dose_g_per_l"]),
    )


def summed(ingredient: str, odorant: str, parts: list[Part]) -> dict[str, str]:
    """The row of one odorant: amounts add up; without any, the strongest class stands."""
    counted = [(one.amount.mid, one, one.amount) for one in parts if one.amount is not None]
    if counted:
        counted.sort(key=lambda entry: (-entry[0], entry[1].material))
        whole = total(amount for _, _, amount in counted)
        weighty = [one for mid, one, _ in counted if mid >= MAIN_SHARE * whole.mid]
        lead, kept = counted[0][1], [one for _, one, _ in counted]
        return _row(ingredient, odorant, whole, "", worst(*(p.grade for p in weighty)), lead, kept)
    ranked = sorted(
        parts,
        key=lambda one: (
            CLASSES.index(one.impact),
            GRADES.index(one.grade),
            -one.dose_g_per_l,
            one.material,
        ),
    )
    lead = ranked[0]
    return _row(ingredient, odorant, None, lead.impact, lead.grade, lead, ranked)


def _row(
    ingredient: str,
    odorant: str,
    amount: Spread | None,
    impact: str,
    grade: str,
    lead: Part,
    parts: list[Part],
) -> dict[str, str]:
    figures = ("", "", "") if amount is None else (amount.low, amount.mid, amount.high)
    materials = ";".join(one.material for one in parts)
    values = (ingredient, odorant, *map(figure, figures), impact, grade, lead.source)
    return dict(zip(COLUMNS, (*values, f"dose: {lead.dose_source}", materials), strict=True))


def figure(value: float | str) -> str:
    """A number with three significant digits and no exponent.

    >>> figure(12345.6), figure(0.0012345), figure("")
    ('12300', '0.00123', '')
    """
    return format(Decimal(f"{value:.3g}"), "f") if isinstance(value, float) else value


def derived(
    botanicals: Iterable[Row], materials: Iterable[Row], odorants: Iterable[Row]
) -> list[dict[str, str]]:
    """All derived rows, sorted by ingredient and odorant."""
    material_of = {row["material_id"]: row for row in materials}
    odorants_of: dict[str, list[Row]] = defaultdict(list)
    for row in odorants:
        odorants_of[row["material_id"]].append(row)
    botanicals_of: dict[str, list[Row]] = defaultdict(list)
    for row in botanicals:
        botanicals_of[row["ingredient_id"]].append(row)
    rows = []
    for ingredient, used in sorted(botanicals_of.items()):
        share = shares(used)
        parts: dict[str, list[Part]] = defaultdict(list)
        for botanical in used:
            name = botanical["material_id"]
            for odorant in odorants_of[name]:
                one = part(botanical, odorant, material_of[name], share[name])
                if one is not None:
                    parts[odorant["odorant_id"]].append(one)
        rows += [summed(ingredient, odorant, listed) for odorant, listed in sorted(parts.items())]
    return rows


def as_csv(rows: Iterable[Row]) -> str:
    """The table as it stands in the file."""
    text = StringIO()
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def rebuild() -> str:
    """The derived table, from the tables as they stand."""
    rows = derived(table("botanicals"), table("raw_materials"), table("raw_material_odorants"))
    return as_csv(rows)


if __name__ == "__main__":
    table_path("derived_odorants").write_text(rebuild(), encoding="utf-8", newline="")
