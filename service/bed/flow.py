"""Flow through the bed: permeability by two laws, Darcy, and the time a drink takes to drain."""

from __future__ import annotations

from typing import Final

from service.bed.grind import REFERENCE_UM, sauter_um, usual_fines_share
from service.bed.limits import Numbers

GRAVITY_M_PER_S2: Final = 9.80665  # [m/s²] standard gravity (CGPM 1901)
SPHERES_KOZENY: Final = 5.0  # [1] Kozeny constant of random spheres, 180/36 (Carman 1937)
COFFEE_KOZENY: Final = 3.1  # [1] measured by air through pressed coffee; Moroney et al. 2015

# Permeability at 500 µm [m²] and its power of the diameter [1]; fitted to the eleven tomography
# rows of Wadsworth et al. 2026 with diameters up to 990 µm (fit: 5.8e-11 and 1.35 ± 0.41).
# Kozeny-Carman says 2. We use 1.5 (range 1.0-2.0). Above about 1 mm measured permeability falls
# again with size; the rows are few and the grains angular, and the model does not follow them.
PERMEABILITY_AT_REFERENCE_M2: Final = 6e-11
PERMEABILITY_POWER: Final = 1.5
LOOSE_POROSITY: Final = 0.48  # [1] mean of those rows (0.37-0.67)
# Lowest and highest of those eleven rows [m²]: what "measured" means on the page.
MEASURED_PERMEABILITY_M2: Final = (2.39e-11, 1.91e-10)


def kozeny_carman_m2(
    diameter_um: Numbers, porosity: Numbers, kozeny: Numbers = SPHERES_KOZENY
) -> Numbers:
    """Permeability of a packed bed from grain diameter and porosity [m²].

    Parameters
    ----------
    diameter_um : float
        Sauter diameter of the grains [µm]
    porosity : float
        Share of the bed that is open between the grains [0..1]
    kozeny : float
        Kozeny constant: 5 for spheres, 3.1 measured on pressed coffee [1]

    Valid for: slow flow (Reynolds number below 1), porosity 0.1 to 0.7. On pressed, extracted
    coffee it misses by 31 to 521 % (Román-Corrochano et al. 2015): use ratios, not absolutes.
    Source: Carman 1937, Trans. Inst. Chem. Eng. 15, 150: k = d²ε³/(36 κ (1−ε)²).

    >>> print(f"{kozeny_carman_m2(300.0, 0.45):.3g}")
    1.51e-10
    """
    return (diameter_um * 1e-6) ** 2 * porosity**3 / (36.0 * kozeny * (1.0 - porosity) ** 2)


def darcy_permeability_m2(
    *,
    flow_ml_per_s: Numbers,
    viscosity_mpa_s: Numbers,
    depth_mm: Numbers,
    area_mm2: Numbers,
    pressure_pa: Numbers,
) -> Numbers:
    """Permeability that a measured flow and pressure mean [m²].

    Parameters
    ----------
    flow_ml_per_s : float
        Flow through the bed [mL/s]
    viscosity_mpa_s : float
        Viscosity of the liquid [mPa·s]
    depth_mm : float
        Length of the bed along the flow [mm]
    area_mm2 : float
        Cross-section of the bed [mm²]
    pressure_pa : float
        Pressure difference over the bed [Pa]

    Valid for: slow flow (Darcy).
    Source: Darcy 1856, Les fontaines publiques de la ville de Dijon, appendix D.

    >>> print("%.2e" % darcy_permeability_m2(flow_ml_per_s=250 / 60, viscosity_mpa_s=0.315,
    ...     depth_mm=40.5, area_mm2=2734.0, pressure_pa=2.3e5))
    8.45e-14
    """
    flux_m_per_s = flow_ml_per_s / area_mm2  # mL/s over mm² is m/s
    return flux_m_per_s * viscosity_mpa_s * 1e-3 * depth_mm * 1e-3 / pressure_pa


