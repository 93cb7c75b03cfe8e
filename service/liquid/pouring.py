"""Pouring by volume or by mass: from what a label says to the masses in the glass."""

from __future__ import annotations

from typing import Final

import numpy as np

from service.kit import OutOfRange
from service.liquid.elementwise import Numbers, larger, largest, polynomial, within
from service.liquid.ethanol_water import coefficients_at, density_and_slope
from service.liquid.mixing import TINY_G, Liquid, volume_of
from service.liquid.strength import ETHANOL_G_PER_ML, mass_fraction_unchecked
from service.liquid.sucrose import ACID_ML_PER_G

_POUR_STEPS: Final = 12  # each leaves about a hundredth of the miss; ends early when it is nil
_LITRE_ML: Final = 1000.0


def poured(
    volume_ml: Numbers,
    *,
    abv: Numbers,
    sugar_g_per_l: Numbers = 0.0,
    acid_g_per_l: Numbers = 0.0,
    qhe_mg_per_l: Numbers = 0.0,
    caffeine_mg_per_l: Numbers = 0.0,
    salt_g_per_l: Numbers = 0.0,
    invert_share: Numbers = 0.0,
) -> Liquid:
    """The masses in a pour of which the label is known; water fills what the rest leaves [g, mg].

    Parameters
    ----------
    volume_ml : float or array
        Volume at 20 °C, 0 or more [mL]
    abv : float or array
        True strength by volume at 20 °C, 0 to 1 [mL/mL]
    sugar_g_per_l : float or array
        Sugar, 0 to 1100 [g/L]
    acid_g_per_l : float or array
        Titratable acid as tartaric acid, 0 to 300 [g/L]
    qhe_mg_per_l : float or array
        Bitterness in quinine-hydrochloride equivalents, 0 or more [mg/L]
    caffeine_mg_per_l : float or array
        Caffeine, 0 or more [mg/L]
    salt_g_per_l : float or array
        Table salt, 0 to 310 [g/L]
    invert_share : float or array
        Share of the sugar that is invert sugar, 0 to 1 [g/g]

    Valid for: the ranges above, and only where all of it fits into the volume; OutOfRange
    outside.
    Source: OIML R 22 (1975) for spirit; ICUMSA SPS-4 for the room of sugar.

    >>> rum = poured(50, abv=0.40)
    >>> round(rum.ethanol_g, 2), round(rum.mass_g, 2)
    (15.78, 47.4)
    """
    within("volume_ml", volume_ml, 0.0, np.inf, "mL")
    within("qhe_mg_per_l", qhe_mg_per_l, 0.0, np.inf, "mg/L")
    within("caffeine_mg_per_l", caffeine_mg_per_l, 0.0, np.inf, "mg/L")
    litre = _litre_of(abv, sugar_g_per_l, acid_g_per_l, salt_g_per_l)
    litres = volume_ml / _LITRE_ML
    within("invert_share", invert_share, 0.0, 1.0, "of the sugar")
    return Liquid(
        water_g=litre * litres,
        ethanol_g=abv * (ETHANOL_G_PER_ML * volume_ml),
        sucrose_g=sugar_g_per_l * (1.0 - invert_share) * litres,
        invert_g=sugar_g_per_l * invert_share * litres,
        acid_g=acid_g_per_l * litres,
        salt_g=salt_g_per_l * litres,
        qhe_mg=qhe_mg_per_l * litres,
        caffeine_mg=caffeine_mg_per_l * litres,
    )


def weighed(
    mass_g: Numbers,
    *,
    abv: Numbers,
    sugar_g_per_l: Numbers = 0.0,
    acid_g_per_l: Numbers = 0.0,
    qhe_mg_per_l: Numbers = 0.0,
    caffeine_mg_per_l: Numbers = 0.0,
    salt_g_per_l: Numbers = 0.0,
    invert_share: Numbers = 0.0,
) -> Liquid:
    """The masses in a pour that was weighed instead of measured [g, mg].

    Parameters
    ----------
    mass_g : float or array
        What the scale shows, 0 or more [g]
    abv : float or array
        True strength by volume at 20 °C, 0 to 1 [mL/mL]
    sugar_g_per_l : float or array
        Sugar, 0 to 1100 [g/L]
    acid_g_per_l : float or array
        Titratable acid as tartaric acid, 0 to 300 [g/L]
    qhe_mg_per_l : float or array
        Bitterness in quinine-hydrochloride equivalents, 0 or more [mg/L]
    caffeine_mg_per_l : float or array
        Caffeine, 0 or more [mg/L]
    salt_g_per_l : float or array
        Table salt, 0 to 310 [g/L]
    invert_share : float or array
        Share of the sugar that is invert sugar, 0 to 1 [g/g]

    Valid for: as `poured`; OutOfRange outside.
    Source: as `poured`.

    >>> from service.liquid.mixing import volume_ml
    >>> round(volume_ml(weighed(47.402, abv=0.40)), 2)
    50.0
    """
    within("mass_g", mass_g, 0.0, np.inf, "g")
    litre = poured(
        _LITRE_ML,
        abv=abv,
        sugar_g_per_l=sugar_g_per_l,
        acid_g_per_l=acid_g_per_l,
        qhe_mg_per_l=qhe_mg_per_l,
        caffeine_mg_per_l=caffeine_mg_per_l,
        salt_g_per_l=salt_g_per_l,
        invert_share=invert_share,
    )
    return litre.scaled(mass_g / litre.mass_g)


def _litre_of(abv: Numbers, sugar: Numbers, acid: Numbers, salt: Numbers) -> Numbers:
    """Water in one litre [g], so that everything together fills it at 20 °C."""
    within("abv", abv, 0.0, 1.0, "of volume", "give strength as a fraction: 40 % vol is 0.40")
    within("sugar_g_per_l", sugar, 0.0, 1100.0, "g/L")
    within("acid_g_per_l", acid, 0.0, 300.0, "g/L")
    within("salt_g_per_l", salt, 0.0, 310.0, "g/L", "more does not dissolve")
    room = _LITRE_ML - 0.62 * sugar - ACID_ML_PER_G * acid - 0.33 * salt
    share = abv * _LITRE_ML / larger(room, 1.0)
    if largest(larger(share, 1.0)) > 1.0 + 1e-12:
        raise OutOfRange(
            "so much alcohol, sugar, acid and salt do not fit into one volume; "
            "lower the strength or the sugar",
            field="abv",
        )
    row = coefficients_at(20.0)
    ethanol = abv * (ETHANOL_G_PER_ML * _LITRE_ML)
    density = polynomial(row, mass_fraction_unchecked(share))
    water = room * density / 1000.0 - ethanol
    for _ in range(_POUR_STEPS):
        miss = volume_of(water, ethanol, sugar, acid, salt, 0.0, 20.0) - _LITRE_ML
        if largest(miss) < 1e-10:
            break
        density, slope = density_and_slope(row, ethanol / larger(water + ethanol, TINY_G))
        grows = 1.0 / density + ethanol * slope / (larger(water + ethanol, TINY_G) * density**2)
        water = larger(water - miss / (1000.0 * grows), 0.0)
    return water
