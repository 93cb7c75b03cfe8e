"""The JSON of a question asked backwards, the same for page, API and command; and its words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final, TypeAlias

from service.counter.reach import Backwards, Found, Made
from service.counter.readings import caution_json, drink_json
from service.counter.shapes import interval_json, significant
from service.counter.swap_json import amount_words
from service.drink import Missed, State, Target, Way, grams_per_ml
from service.drink.lattice import by_the_dash
from service.ingredients.records import Ingredient
from service.kit import plain_number
from service.liquid import BuiltOnCube, PreDiluted, Unchilled

Json = dict[str, Any]
Volumes: TypeAlias = Callable[[Ingredient | None, float, int], str]
"""How a bar writes a volume, of a bottle or of a drink: mL and digits that count, into words."""
# Nobody stirs a drink for longer in service (estimate); from here on it is said.
LONGEST_AT_THE_BAR_S: Final = 90.0
# Enough for whoever asks again with the exact numbers to find the target to a millionth.
_DIGITS: Final = 9
PERCENT: Final = " % vol"
BAR_DIGITS: Final = 3  # nobody at a bar measures finer
# Amounts that a bar can measure may miss a small glass by more than this share: then it is said.
_NEAR_SHARE: Final = 0.1
_RANGES: Final = {
    Way.STIRRING: "0 to 900 s of stirring bring",
    Way.WATER: "no water at all to three times the drink bring",
    Way.AMOUNTS: "half to twice of everything, made as before, bring",
}


def reach_json(answer: Backwards) -> Json:
    """The target, the drink as it is, and each way: exactly, as a bar measures it, read back."""
    target = answer.question.target
    return {
        "target": {
            "abv_percent": None if target.abv is None else significant(100 * target.abv, _DIGITS),
            "glass_ml": target.volume_ml,
        },
        "drink": drink_json(answer.drink),
        "now": glass_json(answer.now.after),
        "ways": [way_json(answer, way) for way in answer.ways],
        "cautions": [caution_json(caution) for caution in answer.cautions],
    }


def glass_json(state: State) -> Json:
    """Strength and volume in the guest's glass; the middle is that of the usual bottles."""
    return {
        "abv_percent": interval_json(state.abv.scaled(100.0), _DIGITS),
        "volume_ml": interval_json(state.volume_ml, _DIGITS),
        "celsius": interval_json(state.celsius),
    }


def way_json(answer: Backwards, way: Found | Missed) -> Json:
    found, missed = (None, way) if isinstance(way, Missed) else (way, None)
    return {
        "way": str(way.way),
        "reaches": found is not None,
        "words": way_words(answer, way),
        "exact": None if found is None else made_json(found.exact),
        "measured": None if found is None else made_json(found.measured),
        "reachable": None if missed is None or not missed.quantity else _reachable_json(missed),
    }


def made_json(made: Made) -> Json:
    """What to do, and what the glass then is."""
    return {
        "factor": significant(made.factor, _DIGITS),
        "seconds": None if made.seconds is None else significant(made.seconds, _DIGITS),
        "water_ml": significant(made.water_ml, _DIGITS),
        "kept_celsius": made.kept_celsius,
        "pours": [
            {
                "ingredient": p.ingredient.id,
                "name": p.ingredient.name,
                "volume_ml": significant(p.volume_ml, _DIGITS),
                "mass_g": significant(p.volume_ml * grams_per_ml(p.ingredient), _DIGITS),
            }
            for p in made.drink.pours
        ],
        "glass": glass_json(made.reading.after),
    }


def in_ml(ingredient: Ingredient | None, volume_ml: float, digits: int) -> str:
    """Volumes as API and command write them."""
    if ingredient is not None and by_the_dash(ingredient) and digits <= BAR_DIGITS:
        return amount_words(ingredient, volume_ml)
    return f"{plain_number(volume_ml, digits)} mL"


def target_words(target: Target, said: Volumes = in_ml) -> str:
    """`28 % vol`, `110 mL`, or both."""
    strength = "" if target.abv is None else f"{plain_number(100 * target.abv, 4)} % vol"
    volume = "" if target.volume_ml is None else said(None, target.volume_ml, 4)
    return " and ".join(filter(None, (strength, volume)))


