"""What every answer tells a browser: what it may load, and who may look over its shoulder."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from starlette.types import ASGIApp, Message, Receive, Scope, Send

# Nothing from another host and nothing in line: what this service does not serve does not run.
# (W3C Content Security Policy Level 3; every kind that a page needs is named, all others are none.)
HEADERS: Final[Mapping[str, str]] = {
    "Content-Security-Policy": (
        "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; "
        "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    # Records change, and a shared machine must not keep them; files of the pages say otherwise.
    "Cache-Control": "private, no-cache",
}
# RFC 6797: a browser that came by https comes by https for a year.
ONLY_HTTPS: Final = ("Strict-Transport-Security", "max-age=31536000")

Raw = list[tuple[bytes, bytes]]


class SecurityHeaders:
    """Adds the headers to every answer that does not say otherwise itself."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app
        self.plain: Raw = [_raw(*pair) for pair in HEADERS.items()]
        self.secure: Raw = [*self.plain, _raw(*ONLY_HTTPS)]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        usual = self.secure if scope["scheme"] == "https" else self.plain

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                said = {name.lower() for name, _ in message["headers"]}
                missing = [pair for pair in usual if pair[0] not in said]
                message = {**message, "headers": [*message["headers"], *missing]}
            await send(message)

        await self.app(scope, receive, with_headers)


def _raw(name: str, value: str) -> tuple[bytes, bytes]:
    return name.lower().encode(), value.encode()
