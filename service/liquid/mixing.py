"""A liquid as masses: adding up, and the volume that it fills."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from service.liquid.elementwise import Numbers, larger, polynomial, within
from service.liquid.ethanol_water import coefficients_at, within_formula
from service.liquid.sucrose import (
    ACID_ML_PER_G,
    COFFEE_ML_PER_G,
    SALT_ML_PER_G,
    sugar_room,
)

TINY_G: Final = 1e-300  # so that an empty glass has no volume, and no division by nothing
_MOST_SUGAR: Final = 0.85  # g/g: the end of the published sucrose density


@dataclass(frozen=True, slots=True)
class Liquid:
    """What is in the glass, by mass; every field a float or an array, broadcast together.

    Acid counts as tartaric acid. Bitterness (QHE, quinine-hydrochloride equivalents) is a taste,
    and caffeine is part of the coffee solids or too little to weigh: neither adds to the mass.

    >>> (Liquid(60.0, 30.0) + Liquid(10.0)).mass_g
    100.0
    """

    water_g: Numbers
    ethanol_g: Numbers = 0.0
    sucrose_g: Numbers = 0.0
    invert_g: Numbers = 0.0
    acid_g: Numbers = 0.0
    salt_g: Numbers = 0.0
    qhe_mg: Numbers = 0.0
    caffeine_mg: Numbers = 0.0
    coffee_solids_g: Numbers = 0.0

    @property
    def sugar_g(self) -> Numbers:
        """Sucrose and invert sugar together [g]."""
        return self.sucrose_g + self.invert_g

    @property
    def dissolved_g(self) -> Numbers:
        """All that is neither water nor ethanol [g]."""
        return self.sugar_g + self.acid_g + self.salt_g + self.coffee_solids_g

    @property
    def mass_g(self) -> Numbers:
        """What a scale shows [g]."""
        return self.water_g + self.ethanol_g + self.dissolved_g

    def __add__(self, other: Liquid) -> Liquid:
        return Liquid(
            self.water_g + other.water_g,
            self.ethanol_g + other.ethanol_g,
            self.sucrose_g + other.sucrose_g,
            self.invert_g + other.invert_g,
            self.acid_g + other.acid_g,
            self.salt_g + other.salt_g,
            self.qhe_mg + other.qhe_mg,
            self.caffeine_mg + other.caffeine_mg,
            self.coffee_solids_g + other.coffee_solids_g,
        )

    def scaled(self, factor: Numbers) -> Liquid:
        """The same liquid, more or less of it."""
        return Liquid(
            self.water_g * factor,
            self.ethanol_g * factor,
            self.sucrose_g * factor,
            self.invert_g * factor,
            self.acid_g * factor,
            self.salt_g * factor,
            self.qhe_mg * factor,
            self.caffeine_mg * factor,
            self.coffee_solids_g * factor,
        )

    def watered(self, water_g: Numbers) -> Liquid:
        """The same liquid with water added [g]."""
        return replace(self, water_g=self.water_g + water_g)


def volume_ml(liquid: Liquid, celsius: Numbers = 20.0) -> Numbers:
    """Volume that a liquid fills, contraction and dissolved matter counted [mL].

    Parameters
    ----------
    liquid : Liquid
        Masses
    celsius : float or array
        Temperature [°C]

    Valid for: -20 to 40 °C, sugar up to 85 % by mass; OutOfRange outside. An empty glass has 0.
    Source: OIML R 22 (1975) for the spirit; to it is added the room of sugar (ICUMSA SPS-4),
    acid, salt and coffee solids. No table of the three together was found: error about 0.3 %.

    >>> from service.liquid.pouring import poured
    >>> round(volume_ml(poured(60, abv=0.40) + poured(30, abv=0.17)), 2)
    89.86
    """
    within_formula(celsius)
    return volume_of(
        liquid.water_g,
        liquid.ethanol_g,
        liquid.sugar_g,
        liquid.acid_g,
        liquid.salt_g,
        liquid.coffee_solids_g,
        celsius,
    )


def density_kg_per_m3(liquid: Liquid, celsius: Numbers = 20.0) -> Numbers:
    """Density of a whole liquid, sugar and all [kg/m3].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing
    celsius : float or array
        Temperature [°C]

    Valid for: -20 to 40 °C, sugar up to 85 % by mass; OutOfRange outside or when empty.
    Source: as `volume_ml`.

    >>> from service.liquid.pouring import poured
    >>> round(density_kg_per_m3(poured(90, abv=0.28, sugar_g_per_l=60)), 1)
    987.7
    """
    within("liquid", liquid.mass_g, 1e-12, np.inf, "g", "pour something first")
    return 1000.0 * liquid.mass_g / volume_ml(liquid, celsius)


def volume_of(
    water: Numbers,
    ethanol: Numbers,
    sugar: Numbers,
    acid: Numbers,
    salt: Numbers,
    coffee: Numbers,
    celsius: Numbers,
) -> Numbers:
    """Volume of masses [mL]: the spirit, and the room of what is dissolved in it."""
    spirit = water + ethanol
    filled = larger(spirit, TINY_G)
    volume = 1000.0 * spirit / polynomial(coefficients_at(celsius), ethanol / filled)
    total = filled + sugar + acid + salt + coffee
    if not _is_nil(sugar):
        share = sugar / total
        within("sugar", share, 0.0, _MOST_SUGAR, "g/g", "so much sugar stays undissolved")
        volume = volume + sugar * sugar_room(share, celsius)
    if not _is_nil(salt):
        volume = volume + salt * polynomial(SALT_ML_PER_G, salt / total)
    return volume + ACID_ML_PER_G * acid + COFFEE_ML_PER_G * coffee


def _is_nil(amount: Numbers) -> bool:
    return not isinstance(amount, np.ndarray) and amount == 0.0