def way_words(answer: Backwards, way: Found | Missed, said: Volumes = in_ml) -> str:
    """What to do on one way, or why it does not lead there; without a full stop."""
    if isinstance(way, Missed):
        return _missed_words(answer, way, said)
    made = way.measured
    match way.way:
        case Way.STIRRING:
            do = _stir_words(made)
        case Way.WATER:
            do = _water_words(made, said)
        case Way.AMOUNTS:
            do = _as_before(answer)
    poured = "" if made.factor == 1.0 else f"pour {pours_words(made, said)}; "
    return f"{poured}{do}{_measured_words(answer.question.target, made, said)}"


def pours_words(made: Made, said: Volumes = in_ml, digits: int = BAR_DIGITS) -> str:
    """Every pour as a bar measures it, or with more digits."""
    return ", ".join(
        f"{said(p.ingredient, p.volume_ml, digits)} {p.ingredient.name}" for p in made.drink.pours
    )


def exact_words(made: Made, said: Volumes = in_ml) -> str:
    """The numbers that meet the target to the last digit, before anybody measures them."""
    told = []
    if made.factor != 1.0:
        told.append(f"{plain_number(made.factor, 5)} times, {pours_words(made, said, 5)}")
    if made.seconds is not None:
        melt = f"{said(None, made.water_ml, 4)} of it melts"
        told.append(f"{plain_number(made.seconds, 4)} s on the ice, {melt}")
    elif made.kept_celsius is not None:
        told.append(f"{said(None, made.water_ml, 5)} of water")
    glass = made.reading.after
    strength = plain_number(100 * glass.abv.mid, 6)
    volume = said(None, glass.volume_ml.mid, 6)
    return f"{'; '.join(told)}; reads back as {strength} % vol, {volume}"


def _measured_words(target: Target, made: Made, said: Volumes) -> str:
    """Where the steps of the bar are too coarse for so small a drink."""
    volume = made.reading.after.volume_ml.mid
    if target.volume_ml is None or abs(volume / target.volume_ml - 1.0) <= _NEAR_SHARE:
        return ""
    return f"; so measured it fills {said(None, volume, BAR_DIGITS)}: make several serves at once"


def _stir_words(made: Made) -> str:
    seconds = made.seconds or 0.0
    verb = "turn it on its cube" if isinstance(made.drink.preparation, BuiltOnCube) else "stir"
    long = seconds > LONGEST_AT_THE_BAR_S
    after = ", longer than a bar stirs: measured water is the better way" if long else ""
    return f"{verb} for {seconds:.0f} s{after}"


def _water_words(made: Made, said: Volumes) -> str:
    cold = f"keep it at {plain_number(made.kept_celsius or 0.0)} °C"
    if made.water_ml < 0.5:
        return f"add no water, leave out the ice, and {cold}"
    water = said(None, made.water_ml, BAR_DIGITS)
    return f"add {water} of water to each serve in place of ice, and {cold}"


def _as_before(answer: Backwards) -> str:
    match answer.drink.preparation:
        case PreDiluted():
            return "water in the same proportion"
        case Unchilled():
            return "no ice, as before"
        case _:
            return "stir as before, on the same ice"


def _missed_words(answer: Backwards, missed: Missed, said: Volumes) -> str:
    target = answer.question.target
    if not missed.quantity:
        return f"out of reach: {missed.reason}"
    low, high = (_end_words(missed, end, said) for end in (missed.low, missed.high))
    if low and high:
        size = ""
        if target.volume_ml is not None and missed.quantity == "abv" and target.abv is not None:
            size = f" of {said(None, target.volume_ml, 4)}"
        if low == high:
            return f"out of reach: on this way the glass{size} stays at {low}"
        bring = f"{_RANGES[missed.way]} the glass{size}"
        return f"out of reach: {bring} to between {low.removesuffix(PERCENT)} and {high}"
    end = f"no less than {low}" if low else f"no more than {high}"
    return f"out of reach: {end} can be filled"


def _end_words(missed: Missed, end: float | None, said: Volumes) -> str:
    if end is None:
        return ""
    if missed.quantity == "abv":
        return f"{plain_number(100 * end)}{PERCENT}"
    return said(None, end, BAR_DIGITS)


def _reachable_json(missed: Missed) -> Json:
    percent = missed.quantity == "abv"

    def told(end: float | None) -> float | None:
        return None if end is None else significant(100 * end if percent else end)

    return {
        "low": told(missed.low),
        "high": told(missed.high),
        "unit": "% vol" if percent else "mL",
    }
