"""`marc swap` and `marc explain`, as a person types them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from service.cli.explain import explain
from service.cli.swap import swap_command
from service.counter.known import Known
from service.kit import BadData

app = typer.Typer()
app.command("swap")(swap_command)
app.command("explain")(explain)
SPEC = "bourbon=45ml, sweet-vermouth=25ml, aromatic-bitters=2 dashes"


@pytest.fixture(autouse=True)
def loaded_once(monkeypatch: pytest.MonkeyPatch, known: Known) -> None:
    """The dataset is read once for all commands of this file."""
    for command in ("swap", "explain"):
        monkeypatch.setattr(f"service.cli.{command}.load_known", lambda: known)


def run(*arguments: str, stdin: str | None = None) -> str:
    result = CliRunner().invoke(app, list(arguments), input=stdin, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.stdout


def test_swap_prints_the_ranked_replacements() -> None:
    out = run("swap", "bourbon")
    assert "rye whiskey" in out.splitlines()[0]


def test_swap_as_json_with_a_limit() -> None:
    body = json.loads(run("swap", "out of oloroso", "--limit", "3", "--json"))
    assert len(body["replacements"]) == 3


def test_swap_in_a_drink_given_inline_by_file_or_by_stdin(tmp_path: Path) -> None:
    path = tmp_path / "spec.txt"
    path.write_text(SPEC.replace(", ", "\n"), encoding="utf-8")
    inline = run("swap", "rosso", "--spec", SPEC, "--json")
    repeated = run(
        "swap", "rosso", "--json",
        *[part for pour in SPEC.split(", ") for part in ("--spec", pour)],
    )  # fmt: skip
    assert inline == repeated
    assert inline == run("swap", "rosso", "--spec", str(path), "--json")
    assert inline == run("swap", "rosso", "--spec", "-", "--json", stdin=SPEC)
    assert json.loads(inline)["replacements"][0]["changes"]


def test_swap_keeps_to_the_shelf() -> None:
    body = json.loads(run("swap", "rosso", "--shelf", "tawny port, gin", "--json"))
    assert [one["ingredient"] for one in body["replacements"]] == ["tawny-port"]


def test_swap_prints_the_amounts_of_a_rescue() -> None:
    out = run("swap", "rosso", "--spec", SPEC, "--no-coffee")
    assert "pour 25 ml" in out


def test_a_missing_file_is_said_plainly() -> None:
    with pytest.raises(BadData, match="neither a file nor a pour"):
        run("swap", "rosso", "--spec", "nowhere.txt")


@pytest.mark.parametrize("length", ["guest", "staff", "evidence"])
def test_explain_in_each_length(length: str) -> None:
    out = run("explain", "cognac", "--notes", "raisin, oak", "--length", length)
    assert out.strip().endswith((".", '"', ")"))


def test_explain_a_drink_two_bottles_why_not_and_what_if() -> None:
    assert "caffeine" in run("explain", "--spec", SPEC)
    assert "gin" in run("explain", "gin", "--with", "dry vermouth", "--length", "guest").lower()
    assert "scores" in run("explain", "absinthe", "--why-not")
    instead = SPEC.replace("25ml", "40ml")
    assert "sweeter" in run("explain", "--spec", SPEC, "--instead", instead)
    for arguments in (["cognac"], ["--spec", SPEC], ["absinthe", "--why-not"],
                      ["--spec", SPEC, "--instead", instead]):  # fmt: skip
        json.loads(run("explain", *arguments, "--json"))


def test_explain_needs_something_to_explain() -> None:
    with pytest.raises(BadData, match="name a bottle"):
        run("explain")
    with pytest.raises(BadData, match="give the drink"):
        run("explain", "--instead", SPEC)
