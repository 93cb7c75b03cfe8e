"""Sheets of paper, and what guests may read."""

from __future__ import annotations

import re

from tests.web.pages_records.conftest import Desk, form_values, number_in

LOW_TIDE = "Low Tide Letter"


def guest_path(desk: Desk, spec: int) -> str:
    desk.done(f"/list/{spec}/guests")
    links = desk.get(f"/list/{spec}/guests").every("a")
    return next(a.attributes["href"] for a in links if a.attributes["href"].startswith("/g/"))


def test_a_batch_makes_up_what_the_bed_keeps(desk: Desk) -> None:
    """More than so many times the spec is poured, by the factor that the page names."""
    page = desk.get(f"/list/{desk.spec_id(LOW_TIDE)}/batch?serves=10")
    told = re.search(r"times ([\d.]+), the coffee", page.text)
    assert told is not None
    factor = float(told[1])
    assert factor > 1.05
    poured = number_in(
        page.first("table", class_="sheet").first("strong").text.replace("\u202f", "")
    )
    assert abs(poured - 450.0 * factor) < 5.0


def test_a_batch_for_the_glass_of_the_spec_pours_the_spec(desk: Desk) -> None:
    spec = desk.spec_id(LOW_TIDE)
    page = desk.get(f"/list/{spec}")
    glass = page.first("dl", class_="figures").first(class_="value").text
    sheet = desk.get(f"/list/{spec}/batch?serves=10&wanted={number_in(glass):g}")
    poured = number_in(
        sheet.first("table", class_="sheet").first("strong").text.replace("\u202f", "")
    )
    assert abs(poured - 450.0) < 20.0


def test_cost_and_price_stand_on_the_sheet(desk: Desk) -> None:
    page = desk.get(f"/list/{desk.spec_id(LOW_TIDE)}/batch?serves=10&price=14&target=25")
    told = page.first("main").text
    assert "price for 25 % pour cost" in told
    assert "pour cost at 14.00" in told
    assert "before tax" in told


def test_numbers_that_cannot_be_read_stay_in_the_form(desk: Desk) -> None:
    page = desk.get(f"/list/{desk.spec_id(LOW_TIDE)}/batch?serves=many", status=422)
    assert page.first("input", id="serves").attributes["value"] == "many"
    assert "is no number" in page.first(class_="problem").text


def test_the_card_says_all_that_whoever_makes_it_needs(desk: Desk) -> None:
    told = desk.get(f"/list/{desk.spec_id(LOW_TIDE)}/card").first(class_="card").text
    for words in ("45 mL", "15 g of Breakwater", "Allergens sulphites", "Alcohol", "Caffeine"):
        assert words in told


def test_the_menu_holds_the_list_and_no_draft(desk: Desk) -> None:
    told = desk.get("/menu").first(class_="menu").text
    assert LOW_TIDE in told
    assert "Cold Anchor" not in told
    assert "allergies" in told


def test_the_shopping_list_buys_what_the_shelf_lacks(desk: Desk) -> None:
    """30 serves of 15 mL are 450 mL; 500 mL stand there, until the bottle is out."""
    assert "fig liqueur" not in desk.get("/shopping?serves=30").first("main").text
    desk.done("/rescue/mark", bottle="fig-liqueur", now="out")
    assert "fig liqueur" in desk.get("/shopping?serves=30").first("main").text


def test_a_guest_reads_the_sentence_and_what_is_in_it(desk: Desk) -> None:
    page = desk.get(guest_path(desk, desk.spec_id(LOW_TIDE)))
    told = page.first("main").text
    assert page.first(class_="say").text
    for words in ("Allergens Sulphites", "Alcohol", "standard drinks (IE)", "Caffeine"):
        assert words in told


