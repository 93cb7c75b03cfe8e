"""What an error looks like: problem details as in RFC 9457."""

from __future__ import annotations

from typing import Any, Final

from pydantic import Field

from service.web.api.v1.responses.common import Answer


class FieldProblem(Answer):
    """What is wrong with one field of what was sent."""

    field: str = Field(description="its place, with dots", examples=["pours.0.volume_ml"])
    reason: str = Field(description="what is wrong, and what to do")


class Problem(Answer):
    """One problem: what it is, and what to do about it."""

    type: str = Field(
        description="the kind, as an address that explains it; about:blank where the status is all",
        examples=["/problems/not-found"],
    )
    title: str = Field(description="the kind in words, the same for every problem of its kind")
    status: int = Field(ge=400, le=599, description="the HTTP status again")
    detail: str = Field(description="this problem in words, for people")
    errors: list[FieldProblem] = Field(
        default=[], description="each field that is wrong; left out where no field is to blame"
    )


class ProblemKind(Answer):
    """A kind of problem explained."""

    type: str = Field(examples=["/problems/not-found"])
    title: str
    status: int = Field(ge=400, le=599)
    meaning: str
    what_to_do: str


PROBLEM_RESPONSES: Final[dict[int | str, dict[str, Any]]] = {
    "4XX": {"model": Problem, "description": "A problem, with what to do about it"}
}
