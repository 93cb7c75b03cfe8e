"""A week at the bar through the API: every operation on records, every answer as documented."""

from __future__ import annotations

import io
import zipfile

from tests.web.records.asking import Asker, record_operations
from tests.web.records.drafts import BLIND, BOTTLE, COFFEE, OWN, RESCUE, SPEC, TRIAL


def shelf(ask: Asker) -> None:
    bottle = ask("POST", "/shelf", 201, json=BOTTLE)
    assert bottle.items() >= {**BOTTLE, "version": 1, "out": False}.items()
    place = f"/shelf/{bottle['id']}"
    changed = ask("PUT", place, json={**BOTTLE, "ingredient": "Cognac", "price": 35, "version": 1})
    assert (changed["ingredient"], changed["price"], changed["version"]) == ("cognac", 35, 2)
    assert ask("POST", f"{place}/out")["out"] is True
    assert ask("GET", "/shelf?out=true")["total"] == 1
    assert ask("POST", f"{place}/in")["out"] is False
    assert ask("POST", f"{place}/stock", json={"by_ml": -45})["stock_ml"] == 1355
    assert ask("GET", place) == ask("GET", "/shelf?ingredient=cognac")["items"][0]
    file = ask.answer("GET", "/shelf/export")
    assert file.headers["content-type"].startswith("text/csv")
    csv = file.content + b",,armagnac,,,,700,,,,\r\n,,moonbeam,,,,700,,,,\r\n"
    upload = {"file": ("shelf.csv", csv, "text/csv")}
    would = ask("POST", "/shelf/import/preview", files=upload)
    assert ask("GET", "/shelf")["total"] == 1
    done = ask("POST", "/shelf/import", files=upload)
    assert would["counts"] == done["counts"] == {"added": 1, "unchanged": 1}
    assert (done["bad"][0]["line"], done["bad"][0]["column"]) == (4, "ingredient")
    second = ask("GET", "/shelf?ingredient=armagnac")["items"][0]
    ask("DELETE", f"/shelf/{second['id']}?version=1", 204)
    assert ask("GET", "/shelf")["total"] == 1


def own_ingredients(ask: Asker) -> None:
    own = ask("POST", "/own-ingredients", 201, json=OWN)
    assert (own["id"], own["like_id"]) == ("own-kelp-tincture", "saline")
    assert own["composition"]["abv_percent"] == {"low": 38.0, "mid": 40.0, "high": 42.0}
    place = "/own-ingredients/own-kelp-tincture"
    change = {**OWN, "remarks": "from the pier", "version": 1}
    assert ask("PUT", place, json=change)["remarks"] == "from the pier"
    assert ask("GET", "/own-ingredients")["items"] == [ask("GET", place)]
    bottle = ask("POST", "/shelf", 201, json={"ingredient": "kelp tincture", "size_ml": 100})
    assert bottle["ingredient"] == "own-kelp-tincture"
    ask("DELETE", f"{place}?version=2", 409)
    ask("DELETE", f"/shelf/{bottle['id']}?version=1", 204)
    template = ask.answer("GET", "/own-ingredients/template")
    assert {"name", "role", "like", "notes"} <= set(template.text.splitlines()[0].split(","))
    file = ask.answer("GET", "/own-ingredients/export")
    header = file.text.splitlines()[0].split(",")
    row = ["Pier resin" if c == "name" else "base" if c == "role" else "" for c in header]
    row[header.index("notes")] = "smoke:0.8"
    upload = {"file": ("own.csv", file.content + ",".join(row).encode() + b"\r\n", "text/csv")}
    would = ask("POST", "/own-ingredients/import/preview", files=upload)
    assert ask("GET", "/own-ingredients")["total"] == 1
    done = ask("POST", "/own-ingredients/import", files=upload)
    assert would["counts"] == done["counts"] == {"added": 1, "unchanged": 1}
    ask("DELETE", "/own-ingredients/own-pier-resin?version=1", 204)
    ask("DELETE", f"{place}?version=2", 204)


def coffees(ask: Asker) -> int:
    coffee = ask("POST", "/coffees", 201, json=COFFEE)
    other = ask("POST", "/coffees", 201, json={"name": "Cinder Dock", "roast": "dark"})
    change = {**COFFEE, "dose_g": 16, "version": 1}
    assert ask("PUT", f"/coffees/{coffee['id']}", json=change)["dose_g"] == 16
    ask("DELETE", f"/coffees/{other['id']}?version=1", 204)
    assert ask("GET", "/coffees?in_use=true")["items"] == [ask("GET", f"/coffees/{coffee['id']}")]
    number: int = coffee["id"]
    return number


