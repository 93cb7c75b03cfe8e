"""The application of the web tests: what the documents show is asked of it."""

from tests.web.conftest import client

__all__ = ["client"]