def test_a_guest_reads_nothing_of_cost_stock_notes_or_initials(desk: Desk) -> None:
    spec = desk.spec_id(LOW_TIDE)
    path = f"/list/{spec}/trial"
    fields = form_values(desk.get(path), path)
    fields.pop("csrf")
    desk.done(path, **{**fields, "liking": "3", "words": "muddy", "taster": "QZ"})
    guest = guest_path(desk, spec)
    text = desk.client.get(guest).text
    for secret in ("EUR", "speed rail", "cane, amber", "fridge", "muddy", "QZ", "45 mL", "demo",
                   "/list", "/shelf", "700"):  # fmt: skip
        assert secret not in text


def test_a_guest_needs_no_cookie_and_gets_none(desk: Desk) -> None:
    guest = guest_path(desk, desk.spec_id(LOW_TIDE))
    desk.client.cookies.clear()
    for path in (guest, f"{guest}/code.svg"):
        answer = desk.client.get(path)
        assert answer.status_code == 200
        assert "set-cookie" not in answer.headers


def test_a_closed_address_leads_nowhere(desk: Desk) -> None:
    spec = desk.spec_id(LOW_TIDE)
    guest = guest_path(desk, spec)
    closing = desk.get(f"/list/{spec}/guests").first("button", name="close")
    desk.done(f"/list/{spec}/guests", close=closing.attributes["value"])
    desk.get(guest, status=404)
    assert desk.client.get(f"{guest}/code.svg").status_code == 404
    desk.get("/g/guessed23456789", status=404)


def test_the_code_is_the_address_in_squares(desk: Desk) -> None:
    """As large as that address needs (ISO/IEC 18004), with the quiet zone of four modules."""
    import segno

    guest = guest_path(desk, desk.spec_id(LOW_TIDE))
    drawn = desk.client.get(f"{guest}/code.svg").text
    wanted = segno.make(f"http://127.0.0.1:8017{guest}", error="m", micro=False)
    side = wanted.symbol_size(scale=8, border=4)[0]
    assert f'width="{side}"' in drawn
    assert "style=" not in drawn


def test_settings_are_kept_and_reach_the_amounts(desk: Desk) -> None:
    fields = desk.values("/settings", "/settings")
    fields.pop("csrf")
    desk.done("/settings", **{**fields, "units": "oz", "country": "GB"})
    told = desk.get(f"/list/{desk.spec_id(LOW_TIDE)}/card").text
    assert "1½ oz" in told
    assert "(GB)" in told
    late = desk.send("/settings", **{**fields, "name": "Other"})
    assert late.status_code == 409
    assert 'value="Other"' in late.text


def test_an_own_ingredient_is_described_in_words_and_poured(desk: Desk) -> None:
    wrong = desk.send("/own/new", name="Fig shrub", role="sweetener", notes="fig, quench")
    assert wrong.status_code == 422
    assert "quench" in wrong.text
    desk.done("/own/new", name="Fig shrub", role="sweetener", notes="dried fig, no smoke",
              like="demerara syrup 2:1", abv="0", sugar_g_per_l="300")  # fmt: skip
    assert "Fig shrub" in desk.get("/own").first("main").text
    spec = desk.done("/list/new", name="Shrubbed", bottle=["bourbon", "fig shrub"],
                     amount=["50 ml", "10 ml"], coffee="none")  # fmt: skip
    assert "Fig shrub" in desk.get(spec).first(class_="build").text
    assert desk.get(f"{spec}/tell").first(class_="say").text


def test_a_blind_test_is_drawn_answered_and_judged(desk: Desk) -> None:
    path = desk.done("/blind-tests", name="Salt?", kind="triangle", assessors="3",
                     first="with", second="without")  # fmt: skip
    rows = [row for row in desk.get(path).every("tr") if row.attributes.get("id")]
    assert len(rows) == 3
    for row in rows:
        desk.done(path, answer=row.first("button", name="answer").attributes["value"])
    close = desk.get(path).first("button", name="close").attributes["value"]
    desk.done(path, close=close)
    assert "The result" in desk.get(path).first("main").text
