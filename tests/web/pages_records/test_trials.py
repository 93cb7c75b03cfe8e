"""Trials: what nobody touched teaches nothing, what was measured does, and undo leaves no trace."""

from __future__ import annotations

import re

from tests.web.pages_records.conftest import Desk, Value


def form(desk: Desk, spec: str, **changed: Value) -> dict[str, Value]:
    fields = desk.values(f"{spec}/trial", f"{spec}/trial")
    fields.pop("csrf")
    return {**fields, **changed}


def measured(desk: Desk, spec: str, out: str, seconds: str) -> dict[str, Value]:
    """Both numbers measured, also where one is just what was foretold."""
    ticked: dict[str, Value] = {"same_liquid_out_ml": "yes", "same_drain_seconds": "yes"}
    return form(desk, spec, liquid_out_ml=out, drain_seconds=seconds, **ticked)


def low_tide(desk: Desk) -> str:
    return f"/list/{desk.spec_id('Low Tide Letter')}"


def learnt(desk: Desk) -> str:
    return desk.get("/learning").first(class_="learnt").text


def test_the_numbers_start_at_the_forecast_and_say_its_range(desk: Desk) -> None:
    page = desk.get(f"{low_tide(desk)}/trial")
    field = page.first("input", id="liquid_out_ml").attributes["value"]
    assert f"foretold {field} (" in page.first("fieldset", class_="measure").text


def test_an_untouched_form_keeps_nothing(desk: Desk) -> None:
    spec = low_tide(desk)
    answer = desk.send(f"{spec}/trial", **form(desk, spec))
    assert answer.status_code == 422
    assert "nothing was kept" in answer.text


def test_tasting_alone_leaves_the_forecast_as_it_is(desk: Desk) -> None:
    """A forecast that nobody measured against must not confirm itself."""
    spec, before = low_tide(desk), learnt(desk)
    desk.done(f"{spec}/trial", **form(desk, spec, sweetness="0", liking="8"))
    assert learnt(desk) == before
    assert "1 tasting" in desk.get("/learning").first("main").text


def test_a_number_that_was_moved_counts_as_measured(desk: Desk) -> None:
    spec, before = low_tide(desk), learnt(desk)
    kept = desk.done(f"{spec}/trial", **form(desk, spec, liquid_out_ml="95"))
    assert learnt(desk) != before
    page = desk.get(kept)
    assert "95 mL out" in page.first("main").text
    assert " s," not in page.first(class_="page-head").text


def test_just_so_counts_the_forecast_as_measured(desk: Desk) -> None:
    spec, before = low_tide(desk), learnt(desk)
    desk.done(f"{spec}/trial", **form(desk, spec, same_drain_seconds="yes"))
    assert learnt(desk) != before


def test_undo_takes_a_trial_and_its_influence_away_exactly(desk: Desk) -> None:
    spec = low_tide(desk)
    for out in ("97", "101", "99"):
        desk.done(f"{spec}/trial", **measured(desk, spec, out, "170"))
    before = learnt(desk)
    forecast = form(desk, spec)["foretold_liquid_out_ml"]
    odd = desk.done(f"{spec}/trial", **measured(desk, spec, "70", "400"))
    assert learnt(desk) != before
    desk.done(odd, count="no")
    assert learnt(desk) == before
    assert form(desk, spec)["foretold_liquid_out_ml"] == forecast
    assert "Undone" in desk.get(odd).first("h1").text
    desk.done(odd, count="again")
    assert learnt(desk) != before


def test_trials_draw_the_forecast_towards_what_was_measured(desk: Desk) -> None:
    spec = low_tide(desk)
    first = float(str(form(desk, spec)["foretold_liquid_out_ml"]))
    for _ in range(4):
        desk.done(f"{spec}/trial", **measured(desk, spec, f"{first - 12:g}", "150"))
    now = float(str(form(desk, spec)["foretold_liquid_out_ml"]))
    assert abs(now - (first - 12)) < 3


def test_the_page_of_a_trial_says_the_forecast_without_it_and_with_it(desk: Desk) -> None:
    spec = low_tide(desk)
    kept = desk.done(f"{spec}/trial", **form(desk, spec, liquid_out_ml="90"))
    table = desk.get(kept).first("table")
    assert "without this trial" in table.text
    cells = [cell.text for cell in table.every("td")]
    assert cells[0] != cells[1]


