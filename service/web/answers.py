"""Answers in JSON: written as bytes once, without a second pass through the models."""

from __future__ import annotations

import json
from typing import Any

from starlette.responses import Response

MEDIA_TYPE = "application/json"


def json_bytes(content: Any) -> bytes:
    """Compact UTF-8 JSON; NaN and infinity are faults, not answers."""
    return json.dumps(content, ensure_ascii=False, allow_nan=False, separators=(",", ":")).encode()


def json_answer(content: Any, status: int = 200) -> Response:
    return Response(json_bytes(content), status, media_type=MEDIA_TYPE)
