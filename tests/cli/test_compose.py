"""`marc compose`, as a person types it."""

from __future__ import annotations

import json

import pytest
import typer
from typer.testing import CliRunner

from service.cli.compose import compose as command
from service.counter.coffees import Coffee
from service.counter.compose import ComposeQuestion, OnShelf, compose
from service.counter.compose_json import compose_json
from service.counter.known import Known
from service.kit import BadData, CannotCompose

app = typer.Typer()
app.command("compose")(command)
SHELF = "bourbon, cognac, sweet-vermouth, curacao, orange-bitters"


@pytest.fixture(autouse=True)
def loaded_once(monkeypatch: pytest.MonkeyPatch, known: Known) -> None:
    """The dataset is read once for all commands of this file."""
    monkeypatch.setattr("service.cli.compose.load_known", lambda: known)


def run(*arguments: str) -> tuple[str, str]:
    result = CliRunner().invoke(app, list(arguments), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.stdout, result.stderr


def test_drinks_come_with_amounts_balance_and_the_proof() -> None:
    out, _ = run("--shelf", SHELF, "--notes", "dark chocolate", "--limit", "2")
    lines = out.splitlines()
    assert "mL" in lines[0]
    assert "over 15 g" in lines[0]
    assert "caffeine" in lines[1]
    assert lines[-1].startswith("proved:")


def test_json_is_the_body_of_the_counter(known: Known) -> None:
    out, _ = run("--shelf", SHELF, "--notes", "dark chocolate", "--limit", "3", "--json")
    shelf = [OnShelf(name.strip()) for name in SHELF.split(",")]
    question = ComposeQuestion(Coffee(notes="dark chocolate"), shelf, limit=3)
    assert json.loads(out) == json.loads(json.dumps(compose_json(known, compose(known, question))))


def test_limits_are_taken_in_per_cent_and_millilitres() -> None:
    out, _ = run("--shelf", SHELF, "--most-abv", "22", "--most-ml", "120", "--json")
    for drink in json.loads(out)["drinks"]:
        assert drink["forecast"]["abv_percent"] <= 22.0
        assert drink["forecast"]["volume_ml"] <= 120.0


def test_ounces_are_told_in_quarters() -> None:
    out, _ = run("--shelf", SHELF, "--step", "1/4 oz", "--limit", "1")
    assert " oz " in out.splitlines()[0]


def test_working_out_every_drink_tells_how_far_it_is() -> None:
    searched, silent = run("--shelf", SHELF, "--limit", "2")
    listed, told = run("--shelf", SHELF, "--limit", "2", "--every")
    assert listed.splitlines()[:-1] == searched.splitlines()[:-1]
    assert "every one worked out" in listed
    assert "100.0% of all candidates" in told
    assert not silent


def test_what_cannot_be_is_said_plainly() -> None:
    with pytest.raises(CannotCompose):
        CliRunner().invoke(app, ["--shelf", SHELF, "--most-abv", "5"], catch_exceptions=False)
    with pytest.raises(BadData):
        CliRunner().invoke(app, ["--step", "thimble"], catch_exceptions=False)
