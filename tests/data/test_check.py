"""The validator, shown broken copies of the dataset: each mistake is told once, with its place."""

from __future__ import annotations

import csv
import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

import pairing_data
from pairing_data.check import Problem, problems
from pairing_data.files import Row, Table
from pairing_data.rules import LINKED_RULES, RULES
from pairing_data.schema import TableSchema, read_package

Cells = dict[str, str]
# Tables that nothing points to: their first rows are enough, and the tests stay fast.
LEAVES = ("ingredient_odorants", "derived_odorants", "note_words", "thresholds", "combinations")
ENOUGH_LINES = 300


@dataclass
class Copy:
    """A copy of the dataset that a test may break, one table at a time."""

    folder: Path
    before: frozenset[Problem]

    def path(self, table: str) -> Path:
        return self.folder / "tables" / f"{table}.csv"

    def write(self, table: str, raw: bytes) -> None:
        self.path(table).unlink()
        self.path(table).write_bytes(raw)

    def raw(self, table: str) -> bytes:
        return self.path(table).read_bytes()

    def rows(self, table: str) -> list[Cells]:
        with self.path(table).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def save(self, table: str, rows: list[Cells]) -> None:
        self.path(table).unlink()
        with self.path(table).open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, list(rows[0]), lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)

    def change(self, table: str, which: Callable[[Cells], bool], **cells: str) -> int:
        """Change the first row that fits; the line of it."""
        rows = self.rows(table)
        place = next(n for n, row in enumerate(rows) if which(row))
        rows[place].update(cells)
        self.save(table, rows)
        return place + 2

    def new_problems(self) -> list[Problem]:
        return [problem for problem in problems(self.folder) if problem not in self.before]


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Copy:
    """The shipped dataset with short leaves; what is wrong with it already is set apart."""
    folder = tmp_path_factory.mktemp("dataset")
    (folder / "tables").mkdir()
    shutil.copy(pairing_data.FOLDER / "datapackage.json", folder)
    for table in (pairing_data.FOLDER / "tables").glob("*.csv"):
        lines = table.read_text(encoding="utf-8").splitlines(keepends=True)
        kept = lines[:ENOUGH_LINES] if table.stem in LEAVES else lines
        (folder / "tables" / table.name).write_text("".join(kept), encoding="utf-8")
    return Copy(folder, frozenset(problems(folder)))


@pytest.fixture
def copy(small: Copy, tmp_path: Path) -> Copy:
    """Links to the small dataset; a table becomes a file of its own when it is broken."""
    (tmp_path / "tables").mkdir()
    shutil.copy(small.folder / "datapackage.json", tmp_path)
    for table in (small.folder / "tables").glob("*.csv"):
        os.symlink(table, tmp_path / "tables" / table.name)
    return Copy(tmp_path, small.before)


def is_id(column: str, value: str) -> Callable[[Cells], bool]:
    return lambda row: row[column] == value


def assert_one(copy: Copy, table: str, row: int, column: str, reason: str) -> None:
    found = copy.new_problems()
    assert [(p.table, p.row, p.column) for p in found] == [(table, row, column)], found
    assert reason in found[0].reason, found[0].reason


def test_a_missing_table_is_one_problem_and_what_points_to_it_none(copy: Copy) -> None:
    copy.path("odorants").unlink()
    assert_one(copy, "odorants", 0, "", "the file odorants.csv is missing")


def test_a_table_that_is_not_described_is_told(copy: Copy) -> None:
    (copy.folder / "tables" / "glasses.csv").write_text("glass_id\ncoupe\n", encoding="utf-8")
    assert_one(copy, "glasses", 0, "", "not described in datapackage.json")


def test_bytes_that_are_not_utf_8_are_placed_by_line(copy: Copy) -> None:
    lines = copy.raw("thresholds").split(b"\n")
    lines[4] += b"\xe9"
    copy.write("thresholds", b"\n".join(lines))
    assert_one(copy, "thresholds", 5, "", "not UTF-8")


def test_a_byte_order_mark_is_told(copy: Copy) -> None:
    copy.write("families", b"\xef\xbb\xbf" + copy.raw("families"))
    assert_one(copy, "families", 1, "", "byte order mark")


def test_carriage_returns_are_told_once(copy: Copy) -> None:
    copy.write("thresholds", copy.raw("thresholds").replace(b"\n", b"\r\n"))
    assert_one(copy, "thresholds", 1, "", "carriage return")


