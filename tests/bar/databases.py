"""Fixtures: every test that asks for `bar` runs on SQLite and on PostgreSQL."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing
from itertools import count
from pathlib import Path

import psycopg
import pytest

from service.bar import Bar, open_bar
from tests.bar.postgresql import NoServer, running_server

DATABASES = ("sqlite", "postgresql")
TEMPLATE = "migrated"

MakeDatabase = Callable[[str, bool], str]


@pytest.fixture(scope="session")
def make_database(tmp_path_factory: pytest.TempPathFactory) -> Iterator[MakeDatabase]:
    """Makes a database of a kind, empty or with its tables, and gives its URL.

    The server is started for the first test that needs it.
    """
    folder = tmp_path_factory.mktemp("bars")
    with ExitStack() as stack:
        sqlite, postgresql = _Sqlite(folder), _Postgresql(stack)
        yield lambda kind, migrated: (sqlite if kind == "sqlite" else postgresql)(migrated)


@pytest.fixture(params=DATABASES)
def kind(request: pytest.FixtureRequest) -> str:
    """The kind of database that a test runs on."""
    name: str = request.param
    return name


@pytest.fixture
def database_url(kind: str, make_database: MakeDatabase) -> str:
    """A database with its tables and no rows."""
    return make_database(kind, True)


@pytest.fixture
def bar(database_url: str) -> Iterator[Bar]:
    """An empty bar."""
    with closing(open_bar(database_url)) as opened:
        yield opened


@pytest.fixture
def other_bar(kind: str, make_database: MakeDatabase) -> Iterator[Bar]:
    """A second empty bar on the same kind of database."""
    with closing(open_bar(make_database(kind, True))) as opened:
        yield opened


class _Sqlite:
    def __init__(self, folder: Path) -> None:
        self.folder, self.numbers = folder, count()
        self.template = folder / f"{TEMPLATE}.sqlite"

    def __call__(self, migrated: bool) -> str:
        file = self.folder / f"bar{next(self.numbers)}.sqlite"
        if migrated:
            if not self.template.exists():
                open_bar(f"sqlite:///{self.template}").close()
            shutil.copyfile(self.template, file)
        return f"sqlite:///{file}"


class _Postgresql:
    """One server for the session; a database for each test, made from a migrated one."""

    def __init__(self, stack: ExitStack) -> None:
        self.stack, self.numbers = stack, count()
        self.server = self.trouble = ""

    def __call__(self, migrated: bool) -> str:
        if not self.server and not self.trouble:
            self._start()
        if self.trouble:
            not_run(self.trouble)
        name = f"bar{next(self.numbers)}"
        self._sql(f"CREATE DATABASE {name}" + (f" TEMPLATE {TEMPLATE}" if migrated else ""))
        return self.server.replace("NAME", name)

    def _start(self) -> None:
        try:
            self.server = self.stack.enter_context(running_server())
        except NoServer as error:
            self.trouble = str(error)
            return
        self._sql(f"CREATE DATABASE {TEMPLATE}")
        open_bar(self.server.replace("NAME", TEMPLATE)).close()

    def _sql(self, statement: str) -> None:
        with psycopg.connect(self.server.replace("NAME", "postgres"), autocommit=True) as server:
            server.execute(statement.encode())


def not_run(reason: str) -> None:
    """Where everything has to be tested, a missing server is a failure; elsewhere it is said."""
    message = f"PostgreSQL did not start, so this was tested on SQLite only: {reason}"
    if os.environ.get("MARC_TEST_ALL"):
        pytest.fail(message)
    pytest.skip(message)
