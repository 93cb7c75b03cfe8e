"""The descriptor follows the Data Package standard, and every shipped table follows it."""

from __future__ import annotations

import csv
import json
import re
from typing import Any

import pytest

import pairing_data
from pairing_data.check import problems

PACKAGE: dict[str, Any] = json.loads(
    (pairing_data.FOLDER / "datapackage.json").read_text(encoding="utf-8")
)
RESOURCES: dict[str, dict[str, Any]] = {entry["name"]: entry for entry in PACKAGE["resources"]}

# Data Package standard, version 2.0 (2024): Table Schema, "Field Types" and "Field Constraints".
FIELD_TYPES = {
    "string", "number", "integer", "boolean", "object", "array", "list", "datetime", "date",
    "time", "year", "yearmonth", "duration", "geopoint", "geojson", "any",
}  # fmt: skip
CONSTRAINTS = {
    "required", "unique", "minLength", "maxLength", "minimum", "maximum", "exclusiveMinimum",
    "exclusiveMaximum", "jsonSchema", "pattern", "enum",
}  # fmt: skip

# The tables this dataset promises.
NAMED = {
    "families", "descriptors", "sources", "odorants", "thresholds", "odorant_descriptors",
    "ingredients", "ingredient_odorants", "raw_materials", "raw_material_odorants", "botanicals",
    "derived_odorants", "ingredient_descriptors", "coffee_odorants", "coffee_effects",
    "note_words", "specs", "spec_pours", "combinations", "cautions",
}  # fmt: skip


def fields(resource: str) -> dict[str, dict[str, Any]]:
    return {field["name"]: field for field in RESOURCES[resource]["schema"]["fields"]}


def test_every_shipped_table_is_sound() -> None:
    """Types, limits, keys, order, both ends of links, ranges, orphans and the named rules."""
    assert [str(problem) for problem in problems(pairing_data.FOLDER)] == []


def test_every_promised_table_is_described_and_there() -> None:
    assert set(RESOURCES) >= NAMED
    for resource in RESOURCES.values():
        assert (pairing_data.FOLDER / resource["path"]).is_file(), resource["path"]


def test_no_table_ships_undescribed() -> None:
    described = {resource["path"] for resource in RESOURCES.values()}
    shipped = {f"tables/{path.name}" for path in (pairing_data.FOLDER / "tables").iterdir()}
    assert shipped == described


def test_the_package_says_what_it_is_and_under_which_licence() -> None:
    """Data Package 2.0: name of letters, digits, `-_./`; version; licence with name or path."""
    assert re.fullmatch(r"[-a-z0-9._/]+", PACKAGE["name"])
    assert PACKAGE["title"]
    assert re.fullmatch(r"\d+\.\d+\.\d+", PACKAGE["version"])
    assert [licence["name"] for licence in PACKAGE["licenses"]] == ["CC-BY-4.0"]
    assert all(person["title"] for person in PACKAGE["contributors"])


def test_the_version_is_the_newest_in_the_list_of_changes() -> None:
    changes = (pairing_data.FOLDER / "CHANGES.md").read_text(encoding="utf-8")
    versions = re.findall(r"^## (\d+\.\d+\.\d+)", changes, flags=re.MULTILINE)
    assert versions[0] == PACKAGE["version"]


@pytest.mark.parametrize("name", RESOURCES)
def test_a_table_is_described_in_the_terms_of_the_standard(name: str) -> None:
    resource = RESOURCES[name]
    assert re.fullmatch(r"[-a-z0-9._/]+", name)
    assert resource["path"] == f"tables/{name}.csv"
    assert resource["type"] == "table"
    assert resource["title"]
    assert resource["description"].endswith(".")
    columns = fields(name)
    assert len(columns) == len(resource["schema"]["fields"]), "a column stands twice"
    for field in columns.values():
        assert field["type"] in FIELD_TYPES
        assert field["description"].strip()
        assert set(field.get("constraints", {})) <= CONSTRAINTS
    assert set(resource["schema"]["primaryKey"]) <= set(columns)


@pytest.mark.parametrize("name", RESOURCES)
def test_foreign_keys_point_to_the_key_of_a_table(name: str) -> None:
    for key in RESOURCES[name]["schema"].get("foreignKeys", []):
        assert set(key["fields"]) <= set(fields(name))
        target = key["reference"]
        assert target["fields"] == RESOURCES[target["resource"]]["schema"]["primaryKey"]


@pytest.mark.parametrize("name", RESOURCES)
def test_columns_stand_in_the_file_as_described(name: str) -> None:
    with pairing_data.table_path(name).open(encoding="utf-8", newline="") as file:
        assert next(csv.reader(file)) == list(fields(name))


# Numbers without a unit: weights, ratios of logarithms and places in a list.
BARE_NUMBERS = {"weight", "contrast", "position"}


@pytest.mark.parametrize("name", RESOURCES)
def test_every_number_has_its_unit_or_says_where_it_stands(name: str) -> None:
    for field in fields(name).values():
        if field["type"] in ("number", "integer") and field["name"] not in BARE_NUMBERS:
            has_column = name == "raw_material_odorants" and field["name"].startswith("amount")
            assert field.get("unit") or has_column, field["name"]


@pytest.mark.parametrize("name", RESOURCES)
def test_numbers_are_bounded_on_both_sides(name: str) -> None:
    """So that a slip of unit, a thousandfold or more, cannot pass unseen."""
    for field in fields(name).values():
        if field["type"] in ("number", "integer"):
            limits = field["constraints"]
            assert "maximum" in limits
            assert "minimum" in limits or "exclusiveMinimum" in limits


# Word lists, the sources themselves, and pours, whose spec has the source.
WITHOUT_SOURCE = {"families", "descriptors", "note_words", "sources", "odorants", "spec_pours"}


@pytest.mark.parametrize("name", sorted(NAMED - WITHOUT_SOURCE))
def test_every_row_that_claims_something_names_its_source(name: str) -> None:
    column = fields(name).get("source_id") or fields(name)["source_ids"]
    assert column["constraints"]["required"] is True


def test_the_readme_explains_every_grade_and_every_check_of_our_own() -> None:
    readme = (pairing_data.FOLDER / "README.md").read_text(encoding="utf-8")
    for grade in fields("ingredients")["grade"]["constraints"]["enum"]:
        assert f"**{grade}**" in readme
    own = {word for resource in RESOURCES.values() for word in resource["checks"]}
    assert own == {"sorted_by", "ranges", "used_by", "rules"}
    assert all(f"`{word}`" in readme for word in own)
    for rule in {rule for r in RESOURCES.values() for rule in r["checks"].get("rules", ())}:
        assert f"`{rule}`" in readme, rule
