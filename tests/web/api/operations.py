"""The operations that the OpenAPI document promises, and the models that hold their answers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from operator import or_
from typing import Any

from fastapi import FastAPI
from httpx import Response
from pydantic import TypeAdapter

from service.web.api.v1.responses import Answer, Problem
from service.web.errors import MEDIA_TYPE
from service.web.problem_kinds import KINDS

JSON = "application/json"
METHODS = ("get", "post", "put", "patch", "delete")


@dataclass(frozen=True, slots=True)
class Operation:
    """One method of one path, with what the document says of it."""

    id: str
    method: str
    path: str
    described: dict[str, Any]

    @property
    def body(self) -> dict[str, Any] | None:
        """The schema of the JSON that is sent, if any is."""
        content = self.described.get("requestBody", {}).get("content", {})
        schema: dict[str, Any] | None = content.get(JSON, {}).get("schema")
        return schema

    @property
    def of_records(self) -> bool:
        """Whether it reads or changes the bar's records; tests/web/records walks all of those."""
        return "records" in self.described["tags"]

    @property
    def parameters(self) -> list[dict[str, Any]]:
        found: list[dict[str, Any]] = self.described.get("parameters", [])
        return found

    def model(self, status: int) -> TypeAdapter[Any] | None:
        """What holds a JSON answer: a model or one of several; None where none is promised."""
        response = self.described["responses"].get(str(status), {})
        schema = response.get("content", {}).get(JSON, {}).get("schema", {})
        references = [one["$ref"] for one in schema.get("anyOf", [schema]) if "$ref" in one]
        if not references:
            return None
        return TypeAdapter(reduce(or_, map(named_model, references)))


def operations(app: FastAPI) -> list[Operation]:
    """Every operation of the document, in its order."""
    return [
        Operation(described["operationId"], method.upper(), path, described)
        for path, methods in app.openapi()["paths"].items()
        for method, described in methods.items()
        if method in METHODS
    ]


def named_model(reference: str) -> type[Answer]:
    """The answer's model by its name in the document."""
    name = reference.rsplit("/", 1)[-1]
    (model,) = {model for model in _models(Answer) if model.__name__ == name}
    return model


def hold_to_model(operation: Operation, answer: Response) -> None:
    """An answer is exactly what its model says, or one well-formed problem; never a 500."""
    if answer.status_code >= 400:
        hold_to_problem(answer)
    elif answer.headers.get("content-type", "").startswith(JSON):
        model = operation.model(answer.status_code)
        assert model is not None, f"{operation.id} answers {answer.status_code} without a model"
        model.validate_json(answer.content, strict=True)


def hold_to_problem(answer: Response) -> Problem:
    """Problem details as in RFC 9457, section 3: type, title, status, detail; status agrees."""
    assert answer.status_code < 500, answer.text
    assert answer.headers["content-type"] == MEDIA_TYPE
    problem = Problem.model_validate_json(answer.content, strict=True)
    assert problem.status == answer.status_code
    assert problem.type == "about:blank" or problem.type.removeprefix("/problems/") in KINDS
    assert problem.detail
    return problem


def _models(parent: type[Answer]) -> Iterator[type[Answer]]:
    for child in parent.__subclasses__():
        yield child
        yield from _models(child)
