"""Choosing: rank, pair, compose, swap, explain. Pure; takes ids and plain values."""

from service.recommend.affinity import (
    Affinity,
    Knowledge,
    Part,
    Parts,
    Reason,
    affinity,
    build_knowledge,
    parts_with_all,
)
from service.recommend.custom import Custom, CustomSettings, build_custom, pair_counts
from service.recommend.rank import aroma_of, of_role, pair_affinities, rank
from service.recommend.weights import Weights

__all__ = [
    "Affinity",
    "Custom",
    "CustomSettings",
    "Knowledge",
    "Part",
    "Parts",
    "Reason",
    "Weights",
    "affinity",
    "aroma_of",
    "build_custom",
    "build_knowledge",
    "of_role",
    "pair_affinities",
    "pair_counts",
    "parts_with_all",
    "rank",
]
