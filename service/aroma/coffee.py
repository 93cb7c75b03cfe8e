"""A coffee is not a fixed point: roast, process, species and the bag's own words make its aroma."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from service.aroma.intensity import intensity, intensity_of_activity, steadiness
from service.aroma.space import TRUST, AromaSpace, Vector, family_profile
from service.ingredients import Catalogue, CoffeeProfile
from service.ingredients.records import Grade, Occurrence, Roast
from service.kit import BadData

# How far each roast lies towards the dataset's `light` and `dark` effects; the medium roast is
# the reference. Between them factors are interpolated in the logarithm.
ROAST_POSITION: Mapping[Roast, tuple[str, float]] = {
    Roast.LIGHT: ("light", 1.0),
    Roast.MEDIUM_LIGHT: ("light", 0.5),
    Roast.MEDIUM: ("light", 0.0),
    Roast.MEDIUM_DARK: ("dark", 0.5),
    Roast.DARK: ("dark", 1.0),
}
# Share of the bag's own notes in a coffee's aroma where there are any: our estimate. Somebody
# smelled this very coffee; the profile only says what such coffees are like.
NOTES_SHARE = 0.6
# The bag's words are somebody's judgement, not an analysis.
NOTES_TRUST = TRUST[Grade.RECALLED]
COFFEE = "coffee"
# What sets a profile apart is heard up to this share of a note that a bag names, and to half of
# that where its notes lie this far from the usual coffee's: our estimates (a dark roast lies
# 0.05 from a medium one on this compressed scale, and everybody smells the difference).
MOST_APART, HALF_APART = 0.5, 0.05
# The coffee that books and dishes mean when they say no more.
USUAL = CoffeeProfile()


@dataclass(frozen=True, slots=True, eq=False)
class Aroma:
    """What a coffee or a bottle smells of, ready to be compared.

    notes : (descriptors,) of length 1, TF-IDF weighted
    trust : (descriptors,) how well each note is known, 0 to 1
    context : the id under which public specifications know it
    odorants : (odorants,) intensities
    plain : (descriptors,) of length 1: the notes without the bag's own words
    named : (descriptors,) of length 1: the bag's own words alone; all 0 where there are none
    apart : (descriptors,) notes that are stronger than in the usual coffee (medium, washed
        arabica): what sets this roast, process or species apart; all 0 for a bottle
    kin : (descriptors,) the other notes of the families that the bag names, as strong as those
    """

    id: str
    context: str
    notes: Vector
    trust: Vector
    families: Vector
    odorants: Vector
    plain: Vector
    named: Vector
    kin: Vector
    apart: Vector

    @property
    def sides(self) -> tuple[tuple[float, Vector], ...]:
        """What the aroma is like, as shares and notes: a coffee, and what its bag names."""
        if not self.named.any():
            return ((1.0, self.plain),)
        return ((1.0 - NOTES_SHARE, self.plain), (NOTES_SHARE, self.named))


def ingredient_aroma(space: AromaSpace, ingredient_id: str) -> Aroma:
    """The aroma of a bottle, as it stands in the space."""
    row = space.index[ingredient_id]
    notes = space.notes[[row]].toarray().ravel()
    return Aroma(
        id=ingredient_id,
        context=ingredient_id,
        notes=notes,
        trust=space.trust[[row]].toarray().ravel(),
        families=space.families[row],
        odorants=space.odorants[[row]].toarray().ravel(),
        plain=notes,
        named=np.zeros_like(notes),
        kin=np.zeros_like(notes),
        apart=np.zeros_like(notes),
    )


def coffee_aroma(
    space: AromaSpace,
    catalogue: Catalogue,
    profile: CoffeeProfile,
    notes: Mapping[str, float] | None = None,
) -> Aroma:
    """The aroma of a coffee from its profile and from the weighted descriptors of its bag."""
    brew = _brew(space, catalogue, profile)
    named = named_notes(space, notes or {})
    power = space.settings.compression
    share = NOTES_SHARE if named.any() else 0.0
    from_profile = (1.0 - share) * brew.compressed
    from_words = share * _unit(named**power)
    raw = from_profile + from_words
    trust = _ratio(from_profile * brew.trust + from_words * NOTES_TRUST, raw)
    unit = _unit(raw * space.rarity)
    bag = _unit(named**power * space.rarity)
    return Aroma(
        id=profile.id,
        context=COFFEE,
        notes=unit,
        trust=trust,
        families=family_profile(unit, space.family_of),
        odorants=brew.odorants,
        plain=brew.plain,
        named=bag,
        kin=np.where(bag > 0, 0.0, space.family_of @ family_profile(bag, space.family_of)),
        apart=brew.apart,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Brew:
    """What roast, process and species alone make of a coffee, before anybody names a note.

    compressed : (descriptors,) of length 1, not yet weighed by rarity
    plain : the same weighed by rarity
    apart : what sets the profile apart from the usual coffee
    """

    odorants: Vector
    compressed: Vector
    trust: Vector
    plain: Vector
    apart: Vector


@lru_cache(maxsize=256)
def _brew(space: AromaSpace, catalogue: Catalogue, profile: CoffeeProfile) -> _Brew:
    odorants, trusted = coffee_odorants(space, catalogue, profile)
    smelled = odorants @ space.odorant_notes
    compressed = _unit(smelled**space.settings.compression)
    plain = _unit(compressed * space.rarity)
    return _Brew(
        odorants=odorants,
        compressed=compressed,
        trust=_ratio(trusted @ space.odorant_notes, smelled),
        plain=plain,
        apart=np.zeros_like(plain)
        if profile == USUAL
        else _apart(plain, _brew(space, catalogue, USUAL).plain),
    )


def _apart(plain: Vector, usual: Vector) -> Vector:
    more = np.maximum(plain - usual, 0.0)
    distance = float(np.linalg.norm(more))
    return _unit(more) * MOST_APART * distance / (distance + HALF_APART)


def coffee_odorants(
    space: AromaSpace, catalogue: Catalogue, profile: CoffeeProfile
) -> tuple[Vector, Vector]:
    """Intensity of each odorant in a brew of that profile, and the same times its trust."""
    place = {name: column for column, name in enumerate(space.odorant_ids)}
    factors = profile_factors(catalogue, profile)
    values = np.zeros(len(space.odorant_ids))
    trusted = np.zeros(len(space.odorant_ids))
    for row in catalogue.coffee:
        factor, trust = factors.get(row.odorant, (1.0, 1.0))
        value = scaled_intensity(space, row, factor)
        values[place[row.odorant]] = value
        trusted[place[row.odorant]] = value * min(TRUST[row.grade], trust) * steadiness(row, value)
    return values, trusted


def scaled_intensity(space: AromaSpace, row: Occurrence, factor: float) -> float:
    """Intensity after the odorant's amount was multiplied by a factor."""
    reference = intensity(row, space.thresholds, space.impact, ethanol=0.0)
    activity = 10.0**reference - 1.0
    return intensity_of_activity(activity * factor)


