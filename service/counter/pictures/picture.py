"""A picture: a Vega-Lite specification, its title, and the same in words."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cached_property
from hashlib import blake2b
from typing import Any

Spec = dict[str, Any]


@dataclass(frozen=True, eq=False)
class Picture:
    """What is drawn, how large (in pixels of a phone), and the text for whoever cannot see it."""

    title: str
    words: tuple[str, ...]
    spec: Spec
    width: int
    height: int

    @cached_property
    def text(self) -> str:
        """The specification as JSON, always written the same way."""
        return json.dumps(self.spec, ensure_ascii=False, allow_nan=False, separators=(",", ":"))

    @cached_property
    def hash(self) -> str:
        """A word that stands for this content and no other."""
        return blake2b(self.text.encode(), digest_size=12).hexdigest()
