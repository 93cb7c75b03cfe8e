"""What every answer is made of."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field


def _open_to_more(schema: dict[str, Any]) -> None:
    """Version 1 may add fields: its document must not tell a reader to refuse them."""
    schema.pop("additionalProperties", None)


class Answer(BaseModel):
    """A documented answer.

    Answers leave the service as bytes written once; these models say what is in them. The tests
    hold every real answer to its model, strictly: no field more, none less, no other type.
    """

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        strict=True,
        allow_inf_nan=False,
        defer_build=True,
        json_schema_extra=_open_to_more,
    )


ModelNumbers = Annotated[
    dict[str, float], Field(description="by the model's own names, which change with the model")
]


class Interval(Answer):
    """A number with its 80 % interval."""

    low: float = Field(description="one time in ten it is below")
    mid: float = Field(description="the best estimate")
    high: float = Field(description="one time in ten it is above")


class Confidence(Answer):
    """How well the evidence behind a score is known."""

    value: float = Field(ge=0, le=1)
    word: str = Field(description="firm, fair or thin", examples=["fair"])


class Curve(Answer):
    """One quantity along a curve: its 80 % interval at each point."""

    low: list[float]
    mid: list[float]
    high: list[float]
