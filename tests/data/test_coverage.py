"""The report on how well each ingredient is known adds up, and says the same in both forms."""

from __future__ import annotations

import csv
import json

import pytest
from typer.testing import CliRunner

from pairing_data import table_path
from service.cli.main import app
from service.counter.coverage import Coverage, Tally, coverage, coverage_json
from service.ingredients import load_catalogue
from service.ingredients.records import Grade, Role


@pytest.fixture(scope="module")
def found() -> Coverage:
    return coverage(load_catalogue())


def test_every_pair_of_the_tables_is_counted_once(found: Coverage) -> None:
    pairs = set()
    for name in ("ingredient_odorants", "derived_odorants"):
        with table_path(name).open(encoding="utf-8", newline="") as file:
            pairs |= {(row["ingredient_id"], row["odorant_id"]) for row in csv.DictReader(file)}
    assert found.total.rows == len(pairs)


def test_roles_and_ingredients_add_up_to_the_total(found: Coverage) -> None:
    for grade in Grade:
        assert found.total.by_grade[grade] == sum(t.by_grade[grade] for t in found.by_role.values())
        of_each = (one.odorants.by_grade[grade] for one in found.ingredients)
        assert found.total.by_grade[grade] == sum(of_each)
    assert found.total.with_figure == sum(one.odorants.with_figure for one in found.ingredients)


def test_all_ingredients_of_the_table_are_there_and_no_coffee_profile(found: Coverage) -> None:
    with table_path("ingredients").open(encoding="utf-8", newline="") as file:
        listed = [row["ingredient_id"] for row in csv.DictReader(file)]
    assert [one.ingredient.id for one in found.ingredients] == sorted(listed)


def test_no_share_is_given_where_there_are_no_rows() -> None:
    assert Tally.of(()).well_known_share is None


def test_the_command_prints_the_figures_of_the_record(found: Coverage) -> None:
    result = CliRunner().invoke(app, ["data", "report", "--json"])
    assert result.exit_code == 0
    assert json.loads(result.stdout) == json.loads(json.dumps(coverage_json(found)))


def test_the_command_prints_a_line_for_each_ingredient_and_the_totals(found: Coverage) -> None:
    result = CliRunner().invoke(app, ["data", "report"])
    lines = result.stdout.splitlines()
    assert result.exit_code == 0
    assert len(lines) == 1 + len(found.ingredients) + len(found.by_role) + 2
    assert lines[-1].split()[:3] == ["all", "ingredients", str(found.total.rows)]


def test_one_role_alone_can_be_asked_for() -> None:
    bases = coverage(load_catalogue(), Role.BASE)
    assert {one.ingredient.role for one in bases.ingredients} == {Role.BASE}
    assert set(bases.by_role) == {Role.BASE}
