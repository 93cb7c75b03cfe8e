"""What the environment sets. Every name is listed in DEVELOPERS.md; a test compares them."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path

from service.kit import BadData

DEFAULT_PORT = 8017


@dataclass(frozen=True, slots=True)
class Settings:
    """How this process runs.

    database_url : SQLAlchemy URL (MARC_DATABASE_URL); SQLite under `var/` by default
    host, port : where it listens (MARC_HOST, MARC_PORT)
    passphrase : the staff's passphrase (MARC_PASSPHRASE); needed beyond loopback
    secret : signs session cookies (MARC_SECRET); made anew at each start where not set
    demo : load the invented demo bar into an empty database (MARC_DEMO)
    """

    database_url: str
    host: str = "127.0.0.1"
    port: int = DEFAULT_PORT
    passphrase: str = ""
    secret: str = ""
    demo: bool = False

    @property
    def on_loopback(self) -> bool:
        """Whether only this machine can reach the service."""
        if self.host == "localhost":
            return True
        try:
            return ip_address(self.host).is_loopback
        except ValueError:
            return False


def read_settings(environment: Mapping[str, str] | None = None) -> Settings:
    """Settings from the environment; BadData names a variable that cannot be read."""
    given = os.environ if environment is None else environment
    port = given.get("MARC_PORT", str(DEFAULT_PORT))
    if not port.isdigit() or not 0 < int(port) < 65536:
        raise BadData(f"{port!r} is no port; give a number from 1 to 65535", field="MARC_PORT")
    return Settings(
        database_url=given.get("MARC_DATABASE_URL", default_database_url()),
        host=given.get("MARC_HOST", "127.0.0.1"),
        port=int(port),
        passphrase=given.get("MARC_PASSPHRASE", ""),
        secret=given.get("MARC_SECRET", ""),
        demo=given.get("MARC_DEMO", "") not in {"", "0", "no"},
    )


def default_database_url() -> str:
    """An SQLite file under `var/` of the folder the service is started in."""
    return f"sqlite:///{Path.cwd() / 'var' / 'marc.sqlite'}"
