"""What is wrong with one field, in words for people instead of a library's."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

LONGEST_VALUE: Final = 80
# By pydantic's names of errors; `{...}` is what the error brings along.
_REASONS: Final[Mapping[str, str]] = {
    "extra_forbidden": "no such field; check its spelling against the API notes",
    "json_invalid": "the body is not JSON; check commas and quotes",
    "missing": "is missing; send it",
    "greater_than": "must be more than {gt:g}",
    "greater_than_equal": "must be at least {ge:g}",
    "less_than": "must be less than {lt:g}",
    "less_than_equal": "must be at most {le:g}",
    "finite_number": "must be a number, not infinity",
    "enum": "must be one of {expected}",
    "literal_error": "must be one of {expected}",
    "string_too_long": "must have at most {max_length} characters",
    "string_too_short": "must have {min_length} or more characters",
    "too_long": "must have at most {max_length} entries",
    "too_short": "must have {min_length} or more entries",
    "value_error": "{error}",
}
_BY_BEGINNING: Final[Mapping[str, str]] = {
    "float_": "must be a number",
    "int_": "must be a whole number",
    "bool_": "must be true or false",
    "string_": "must be text",
    "list_": "must be a list",
    "dict_": "must be an object with names and values",
    "model_": "must be an object with names and values",
    "date_": "must be a date such as 2026-11-30",
}


def reason_of(error: Mapping[str, Any]) -> str:
    """The reason of one validation error, with the value that was given where it is short."""
    reason = _words(str(error["type"]), error)
    given = error.get("input")
    if isinstance(given, str | int | float) and not isinstance(given, bool):
        shown = str(given)
        reason += f" (given: {shown[:LONGEST_VALUE]}{'...' if len(shown) > LONGEST_VALUE else ''})"
    return reason


def _words(kind: str, error: Mapping[str, Any]) -> str:
    if kind in _REASONS:
        return _REASONS[kind].format(**error.get("ctx", {}))
    for beginning, words in _BY_BEGINNING.items():
        if kind.startswith(beginning):
            return words
    return str(error["msg"])
