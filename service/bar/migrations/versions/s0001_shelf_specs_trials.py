"""The first tables: settings, shelf, coffees, specs, trials and the audit.

Types stand here as they were then; they do not follow `service.bar.tables`.
"""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

KEY = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MOMENT = sa.DateTime(timezone=True)


def text(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=False, server_default="")


def number(name: str, nullable: bool = False) -> sa.Column[Any]:
    return sa.Column(name, sa.Double(), nullable=nullable)


def json(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.JSON(), nullable=False)


def word(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=False)


def whole(name: str, nullable: bool = False) -> sa.Column[Any]:
    return sa.Column(name, sa.Integer(), nullable=nullable)


def link(name: str, nullable: bool = False) -> sa.Column[Any]:
    return sa.Column(name, KEY, nullable=nullable)


def numbered(table: str, *parts: Any) -> None:
    """A table whose rows are numbered and never get the number of a removed one."""
    op.create_table(
        table,
        sa.Column("id", KEY, nullable=False),
        *parts,
        sa.PrimaryKeyConstraint("id", name=f"pk_{table}"),
        sqlite_autoincrement=True,
    )


def to(table: str, column: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{target}.id"], name=f"fk_{table}_{column}")


def to_revision(table: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(
        ["spec_id", "revision"],
        ["spec_revisions.spec_id", "spec_revisions.revision"],
        name=f"fk_{table}_spec_id",
    )


def upgrade() -> None:
    op.create_table(
        "bar_settings",
        sa.Column("id", KEY, nullable=False),
        whole("version"),
        text("name"),
        text("place"),
        word("units"),
        word("lattice"),
        text("country"),
        text("currency"),
        word("language"),
        sa.PrimaryKeyConstraint("id", name="pk_bar_settings"),
    )
    op.create_table(
        "own_ingredients",
        sa.Column("id", sa.Text(), nullable=False),
        whole("version"),
        text("name"),
        word("role"),
        text("style"),
        text("like_id"),
        json("composition"),
        json("notes"),
        json("without"),
        json("allergens"),
        text("remarks"),
        sa.PrimaryKeyConstraint("id", name="pk_own_ingredients"),
    )
    numbered(
        "bottles",
        whole("version"),
        text("ingredient"),
        text("label"),
        number("abv_percent", nullable=True),
        number("sugar_g_per_l", nullable=True),
        number("size_ml"),
        number("price", nullable=True),
        number("stock_ml"),
        json("allergens"),
        text("notes"),
        sa.Column("out", sa.Boolean(), nullable=False, server_default=sa.false()),
    )
    op.create_index("ix_bottles_ingredient", "bottles", ["ingredient"])
    numbered(
        "coffees",
        whole("version"),
        text("name"),
        word("roast"),
        word("process"),
        word("species"),
        text("notes"),
        sa.Column("roasted_on", sa.Date(), nullable=True),
        number("dose_g"),
        word("grind"),
        sa.Column("in_use", sa.Boolean(), nullable=False),
    )
    upgrade_specs()
    upgrade_trials()


def upgrade_specs() -> None:
    numbered("specs", whole("version"), text("name"), word("status"), whole("revision"))
    op.create_table(
        "spec_revisions",
        link("spec_id"),
        whole("revision"),
        link("coffee_id", nullable=True),
        json("preparation"),
        json("bed"),
        text("glass"),
        text("garnish"),
        text("method"),
        text("reason"),
        sa.Column("written_at", MOMENT, nullable=False),
        text("written_by"),
        sa.PrimaryKeyConstraint("spec_id", "revision", name="pk_spec_revisions"),
        to("spec_revisions", "spec_id", "specs"),
        to("spec_revisions", "coffee_id", "coffees"),
    )
    op.create_table(
        "spec_pours",
        link("spec_id"),
        whole("revision"),
        whole("position"),
        text("ingredient"),
        number("volume_ml"),
        sa.PrimaryKeyConstraint("spec_id", "revision", "position", name="pk_spec_pours"),
        to_revision("spec_pours"),
    )
    op.create_index("ix_spec_pours_ingredient", "spec_pours", ["ingredient"])


def upgrade_trials() -> None:
    numbered(
        "trials",
        whole("version"),
        link("spec_id"),
        whole("revision"),
        link("coffee_id", nullable=True),
        sa.Column("made_at", MOMENT, nullable=False),
        text("taster"),
        number("dose_g", nullable=True),
        number("liquid_in_ml", nullable=True),
        number("liquid_out_ml", nullable=True),
        number("drain_seconds", nullable=True),
        number("celsius", nullable=True),
        whole("sweetness", nullable=True),
        whole("bitterness", nullable=True),
        whole("coffee_strength", nullable=True),
        whole("strength", nullable=True),
        whole("liking", nullable=True),
        text("words"),
        sa.Column("undone_at", MOMENT, nullable=True),
        to("trials", "coffee_id", "coffees"),
        to_revision("trials"),
    )
    op.create_index("ix_trials_spec_id", "trials", ["spec_id"])
    numbered(
        "audit",
        sa.Column("at", MOMENT, nullable=False),
        text("who"),
        text("noun"),
        text("record"),
        whole("version"),
        text("what"),
        json("changes"),
    )
    op.create_index("ix_audit_record", "audit", ["noun", "record"])
