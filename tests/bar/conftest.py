"""Both databases for every test in this folder."""

from tests.bar.databases import bar, database_url, kind, make_database, other_bar

__all__ = ["bar", "database_url", "kind", "make_database", "other_bar"]
