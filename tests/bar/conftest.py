"""Both databases for every test in this folder."""

from tests.bar.databases import (
    any_bar,
    bar,
    database_url,
    kind,
    make_database,
    other_bar,
    other_url,
)

__all__ = ["any_bar", "bar", "database_url", "kind", "make_database", "other_bar", "other_url"]
