"""One drink from the jigger to the guest: liquid, bed and taste together."""

from service.drink.balance import Balance, Leaning
from service.drink.builds import AMOUNTS, BuildAmounts, Partners, modifier_volume_ml, standard_build
from service.drink.cautions import (
    DEFAULT_COUNTRY,
    STANDARD_DRINK_G,
    Caution,
    Level,
    allergens_of,
    standard_drinks,
)
from service.drink.classics import (
    band_of_classics,
    drink_of,
    reference_drinks,
    references_of,
)
from service.drink.glass import Glass, glass_of
from service.drink.ledger import Ledger, ledger
from service.drink.levers import Knob, Larder, Lever, knobs_of, larder_of, turned
from service.drink.parts import Drink, Pour, main_modifier, spirit_share, with_volume
from service.drink.reach import reach
from service.drink.reading import Reading, read, read_many
from service.drink.remedies import FIRST_LEVERS, Remedy, no_lever_reaches, remedies_for
from service.drink.sampling import mixed
from service.drink.state import State
from service.drink.target import (
    LEAST_ABV,
    LEAST_GLASS_ML,
    MOST_ABV,
    MOST_GLASS_ML,
    Missed,
    Reached,
    Target,
    Way,
)
from service.drink.weighing import grams_per_ml, poured_ml

__all__ = [
    "AMOUNTS",
    "DEFAULT_COUNTRY",
    "FIRST_LEVERS",
    "LEAST_ABV",
    "LEAST_GLASS_ML",
    "MOST_ABV",
    "MOST_GLASS_ML",
    "STANDARD_DRINK_G",
    "Balance",
    "BuildAmounts",
    "Caution",
    "Drink",
    "Glass",
    "Knob",
    "Larder",
    "Leaning",
    "Ledger",
    "Level",
    "Lever",
    "Missed",
    "Partners",
    "Pour",
    "Reached",
    "Reading",
    "Remedy",
    "State",
    "Target",
    "Way",
    "allergens_of",
    "band_of_classics",
    "drink_of",
    "glass_of",
    "grams_per_ml",
    "knobs_of",
    "larder_of",
    "ledger",
    "main_modifier",
    "mixed",
    "modifier_volume_ml",
    "no_lever_reaches",
    "poured_ml",
    "reach",
    "read",
    "read_many",
    "reference_drinks",
    "references_of",
    "remedies_for",
    "spirit_share",
    "standard_build",
    "standard_drinks",
    "turned",
    "with_volume",
]
