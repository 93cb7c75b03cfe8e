"""Guest links: short addresses that nobody can guess, open until they are revoked."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import select

from service.bar.keeping import add, change, locked, record
from service.bar.specs import BarSpec, read_spec
from service.bar.tables import guest_links
from service.bar.unit import Unit
from service.kit import NotFound

# Letters and figures that nobody mistakes for one another in print: 31 of them, so that 14 are
# 69 bits; at a thousand guesses a second, the odds to hit a link in a century stay below 1 in 10^8.
ALPHABET: Final = "abcdefghjkmnpqrstuvwxyz23456789"
TOKEN_LETTERS: Final = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class GuestLink:
    """Where guests read of one spec."""

    id: int
    version: int
    token: str
    spec_id: int
    made_at: datetime
    revoked_at: datetime | None


def make_guest_link(unit: Unit, spec_id: int) -> GuestLink:
    """A new link to a spec."""
    read_spec(unit, spec_id)
    token = "".join(secrets.choice(ALPHABET) for _ in range(TOKEN_LETTERS))
    values = {"token": token, "spec_id": spec_id, "made_at": unit.at, "revoked_at": None}
    return record(GuestLink, add(unit, guest_links, values))


def revoke_guest_link(unit: Unit, link_id: int) -> GuestLink:
    """From now on the link leads nowhere; printed codes with it are waste paper."""
    seen = locked(unit, guest_links, link_id)
    if seen["revoked_at"] is not None:
        return record(GuestLink, seen)
    return record(GuestLink, change(unit, guest_links, link_id, None, {"revoked_at": unit.at}))


def list_guest_links(unit: Unit, spec_id: int | None = None) -> tuple[GuestLink, ...]:
    """Links that are open, the oldest first."""
    query = select(guest_links).where(guest_links.c.revoked_at.is_(None))
    if spec_id is not None:
        query = query.where(guest_links.c.spec_id == spec_id)
    rows = unit.connection.execute(query.order_by(guest_links.c.id)).mappings()
    return tuple(record(GuestLink, row) for row in rows)


def guest_spec(unit: Unit, token: str) -> BarSpec:
    """The spec that an open link shows; NotFound says no more than that there is none."""
    query = select(guest_links.c.spec_id).where(
        guest_links.c.token == token.strip().lower(), guest_links.c.revoked_at.is_(None)
    )
    spec_id = unit.connection.execute(query).scalar()
    if spec_id is None:
        raise NotFound("there is no such page; ask at the bar for the right address")
    return read_spec(unit, spec_id)
