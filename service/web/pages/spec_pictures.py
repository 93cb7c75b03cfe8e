"""The picture of a spec's balance, under an address that changes with what it shows."""

from __future__ import annotations

from http import HTTPStatus

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from service.counter.house_readings import SpecAsked, spec_asked
from service.counter.known import Known
from service.counter.pictures import Picture, balance_plane, svg_of
from service.drink import Reading
from service.kit import NotFound
from service.web.deps import BarLooked, KnownHere, LookHere
from service.web.pages.assets import FOR_EVER
from service.web.pages.pieces import PictureView

router = APIRouter()
_KINDS = {"svg": "image/svg+xml", "json": "application/json"}
# A picture opened alone may style itself; nothing else may happen in it.
_CONTENT_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


@router.get("/list/{spec_id:int}/balance/{name}.{kind}", include_in_schema=False)
def one_picture(
    known: KnownHere, bar: BarLooked, unit: LookHere, spec_id: int, name: str, kind: str
) -> Response:
    """The balance of a spec, if it is the one that the name stands for."""
    asked = spec_asked(unit, bar, spec_id)
    picture = _plane(known, asked, asked.measured().reading)
    return picture_answer(picture, name, kind, f"/list/{spec_id}/balance")


def picture_answer(picture: Picture, name: str, kind: str, folder: str) -> Response:
    """A picture as a file; from an old address to the one that it has now."""
    if kind not in _KINDS:
        raise NotFound("no such picture; open it from the page it stands on")
    if picture.hash != name:
        address = f"{folder}/{picture.hash}.{kind}"
        return RedirectResponse(address, HTTPStatus.TEMPORARY_REDIRECT)
    return Response(
        svg_of(picture) if kind == "svg" else picture.text,
        media_type=_KINDS[kind],
        headers={
            "Cache-Control": FOR_EVER.replace("public", "private"),
            "Content-Security-Policy": _CONTENT_POLICY,
        },
    )


def view_of(picture: Picture, folder: str, name: str) -> PictureView:
    """A picture for a page; `folder` is where its files are."""
    return PictureView(
        id=f"picture-{name}",
        title=picture.title,
        words=picture.words,
        svg_address=f"{folder}/{picture.hash}.svg",
        spec_address=f"{folder}/{picture.hash}.json",
        width=picture.width,
        height=picture.height,
    )


def balance_view(base: Known, asked: SpecAsked, reading: Reading) -> PictureView:
    """The plane with the way of a drink through its coffee."""
    picture = _plane(base, asked, reading)
    return view_of(picture, f"/list/{asked.spec.id}/balance", "balance")


def _plane(base: Known, asked: SpecAsked, reading: Reading) -> Picture:
    return balance_plane(asked.known, reading, with_coffee=asked.coffee is not None, classics=base)