def test_minus_and_plus_work_without_a_script(desk: Desk) -> None:
    spec = low_tide(desk)
    fields = form(desk, spec)
    before = float(str(fields["liquid_out_ml"]))
    answer = desk.send(f"{spec}/trial", **{**fields, "step": "liquid_out_ml=-2", "sweetness": "1"})
    assert answer.status_code == 200
    moved = re.search(r'id="liquid_out_ml" value="([^"]*)"', answer.text)
    assert moved is not None
    assert float(moved[1]) == before - 2
    assert re.search(r'name="sweetness" value="1" checked', answer.text)
    assert "no trial" in desk.get("/learning").first("main").text.lower()


def test_a_number_that_cannot_be_read_keeps_every_tap(desk: Desk) -> None:
    spec = low_tide(desk)
    answer = desk.send(
        f"{spec}/trial", **form(desk, spec, liquid_out_ml="much", bitterness="-1", liking="6")
    )
    assert answer.status_code == 422
    assert 'value="much"' in answer.text
    assert re.search(r'name="bitterness" value="-1" checked', answer.text)
    assert re.search(r'name="liking" value="6" checked', answer.text)


def test_more_out_than_in_is_asked_about(desk: Desk) -> None:
    spec = low_tide(desk)
    answer = desk.send(f"{spec}/trial", **form(desk, spec, liquid_out_ml="130", liquid_in_ml="115"))
    assert answer.status_code == 422
    assert "mixed up" in answer.text


def test_the_learning_page_teaches_before_the_first_trial(empty_desk: Desk) -> None:
    said = empty_desk.get("/learning").first(class_="empty").text
    assert "No trial has been measured yet" in said


def test_pictures_of_what_was_learnt_are_drawn(desk: Desk) -> None:
    spec = low_tide(desk)
    desk.done(f"{spec}/trial", **form(desk, spec, liquid_out_ml="95", drain_seconds="180"))
    uses = [u.attributes["href"] for u in desk.get("/learning").every("use")]
    assert len(uses) == 2
    for use in uses:
        answer = desk.client.get(use.split("#")[0])
        assert answer.status_code == 200
        assert answer.headers["content-type"] == "image/svg+xml"
        assert 'id="picture"' in answer.text


def test_a_refractometer_alone_teaches_what_the_coffee_gives(desk: Desk) -> None:
    """And the share by weight counts in the liquid: 1.5 % of about 970 g/L is 14 to 15 g/L."""
    spec = low_tide(desk)
    before = desk.get(f"{spec}/trial").first("details", id="refractometer")
    assert "open" not in before.attributes
    kept = desk.done(f"{spec}/trial", **form(desk, spec, solids_g_per_l="1.5"))
    told = desk.get(kept).first("main").text
    found = re.search(r"([\d.]+) g/L of dissolved coffee", told)
    assert found is not None
    assert 13.5 < float(found[1]) < 15.5
    assert "has dissolved coffee of" in told
    extraction = desk.get("/learning").first(class_="learnt").text.split("Extraction")[1]
    assert "1 trial" in extraction
    retention = desk.get("/learning").first(class_="learnt").text.split("Draining")[0]
    assert "no trial" in retention


def test_solids_in_grams_are_kept_as_they_are_and_the_api_takes_them_too(desk: Desk) -> None:
    spec = low_tide(desk)
    desk.done(f"{spec}/trial", **form(desk, spec, solids_g_per_l="14,2", solids_unit="g/l"))
    said = {"spec_id": int(spec.rsplit("/", 1)[1]), "solids_g_per_l": 14.2, "drain_seconds": 150}
    assert desk.client.post("/api/v1/trials", json=said).status_code == 201
    trials = desk.client.get("/api/v1/trials").json()["items"]
    assert [trial["conditions"]["solids_g_per_l"] for trial in trials] == [14.2, 14.2]
    assert "2 trials" in desk.get("/learning").first(class_="learnt").text.split("Extraction")[1]


def test_solids_that_cannot_be_stay_in_the_form(desk: Desk) -> None:
    spec = low_tide(desk)
    answer = desk.send(f"{spec}/trial", **form(desk, spec, solids_g_per_l="80"))
    assert answer.status_code == 422
    assert 'value="80"' in answer.text
    assert "outside" in answer.text


def test_a_bar_of_ounces_measures_in_ounces(desk: Desk) -> None:
    settings = desk.values("/settings", "/settings")
    settings.pop("csrf")
    desk.done("/settings", **{**settings, "units": "oz"})
    spec = low_tide(desk)
    desk.done(f"{spec}/trial", **form(desk, spec, liquid_out_ml="3"))
    (trial,) = desk.client.get("/api/v1/trials").json()["items"]
    # 3 x 29.5735295625 mL (NIST Handbook 44, Appendix C).
    assert abs(trial["liquid_out_ml"] - 88.7206) < 1e-3
