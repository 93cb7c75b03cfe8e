"""Write anew what the documents show: `python -m tests.docs.regenerate`.

Commands, requests and cuts stay as they are; outputs and answers become those of now. Read the
difference before it is committed.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from fastapi import FastAPI
from fastapi.testclient import TestClient

from service.settings import Settings
from service.web.app import create_app
from tests.docs.commands import command_table
from tests.docs.shown import HOST, now, shown_in
from tests.docs.tables import kind_table, operation_table, with_table

ROOT = Path(__file__).parent.parent.parent
DOCUMENTS = (ROOT / "README.md", ROOT / "openapi_notes" / "README.md")


def regenerated(document: str, client: TestClient, folder: Path) -> str:
    """A document with what it shows as it is now."""
    text = document
    fresh = [(shown, now(shown, client, folder)) for shown in shown_in(document)]
    for shown, output in reversed(fresh):
        text = text[: shown.start] + output + text[shown.end :]
    return with_tables(text, client)


def with_tables(text: str, client: TestClient) -> str:
    """A document with its written tables as they are now."""
    app = client.app
    assert isinstance(app, FastAPI)
    text = with_table(text, "commands", command_table())
    text = with_table(text, "operations", operation_table(app))
    return with_table(text, "kinds", kind_table())


def main() -> int:
    """Rewrite both documents; say which changed."""
    for path in DOCUMENTS:
        with TemporaryDirectory() as place:
            folder = Path(place)
            settings = Settings(database_url=f"sqlite:///{folder / 'bar.sqlite'}", demo=True)
            with TestClient(create_app(settings), base_url=f"http://{HOST}") as client:
                before = path.read_text(encoding="utf-8")
                after = regenerated(before, client, folder)
        path.write_text(after, encoding="utf-8")
        print(f"{path.relative_to(ROOT)}: {'changed' if after != before else 'as it was'}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
