"""The shelf as a file: as spreadsheets write it, the good rows in, the bad rows back."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.bar import (
    Bar,
    Bottle,
    BottleDraft,
    Dialect,
    FileImport,
    Language,
    Outcome,
    audit_lines,
    bottles_on_shelf,
    csv_lines,
    load_shelf,
    remove_bottle,
    rewrite_bottle,
    set_out,
)
from service.bar.checks import clean_text
from service.bar.shelf_csv import COLUMNS, draft_of, shelf_rows
from service.bar.spreadsheets import Row, read_number
from service.ingredients import Catalogue
from service.kit import BadData
from tests.bar.drafts import BOTTLE, WHO, a_bottle

HEAD = "ingredient,label,abv_percent,size_ml,price,stock_ml,allergens,notes,out"
DIALECTS = [Dialect.of(Language.ENGLISH), Dialect.of(Language.GERMAN)]


def load(bar: Bar, catalogue: Catalogue, content: str | bytes, write: bool = True) -> FileImport:
    raw = content if isinstance(content, bytes) else content.encode()
    with bar.unit(WHO) as unit:
        return load_shelf(unit, catalogue, io.BytesIO(raw), write=write)


def shelf(bar: Bar) -> tuple[Bottle, ...]:
    with bar.look() as unit:
        return bottles_on_shelf(unit)


def written(bar: Bar, dialect: Dialect) -> str:
    return "".join(csv_lines(shelf(bar), dialect))


@pytest.mark.parametrize(
    "content",
    [
        "ingredient,size_ml,price\ncognac,700,\"33,5\"\n",
        "\ufeffingredient;size_ml;price\r\ncognac;700;33,5\r\n",
        "Ingredient;Size ml;Price\ncognac;700;33.5\n",
        "ingredient\tsize_ml\tprice\ncognac\t700\t33,5",
        '"ingredient","size_ml","price"\n"cognac","700","33.5"\n\n,,\n',
        "size_ml;ingredient;price\n 700 ; Cognac ; 33,5 \n",
    ],
)  # fmt: skip
def test_spreadsheets_of_all_kinds_are_understood(
    bar: Bar, catalogue: Catalogue, content: str
) -> None:
    done = load(bar, catalogue, content)
    assert (done.counts[Outcome.ADDED], done.bad) == (1, [])
    (bottle,) = shelf(bar)
    assert (bottle.ingredient, bottle.size_ml, bottle.price) == ("cognac", 700.0, 33.5)


def test_good_rows_load_and_bad_rows_come_back_with_line_and_reason(
    bar: Bar, catalogue: Catalogue
) -> None:
    content = (
        f"{HEAD}\n"
        "cognac,one,44.7,700,33,1400,,\"two\nlines\",no\n"      # lines 2 and 3
        "nothing known,two,40,700,1,1,,,\n"                      # 4
        "rye-whiskey,three,forty,700,1,1,,,\n"                   # 5
        "rye-whiskey,four,40,700,1,1,pollen,,\n"                 # 6
        "rye-whiskey,five,40,700,1,1,,,perhaps\n"                # 7
        "rye-whiskey,six,40,,1,1,,,\n"                           # 8
        "rye-whiskey,seven,40,700,1,1,,,,,extra\n"               # 9
        "rye-whiskey,eight,140,700,1,1,,,\n"                     # 10
        "rye-whiskey,nine,40,\"1,400\",1,1,,,\n"                 # 11
        "rye-whiskey,ten,40,700,1,1,nuts;milk,,yes\n"            # 12
        "rye-whiskey,\"eleven,40,700,1,1,,,\n"                   # 13, its quote never closed
    )  # fmt: skip
    done = load(bar, catalogue, content)
    assert [bottle.label for bottle in shelf(bar)] == ["one", "ten"]
    assert [(row.line, row.column) for row in done.bad] == [
        (4, "ingredient"), (5, "abv_percent"), (6, "allergens"), (7, "out"), (8, "size_ml"),
        (9, ""), (10, "abv_percent"), (11, "size_ml"), (13, ""),
    ]  # fmt: skip
    assert all(row.reason for row in done.bad)
    assert done.bad[0].cells[:2] == ("nothing known", "two")
    assert (done.rows, done.bad_count) == (11, 9)
    cognac, rye = shelf(bar)
    assert (cognac.notes, rye.allergens, rye.out) == ("two\nlines", ("milk", "nuts"), True)


def test_a_preview_says_the_same_and_writes_nothing(bar: Bar, catalogue: Catalogue) -> None:
    content = f"{HEAD}\ncognac,a,40,700,1,1,,,\nnothing,b,40,700,1,1,,,\n"
    with bar.look() as unit:
        seen = load_shelf(unit, catalogue, io.BytesIO(content.encode()), write=False)
        assert bottles_on_shelf(unit) == ()
    done = load(bar, catalogue, content)
    assert seen.counts == done.counts
    assert seen.bad == done.bad
    assert seen.good == done.good


@pytest.mark.parametrize("dialect", DIALECTS)
def test_an_exported_file_loads_back_and_changes_nothing(
    bar: Bar, catalogue: Catalogue, dialect: Dialect
) -> None:
    a_bottle(bar, catalogue, replace(BOTTLE, price=1.125, sugar_g_per_l=0.125, stock_ml=1234.5))
    with bar.unit(WHO) as unit:
        set_out(unit, 1, True)
    before = shelf(bar)
    done = load(bar, catalogue, written(bar, dialect))
    assert (dict(done.counts), done.bad) == ({Outcome.UNCHANGED: 1}, [])
    assert shelf(bar) == before


@pytest.mark.parametrize("dialect", DIALECTS)
def test_an_exported_file_makes_the_same_shelf_in_another_bar(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, dialect: Dialect
) -> None:
    a_bottle(bar, catalogue)
    a_bottle(bar, catalogue, BottleDraft(ingredient="rye-whiskey", label='a;b,"c"\tÉ'))
    with bar.unit(WHO) as unit:
        set_out(unit, 2, True)
    content = written(bar, dialect)
    done = load(other_bar, catalogue, content)
    assert (done.counts[Outcome.ADDED], done.bad_count) == (2, 0)
    assert shelf(other_bar) == shelf(bar)
    assert written(other_bar, dialect) == content
    assert a_bottle(other_bar, catalogue).id == 3


def test_an_edited_file_changes_what_was_edited(bar: Bar, catalogue: Catalogue) -> None:
    a_bottle(bar, catalogue)
    content = written(bar, Dialect()).replace(",33,", ",35.5,")
    done = load(bar, catalogue, content)
    assert done.good[0].changes == {"price": (33.0, 35.5)}
    (bottle,) = shelf(bar)
    assert (bottle.price, bottle.version) == (35.5, 2)
    with bar.look() as unit:
        assert audit_lines(unit)[0].changes == {"price": [33.0, 35.5]}


def test_a_file_written_before_somebody_elses_change_overwrites_nothing(
    bar: Bar, catalogue: Catalogue
) -> None:
    kept = a_bottle(bar, catalogue)
    old = written(bar, Dialect()).replace(",33,", ",35.5,")
    with bar.unit("Ada") as unit:
        rewrite_bottle(unit, catalogue, kept.id, 1, replace(BOTTLE, label="right"))
    done = load(bar, catalogue, old)
    assert [(row.line, row.column) for row in done.bad] == [(2, "version")]
    assert (shelf(bar)[0].label, shelf(bar)[0].price) == ("right", 33.0)


def test_another_bars_numbers_are_not_taken_for_this_bars(bar: Bar, catalogue: Catalogue) -> None:
    a_bottle(bar, catalogue)
    content = "id,version,ingredient,size_ml\n1,1,rye-whiskey,700\n7,1,rye-whiskey,700\n"
    content += "7,1,rye-whiskey,700\nx,1,rye-whiskey,700\n-3,1,rye-whiskey,700\n"
    done = load(bar, catalogue, content)
    assert [(row.line, row.column) for row in done.bad] == [
        (2, "id"), (4, "id"), (5, "id"), (6, "id"),
    ]  # fmt: skip
    assert [(b.id, b.ingredient) for b in shelf(bar)] == [(1, "cognac"), (7, "rye-whiskey")]


@pytest.mark.parametrize(
    "content",
    [
        b"", b"\n", b"name;price\ngin;1\n", b"ingredient,size_ml,size_ml\n",
        b"ingredient\ncognac\n", "ingredient,size_ml\nm\xfcll,1\n".encode("latin-1"),
        b"\xff\xfei\0n\0", b"ingredient,size_ml" + b"," * 20_000,
    ],
)  # fmt: skip
def test_a_file_that_is_no_shelf_is_refused_whole(
    bar: Bar, catalogue: Catalogue, content: bytes
) -> None:
    with pytest.raises(BadData) as caught:
        load(bar, catalogue, content)
    assert caught.value.field == "file"
    assert shelf(bar) == ()


@pytest.mark.parametrize(
    ("text", "mark", "number"),
    [("44,7", ".", 44.7), ("44.7", ",", 44.7), ("1.125", ".", 1.125), ("1,125", ",", 1.125),
     ("0,125", ".", 0.125), ("1 400", ".", 1400.0), ("16 %", ".", 16.0), (".5", ",", 0.5),
     ("7.", ".", 7.0)],
)  # fmt: skip
def test_numbers_are_read_as_they_were_meant(text: str, mark: str, number: float) -> None:
    assert read_number(text, "price", mark) == number


@pytest.mark.parametrize(
    ("text", "mark"),
    [("1,400", "."), ("1.400", ","), ("1.400,5", ","), ("a", "."), ("1,2,3", "."), ("--1", "."),
     ("nan", "."), ("inf", "."), ("1e999x", "."), ("½", ".")],
)  # fmt: skip
def test_what_can_be_read_two_ways_or_none_is_not_guessed_at(text: str, mark: str) -> None:
    with pytest.raises(BadData):
        read_number(text, "price", mark)


WORDS = st.text(
    st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs"))
    | st.sampled_from('\n\t";,'),
    max_size=40,
)
NUMBERS = st.floats(0, 90, allow_subnormal=False)


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(WORDS, WORDS, NUMBERS, st.none() | NUMBERS, st.booleans(), st.sampled_from(DIALECTS))
def test_any_bottle_survives_the_round_trip(
    label: str, notes: str, stock: float, sugar: float | None, out: bool, dialect: Dialect
) -> None:
    bottle = Bottle(
        id=12, version=3, ingredient="cognac", out=out, stock_ml=stock, sugar_g_per_l=sugar,
        label=clean_text("label", label.replace("\n", " "), 99), allergens=("eggs", "milk"),
        notes=clean_text("notes", notes, 99),
    )  # fmt: skip
    lines = list(csv_lines([bottle], dialect))
    (row,) = shelf_rows(io.BytesIO("".join(lines).encode()))
    assert isinstance(row, Row)
    draft, out_again = draft_of(row, lambda name: name)
    assert Bottle(**{n: getattr(draft, n) for n in BottleDraft.__dataclass_fields__},
                  id=int(row.cells["id"]), version=int(row.cells["version"]),
                  out=out_again) == bottle  # fmt: skip


def test_other_programs_read_what_we_write(bar: Bar, catalogue: Catalogue) -> None:
    a_bottle(bar, catalogue, replace(BOTTLE, label='a "b", c', notes="x\ny"))
    content = written(bar, Dialect()).encode().decode("utf-8-sig")
    (row,) = csv.DictReader(io.StringIO(content, newline=""))
    assert tuple(row) == COLUMNS.known
    assert (row["label"], row["notes"], row["abv_percent"]) == ('a "b", c', "x\ny", "44.7")


def test_an_import_takes_no_number_that_somebody_else_has_drawn(
    bar: Bar, catalogue: Catalogue
) -> None:
    for _ in range(3):
        last = a_bottle(bar, catalogue)
    with bar.unit(WHO) as unit:
        remove_bottle(unit, last.id, 1)
    done = load(bar, catalogue, "id,version,ingredient,size_ml\n3,1,cognac,700\n,,cognac,700\n")
    assert done.bad == []
    assert sorted(bottle.id for bottle in shelf(bar)) == [1, 2, 3, 4]
    assert a_bottle(bar, catalogue).id == 5
