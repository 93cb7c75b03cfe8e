"""The liquid is fast enough to be asked thousands of times: budgets for this kind of machine.

Targets: single floats in tens of microseconds, a stir in half a millisecond, thirty stirs in
three. The tests allow three times that, because other work runs beside them.
"""

from __future__ import annotations

import timeit
from collections.abc import Callable

import numpy as np
import pytest

from service.liquid import (
    Stirring,
    analysis,
    density_kg_per_m3,
    poured,
    stir,
    viscosity_mpa_s,
    volume_ml,
)

SPARE = 3.0
ONE = poured(90.0, abv=0.28, sugar_g_per_l=60.0, acid_g_per_l=2.0)
THIRTY = poured(
    np.full(30, 90.0), abv=np.linspace(0.15, 0.45, 30), sugar_g_per_l=np.linspace(0, 100, 30)
)
DRAWN = poured(np.full((30, 200), 90.0), abv=0.28, sugar_g_per_l=60.0)
USUAL = Stirring()


def best_ms(action: Callable[[], object], times: int) -> float:
    action()
    return min(timeit.repeat(action, number=times, repeat=7)) / times * 1e3


@pytest.mark.parametrize(
    ("name", "action", "times", "budget_ms"),
    [
        ("pour one", lambda: poured(45.0, abv=0.4, sugar_g_per_l=10.0), 100, 0.04),
        ("volume of one", lambda: volume_ml(ONE, -2.0), 300, 0.01),
        ("density of one", lambda: density_kg_per_m3(ONE, -2.0), 300, 0.01),
        ("viscosity of one", lambda: viscosity_mpa_s(ONE, -2.0), 300, 0.01),
        ("all of one", lambda: analysis(ONE), 300, 0.015),
        ("stir one", lambda: stir(ONE, USUAL), 20, 0.5),
        ("stir thirty", lambda: stir(THIRTY, USUAL), 5, 3.0),
        ("all of thirty by 200 draws", lambda: analysis(DRAWN), 5, 1.0),
        ("viscosity of thirty by 200 draws", lambda: viscosity_mpa_s(DRAWN, -2.0), 5, 0.5),
    ],
)
def test_it_keeps_its_budget(
    name: str, action: Callable[[], object], times: int, budget_ms: float
) -> None:
    assert best_ms(action, times) < SPARE * budget_ms, name
