"""The priors of a bed before any trial: medians, 80 % intervals, sources.

"Estimate" marks what nobody published; "common practice" what the trade says without a source.
"""

from __future__ import annotations

from typing import Final

from service.bed.prior import Prior
from service.bed.priors import BedPriors

# [s] what the trade says a drink takes through 15 g of medium-fine (120-180 s); common practice,
# no source. The drain factor below is relative to it.
PRACTICE_DRAIN_SECONDS: Final = 150.0

_MAILLE: Final = "17 ground samples at 91.5 °C, Maille 2024 (thesis, Sheffield), Table 6.4"
_NO_DATA: Final = "estimate: no published data for 20-30 % ethanol run cold through coffee"

# fmt: off
DEFAULT: Final = BedPriors(
    retention_ml_per_g=Prior(
        1.3, 0.7, 2.1, "mL/g",
        "estimate between common practice (a tenth of the drink, 0.77 mL/g, no source) and hot "
        "brewing (2.48 ± 0.19 g/g, Liang et al. 2021; near 2 by rule of thumb, Gagné 2019)",
    ),
    drain_factor=Prior(
        1.0, 0.5, 2.0, "1", "estimate: a factor of two either way of 150 s (common practice)"
    ),
    extraction_factor=Prior(
        1.0, 0.75, 1.35, "1",
        "estimate: wetting, channels and coffees differ; set so that caffeine from 15 g has the "
        "80 % interval of a worked two-site estimate (18-95 mg)",
    ),
    wall_share=Prior(
        0.7, 0.2, 0.95, "1",
        "estimate: how much of the paper wall drains lies between tip only (0) and all of it (1)",
        "odds",
    ),
    geometry_power=Prior(
        0.5, 0.1, 0.9, "1",
        "estimate: a larger bed drains faster by geometry (1), while the trade finds more coffee "
        "slower (no source), perhaps because its fines reach the paper (0: no effect)",
        "odds",
    ),
    grind_power=Prior(
        1.5, 1.0, 2.0, "1",
        "power of the diameter in permeability: 1.35 ± 0.41 fitted to Wadsworth et al. 2026, "
        "2 by Kozeny-Carman",
    ),
    fast_share=Prior(
        0.40, 0.15, 0.65, "1",
        "estimate: fines alone (0.15) up to the highest share of Maille 2024, Table 6.3 (0.65); "
        "a bed wets its broken cells less well than a stirred batch",
        "odds",
    ),
    fast_seconds=Prior(9.0, 5.3, 14.0, "s", f"median and spread of {_MAILLE}"),
    slow_seconds=Prior(22.0, 15.0, 35.0, "s", f"fit at 500 µm through {_MAILLE}"),
    size_power=Prior(
        1.4, 1.0, 2.0, "1",
        "power of the diameter in the slow time constant: 1.42 fitted to Maille 2024, 1.5 for tea "
        "leaf (Price & Spiro 1985), 2 by diffusion",
    ),
    chill_law=Prior(
        0.12, 0.03, 0.35, "1",
        "estimate: 0 = D ~ T/µ, 1 = 40.3 kJ/mol (Jaganyi & Price 1999); nothing decides",
        "odds",
    ),
    ethanol_caffeine=Prior(
        1.15, 0.8, 1.65, "1 per 25 % vol",
        f"{_NO_DATA}; caffeine dissolves better in mixtures than in water",
    ),
    ethanol_solids=Prior(
        1.1, 0.75, 1.6, "1 per 25 % vol",
        f"{_NO_DATA}; ethanol takes less brown pigment, more chlorogenic acid",
    ),
    solids_slowness=Prior(
        1.3, 1.0, 2.0, "1",
        "slow time constant against caffeine's: 1.1-2.0 for chlorogenic acid (Maille 2024), up to "
        "3.5 for larger molecules (Román-Corrochano 2017)",
    ),
    solids_share=Prior(
        0.28, 0.22, 0.31, "g/g",
        "0.215 dissolves in immersion (Liang et al. 2021), 0.28-0.32 at most (Moroney et al. 2015)",
    ),
    caffeine_arabica=Prior(
        0.012, 0.009, 0.015, "g/g", "recalled: 0.9-1.5 % of roasted arabica, usual 1.2 %"
    ),
    caffeine_canephora=Prior(
        0.022, 0.015, 0.033, "g/g", "recalled: 1.5-3.3 % of roasted canephora, usual 2.2 %"
    ),
    caffeine_decaf=Prior(
        0.0005, 0.0002, 0.001, "g/g",
        "estimate below the usual legal limit for decaffeinated coffee, 0.1 % of dry mass",
    ),
    held_strength=Prior(
        0.5, 0.1, 1.0, "1",
        "estimate between a clean last liquid (0) and one strength throughout (1); Gagné 2019",
    ),
    paper_water_ml=Prior(
        1.5, 1.0, 2.0, "mL", "recalled: water a rinsed cone paper gives to the drink"
    ),
    paper_held_ml=Prior(
        1.5, 1.0, 2.5, "mL", "estimate: drink that a dry cone paper soaks up"
    ),
    gamma_factor=Prior(
        1.0, 0.55, 2.0, "1", "estimate: bitterness per gram around the level of the roast"
    ),
    canephora_bitterness=Prior(
        0.6, 0.3, 1.0, "1", "estimate: what pure canephora adds to bitterness per gram"
    ),
    cold_bitterness=Prior(
        0.7, 0.5, 0.95, "1",
        "estimate: cold against hot at equal strength; direction by Batali et al. 2022", "odds",
    ),
)
# fmt: on
