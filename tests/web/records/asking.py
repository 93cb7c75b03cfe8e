"""Asking the records' API: every answer is held to its documented model, every operation noted."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from fastapi import FastAPI
from fastapi.testclient import TestClient
from httpx import Response

from tests.web.api.operations import Operation, hold_to_model, operations

V1 = "/api/v1"
PLACE = re.compile(r"\{\w+\}")
_OPERATIONS: list[Operation] = []


@dataclass
class Asker:
    """One worker of the service, asked as a program asks it."""

    client: TestClient
    seen: set[str] = field(default_factory=set)

    def __call__(self, method: str, path: str, status: int = 200, **more: Any) -> Any:
        """The JSON of an answer with that status."""
        answer = self.answer(method, path, **more)
        assert answer.status_code == status, answer.text
        return answer.json() if answer.content and "json" in answer.headers["content-type"] else {}

    def answer(self, method: str, path: str, **more: Any) -> Response:
        answer = self.client.request(method, V1 + path, **more)
        operation = self.operation(method, V1 + path.partition("?")[0])
        if answer.status_code < 400:
            self.seen.add(operation.id)
        hold_to_model(operation, answer)
        return answer

    def operation(self, method: str, path: str) -> Operation:
        """The most plainly written operation that the path belongs to."""
        fitting = [
            each
            for each in _documented(app_of(self.client))
            if each.method == method and re.fullmatch(PLACE.sub("[^/]+", each.path), path)
        ]
        return min(fitting, key=lambda each: each.path.count("{"))


def _documented(app: FastAPI) -> list[Operation]:
    """Every worker serves the same document; it is read once, because that takes a second."""
    if not _OPERATIONS:
        _OPERATIONS.extend(operations(app))
    return _OPERATIONS


def app_of(client: TestClient) -> FastAPI:
    app = client.app
    assert isinstance(app, FastAPI)
    return app


def record_operations(client: TestClient) -> set[str]:
    """Every operation that reads or changes the bar's records."""
    return {o.id for o in operations(app_of(client)) if "records" in o.described["tags"]}
