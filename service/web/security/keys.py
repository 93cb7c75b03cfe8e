"""What signs and what opens: made of the settings once, the same in every worker."""

from __future__ import annotations

import hashlib
import hmac
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from itsdangerous import BadSignature, URLSafeTimedSerializer
from starlette.requests import Request

from service.settings import Passphrase, Settings, signing_key


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Keys:
    """The signer of cookies, the key of forms, and the passphrase where people sign in."""

    cookies: URLSafeTimedSerializer
    forms: bytes
    passphrase: Passphrase | None

    @classmethod
    def of(cls, settings: Settings) -> Keys:
        key = signing_key(settings)
        digest = {"digest_method": hashlib.sha256}
        return cls(
            cookies=URLSafeTimedSerializer(key, salt="visit", signer_kwargs=digest),
            forms=hmac.digest(key, b"forms", "sha256"),
            passphrase=Passphrase.read(settings.passphrase) if settings.passphrase else None,
        )

    def sign(self, said: Mapping[str, Any]) -> str:
        """What is said, the moment, and a signature, as one word."""
        return str(self.cookies.dumps(dict(said)))

    def read(self, word: str, longest_s: int) -> Any:
        """What was said; None where it was not signed here, or too long ago."""
        try:
            return self.cookies.loads(word, max_age=longest_s)
        except BadSignature:
            return None

    def form_token(self, visit_id: str) -> str:
        """What a form of that visit has to bring along."""
        return hmac.digest(self.forms, visit_id.encode(), "sha256").hex()


def keys_of(request: Request) -> Keys:
    """The keys of the application that a request came to."""
    keys: Keys = request.app.state.keys
    return keys
