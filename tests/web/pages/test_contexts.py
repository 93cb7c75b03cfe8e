"""What a page is given is a documented record, and its template shows all of it and no more."""

from __future__ import annotations

import importlib
import pkgutil
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

import pytest
from jinja2 import nodes

from service.web import pages
from service.web.pages.rendering import TEMPLATES, templates

ENVIRONMENT = templates()


def records() -> Iterator[type[Any]]:
    """Every frozen record of the pages room."""
    for found in pkgutil.iter_modules(pages.__path__):
        module = importlib.import_module(f"service.web.pages.{found.name}")
        for value in vars(module).values():
            own = isinstance(value, type) and value.__module__ == module.__name__
            if own and is_dataclass(value):
                yield value


def template_of(record: type[Any]) -> str:
    """`IngredientsPage` is shown by `ingredients.html`."""
    words = re.findall("[A-Z][a-z]+", record.__name__)[:-1]
    return "_".join(words).lower() + ".html"


PAGES = [record for record in records() if record.__name__.endswith("Page")]
TREES = {
    path.relative_to(TEMPLATES).as_posix(): ENVIRONMENT.parse(path.read_text(encoding="utf-8"))
    for path in TEMPLATES.rglob("*.html")
}


def attributes_of(tree: nodes.Template, name: str) -> set[str]:
    return {
        node.attr
        for node in tree.find_all(nodes.Getattr)
        if isinstance(node.node, nodes.Name) and node.node.name == name
    }


@pytest.mark.parametrize("record", PAGES, ids=lambda record: record.__name__)
def test_a_template_shows_each_field_of_its_page_and_no_other(record: type[Any]) -> None:
    shown = attributes_of(TREES[template_of(record)], "page")
    assert shown == {field.name for field in fields(record)}


def test_every_page_template_has_its_record() -> None:
    shown = {template_of(record) for record in PAGES}
    assert {name for name in TREES if "/" not in name} - {"base.html"} == shown


def test_every_record_is_frozen_and_says_what_it_is() -> None:
    shown = [r for r in records() if r in PAGES or r.__module__.endswith(".pieces")]
    assert len(shown) > 20
    for record in shown:
        assert record.__dataclass_params__.frozen, record
        assert record.__doc__, record
        assert not record.__doc__.startswith(f"{record.__name__}("), record


def test_every_field_of_a_piece_is_shown_somewhere() -> None:
    used = {node.attr for tree in TREES.values() for node in tree.find_all(nodes.Getattr)}
    pieces = [r for r in records() if r.__module__.endswith(".pieces")]
    assert len(pieces) > 8
    for piece in pieces:
        assert {field.name for field in fields(piece)} - used <= {"id"}, piece


def test_no_template_does_arithmetic() -> None:
    sums = (nodes.Add, nodes.Sub, nodes.Mul, nodes.Div, nodes.FloorDiv, nodes.Mod, nodes.Pow)
    for name, tree in TREES.items():
        assert not list(tree.find_all(sums)), name


def test_every_piece_stands_on_the_page_of_all_pieces() -> None:
    patterns = TREES["patterns.html"]
    taken = {node.template.value for node in patterns.find_all(nodes.FromImport)}
    # The frame is around every page; the two below are shown through another piece.
    through_another = {"parts/_frame.html", "parts/_choices.html"}
    pieces = {name for name in TREES if name.startswith(("parts/", "records/"))}
    assert pieces - through_another == taken
