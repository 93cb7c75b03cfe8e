"""The list, its specs, their versions, and edits by two hands."""

from __future__ import annotations

from tests.web.pages_records.conftest import Desk, Value, form_values

DRINK = {
    "pour": ["bourbon=50ml", "sweet-vermouth=20ml", "aromatic-bitters=1.6ml"],
    "notes": "dried fig, hazelnut",
}


def kept(desk: Desk, **more: Value) -> str:
    return desk.done("/list", **{**DRINK, "name": "First try", **more})


def edited(desk: Desk, spec: str, **changed: Value) -> dict[str, Value]:
    fields = desk.values(f"{spec}/edit", f"{spec}/edit")
    fields.pop("csrf")
    return {**fields, **changed}


def test_the_drink_page_keeps_a_drink_as_a_draft_under_the_name_it_suggests(desk: Desk) -> None:
    address = "/drink?pour=bourbon=50ml&pour=sweet-vermouth=20ml&notes=dried+fig"
    fields = form_values(desk.get(address), "/list")
    fields.pop("csrf")
    assert fields["name"]
    spec = desk.done("/list", **fields)
    page = desk.get(spec)
    assert page.first("h1").text == fields["name"]
    assert page.text.count("Draft;") == 1
    assert "50 mL" in page.first(class_="build").text


def test_a_kept_drink_keeps_the_words_of_its_bag(desk: Desk) -> None:
    spec = kept(desk)
    assert desk.get(spec).first(class_="verdict").text
    assert "hazelnut" in desk.get(f"{spec}/tell").first(class_="told").text


def test_opening_and_saving_the_form_changes_no_amount_whatever_the_unit(desk: Desk) -> None:
    """What stands in the fields is read back as it was: 45 mL are no 1 1/2 ounces."""
    settings = desk.values("/settings", "/settings")
    settings.pop("csrf")
    spec = f"/list/{desk.spec_id('Low Tide Letter')}"
    for version, units in enumerate(("oz", "cl", "ml"), start=1):
        desk.done("/settings", **{**settings, "units": units, "version": str(version)})
        desk.done(f"{spec}/edit", **edited(desk, spec))
    assert len(list(desk.get(f"{spec}/versions").every(class_="version"))) == 1


def test_without_a_name_nothing_is_kept_and_the_drink_is_not_lost(desk: Desk) -> None:
    answer = desk.send("/list", **{**DRINK, "name": "  "})
    assert answer.status_code == 422
    for pour in DRINK["pour"]:
        assert f'value="{pour}"' in answer.text
    assert "needs a name" in answer.text


def test_an_edit_is_a_new_version_and_the_difference_is_told(desk: Desk) -> None:
    spec = kept(desk)
    fields = edited(desk, spec, reason="drier")
    fields["amount"] = ["45 ml", *fields["amount"][1:]]
    desk.done(f"{spec}/edit", **fields)
    page = desk.get(f"{spec}/versions")
    table = page.first("table").text
    assert "bourbon whiskey 50 mL 45 mL" in table
    assert "drier" in page.text


def test_a_stale_save_keeps_what_was_typed_and_says_who_changed_what(desk: Desk) -> None:
    spec = kept(desk)
    first = edited(desk, spec)
    second = dict(first)
    first["amount"] = ["45 ml", *first["amount"][1:]]
    second["amount"] = ["60 ml", *second["amount"][1:]]
    desk.done(f"{spec}/edit", **first)
    late = desk.send(f"{spec}/edit", **second)
    assert late.status_code == 409
    assert "local changed this spec" in late.text
    assert 'value="60 ml"' in late.text
    assert "45 mL bourbon whiskey" in late.text
    assert "45 mL" in desk.get(spec).first(class_="build").text
    again = {**second, "version": "2"}
    desk.done(f"{spec}/edit", **again)
    assert "60 mL" in desk.get(spec).first(class_="build").text


def test_what_cannot_be_read_stands_at_its_field_beside_what_was_typed(desk: Desk) -> None:
    spec = kept(desk)
    fields = edited(desk, spec, name="", seconds="long")
    fields["bottle"] = ["burbon wisky", *fields["bottle"][1:]]
    fields["amount"] = ["a lot", *fields["amount"][1:]]
    answer = desk.send(f"{spec}/edit", **fields)
    assert answer.status_code == 422
    for typed in ("burbon wisky", "a lot", "long"):
        assert f'value="{typed}"' in answer.text
    assert answer.text.count("field-error") >= 3


def test_a_spec_written_by_hand_in_ounces_and_dashes(desk: Desk) -> None:
    spec = desk.done(
        "/list/new",
        name="By hand",
        bottle=["bourbon", "sweet vermouth", "aromatic bitters", ""],
        amount=["1 1/2 oz", "3/4 oz", "2 dashes", ""],
        coffee="none",
    )
    words = desk.get(spec).first(class_="build").text
    assert "44.4 mL" in words  # 1.5 US fluid ounces, NIST Handbook 44, Appendix C
    assert "2 dashes" in words


def test_a_spec_goes_on_the_list_and_is_retired(desk: Desk) -> None:
    spec = kept(desk)
    desk.done(f"{spec}/status", status="on the list", version="1")
    assert desk.get(spec).text.count("On the list;") == 1
    desk.done(f"{spec}/status", status="retired", version="2")
    assert "First try" in desk.get("/list").first("details").text
    stale = desk.send(f"{spec}/status", status="draft", version="2")
    assert stale.status_code == 409


def test_the_sentence_for_a_guest_is_one_link_from_the_list(desk: Desk) -> None:
    links = [a for a in desk.get("/list").every("a") if a.text.startswith("Tell")]
    assert len(links) == 5
    page = desk.get(links[0].attributes["href"])
    assert page.first(class_="say").text
    assert page.first("details", id="evidence")


def test_a_drink_whose_bottle_is_out_says_so_on_the_list(desk: Desk) -> None:
    desk.done("/rescue/mark", bottle="fig-liqueur", now="out")
    links = [a.attributes["href"] for a in desk.get("/list").every("a")]
    assert "/rescue?bottle=fig-liqueur" in links


def test_an_empty_list_teaches_where_to_begin(empty_desk: Desk) -> None:
    said = empty_desk.get("/list").first(class_="empty")
    assert "begins with a coffee" in said.text
    assert said.first("a").attributes["href"] == "/"


def test_a_form_without_its_token_changes_nothing(desk: Desk) -> None:
    answer = desk.client.post("/list", data={**DRINK, "name": "Sneaked in"})
    assert answer.status_code == 403
    assert "Sneaked in" not in desk.get("/list").text
