"""Bringing the tables up to date, once, however many processes start together."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from sqlalchemy import Connection, Engine, inspect, text

from service.bar.engine import FIELD, WRITES
from service.kit import BadData

FOLDER: Final = Path(__file__).with_name("migrations")
# The schemas there have been, oldest first. A test compares them with the folder.
SCHEMAS: Final = ("0001", "0002", "0003")
NEWEST: Final = SCHEMAS[-1]
# Any fixed number: whoever holds it on PostgreSQL migrates, the others wait.
_TURN: Final = 0x6D617263


def migrate(engine: Engine, schema: str = NEWEST) -> None:
    """Bring the tables to a schema; does nothing where they are there already."""
    with engine.connect() as connection:
        if schema_of(connection) == schema:
            return
    with engine.connect().execution_options(**{WRITES: True}) as connection, connection.begin():
        if connection.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:turn)"), {"turn": _TURN})
        if schema_of(connection) != schema:
            _run(connection, schema)


def schema_of(connection: Connection) -> str | None:
    """The schema that the tables have; None for an empty database."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    schema = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    if schema is not None and schema not in SCHEMAS:
        raise BadData(
            f"the records have schema {schema}, which is newer than this program; "
            "install the newer program",
            field=FIELD,
        )
    return schema


def _run(connection: Connection, schema: str) -> None:
    from alembic import command  # only where there is something to do: it costs start-up time
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(FOLDER).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    config.attributes["connection"] = connection
    command.upgrade(config, schema)
