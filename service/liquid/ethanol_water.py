"""Density of ethanol and water mixed: the international alcoholometric formula of 1975."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Final

import numpy as np

from service.liquid.elementwise import Numbers, polynomial, polynomial_and_slope, within

# The formula, with p the mass fraction of ethanol and d = t - 20 in °C:
#   density = sum A_k p^(k-1) + sum B_k d^k + sum over i of (sum over k of C_i,k p^k) d^i   [kg/m3]
# All 54 coefficients: OIML R 22 (1975), International alcoholometric tables; same figures in
# Council Directive 76/766/EEC, annex. Temperatures there are on the scale of 1968, which differs
# from today's by less than 0.01 °C in this range.
A: Final = (
    9.982012300e2, -1.929769495e2, 3.891238958e2, -1.668103923e3, 1.352215441e4, -8.829278388e4,
    3.062874042e5, -6.138381234e5, 7.470172998e5, -5.478461354e5, 2.234460334e5, -3.903285426e4,
)  # fmt: skip
B: Final = (
    -2.0618513e-1, -5.2682542e-3, 3.6130013e-5, -3.8957702e-7, 7.1693540e-9, -9.9739231e-11,
)  # fmt: skip
C: Final = (
    (
        1.693443461530087e-1, -1.046914743455169e1, 7.196353469546523e1, -7.047478054272792e2,
        3.924090430035045e3, -1.210164659068747e4, 2.248646550400788e4, -2.605562982188164e4,
        1.852373922069467e4, -7.420201433430137e3, 1.285617841998974e3,
    ),
    (
        -1.193013005057010e-2, 2.517399633803461e-1, -2.170575700536993, 1.353034988843029e1,
        -5.029988758547014e1, 1.096355666577570e2, -1.422753946421155e2, 1.080435942856230e2,
        -4.414153236817392e1, 7.442971530188783,
    ),
    (
        -6.802995733503803e-4, 1.876837790289664e-2, -2.002561813734156e-1, 1.022992966719220,
        -2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461,
        -5.411227621436812e-1,
    ),
    (
        4.075376675622027e-6, -8.763058573471110e-6, 6.515031360099368e-6, -1.515784836987210e-6,
    ),
    (-2.788074354782409e-8, 1.345612883493354e-8),
)  # fmt: skip

# °C: the formula holds from here ...
COLDEST: Final = -20.0
# °C: ... to here (OIML R 22, 1975).
WARMEST: Final = 40.0
# kg/m3: pure ethanol at 20 °C, the formula at p = 1; the alcoholometric tables print 789.24.
ETHANOL_DENSITY: Final = sum(A)


def ethanol_water_density_kg_per_m3(mass_fraction: Numbers, celsius: Numbers = 20.0) -> Numbers:
    """Density of a mixture of ethanol and water alone [kg/m3].

    Parameters
    ----------
    mass_fraction : float or array
        Ethanol by mass, 0 to 1 [g/g]
    celsius : float or array
        Temperature [°C]

    Valid for: mass fraction 0 to 1, -20 to 40 °C; OutOfRange outside. Below the freezing line
    of a mixture the value is that of the supercooled liquid, an extrapolation.
    Source: OIML R 22 (1975), general formula; Directive 76/766/EEC, annex.

    >>> round(ethanol_water_density_kg_per_m3(0.332996), 2)
    948.05
    """
    within("mass_fraction", mass_fraction, 0.0, 1.0, "g/g")
    within_formula(celsius)
    return polynomial(coefficients_at(celsius), mass_fraction)


def within_formula(celsius: Numbers) -> None:
    """Raise OutOfRange where the density formula does not hold."""
    within("celsius", celsius, COLDEST, WARMEST, "°C", "the density tables end there")


def coefficients_at(celsius: Numbers) -> Sequence[Numbers]:
    """The formula at one temperature: twelve coefficients of rising powers of mass fraction."""
    if isinstance(celsius, np.ndarray):
        return _collect(celsius - 20.0)
    return _collect_once(float(celsius) - 20.0)


def density_and_slope(
    coefficients: Sequence[Numbers], mass_fraction: Numbers
) -> tuple[Numbers, Numbers]:
    """Density and its derivative by mass fraction, unchecked, for solving."""
    return polynomial_and_slope(coefficients, mass_fraction)


@lru_cache(maxsize=512)
def _collect_once(degrees: float) -> Sequence[Numbers]:
    return A if degrees == 0.0 else _collect(degrees)


def _collect(degrees: Numbers) -> Sequence[Numbers]:
    collected: list[Numbers] = [A[0] + degrees * polynomial(B, degrees)]
    for power in range(1, len(A)):
        by_degree = [row[power - 1] for row in C if len(row) >= power]
        collected.append(A[power] + degrees * polynomial(by_degree, degrees))
    return tuple(collected)
