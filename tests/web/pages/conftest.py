"""Pages of the real application, read as elements."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import urlencode

import pytest
from fastapi.testclient import TestClient

from tests.web.pages.reading import Element, read_page

Fields = list[tuple[str, str]]
Opener = Callable[..., Element]


@pytest.fixture(scope="session")
def opened(client: TestClient) -> Opener:
    """Open a page as a browser does, and read it."""

    def open_(path: str, fields: Fields | None = None, status: int = 200) -> Element:
        address = f"{path}?{urlencode(fields)}" if fields else path
        answer = client.get(address, headers={"accept": "text/html"})
        assert answer.status_code == status, answer.text[:400]
        return read_page(answer.text)

    return open_
