"""What a laboratory would read in a liquid: strength and grams per litre, at 20 °C."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from service.liquid.elementwise import Numbers, within
from service.liquid.mixing import Liquid, volume_ml
from service.liquid.strength import ETHANOL_G_PER_ML


@dataclass(frozen=True, slots=True)
class Analysis:
    """All concentrations of one liquid at 20 °C, from a single look at its volume."""

    volume_ml: Numbers
    mass_g: Numbers
    abv: Numbers
    sugar_g_per_l: Numbers
    acid_g_per_l: Numbers
    salt_g_per_l: Numbers
    qhe_mg_per_l: Numbers
    caffeine_mg_per_l: Numbers
    coffee_solids_g_per_l: Numbers


def analysis(liquid: Liquid) -> Analysis:
    """Every concentration of a liquid at once [mL, g, mL/mL, g/L, mg/L, all at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: sugar up to 85 % by mass; OutOfRange outside or when the glass is empty.
    Source: the same as each single function of this file.

    >>> from service.liquid.pouring import poured
    >>> read = analysis(poured(90, abv=0.28, sugar_g_per_l=60))
    >>> round(read.abv, 6), round(read.sugar_g_per_l, 6)
    (0.28, 60.0)
    """
    volume = _volume(liquid)
    per_litre = 1000.0 / volume
    return Analysis(
        volume_ml=volume,
        mass_g=liquid.mass_g,
        abv=liquid.ethanol_g / (ETHANOL_G_PER_ML * volume),
        sugar_g_per_l=liquid.sugar_g * per_litre,
        acid_g_per_l=liquid.acid_g * per_litre,
        salt_g_per_l=liquid.salt_g * per_litre,
        qhe_mg_per_l=liquid.qhe_mg * per_litre,
        caffeine_mg_per_l=liquid.caffeine_mg * per_litre,
        coffee_solids_g_per_l=liquid.coffee_solids_g * per_litre,
    )


def abv(liquid: Liquid) -> Numbers:
    """True strength by volume at 20 °C [mL/mL], whatever sugar does to the density.

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: sugar up to 85 % by mass; OutOfRange outside or when the glass is empty.
    Source: OIML R 22 (1975), definition of strength by volume.

    >>> from service.liquid.pouring import poured
    >>> round(abv(poured(60, abv=0.40) + poured(30, abv=0.17)), 4)
    0.3239
    """
    return liquid.ethanol_g / (ETHANOL_G_PER_ML * _volume(liquid))


def sugar_g_per_l(liquid: Liquid) -> Numbers:
    """Sugar of all kinds [g/L at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: sugar up to 85 % by mass; OutOfRange outside or when the glass is empty.
    Source: mass over volume; the volume as in `volume_ml`.

    >>> from service.liquid.mixing import Liquid
    >>> round(sugar_g_per_l(Liquid(water_g=80.0, sucrose_g=20.0)), 1)
    216.2
    """
    return 1000.0 * liquid.sugar_g / _volume(liquid)


def acid_g_per_l(liquid: Liquid) -> Numbers:
    """Titratable acid as tartaric acid [g/L at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: sugar up to 85 % by mass; OutOfRange outside or when the glass is empty.
    Source: mass over volume; the volume as in `volume_ml`.

    >>> from service.liquid.pouring import poured
    >>> round(acid_g_per_l(poured(30, abv=0.16, acid_g_per_l=6)), 3)
    6.0
    """
    return 1000.0 * liquid.acid_g / _volume(liquid)


def salt_g_per_l(liquid: Liquid) -> Numbers:
    """Table salt [g/L at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: sugar up to 85 % by mass; OutOfRange outside or when the glass is empty.
    Source: mass over volume; the volume as in `volume_ml`.

    >>> from service.liquid.pouring import poured
    >>> round(salt_g_per_l(poured(10, abv=0.0, salt_g_per_l=200)), 3)
    200.0
    """
    return 1000.0 * liquid.salt_g / _volume(liquid)


def qhe_mg_per_l(liquid: Liquid) -> Numbers:
    """Bitterness in quinine-hydrochloride equivalents [mg/L at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: sugar up to 85 % by mass; OutOfRange outside or when the glass is empty.
    Source: mass over volume; the volume as in `volume_ml`.

    >>> from service.liquid.pouring import poured
    >>> round(qhe_mg_per_l(poured(30, abv=0.16, qhe_mg_per_l=40)), 3)
    40.0
    """
    return 1000.0 * liquid.qhe_mg / _volume(liquid)


def caffeine_mg_per_l(liquid: Liquid) -> Numbers:
    """Caffeine [mg/L at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: sugar up to 85 % by mass; OutOfRange outside or when the glass is empty.
    Source: mass over volume; the volume as in `volume_ml`.

    >>> from service.liquid.pouring import poured
    >>> round(caffeine_mg_per_l(poured(30, abv=0.25, caffeine_mg_per_l=300)), 3)
    300.0
    """
    return 1000.0 * liquid.caffeine_mg / _volume(liquid)


def coffee_solids_g_per_l(liquid: Liquid) -> Numbers:
    """What has dissolved out of coffee [g/L at 20 °C].

    Parameters
    ----------
    liquid : Liquid
        Masses, more than nothing

    Valid for: sugar up to 85 % by mass; OutOfRange outside or when the glass is empty.
    Source: mass over volume; the volume as in `volume_ml`.

    >>> from service.liquid.mixing import Liquid
    >>> round(coffee_solids_g_per_l(Liquid(water_g=98.7, coffee_solids_g=1.3)), 1)
    13.0
    """
    return 1000.0 * liquid.coffee_solids_g / _volume(liquid)


def _volume(liquid: Liquid) -> Numbers:
    volume = volume_ml(liquid)
    within("liquid", volume, 1e-12, np.inf, "mL", "pour something first")
    return volume
