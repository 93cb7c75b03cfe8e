"""The OpenAPI document: what FastAPI writes, with problems under their own media type."""

from __future__ import annotations

from typing import Any, Final

from fastapi import FastAPI
from fastapi.routing import APIRoute

from service.web.errors import MEDIA_TYPE

_PREFIX: Final = "/api/v1"
_NOT_IN_A_NAME: Final = str.maketrans({"/": "_", "-": "_", "{": "", "}": ""})


def operation_id(route: APIRoute) -> str:
    """`post_coffees_reading`: method and path, so that renaming a function renames nothing."""
    method = min(route.methods or {"any"}).lower()
    return f"{method}{route.path.removeprefix(_PREFIX).translate(_NOT_IN_A_NAME)}"


def install(app: FastAPI) -> None:
    """Serve this document in place of FastAPI's own."""
    written = app.openapi

    def document() -> dict[str, Any]:
        if app.openapi_schema is None:
            written()
            _name_problems(app.openapi_schema or {})
        return app.openapi_schema or {}

    app.openapi = document  # type: ignore[method-assign]


def _name_problems(document: dict[str, Any]) -> None:
    """Every answer outside 200 is a problem, and problems are not plain JSON (RFC 9457)."""
    for methods in document["paths"].values():
        for operation in methods.values():
            for status, response in operation["responses"].items():
                content = response.get("content", {})
                if status.startswith("4") and "application/json" in content:
                    content[MEDIA_TYPE] = content.pop("application/json")
