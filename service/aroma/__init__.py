"""What smells of what: the graph, its matrices, coffees, and how aromas belong together."""

from service.aroma.coffee import (
    COFFEE,
    Aroma,
    coffee_aroma,
    coffee_odorants,
    ingredient_aroma,
    profile_factors,
)
from service.aroma.contrast import (
    Contrast,
    build_contrast,
    contrast,
    family_contrasts,
    kinds_of,
)
from service.aroma.graph import build_graph, graph_json, strongest_paths, write_graphml
from service.aroma.intensity import ImpactFit, Thresholds, fit_impact, intensity
from service.aroma.overlap import (
    Bridges,
    bridge,
    build_bridges,
    echo,
    shared_notes,
    steps_to_hubs,
)
from service.aroma.space import AromaSpace, Smelled, SpaceSettings, Sparse, build_space, space_of
from service.aroma.tables import Rows, Table, raised, table_of

__all__ = [
    "COFFEE",
    "Aroma",
    "AromaSpace",
    "Bridges",
    "Contrast",
    "ImpactFit",
    "Rows",
    "Smelled",
    "SpaceSettings",
    "Sparse",
    "Table",
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
    "kinds_of",
    "profile_factors",
    "raised",
    "shared_notes",
    "space_of",
    "steps_to_hubs",
    "strongest_paths",
    "table_of",
    "write_graphml",
]
