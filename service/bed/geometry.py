"""The bed in its cone: depth, and how easily a liquid leaves it by the tip or by the paper wall.

A *conductance* here is the flow divided by permeability × density × g / viscosity [mm²]. It is
geometry alone. Two drainages are the ends of what a real cone does: all leaves by the open tip, or
every grain drains straight down to the paper below it and runs along the wall.
"""

from __future__ import annotations

from math import pi, radians, tan
from typing import Final

import numpy as np

from service.bed.limits import Numbers

# [kg/m³] dry ground coffee poured loosely; 360-480 in Román-Corrochano et al. 2015 (330-480 over
# four papers).
BULK_KG_PER_M3: Final = 360.0
APEX_DEGREES: Final = 60.0  # [°] opening of the usual cone; common practice, no source
TIP_RADIUS_MM: Final = 10.0  # [mm] open tip; our estimate (range 5-15)
POND_MM: Final = 15.0  # [mm] liquid held above the bed by slow pouring; our estimate (5-25)
# [mm] shortest path to the wall that still counts as filter bed; our estimate (2-10). Without it
# the rim, where the bed has no depth, would drain infinitely fast.
WALL_CUT_OFF_MM: Final = 5.0
_SLOPE: Final = tan(radians(APEX_DEGREES / 2))


def bed_volume_ml(dose_g: Numbers) -> Numbers:
    """Volume that dry ground coffee fills in the filter [mL].

    Parameters
    ----------
    dose_g : float
        Ground coffee [g]

    Valid for: any dose; loose, not pressed.
    Source: bulk density 360 kg/m³, Román-Corrochano et al. 2015, J. Food Eng. 150, 106.

    >>> round(bed_volume_ml(15.0), 1)
    41.7
    """
    return dose_g * (1000.0 / BULK_KG_PER_M3)


def bed_depth_mm(dose_g: Numbers) -> Numbers:
    """Depth of the bed over the point of a 60° cone [mm].

    Parameters
    ----------
    dose_g : float
        Ground coffee [g]

    Valid for: any dose in a full cone; a flat-bottomed filter is shallower.
    Source: volume of a cone; opening 60°, common practice, no source.

    >>> round(float(bed_depth_mm(15.0)), 1)
    49.2
    """
    volume_mm3 = bed_volume_ml(dose_g) * 1000.0
    return (3.0 * volume_mm3 / (pi * _SLOPE**2)) ** (1.0 / 3.0)


def tip_conductance_mm2(
    depth_mm: Numbers, pond_mm: Numbers = POND_MM, tip_radius_mm: Numbers = TIP_RADIUS_MM
) -> Numbers:
    """Conductance where only the open tip of the cone drains [mm²].

    Parameters
    ----------
    depth_mm : float
        Depth of the bed over the point of the cone [mm]
    pond_mm : float
        Liquid standing above the bed [mm]
    tip_radius_mm : float
        Radius of the open tip [mm]

    Valid for: beds deeper than the tip; a shallower one is treated as one millimetre of bed.
    Source: Darcy through slices of a cone, ∫dz/(π tan²(30°) z²), head = bed + pond.

    >>> round(float(tip_conductance_mm2(49.24)))
    1313
    """
    tip_mm = tip_radius_mm / _SLOPE
    depth = np.maximum(depth_mm, tip_mm + 1.0)
    resistance_per_mm = (1.0 / tip_mm - 1.0 / depth) / (pi * _SLOPE**2)
    return (depth - tip_mm + pond_mm) / resistance_per_mm


def wall_conductance_mm2(
    depth_mm: Numbers, pond_mm: Numbers = POND_MM, cut_off_mm: Numbers = WALL_CUT_OFF_MM
) -> Numbers:
    """Conductance where the whole paper wall drains, by upright tubes of liquid [mm²].

    Parameters
    ----------
    depth_mm : float
        Depth of the bed over the point of the cone [mm]
    pond_mm : float
        Liquid standing above the bed [mm]
    cut_off_mm : float
        Shortest path through coffee that counts [mm]

    Valid for: beds deeper than the cut-off; a shallower one is treated as just deeper.
    Source: Darcy in each tube, ∫ 2πr (1 + pond/length(r)) dr in closed form; the cut-off is our
    estimate, because at the rim the path has no length.

    >>> round(float(wall_conductance_mm2(49.24)))
    4198
    """
    depth = np.maximum(depth_mm, cut_off_mm + 1.0)
    radius = depth * _SLOPE
    counted = radius - cut_off_mm * _SLOPE
    by_own_weight = pi * counted**2
    by_pond = 2.0 * pi * pond_mm * _SLOPE * (radius * np.log(radius / (radius - counted)) - counted)
    return by_own_weight + by_pond
