"""Two tablets, one record: the second to write is told what the first changed; nothing is lost."""

from __future__ import annotations

from typing import Any

import pytest

from tests.web.records.asking import Asker
from tests.web.records.conftest import Workers
from tests.web.records.drafts import BOTTLE, COFFEE, OWN, RESCUE, SPEC

Json = dict[str, Any]
NOUNS = ("shelf", "own-ingredients", "coffees", "specs")
DRAFTS: dict[str, Json] = {
    "shelf": BOTTLE, "own-ingredients": OWN, "coffees": COFFEE, "specs": SPEC
}  # fmt: skip
FIRST: dict[str, Json] = {
    "shelf": {"label": "top shelf"}, "own-ingredients": {"remarks": "from the pier"},
    "coffees": {"dose_g": 17}, "specs": {"garnish": "a fig leaf"},
}  # fmt: skip
SECOND: dict[str, Json] = {
    "shelf": {"notes": "the second"}, "own-ingredients": {"remarks": "the second"},
    "coffees": {"notes": "the second"}, "specs": {"method": "the second"},
}  # fmt: skip


@pytest.mark.parametrize("noun", NOUNS)
def test_the_second_tablet_is_told_what_the_first_changed(worker: Workers, noun: str) -> None:
    one, other = worker(), worker()
    draft = DRAFTS[noun]
    made = one("POST", f"/{noun}", 201, json=draft)
    place = f"/{noun}/{made['id']}"
    seen = {"version": other("GET", place)["version"]}
    changed = one("PUT", place, json={**draft, **FIRST[noun], **seen})
    problem = other("PUT", place, 409, json={**draft, **SECOND[noun], **seen})
    assert problem["type"] == "/problems/conflict"
    assert problem["errors"][0]["field"] == "version"
    (field, value) = next(iter(FIRST[noun].items()))
    assert f"{field} is now {value}" in problem["detail"]
    assert "local changed this" in problem["detail"]
    assert other("GET", place) == changed
    again = {**draft, **FIRST[noun], **SECOND[noun], "version": changed["version"]}
    both = other("PUT", place, json=again)
    assert both.items() >= {**FIRST[noun], **SECOND[noun]}.items()


@pytest.mark.parametrize("noun", NOUNS)
def test_a_removal_after_a_change_is_refused(worker: Workers, noun: str) -> None:
    ask = worker()
    if noun == "specs":  # a spec is retired, never removed
        assert ask.client.delete("/api/v1/specs/1").status_code == 405
        return
    made = ask("POST", f"/{noun}", 201, json=DRAFTS[noun])
    place = f"/{noun}/{made['id']}"
    ask("PUT", place, json={**DRAFTS[noun], **FIRST[noun], "version": 1})
    ask("DELETE", f"{place}?version=1", 409)
    ask("DELETE", place, 204, headers={"if-match": '"2"'})
    ask("GET", place, 404)


def test_the_etag_is_the_version_and_may_be_sent_back(ask: Asker) -> None:
    made = ask.answer("POST", "/specs", json=SPEC)
    place = made.headers["location"].removeprefix("/api/v1")
    assert made.headers["etag"] == '"1"'
    for tag, status in (('"1"', 200), ('"1"', 409), ('W/"2"', 200), ("3", 200)):
        change = {**SPEC, "garnish": f"for {tag} {status}"}
        answer = ask.answer("PUT", place, json=change, headers={"if-match": tag})
        assert answer.status_code == status
    assert answer.headers["etag"] == '"4"' == ask.answer("GET", place).headers["etag"]


@pytest.mark.parametrize(
    ("version", "tag", "field"),
    [
        ({}, {}, "version"),
        ({}, {"if-match": "*"}, "if-match"),
        ({}, {"if-match": '"one"'}, "if-match"),
        ({}, {"if-match": '"1", "2"'}, "if-match"),
        ({"version": 1}, {"if-match": '"2"'}, "version"),
    ],
)
def test_who_does_not_say_what_was_seen_changes_nothing(
    ask: Asker, version: Json, tag: Json, field: str
) -> None:
    made = ask("POST", "/coffees", 201, json=COFFEE)
    place = f"/coffees/{made['id']}"
    problem = ask("PUT", place, 422, json={**COFFEE, "dose_g": 20, **version}, headers=tag)
    assert problem["errors"][0]["field"] == field
    assert ask("GET", place) == made


def test_a_second_rescue_has_to_have_seen_the_first(worker: Workers) -> None:
    one, other = worker(), worker()
    spec = one("POST", "/specs", 201, json=SPEC)["id"]
    place = f"/specs/{spec}/substitution"
    kept = one("PUT", place, json=RESCUE)
    assert "already" in other("PUT", place, 409, json=RESCUE)["detail"]
    better = {**RESCUE, "remarks": "with less"}
    assert other("PUT", place, json={**better, "version": 1})["remarks"] == "with less"
    one("DELETE", f"/substitutions/{kept['id']}?version=1", 409)
    one("DELETE", f"/substitutions/{kept['id']}?version=2", 204)


def test_settings_of_a_new_bar_are_written_once(worker: Workers) -> None:
    one, other = worker(), worker()
    assert one("PUT", "/bar/settings", json={"name": "The Salt Stair", "version": 0})
    problem = other("PUT", "/bar/settings", 409, json={"name": "Other", "version": 0})
    assert "name is now The Salt Stair" in problem["detail"]


def test_what_is_true_whatever_was_seen_needs_no_version(worker: Workers) -> None:
    one, other = worker(), worker()
    place = f"/shelf/{one('POST', '/shelf', 201, json=BOTTLE)['id']}"
    assert one("POST", f"{place}/out")["version"] == other("POST", f"{place}/out")["version"] == 2
    one("POST", f"{place}/stock", json={"by_ml": -100})
    assert other("POST", f"{place}/stock", json={"by_ml": -100})["stock_ml"] == 1200
    assert one("POST", f"{place}/stock", 422, json={"by_ml": -5000})["errors"][0]["field"]
