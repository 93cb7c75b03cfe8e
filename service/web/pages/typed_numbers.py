"""Numbers as people type them into a form."""

from __future__ import annotations

from math import isfinite

from service.kit import BadData, OutOfRange, plain_number


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
        least, most = plain_number(low, 6), plain_number(high, 6)
        unit = f" {unit}" if unit else ""
        raise OutOfRange(
            f"{text.strip()[:40]}{unit} is outside {least} to {most}{unit}; "
            "write a number between them",
            field=name,
        )
    return value
