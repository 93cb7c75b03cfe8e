"""The coffee bed: what it keeps, how long a drink takes through it, and what it gives."""

from service.bed.bed import Bed, caffeine_ceiling_mg
from service.bed.belief import Doubt, Learnt
from service.bed.bitterness import Convention, bitterness_qhe_mg, qhe_mg_per_g
from service.bed.colour import colour_word
from service.bed.curve import ExtractionCurve, extraction_curve
from service.bed.defaults import DEFAULT, PRACTICE_DRAIN_SECONDS
from service.bed.grind import GRIND_UM, nearest_grind, particle_um
from service.bed.learning import (
    BedLearning,
    Moved,
    TrialForecast,
    forecast_trial,
    learn_bed,
    learning_curve,
)
from service.bed.limits import LEAST_DOSE_G, MOST_DOSE_G
from service.bed.outcome import Outcome, Percolation, bounds, colour, interval
from service.bed.passage import Poured
from service.bed.percolation import DEFAULT_DRAWS, DEFAULT_SEED, percolate, percolate_central
from service.bed.prior import Prior
from service.bed.priors import BedPriors
from service.bed.scale import Scaling, scale_up, yield_share
from service.bed.sensitivity import Swing, handles, sensitivity
from service.bed.tension import (
    Figure,
    Tension,
    drainage_tension,
    extraction_tension,
    retention_tension,
)
from service.bed.trial import BedTrial, TrialNoise

__all__ = [
    "DEFAULT",
    "DEFAULT_DRAWS",
    "DEFAULT_SEED",
    "GRIND_UM",
    "LEAST_DOSE_G",
    "MOST_DOSE_G",
    "PRACTICE_DRAIN_SECONDS",
    "Bed",
    "BedLearning",
    "BedPriors",
    "BedTrial",
    "Convention",
    "Doubt",
    "ExtractionCurve",
    "Figure",
    "Learnt",
    "Moved",
    "Outcome",
    "Percolation",
    "Poured",
    "Prior",
    "Scaling",
    "Swing",
    "Tension",
    "TrialForecast",
    "TrialNoise",
    "bitterness_qhe_mg",
    "bounds",
    "caffeine_ceiling_mg",
    "colour",
    "colour_word",
    "drainage_tension",
    "extraction_curve",
    "extraction_tension",
    "forecast_trial",
    "handles",
    "interval",
    "learn_bed",
    "learning_curve",
    "nearest_grind",
    "particle_um",
    "percolate",
    "percolate_central",
    "qhe_mg_per_g",
    "retention_tension",
    "scale_up",
    "sensitivity",
    "yield_share",
]