def test_a_missing_column_is_named(copy: Copy) -> None:
    copy.write("thresholds", copy.raw("thresholds").replace(b",matrix,", b",liquid,", 1))
    assert_one(copy, "thresholds", 1, "matrix", "missing from the header")


def test_a_column_too_many_is_named(copy: Copy) -> None:
    rows = [{**row, "colour": "red"} for row in copy.rows("odorants")]
    copy.save("odorants", rows)
    assert_one(copy, "odorants", 1, "colour", "not described")


def test_columns_out_of_order_are_told(copy: Copy) -> None:
    rows = [dict(reversed(row.items())) for row in copy.rows("families")]
    copy.save("families", rows)
    assert_one(copy, "families", 1, "", "must stand in this order: family_id, name")


def test_a_short_row_is_told_and_what_points_to_it_is_not(copy: Copy) -> None:
    lines = copy.raw("descriptors").split(b"\n")
    lines[7] = lines[7].rsplit(b",", 1)[0]
    copy.write("descriptors", b"\n".join(lines))
    assert_one(copy, "descriptors", 8, "", "the row has 2 cells, the table has 3 columns")


def test_a_stray_quotation_mark_is_told(copy: Copy) -> None:
    lines = copy.raw("families").split(b"\n")
    lines[3] = b'berry,"berries"!'
    copy.write("families", b"\n".join(lines))
    assert_one(copy, "families", 4, "", "cannot be read as CSV")


# (ingredient, what is changed in its row, column of the problem, part of the reason)
ONE_CELL = [
    ("vodka", {"name": ""}, "name", "the cell is empty"),
    ("vodka", {"style": "vodka "}, "style", "begins or ends with a space"),
    ("vodka", {"abv_percent": "forty"}, "abv_percent", "'forty' is not a number"),
    ("vodka", {"abv_percent": "40,0"}, "abv_percent", "is not a number"),
    ("vodka", {"abv_percent": "nan"}, "abv_percent", "is not a number"),
    ("vodka", {"abv_percent_low": "-1"}, "abv_percent_low", "below the smallest"),
    ("vodka", {"abv_percent_high": "100"}, "abv_percent_high", "above the largest"),
    ("vodka", {"role": "spirit"}, "role", "not one of base, modifier"),
    ("vodka", {"aliases": "wodka;;plain"}, "aliases", "an item of"),
    ("vodka", {"aliases": "wodka;wodka"}, "aliases", "stands twice in the list"),
    ("vodka", {"allergens": "wheat"}, "allergens", "not one of celery"),
    ("vodka", {"cautions": "hangover"}, "cautions", "'hangover' is not in cautions"),
    ("vodka", {"source_ids": "nobody-1900"}, "source_ids", "is not in sources"),
    ("vodka", {"grade": "guess"}, "grade", "not one of measured, derived"),
    ("vodka", {"acid_g_per_l_high": ""}, "acid_g_per_l_high", "the cell is empty"),
    ("vodka", {"abv_percent": "55"}, "abv_percent_high", "below the usual value 55"),
    ("vodka", {"abv_percent": "37"}, "abv_percent_low", "above the usual value 37"),
    ("vodka", {"abv_percent_low": "37"}, "abv_percent_low", "below the legal 37.5"),
    ("vodka", {"sugar_g_per_l_high": "8"}, "sugar_g_per_l_high", "above the legal 8"),
    ("maraschino", {"sugar_g_per_l_low": "230"}, "sugar_g_per_l_low", "legal 250"),
    ("vodka", {"aliases": "kirsch"}, "aliases", "already means cherry-spirit"),
]


@pytest.mark.parametrize(
    ("ingredient", "change", "column", "reason"), ONE_CELL, ids=lambda value: str(value)[:40]
)
def test_one_wrong_cell_is_one_problem(
    copy: Copy, ingredient: str, change: Cells, column: str, reason: str
) -> None:
    line = copy.change("ingredients", is_id("ingredient_id", ingredient), **change)
    assert_one(copy, "ingredients", line, column, reason)


def test_more_than_a_litre_in_a_litre_is_told(copy: Copy) -> None:
    """60 % vol is 600 mL; 800 g sugar take near 496 mL more (0.62 mL/g)."""
    cells = {"sugar_g_per_l": "800", "sugar_g_per_l_high": "800"}
    line = copy.change("ingredients", is_id("ingredient_id", "absinthe"), **cells)
    assert_one(copy, "ingredients", line, "sugar_g_per_l", "takes 1096 mL of a litre")


