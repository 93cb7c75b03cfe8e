"""Nobody needs to send a bar more than this in one request."""

from __future__ import annotations

from contextlib import suppress

from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.web.errors import problem

LARGEST_BODY = 1_048_576
LARGEST_IMPORT = 64 * LARGEST_BODY
IMPORT_PATHS = ("/import", "/import/preview", "/restore")


class BodyLimit:
    """Refuses a body over the limit before it is read into memory."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        limit = LARGEST_IMPORT if scope["path"].endswith(IMPORT_PATHS) else LARGEST_BODY
        declared = dict(scope["headers"]).get(b"content-length", b"0")
        if declared.isdigit() and int(declared) > limit:
            await _refusal(limit)(scope, receive, send)
            return
        seen = 0
        started = False

        async def counted() -> Message:
            nonlocal seen
            message = await receive()
            seen += len(message.get("body", b""))
            if seen > limit:
                raise BodyTooLarge
            return message

        async def watched(message: Message) -> None:
            nonlocal started
            if seen > limit and not started:
                return  # what the application makes of half a body is not the reason
            started = True
            await send(message)

        with suppress(BodyTooLarge):
            await self.app(scope, counted, watched)
        if seen > limit and not started:
            await _refusal(limit)(scope, receive, send)


class BodyTooLarge(Exception):
    """The body grew past the limit while it was read."""


def _refusal(limit: int) -> ASGIApp:
    detail = f"the request is larger than {limit // 1024} KiB; send less, or send it in parts"
    return problem(413, "Too much at once", detail, kind="/problems/too-large")
