"""What the checks of the liquid share: the published tables."""

from __future__ import annotations

import csv
from collections.abc import Callable

import pytest
from hypothesis import settings

from pairing_data import reference_path

settings.register_profile("no clock", deadline=None)  # other work runs on the same machine
settings.load_profile("no clock")

Rows = list[dict[str, str]]


@pytest.fixture(scope="session")
def published() -> Callable[[str], Rows]:
    """The rows of a table in pairing_data/reference; each row names its source."""

    def read(name: str) -> Rows:
        with reference_path(name).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    return read
