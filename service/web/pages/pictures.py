"""Pictures as files: SVG and specification, under an address made of their content.

The address holds the hash of what is drawn, so that it may be kept for ever, and the question, so
that any worker can draw it again. After a change of the dataset the old address leads to the new.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import lru_cache
from http import HTTPStatus
from typing import Final
from urllib.parse import urlencode

from fastapi import APIRouter
from starlette.datastructures import QueryParams
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from service.counter.coffees import read_coffee
from service.counter.known import Known
from service.counter.measure import measure
from service.counter.physics import stirred, through_bed, what_matters
from service.counter.pictures import (
    Picture,
    balance_plane,
    contact_picture,
    coverage_picture,
    neighbourhood_picture,
    shared_notes_picture,
    stirring_picture,
    svg_of,
    swings_picture,
)
from service.counter.suggest import bed_of
from service.counter.this_bar import ThisBar
from service.drink import Reading
from service.kit import NotFound
from service.liquid import Stirring
from service.web.deps import KnownHere, ThisBarHere
from service.web.pages.assets import FOR_EVER
from service.web.pages.drink_form import DrinkAsked, drink_asked
from service.web.pages.pieces import PictureView

router = APIRouter()
STIR_SHOWN_SECONDS: Final = 90.0
CONTACT_SHOWN_SECONDS: Final = 600.0
_KINDS: Final = {"svg": "image/svg+xml", "json": "application/json"}
# A picture opened alone may style itself; nothing else may happen in it.
_CONTENT_POLICY: Final = "default-src 'none'; style-src 'unsafe-inline'"
Fields = list[tuple[str, str]]
# Pictures of a drink, in the order of its page.
_OF_DRINKS: Final = ("balance", "notes", "stirring", "contact", "swings")


@router.get("/pictures/{name}.{kind}", include_in_schema=False)
def one_picture(
    request: Request, known: KnownHere, this_bar: ThisBarHere, name: str, kind: str
) -> Response:
    """The picture of the question, if it is the one that the name stands for."""
    query = request.query_params
    wanted = query.get("draw", "")
    if kind not in _KINDS or wanted not in (*_DRAWERS, *_OF_DRINKS):
        raise NotFound("no such picture; open it from the page it stands on")
    if wanted in _OF_DRINKS:
        picture = _of_drink(this_bar(), known, wanted, query)
    else:
        picture = _DRAWERS[wanted](known, query)
    if picture.hash != name:
        address = f"/pictures/{picture.hash}.{kind}?{request.url.query}"
        return RedirectResponse(address, HTTPStatus.TEMPORARY_REDIRECT)
    # What a bar learnt is nobody else's to keep.
    cached = FOR_EVER.replace("public", "private") if wanted in _OF_DRINKS else FOR_EVER
    return Response(
        svg_of(picture) if kind == "svg" else picture.text,
        media_type=_KINDS[kind],
        headers={"Cache-Control": cached, "Content-Security-Policy": _CONTENT_POLICY},
    )


def picture_view(draw: str, picture: Picture, fields: Fields) -> PictureView:
    """A picture for a page; `fields` are the question it answers."""
    query = urlencode([("draw", draw), *fields], safe="=")
    return PictureView(
        id=f"picture-{draw}",
        title=picture.title,
        words=picture.words,
        svg_address=f"/pictures/{picture.hash}.svg?{query}",
        spec_address=f"/pictures/{picture.hash}.json?{query}",
        width=picture.width,
        height=picture.height,
    )


def drink_pictures(
    known: Known, asked: DrinkAsked, reading: Reading, base: Known
) -> tuple[PictureView, ...]:
    """What there is to see of a drink: balance, notes, stir, coffee, and what moves it most.

    The classics are drawn as `base` has them, not with this bar's labels.
    """
    pictures = {
        "balance": balance_plane(known, reading, with_coffee=asked.with_coffee, classics=base),
        "stirring": _stirring(known, asked),
    }
    if asked.with_coffee:
        pictures["notes"] = _notes(known, asked)
        pictures["contact"] = _contact(known, asked, reading)
        pictures["swings"] = _swings(known, asked)
    return tuple(picture_view(d, pictures[d], asked.fields) for d in _OF_DRINKS if d in pictures)


def stirring_view(known: Known, asked: DrinkAsked) -> PictureView:
    """Dilution, strength and temperature of one drink against the time it is stirred."""
    return picture_view("stirring", _stirring(known, asked), asked.fields)


def neighbourhood(known: Known, ingredient_id: str) -> PictureView:
    """The graph around one ingredient."""
    picture = neighbourhood_picture(known, ingredient_id)
    return picture_view("neighbourhood", picture, [("of", ingredient_id)])


def coverage(known: Known) -> PictureView:
    """How much the dataset knows."""
    return picture_view("coverage", coverage_picture(known.catalogue), [])


def _stirring(known: Known, asked: DrinkAsked) -> Picture:
    return _stirring_of(known, asked.pours, asked.seconds)


@lru_cache(maxsize=64)
def _stirring_of(known: Known, pours: tuple[tuple[str, float], ...], seconds: float) -> Picture:
    """Remembered, since a page tells it in words and its picture is asked for right after."""
    curve = stirred(known, list(pours), Stirring(seconds=seconds), STIR_SHOWN_SECONDS)
    return stirring_picture(curve, seconds)


def _contact(known: Known, asked: DrinkAsked, reading: Reading) -> Picture:
    bed, question = bed_of(asked.coffee.coffee), asked.measure
    curve = through_bed(known, list(asked.pours), question.preparation, bed, CONTACT_SHOWN_SECONDS)
    return contact_picture(curve.extraction, reading.drain_seconds)


def _swings(known: Known, asked: DrinkAsked) -> Picture:
    bed, preparation = bed_of(asked.coffee.coffee), asked.measure.preparation
    return swings_picture(*what_matters(known, list(asked.pours), preparation, bed))


def _notes(known: Known, asked: DrinkAsked) -> Picture:
    coffee = read_coffee(known, asked.coffee.coffee)
    return shared_notes_picture(known, coffee, [name for name, _ in asked.pours])


def _of_drink(bar: ThisBar, base: Known, draw: str, query: QueryParams) -> Picture:
    asked = drink_asked(bar.known, query, bar.house.settings)
    known = bar.known_of(asked.brewed)
    if draw == "stirring":
        return _stirring(known, asked)
    if draw == "notes":
        return _notes(known, asked)
    if draw == "swings":
        return _swings(known, asked)
    reading = measure(known, asked.measure).reading
    if draw == "contact":
        return _contact(known, asked, reading)
    return balance_plane(known, reading, with_coffee=asked.with_coffee, classics=base)


_DRAWERS: Final[Mapping[str, Callable[[Known, QueryParams], Picture]]] = {
    "neighbourhood": lambda known, query: neighbourhood_picture(
        known, known.catalogue.ingredient(query.get("of", ""), field="of").id
    ),
    "coverage": lambda known, _query: coverage_picture(known.catalogue),
}
