"""What the environment sets. Every name is listed in DEVELOPERS.md; a test compares them."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from service.kit import BadData
from service.settings.reach import is_loopback

DEFAULT_PORT = 8017


@dataclass(frozen=True, slots=True)
class Settings:
    """How this process runs.

    database_url : SQLAlchemy URL (MARC_DATABASE_URL); SQLite under `var/` by default
    host, port : where it listens (MARC_HOST, MARC_PORT)
    hosts : names by which others reach it, with commas between (MARC_HOSTS), such as the name of
        a proxy before it; beyond loopback any name is answered where none is listed
    passphrase : the staff's passphrase or its argon2 hash (MARC_PASSPHRASE); needed beyond
        loopback, and asked for wherever it is set
    secret : signs cookies and forms (MARC_SECRET); made of the passphrase where not set
    demo : load the invented demo bar into an empty database (MARC_DEMO)
    """

    database_url: str
    host: str = "127.0.0.1"
    port: int = DEFAULT_PORT
    hosts: tuple[str, ...] = ()
    passphrase: str = field(default="", repr=False)
    secret: str = field(default="", repr=False)
    demo: bool = False

    @property
    def on_loopback(self) -> bool:
        """Whether only this machine can reach the service, and by no other name."""
        return is_loopback(self.host) and all(map(is_loopback, self.hosts))

    @property
    def asks_for_login(self) -> bool:
        """Whether people have to sign in."""
        return bool(self.passphrase) or not self.on_loopback


def read_settings(environment: Mapping[str, str] | None = None) -> Settings:
    """Settings from the environment; BadData names a variable that cannot be read."""
    given = os.environ if environment is None else environment
    port = given.get("MARC_PORT", str(DEFAULT_PORT))
    if not (port.isascii() and port.isdecimal()) or not 0 < int(port) < 65536:
        raise BadData(f"{port!r} is no port; give a number from 1 to 65535", field="MARC_PORT")
    names = (name.strip().lower() for name in given.get("MARC_HOSTS", "").split(","))
    return Settings(
        database_url=given.get("MARC_DATABASE_URL", default_database_url()),
        host=given.get("MARC_HOST", "127.0.0.1"),
        port=int(port),
        hosts=tuple(filter(None, names)),
        passphrase=given.get("MARC_PASSPHRASE", ""),
        secret=given.get("MARC_SECRET", ""),
        demo=given.get("MARC_DEMO", "") not in {"", "0", "no"},
    )


def default_database_url() -> str:
    """An SQLite file under `var/` of the folder the service is started in."""
    return f"sqlite:///{Path.cwd() / 'var' / 'marc.sqlite'}"
