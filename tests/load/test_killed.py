"""A process killed in the middle of its writes loses none that it was told is kept."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path
from typing import TextIO

import pytest
from sqlalchemy import text

from service.bar import Bar, Scope, audit_lines, list_api_tokens, make_api_token, open_bar

ROOT = Path(__file__).parents[2]
WRITES = 200
AHEAD = 20  # so many writes are under way or asked for when it is killed


@pytest.mark.parametrize("acknowledged", [1, 57, 139])
def test_kill_9_in_the_middle_of_200_writes_loses_no_acknowledged_one(
    database_url: str, acknowledged: int
) -> None:
    command = [sys.executable, "-m", "tests.load.writer", database_url, str(WRITES)]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, cwd=ROOT, stdin=pipe, stdout=pipe, text=True) as writer:
        assert writer.stdin is not None
        assert writer.stdout is not None
        said = []
        _ask(writer.stdin, AHEAD)
        for _ in range(acknowledged):
            said.append(int(writer.stdout.readline()))
            _ask(writer.stdin, 1)
        writer.send_signal(signal.SIGKILL)
        said += [int(line) for line in writer.stdout if line.endswith("\n")]
    assert writer.returncode == -signal.SIGKILL
    assert acknowledged <= len(said) < WRITES, "it was killed too late to mean anything"
    bar = open_bar(database_url)
    with bar.look() as unit:
        kept = [token.id for token in list_api_tokens(unit)]
        lines = audit_lines(unit, limit=1_000)
    # At most one write was kept that nobody heard of: the one under way.
    assert kept[: len(said)] == said
    assert len(kept) <= len(said) + 1
    assert sorted(int(line.record) for line in lines) == kept
    _is_sound(bar)
    bar.close()


def _ask(stdin: TextIO, writes: int) -> None:
    stdin.write("\n" * writes)
    stdin.flush()


def _is_sound(bar: Bar) -> None:
    with bar.unit("afterwards") as unit:
        if not unit.on_postgresql:
            checked = unit.connection.execute(text("PRAGMA integrity_check")).scalars().all()
            assert checked == ["ok"]
        make_api_token(unit, "the next one", frozenset({Scope.READ}))
