"""The JSON of a swap or a rescue, the same for page, API and command; and its words."""

from __future__ import annotations

from typing import Any

from service.counter.known import Known
from service.counter.readings import balance_json, drink_json
from service.counter.shapes import DECIMALS, confidence_json, significant
from service.drink.lattice import by_the_dash, counted
from service.ingredients.records import Ingredient
from service.kit import plain_number
from service.recommend.explain import listed, spoken_note
from service.recommend.swap import (
    Change,
    Flag,
    Held,
    NoteShare,
    Rescue,
    StandIn,
    StandIns,
    Swap,
    note_clauses,
)

Json = dict[str, Any]


def swap_json(known: Known, answer: StandIns | Rescue) -> Json:
    """What is missing, the replacements best first, and what to buy where none is good."""
    missing = known.catalogue.ingredients[answer.missing]
    body: Json = {
        "dataset_version": known.catalogue.version,
        "missing": {"ingredient": missing.id, "name": missing.name, "role": str(missing.role)},
        "nothing_does_it": answer.nothing_does_it,
    }
    if isinstance(answer, StandIns):
        body["replacements"] = [stand_in_json(known, one) for one in answer.options]
    else:
        body |= {
            "drink": drink_json(answer.drink),
            "verdict": str(answer.reading.verdict),
            "replacements": [rescue_json(known, one) for one in answer.swaps],
            "two_bottles": [rescue_json(known, one) for one in answer.twos],
        }
    body["to_buy"] = [
        {
            "ingredient": one.ingredient,
            "name": known.catalogue.ingredients[one.ingredient].name,
            "score": round(one.score, DECIMALS),
        }
        for one in answer.to_buy
    ]
    body["words"] = answer_words(known, answer)
    body["weights"] = answer.weights.as_json()
    return body


def stand_in_json(known: Known, one: StandIn) -> Json:
    """One replacement before any amounts; flags first."""
    ingredient = known.catalogue.ingredients[one.ingredient]
    return {
        "flags": [flag_json(flag) for flag in one.flags],
        "ingredient": one.ingredient,
        "name": ingredient.name,
        "role": str(ingredient.role),
        "score": round(one.score, DECIMALS),
        "confidence": confidence_json(one.confidence),
        "parts": {str(part): round(value, DECIMALS) for part, value in one.parts.items()},
        "notes": {
            "kept_share": round(one.kept_share, 4),
            "added_share": round(one.added_share, 4),
            "kept": _notes(one.notes.kept),
            "lost": _notes(one.notes.lost),
            "gained": _notes(one.notes.gained),
        },
        "jobs": list(one.jobs),
        "poured_with": list(one.partners),
        "words": stand_in_words(one),
    }


def rescue_json(known: Known, one: Swap) -> Json:
    """One way out with its amounts; flags first."""
    names = [known.catalogue.ingredients[name].name for name in one.ingredients]
    taste = one.noticed.taste
    return {
        "flags": [flag_json(flag) for flag in one.flags],
        "ingredient": one.ingredients[0],
        "ingredients": list(one.ingredients),
        "name": " and ".join(names),
        "score": round(one.score, DECIMALS),
        "likeness": round(one.likeness, DECIMALS),
        "confidence": confidence_json(one.confidence),
        "parts": {str(part): round(value, DECIMALS) for part, value in one.parts.items()},
        "drink": drink_json(one.drink),
        "changes": [change_json(known, change) for change in one.changes],
        "in_tolerance": one.in_tolerance,
        "tolerances": [held_json(held) for held in one.held],
        "noticed": {
            "kept_share": round(one.kept_share, 4),
            "lost": _notes(one.noticed.lost),
            "gained": _notes(one.noticed.gained),
            "sweeter_points": round(taste.sweet, 2),
            "more_bitter_points": round(taste.bitter, 2),
            "sharper_points": round(taste.sour, 2),
            "stronger_percent": round(taste.strength, 2),
            "taste": list(taste.words),
        },
        "after": balance_json(one.reading.balance_after),
        "words": rescue_words(known, one),
    }


def flag_json(flag: Flag) -> Json:
    return {
        "kind": str(flag.kind),
        "code": flag.code,
        "ingredient": flag.ingredient,
        "words": flag.words,
    }


def change_json(known: Known, change: Change) -> Json:
    ingredient = known.catalogue.ingredients[change.ingredient]
    return {
        "ingredient": change.ingredient,
        "name": ingredient.name,
        "was_ml": significant(change.was_ml),
        "now_ml": significant(change.now_ml),
        "words": amount_words(ingredient, change.now_ml) if change.now_ml > 0 else "out",
    }


def held_json(held: Held) -> Json:
    return {
        "measure": str(held.measure),
        "unit": held.measure.unit,
        "was": significant(held.was),
        "now": significant(held.now),
        "difference": significant(held.difference),
        "tolerance": significant(held.tolerance),
        "within": held.within,
    }


def amount_words(ingredient: Ingredient, volume_ml: float) -> str:
    """`45 ml`, `2 dashes`, `4 drops`."""
    if by_the_dash(ingredient):
        return counted(ingredient, volume_ml)
    return f"{plain_number(volume_ml)} ml"


def answer_words(known: Known, answer: StandIns | Rescue) -> str:
    """What there is to say of the whole answer in one line."""
    names = known.catalogue.ingredients
    missing = names[answer.missing].name
    buy = listed([names[one.ingredient].name for one in answer.to_buy])
    if answer.nothing_does_it:
        nearest = f"; the nearest to buy: {buy}" if buy else ""
        return f"nothing on this shelf stands in for {missing}{nearest}"
    if isinstance(answer, StandIns):
        best = names[answer.options[0].ingredient].name
    else:
        ways = sorted((*answer.swaps[:1], *answer.twos[:1]), key=lambda one: -one.score)
        best = " and ".join(names[name].name for name in ways[0].ingredients)
    nearer = f"; nearer, but not on this shelf: {buy}" if buy else ""
    return f"for {missing} pour {best}{nearer}"


def stand_in_words(one: StandIn) -> str:
    """Flags first; then the job, what is kept, lost and gained."""
    clauses = [flag.words for flag in one.flags]
    if one.jobs:
        clauses.append(f"does the same job: {one.jobs[0]}")
    clauses += note_clauses(kept=one.notes.kept, lost=one.notes.lost, gained=one.notes.gained)
    return "; ".join(clauses)


def rescue_words(known: Known, one: Swap) -> str:
    """Flags first; then the amounts that move, and what a guest will notice."""
    names = known.catalogue.ingredients
    clauses = [flag.words for flag in one.flags]
    poured = [change for change in one.changes if change.now_ml > 0]
    amounts = [
        f"{amount_words(names[c.ingredient], c.now_ml)} {names[c.ingredient].name}" for c in poured
    ]
    clauses.append(f"pour {listed(amounts)}")
    clauses += note_clauses(lost=one.noticed.lost, gained=one.noticed.gained)
    if one.noticed.taste.words:
        clauses.append(listed(one.noticed.taste.words))
    off = [str(held.measure) for held in one.held if not held.within]
    clauses.append(f"out of tolerance: {listed(off)}" if off else "all in tolerance")
    return "; ".join(clauses)


def _notes(notes: tuple[NoteShare, ...]) -> list[Json]:
    return [
        {"descriptor": n.descriptor, "share": round(n.share, 4), "word": spoken_note(n.descriptor)}
        for n in notes
    ]
