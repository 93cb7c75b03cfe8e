"""One error shape for all: problem details (RFC 9457), or a page that says the same."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from http import HTTPStatus
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from starlette.exceptions import HTTPException
from starlette.responses import Response

from service.kit import BadData, CannotCompose, Conflict, NotFound, OutOfRange, ServiceError
from service.web.field_reasons import reason_of

MEDIA_TYPE = "application/problem+json"
STATUS: Mapping[type[ServiceError], HTTPStatus] = {
    BadData: HTTPStatus.UNPROCESSABLE_ENTITY,
    OutOfRange: HTTPStatus.UNPROCESSABLE_ENTITY,
    NotFound: HTTPStatus.NOT_FOUND,
    Conflict: HTTPStatus.CONFLICT,
    CannotCompose: HTTPStatus.CONFLICT,
}
# What to do where the status says it all, instead of saying the status again.
_PLAIN_DETAILS: Mapping[int, str] = {
    HTTPStatus.BAD_REQUEST: "the body cannot be read: broken, not in UTF-8, or nested too deep",
    HTTPStatus.NOT_FOUND: "nothing answers at this address; /api/v1/openapi.json lists what does",
    HTTPStatus.METHOD_NOT_ALLOWED: "this address takes another method; see the header Allow",
}


def problem(
    status: int,
    title: str,
    detail: str,
    *,
    kind: str = "about:blank",
    errors: Sequence[Mapping[str, str]] = (),
    headers: Mapping[str, str] | None = None,
) -> Response:
    """A problem-details answer. `errors` lists each field with its reason."""
    body: dict[str, Any] = {"type": kind, "title": title, "status": int(status), "detail": detail}
    if errors:
        body["errors"] = list(errors)
    # What was given is quoted, and may hold half a character that no UTF-8 can carry.
    content = json.dumps(body, ensure_ascii=False).encode("utf-8", "replace")
    return Response(content, int(status), dict(headers or {}), media_type=MEDIA_TYPE)


def service_problem(error: ServiceError) -> Response:
    """A service error as problem details."""
    status = next(STATUS[kind] for kind in type(error).__mro__ if kind in STATUS)
    errors = [{"field": error.field, "reason": error.message}] if error.field else []
    kind = f"/problems/{_slug(type(error).__name__)}"
    return problem(status, error.title, error.message, kind=kind, errors=errors)


def install(app: FastAPI) -> None:
    """Every error leaves as problem details; nothing of the inside leaks out."""

    @app.exception_handler(ServiceError)
    async def of_service(_request: Request, error: ServiceError) -> Response:
        return service_problem(error)

    @app.exception_handler(RequestValidationError)
    async def of_validation(_request: Request, error: RequestValidationError) -> Response:
        errors = [{"field": _field(e["loc"]), "reason": reason_of(e)} for e in error.errors()]
        first = errors[0]
        detail = f"{first['field']}: {first['reason']}"
        return problem(
            HTTPStatus.UNPROCESSABLE_ENTITY, BadData.title, detail,
            kind="/problems/bad-data", errors=errors,
        )  # fmt: skip

    @app.exception_handler(HTTPException)
    async def of_http(request: Request, error: HTTPException) -> Response:
        status = HTTPStatus(error.status_code)
        in_api = request.url.path.startswith("/api/")
        detail = _PLAIN_DETAILS.get(status, "") if in_api else ""
        errors = []
        if in_api and status == HTTPStatus.BAD_REQUEST:
            errors = [{"field": "body", "reason": detail}]
        return problem(
            status, status.phrase, detail or str(error.detail), errors=errors, headers=error.headers
        )

    @app.exception_handler(Exception)
    async def of_anything(_request: Request, _error: Exception) -> Response:
        return problem(
            HTTPStatus.INTERNAL_SERVER_ERROR,
            "Something broke here",
            "the fault is the service's, not yours; nothing was changed. Try again, and tell "
            "whoever runs it if it happens twice",
            kind="/problems/fault",
        )


def _field(place: Sequence[int | str]) -> str:
    """`pours.0.volume_ml` for the place of an error; the body itself is `body`."""
    # A part in brackets names one of several kinds that the value could be, and no field.
    names = [str(part) for part in place if "[" not in str(part)]
    if place[:1] == ("body",) and isinstance(place[-1], int) and len(place) == 2:
        return "body"  # not JSON: the number counts characters
    return ".".join(
        names[1:] if len(names) > 1 and names[0] in {"body", "query", "path"} else names
    )


def _slug(name: str) -> str:
    return "".join(f"-{c.lower()}" if c.isupper() else c for c in name).lstrip("-")
