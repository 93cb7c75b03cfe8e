"""API tokens: shown once, kept only as a hash, each with what it may do."""

from __future__ import annotations

import hashlib
import secrets
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import select

from service.bar.checks import check_words, clean_line
from service.bar.keeping import add, change, locked, record
from service.bar.tables import api_tokens
from service.bar.unit import Unit
from service.bar.words import Scope
from service.kit import BadData

PREFIX: Final = "marc_"
# 32 random bytes need no slow hash: nobody can try them out, unlike a passphrase.
TOKEN_BYTES: Final = 32
HINT_LETTERS: Final = len(PREFIX) + 4


@dataclass(frozen=True, slots=True, kw_only=True)
class ApiToken:
    """A token as it is kept; `hint` is its beginning, to tell tokens apart in a list."""

    id: int
    version: int
    name: str
    scopes: tuple[str, ...]
    hint: str
    made_at: datetime
    revoked_at: datetime | None

    def may(self, scope: Scope) -> bool:
        return str(scope) in self.scopes


def make_api_token(unit: Unit, name: str, scopes: frozenset[Scope]) -> tuple[ApiToken, str]:
    """A new token, and its words: they are not kept, and this is the only time they are seen."""
    if not scopes:
        raise BadData("say what the token may do: read, write or both", field="scopes")
    token = PREFIX + secrets.token_urlsafe(TOKEN_BYTES)
    values = {
        "name": clean_line("name", name, needed=True),
        "scopes": check_words("scopes", map(str, scopes), map(str, Scope)),
        "token_hash": _hash(token),
        "hint": token[:HINT_LETTERS],
        "made_at": unit.at,
        "revoked_at": None,
    }
    return record(ApiToken, add(unit, api_tokens, values)), token


def revoke_api_token(unit: Unit, token_id: int) -> ApiToken:
    """From now on the token opens nothing."""
    seen = locked(unit, api_tokens, token_id)
    if seen["revoked_at"] is not None:
        return record(ApiToken, seen)
    return record(ApiToken, change(unit, api_tokens, token_id, None, {"revoked_at": unit.at}))


def list_api_tokens(unit: Unit) -> tuple[ApiToken, ...]:
    """Tokens that are good, the oldest first."""
    query = select(api_tokens).where(api_tokens.c.revoked_at.is_(None)).order_by(api_tokens.c.id)
    return tuple(record(ApiToken, row) for row in unit.connection.execute(query).mappings())


def token_holder(unit: Unit, token: str) -> ApiToken | None:
    """The token's record, if it is good; None otherwise."""
    query = select(api_tokens).where(
        api_tokens.c.token_hash == _hash(token), api_tokens.c.revoked_at.is_(None)
    )
    row = unit.connection.execute(query).mappings().first()
    return None if row is None else record(ApiToken, row)


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
