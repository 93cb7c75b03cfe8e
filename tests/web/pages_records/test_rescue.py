"""What is out, what to pour instead, and tonight's sheet."""

from __future__ import annotations

from tests.web.pages.reading import Element
from tests.web.pages_records.conftest import Desk, form_values

LOW_TIDE = "Low Tide Letter"


def ways(page: Element) -> list[str]:
    return [card.first("h3").text for card in page.every(class_="way-card")]


def accept_first(desk: Desk, bottle: str) -> str:
    page = desk.get(f"/rescue?bottle={bottle}")
    fields = form_values(page, "/rescue/accept")
    fields.pop("csrf")
    return desk.done("/rescue/accept", **fields)


def test_what_the_list_pours_is_the_first_to_tap(desk: Desk) -> None:
    page = desk.get("/rescue")
    first = page.first("ul", class_="tiles")
    assert "Fig liqueur".lower() in first.text.lower()
    assert f"in {LOW_TIDE}" in first.text
    assert "hazelnut liqueur" not in first.text


def test_a_kind_or_a_sentence_of_the_bar_finds_the_bottle(desk: Desk) -> None:
    answer = desk.client.get("/rescue?bottle=out of fig liqueur", follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/rescue?bottle=fig-liqueur"


def test_an_unknown_name_keeps_what_was_typed_and_names_the_nearest(desk: Desk) -> None:
    page = desk.get("/rescue?bottle=fig liquor", status=404)
    assert page.first("input", id="bottle").attributes["value"] == "fig liquor"
    assert "fig liqueur" in page.first(class_="field-error").text


def test_every_way_out_pours_from_the_shelf_and_not_what_is_out(desk: Desk) -> None:
    shelf = desk.get("/shelf").text.lower()
    page = desk.get("/rescue?bottle=fig-liqueur")
    assert ways(page)
    for card in page.every(class_="way-card"):
        for line in card.every("li"):
            if "gone" in line.attributes.get("class", ""):
                assert "fig liqueur" in line.text
            else:
                name = line.every("span")
                words = [span.text for span in name if "amount" not in span.attributes.get(
                    "class", "")]  # fmt: skip
                plain = words[0].replace(" new", "").split(" instead of")[0].lower()
                assert plain in shelf


def test_pouring_a_way_out_changes_tonights_sheet_and_not_the_spec(desk: Desk) -> None:
    spec = desk.spec_id(LOW_TIDE)
    written = desk.get(f"/list/{spec}").first(class_="build").text
    where = accept_first(desk, "fig-liqueur")
    assert where == f"/rescue?bottle=fig-liqueur#spec-{spec}"
    tonight = desk.get(f"/list/{spec}")
    assert tonight.first(class_="build").text != written
    assert "fig liqueur" not in tonight.first(class_="build").text
    versions = desk.get(f"/list/{spec}/versions")
    assert len(list(versions.every(class_="version"))) == 1
    assert "fig liqueur" in versions.first(class_="version").text
    assert "without fig liqueur" in desk.get(f"/list/{spec}/card").text


def test_pouring_a_way_out_marks_the_bottle_out(desk: Desk) -> None:
    accept_first(desk, "fig-liqueur")
    line = next(li for li in desk.get("/shelf").every("li", class_="is-out"))
    assert "fig liqueur" in line.text.lower()


def test_undo_brings_the_spec_back_as_it_is_written(desk: Desk) -> None:
    spec = desk.spec_id(LOW_TIDE)
    written = desk.get(f"/list/{spec}").first(class_="build").text
    accept_first(desk, "fig-liqueur")
    undo = form_values(desk.get("/rescue?bottle=fig-liqueur"), "/rescue/undo")
    undo.pop("csrf")
    desk.done("/rescue/undo", **undo)
    assert desk.get(f"/list/{spec}").first(class_="build").text == written


def test_a_second_tablet_is_told_that_a_rescue_stands(desk: Desk) -> None:
    page = desk.get("/rescue?bottle=fig-liqueur")
    fields = form_values(page, "/rescue/accept")
    fields.pop("csrf")
    desk.done("/rescue/accept", **fields)
    late = desk.send("/rescue/accept", **fields)
    assert late.status_code == 409
    assert "already" in late.text


def test_an_allergen_that_comes_in_stands_before_the_amounts(desk: Desk) -> None:
    """This bar's own bottle of the stand-in says that it holds nuts; the drink held none."""
    before = ways(desk.get("/rescue?bottle=fig-liqueur"))[0]
    line = next(
        li for li in desk.get("/shelf").every("li", class_="bottle") if "Pudding" in li.text
    )
    path = line.first("a", class_="name").attributes["href"]
    fields = desk.values(path, path)
    fields.pop("csrf")
    desk.done(path, **{**fields, "allergen": "nuts"})
    assert "Pedro" in before
    for card in desk.get("/rescue?bottle=fig-liqueur").every(class_="way-card"):
        brings = "Pedro" in card.first("h3").text
        assert ("Allergen. Adds nuts" in card.text) is brings
        if brings:
            assert card.text.index("Allergen.") < card.text.index("Pour ")


def test_an_empty_shelf_says_how_to_fill_it(empty_desk: Desk) -> None:
    page = empty_desk.get("/rescue")
    assert "The shelf is empty" in page.first(class_="empty").text
    assert page.first(class_="empty").first("a").attributes["href"] == "/shelf"


def test_nothing_on_the_shelf_is_said_plainly_with_the_nearest_to_buy(empty_desk: Desk) -> None:
    page = empty_desk.get("/rescue?bottle=fig-liqueur")
    said = page.first(class_="empty").text
    assert "Nothing on this shelf stands in for fig liqueur" in said
    assert "nearest to buy" in said
