"""Errors, units and numbers: the tools every other room may use; knows no drinks."""

from service.kit.errors import BadData, CannotCompose, Conflict, NotFound, OutOfRange, ServiceError
from service.kit.numbers import Interval, clamp, find_root

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
]
