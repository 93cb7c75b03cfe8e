"""Answers in JSON, written as bytes once without a second pass through the models; and in CSV."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import orjson
from starlette.responses import Response

MEDIA_TYPE = "application/json"


def json_bytes(content: Any) -> bytes:
    """Compact UTF-8 JSON. Not-a-number cannot come this far: no interval holds one."""
    return orjson.dumps(content)


def json_answer(content: Any, status: int = 200) -> Response:
    return Response(json_bytes(content), status, media_type=MEDIA_TYPE)


def csv_answer(lines: Iterable[str], name: str) -> Response:
    """A CSV file of that name."""
    headers = {"content-disposition": f'attachment; filename="{name}"'}
    text = "".join(lines).encode()
    return Response(text, media_type="text/csv; charset=utf-8", headers=headers)
