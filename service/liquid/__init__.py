"""Masses, density, strength, cold, stirring: what happens before the coffee."""

from service.liquid.analysis import (
    Analysis,
    abv,
    acid_g_per_l,
    analysis,
    caffeine_mg_per_l,
    coffee_solids_g_per_l,
    qhe_mg_per_l,
    salt_g_per_l,
    sugar_g_per_l,
)
from service.liquid.curves import StirCurve, stir_curve
from service.liquid.elementwise import Numbers
from service.liquid.ethanol_water import ethanol_water_density_kg_per_m3
from service.liquid.freezing import freezing_celsius
from service.liquid.heat import heat_capacity_j_per_g_k, heat_of_mixing_j
from service.liquid.mixing import Liquid, density_kg_per_m3, volume_ml
from service.liquid.obscuration import apparent_abv, obscuration, true_abv
from service.liquid.pouring import poured, weighed
from service.liquid.preparation import (
    BuiltOnCube,
    PreDiluted,
    Preparation,
    Prepared,
    Unchilled,
    cube_g,
    prepare,
)
from service.liquid.stirring import Stirred, Stirring, equilibrium, stir
from service.liquid.strength import (
    abv_at_celsius,
    abv_of_density,
    abv_of_mass_fraction,
    mass_fraction_of_abv,
    mixed_volume_ml,
)
from service.liquid.sucrose import salt_ml_per_g, sucrose_density_kg_per_m3, sugar_ml_per_g
from service.liquid.viscosity import STRONGEST as STRONGEST_POURED
from service.liquid.viscosity import viscosity_mpa_s

__all__ = [
    "STRONGEST_POURED",
    "Analysis",
    "BuiltOnCube",
    "Liquid",
    "Numbers",
    "PreDiluted",
    "Preparation",
    "Prepared",
    "StirCurve",
    "Stirred",
    "Stirring",
    "Unchilled",
    "abv",
    "abv_at_celsius",
    "abv_of_density",
    "abv_of_mass_fraction",
    "acid_g_per_l",
    "analysis",
    "apparent_abv",
    "caffeine_mg_per_l",
    "coffee_solids_g_per_l",
    "cube_g",
    "density_kg_per_m3",
    "equilibrium",
    "ethanol_water_density_kg_per_m3",
    "freezing_celsius",
    "heat_capacity_j_per_g_k",
    "heat_of_mixing_j",
    "mass_fraction_of_abv",
    "mixed_volume_ml",
    "obscuration",
    "poured",
    "prepare",
    "qhe_mg_per_l",
    "salt_g_per_l",
    "salt_ml_per_g",
    "stir",
    "stir_curve",
    "sucrose_density_kg_per_m3",
    "sugar_g_per_l",
    "sugar_ml_per_g",
    "true_abv",
    "viscosity_mpa_s",
    "volume_ml",
    "weighed",
]
