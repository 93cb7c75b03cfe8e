"""The tables come up to date by themselves, and no row is lost on the way."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, MetaData, text

from service.bar import Bar, list_trials, open_bar, read_spec
from service.bar.columns import metadata
from service.bar.engine import make_engine
from service.bar.migrate import FOLDER, NEWEST, SCHEMAS, migrate
from service.kit import BadData
from tests.bar.databases import MakeDatabase

ROOT = Path(__file__).parents[2]
MOMENT = "2026-11-20 21:04:05.000000"
# A row in every table of the first schema, written as plain SQL: the program of then is gone.
FIRST_ROWS = {
    "bar_settings": {"id": 1, "version": 3, "name": "The Salt Stair", "place": "Port Merrow",
                     "units": "oz", "lattice": "1/4 oz", "country": "IE", "currency": "EUR",
                     "language": "de"},
    "own_ingredients": {"id": "own-kelp", "version": 1, "name": "kelp", "role": "seasoning",
                        "style": "", "like_id": "", "composition": "{}",
                        "notes": '{"smoke": 0.5}', "without": "[]", "allergens": "[]",
                        "remarks": "picked at low tide"},
    "bottles": {"id": 7, "version": 2, "ingredient": "cognac", "label": "left; \"of\" the till",
                "abv_percent": 44.7, "size_ml": 700, "stock_ml": 1400,
                "allergens": '["nuts"]', "notes": "line\nline", "out": True},
    "coffees": {"id": 3, "version": 1, "name": "Breakwater", "roast": "medium",
                "process": "natural", "species": "arabica", "notes": "fig",
                "roasted_on": "2026-11-16", "dose_g": 15, "grind": "medium-fine",
                "in_use": True},
    "specs": {"id": 5, "version": 4, "name": "Rope Walk", "status": "on the list",
              "revision": 2},
    "spec_revisions": {"spec_id": 5, "revision": 2, "coffee_id": 3,
                       "preparation": '{"seconds": 30}', "bed": "{}", "glass": "coupe",
                       "written_at": MOMENT, "written_by": "MB"},
    "spec_pours": {"spec_id": 5, "revision": 2, "position": 1, "ingredient": "cognac",
                   "volume_ml": 45},
    "trials": {"id": 9, "version": 1, "spec_id": 5, "revision": 2, "made_at": MOMENT,
               "taster": "ZK", "liquid_in_ml": 90, "liquid_out_ml": 71.5, "dose_g": 15,
               "sweetness": -1, "liking": 8, "words": "good"},
    "audit": {"id": 11, "at": MOMENT, "who": "MB", "noun": "bottle", "record": "7",
              "version": 2, "what": "changed", "changes": '{"out": [false, true]}'},
}  # fmt: skip


def write_first_rows(connection: Connection) -> None:
    for table, row in FIRST_ROWS.items():
        names = ", ".join(row)
        values = ", ".join(f":{name}" for name in row)
        connection.execute(text(f"INSERT INTO {table} ({names}) VALUES ({values})"), row)


def all_rows(connection: Connection) -> dict[str, list[dict[str, Any]]]:
    """Every row of every table that is really there, whatever the program thinks there is."""
    there = MetaData()
    there.reflect(connection)
    return {
        name: [dict(row) for row in connection.execute(table.select()).mappings()]
        for name, table in there.tables.items()
        if name != "alembic_version"
    }


def test_migration_from_the_first_schema_keeps_every_row(
    kind: str, make_database: MakeDatabase
) -> None:
    engine = make_engine(make_database(kind, False))
    migrate(engine, SCHEMAS[0])
    with engine.begin() as connection:
        write_first_rows(connection)
        before = all_rows(connection)
    migrate(engine)
    with engine.connect() as connection:
        after = all_rows(connection)
    assert set(FIRST_ROWS) == set(before) < set(after)
    for table, rows in before.items():
        assert len(rows) == 1
        kept = [{column: row[column] for column in rows[0]} for row in after[table]]
        assert kept == rows
    with Bar(engine).look() as unit:
        spec, (trial,) = read_spec(unit, 5), list_trials(unit)
        assert (spec.pours[0].ingredient, spec.glass, spec.latest) == ("cognac", "coupe", 2)
        assert (trial.liquid_in_ml, trial.liquid_out_ml, trial.dose_g) == (90, 71.5, 15)
        assert dict(trial.conditions) == {}
    engine.dispose()


def test_new_rows_number_on_from_migrated_ones(kind: str, make_database: MakeDatabase) -> None:
    engine = make_engine(make_database(kind, False))
    migrate(engine, SCHEMAS[0])
    migrate(engine)
    with engine.begin() as connection:
        if kind == "sqlite":
            made = text("SELECT sql FROM sqlite_master WHERE name IN ('bottles', 'guest_links')")
            assert all("AUTOINCREMENT" in sql for sql in connection.execute(made).scalars())
        else:
            sequence = text("SELECT pg_get_serial_sequence('guest_links', 'id')")
            assert connection.execute(sequence).scalar() is not None
    engine.dispose()


def test_the_migrated_tables_are_those_that_the_program_reads(bar: Bar) -> None:
    with bar.engine.connect() as connection:
        context = MigrationContext.configure(connection)
        assert compare_metadata(context, metadata) == []


def test_the_list_of_schemas_is_that_of_the_folder() -> None:
    steps = list(ScriptDirectory(str(FOLDER)).walk_revisions())
    assert tuple(step.revision for step in reversed(steps)) == SCHEMAS


def test_processes_that_start_together_migrate_once(kind: str, make_database: MakeDatabase) -> None:
    url = make_database(kind, False)
    code = "import sys; from service.bar import open_bar; open_bar(sys.argv[1]).close()"
    started = [
        subprocess.Popen([sys.executable, "-W", "error", "-c", code, url], cwd=ROOT)
        for _ in range(5)
    ]
    assert [process.wait(60) for process in started] == [0] * 5
    engine = make_engine(url)
    with engine.connect() as connection:
        schema = connection.execute(text("SELECT version_num FROM alembic_version"))
        assert schema.scalars().all() == [NEWEST]
    engine.dispose()


def test_records_of_a_newer_program_are_left_alone(kind: str, make_database: MakeDatabase) -> None:
    database_url = make_database(kind, True)
    engine = make_engine(database_url)
    with engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    engine.dispose()
    with pytest.raises(BadData, match="newer"):
        open_bar(database_url)
