"""The shelf, quick out and back in, and the shelf as a file."""

from __future__ import annotations

import csv
import io
from html import unescape

from tests.web.pages.reading import read_page
from tests.web.pages_records.conftest import Desk, Value

# A spreadsheet of a language with decimal commas (RFC 4180, but parted by semicolons).
FILE = (
    "ingredient;label;abv_percent;size_ml;price;stock_ml;allergens\r\n"
    "walnut liqueur;back bar;22,5;500;21,90;1000;nuts\r\n"
    "nonsense;;;700;;;\r\n"
    "cognac;;40;lots;;;\r\n"
).encode("utf-8-sig")


def preview(desk: Desk, content: bytes) -> str:
    files = {"file": ("shelf.csv", content, "text/csv")}
    answer = desk.send("/shelf/preview/import", files=files)
    assert answer.status_code == 200, answer.text[:500]
    return answer.text


def first_bottle(desk: Desk) -> str:
    line = desk.get("/shelf").first("li", class_="bottle")
    return line.attributes["id"].removeprefix("bottle-")


def test_out_and_back_in_with_one_tap_each(desk: Desk) -> None:
    bottle = first_bottle(desk)
    assert desk.done("/shelf/out", out=bottle) == f"/shelf#bottle-{bottle}"
    assert "1 out" in desk.get("/shelf").first(class_="page-head").text
    desk.done("/shelf/out", **{"in": bottle})
    assert "none out" in desk.get("/shelf").first(class_="page-head").text


def test_a_preview_shows_good_and_bad_rows_and_writes_nothing(desk: Desk) -> None:
    before = desk.get("/shelf").first(class_="page-head").text
    page = preview(desk, FILE)
    assert "1 new" in page
    assert "2 cannot be read" in page
    assert "<td>3</td><td>nonsense, 700</td>" in page
    assert "<td>4</td>" in page
    assert "lots" in page
    assert desk.get("/shelf").first(class_="page-head").text == before


def test_the_good_rows_load_and_the_bad_ones_come_back_with_line_and_reason(desk: Desk) -> None:
    text = FILE.decode("utf-8-sig")
    answer = desk.send("/shelf/import", text=text)
    assert answer.status_code == 200
    assert "Loaded, except for some rows" in answer.text
    shelf = desk.get("/shelf").first("main").text
    assert "Back bar. 22.5 % vol" in shelf
    assert "nuts" in shelf
    assert "21.90 EUR" in shelf


def test_the_exported_file_is_the_same_shelf_again(desk: Desk) -> None:
    content = desk.client.get("/shelf.csv").content
    rows = list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"))))
    assert len(rows) == 45
    page = preview(desk, content)
    assert "0 new, 0 changed, 45 as they were; 0 cannot be read" in page


def test_a_file_that_is_no_shelf_is_refused_in_words(desk: Desk) -> None:
    before = desk.client.get("/shelf.csv").text
    for content, said in (
        (b"\xff\xfe\x00", "UTF-8"),
        (b"ingredient,size_ml\ncognac,500\n\xff,1\n", "UTF-8"),
        (b"ingredient,size_ml\n", "No row follows"),
        (b"", "Line 1 is empty"),
    ):
        for address in ("/shelf/preview/import", "/shelf/import"):
            answer = desk.send(address, files={"file": ("shelf.csv", content, "text/csv")})
            assert answer.status_code == 422
            page = read_page(answer.text)
            assert said in page.first("p", id="csv-error").text
            assert "csv-error" in page.first("input", id="csv").attributes["aria-describedby"]
    assert desk.client.get("/shelf.csv").text == before


def test_what_was_pasted_stays_where_it_is_refused(desk: Desk) -> None:
    text = "ingredient,colour\ncognac,brown"
    for address in ("/shelf/preview/import", "/shelf/import"):
        answer = desk.send(address, text=text)
        assert answer.status_code == 422
        page = read_page(answer.text)
        assert "'colour' is not known" in page.first("p", id="text-error").text
        assert f">\n{text}</textarea>" in unescape(answer.text).replace("\r", "")


def test_loading_what_is_here_already_is_said(desk: Desk) -> None:
    content = desk.client.get("/shelf.csv").content
    answer = desk.send("/shelf/import", files={"file": ("shelf.csv", content, "text/csv")})
    assert answer.status_code == 200
    assert "nothing was changed" in answer.text


def test_a_bottle_is_added_and_its_label_reaches_the_guest(desk: Desk) -> None:
    """The allergens of the bar's own label count, not only those of the category."""
    fields: dict[str, Value] = {
        "ingredient": "fig liqueur", "size_ml": "500", "abv_percent": "21,5", "allergen": "milk",
    }  # fmt: skip
    where = desk.done("/shelf/new", **fields)
    assert where.startswith("/shelf#bottle-")
    card = desk.get(f"/list/{desk.spec_id('Low Tide Letter')}/card")
    assert "milk" in card.first("dl", class_="facts").text


def test_what_cannot_be_read_of_a_bottle_stays_typed(desk: Desk) -> None:
    answer = desk.send("/shelf/new", ingredient="walnut liqor", size_ml="big", allergen="nuts")
    assert answer.status_code == 422
    assert 'value="walnut liqor"' in answer.text
    assert 'value="big"' in answer.text
    assert 'value="nuts" checked' in answer.text


def test_two_tablets_correct_one_bottle_and_the_second_is_told(desk: Desk) -> None:
    path = f"/shelf/{first_bottle(desk)}"
    first = desk.values(path, path)
    first.pop("csrf")
    desk.done(path, **{**first, "price": "99"})
    late = desk.send(path, **{**first, "price": "11"})
    assert late.status_code == 409
    assert 'value="11"' in late.text
    assert "price is now 99" in late.text


def test_a_bottle_leaves_for_good(desk: Desk) -> None:
    path = f"/shelf/{first_bottle(desk)}"
    fields = desk.values(path, path)
    desk.done(path, version=str(fields["version"]), act="remove")
    desk.get(path, status=404)


def test_a_coffee_is_opened_and_corrected(desk: Desk) -> None:
    desk.done(
        "/coffees/new", name="Quay Nine", notes="plum", roast="light", process="washed",
        species="arabica", grind="medium", dose_g="16,5", roasted_on="2026-11-20", in_use="yes",
    )  # fmt: skip
    assert "16.5 g" in desk.get("/coffees").first("main").text
    answer = desk.send("/coffees/new", name="", dose_g="heaps", roast="light")
    assert answer.status_code == 422
    assert 'value="heaps"' in answer.text


def test_an_empty_shelf_teaches(empty_desk: Desk) -> None:
    assert "Add a bottle" in empty_desk.get("/shelf").first(class_="empty").text
    assert "Open a bag" in empty_desk.get("/coffees").first(class_="empty").text
