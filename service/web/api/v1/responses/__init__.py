"""What the API answers: one documented model per answer, checked against real answers by tests."""

from service.web.api.v1.responses.balance import Measured
from service.web.api.v1.responses.common import Answer
from service.web.api.v1.responses.compositions import Compositions
from service.web.api.v1.responses.dataset import Health, IngredientEvidence, IngredientPage
from service.web.api.v1.responses.explanations import Explanation, WhatIf, WhyNot
from service.web.api.v1.responses.graph import Graph
from service.web.api.v1.responses.pairings import Affinities, CoffeeReading, Pairings
from service.web.api.v1.responses.physics import BedCurve, StirCurve
from service.web.api.v1.responses.problems import (
    PROBLEM_RESPONSES,
    Problem,
    ProblemKind,
)
from service.web.api.v1.responses.swaps import Replacements, Rescue

__all__ = [
    "PROBLEM_RESPONSES",
    "Affinities",
    "Answer",
    "BedCurve",
    "CoffeeReading",
    "Compositions",
    "Explanation",
    "Graph",
    "Health",
    "IngredientEvidence",
    "IngredientPage",
    "Measured",
    "Pairings",
    "Problem",
    "ProblemKind",
    "Replacements",
    "Rescue",
    "StirCurve",
    "WhatIf",
    "WhyNot",
]
