"""`marc serve`: start the service."""

from __future__ import annotations

import os
import sys
from contextlib import closing
from secrets import token_urlsafe
from typing import Annotated

import typer

from service.bar import open_bar
from service.settings import check_reach, read_settings

APP = "service.web.app:create_app"


def serve(
    host: Annotated[str, typer.Option(help="address to listen on")] = "",
    port: Annotated[int, typer.Option(min=0, max=65535, help="port to listen on")] = 0,
    demo: Annotated[bool, typer.Option(help="fill an empty database with the demo bar")] = False,
    workers: Annotated[int, typer.Option(min=1, max=64, help="processes that answer")] = 1,
) -> None:
    """Start the service and print its address."""
    import uvicorn

    given = {"MARC_HOST": host, "MARC_PORT": str(port or ""), "MARC_DEMO": "1" if demo else ""}
    os.environ.update({name: value for name, value in given.items() if value})
    settings = read_settings()
    check_reach(settings)
    with closing(open_bar(settings.database_url)):
        pass  # what is wrong with the records is one plain line here, and later a page of names
    if not (settings.secret or settings.passphrase):
        os.environ["MARC_SECRET"] = token_urlsafe()  # for all workers of this start
    shown = f"[{settings.host}]" if ":" in settings.host else settings.host
    print(f"Marc & Measure: http://{shown}:{settings.port}", flush=True)
    if settings.asks_for_login:
        print("marc: staff sign in with the passphrase", file=sys.stderr)
    uvicorn.run(
        APP,
        factory=True,
        host=settings.host,
        port=settings.port,
        workers=workers,
        log_level="warning",
        server_header=False,
    )
