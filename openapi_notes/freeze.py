"""Write `openapi-v1.json` anew: `python -m openapi_notes.freeze`.

Refuses where a promise would be lost. Until the first release `--with-loss` says that it is meant.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from openapi_notes.promises import broken, fingerprint, promises
from service.web.app import create_app

FROZEN = Path(__file__).with_name("openapi-v1.json")


def frozen() -> dict[str, Any]:
    """The document as it was promised."""
    document: dict[str, Any] = json.loads(FROZEN.read_text(encoding="utf-8"))
    return document


def written(document: dict[str, Any]) -> str:
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def main(words: list[str]) -> int:
    """Compare, say what moved, and write. Exit code 1 where a promise would be lost."""
    document = create_app().openapi()
    now = promises(document)
    before = promises(frozen()) if FROZEN.exists() else frozenset()
    for sign, lines in (("-", before - now), ("+", now - before)):
        for line in sorted(lines):
            print(sign, line)
    if (lost := broken(before, now)) and "--with-loss" not in words:
        print(f"version 1 promises otherwise: {lost[0]} and {len(lost) - 1} more", file=sys.stderr)
        return 1
    FROZEN.write_text(written(document), encoding="utf-8")
    if now != before:
        print(f"last line of the table in README.md: {len(now)} promises, {fingerprint(now)}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
