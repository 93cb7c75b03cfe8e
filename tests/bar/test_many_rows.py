"""Rows written many at a time are the rows that single statements write."""

from __future__ import annotations

from dataclasses import asdict, replace

import pytest
from sqlalchemy import insert, select

from service.bar import Bar, bottles_on_shelf
from service.bar.many_rows import insert_many
from service.bar.tables import bottles
from service.kit import Conflict
from tests.bar.drafts import BOTTLE, WHO

# Everything that a stream of rows would have to escape.
AWKWARD = replace(
    BOTTLE, label='tab\there, "quotes", back\\slash, \\N', notes="one\ntwo\r\nthrée 🍊",
    allergens=("nuts", "milk"), price=None,
)  # fmt: skip


def row(key: int, **values: object) -> dict[str, object]:
    return {"id": key, "version": 1, "out": False, **asdict(AWKWARD), **values}


def test_the_same_stands_there_as_after_single_statements(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        insert_many(unit, bottles, [row(1), row(2, price=0.1 + 0.2, out=True)])
        unit.connection.execute(insert(bottles), row(3))
    with bar.look() as unit:
        first, second, single = bottles_on_shelf(unit)
    assert replace(first, id=3) == single
    assert (second.price, second.out) == (0.1 + 0.2, True)
    assert first.allergens == AWKWARD.allergens


def test_nothing_to_write_is_no_trouble(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        insert_many(unit, bottles, [])
        assert unit.connection.execute(select(bottles)).all() == []


def test_a_number_that_is_taken_is_a_conflict_and_nothing_is_half_written(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        insert_many(unit, bottles, [row(1)])
    with pytest.raises(Conflict, match="look again"), bar.unit(WHO) as unit:
        insert_many(unit, bottles, [row(2), row(1)])
    with bar.look() as unit:
        assert [b.id for b in bottles_on_shelf(unit)] == [1]
