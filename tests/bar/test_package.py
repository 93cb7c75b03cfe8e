"""Everything out to open formats and back, identical, from either database into either."""

from __future__ import annotations

import csv
import json
import struct
import zipfile
from pathlib import Path
from typing import Any

import pytest

from service.bar import Bar, load_package, write_package
from service.ingredients import Catalogue
from service.kit import BadData, Conflict
from tests.bar.drafts import WHO, a_bottle
from tests.bar.everything import everything, fill


def export(bar: Bar, place: Path) -> int:
    with bar.look() as unit:
        return write_package(unit, place)


def load(bar: Bar, place: Path, replace: bool = False) -> int:
    with bar.unit(WHO) as unit:
        return load_package(unit, place, replace=replace)


@pytest.mark.parametrize("name", ["records", "records.zip"])
def test_everything_comes_back_identical(
    bar: Bar, any_bar: Bar, catalogue: Catalogue, tmp_path: Path, name: str
) -> None:
    fill(bar, catalogue)
    before = everything(bar)
    assert all(before.values()), "a table is empty, so it is not tested"
    rows = export(bar, tmp_path / name)
    assert load(any_bar, tmp_path / name) == rows == sum(map(len, before.values()))
    assert everything(any_bar) == before
    assert a_bottle(any_bar, catalogue).id > max(row["id"] for row in before["bottles"])


