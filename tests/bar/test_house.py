"""Settings, coffees, guest links, API tokens and the demo bar."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from threading import Thread

import pytest
from sqlalchemy import text

from service.bar import (
    Bar,
    BarSettings,
    CoffeeDraft,
    Language,
    Lattice,
    Scope,
    SpecStatus,
    Units,
    add_coffee,
    audit_lines,
    bottles_on_shelf,
    guest_spec,
    list_api_tokens,
    list_coffees,
    list_guest_links,
    list_specs,
    load_demo,
    make_api_token,
    make_guest_link,
    open_bar,
    read_bar_settings,
    revoke_api_token,
    revoke_guest_link,
    rewrite_coffee,
    token_holder,
    write_bar_settings,
)
from service.ingredients import Catalogue
from service.ingredients.records import Grind, Roast
from service.kit import BadData, Conflict, NotFound, OutOfRange
from tests.bar.drafts import COFFEE, WHO, a_bottle, a_spec


def test_a_new_bar_has_usual_settings_and_keeps_others(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        assert read_bar_settings(unit) == BarSettings()
        mine = BarSettings(
            name="The Salt Stair", units=Units.OZ, lattice=Lattice.QUARTER_OUNCE, country="us",
            currency="usd", language=Language.GERMAN,
        )  # fmt: skip
        kept = write_bar_settings(unit, mine)
        assert (kept.country, kept.currency, kept.version) == ("US", "USD", 1)
        assert read_bar_settings(unit) == kept
        assert kept.lattice.step_ml == pytest.approx(29.5735 / 4, abs=1e-4)


def test_two_first_settings_are_a_conflict(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        write_bar_settings(unit, BarSettings(name="one"))
    with pytest.raises(Conflict, match="one"), bar.unit(WHO) as unit:
        write_bar_settings(unit, BarSettings(name="other"))


@pytest.mark.parametrize(("field", "value"), [("country", "IRL"), ("currency", "€"), ("name", "")])
def test_settings_that_mean_nothing_are_refused(bar: Bar, field: str, value: str) -> None:
    with pytest.raises(BadData) as caught, bar.unit(WHO) as unit:
        write_bar_settings(unit, replace(BarSettings(), **{field: value}))
    assert caught.value.field == field


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("", ""),
        (" https://Bar.example/ ", "https://bar.example"),
        ("http://192.168.4.20:8017", "http://192.168.4.20:8017"),
        ("http://[2001:db8::7]:8017/", "http://[2001:db8::7]:8017"),  # RFC 3986, section 3.2.2
    ],
)
def test_the_address_for_guests_is_kept_as_a_code_can_carry_it(
    bar: Bar, typed: str, kept: str
) -> None:
    with bar.unit(WHO) as unit:
        assert write_bar_settings(unit, BarSettings(public_address=typed)).public_address == kept


@pytest.mark.parametrize(
    "typed",
    ["bar.example", "ftp://bar.example", "https://bar.example/menu", "https://ab@bar.example",
     "https://bar.example:x", "https://", "https://bar example", "http://[2001:db8::7"],
)  # fmt: skip
def test_what_is_no_address_for_guests_is_refused(bar: Bar, typed: str) -> None:
    with pytest.raises(BadData) as caught, bar.unit(WHO) as unit:
        write_bar_settings(unit, BarSettings(public_address=typed))
    assert caught.value.field == "public_address"


def test_coffees_in_use_stand_first_the_freshest_on_top(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        old = add_coffee(unit, replace(COFFEE, name="old", roasted_on=date(2026, 11, 1)))
        add_coffee(unit, replace(COFFEE, name="undated"))
        add_coffee(unit, replace(COFFEE, name="fresh", roasted_on=date(2026, 11, 16)))
        rewrite_coffee(unit, old.id, old.version, replace(old, in_use=False))
        assert [c.name for c in list_coffees(unit)] == ["fresh", "undated", "old"]
        assert len(list_coffees(unit, in_use_only=True)) == 2
        assert old.age_days(date(2026, 11, 16)) == 15
        assert old.profile.id == "coffee-medium-washed-arabica"


def test_a_coffee_comes_back_as_it_was_written(bar: Bar) -> None:
    draft = CoffeeDraft(
        name="Cinder Dock", roast=Roast.DARK, notes="cedar\nmolasses", dose_g=12.5,
        grind=Grind.COARSE, decaf=True, roasted_on=date(2026, 11, 9),
    )  # fmt: skip
    with bar.unit(WHO) as unit:
        kept = add_coffee(unit, draft)
        assert list_coffees(unit) == (kept,)
        for name in CoffeeDraft.__dataclass_fields__:
            assert getattr(kept, name) == getattr(draft, name)


@pytest.mark.parametrize("dose_g", [1.9, 1001.0])
def test_no_filter_holds_such_a_dose(bar: Bar, dose_g: float) -> None:
    with pytest.raises(OutOfRange), bar.unit(WHO) as unit:
        add_coffee(unit, replace(COFFEE, dose_g=dose_g))


def test_a_guest_link_is_short_and_open_until_it_is_revoked(bar: Bar, catalogue: Catalogue) -> None:
    spec = a_spec(bar, catalogue)
    with bar.unit(WHO) as unit:
        link, other = make_guest_link(unit, spec.id), make_guest_link(unit, spec.id)
        assert guest_spec(unit, f" {link.token.upper()} ") == spec
        assert len(link.token) == 14
        assert not set(link.token) & set("01ilo")
        revoked = revoke_guest_link(unit, link.id)
        assert revoke_guest_link(unit, link.id) == revoked
        assert list_guest_links(unit) == (other,)
        with pytest.raises(NotFound):
            guest_spec(unit, link.token)
        with pytest.raises(NotFound):
            make_guest_link(unit, 404)


def test_guest_links_are_never_alike(bar: Bar, catalogue: Catalogue) -> None:
    spec = a_spec(bar, catalogue)
    with bar.unit(WHO) as unit:
        tokens = [make_guest_link(unit, spec.id).token for _ in range(200)]
    assert len(set(tokens)) == 200
    # Each of 31 signs is expected 200 x 14 / 31 = 90 times; five standard deviations (47) apart
    # from that would be one chance in a million, so a sign that is never drawn is found.
    counts = {sign: "".join(tokens).count(sign) for sign in set("".join(tokens))}
    assert len(counts) == 31
    assert max(counts.values()) < 140
    assert min(counts.values()) > 43


def test_a_token_is_kept_as_a_hash_and_opens_what_it_may(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        token, words = make_api_token(unit, "till", frozenset({Scope.READ}))
        assert token_holder(unit, words) == token
        assert (token.may(Scope.READ), token.may(Scope.WRITE)) == (True, False)
        assert token_holder(unit, words[:-1]) is None
        assert token_holder(unit, "half \ud83d") is None
        stored = unit.connection.execute(text("SELECT * FROM api_tokens")).all()
        said = [line.changes for line in audit_lines(unit)]
        assert words not in str(stored)
        assert words not in str(said)
        revoke_api_token(unit, token.id)
        assert token_holder(unit, words) is None
        assert list_api_tokens(unit) == ()


def test_a_token_that_may_nothing_is_refused(bar: Bar) -> None:
    with pytest.raises(BadData), bar.unit(WHO) as unit:
        make_api_token(unit, "till", frozenset())


def test_the_demo_fills_an_empty_bar(bar: Bar, catalogue: Catalogue) -> None:
    assert load_demo(bar, catalogue)
    with bar.look() as unit:
        assert read_bar_settings(unit).name == "The Salt Stair"
        shelf = {bottle.ingredient for bottle in bottles_on_shelf(unit)}
        specs = list_specs(unit)
        assert {c.name for c in list_coffees(unit)} == {
            "Lantern Lot 4",
            "Breakwater",
            "Cinder Dock",
        }
    assert [s.status for s in specs].count(SpecStatus.LISTED) == 4
    # Whatever a demo drink pours stands on the demo shelf.
    assert {pour.ingredient for spec in specs for pour in spec.pours} <= shelf
    assert not load_demo(bar, catalogue)


def test_the_demo_touches_no_bar_that_has_anything(bar: Bar, catalogue: Catalogue) -> None:
    a_bottle(bar, catalogue)
    assert not load_demo(bar, catalogue)
    with bar.look() as unit:
        assert len(bottles_on_shelf(unit)) == 1
        assert list_specs(unit) == ()


def test_of_several_that_start_together_one_fills_the_bar(
    database_url: str, catalogue: Catalogue
) -> None:
    bars = [open_bar(database_url) for _ in range(4)]
    filled: list[bool] = []
    threads = [Thread(target=lambda b=b: filled.append(load_demo(b, catalogue))) for b in bars]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with bars[0].look() as unit:
        assert len(list_coffees(unit)) == 3
    for each in bars:
        each.close()
    assert sorted(filled) == [False, False, False, True]


def test_audit_lines_are_read_page_by_page(bar: Bar) -> None:
    with bar.unit(WHO) as unit:
        for number in range(5):
            add_coffee(unit, replace(COFFEE, name=f"coffee {number}"))
        latest = audit_lines(unit, limit=2)
        older = audit_lines(unit, limit=10, before=latest[-1].id)
        names = [line.changes["name"][1] for line in (*latest, *older)]
        assert names == [f"coffee {number}" for number in (4, 3, 2, 1, 0)]
        json.dumps([dict(line.changes) for line in older])
        with pytest.raises(OutOfRange):
            audit_lines(unit, limit=0)
