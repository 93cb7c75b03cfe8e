"""The API notes are true: what they show is answered, and what they list is there."""

from __future__ import annotations

import re
from pathlib import Path

from fastapi.testclient import TestClient

from openapi_notes.freeze import frozen
from openapi_notes.promises import fingerprint, promises
from service.bar import OWN_COLUMNS
from service.counter.pairs import MOST_PAIRS
from service.web.limits import LARGEST_BODY
from tests.docs.regenerate import ROOT, regenerated
from tests.docs.shown import asked_of, shown_in

NOTES = (ROOT / "openapi_notes" / "README.md").read_text(encoding="utf-8")
REWRITE = "run `python -m tests.docs.regenerate` and read the difference"


def test_every_request_of_the_notes_is_answered_as_shown(
    client: TestClient, tmp_path: Path
) -> None:
    assert regenerated(NOTES, client, tmp_path) == NOTES, REWRITE


def test_the_notes_show_answers_and_problems(client: TestClient) -> None:
    shown = shown_in(NOTES)
    statuses = {asked_of(client, s.command).status_code for s in shown if s.is_answer}
    assert statuses == {200, 404, 409, 422}
    assert len(shown) >= 7


def test_the_last_line_of_what_was_added_names_the_promised_document() -> None:
    lines = promises(frozen())
    rows = re.findall(r"^\| (\d+) \| (\w+) \| (.+) \|$", NOTES, re.MULTILINE)
    assert rows[-1][:2] == (str(len(lines)), fingerprint(lines))
    assert len({row[1] for row in rows}) == len(rows)


def test_the_limits_of_the_notes_are_those_in_force() -> None:
    assert LARGEST_BODY == 1024 * 1024
    assert MOST_PAIRS == 1000
    assert "No more than 1 MiB in one request, 1 000 pairs, 100 suggestions a role" in NOTES


def test_the_columns_of_a_file_of_own_ingredients_are_all_explained() -> None:
    table = "".join(f"| `{name}` | {meaning} |\n" for name, meaning in OWN_COLUMNS.items())
    assert f"| column | holds |\n| --- | --- |\n{table}\n" in NOTES