def test_a_position_is_a_whole_number(copy: Copy) -> None:
    line = copy.change("spec_pours", lambda row: row["position"] == "1", position="1.5")
    assert_one(copy, "spec_pours", line, "position", "not a whole number")


def test_a_threshold_of_nothing_is_told(copy: Copy) -> None:
    line = copy.change("thresholds", lambda row: True, threshold_ug_per_l="0")
    assert_one(copy, "thresholds", line, "threshold_ug_per_l", "must be above 0")


def test_an_id_with_capitals_does_not_have_the_form(copy: Copy) -> None:
    line = copy.change("thresholds", lambda row: True, source_id="Belitz 2009")
    assert_one(copy, "thresholds", line, "source_id", "does not have the form")


def test_a_row_that_stands_twice_names_the_first_line(copy: Copy) -> None:
    rows = copy.rows("ingredient_descriptors")
    copy.save("ingredient_descriptors", [*rows[:5], rows[4], *rows[5:]])
    assert_one(copy, "ingredient_descriptors", 7, "descriptor_id", "stands already in line 6")


def test_two_ingredients_with_one_name_are_told(copy: Copy) -> None:
    line = copy.change("ingredients", is_id("ingredient_id", "vodka"), name="aquavit")
    assert_one(copy, "ingredients", line, "name", "it must be unique")


def test_rows_out_of_order_are_told_once(copy: Copy) -> None:
    rows = copy.rows("ingredient_descriptors")
    copy.save("ingredient_descriptors", [*rows[:9], rows[30], *rows[9:30], *rows[31:]])
    assert_one(copy, "ingredient_descriptors", 12, "ingredient_id", "must be sorted by")


@pytest.mark.parametrize(
    ("table", "column", "parent"),
    [
        ("ingredient_descriptors", "descriptor_id", "descriptors"),
        ("ingredient_descriptors", "ingredient_id", "ingredients"),
        ("odorant_descriptors", "odorant_id", "odorants"),
        ("thresholds", "source_id", "sources"),
        ("descriptors", "family_id", "families"),
        ("spec_pours", "ingredient_id", "ingredients"),
    ],
)
def test_a_link_without_its_other_end_is_told(
    copy: Copy, table: str, column: str, parent: str
) -> None:
    rows = copy.rows(table)
    rows[-1][column] = "zzz"  # the last row, so that the order stays
    copy.save(table, rows)
    assert_one(copy, table, len(rows) + 1, column, f"'zzz' is not in {parent}")


def test_brewed_coffee_in_a_spec_needs_no_ingredient(copy: Copy) -> None:
    rows = copy.rows("spec_pours")
    assert any(row["ingredient_id"] == "coffee" for row in rows)
    assert not any("'coffee'" in problem.reason for problem in copy.before)


def test_a_descriptor_that_nothing_uses_is_an_orphan(copy: Copy) -> None:
    rows = copy.rows("descriptors")
    copy.save("descriptors", [*rows, {"descriptor_id": "zzz", "name": "z", "family_id": "anise"}])
    assert_one(copy, "descriptors", len(rows) + 2, "descriptor_id", "'zzz' is used nowhere in")


def test_an_odorant_without_a_word_is_an_orphan(copy: Copy) -> None:
    rows = copy.rows("odorants")
    new = {**dict.fromkeys(rows[0], ""), "odorant_id": "zzz", "name": "z"}
    copy.save("odorants", [*rows, new])
    assert_one(copy, "odorants", len(rows) + 2, "odorant_id", "used nowhere in odorant_descriptors")


def test_a_registry_number_with_a_wrong_digit_is_told(copy: Copy) -> None:
    """78-70-6 is linalool; its check digit is (1x0 + 2x7 + 3x8 + 4x7) mod 10 = 6."""
    line = copy.change("odorants", is_id("cas", "78-70-6"), cas="78-70-5")
    assert_one(copy, "odorants", line, "cas", "wrong check digit")


@pytest.mark.parametrize(
    ("change", "column"),
    [
        ({"year": ""}, "year"),
        ({"container": "", "doi": "", "standard": ""}, "container"),
        ({"authors": "", "doi": "", "standard": ""}, "authors"),
    ],
)
def test_a_source_that_cannot_be_found_is_told(copy: Copy, change: Cells, column: str) -> None:
    line = copy.change("sources", is_id("source_id", "belitz-2009"), **change)
    assert_one(copy, "sources", line, column, "")


