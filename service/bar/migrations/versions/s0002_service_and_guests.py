"""What service needs: tonight's substitutions, blind tests, guest links, API tokens.

Coffees learn whether they are decaffeinated, and trials the conditions they were made in.
"""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

KEY = sa.BigInteger().with_variant(sa.Integer(), "sqlite")
MOMENT = sa.DateTime(timezone=True)


def text(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.Text(), nullable=False, server_default="")


def json(name: str) -> sa.Column[Any]:
    return sa.Column(name, sa.JSON(), nullable=False)


def moment(name: str, nullable: bool = False) -> sa.Column[Any]:
    return sa.Column(name, MOMENT, nullable=nullable)


def numbered(table: str, *parts: Any) -> None:
    """A table whose rows are numbered and never get the number of a removed one."""
    op.create_table(
        table,
        sa.Column("id", KEY, nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        *parts,
        sa.PrimaryKeyConstraint("id", name=f"pk_{table}"),
        sqlite_autoincrement=True,
    )


def to(table: str, column: str, target: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{target}.id"], name=f"fk_{table}_{column}")


def upgrade() -> None:
    op.add_column(
        "coffees", sa.Column("decaf", sa.Boolean(), nullable=False, server_default=sa.false())
    )
    op.add_column("trials", sa.Column("conditions", sa.JSON(), nullable=False, server_default="{}"))
    numbered(
        "substitutions",
        sa.Column("spec_id", KEY, nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("night", sa.Date(), nullable=False),
        text("ingredient_out"),
        json("pours"),
        text("remarks"),
        sa.UniqueConstraint("spec_id", "night", name="uq_substitutions_spec_id"),
        to("substitutions", "spec_id", "specs"),
    )
    upgrade_blind_tests()
    numbered(
        "guest_links",
        text("token"),
        sa.Column("spec_id", KEY, nullable=False),
        moment("made_at"),
        moment("revoked_at", nullable=True),
        sa.UniqueConstraint("token", name="uq_guest_links_token"),
        to("guest_links", "spec_id", "specs"),
    )
    numbered(
        "api_tokens",
        text("name"),
        json("scopes"),
        text("token_hash"),
        text("hint"),
        moment("made_at"),
        moment("revoked_at", nullable=True),
        sa.UniqueConstraint("token_hash", name="uq_api_tokens_token_hash"),
    )


def upgrade_blind_tests() -> None:
    numbered(
        "blind_tests",
        text("name"),
        sa.Column("kind", sa.Text(), nullable=False),
        moment("planned_at"),
        json("plan"),
        moment("closed_at", nullable=True),
        json("result"),
    )
    numbered(
        "blind_answers",
        sa.Column("test_id", KEY, nullable=False),
        sa.Column("seat", sa.Integer(), nullable=False),
        text("taster"),
        text("answer"),
        text("words"),
        sa.UniqueConstraint("test_id", "seat", name="uq_blind_answers_test_id"),
        to("blind_answers", "test_id", "blind_tests"),
    )
