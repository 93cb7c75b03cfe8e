"""How likely a drink is to lie inside the band, told from its usual distance to the band.

A reading draws thousands of possible bottles, hands and beds. A search cannot; it reckons the
usual drink exactly and turns its distance into a probability by one falling line through the
readings of many drinks. What that costs in truth is measured by `benchmarks/compose.py` and
stated in `openapi_notes/compose.md`.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

Vector = NDArray[np.float64]

# Share of draws inside the band by distance from its border [standard spreads, below 0 inside]:
# our estimate, the mean over readings of random drinks of the shipped dataset in steps of a
# quarter spread, made falling (`python -m benchmarks.compose --calibrate`).
KNOTS: Final = np.array([
    -2.5, -2.25, -2.0, -1.75, -1.5, -1.25, -1.0, -0.75, -0.5, -0.25, 0.0, 0.25, 0.5, 0.75, 1.0,
    1.25, 1.5, 2.0, 3.0, 6.0,
])  # fmt: skip
INSIDE_SHARE: Final = np.array([
    0.955, 0.940, 0.925, 0.905, 0.868, 0.825, 0.770, 0.690, 0.590, 0.455, 0.330, 0.225, 0.150,
    0.105, 0.080, 0.055, 0.042, 0.022, 0.010, 0.0,
])  # fmt: skip


def inside_probability(distance: Vector) -> Vector:
    """Probability inside the band at distances of the usual drink from its border; falling."""
    return np.asarray(np.interp(distance, KNOTS, INSIDE_SHARE))
