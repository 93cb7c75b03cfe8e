"""Whom the service answers at all: by which name it was called, and from where.

Where nobody has to sign in, being on this machine is what lets people in. So the name must be one
of this machine's (another site's name that leads here is DNS rebinding), the caller must be on it,
and nobody may stand between: a proxy would lend its own address to the whole world.
"""

from __future__ import annotations

from http import HTTPStatus
from typing import Final

from starlette.types import ASGIApp, Receive, Scope, Send

from service.settings import Settings, host_of, is_loopback
from service.web.errors import problem

# What a proxy writes: RFC 7239, and what was usual before it.
_BETWEEN: Final = (b"forwarded", b"via", b"x-forwarded-for", b"x-forwarded-host", b"x-real-ip")
_OTHER_NAME: Final = (
    "this service is not known by the name {host!r}; ask for 127.0.0.1 or localhost, or add the "
    "name to MARC_HOSTS"
)
_FROM_OUTSIDE: Final = (
    "without a passphrase this service is for its own machine only, and this came from elsewhere; "
    "set MARC_PASSPHRASE (and MARC_HOSTS, to the name by which it is reached)"
)


class KnownHosts:
    """Turns away what was not meant for this service."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app, self.settings = app, settings

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            headers = dict(scope["headers"])
            host = host_of(headers.get(b"host", b"").decode("latin-1"))
            if not self.answers_to(host):
                detail = _OTHER_NAME.format(host=host[:80])
                refusal = problem(
                    HTTPStatus.MISDIRECTED_REQUEST, "Not this service", detail,
                    kind="/problems/not-this-service",
                )  # fmt: skip
                await refusal(scope, receive, send)
                return
            if not self.settings.asks_for_login and _from_outside(scope, headers):
                refusal = problem(
                    HTTPStatus.FORBIDDEN, "Not from here", _FROM_OUTSIDE,
                    kind="/problems/not-from-here",
                )  # fmt: skip
                await refusal(scope, receive, send)
                return
        await self.app(scope, receive, send)

    def answers_to(self, host: str) -> bool:
        """Whether that is a name of this service. Beyond loopback, any is where none is listed."""
        if is_loopback(host) or not host:  # no browser leaves it out
            return True
        if not self.settings.hosts and not is_loopback(self.settings.host):
            return True
        return host in self.settings.hosts


def _from_outside(scope: Scope, headers: dict[bytes, bytes]) -> bool:
    client = scope.get("client")
    far = client is not None and _is_address(client[0]) and not is_loopback(client[0])
    return far or any(name in headers for name in _BETWEEN)


def _is_address(text: str) -> bool:
    """Whether it is an address at all: a socket of this machine has none."""
    return text[:1].isdigit() or ":" in text
