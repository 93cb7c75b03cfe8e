"""Column types: how a value of the records stands in either database."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from enum import StrEnum
from typing import Any, Final, TypeVar

from sqlalchemy import (
    JSON,
    BigInteger,
    Column,
    DateTime,
    Dialect,
    Double,
    Integer,
    MetaData,
    Table,
    Text,
)
from sqlalchemy.schema import SchemaItem
from sqlalchemy.types import TypeDecorator

from service.ingredients.records import SpecPour
from service.kit import Interval

Word = TypeVar("Word", bound=StrEnum)

# SQLite numbers its rows by INTEGER PRIMARY KEY only; PostgreSQL has room for more.
Key = BigInteger().with_variant(Integer(), "sqlite")


class Moment(TypeDecorator[datetime]):
    """A moment in UTC. Aware on both sides; SQLite keeps it as text without a zone."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        in_utc = value.astimezone(UTC)
        return in_utc.replace(tzinfo=None) if dialect.name == "sqlite" else in_utc

    def process_result_value(self, value: datetime | None, _dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Words(TypeDecorator[Word]):
    """One word of a fixed list."""

    impl = Text
    cache_ok = True

    def __init__(self, words: type[Word]) -> None:
        super().__init__()
        self.words = words

    def process_bind_param(self, value: Word | None, _dialect: Dialect) -> str | None:
        return None if value is None else str(value)

    def process_result_value(self, value: str | None, _dialect: Dialect) -> Word | None:
        return None if value is None else self.words(value)


class Strings(TypeDecorator[tuple[str, ...]]):
    """A short list of words, kept as a JSON list."""

    impl = JSON
    cache_ok = True

    def process_bind_param(self, value: tuple[str, ...] | None, _dialect: Dialect) -> Any:
        return None if value is None else list(value)

    def process_result_value(self, value: Any, _dialect: Dialect) -> tuple[str, ...] | None:
        return None if value is None else tuple(value)


class Intervals(TypeDecorator[Mapping[str, Interval]]):
    """Named intervals, kept as a JSON object of [low, mid, high]."""

    impl = JSON
    cache_ok = True

    def process_bind_param(self, value: Mapping[str, Interval] | None, _dialect: Dialect) -> Any:
        return None if value is None else {n: [i.low, i.mid, i.high] for n, i in value.items()}

    def process_result_value(self, value: Any, _dialect: Dialect) -> Mapping[str, Interval] | None:
        return None if value is None else {n: Interval(*three) for n, three in value.items()}


class Pours(TypeDecorator[tuple[SpecPour, ...]]):
    """The pours of a drink in their order, kept as a JSON list of [ingredient, mL]."""

    impl = JSON
    cache_ok = True

    def process_bind_param(self, value: tuple[SpecPour, ...] | None, _dialect: Dialect) -> Any:
        return None if value is None else [[p.ingredient, p.volume_ml] for p in value]

    def process_result_value(self, value: Any, _dialect: Dialect) -> tuple[SpecPour, ...] | None:
        return None if value is None else tuple(SpecPour(i, float(ml)) for i, ml in value)


metadata: Final = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)


def text(name: str) -> Column[str]:
    """A column of text; '' stands for nothing said."""
    return Column(name, Text, nullable=False, server_default="")


def number(name: str, nullable: bool = False) -> Column[float]:
    """A column of numbers; nothing said is NULL, where that is allowed."""
    return Column(name, Double, nullable=nullable)


def key() -> Column[int]:
    """The column that numbers the rows."""
    return Column("id", Key, primary_key=True)


def version() -> Column[int]:
    """How often a row was written, from 1 upwards."""
    return Column("version", Integer, nullable=False)


def numbered(name: str, noun: str, *parts: SchemaItem) -> Table:
    """A table whose rows are numbered and versioned; no row gets the number of a removed one."""
    return Table(
        name, metadata, key(), version(), *parts, sqlite_autoincrement=True, info={"noun": noun}
    )
