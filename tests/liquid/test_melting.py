"""Ice in a drink: the film at its surface, and the books of energy and mass."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings

from service.liquid import Liquid, Stirring, heat, melting, poured
from service.liquid.stirring import balanced, filled
from tests.liquid.strategies import drinks, stirrings


def apart_j(liquid: Liquid, stirring: Stirring, ice_g: float) -> float:
    """Heat of drink, clinging water, vessel and ice before they meet, added up piece by piece."""
    spirit = liquid.water_g + liquid.ethanol_g
    total = spirit * heat.spirit_enthalpy(liquid.ethanol_g / spirit, stirring.start_celsius)
    total += 1.7 * liquid.dissolved_g * (stirring.start_celsius - 25.0)
    total += stirring.vessel_j_per_k * (stirring.vessel_celsius - 25.0)
    total += stirring.surface_water_g * heat.water_enthalpy(0.0)
    return float(total + ice_g * heat.ice_enthalpy(stirring.ice_celsius))


@settings(max_examples=60)
@given(drinks, stirrings)
def test_no_energy_is_made_or_lost(liquid: Liquid, stirring: Stirring) -> None:
    glass, now = filled(liquid, stirring)
    before = apart_j(liquid, stirring, float(glass.ice_g))
    assert melting.energy(glass, now) == pytest.approx(before, abs=1e-6)
    for _ in range(6):
        now = melting.advance(glass, now, float(stirring.seconds) / 6.0)
    after = balanced(glass, now)
    assert melting.energy(glass, after) == pytest.approx(before, abs=1e-6)


def test_in_plain_water_the_surface_of_ice_is_at_zero() -> None:
    # Nothing is there to freshen: melting in water, surface at 0 °C at any temperature.
    glass, now = filled(poured(90, abv=0.0), Stirring())
    assert melting.pace(glass, now).surface_celsius == pytest.approx(0.0, abs=1e-9)


def test_in_a_warm_spirit_the_surface_is_nearly_fresh() -> None:
    # Film theory (Bird, Stewart and Lightfoot): at 20 °C and more the water blown off the ice
    # leaves almost no alcohol at its surface, so it melts near 0 °C, not at the freezing line.
    glass, now = filled(poured(90, abv=0.40), Stirring(vessel_j_per_k=0.0))
    assert -1.0 < float(melting.pace(glass, now).surface_celsius) < 0.0
    assert melting.freezing_line(glass, 0.0) < -20.0


def test_close_to_equilibrium_the_surface_is_on_the_freezing_line() -> None:
    glass, now = filled(poured(90, abv=0.40), Stirring())
    rest = melting.settled(glass, 0.0, None, now.melt_g)
    line = melting.freezing_line(glass, rest.melt_g)
    fresh, _ = melting.film_of(glass, rest._replace(freshening=0.5), 20)
    assert fresh == pytest.approx(0.0, abs=1e-9)
    assert rest.celsius == pytest.approx(line, abs=1e-9)
    assert np.allclose(melting.rates(glass, rest), 0.0, atol=1e-9)


def test_the_pull_to_rest_is_the_rate_at_which_the_last_kelvin_dies() -> None:
    # Definition of a rate constant: near equilibrium, with the core already as cold as the
    # drink and so out of the way, d(distance)/dt = -pull x distance.
    glass, now = filled(poured(90, abv=0.30), Stirring())
    near = melting.settled(glass, 0.01, None, now.melt_g)
    near = near._replace(core_celsius=melting.freezing_line(glass, near.melt_g))
    near = near._replace(freshening=melting.film_of(glass, near, 20)[0])
    rate = melting.pace(glass, near)
    ahead = melting.freezing_line(glass, near.melt_g + rate.melting * 1e-3)
    rise = (ahead - melting.freezing_line(glass, near.melt_g)) / 1e-3
    closing = (rate.cooling - rise) / 0.01
    assert closing == pytest.approx(-rate.pull, rel=0.01)


def test_cold_ice_first_takes_heat_inside() -> None:
    # Conduction in a cube, first term: 3 pi^2 diffusivity / edge^2; 25 mm of ice, 18.4 s.
    glass, _ = filled(poured(90, abv=0.3), Stirring(cube_mm=25.0))
    assert glass.core_seconds == pytest.approx(0.025**2 / (3 * np.pi**2 * 1.15e-6), rel=1e-9)
    warm = filled(poured(90, abv=0.3), Stirring(ice_celsius=0.0))
    cold = filled(poured(90, abv=0.3), Stirring(ice_celsius=-18.0))
    assert melting.rates(*cold)[1] < melting.rates(*warm)[1]
