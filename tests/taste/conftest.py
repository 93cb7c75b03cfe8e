"""The published tables that the taste tests hold the model to."""

from __future__ import annotations

import csv
from collections.abc import Callable

import pytest

import pairing_data

Rows = list[dict[str, str]]


@pytest.fixture(scope="session")
def published() -> Callable[[str], Rows]:
    """The rows of a table in pairing_data/reference; each row names its source."""

    def read(name: str) -> Rows:
        with pairing_data.reference_path(name).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    return read
