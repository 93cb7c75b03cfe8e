"""`marc serve`: start the service."""

from __future__ import annotations

import os
from typing import Annotated

import typer

from service.settings import read_settings

APP = "service.web.app:create_app"


def serve(
    host: Annotated[str, typer.Option(help="address to listen on")] = "",
    port: Annotated[int, typer.Option(min=0, max=65535, help="port to listen on")] = 0,
    demo: Annotated[bool, typer.Option(help="fill an empty database with the demo bar")] = False,
) -> None:
    """Start the service and print its address."""
    import uvicorn

    given = {"MARC_HOST": host, "MARC_PORT": str(port or ""), "MARC_DEMO": "1" if demo else ""}
    os.environ.update({name: value for name, value in given.items() if value})
    settings = read_settings()
    print(f"Marc & Measure: http://{settings.host}:{settings.port}", flush=True)
    uvicorn.run(APP, factory=True, host=settings.host, port=settings.port, log_level="warning")
