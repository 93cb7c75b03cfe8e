"""The first page: say what the coffee is."""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.web.pages.coffee_form import CoffeeAsked, CoffeeForm, coffee_asked
from service.web.pages.examples import Example, examples
from service.web.pages.rendering import page_answer

router = APIRouter()


@dataclass(frozen=True, slots=True)
class CoffeePage:
    """The form, and invented coffees to try it with."""

    coffee: CoffeeForm
    problems: tuple[tuple[str, str], ...]
    examples: tuple[Example, ...]


@router.get("/", include_in_schema=False)
async def first_page(request: Request) -> Response:
    """The empty form, or the one that an address describes."""
    return coffee_page(request, coffee_asked(request.query_params))


def coffee_page(request: Request, asked: CoffeeAsked) -> Response:
    """The form as it was filled in; with status 422 where something in it cannot be read."""
    page = CoffeePage(asked.form, tuple(asked.errors.items()), examples())
    status = HTTPStatus.UNPROCESSABLE_ENTITY if asked.errors else HTTPStatus.OK
    return page_answer(request, "coffee.html", page, section="coffee", status=status)
