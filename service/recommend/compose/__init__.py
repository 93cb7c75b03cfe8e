"""Whole drinks: the best over every bottle and amount, and the proof that none was missed."""

from service.recommend.compose.answer import (
    Certificate,
    Composed,
    Composition,
    ScorePart,
    Share,
)
from service.recommend.compose.chance import inside_probability
from service.recommend.compose.composing import Progress, Tell, compose
from service.recommend.compose.measures import Measures
from service.recommend.compose.problem import (
    FREE_DOSES_G,
    MOST_DRINKS,
    Bottle,
    Limits,
    Problem,
    Shape,
    Stop,
    Variety,
)
from service.recommend.compose.weights import ComposeWeights

__all__ = [
    "FREE_DOSES_G",
    "MOST_DRINKS",
    "Bottle",
    "Certificate",
    "ComposeWeights",
    "Composed",
    "Composition",
    "Limits",
    "Measures",
    "Problem",
    "Progress",
    "ScorePart",
    "Shape",
    "Share",
    "Stop",
    "Tell",
    "Variety",
    "compose",
    "inside_probability",
]
