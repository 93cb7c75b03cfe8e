"""Exit code 0, or 1 where it cannot be done, or 2 where the command is not understood."""

from __future__ import annotations

import subprocess

import pytest

from tests.cli.running import MARC, Marc, clean_environment, own_process


@pytest.mark.parametrize("words", ["--help", "pair --help", "ingredients --role bitters"])
def test_what_can_be_done_ends_with_0_and_says_nothing_else(marc: Marc, words: str) -> None:
    done = marc(*words.split())
    assert done.code == 0
    assert done.out
    assert done.said == ""


@pytest.mark.parametrize(
    ("words", "about"),
    [
        (["balance", "--pour", "moonbeam=45ml"], "pours.0.ingredient"),
        (["balance", "--pour", "armagnac=5 glugs"], "glugs"),
        (["balance", "--pour", "armagnac=45ml", "--country", "XX"], "country"),
        (["pair", "--dose", "0"], "dose_g"),
        (["pair", "--dose", "nan"], "dose_g"),
        (["pair", "--limit", "0"], "limit"),
        (["pair", "--role", "garnish"], "roles"),
        (["stir", "--pour", "armagnac=45ml", "--until", "-5"], "until_seconds"),
        (["swap", "moonbeam"], "ingredient"),
        (["swap", "fig liqueur", "--spec", "nowhere.txt"], "nowhere.txt"),
        (["explain"], "ingredient"),
        (["affinity", "nowhere.csv"], "nowhere.csv"),
        (["affinity", "."], "directory"),
        (["graph", "graph.png"], ".graphml"),
        (["graph", "nowhere/graph.json"], "nowhere"),
        (["restore", "nowhere.zip"], "nowhere.zip"),
        (["export"], "--all"),
    ],
    ids=" ".join,
)
def test_what_cannot_be_done_ends_with_1_and_one_plain_line(
    marc: Marc, words: list[str], about: str
) -> None:
    done = marc(*words)
    assert done.code == 1
    assert done.out == b""
    assert about.lower() in done.line.lower()


@pytest.mark.parametrize(
    ("words", "about"),
    [
        (["shake"], "No such command 'shake'"),
        (["pair", "--roast", "burnt"], "'burnt' is not one of"),
        (["pair", "--dose", "lots"], "--dose"),
        (["pair", "--nots", "fig"], "--notes"),
        (["balance"], "--pour"),
        (["affinity"], "pairs"),
        (["data", "shake"], "marc data --help"),
    ],
    ids=" ".join,
)
def test_what_is_not_understood_ends_with_2_and_one_plain_line(
    marc: Marc, words: list[str], about: str
) -> None:
    done = marc(*words)
    assert done.code == 2
    assert done.out == b""
    said = done.line
    assert about in said
    assert "--help" in said


def test_no_command_at_all_shows_the_commands(marc: Marc) -> None:
    done = marc()
    assert done.code == 2
    assert b"pair" in done.out
    assert done.line


@pytest.mark.parametrize(
    ("name", "value"),
    [("MARC_PORT", "x"), ("MARC_PORT", "99999"), ("MARC_DATABASE_URL", "bogus")],
)
def test_an_environment_that_cannot_be_read_is_named(marc: Marc, name: str, value: str) -> None:
    command = ["serve"] if name == "MARC_PORT" else ["export", "--shelf"]
    done = marc(*command, **{name: value})
    assert done.code == 1
    assert name in done.line


@pytest.mark.parametrize("words", ["ingredients", "pair --json", "data report"])
def test_nobody_reading_is_no_drama(words: str) -> None:
    """The reader is gone before the first byte, as after `marc ... | head`."""
    with subprocess.Popen(
        [MARC, *words.split()],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=clean_environment({}),
    ) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        said = process.stderr.read()
        process.stdout = None
        assert process.wait() == 1
    assert said == b""


def test_a_process_of_its_own_ends_the_same() -> None:
    known, unknown, broken = (
        own_process(*words.split()) for words in ("data check", "swap moonbeam", "shake")
    )
    assert (known.code, known.said) == (0, "")
    assert (unknown.code, unknown.out) == (1, b"")
    assert (broken.code, broken.out) == (2, b"")
    assert unknown.line
    assert broken.line