def profile_factors(catalogue: Catalogue, profile: CoffeeProfile) -> dict[str, tuple[float, float]]:
    """By odorant: the product of the roast, process and species factors, and its trust."""
    roast_level, roast_share = ROAST_POSITION[profile.roast]
    shares = {
        ("roast", roast_level): roast_share,
        ("process", str(profile.process)): 1.0,
        ("species", str(profile.species)): 1.0,
    }
    factors: dict[str, tuple[float, float]] = {}
    for effect in catalogue.coffee_effects:
        share = shares.get((effect.dimension, effect.level), 0.0)
        if share > 0:
            so_far, trust = factors.get(effect.odorant, (1.0, 1.0))
            factors[effect.odorant] = (
                so_far * math.exp(share * math.log(effect.factor.mid)),
                min(trust, TRUST[effect.grade]),
            )
    return factors


def named_notes(space: AromaSpace, notes: Mapping[str, float]) -> Vector:
    """Weighted descriptors as a vector over the notes."""
    vector = np.zeros(len(space.descriptors))
    for descriptor, weight in notes.items():
        if descriptor not in space.descriptor_index:
            raise BadData(f"{descriptor!r} is no descriptor of the dataset", field="notes")
        vector[space.descriptor_index[descriptor]] = weight
    return vector


def _unit(vector: Vector) -> Vector:
    length = float(np.linalg.norm(vector))
    return vector / length if length > 0 else vector


def _ratio(part: Vector, whole: Vector) -> Vector:
    return np.asarray(np.divide(part, whole, out=np.zeros_like(whole), where=whole > 0))
