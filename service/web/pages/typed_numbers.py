"""Numbers as people type them into a form."""

from __future__ import annotations

from math import isfinite

from service.kit import BadData, OutOfRange


def number_or_none(
    text: str, name: str, low: float, high: float, unit: str, example: float
) -> float | None:
    """A number as a person writes it, with comma or point; None where nothing stands."""
    if not text.strip():
        return None
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        value = float("nan")
    if not isfinite(value):  # float() reads "nan", "inf" and 400 digits as well
        raise BadData(f"{text.strip()[:40]!r} is no number; write one like {example:g}", field=name)
    if not low <= value <= high:
        raise OutOfRange(
            f"{value:g} {unit} is outside {low:g} to {high:g} {unit}; write a number between them",
            field=name,
        )
    return value
