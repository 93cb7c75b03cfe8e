"""Bitterness as quinine-hydrochloride equivalents (QHE, mg/L), and the scales it is read from.

Two conventions for coffee must never be mixed: matching whole brewed coffee against caffeine
gives 1 to 3 mg QHE per gram of dissolved solids, adding up thresholds of its compounds gives ten
times that. The service uses the first; the bed room carries it, nothing here converts coffee.
"""

from __future__ import annotations

from typing import Final

from service.kit import Interval
from service.taste.parameters import Quantity, check_range

# European Pharmacopoeia 2.8.15: quinine hydrochloride has bitterness value 200 000, that is, one
# gram makes 200 000 mL of water just bitter: 5 mg/L.
THRESHOLD_QHE_MG_PER_L: Final = 5.0
REFERENCE_BITTERNESS_VALUE: Final = 200_000.0
# Quinine hydrochloride dihydrate 396.91, quinine 324.42 g/mol.
QHE_PER_QUININE_BASE: Final = 396.91 / 324.42
# Estimates. Caffeine: thresholds of 75-233 mg/L give 67-21, a match well above threshold 14.
# Iso-alpha acids and naringin: thresholds in beer and juice (Meilgaard 1975, Guadagni 1973; from
# memory). Stimuli matched in strength are still told apart (Higgins & Hayes 2020).
QHE_MG_PER_G_CAFFEINE: Final = Interval(14.0, 33.0, 67.0)
QHE_MG_PER_MG_ISO_ALPHA: Final = Interval(0.5, 1.0, 2.0)
QHE_MG_PER_MG_NARINGIN: Final = Interval(0.1, 0.25, 0.5)


def threshold_multiple(qhe_mg_per_l: Quantity) -> Quantity:
    """How many times its recognition threshold a bitterness is [-].

    Parameters
    ----------
    qhe_mg_per_l : float
        Bitterness [mg/L QHE]

    Valid for: 0 to 100 000 mg/L; OutOfRange outside.
    Source: European Pharmacopoeia 2.8.15.

    >>> threshold_multiple(100.0)
    20.0
    """
    check_range("qhe_mg_per_l", qhe_mg_per_l, 0.0, 1e5, "mg/L")
    return qhe_mg_per_l / THRESHOLD_QHE_MG_PER_L


def qhe_of_bitterness_value(bitterness_value: Quantity) -> Quantity:
    """Bitterness of a liquid of known bitterness value [mg/L QHE].

    Parameters
    ----------
    bitterness_value : float
        Millilitres of water made just bitter by one millilitre of the liquid [-]

    Valid for: 0 to 20 000; OutOfRange outside.
    Source: European Pharmacopoeia 2.8.15.

    >>> qhe_of_bitterness_value(20.0)
    100.0
    """
    check_range("bitterness_value", bitterness_value, 0.0, 2e4, "-")
    return THRESHOLD_QHE_MG_PER_L * bitterness_value


def qhe_of_plant_drug(dose_g_per_l: Quantity, bitterness_value: Quantity) -> Quantity:
    """Bitterness of a bitter plant, all of it extracted [mg/L QHE].

    Parameters
    ----------
    dose_g_per_l : float
        Dried plant per litre of liquid [g/L]
    bitterness_value : float
        The plant's bitterness value [mL/g]

    Valid for: 0 to 500 g/L, bitterness values up to 1e8; OutOfRange outside.
    Source: European Pharmacopoeia 2.8.15 (definition).

    >>> qhe_of_plant_drug(1.0, 10_000.0)
    50.0
    """
    check_range("dose_g_per_l", dose_g_per_l, 0.0, 500.0, "g/L")
    check_range("bitterness_value", bitterness_value, 0.0, 1e8, "mL/g")
    return 1000.0 * dose_g_per_l * bitterness_value / REFERENCE_BITTERNESS_VALUE


def qhe_of_quinine_base(quinine_mg_per_l: Quantity) -> Quantity:
    """Bitterness of quinine stated as the base, as food law does [mg/L QHE].

    Parameters
    ----------
    quinine_mg_per_l : float
        Quinine, as base [mg/L]

    Valid for: 0 to 10 000 mg/L; OutOfRange outside.
    Source: molar masses of quinine and its hydrochloride dihydrate.

    >>> round(qhe_of_quinine_base(83.0), 1)
    101.5
    """
    check_range("quinine_mg_per_l", quinine_mg_per_l, 0.0, 1e4, "mg/L")
    return QHE_PER_QUININE_BASE * quinine_mg_per_l
