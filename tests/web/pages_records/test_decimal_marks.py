"""What the setting of numbers does: files have the bar's mark, pages a point, fields take both."""

from __future__ import annotations

import csv
import io
import re

import pytest

from tests.web.pages_records.conftest import Desk

LABEL = "Numbers in CSV files"


def written_as(desk: Desk, language: str) -> None:
    values = desk.values("/settings", "/settings")
    values["language"] = language
    values.pop("csrf")
    desk.done("/settings", **values)


def test_the_page_says_what_the_setting_is_of(desk: Desk) -> None:
    page = desk.get("/settings")
    (label,) = (e for e in page.every("label") if e.attributes.get("for") == "language")
    assert label.text == LABEL


@pytest.mark.parametrize(("language", "mark", "parts"), [("en", ".", ","), ("de", ",", ";")])
def test_files_are_written_with_the_mark_and_pages_with_a_point(
    desk: Desk, language: str, mark: str, parts: str
) -> None:
    written_as(desk, language)
    text = desk.client.get("/shelf.csv").content.decode("utf-8-sig")
    cells = [cell for row in csv.reader(io.StringIO(text), delimiter=parts) for cell in row]
    numbers = [cell for cell in cells if re.fullmatch(r"\d+[.,]\d+", cell)]
    assert numbers
    assert all(mark in number for number in numbers)
    said = desk.get("/drink?pour=bourbon=50ml&pour=sweet-vermouth=22.5ml").first("main").text
    assert re.search(r"\d\.\d", said)
    assert not re.search(r"\d,\d", said)


@pytest.mark.parametrize("language", ["en", "de"])
def test_typed_numbers_take_either_mark(desk: Desk, language: str) -> None:
    written_as(desk, language)
    asked = "/reach?pour=bourbon=50ml&pour=sweet-vermouth=20ml"
    point, comma = (
        desk.get(f"{asked}&strength=24{mark}5&glass=110{mark}5").first("main") for mark in ".,"
    )
    assert point.text.replace("24.5", "").replace("110.5", "") == comma.text.replace(
        "24.5", ""
    ).replace("110.5", "")
