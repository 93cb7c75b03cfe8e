"""What smells of what: the graph, its matrices, coffees, and how aromas belong together."""

from service.aroma.coffee import (
    COFFEE,
    Aroma,
    coffee_aroma,
    coffee_odorants,
    ingredient_aroma,
    profile_factors,
)
from service.aroma.contrast import Contrast, build_contrast, contrast, family_contrasts
from service.aroma.graph import build_graph, graph_json, strongest_paths, write_graphml
from service.aroma.intensity import ImpactFit, Thresholds, fit_impact, intensity
from service.aroma.overlap import (
    Bridges,
    bridge,
    build_bridges,
    echo,
    shared_notes,
)
from service.aroma.space import AromaSpace, SpaceSettings, build_space

__all__ = [
    "COFFEE",
    "Aroma",
    "AromaSpace",
    "Bridges",
    "Contrast",
    "ImpactFit",
    "SpaceSettings",
    "Thresholds",
    "bridge",
    "build_bridges",
    "build_contrast",
    "build_graph",
    "build_space",
    "coffee_aroma",
    "coffee_odorants",
    "contrast",
    "echo",
    "family_contrasts",
    "fit_impact",
    "graph_json",
    "ingredient_aroma",
    "intensity",
    "profile_factors",
    "shared_notes",
    "strongest_paths",
    "write_graphml",
]
