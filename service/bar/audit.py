"""The audit: who changed what, when, and what it was before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from sqlalchemy import select

from service.bar.keeping import record
from service.bar.tables import audit
from service.bar.unit import Unit
from service.kit import OutOfRange

MOST_LINES: Final = 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class AuditLine:
    """One change. `record` is the key of the changed record as text; `changes` maps each field to
    its value before and after (None: not there)."""

    id: int
    at: datetime
    who: str
    noun: str
    record: str
    version: int
    what: str
    changes: Mapping[str, tuple[Any, Any]]


def audit_lines(
    unit: Unit, *, noun: str = "", key: int | str = "", before: int | None = None, limit: int = 100
) -> tuple[AuditLine, ...]:
    """Lines of the audit, the latest first; `before` is the id where the next page begins."""
    if not 1 <= limit <= MOST_LINES:
        raise OutOfRange.of("limit", limit, 1, MOST_LINES, "lines")
    query = select(audit).order_by(audit.c.id.desc()).limit(limit)
    if noun:
        query = query.where(audit.c.noun == noun)
    if key != "":
        query = query.where(audit.c.record == str(key))
    if before is not None:
        query = query.where(audit.c.id < before)
    return tuple(record(AuditLine, row) for row in unit.connection.execute(query).mappings())