def permeability_m2(
    diameter_um: Numbers,
    fines_share: Numbers | None = None,
    power: Numbers = PERMEABILITY_POWER,
    porosity: Numbers = LOOSE_POROSITY,
) -> Numbers:
    """Permeability of loose ground coffee in a filter [m²]: what was measured, scaled.

    Parameters
    ----------
    diameter_um : float
        Particle diameter by mass [µm]
    fines_share : float
        Share of fines, where it is not the usual one of that grind, as after sifting [0..1]
    power : float
        Power of the diameter [1]
    porosity : float
        Share of the bed that is open between the grains [0..1]

    Valid for: 200 to 1000 µm, not pressed; single beds scatter by a factor of four either way.
    Source: level and power fitted to Wadsworth et al. 2026, R. Soc. Open Sci. 13, 252031, Table 1;
    porosity and fines as ratios by Kozeny-Carman with the Sauter diameter.

    >>> print("%.1e, %.1e" % (permeability_m2(500.0), permeability_m2(500.0, fines_share=0.1)))
    6.0e-11, 1.8e-10
    """
    level = PERMEABILITY_AT_REFERENCE_M2 * (diameter_um / REFERENCE_UM) ** power
    packing = kozeny_carman_m2(100.0, porosity) / kozeny_carman_m2(100.0, LOOSE_POROSITY)
    if fines_share is None:
        return level * packing
    usual = sauter_um(diameter_um, usual_fines_share(diameter_um))
    return level * packing * (sauter_um(diameter_um, fines_share) / usual) ** 2


def drain_seconds(
    volume_ml: Numbers,
    *,
    permeability_m2: Numbers,
    conductance_mm2: Numbers,
    viscosity_mpa_s: Numbers,
    density_kg_per_m3: Numbers,
) -> Numbers:
    """Time that a volume takes to drain through the bed by its own weight [s].

    Parameters
    ----------
    volume_ml : float
        Liquid that comes through [mL]
    permeability_m2 : float
        Permeability of the bed [m²]
    conductance_mm2 : float
        Geometry of the bed and its drainage [mm²], see `service.bed.geometry`
    viscosity_mpa_s : float
        Viscosity of the cold liquid [mPa·s]
    density_kg_per_m3 : float
        Density of the liquid [kg/m³]

    Valid for: slow flow; the pond is held by slow pouring. The paper's own resistance is left out
    (no source).
    Source: Darcy 1856; Q = (k ρ g / µ) × conductance.

    >>> round(drain_seconds(95.0, permeability_m2=1e-10, conductance_mm2=4198.0,
    ...     viscosity_mpa_s=7.1, density_kg_per_m3=996.7))
    164
    """
    speed_m_per_s = (
        permeability_m2 * density_kg_per_m3 * GRAVITY_M_PER_S2 / (viscosity_mpa_s * 1e-3)
    )
    return volume_ml / (speed_m_per_s * conductance_mm2)


def pore_transit_seconds(
    *,
    depth_mm: Numbers,
    porosity: Numbers,
    viscosity_mpa_s: Numbers,
    permeability_m2: Numbers,
    pressure_pa: Numbers,
) -> Numbers:
    """Time that one parcel of liquid spends between the grains on its way through [s].

    Parameters
    ----------
    depth_mm : float
        Length of the bed along the flow [mm]
    porosity : float
        Share of the bed that is open between the grains [0..1]
    viscosity_mpa_s : float
        Viscosity of the liquid [mPa·s]
    permeability_m2 : float
        Permeability of the bed [m²]
    pressure_pa : float
        Pressure difference over the bed [Pa]

    Valid for: slow flow.
    Source: Moroney et al. 2016, SIAM J. Appl. Math. 76, 2196, eq. 2.22 (advection time scale).

    >>> round(pore_transit_seconds(depth_mm=40.5, porosity=0.2, viscosity_mpa_s=0.315,
    ...     permeability_m2=8.376e-14, pressure_pa=2.304e5), 2)
    5.35
    """
    flux_m_per_s = permeability_m2 * pressure_pa / (viscosity_mpa_s * 1e-3 * depth_mm * 1e-3)
    return depth_mm * 1e-3 * porosity / flux_m_per_s
