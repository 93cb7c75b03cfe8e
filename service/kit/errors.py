"""The errors of the service. Inner rooms raise meaning; only the outer rooms know of status codes.

ServiceError
├── BadData         what was given cannot be read (wrong type, unknown word, broken row)
├── OutOfRange      a number outside what the models are valid for, or a person could pour
├── NotFound        no such ingredient, spec, coffee ...
├── Conflict        somebody else changed it first, or it exists already
└── CannotCompose   no drink meets what was asked
"""

from __future__ import annotations

from service.kit.writing import plain_number

_DIGITS = 6


class ServiceError(Exception):
    """An error with a message that tells a person what to do next.

    `field` names the input it is about (dotted path, or a column), where there is one.
    """

    title = "This cannot be done"

    def __init__(self, message: str, *, field: str | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.field = field

    def __str__(self) -> str:
        return f"{self.field}: {self.message}" if self.field else self.message


class BadData(ServiceError):
    """The input cannot be read."""

    title = "This cannot be read"


class OutOfRange(ServiceError):
    """A number outside its allowed range."""

    title = "A number is out of range"

    @classmethod
    def of(cls, field: str, value: float, low: float, high: float, unit: str) -> OutOfRange:
        """The usual form: names the value, the limits and the unit.

        A unit in brackets explains the scale, and is said once: `7 is outside 0 to 1 (a share)`.
        """
        given, least, most = (plain_number(number, _DIGITS) for number in (value, low, high))
        of_value = "" if unit.startswith("(") else f" {unit}"
        return cls(f"{given}{of_value} is outside {least} to {most} {unit}", field=field)


class NotFound(ServiceError):
    """Nothing is known by that name."""

    title = "Not known here"


class Conflict(ServiceError):
    """The record was changed by somebody else, or exists already."""

    title = "Changed in the meantime"


class CannotCompose(ServiceError):
    """No drink meets all that was asked."""

    title = "No drink fits"
