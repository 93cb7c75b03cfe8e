"""The command, and the application whose answers it prints."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.counter.known import Known
from tests.cli.running import Marc
from tests.web.conftest import client

__all__ = ["client", "marc"]


@pytest.fixture
def marc(known: Known, tmp_path: Path) -> Marc:
    """`marc` in a folder of its own."""
    return Marc(known, tmp_path)
