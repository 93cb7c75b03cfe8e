"""What the checks of the bed share: the published tables, and one everyday drink."""

from __future__ import annotations

import csv
from collections.abc import Callable

import pytest

from pairing_data import reference_path

Rows = dict[str, dict[str, str]]


@pytest.fixture(scope="session")
def published() -> Callable[[str], Rows]:
    """The rows of a table in pairing_data/reference by their row_id."""

    def read(name: str) -> Rows:
        with reference_path(name).open(encoding="utf-8", newline="") as file:
            return {row["row_id"]: row for row in csv.DictReader(file)}

    return read


@pytest.fixture(scope="session")
def house_drink() -> dict[str, float]:
    """115 mL at 28 % vol with 60 g/L sugar, poured at 0 °C.

    Viscosity from Bingham & Jackson 1918 (ethanol-water) and sucrose; density from OIML R 22.
    """
    return {
        "volume_ml": 115.0,
        "density_kg_per_m3": 996.7,
        "viscosity_mpa_s": 7.1,
        "abv": 0.28,
        "celsius": 0.0,
    }
