"""The tests' own promise: where everything has to be tested, a missing server is no excuse."""

from __future__ import annotations

import pytest

from tests.bar.databases import not_run


def test_a_missing_server_is_said_plainly(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("MARC_TEST_ALL", raising=False)
    with pytest.raises(pytest.skip.Exception, match="on SQLite only: it is Sunday"):
        not_run("it is Sunday")


def test_a_missing_server_is_a_failure_where_everything_is_tested(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("MARC_TEST_ALL", "1")
    with pytest.raises(pytest.fail.Exception, match="it is Sunday"):
        not_run("it is Sunday")
