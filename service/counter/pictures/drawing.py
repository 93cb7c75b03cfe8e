"""Drawing a picture as SVG. The drawing library is large, so it is loaded with the first one."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from service.counter.pictures.look import COLOURS, FACE
from service.counter.pictures.picture import Picture

PICTURES_KEPT: Final = 512
_ROLE_OF: Final = {daylight: role for role, (daylight, _) in COLOURS.items()}
_FONT: Final = re.compile(r' font-family="[^"]*"')
_COLOUR: Final = re.compile(r'"(#[0-9a-f]{6})"')
_OPENING: Final = re.compile(r"<svg [^>]*>")


def svg_of(picture: Picture) -> str:
    """The picture as SVG, kept by content.

    The root has the id `picture`, so that a page can put it in with its own colours and letters;
    alone, the file follows the device between light and dark.
    """
    return _drawn(picture.text, picture.width, picture.height)


@lru_cache(maxsize=PICTURES_KEPT)
def _drawn(text: str, width: int, height: int) -> str:
    import vl_convert

    svg = str(vl_convert.vegalite_to_svg(text))
    opening = (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="picture" viewBox="0 0 {width} {height}"'
        f' width="{width}" height="{height}" font-family="{FACE}">{_style()}'
    )
    svg = _OPENING.sub(opening, svg, count=1)
    return _COLOUR.sub(_variable, _FONT.sub("", svg))


def _variable(found: re.Match[str]) -> str:
    colour = found[1]
    role = _ROLE_OF.get(colour)
    return f'"var(--{role},{colour})"' if role else found[0]


@lru_cache(maxsize=1)
def _style() -> str:
    """Dark where the device is, for the file on its own. Daylight stands in each variable."""
    dark = ";".join(f"--{role}:{dark}" for role, (_, dark) in COLOURS.items())
    return f"<style>@media (prefers-color-scheme:dark){{svg:root{{{dark}}}}}</style>"
