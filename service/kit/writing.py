"""Numbers as a person writes them."""

from __future__ import annotations


def plain_number(value: float, digits: int = 3) -> str:
    """So many digits that count, never an exponent.

    >>> plain_number(10_600.4), plain_number(0.01234), plain_number(45.0)
    ('10600', '0.0123', '45')
    """
    rounded = float(f"{value:.{digits}g}")
    text = f"{rounded:.10f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
