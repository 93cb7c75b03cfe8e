"""The house itself: its settings, who may look in from outside, and who changed what."""

from __future__ import annotations

from service.bar import (
    ApiToken,
    AuditLine,
    Bar,
    BarSettings,
    BarSpec,
    GuestLink,
    Scope,
    audit_lines,
    guest_spec,
    list_api_tokens,
    list_guest_links,
    make_api_token,
    make_guest_link,
    read_bar_settings,
    revoke_api_token,
    revoke_guest_link,
    token_holder,
    write_bar_settings,
)


def bar_settings(bar: Bar) -> BarSettings:
    """Name, place, units, lattice, country, currency and language of the bar."""
    with bar.look() as unit:
        return read_bar_settings(unit)


def change_bar_settings(bar: Bar, who: str, settings: BarSettings) -> BarSettings:
    """Keep other settings; `settings.version` is the one that was seen."""
    with bar.unit(who) as unit:
        return write_bar_settings(unit, settings)


def guest_links(bar: Bar, spec_id: int | None = None) -> tuple[GuestLink, ...]:
    """Links that are open."""
    with bar.look() as unit:
        return list_guest_links(unit, spec_id)


def invite_guests(bar: Bar, who: str, spec_id: int) -> GuestLink:
    """A new link to a spec's guest page."""
    with bar.unit(who) as unit:
        return make_guest_link(unit, spec_id)


def close_guest_link(bar: Bar, who: str, link_id: int) -> GuestLink:
    """The link leads nowhere from now on."""
    with bar.unit(who) as unit:
        return revoke_guest_link(unit, link_id)


def spec_for_guest(bar: Bar, token: str) -> BarSpec:
    """What an open link shows; NotFound for any other."""
    with bar.look() as unit:
        return guest_spec(unit, token)


def api_tokens(bar: Bar) -> tuple[ApiToken, ...]:
    """Tokens that are good."""
    with bar.look() as unit:
        return list_api_tokens(unit)


def hand_out_token(bar: Bar, who: str, name: str, scopes: frozenset[Scope]) -> tuple[ApiToken, str]:
    """A new token and its words, which are never seen again."""
    with bar.unit(who) as unit:
        return make_api_token(unit, name, scopes)


def call_token_in(bar: Bar, who: str, token_id: int) -> ApiToken:
    """The token opens nothing from now on."""
    with bar.unit(who) as unit:
        return revoke_api_token(unit, token_id)


def bearer(bar: Bar, token: str) -> ApiToken | None:
    """Whose token this is; None where it is nobody's."""
    with bar.look() as unit:
        return token_holder(unit, token)


def changes(
    bar: Bar, *, noun: str = "", key: int | str = "", before: int | None = None, limit: int = 100
) -> tuple[AuditLine, ...]:
    """Who changed what, the latest first."""
    with bar.look() as unit:
        return audit_lines(unit, noun=noun, key=key, before=before, limit=limit)
