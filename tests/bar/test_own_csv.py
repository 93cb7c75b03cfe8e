"""Own ingredients as a file: of all three kinds, without loss, and never over the dataset's."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.bar import (
    Bar,
    Dialect,
    FileImport,
    Language,
    Outcome,
    OwnIngredient,
    OwnIngredientDraft,
    add_own_ingredient,
    audit_lines,
    list_own_ingredients,
    load_own_ingredients,
    own_csv_lines,
    own_template_lines,
    read_own_ingredient,
    rewrite_own_ingredient,
)
from service.bar.own_csv import COLUMNS, own_draft_of, own_rows
from service.bar.own_ingredients import MOST, check_own_ingredient
from service.bar.spreadsheets import Row
from service.ingredients import Catalogue
from service.ingredients.records import Role
from service.kit import BadData, Interval
from tests.bar.drafts import WHO

DIALECTS = [Dialect.of(Language.ENGLISH), Dialect.of(Language.GERMAN)]
SMOKE = OwnIngredientDraft(
    name="Pier smoke", role=Role.SEASONING, notes={"smoke": 0.8, "fig": 0.125},
    remarks='a "kiln", two\nlines',
)  # fmt: skip
SYRUP = OwnIngredientDraft(
    name="Kelp syrup; thick", role=Role.SWEETENER, style="syrup", allergens=("milk", "nuts"),
    composition={"sugar_g_per_l": Interval(580, 600.5, 640), "abv": Interval.exactly(0.007)},
)  # fmt: skip
LIKE = OwnIngredientDraft(
    name="Net loft vermouth", role=Role.MODIFIER, like_id="sweet-vermouth",
    notes={"orange": 0.6}, without=("vanilla",), composition={"abv": Interval(0.16, 0.17, 0.19)},
)  # fmt: skip
HEAD = "name,role,like,notes,without,abv_percent,sugar_g_per_l,allergens"


def load(bar: Bar, catalogue: Catalogue, content: str | bytes, write: bool = True) -> FileImport:
    raw = content if isinstance(content, bytes) else content.encode()
    with bar.unit(WHO) as unit:
        return load_own_ingredients(unit, catalogue, io.BytesIO(raw), write=write)


def kept(bar: Bar) -> tuple[OwnIngredient, ...]:
    with bar.look() as unit:
        return list_own_ingredients(unit)


def written(bar: Bar, dialect: Dialect) -> str:
    return "".join(own_csv_lines(kept(bar), dialect))


def three(bar: Bar, catalogue: Catalogue) -> None:
    with bar.unit(WHO) as unit:
        for draft in (SMOKE, SYRUP, LIKE):
            add_own_ingredient(unit, catalogue, draft)


@pytest.mark.parametrize(
    "content",
    [
        'name,role,notes,abv_percent\nPier,base,"smoke:0.8; fig","36 to 40"\n',
        '\ufeffname;role;notes;abv_percent\r\nPier;base;"smoke:0,8; fig";36 to 38 to 40\r\n',
        "Name;Role;Notes;Abv percent\nPier;Base;smoke:0.8, fig:1;36-40\n",
        "name\trole\tnotes\tabv_percent\nPier\tbase\tsmoke:0,8;fig:1\t36..40\n",
        'notes,name,abv_percent,role\n"Smoke : 0.8 | FIG",Pier,36 % – 40 %,base\n',
    ],
)
def test_spreadsheets_of_all_kinds_are_understood(
    bar: Bar, catalogue: Catalogue, content: str
) -> None:
    done = load(bar, catalogue, content)
    assert (done.counts[Outcome.ADDED], done.bad) == (1, [])
    (own,) = kept(bar)
    assert (own.id, own.role, own.notes) == ("own-pier", Role.BASE, {"smoke": 0.8, "fig": 1.0})
    assert own.composition == {"abv": Interval(0.36, 0.38, 0.40)}


def test_all_three_kinds_can_be_stated(bar: Bar, catalogue: Catalogue) -> None:
    content = (
        f"{HEAD}\n"
        "by notes,seasoning,,smoke:0.8,,,,\n"
        "by what it holds,sweetener,,,,0,600,\n"
        "like another,,Sweet Vermouth,orange:0.6,vanilla,,,\n"
    )
    assert load(bar, catalogue, content).bad == []
    by_notes, holds, like = kept(bar)
    assert (by_notes.notes, by_notes.composition) == ({"smoke": 0.8}, {})
    assert holds.composition == {
        "abv": Interval.exactly(0.0), "sugar_g_per_l": Interval.exactly(600.0),
    }  # fmt: skip
    assert (like.like_id, like.without, like.role) == (
        "sweet-vermouth", ("vanilla",), catalogue.ingredient("sweet-vermouth").role,
    )  # fmt: skip


def test_good_rows_load_and_bad_rows_come_back_with_line_and_reason(
    bar: Bar, catalogue: Catalogue
) -> None:
    content = (
        f"{HEAD}\n"
        'one,base,,"smoke:0.5\nfig:0.2",,,,\n'               # lines 2 and 3
        "two,base,,smok:0.5,,,,\n"                           # 4
        "three,base,,tangerine,,,,\n"                        # 5
        "Cognac,base,,smoke,,,,\n"                           # 6
        "green fairy,base,,smoke,,,,\n"                      # 7
        "four,base,,smoke,,140,,\n"                          # 8
        "ONE,base,,smoke,,,,\n"                              # 9
        "five,base,,smoke:3,,,,\n"                           # 10
        "six,,bourbonn,,,,,\n"                               # 11
        "seven,base,,,,,,\n"                                 # 12
        "eight,barrel,,smoke,,,,\n"                          # 13
        "nine,base,,smoke,,40 to 20,,\n"                     # 14
        "ten,coffee,,smoke,,,,\n"                            # 15
        "eleven,base,,smoke;smoke:0.3,,,,\n"                 # 16
        "twelve,base,,smoke,fig,,,\n"                        # 17
        "thirteen,base,,smoke,,,9999,\n"                     # 18
        "fourteen,base,,smoke,,,,dust\n"                     # 19
        ",base,,smoke,,,,\n"                                 # 20
        "fifteen,base,,smoke,,,,,extra\n"                    # 21
        "sixteen,base,,smoke,,,\"1,400\",\n"                 # 22
        "last,base,,smoke,,,,nuts\n"                         # 23
    )  # fmt: skip
    done = load(bar, catalogue, content)
    assert [own.name for own in kept(bar)] == ["last", "one"]
    assert [(row.line, row.column) for row in done.bad] == [
        (4, "notes"), (5, "notes"), (6, "name"), (7, "name"), (8, "abv_percent"), (9, "name"),
        (10, "notes"), (11, "like"), (12, "notes"), (13, "role"), (14, "abv_percent"),
        (15, "role"), (16, "notes"), (17, "without"), (18, "sugar_g_per_l"), (19, "allergens"),
        (20, "name"), (21, ""), (22, "sugar_g_per_l"),
    ]  # fmt: skip
    said = {row.line: row.reason for row in done.bad}
    assert "nearest: smoke" in said[4]
    assert said[5].endswith("nearest: mandarin")  # the dataset's own word for it
    assert "what the dataset calls" in said[6]
    assert "140 % vol is outside 0 to 97" in said[8]
    assert "line 2" in said[9]
    assert "bourbon" in said[11]
    assert (done.rows, done.bad_count) == (21, 19)


def test_a_preview_says_the_same_and_writes_nothing(bar: Bar, catalogue: Catalogue) -> None:
    content = f"{HEAD}\none,base,,smoke,,,,\ntwo,base,,nothing,,,,\n"
    with bar.look() as unit:
        file = io.BytesIO(content.encode())
        seen = load_own_ingredients(unit, catalogue, file, write=False)
    assert kept(bar) == ()
    done = load(bar, catalogue, content)
    assert (seen.counts, seen.good, seen.bad) == (done.counts, done.good, done.bad)
    assert seen.good[0].key == "own-one"


@pytest.mark.parametrize("dialect", DIALECTS)
def test_the_template_loads_and_a_second_time_changes_nothing(
    bar: Bar, catalogue: Catalogue, dialect: Dialect
) -> None:
    content = "".join(own_template_lines(dialect))
    assert load(bar, catalogue, content).counts == {Outcome.ADDED: 3}
    before = kept(bar)
    again = load(bar, catalogue, content)
    assert (again.counts, again.bad) == ({Outcome.UNCHANGED: 3}, [])
    assert kept(bar) == before
    with bar.look() as unit:
        assert len(audit_lines(unit)) == 3


@pytest.mark.parametrize("dialect", DIALECTS)
def test_an_exported_file_loads_back_and_changes_nothing(
    bar: Bar, catalogue: Catalogue, dialect: Dialect
) -> None:
    three(bar, catalogue)
    before = kept(bar)
    done = load(bar, catalogue, written(bar, dialect))
    assert (done.counts, done.bad) == ({Outcome.UNCHANGED: 3}, [])
    assert kept(bar) == before


@pytest.mark.parametrize("dialect", DIALECTS)
def test_an_exported_file_makes_the_same_ingredients_in_another_bar(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, dialect: Dialect
) -> None:
    three(bar, catalogue)
    with bar.unit(WHO) as unit:
        rewrite_own_ingredient(unit, catalogue, "own-pier-smoke", 1, replace(SMOKE, name="Soot"))
    content = written(bar, dialect)
    done = load(other_bar, catalogue, content)
    assert (done.counts, done.bad) == ({Outcome.ADDED: 3}, [])
    assert kept(other_bar) == kept(bar)
    assert written(other_bar, dialect) == content


def test_an_edited_file_changes_what_was_edited(bar: Bar, catalogue: Catalogue) -> None:
    three(bar, catalogue)
    content = written(bar, Dialect()).replace("smoke:0.8", "smoke:0.5").replace("Net loft", "Quay")
    done = load(bar, catalogue, content)
    assert (done.counts, done.bad) == ({Outcome.CHANGED: 2, Outcome.UNCHANGED: 1}, [])
    with bar.look() as unit:
        smoke = read_own_ingredient(unit, "own-pier-smoke")
        assert (smoke.notes, smoke.version) == ({"fig": 0.125, "smoke": 0.5}, 2)
        assert read_own_ingredient(unit, "own-net-loft-vermouth").name == "Quay vermouth"


def test_a_file_written_before_somebody_elses_change_overwrites_nothing(
    bar: Bar, catalogue: Catalogue
) -> None:
    three(bar, catalogue)
    old = written(bar, Dialect()).replace("smoke:0.8", "smoke:0.5")
    with bar.unit("Ada") as unit:
        rewrite_own_ingredient(unit, catalogue, "own-pier-smoke", 1, replace(SMOKE, remarks="x"))
    done = load(bar, catalogue, old)
    assert [row.column for row in done.bad] == ["version"]
    with bar.look() as unit:
        assert read_own_ingredient(unit, "own-pier-smoke").notes["smoke"] == 0.8


def test_a_row_without_id_never_overwrites_one_of_the_same_name(
    bar: Bar, catalogue: Catalogue
) -> None:
    three(bar, catalogue)
    before = kept(bar)
    done = load(bar, catalogue, f"{HEAD}\npier SMOKE,seasoning,,smoke:0.1,,,,\n")
    assert [(row.line, row.column) for row in done.bad] == [(2, "name")]
    assert kept(bar) == before


@pytest.mark.parametrize(
    ("rows", "bad"),
    [
        ("own-a,1,A,base,smoke\nown-a,1,B,base,smoke\n", [(3, "id")]),
        (",,A,base,smoke\nown-a,1,B,base,smoke\n", [(3, "id")]),
        ("cognac,1,A,base,smoke\n", [(2, "id")]),
        ("own-../x,1,A,base,smoke\n", [(2, "id")]),
        ("own-a,x,A,base,smoke\n", [(2, "version")]),
        ("own-b,1,Pier smoke,base,smoke\n", [(2, "name")]),
        ("own-kelp-syrup-thick,1,Pier smoke,base,smoke\n", [(2, "name")]),
    ],
)
def test_ids_are_the_bars_own_and_stand_once(
    bar: Bar, catalogue: Catalogue, rows: str, bad: list[tuple[int, str]]
) -> None:
    three(bar, catalogue)
    before = {own.id: own for own in kept(bar)}
    done = load(bar, catalogue, f"id,version,name,role,notes\n{rows}")
    assert [(row.line, row.column) for row in done.bad] == bad
    after = {own.id: own for own in kept(bar)}
    assert all(after[own_id] == own for own_id, own in before.items())


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "line 1 is empty"),
        (b"\n", "line 1 is empty"),
        (b"name,role,notes\n", "no row follows"),
        (b"name,role,notes\n\n,,\n", "no row follows"),
        (b"nom;notes\nA;smoke\n", "'nom' is not known"),
        (b"role,notes\nbase,smoke\n", "needs the column 'name'"),
        (b"name,name\nA,B\n", "twice"),
        ("name,role,notes\nm\xfcll,base,smoke\n".encode("latin-1"), "UTF-8"),
        ("name,role,notes\nA,base,smoke\n".encode("utf-16"), "UTF-8"),
        (b"name,role,notes\n" + b"A,base,smoke\n" * 5_001, "line 5002"),
    ],
)
def test_a_file_that_is_none_is_refused_whole(
    bar: Bar, catalogue: Catalogue, content: bytes, said: str
) -> None:
    with pytest.raises(BadData, match=said) as caught:
        load(bar, catalogue, content)
    assert caught.value.field == "file"
    assert kept(bar) == ()


def test_nothing_shipped_changes_when_a_file_is_loaded(bar: Bar, catalogue: Catalogue) -> None:
    before = dict(catalogue.ingredients)
    names = [i.name for i in catalogue.ingredients.values()] + list(catalogue.ingredients)
    content = f"{HEAD}\n" + "".join(f'"{n}",base,,smoke,,,,\n' for n in names)
    done = load(bar, catalogue, content)
    assert (done.bad_count, kept(bar)) == (len(names), ())
    assert dict(catalogue.ingredients) == before


def test_other_programs_read_what_we_write(bar: Bar, catalogue: Catalogue) -> None:
    three(bar, catalogue)
    content = written(bar, Dialect()).encode().decode("utf-8-sig")
    rows = {row["id"]: row for row in csv.DictReader(io.StringIO(content, newline=""))}
    assert tuple(rows["own-pier-smoke"]) == COLUMNS.known
    assert rows["own-pier-smoke"]["notes"] == "fig:0.125; smoke:0.8"
    assert rows["own-kelp-syrup-thick"]["abv_percent"] == "0.7"
    assert rows["own-net-loft-vermouth"]["abv_percent"] == "16 to 17 to 19"


WORDS = st.text(
    st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs"))
    | st.sampled_from('\n\t";,'),
    max_size=40,
)


def spans(most: float) -> st.SearchStrategy[Interval]:
    ends = st.lists(st.floats(0.0, most), min_size=3, max_size=3)
    return ends.map(lambda three: Interval(*sorted(three)))


HOLDS = st.fixed_dictionaries({}, optional={name: spans(most) for name, most in MOST.items()})
NOTES = st.dictionaries(st.sampled_from(["smoke", "fig", "orange"]), st.floats(0.01, 1.0))


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(WORDS, HOLDS, NOTES, st.sampled_from(DIALECTS))
def test_any_own_ingredient_survives_the_round_trip(
    catalogue: Catalogue,
    remarks: str,
    holds: dict[str, Interval],
    notes: dict[str, float],
    dialect: Dialect,
) -> None:
    draft = check_own_ingredient(
        replace(LIKE, remarks=remarks, composition=holds, notes=notes), catalogue
    )
    values = {name: getattr(draft, name) for name in OwnIngredientDraft.__dataclass_fields__}
    lines = own_csv_lines([OwnIngredient(**values, id="own-x", version=3)], dialect)
    (row,) = own_rows(io.BytesIO("".join(lines).encode()))
    assert isinstance(row, Row)
    assert (row.cells["id"], row.cells["version"]) == ("own-x", "3")
    back = own_draft_of(row, lambda name: name, lambda word, _: word, lambda _: Role.BASE)
    assert check_own_ingredient(back, catalogue) == draft