def specs(ask: Asker, coffee: int) -> int:
    written = {
        **SPEC, "coffee_id": coffee, "preparation": {"method": "stirred", "seconds": 40},
        "bed": {"dose_g": 18}, "reason": "first",
    }  # fmt: skip
    spec = ask("POST", "/specs", 201, json=written)
    assert [p["ingredient"] for p in spec["pours"]] == ["cognac", "fig-liqueur", "fig-bitters"]
    assert spec["preparation"] == {"method": "stirred", "seconds": 40.0}
    assert spec["bed"] == {"dose_g": 18.0}
    place = f"/specs/{spec['id']}"
    drier = {**written, "pours": written["pours"][:1], "reason": "too sweet", "version": 1}
    assert ask("PUT", place, json=drier)["revision"] == 2
    listed = ask("POST", f"{place}/status", json={"status": "on the list", "version": 2})
    assert (listed["status"], listed["version"]) == ("on the list", 3)
    assert ask("GET", "/specs?status=on the list")["items"] == [listed]
    assert ask("GET", f"{place}?revision=1")["reason"] == "first"
    assert [r["reason"] for r in ask("GET", f"{place}/revisions")["items"]] == [
        "first",
        "too sweet",
    ]
    told = ask("GET", f"{place}/difference?before=1&after=2")["changes"]
    assert {c["field"] for c in told} == {"pours.fig-liqueur", "pours.fig-bitters"}
    ask("PUT", place, json={**written, "version": 3})
    number: int = spec["id"]
    return number


def tonight(ask: Asker, spec: int) -> None:
    accepted = ask("PUT", f"/specs/{spec}/substitution", json=RESCUE)
    assert accepted["ingredient_out"] == "fig-bitters"
    sheet = ask("GET", f"/specs/{spec}/sheet?night=2026-11-20")
    assert [p["ingredient"] for p in sheet["pours"]] == ["cognac", "fig-liqueur", "orange-bitters"]
    assert sheet["spec"]["pours"][2]["ingredient"] == "fig-bitters"
    assert ask("GET", f"/specs/{spec}/sheet?night=2026-11-21")["substitution"] is None
    assert ask("GET", "/substitutions?night=2026-11-20")["items"] == [accepted]
    ask("DELETE", f"/substitutions/{accepted['id']}?version=1", 204)


def trials(ask: Asker, spec: int) -> None:
    trial = ask("POST", "/trials", 201, json={**TRIAL, "spec_id": spec})
    assert trial["revision"] == 3
    place = f"/trials/{trial['id']}"
    assert ask("POST", f"{place}/undo")["undone_at"]
    assert ask("GET", f"/trials?spec_id={spec}")["total"] == 0
    assert ask("GET", f"/trials?spec_id={spec}&undone=true")["total"] == 1
    assert ask("POST", f"{place}/redo")["undone_at"] is None
    assert ask("GET", place) == ask("GET", "/trials")["items"][0]


def blind_tests(ask: Asker) -> None:
    test = ask("POST", "/blind-tests", 201, json=BLIND)
    place = f"/blind-tests/{test['id']}"
    for serving in test["plan"]["servings"]:
        said = {"seat": serving["seat"], "answer": serving["right"], "taster": "MB"}
        kept = ask("POST", f"{place}/answers", 201, json=said)
    ask("DELETE", f"{place}/answers/{kept['id']}?version=1", 204)
    assert len(ask("GET", place)["answers"]) == 5
    closed = ask("POST", f"{place}/close", json={"version": 1})
    # Exact binomial, as ISO 4120: by guessing, 4 or 5 of 5 happen 11/243 < 5 % of the time.
    assert (closed["result"]["correct"], closed["result"]["fewest_correct"]) == (5, 4)
    assert closed["result"]["significant"] is True
    assert ask("GET", "/blind-tests")["items"] == [closed]
    ask("POST", f"{place}/close", 409, json={"version": 2})


def guests(ask: Asker, spec: int) -> None:
    link = ask("POST", "/guest-links", 201, json={"spec_id": spec})
    assert link["address"] == f"/g/{link['token']}"
    assert ask("GET", f"/guest-links?spec_id={spec}")["items"] == [link]
    assert ask("DELETE", f"/guest-links/{link['id']}")["revoked_at"]
    assert ask("GET", "/guest-links")["items"] == []


def the_bar(ask: Asker) -> None:
    assert ask("GET", "/bar/settings")["version"] == 0
    settings = {"name": "The Salt Stair", "units": "oz", "lattice": "1/4 oz", "version": 0}
    assert ask("PUT", "/bar/settings", json=settings)["version"] == 1
    made = ask("POST", "/bar/tokens", 201, json={"name": "till", "scopes": ["read"]})
    assert ask("GET", "/bar/tokens")["items"] == [made["token"]]
    assert ask("DELETE", f"/bar/tokens/{made['token']['id']}")["revoked_at"]
    latest, *_ = ask("GET", "/bar/changes?limit=5")["items"]
    assert (latest["noun"], latest["what"], latest["who"]) == ("API token", "changed", "local")
    export = ask.answer("GET", "/bar/export")
    names = zipfile.ZipFile(io.BytesIO(export.content)).namelist()
    assert {"datapackage.json", "bottles.csv", "specs.csv"} <= set(names)


def test_a_week_at_the_bar(ask: Asker) -> None:
    shelf(ask)
    own_ingredients(ask)
    spec = specs(ask, coffees(ask))
    tonight(ask, spec)
    trials(ask, spec)
    blind_tests(ask)
    guests(ask, spec)
    the_bar(ask)
    assert record_operations(ask.client) - ask.seen == set()
