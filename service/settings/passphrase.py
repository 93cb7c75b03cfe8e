"""The staff's passphrase, hashed slowly: who reads the hash cannot try many words."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from secrets import token_bytes
from typing import Final

from argon2 import PasswordHasher, Type, extract_parameters
from argon2.exceptions import Argon2Error, InvalidHashError
from argon2.low_level import hash_secret_raw

from service.kit import BadData
from service.settings.environment import Settings

FIELD: Final = "MARC_PASSPHRASE"
# Our estimate of what ten tries in a quarter of an hour cannot reach, and a person still types.
SHORTEST: Final = 10
LONGEST: Final = 200
KEY_BYTES: Final = 32
# Costs as argon2-cffi sets them: RFC 9106, second recommended option.
_HASHER: Final = PasswordHasher()
# Fixed: every worker has to make the same key of the same passphrase.
_SALT: Final = b"marc-measure signs cookies"


@dataclass(frozen=True, slots=True)
class Passphrase:
    """What opens the door, as its argon2 hash."""

    hash: str

    @classmethod
    def read(cls, text: str) -> Passphrase:
        """From the environment: an argon2 hash as it is, plain words hashed now."""
        if not text.startswith("$"):
            return cls(hashed(text))
        try:
            extract_parameters(text)
        except InvalidHashError:
            raise BadData(
                "this begins like a hash and is none; `marc passphrase` prints one, to be put "
                "between single quotes",
                field=FIELD,
            ) from None
        return cls(text)

    def is_said_by(self, words: str) -> bool:
        """Whether these are the words; takes its time on purpose."""
        try:
            return len(words) <= LONGEST and _HASHER.verify(self.hash, words)
        except (Argon2Error, UnicodeEncodeError):
            return False


def hashed(words: str) -> str:
    """The argon2 hash of plain words; BadData where they are too few to keep anybody out."""
    if not SHORTEST <= len(words) <= LONGEST:
        raise BadData(
            f"the passphrase has {len(words)} characters; take {SHORTEST} to {LONGEST}, such as "
            "four words that nobody would say together",
            field=FIELD,
        )
    return _HASHER.hash(words)


def check_reach(settings: Settings) -> None:
    """BadData where others can reach the service, and nothing would keep them out."""
    if settings.on_loopback or settings.passphrase:
        return
    raise BadData(
        "other machines could reach this service and change everything; set the staff's "
        "passphrase (its hash as `marc passphrase` prints it, or plain words), or listen on "
        "127.0.0.1 alone",
        field=FIELD,
    )


def signing_key(settings: Settings) -> bytes:
    """What signs cookies and forms: the secret, else made of the passphrase, else drawn now.

    So several workers agree without a secret, and another passphrase ends every session.
    """
    if settings.secret:
        return hashlib.sha256(settings.secret.encode()).digest()
    if settings.passphrase.startswith("$"):
        return hashlib.sha256(_SALT + settings.passphrase.encode()).digest()
    if settings.passphrase:
        return hash_secret_raw(
            settings.passphrase.encode(), _SALT, time_cost=_HASHER.time_cost,
            memory_cost=_HASHER.memory_cost, parallelism=_HASHER.parallelism, hash_len=KEY_BYTES,
            type=Type.ID,
        )  # fmt: skip
    return token_bytes(KEY_BYTES)
