"""What a person tastes: sweet, bitter, sour, salt and heat; and whether that is in balance."""

from service.taste.band import Band, Judgement, Verdict, judge, leanings
from service.taste.bitterness import (
    QHE_MG_PER_G_CAFFEINE,
    QHE_MG_PER_MG_ISO_ALPHA,
    QHE_MG_PER_MG_NARINGIN,
    qhe_of_bitterness_value,
    qhe_of_plant_drug,
    qhe_of_quinine_base,
    threshold_multiple,
)
from service.taste.density import AXES
from service.taste.fitting import BandSettings, Reference, fit_band
from service.taste.house import (
    BandShift,
    House,
    HouseShift,
    JarScale,
    learn_house,
    shifted_band,
)
from service.taste.intensity import (
    bitter_alone,
    bitterness_of_ethanol,
    heat_of_ethanol,
    salt_alone,
    sour_alone,
    sweet_alone,
)
from service.taste.parameters import (
    CONSTANTS,
    USUAL,
    Constant,
    Parameters,
    draw_parameters,
    value_at,
)
from service.taste.styles import Style, style_of
from service.taste.suppression import Percept, perceive, salted_share
from service.taste.sweetness import (
    aromatised_wine_class,
    relative_sweetness,
    sucrose_equivalent_g_per_l,
    sucrose_from_invert_g_per_l,
)
from service.taste.tasting import Attribute, Penalty, Tasting, penalties

__all__ = [
    "AXES",
    "CONSTANTS",
    "QHE_MG_PER_G_CAFFEINE",
    "QHE_MG_PER_MG_ISO_ALPHA",
    "QHE_MG_PER_MG_NARINGIN",
    "USUAL",
    "Attribute",
    "Band",
    "BandSettings",
    "BandShift",
    "Constant",
    "House",
    "HouseShift",
    "JarScale",
    "Judgement",
    "Parameters",
    "Penalty",
    "Percept",
    "Reference",
    "Style",
    "Tasting",
    "Verdict",
    "aromatised_wine_class",
    "bitter_alone",
    "bitterness_of_ethanol",
    "draw_parameters",
    "fit_band",
    "heat_of_ethanol",
    "judge",
    "leanings",
    "learn_house",
    "penalties",
    "perceive",
    "qhe_of_bitterness_value",
    "qhe_of_plant_drug",
    "qhe_of_quinine_base",
    "relative_sweetness",
    "salt_alone",
    "salted_share",
    "shifted_band",
    "sour_alone",
    "style_of",
    "sucrose_equivalent_g_per_l",
    "sucrose_from_invert_g_per_l",
    "sweet_alone",
    "threshold_multiple",
    "value_at",
]
