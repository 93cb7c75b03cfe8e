"""What must not stand in the project: other people's hosts, places of one machine, brands of tools.

The forbidden words are spelled backwards, so that the list does not find itself.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.docs.regenerate import ROOT

NOT_OURS = {
    ".git", ".venv", "var", ".mypy_cache", ".ruff_cache", ".pytest_cache", ".hypothesis",
    ".import_linter_cache", "__pycache__", "marc_measure.egg-info",
}  # fmt: skip
MADE = {ROOT / "build"}


def backwards(*words: str) -> str:
    return "|".join(re.escape(word[::-1]) for word in words)


REGISTRIES = backwards(
    "gro.ipyp", "gro.detsohnohtyp", "moc.sjmpn", "gro.sjmpn", "moc.gkpnu", "ten.rviledsj",
    "moc.eralfduolc", "gro.adnoc", "oi.setarc", "gro.gnalog", "gro.smegybur", "gro.adnocana",
    "moc.sipaelgoog", "oi.rhg", "moc.yrotcafitra",
)  # fmt: skip
PLACES = backwards("/pmt/", "/krow/", "/mraf/", "/toor/", "/emoh/", "/sresU/")
# `user-agent` is a header, `fining agent` is a powder: the word alone says nothing.
PROCESS = backwards(
    "MLL", "TPG", "edualC", "ciporhtnA", "IAnepO", "tolipoC", "tobtahc", "ledom egaugnal",
    "ecnegilletni laicifitra", "tpircsnart noisses", "tnemucod dees", "tnegabus", "tnega-bus",
    "tnega IA", "yb detareneg", "htiw detareneg", "yb-derohtua-oC", "gnipleh noisses",
    "loot hcraes", "redro krow",
)  # fmt: skip
PAPERS = backwards(
    "dm.ngised/derahs", "dm.elyts/derahs", "dm.feirb", "dm.scisyhp/ecnerefer",
    "dm.ytefas-dna-etsat", "/derahs/..", "txt.seussi",
)  # fmt: skip
FORBIDDEN = {
    "a registry's host": re.compile(REGISTRIES, re.IGNORECASE),
    "a place on one machine": re.compile(rf"(?<![\w.~*-])(?:{PLACES})(?=\w)"),
    "how it was made": re.compile(rf"\b(?:{PROCESS})\b", re.IGNORECASE),
    "a paper nobody else has": re.compile(PAPERS, re.IGNORECASE),
}


def text_files() -> list[Path]:
    """Every text of the project; pictures and caches are left out."""
    found = []
    for path in sorted(ROOT.rglob("*")):
        parts = set(path.relative_to(ROOT).parts)
        if not path.is_file() or parts & NOT_OURS or MADE & set(path.parents):
            continue
        if b"\0" not in path.read_bytes()[:4096]:
            found.append(path)
    return found


FILES = text_files()


def test_the_tree_is_looked_at() -> None:
    names = {path.relative_to(ROOT).as_posix() for path in FILES}
    assert {"README.md", "requirements.lock", "service/web/app.py", ".ci/run"} <= names


@pytest.mark.parametrize("what", FORBIDDEN)
def test_nothing_in_the_tree_names(what: str) -> None:
    pattern = FORBIDDEN[what]
    found = [
        f"{path.relative_to(ROOT)}:{number}: {line.strip()[:120]}"
        for path in FILES
        for number, line in enumerate(path.read_text("utf-8", "replace").splitlines(), start=1)
        if pattern.search(line)
    ]
    assert not found


@pytest.mark.parametrize(
    ("what", "line"),
    [
        ("a registry's host", "https://" + "/elpmis/gro.ipyp"[::-1]),
        ("a place on one machine", 'open("' + 'x/krow/'[::-1] + '")'),
        ("how it was made", "as an " + "MLL"[::-1] + " would"),
        ("a paper nobody else has", "see " + "dm.ngised/derahs"[::-1]),
    ],
)  # fmt: skip
def test_a_slip_is_found_out(what: str, line: str) -> None:
    assert FORBIDDEN[what].search(line)


@pytest.mark.parametrize(
    "line",
    ["headers['user-agent']", "a fining agent", "service/work/mixing.py", "framework/x", "OpenAPI",
     "one session per request", 'Path("/tmp")', "a helping hand", "aim", "home/page"],
)  # fmt: skip
def test_plain_words_are_left_alone(line: str) -> None:
    assert not any(pattern.search(line) for pattern in FORBIDDEN.values())
