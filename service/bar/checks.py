"""Whether what a person gave can be kept: texts, numbers, words and flat JSON."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping
from typing import Any, Final

from service.kit import BadData, OutOfRange

LONGEST_NAME: Final = 120
LONGEST_NOTES: Final = 4_000
MOST_JSON_BYTES: Final = 200_000
_KEPT_CONTROLS: Final = "\n\t"


def clean_text(field: str, value: str, longest: int, *, needed: bool = False) -> str:
    """The text without blank ends and with plain line ends; BadData where it cannot be kept.

    >>> clean_text("label", "  speed rail\\r\\n", 20)
    'speed rail'
    """
    text = value.replace("\r\n", "\n").replace("\r", "\n").strip()
    if needed and not text:
        raise BadData("this is empty; write something", field=field)
    if len(text) > longest:
        raise BadData(
            f"{len(text)} characters are too many; keep it under {longest + 1}", field=field
        )
    for character in text:
        if ord(character) < 32 and character not in _KEPT_CONTROLS:
            raise BadData("this holds a control character; type it again", field=field)
        if 0xD800 <= ord(character) <= 0xDFFF:
            raise BadData("this holds half a character; type it again", field=field)
    return text


def clean_line(field: str, value: str, longest: int = LONGEST_NAME, *, needed: bool = False) -> str:
    """A text on one line."""
    text = clean_text(field, value, longest, needed=needed)
    if "\n" in text:
        raise BadData("this has to stand on one line", field=field)
    return text


def check_number(field: str, value: float, low: float, high: float, unit: str) -> float:
    """The number as a float; OutOfRange names the limits."""
    if not math.isfinite(value) or not low <= value <= high:
        raise OutOfRange.of(field, value, low, high, unit)
    return float(value)


def check_optional(
    field: str, value: float | None, low: float, high: float, unit: str
) -> float | None:
    """Likewise, where nothing may be said."""
    return None if value is None else check_number(field, value, low, high, unit)


def check_whole(field: str, value: int | None, low: int, high: int, what: str) -> int | None:
    """A whole number between two limits, or nothing said."""
    if value is None:
        return None
    if value != int(value):
        raise BadData(f"{value:g} is not a whole number", field=field)
    return int(check_number(field, value, low, high, what))


def check_words(field: str, words: Iterable[str], known: Iterable[str]) -> tuple[str, ...]:
    """The words in order, each once; BadData names one that is not in the list."""
    given, allowed = sorted(set(words)), set(known)
    for word in given:
        if word not in allowed:
            raise BadData(
                f"{word!r} is not in the list; use one of {', '.join(sorted(allowed))}",
                field=field,
            )
    return tuple(given)


def check_flat(field: str, given: Mapping[str, Any], most: int = 40) -> dict[str, Any]:
    """Named numbers, words and yes-or-no; nothing nested."""
    if len(given) > most:
        raise BadData(f"{len(given)} entries are too many; keep to {most}", field=field)
    flat: dict[str, Any] = {}
    for name, value in given.items():
        place = f"{field}.{name}"
        key = clean_line(field, name, 60, needed=True)
        if isinstance(value, str):
            flat[key] = clean_text(place, value, LONGEST_NOTES)
        elif value is None or isinstance(value, bool):
            flat[key] = value
        elif isinstance(value, int | float):
            flat[key] = check_number(place, value, -1e9, 1e9, "")
        else:
            raise BadData("give a number, a word or yes or no here", field=place)
    return flat


def check_json(field: str, given: Mapping[str, Any]) -> dict[str, Any]:
    """Any JSON object of a sensible size, as it will come back from the database."""
    try:
        text = json.dumps(given, allow_nan=False, ensure_ascii=False)
        size = len(text.encode())
    except (TypeError, ValueError):  # half a character is a ValueError, too
        raise BadData("this is not plain JSON", field=field) from None
    if size > MOST_JSON_BYTES:
        raise BadData(f"more than {MOST_JSON_BYTES} bytes are too many", field=field)
    read: dict[str, Any] = json.loads(text)
    return read
