"""What a guest must be told, and what a bar must heed: structured facts, each with its source.

Guidance only. Local law, licensing, and the judgement of a licensed operator or a clinician come
first; nothing here says that a drink is safe for anybody.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Final

import pairing_data
from service.drink.parts import Drink
from service.ingredients.records import Ingredient
from service.kit import Interval, NotFound


class Level(StrEnum):
    """How loudly a caution speaks."""

    NOTE = "note"
    WARN = "warn"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Caution:
    """One fact: a code for programs, words for people, the source, and the number if any."""

    code: str
    level: Level
    message: str
    source: str
    value: float | None = None
    unit: str = ""


# EFSA 2015, Scientific opinion on the safety of caffeine (EFSA Journal 13(5):4102).
CAFFEINE_SINGLE_MG: Final = 200.0
CAFFEINE_DAILY_MG: Final = 400.0
CAFFEINE_DAILY_PREGNANT_MG: Final = 200.0
# Our own estimate of where to start telling: half of the single dose.
CAFFEINE_TELL_FROM_MG: Final = 100.0
# Regulation (EU) No 1169/2011, Annex III (4.1): label of packaged drinks.
CAFFEINE_LABEL_MG_PER_L: Final = 150.0
_EFSA: Final = "EFSA 2015, EFSA Journal 13(5):4102"
_EU_LABEL: Final = "Regulation (EU) No 1169/2011"

# Ethanol in one standard drink [g]. US, GB, AU, AT, JP, CA and the World Health Organization's
# screening questionnaire: national definitions; the others from memory, to be confirmed locally.
STANDARD_DRINK_G: Final[dict[str, float]] = {
    "AT": 20.0, "AU": 10.0, "CA": 13.45, "DK": 12.0, "ES": 10.0, "FI": 12.0, "FR": 10.0,
    "GB": 7.89, "IE": 10.0, "IT": 12.0, "JP": 20.0, "NZ": 10.0, "US": 14.0, "WHO": 10.0,
    "ZA": 12.0,
}  # fmt: skip
DEFAULT_COUNTRY: Final = "US"


def standard_drinks(ethanol_g: float, country: str = DEFAULT_COUNTRY) -> float:
    """Ethanol counted in a country's standard drinks."""
    if country not in STANDARD_DRINK_G:
        known = ", ".join(STANDARD_DRINK_G)
        raise NotFound(
            f"no standard drink is known for {country!r}; choose one of {known}", field="country"
        )
    return ethanol_g / STANDARD_DRINK_G[country]


def cautions_for(
    drink: Drink,
    *,
    ethanol_g: Interval,
    caffeine_mg: Interval,
    caffeine_ceiling_mg: float,
    volume_ml: float,
    country: str = DEFAULT_COUNTRY,
) -> tuple[Caution, ...]:
    """All that must be said of one drink; `caffeine_ceiling_mg` is what all of the coffee holds."""
    ingredients = [pour.ingredient for pour in drink.pours]
    found = [
        *_alcohol(ethanol_g, country),
        *_caffeine(drink, caffeine_mg, caffeine_ceiling_mg),
        *_caffeine_label(drink, caffeine_mg, volume_ml),
        *allergens_of(ingredients),
        *_named_by_bottles(ingredients),
    ]
    if drink.bed is not None:
        found.append(
            Caution(
                "coffee-filter",
                Level.NOTE,
                "Run the drink through paper, and throw the bed away after one use.",
                "common practice, no source; paper holds back coffee oil",
            )
        )
    found.append(_deferring())
    return tuple(found)


def allergens_of(ingredients: Iterable[Ingredient]) -> list[Caution]:
    """One caution per allergen, naming the bottles that bring it."""
    bring: dict[str, list[str]] = {}
    for ingredient in ingredients:
        for allergen in ingredient.allergens:
            bring.setdefault(allergen, []).append(ingredient.name)
    return [
        Caution(
            f"allergen-{allergen}",
            Level.WARN,
            f"Contains or may contain {allergen}: {', '.join(dict.fromkeys(bring[allergen]))}. "
            "Read the label of your own bottle.",
            f"{_EU_LABEL}, Annex II",
        )
        for allergen in sorted(bring)
    ]


