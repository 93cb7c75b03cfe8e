"""What a batch sheet says besides its figures."""

from __future__ import annotations

from service.bar import Units
from service.counter.house_batch import SpecBatch
from service.counter.house_known import House
from service.counter.house_readings import SpecAsked
from service.web.pages.coffee_terms import term
from service.web.pages.house import volume_words
from service.web.pages.telling import listed


def made_up_words(made: SpecBatch, units: Units) -> str:
    """How the loss in the coffee is made up."""
    lost = made.stirred_ml - made.glass_ml
    if made.batch.coffee_g == 0:
        return "It runs through no coffee: nothing is lost."
    return (
        f"Of {volume_words(round(made.stirred_ml), units)} stirred, the coffee keeps about "
        f"{volume_words(round(lost), units)}. So that each glass gets "
        f"{volume_words(round(made.wanted_ml), units)}, every amount is that of the spec times "
        f"{made.batch.factor:.2f}, the coffee's too."
    )


def batch_steps(spec: SpecAsked, made: SpecBatch) -> list[str]:
    """What to do, in order."""
    steps = [
        "Mix the bottles, add the water, close it, and write name, day and allergens on it.",
        "Chill it through; no ice touches it, because its water is in it already.",
    ]
    if spec.coffee is not None:
        grind = term(spec.coffee.grind)
        per_glass = made.batch.coffee_g / made.batch.serves
        steps.append(
            f"Pour it through the coffee ({per_glass:.1f} g for each glass, {grind}) close to "
            "serving, not days before."
        )
    return steps


def keeping_words(house: House, made: SpecBatch) -> list[str]:
    """How long it keeps; cautions, not promises."""
    names = listed(house.name_of(name) for name in made.spoils)
    said = [
        "Keep it closed and cold, below 5 °C. Your own food-safety plan and local law come first.",
        "What has run through coffee fades within hours: pour it through on the day.",
    ]
    if names:
        said.insert(
            0,
            f"It holds what spoils once it is open ({names}): make it for days, not for weeks, "
            "and throw away what tastes tired. Common practice, no source.",
        )
    return said
