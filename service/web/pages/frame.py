"""What is around every page: the sections, the theme the person chose, where the files lie."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Final
from urllib.parse import urlsplit

from starlette.requests import Request

from service.web.pages.assets import ASSETS
from service.web.security import FormToken, visit_of

THEME_COOKIE: Final = "theme"


class Theme(StrEnum):
    """Dark, unless the person chose light for the day. The device is not asked."""

    DARK = "dark"
    LIGHT = "light"

    @property
    def daylight_media(self) -> str:
        """When the light tokens apply. Paper is always light."""
        return "all" if self is Theme.LIGHT else "print"


@dataclass(frozen=True, slots=True)
class Section:
    """One entry of the sections' bar."""

    id: str
    address: str
    name: str


SECTIONS: Final = (
    Section("coffee", "/", "Coffee"),
    Section("rescue", "/rescue", "Rescue"),
    Section("list", "/list", "List"),
    Section("shelf", "/shelf", "Shelf"),
    Section("ingredients", "/ingredients", "Bottles"),
    Section("dataset", "/dataset", "Evidence"),
)


@dataclass(frozen=True, slots=True)
class Frame:
    """What `base.html` needs of a request.

    section : id of the section that the page is in
    csrf : the token that every form brings along, through the macro `form_token`
    signed_in : by what name somebody signed in here; empty where nobody has to
    """

    section: str
    theme: Theme
    address: str
    assets: str
    csrf: FormToken
    signed_in: str
    sections: tuple[Section, ...] = SECTIONS


def frame_of(request: Request, section: str) -> Frame:
    """The frame of one request."""
    visit = visit_of(request)
    signed_in = f"staff {visit.staff}".strip() if visit and visit.staff is not None else ""
    return Frame(
        section, theme_of(request), address_of(request), ASSETS, FormToken(request), signed_in
    )


def theme_of(request: Request) -> Theme:
    """The theme in the person's cookie; anything else counts as none chosen, which is dark."""
    chosen = request.cookies.get(THEME_COOKIE, Theme.DARK)
    return Theme(chosen) if chosen in set(Theme) else Theme.DARK


def address_of(request: Request) -> str:
    """Path and question of a request, to come back to; a form's answer has none of its own."""
    if request.method != "GET":
        return "/"
    query = request.url.query
    return f"{request.url.path}?{query}" if query else request.url.path


def own_address(address: str) -> str:
    """An address on this service, or the first page in place of anybody else's."""
    parts = urlsplit(address)
    ours = address.startswith("/") and not address.startswith(("//", "/\\"))
    return address if ours and not parts.netloc and address.isprintable() else "/"
