"""What the pages of the records share: forms as they came, amounts in the bar's units."""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterable
from http import HTTPStatus
from typing import Annotated, Final

from fastapi import Depends
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from service.bar import Units
from service.counter.house_known import House
from service.drink.lattice import by_the_dash, counted
from service.ingredients.records import Ingredient, Role, SpecPour
from service.kit import BadData, Conflict, NotFound, ServiceError
from service.kit.units import ml_per, parse_volume_ml
from service.web.pages.telling import number
from service.web.security.forms import form_of

_QUARTERS: Final = {0.0: "", 0.25: "¼", 0.5: "½", 0.75: "¾"}
# Bars take 15 mL for half an ounce: 1.4 % off. What is further off is written as a decimal.
SAID_ALIKE: Final = 0.02


async def _form(request: Request) -> AsyncIterator[FormData]:
    """The form, with any file of it closed when the answer has left."""
    form = await form_of(request)
    try:
        yield form
    finally:
        await form.close()


# The form as it was sent; a page keeps what was typed, so it is read field by field.
FormHere = Annotated[FormData, Depends(_form)]


def texts_of(form: FormData) -> dict[str, str]:
    """Every single-valued field of a form as text."""
    return {name: value for name, value in form.items() if isinstance(value, str)}


def every_text(form: FormData, name: str) -> list[str]:
    """All values of a field that comes several times."""
    return [value for value in form.getlist(name) if isinstance(value, str)]


def go_to(address: str) -> Response:
    """After a change the browser asks for a page of its own, so that Back and reload do no harm."""
    return RedirectResponse(address, HTTPStatus.SEE_OTHER)


def status_of(error: ServiceError) -> HTTPStatus:
    """The status of a page that shows what was typed once more."""
    if isinstance(error, Conflict):
        return HTTPStatus.CONFLICT
    return HTTPStatus.NOT_FOUND if isinstance(error, NotFound) else HTTPStatus.UNPROCESSABLE_ENTITY


def whole(text: str, name: str) -> int:
    """A whole number that a page of ours wrote into a form."""
    if not text.strip().lstrip("-").isdecimal() or len(text) > 18:
        raise BadData(f"{text[:20]!r} is no whole number; open the page again", field=name)
    return int(text)


def amount_words(ingredient: Ingredient | None, volume_ml: float, units: Units) -> str:
    """An amount as this bar writes it: `45 mL`, `4.5 cL`, `1½ oz`; `2 dashes`, `4 drops`."""
    if ingredient is not None and by_the_dash(ingredient):
        return counted(ingredient, volume_ml)
    return volume_words(volume_ml, units)


def volume_words(volume_ml: float, units: Units) -> str:
    """A volume in the bar's unit."""
    if units is Units.CL:
        return f"{number(volume_ml / ml_per('cl'))} cL"
    if units is Units.OZ:
        return _ounces(volume_ml / ml_per("oz"))
    return f"{number(volume_ml)} mL"


def typed_amount(ingredient: Ingredient | None, volume_ml: float, units: Units) -> str:
    """An amount as it can be typed back without moving: in the bar's unit where that is exact."""
    dashed = ingredient is not None and by_the_dash(ingredient)
    for text in (
        amount_words(ingredient, volume_ml, units) if dashed else "",
        _plain(volume_ml, units),
    ):
        try:
            if text and abs(parse_volume_ml(text) - volume_ml) < 1e-9 * volume_ml:
                return text
        except ServiceError:
            continue
    return f"{volume_ml:.10g} ml"


def _plain(volume_ml: float, units: Units) -> str:
    return f"{volume_ml / ml_per(str(units)):.6g} {units}"


def _ounces(ounces: float) -> str:
    """Quarters where it is one, as far as a jigger can tell."""
    quarters = round(ounces * 4)
    if quarters and abs(ounces - quarters / 4) <= SAID_ALIKE * ounces:
        return f"{quarters // 4 or ''}{_QUARTERS[quarters % 4 / 4]} oz"
    return f"{number(ounces)} oz"


def build_words(house: House, pours: Iterable[SpecPour]) -> str:
    """`45 mL aged rum, 25 mL amontillado sherry, 1 dash cardamom bitters`."""
    return ", ".join(
        f"{poured_words(house, pour)} {house.name_of(pour.ingredient)}" for pour in pours
    )


def poured_words(house: House, pour: SpecPour) -> str:
    """The amount of one pour."""
    found = house.known.catalogue.ingredients.get(pour.ingredient)
    return amount_words(found, pour.volume_ml, house.settings.units)


ROLE_TITLES: Final = {
    Role.BASE: "Bases",
    Role.MODIFIER: "Modifiers",
    Role.BITTERS: "Bitters",
    Role.SWEETENER: "Sweeteners",
    Role.SEASONING: "Seasonings",
    Role.GARNISH: "Garnishes",
}
