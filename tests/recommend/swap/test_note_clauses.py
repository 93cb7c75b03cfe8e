"""How notes that stay, go and come are told: one home for pages, API and command."""

from __future__ import annotations

import re
from pathlib import Path

import service
from service.recommend.swap import NoteShare, note_clauses

OAK, ANISE, FIG = (NoteShare(name, 0.2) for name in ("oak", "aniseed", "dried-fig"))


def test_each_is_told_where_there_is_any() -> None:
    assert note_clauses() == []
    assert note_clauses(kept=[OAK], lost=[ANISE, FIG], gained=[]) == [
        "keeps oak",
        "loses anise and dried fig",
    ]
    assert note_clauses(gained=[FIG]) == ["adds dried fig"]


def test_nobody_else_writes_these_clauses() -> None:
    """The verb before a list of notes stands in one module."""
    root = Path(service.__file__).parent
    verbs = re.compile(r"""["']keeps["'],""")
    found = [p for p in root.rglob("*.py") if verbs.search(p.read_text(encoding="utf-8"))]
    assert [p.name for p in found] == ["notes.py"]
