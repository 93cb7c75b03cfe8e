"""Errors, units and numbers: the tools every other room may use; knows no drinks."""

from service.kit.errors import BadData, CannotCompose, Conflict, NotFound, OutOfRange, ServiceError
from service.kit.numbers import Interval, clamp, find_root
from service.kit.writing import plain_number

__all__ = [
    "BadData",
    "CannotCompose",
    "Conflict",
    "Interval",
    "NotFound",
    "OutOfRange",
    "ServiceError",
    "clamp",
    "find_root",
    "plain_number",
]
