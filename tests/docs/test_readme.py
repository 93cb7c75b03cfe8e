"""README.md is true: what it shows is what comes out, and what it claims can be counted."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

from fastapi.testclient import TestClient

from service.counter.known import Known
from service.ingredients.records import Grade
from tests.docs.commands import commands
from tests.docs.regenerate import ROOT, regenerated
from tests.docs.shown import HOST, shown_in
from tests.docs.test_openapi_notes import REWRITE

README = (ROOT / "README.md").read_text(encoding="utf-8")
LINK = re.compile(r"\]\(([^)]+)\)")
PAGE = re.compile(rf"http://{re.escape(HOST)}(/[^)\s]*)\)")
SHELL = re.compile(r"^```sh\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def test_every_command_and_request_shows_what_comes_out(client: TestClient, tmp_path: Path) -> None:
    assert regenerated(README, client, tmp_path) == README, REWRITE


def test_page_api_and_command_are_all_shown() -> None:
    shown = shown_in(README)
    assert any(s.is_request for s in shown)
    assert any(s.command.startswith("marc pair") for s in shown)
    assert any(s.command.startswith("marc balance") for s in shown)
    assert len(PAGE.findall(README)) >= 3


def test_the_pages_it_links_to_answer(client: TestClient) -> None:
    for address in PAGE.findall(README):
        answer = client.get(address, headers={"accept": "text/html"})
        assert answer.status_code == 200, address
        assert "<h1" in answer.text


def test_page_and_command_rank_alike(client: TestClient) -> None:
    """The page of the address above, and the command with `--among shelf` for the same coffee."""
    (address,) = (a for a in PAGE.findall(README) if a.startswith("/pairings"))
    page = client.get(address, headers={"accept": "text/html"}).text
    coffee = dict(parse_qsl(urlsplit(address).query))
    answer = client.post(
        "/api/v1/pairings", json={"coffee": coffee, "limit": 5, "among": "shelf"}
    ).json()
    for role in answer["pairings"].values():
        places = [page.index(f">{suggestion['name']}<") for suggestion in role]
        assert places == sorted(places)


def test_the_files_it_links_to_are_there() -> None:
    files = [link for link in LINK.findall(README) if not link.startswith("http")]
    assert files
    for link in files:
        assert (ROOT / link).is_file(), link


def test_the_commands_of_make_are_there() -> None:
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    (block,) = SHELL.findall(README)
    targets = re.findall(r"^make (\w+)", block, re.MULTILINE)
    assert targets == ["run", "test"]
    for target in targets:
        assert re.search(rf"^{target}:", makefile, re.MULTILINE), target


def test_every_command_has_help_and_stands_in_the_readme() -> None:
    found = dict(commands())
    assert len(found) >= 14
    for name, command in found.items():
        assert f"`{name}" in README, name
        assert command.help, name
        for parameter in command.params:
            assert parameter.name == "help" or parameter.help, f"{name} {parameter.name}"


def test_it_says_what_it_does_not_know_and_whom_to_ask() -> None:
    for heading in ("## What this does not know", "## Cautions", "## Dataset and licence"):
        assert heading in README
    cautions = README.partition("## Cautions")[2].partition("##")[0]
    for word in ("legal drinking age", "caffeine", "Allergens", "Quinine", "pregnant", "local law"):
        assert word in cautions, word


def test_seven_in_ten_of_the_specifications_are_older_than_1930(known: Known) -> None:
    years = [int(spec.year) for spec in known.catalogue.specs]
    share = sum(year < 1930 for year in years) / len(years)
    assert "seven in ten of them older than 1930" in README
    assert 0.67 < share < 0.73


def test_about_four_in_ten_of_the_rows_rest_on_measurement(known: Known) -> None:
    grades = [row.grade for row in known.catalogue.occurrences]
    share = sum(grade in {Grade.MEASURED, Grade.DERIVED} for grade in grades) / len(grades)
    assert "Four in ten\n  of the rows are measured or derived" in README
    assert 0.38 < share < 0.46


def test_the_licences_are_those_of_the_packages() -> None:
    assert 'license = "MIT"' in (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    assert "MIT licence" in README
    assert '"CC-BY-4.0"' in (ROOT / "pairing_data" / "datapackage.json").read_text("utf-8")
    assert "CC BY 4.0" in README