def test_measured_on_the_word_of_an_unread_source_is_told(copy: Copy) -> None:
    recalled = {r["source_id"] for r in copy.rows("sources") if r["how"] == "recalled"}
    line = copy.change("thresholds", lambda row: row["source_id"] in recalled, grade="measured")
    assert_one(copy, "thresholds", line, "grade", "is itself recalled; grade it recalled")


# The rules for raw materials, on rows by hand: no broken copy of a whole table is needed.
SCHEMAS: dict[str, TableSchema] = {table.name: table for table in read_package(pairing_data.FOLDER)}


def by_hand(name: str, *rows: Cells) -> Table:
    empty = dict.fromkeys(SCHEMAS[name].columns, "")
    return Table(SCHEMAS[name], [Row(n, {**empty, **row}) for n, row in enumerate(rows, start=2)])


PERCENT = {"material_id": "clove", "odorant_id": "eugenol", "unit": "percent_of_oil"}


@pytest.mark.parametrize(
    ("row", "column", "reason"),
    [
        # 85 % of clove oil written in ug/kg: 85 x 1e7, one percent of an oil being 1e7 ug/kg
        ({**PERCENT, "amount": "8.5e8", "amount_high": "8.5e8"}, "amount_high", "1 % = 1e7"),
        ({**PERCENT}, "amount", "there is no amount"),
        ({"unit": "none", "impact": "key", "amount": "5"}, "unit", "needs a unit"),
        ({"unit": "none"}, "impact", "give an amount or an impact class"),
    ],
)
def test_an_amount_fits_its_unit(row: Cells, column: str, reason: str) -> None:
    [(line, where, why)] = RULES["amount-fits-unit"](by_hand("raw_material_odorants", row))
    assert (line, where) == (2, column)
    assert reason in why


def test_a_sound_amount_is_not_told() -> None:
    row = {**PERCENT, "amount_low": "80", "amount": "85", "amount_high": "90"}
    assert list(RULES["amount-fits-unit"](by_hand("raw_material_odorants", row))) == []


def test_an_oil_of_more_than_all_of_it_is_told_where_it_runs_over() -> None:
    rows = [{**PERCENT, "amount": "60"}, {**PERCENT, "amount": "44"}, {**PERCENT, "amount": "9"}]
    [(line, column, reason)] = RULES["oil-adds-up"](by_hand("raw_material_odorants", *rows))
    assert (line, column) == (4, "amount")
    assert "clove add up to 113 %" in reason


def test_a_material_with_shares_of_oil_says_how_much_oil_it_has() -> None:
    materials = by_hand("raw_materials", {"material_id": "clove"}, {"material_id": "oak"})
    tables = {"raw_material_odorants": by_hand("raw_material_odorants", PERCENT)}
    [(line, column, _)] = LINKED_RULES["oil-has-a-yield"](materials, tables)
    assert (line, column) == (2, "oil_percent")


def test_an_odorant_row_says_how_much_or_how_much_it_matters() -> None:
    rows = [{"impact": "key"}, {"ug_per_l": "3"}, {"note": "named in a review"}]
    [(line, column, _)] = RULES["amount-or-impact"](by_hand("ingredient_odorants", *rows))
    assert (line, column) == (4, "impact")


def test_a_half_given_range_is_told(copy: Copy) -> None:
    line = copy.change("ingredient_odorants", lambda row: row["ug_per_l"] != "", ug_per_l_low="")
    assert_one(copy, "ingredient_odorants", line, "ug_per_l_low", "the range is not complete")


def test_every_rule_that_the_descriptor_names_exists_and_none_is_idle() -> None:
    named = {rule for schema in SCHEMAS.values() for rule in schema.rules}
    assert named == set(RULES) | set(LINKED_RULES)


def test_a_problem_reads_as_a_sentence_with_its_place() -> None:
    problem = Problem("odorants", 12, "cas", "78-70-5 has a wrong check digit; a digit is off")
    assert str(problem) == (
        "odorants, line 12, cas: 78-70-5 has a wrong check digit; a digit is off"
    )
    assert str(Problem("odorants", 0, "", "the file is missing")) == "odorants: the file is missing"


def test_checking_twice_tells_the_same_in_the_same_order(copy: Copy) -> None:
    copy.change("ingredients", is_id("ingredient_id", "vodka"), role="spirit", grade="guess")
    first = problems(copy.folder)
    assert first == problems(copy.folder)
    assert first == sorted(first)
