"""Which version of a record somebody has seen: in the body, in If-Match, or in the address."""

from __future__ import annotations

import re
from typing import Annotated, Any

from fastapi import Header, Path, Query
from starlette.responses import Response

from service.kit import BadData
from service.web.answers import json_answer
from service.web.api.v1.record_requests import HIGHEST_ID, HIGHEST_VERSION

IfMatch = Annotated[
    str | None, Header(max_length=40, description='the ETag of what was seen, such as "3"')
]
VersionSeen = Annotated[
    int | None,
    Query(alias="version", ge=1, le=HIGHEST_VERSION, description="what was seen; or send If-Match"),
]
RecordId = Annotated[int, Path(ge=1, le=HIGHEST_ID)]
After = Annotated[int | None, Query(ge=0, le=HIGHEST_ID, description="the id to go on after")]
Limit = Annotated[int, Query(ge=1, le=500)]


def seen(version: int | None, if_match: str | None) -> int:
    """The version that was seen. Both may be said, if they agree."""
    tagged = None if if_match is None else _of_tag(if_match)
    if version is None and tagged is None:
        raise BadData(
            "say which version you have seen, as `version` or in If-Match; so nothing of "
            "somebody else's is written over",
            field="version",
        )
    if version is not None and tagged is not None and version != tagged:
        raise BadData("`version` and If-Match name two versions; send one", field="version")
    return version if version is not None else tagged or 0


def versioned(content: dict[str, Any], status: int = 200, location: str = "") -> Response:
    """One record as an answer, its version as its ETag."""
    answer = json_answer(content, status)
    answer.headers["etag"] = f'"{content["version"]}"'
    if location:
        answer.headers["location"] = location
    return answer


def _of_tag(tag: str) -> int:
    found = re.fullmatch(r'(?:W/)?"?(\d{1,16})"?', tag.strip(), re.ASCII)
    if not found or int(found[1]) > HIGHEST_VERSION:
        raise BadData(
            'If-Match has to be the ETag of the record as it was answered, such as "3"',
            field="if-match",
        )
    return int(found[1])
