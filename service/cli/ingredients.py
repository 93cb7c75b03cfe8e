"""`marc ingredients`: what the dataset knows."""

from __future__ import annotations

from typing import Annotated

import typer

from service.cli.out import Json, print_json, print_table
from service.counter.browse import MOST_PER_PAGE, list_ingredients
from service.counter.known import load_known
from service.counter.shapes import page_json
from service.ingredients.records import Role


def ingredients(
    role: Annotated[Role | None, typer.Option(help="only this role")] = None,
    text: Annotated[str, typer.Option(help="a word of the name")] = "",
    json: Json = False,
) -> None:
    """List the ingredients: id, role and name."""
    page = list_ingredients(load_known(), role=role, text=text, limit=MOST_PER_PAGE)
    if json:
        print_json(page_json(page))
    else:
        rows = [(i.id, str(i.role), i.name) for i in page.items]
        print_table(("id", "role", "name"), rows)
