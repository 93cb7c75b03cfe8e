"""The tables of a bar's records. `info["noun"]` is what a person calls one row of it.

No text column is ever empty of a value: '' stands for nothing said. So an empty cell of an export
has one meaning only. Every row that a person may edit carries its `version`, from 1 upwards.
"""

from __future__ import annotations

from typing import Final

from sqlalchemy import (
    JSON,
    Boolean,
    Column,
    Date,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    Table,
    Text,
    UniqueConstraint,
    false,
)

from service.bar.columns import (
    Intervals,
    Key,
    Moment,
    Pours,
    Strings,
    Words,
    key,
    metadata,
    number,
    numbered,
    text,
    version,
)
from service.bar.words import BlindKind, Language, Lattice, SpecStatus, Units
from service.ingredients.records import Grind, Process, Roast, Role, Species

bar_settings: Final = Table(
    "bar_settings",
    metadata,
    key(),
    version(),
    text("name"),
    text("place"),
    Column("units", Words(Units), nullable=False),
    Column("lattice", Words(Lattice), nullable=False),
    text("country"),
    text("currency"),
    Column("language", Words(Language), nullable=False),
    text("public_address"),
    info={"noun": "bar settings"},
)
own_ingredients: Final = Table(
    "own_ingredients",
    metadata,
    Column("id", Text, primary_key=True),
    version(),
    text("name"),
    Column("role", Words(Role), nullable=False),
    text("style"),
    text("like_id"),
    Column("composition", Intervals, nullable=False),
    Column("notes", JSON, nullable=False),
    Column("without", Strings, nullable=False),
    Column("allergens", Strings, nullable=False),
    text("remarks"),
    info={"noun": "own ingredient"},
)
bottles: Final = numbered(
    "bottles",
    "bottle",
    text("ingredient"),
    text("label"),
    number("abv_percent", nullable=True),
    number("sugar_g_per_l", nullable=True),
    number("size_ml"),
    number("price", nullable=True),
    number("stock_ml"),
    Column("allergens", Strings, nullable=False),
    text("notes"),
    Column("out", Boolean, nullable=False, server_default=false()),
    Index(None, "ingredient"),
)
coffees: Final = numbered(
    "coffees",
    "coffee",
    text("name"),
    Column("roast", Words(Roast), nullable=False),
    Column("process", Words(Process), nullable=False),
    Column("species", Words(Species), nullable=False),
    text("notes"),
    Column("roasted_on", Date),
    number("dose_g"),
    Column("grind", Words(Grind), nullable=False),
    Column("in_use", Boolean, nullable=False),
    Column("decaf", Boolean, nullable=False, server_default=false()),
)
specs: Final = numbered(
    "specs",
    "spec",
    text("name"),
    Column("status", Words(SpecStatus), nullable=False),
    Column("revision", Integer, nullable=False),
)
spec_revisions: Final = Table(
    "spec_revisions",
    metadata,
    Column("spec_id", ForeignKey("specs.id"), primary_key=True),
    Column("revision", Integer, primary_key=True, autoincrement=False),
    Column("coffee_id", ForeignKey("coffees.id")),
    Column("preparation", JSON, nullable=False),
    Column("bed", JSON, nullable=False),
    text("glass"),
    text("garnish"),
    text("method"),
    text("reason"),
    Column("written_at", Moment, nullable=False),
    text("written_by"),
)
spec_pours: Final = Table(
    "spec_pours",
    metadata,
    Column("spec_id", Key, primary_key=True, autoincrement=False),
    Column("revision", Integer, primary_key=True, autoincrement=False),
    Column("position", Integer, primary_key=True, autoincrement=False),
    text("ingredient"),
    number("volume_ml"),
    ForeignKeyConstraint(
        ["spec_id", "revision"], ["spec_revisions.spec_id", "spec_revisions.revision"]
    ),
    Index(None, "ingredient"),
)
substitutions: Final = numbered(
    "substitutions",
    "substitution for tonight",
    Column("spec_id", ForeignKey("specs.id"), nullable=False),
    Column("revision", Integer, nullable=False),
    Column("night", Date, nullable=False),
    text("ingredient_out"),
    Column("pours", Pours, nullable=False),
    text("remarks"),
    UniqueConstraint("spec_id", "night"),
)
trials: Final = numbered(
    "trials",
    "trial",
    Column("spec_id", Key, nullable=False),
    Column("revision", Integer, nullable=False),
    Column("coffee_id", ForeignKey("coffees.id")),
    Column("made_at", Moment, nullable=False),
    text("taster"),
    number("dose_g", nullable=True),
    number("liquid_in_ml", nullable=True),
    number("liquid_out_ml", nullable=True),
    number("drain_seconds", nullable=True),
    number("celsius", nullable=True),
    Column("sweetness", Integer),
    Column("bitterness", Integer),
    Column("coffee_strength", Integer),
    Column("strength", Integer),
    Column("liking", Integer),
    text("words"),
    Column("undone_at", Moment),
    Column("conditions", JSON, nullable=False, server_default="{}"),
    ForeignKeyConstraint(
        ["spec_id", "revision"], ["spec_revisions.spec_id", "spec_revisions.revision"]
    ),
    Index(None, "spec_id"),
)
blind_tests: Final = numbered(
    "blind_tests",
    "blind test",
    text("name"),
    Column("kind", Words(BlindKind), nullable=False),
    Column("planned_at", Moment, nullable=False),
    Column("plan", JSON, nullable=False),
    Column("closed_at", Moment),
    Column("result", JSON, nullable=False),
)
blind_answers: Final = numbered(
    "blind_answers",
    "blind answer",
    Column("test_id", ForeignKey("blind_tests.id"), nullable=False),
    Column("seat", Integer, nullable=False),
    text("taster"),
    text("answer"),
    text("words"),
    UniqueConstraint("test_id", "seat"),
)
guest_links: Final = numbered(
    "guest_links",
    "guest link",
    text("token"),
    Column("spec_id", ForeignKey("specs.id"), nullable=False),
    Column("made_at", Moment, nullable=False),
    Column("revoked_at", Moment),
    UniqueConstraint("token"),
)
api_tokens: Final = numbered(
    "api_tokens",
    "API token",
    text("name"),
    Column("scopes", Strings, nullable=False),
    text("token_hash"),
    text("hint"),
    Column("made_at", Moment, nullable=False),
    Column("revoked_at", Moment),
    UniqueConstraint("token_hash"),
)
audit: Final = Table(
    "audit",
    metadata,
    key(),
    Column("at", Moment, nullable=False),
    text("who"),
    text("noun"),
    text("record"),
    Column("version", Integer, nullable=False),
    text("what"),
    Column("changes", JSON, nullable=False),
    Index("ix_audit_record", "noun", "record"),
    sqlite_autoincrement=True,
)
