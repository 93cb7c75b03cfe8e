"""Fixtures: every test that asks for `bar` runs on SQLite and on PostgreSQL."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from itertools import count
from pathlib import Path

import psycopg
import pytest
from sqlalchemy import BigInteger

from service.bar import Bar, open_bar
from service.bar.columns import metadata
from tests.bar.postgresql import NoServer, running_server

DATABASES = ("sqlite", "postgresql")
TEMPLATE = "migrated"


class MakeDatabase:
    """Makes a database of a kind, empty or with its tables, and gives its URL.

    The server is started for the first test that needs it.
    """

    def __init__(self, folder: Path, stack: ExitStack) -> None:
        self.sqlite, self.postgresql = _Sqlite(folder), _Postgresql(stack)

    def __call__(self, kind: str, migrated: bool) -> str:
        make = self.sqlite if kind == "sqlite" else self.postgresql
        return make(migrated)

    @contextmanager
    def lend(self, kind: str) -> Iterator[str]:
        """A migrated database, for one test: emptied after it, which is faster than a new one."""
        url = self(kind, True)
        yield url
        if kind == "postgresql":
            self.postgresql.take_back(url)


@pytest.fixture(scope="session")
def make_database(tmp_path_factory: pytest.TempPathFactory) -> Iterator[MakeDatabase]:
    with ExitStack() as stack:
        yield MakeDatabase(tmp_path_factory.mktemp("bars"), stack)


@pytest.fixture(params=DATABASES)
def kind(request: pytest.FixtureRequest) -> str:
    """The kind of database that a test runs on."""
    name: str = request.param
    return name


@pytest.fixture
def database_url(kind: str, make_database: MakeDatabase) -> Iterator[str]:
    """A database with its tables and no rows."""
    with make_database.lend(kind) as url:
        yield url


@pytest.fixture
def bar(database_url: str) -> Iterator[Bar]:
    """An empty bar."""
    with closing(open_bar(database_url)) as opened:
        yield opened


@pytest.fixture
def other_url(kind: str, make_database: MakeDatabase) -> Iterator[str]:
    """A second such database of the same kind."""
    with make_database.lend(kind) as url:
        yield url


@pytest.fixture
def other_bar(other_url: str) -> Iterator[Bar]:
    """A second empty bar."""
    with closing(open_bar(other_url)) as opened:
        yield opened


@pytest.fixture(params=DATABASES)
def any_bar(request: pytest.FixtureRequest, make_database: MakeDatabase) -> Iterator[Bar]:
    """An empty bar on a database of the one kind or the other, whatever `bar` is on."""
    with make_database.lend(request.param) as url, closing(open_bar(url)) as opened:
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
        self.empty: list[str] = []

    def take_back(self, url: str) -> None:
        """Every row and number is gone again."""
        tables = list(reversed(metadata.sorted_tables))
        numbered = [table for table in tables if isinstance(table.c[0].type, BigInteger)]
        statements = [
            *(f"DELETE FROM {table.name}" for table in tables),
            *(
                f"SELECT setval(pg_get_serial_sequence('{table.name}', 'id'), 1, false)"
                for table in numbered
                if "id" in table.c
            ),
        ]
        with psycopg.connect(url) as connection:
            connection.execute("; ".join(statements).encode())
        self.empty.append(url)

    def __call__(self, migrated: bool) -> str:
        if not self.server and not self.trouble:
            self._start()
        if self.trouble:
            not_run(self.trouble)
        if migrated and self.empty:
            return self.empty.pop()
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
