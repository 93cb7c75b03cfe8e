"""True against apparent strength: what sugar hides from a hydrometer."""

from __future__ import annotations

from service.kit import OutOfRange
from service.liquid.analysis import abv
from service.liquid.elementwise import Numbers, larger, largest, polynomial, within
from service.liquid.ethanol_water import ETHANOL_DENSITY, coefficients_at
from service.liquid.mixing import Liquid, density_kg_per_m3
from service.liquid.strength import abv_of_density, mass_fraction_of_abv
from service.liquid.sucrose import sugar_room


def apparent_abv(liquid: Liquid) -> Numbers:
    """Strength that a hydrometer shows, which takes sugar for water [mL/mL at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: liquids lighter than water; OutOfRange when sugar makes them denser, where no
    strength can be read at all.
    Source: OIML R 22 (1975), general formula; 27 CFR 30.32 gives the same effect as a rule,
    0.1 g of solids per 100 mL hiding 0.4 degrees of proof.

    >>> from service.liquid.pouring import poured
    >>> round(apparent_abv(poured(100, abv=0.40, sugar_g_per_l=10)), 3)
    0.376
    """
    return abv_of_density(density_kg_per_m3(liquid))


def obscuration(liquid: Liquid) -> Numbers:
    """Strength that sugar hides: true less apparent [mL/mL at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: liquids lighter than water; OutOfRange when denser, as in `apparent_abv`.
    Source: OIML R 22 (1975), general formula; 27 CFR 30.32 as a rule of thumb.

    >>> from service.liquid.pouring import poured
    >>> round(obscuration(poured(100, abv=0.45, sugar_g_per_l=1)), 4)
    0.0021
    """
    return abv(liquid) - apparent_abv(liquid)


def true_abv(apparent: Numbers, sugar_g_per_l: Numbers) -> Numbers:
    """True strength of a sugared spirit whose hydrometer reading and sugar are known [mL/mL].

    The reading is a density; take the sugar's mass and room away from a litre of it, and the
    spirit that is left tells its strength.

    Parameters
    ----------
    apparent : float or array
        Strength as read at 20 °C, 0 to 1 [mL/mL]
    sugar_g_per_l : float or array
        Sugar, 0 to 500 [g/L]

    Valid for: readings that a sugared spirit can give; OutOfRange outside.
    Source: OIML R 22 (1975) for the spirit, ICUMSA SPS-4 for the room of the sugar.

    >>> round(true_abv(0.3758, 10), 3)
    0.4
    """
    within("sugar_g_per_l", sugar_g_per_l, 0.0, 500.0, "g/L")
    read = polynomial(coefficients_at(20.0), mass_fraction_of_abv(apparent))
    spirit_g = read - sugar_g_per_l
    spirit_ml = 1000.0 - sugar_g_per_l * sugar_room(sugar_g_per_l / read, 20.0)
    density = 1000.0 * spirit_g / spirit_ml
    if largest(larger(ETHANOL_DENSITY - density, 0.0)) > 1e-6:
        raise OutOfRange(
            "so light a liquid cannot hold that much sugar; read again, or lower the sugar",
            field="sugar_g_per_l",
        )
    return abv_of_density(density) * spirit_ml / 1000.0