def test_a_second_export_is_the_same_to_the_byte(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    fill(bar, catalogue)
    export(bar, tmp_path / "one")
    load(other_bar, tmp_path / "one")
    export(other_bar, tmp_path / "two")
    files = sorted(path.name for path in (tmp_path / "one").glob("*.csv"))
    for name in files:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()
    assert len(files) == len(everything(bar))


def test_the_descriptor_says_what_other_programs_need(
    bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    # Data Package (Walsh and Pollock 2017): name, path and a schema with fields for each resource.
    fill(bar, catalogue)
    export(bar, tmp_path / "records")
    package = json.loads((tmp_path / "records" / "datapackage.json").read_text(encoding="utf-8"))
    assert package["profile"] == "tabular-data-package"
    types = {"string", "integer", "number", "boolean", "date", "datetime", "any"}
    for resource in package["resources"]:
        with (tmp_path / "records" / resource["path"]).open(encoding="utf-8", newline="") as file:
            rows = list(csv.DictReader(file))
        fields = resource["schema"]["fields"]
        assert list(rows[0]) == [field["name"] for field in fields]
        assert {field["type"] for field in fields} <= types
        assert len(rows) == resource["rows"]
    bottle = next(r for r in _rows(tmp_path / "records" / "bottles.csv") if r["label"])
    assert (bottle["abv_percent"], bottle["out"], bottle["allergens"]) == ("44.7", "true", "[]")


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_only_its_owner_may_read_an_export(bar: Bar, tmp_path: Path) -> None:
    export(bar, tmp_path / "records")
    export(bar, tmp_path / "records.zip")
    modes = [(tmp_path / name).stat().st_mode & 0o077 for name in ("records", "records.zip")]
    assert modes == [0, 0]


def test_records_are_only_replaced_when_that_is_said(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    fill(bar, catalogue)
    export(bar, tmp_path / "records")
    a_bottle(other_bar, catalogue)
    before = everything(other_bar)
    with pytest.raises(Conflict):
        load(other_bar, tmp_path / "records")
    assert everything(other_bar) == before
    load(other_bar, tmp_path / "records", replace=True)
    assert everything(other_bar) == everything(bar)


def test_nothing_is_written_over(bar: Bar, tmp_path: Path) -> None:
    (tmp_path / "records").mkdir()
    (tmp_path / "records" / "letter").write_text("mine")
    with pytest.raises(Conflict):
        export(bar, tmp_path / "records")
    with pytest.raises(BadData):
        export(bar, tmp_path / "no" / "such" / "folder")
    assert [path.name for path in tmp_path.rglob("*")] == ["records", "letter"]


def _cut(path: Path) -> None:
    lines = path.read_bytes().split(b"\r\n")
    path.write_bytes(b"\r\n".join([*lines[:-2], b""]))


def _edit(path: Path, old: bytes, new: bytes) -> None:
    content = path.read_bytes()
    assert old in content
    path.write_bytes(content.replace(old, new))


@pytest.mark.parametrize(
    ("damage", "field"),
    [
        (lambda f: (f / "specs.csv").unlink(), "specs.csv"),
        (lambda f: (f / "datapackage.json").unlink(), "datapackage.json"),
        (lambda f: _cut(f / "bottles.csv"), "bottles.csv"),
        (lambda f: _edit(f / "bottles.csv", b"44.7", b"strong"), "bottles.csv"),
        (lambda f: _edit(f / "specs.csv", b"on the list", b"on a list"), "specs.csv"),
        (lambda f: _edit(f / "coffees.csv", b"name", b"nom"), "coffees.csv"),
        (lambda f: _edit(f / "trials.csv", b"2026-11-20T", b"yesterday"), "trials.csv"),
        (lambda f: _edit(f / "spec_revisions.csv", b"\r\n1,1,", b"\r\n9,1,"), "spec_revisions"),
        (lambda f: _edit(f / "audit.csv", "Zoë".encode(), b"Zo\xeb"), "audit.csv"),
        (lambda f: _edit(f / "datapackage.json", b'"0003"', b'"9999"'), "datapackage.json"),
        (lambda f: _edit(f / "datapackage.json", b"marc-bar-records", b"x"), "datapackage.json"),
        (lambda f: (f / "datapackage.json").write_text("[]"), "datapackage.json"),
    ],
)  # fmt: skip
def test_a_damaged_export_loads_nothing_and_says_where(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path, damage: Any, field: str
) -> None:
    fill(bar, catalogue)
    export(bar, tmp_path / "records")
    damage(tmp_path / "records")
    a_bottle(other_bar, catalogue)
    before = everything(other_bar)
    with pytest.raises(BadData) as caught:
        load(other_bar, tmp_path / "records", replace=True)
    assert caught.value.field == field
    assert everything(other_bar) == before


def test_a_broken_zip_loads_whole_or_not_at_all(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    fill(bar, catalogue)
    export(bar, tmp_path / "records.zip")
    whole, sound = (tmp_path / "records.zip").read_bytes(), everything(bar)
    nothing = everything(other_bar)
    refused = 0
    for number, place in enumerate(range(0, len(whole), len(whole) // 40)):
        broken = tmp_path / f"{number}.zip"
        broken.write_bytes(whole[:place] + bytes([whole[place] ^ 0xFF]) + whole[place + 1 :])
        try:
            load(other_bar, broken, replace=True)
        except BadData:
            refused += 1
            assert everything(other_bar) in (nothing, sound)
        else:  # a bit that says nothing of the contents, such as a date
            assert everything(other_bar) == sound
    assert refused > 20
    (tmp_path / "cut.zip").write_bytes(whole[: len(whole) // 2])
    for name in ("cut.zip", "missing.zip"):
        with pytest.raises(BadData):
            load(other_bar, tmp_path / name, replace=True)


def test_a_zip_that_points_outside_of_itself_is_refused(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    """The directory's place, in bytes 16 to 19 of the zip's last record, lies too far on."""
    fill(bar, catalogue)
    export(bar, tmp_path / "records.zip")
    whole, nothing = bytearray((tmp_path / "records.zip").read_bytes()), everything(other_bar)
    (directory,) = struct.unpack_from("<L", whole, len(whole) - 6)
    for too_far in (1, 1_000, 1_000_000, 2**31):
        struct.pack_into("<L", whole, len(whole) - 6, directory + too_far)
        (tmp_path / "broken.zip").write_bytes(whole)
        with pytest.raises(BadData):
            load(other_bar, tmp_path / "broken.zip", replace=True)
        assert everything(other_bar) == nothing


def test_an_export_of_the_first_schema_loads_with_usual_values(
    bar: Bar, other_bar: Bar, catalogue: Catalogue, tmp_path: Path
) -> None:
    fill(bar, catalogue)
    export(bar, tmp_path / "new.zip")
    added = {"substitutions", "blind_tests", "blind_answers", "guest_links", "api_tokens"}
    _as_first_schema(tmp_path / "new.zip", tmp_path / "old.zip", added)
    load(other_bar, tmp_path / "old.zip")
    before, after = everything(bar), everything(other_bar)
    assert not any(after[name] for name in added)
    for name in set(before) - added - {"coffees", "trials"}:
        assert after[name] == before[name]
    assert [row["decaf"] for row in after["coffees"]] == [False]
    assert [row["conditions"] for row in after["trials"]] == [{}, {}]


def _as_first_schema(new: Path, old: Path, added: set[str]) -> None:
    """What the program of then would have written: no such tables, no such columns."""
    later = {"coffees": "decaf", "trials": "conditions"}
    with zipfile.ZipFile(new) as source, zipfile.ZipFile(old, "w") as target:
        package = json.loads(source.read("datapackage.json"))
        package["schema_of_records"] = "0001"
        kept = [r for r in package["resources"] if r["name"] not in added]
        package["resources"] = kept
        target.writestr("datapackage.json", json.dumps(package))
        for name in (r["name"] for r in kept):
            lines = source.read(f"{name}.csv").decode().splitlines(keepends=True)
            rows = list(csv.reader(lines))
            drop = rows[0].index(later[name]) if name in later else -1
            with target.open(f"{name}.csv", "w") as raw:
                for row in rows:
                    cells = [cell for place, cell in enumerate(row) if place != drop]
                    raw.write(_line(cells).encode())


def _line(cells: list[str]) -> str:
    quoted = ('"' + cell.replace('"', '""') + '"' for cell in cells)
    return ",".join(quoted) + "\r\n"
