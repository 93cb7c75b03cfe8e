"""Choosing: rank, pair, compose, swap, explain. Pure; takes ids and plain values."""

from service.recommend.affinity import (
    Affinity,
    Asked,
    Knowledge,
    Part,
    Parts,
    Reason,
    asked,
    build_knowledge,
    knowledge_of,
    parts_with,
    parts_with_all,
)
from service.recommend.attested import Attested, attested, pair_counts, popularity
from service.recommend.best import best_of
from service.recommend.custom import Custom, CustomSettings, build_custom
from service.recommend.liking import (
    Liked,
    LikingSettings,
    PartLiking,
    Preferred,
    learn_liking,
    liking_of_each,
)
from service.recommend.pool import Pool, most_possible, pool_of, pool_of_rows
from service.recommend.rank import aroma_of, in_order, of_role, pair_affinities, rank, rank_each
from service.recommend.reasons import affinities, affinity
from service.recommend.weights import Weights

__all__ = [
    "Affinity",
    "Asked",
    "Attested",
    "Custom",
    "CustomSettings",
    "Knowledge",
    "Liked",
    "LikingSettings",
    "Part",
    "PartLiking",
    "Parts",
    "Pool",
    "Preferred",
    "Reason",
    "Weights",
    "affinities",
    "affinity",
    "aroma_of",
    "asked",
    "attested",
    "best_of",
    "build_custom",
    "build_knowledge",
    "in_order",
    "knowledge_of",
    "learn_liking",
    "liking_of_each",
    "most_possible",
    "of_role",
    "pair_affinities",
    "pair_counts",
    "parts_with",
    "parts_with_all",
    "pool_of",
    "pool_of_rows",
    "popularity",
    "rank",
    "rank_each",
]
