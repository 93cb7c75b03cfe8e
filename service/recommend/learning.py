"""Fitting the weights of the parts on attested pairs beside equally popular unattested ones."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from service.recommend.affinity import Part

# What each part would count for without any data, per standard deviation of it: our estimate,
# because echo and bridge say why a thing smells right, which pairs of bottles cannot tell. Kept
# small: half or double of them all moves the area under the curve by about 0.005.
PRIOR: Mapping[Part, float] = {
    Part.ECHO: 0.15,
    Part.BRIDGE: 0.08,
    Part.CONTRAST: 0.4,
    Part.CUSTOM: 0.7,
}
# Share of the prior in the fit.
PRIOR_SHARE = 0.5
# Inverse strength of the ridge on the logistic regression.
RIDGE = 0.3
# The scale is free (only the order of scores matters): custom is set to this, so that its firmest
# pairs with coffee weigh about as much as a firm match with the bag (`Weights.named`).
CUSTOM_SCALE = 1.5


def fit_weights(
    parts: Mapping[Part, NDArray[np.float64]], attested: NDArray[np.bool_]
) -> dict[Part, float]:
    """Weights of the given parts by logistic regression, none negative, drawn to the prior."""
    from sklearn.linear_model import LogisticRegression

    names = list(parts)
    table = np.stack([parts[name] for name in names], axis=1)
    spread = table.std(axis=0)
    spread[spread == 0] = 1.0
    fitted = LogisticRegression(C=RIDGE).fit((table - table.mean(axis=0)) / spread, attested)
    found = np.maximum(fitted.coef_[0], 0.0)
    prior = np.array([PRIOR[name] for name in names])
    if found.any():
        found = found * np.linalg.norm(prior) / np.linalg.norm(found)
    per_spread = PRIOR_SHARE * prior + (1.0 - PRIOR_SHARE) * found
    weights = dict(zip(names, (per_spread / spread).tolist(), strict=True))
    scale = CUSTOM_SCALE / weights[Part.CUSTOM] if Part.CUSTOM in weights else 1.0
    return {name: weight * scale for name, weight in weights.items()}
