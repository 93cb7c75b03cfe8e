"""What goes with a coffee."""

from __future__ import annotations

from hashlib import blake2b
from typing import Annotated, Final

from fastapi import APIRouter, Depends, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from service.counter.known import Known
from service.counter.pairings_json import pairings_json
from service.counter.suggest import pairings
from service.counter.this_bar import suggested
from service.web.answers import MEDIA_TYPE, json_bytes
from service.web.api.v1.requests import SHELF, PairingsRequest
from service.web.api.v1.responses import Pairings
from service.web.deps import KnownHere, ThisBarHere
from service.web.remembered import Remembered

router = APIRouter(tags=["pairings"])
DIGEST_BYTES: Final = 12


def remembered(request: Request) -> Remembered:
    """The answers this worker has given."""
    answers: Remembered = request.app.state.remembered
    return answers


RememberedHere = Annotated[Remembered, Depends(remembered)]


@router.post(
    "/pairings",
    summary="Ranked bases, modifiers and bitters for a coffee",
    responses={200: {"model": Pairings}, 304: {"description": "as you have it already"}},
)
async def suggest(
    request: Request,
    known: KnownHere,
    this_bar: ThisBarHere,
    answers: RememberedHere,
    asked: PairingsRequest,
) -> Response:
    if isinstance(asked.among, str):
        bar = await run_in_threadpool(this_bar)
        wanted = suggested(asked.question(), bar, on_shelf=asked.among == SHELF)
        here = bar.known_of(wanted.coffee)
        return tagged(request, here, json_bytes(pairings_json(here, pairings(here, wanted))))
    question = await request.body()
    body = answers.answer(known, question)
    if body is None:
        body = json_bytes(pairings_json(known, pairings(known, asked.question())))
        answers.keep(known, question, body)
    return tagged(request, known, body)


def tagged(request: Request, known: Known, body: bytes) -> Response:
    """The answer under its tag, or 304 where the asker holds it already.

    The tag is that of the bytes, so that it changes with the catalogue, the shelf or the weights
    exactly when the answer does.
    """
    tag = f'"{known.catalogue.version}-{blake2b(body, digest_size=DIGEST_BYTES).hexdigest()}"'
    headers = {"etag": tag, "cache-control": "no-cache"}
    if tag in request.headers.get("if-none-match", ""):
        return Response(status_code=304, headers=headers)
    return Response(body, media_type=MEDIA_TYPE, headers=headers)
