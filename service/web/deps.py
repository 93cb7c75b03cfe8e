"""What a route may ask for, as annotated names."""

from __future__ import annotations

from typing import Annotated

from fastapi import Depends, Request

from service.counter.known import Known


def known_of(request: Request) -> Known:
    """All that was loaded at the start."""
    known: Known = request.app.state.known
    return known


KnownHere = Annotated[Known, Depends(known_of)]