def _alcohol(ethanol_g: Interval, country: str) -> list[Caution]:
    count = standard_drinks(ethanol_g.mid, country)
    if ethanol_g.mid <= 0.0:
        return []
    return [
        Caution(
            "alcohol",
            Level.NOTE,
            f"About {ethanol_g.mid:.0f} g of alcohol, {count:.1f} standard drinks ({country}). "
            "An estimate; for adults of legal age.",
            f"standard drink of {STANDARD_DRINK_G[country]:g} g, national definition",
            round(ethanol_g.mid, 2),
            "g",
        )
    ]


def _caffeine(drink: Drink, caffeine_mg: Interval, ceiling_mg: float) -> list[Caution]:
    if caffeine_mg.high < 1.0:
        return []
    found = [
        Caution(
            "caffeine",
            Level.NOTE if caffeine_mg.high < CAFFEINE_TELL_FROM_MG else Level.WARN,
            f"About {caffeine_mg.mid:.0f} mg of caffeine ({caffeine_mg.low:.0f} to "
            f"{caffeine_mg.high:.0f}). Guidance for healthy adults: {CAFFEINE_SINGLE_MG:.0f} mg at "
            f"once and {CAFFEINE_DAILY_MG:.0f} mg a day; {CAFFEINE_DAILY_PREGNANT_MG:.0f} mg a "
            "day in pregnancy, when alcohol is to be avoided altogether.",
            _EFSA,
            round(caffeine_mg.mid, 1),
            "mg",
        ),
        Caution(
            "caffeine-and-alcohol",
            Level.WARN,
            "Coffee may hide how drunk a guest feels; it does not lower the alcohol in the blood. "
            "Never call it sobering, and count it late in the evening.",
            "usual public-health advice on caffeine with alcohol",
        ),
    ]
    if caffeine_mg.high > CAFFEINE_SINGLE_MG:
        found.append(_over_single_dose("caffeine-single-dose", Level.STOP, caffeine_mg.high))
    elif ceiling_mg > CAFFEINE_SINGLE_MG and drink.bed is not None:
        found.append(_over_single_dose("caffeine-ceiling", Level.WARN, ceiling_mg))
    return found


def _over_single_dose(code: str, level: Level, milligrams: float) -> Caution:
    condition = "it may hold" if level is Level.STOP else "were all of the caffeine to come out,"
    return Caution(
        code,
        level,
        f"More than {CAFFEINE_SINGLE_MG:.0f} mg of caffeine in one serve is possible: {condition} "
        f"{milligrams:.0f} mg. Use less coffee, or one with less caffeine.",
        _EFSA,
        round(milligrams, 1),
        "mg",
    )


def _caffeine_label(drink: Drink, caffeine_mg: Interval, volume_ml: float) -> list[Caution]:
    """The label of a bottled drink; not asked of one whose name contains coffee or tea."""
    per_litre = caffeine_mg.mid / volume_ml * 1000.0
    named = any(word in drink.name.lower() for word in ("coffee", "tea"))
    if per_litre <= CAFFEINE_LABEL_MG_PER_L or named:
        return []
    return [
        Caution(
            "caffeine-label",
            Level.NOTE,
            f"If it is ever bottled for sale in the European Union: {per_litre:.0f} mg/L of "
            "caffeine asks for the high-caffeine statement beside its name. In the United States "
            "caffeine may not simply be added to packaged alcoholic drinks.",
            f"{_EU_LABEL}, Annex III (4.1); US Food and Drug Administration, 2010",
            round(per_litre, 1),
            "mg/L",
        )
    ]


def _named_by_bottles(ingredients: Iterable[Ingredient]) -> list[Caution]:
    bring: dict[str, list[str]] = {}
    for ingredient in ingredients:
        for code in ingredient.cautions:
            bring.setdefault(code, []).append(ingredient.name)
    known = _meanings()
    return [
        Caution(
            code,
            Level.WARN,
            f"{', '.join(dict.fromkeys(bring[code]))}: {known[code][0]}",
            known[code][1],
        )
        for code in sorted(bring)
        if code in known
    ]


def _deferring() -> Caution:
    return Caution(
        "local-law",
        Level.NOTE,
        "Every figure is an estimate. Local law, your licence and professional judgement come "
        "first; ask a clinician where a guest's health or medicine is in question.",
        "common practice, no source",
    )


@lru_cache(maxsize=1)
def _meanings() -> Mapping[str, tuple[str, str]]:
    """Words and source of each caution a bottle can carry, from the open dataset."""
    with pairing_data.table_path("cautions").open(encoding="utf-8", newline="") as file:
        return {
            row["caution_id"]: (row["meaning"], row["source_id"]) for row in csv.DictReader(file)
        }
