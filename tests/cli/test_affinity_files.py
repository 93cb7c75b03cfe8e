"""Lists of pairs as people save them: encodings, empty files, ragged lines, long lists."""

from __future__ import annotations

import csv
import io
import random
import resource
from pathlib import Path

from service.counter.known import Known
from service.ingredients.records import Role
from tests.cli.running import Marc, own_process

HEAD = "a,b,score,echo,bridge,contrast,custom,problem"
LONG = 10_000
LONGEST_SECONDS = 10.0


def rows_of(output: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(output.decode())))


def test_a_file_that_is_not_utf_8_says_how_to_save_it(marc: Marc, tmp_path: Path) -> None:
    pairs = tmp_path / "pairs.csv"
    pairs.write_bytes("a,b\ncognac,crème de cacao\n".encode("latin-1"))
    for done in (marc("affinity", str(pairs)), marc("affinity", "-", given=pairs.read_bytes())):
        assert done.code == 1
        assert done.out == b""
        assert "UTF-8" in done.line


def test_an_empty_file_asks_for_its_columns(marc: Marc, tmp_path: Path) -> None:
    for content in (b"", b"\n", b"left,right\nbourbon,fig-liqueur\n", b"\xef\xbb\xbf"):
        done = marc("affinity", "-", given=content)
        assert done.code == 1
        assert "columns a and b" in done.line


def test_a_file_without_pairs_gives_the_head_alone(marc: Marc) -> None:
    done = marc("affinity", "-", given=b"a,b\n")
    assert (done.code, done.out.decode()) == (0, HEAD + "\n")
    assert done.said == ""


def test_marks_line_ends_columns_and_names_of_all_kinds_are_read(marc: Marc) -> None:
    text = "\ufeffnote,b,a\r\nx,fig liqueur,armagnac\r\ny,FIG-LIQUEUR,Armagnac\r\n"
    first, second = rows_of(marc("affinity", "-", given=text.encode()).out)
    assert first["score"] == second["score"] != ""
    assert (first["a"], first["b"]) == ("armagnac", "fig liqueur")


def test_a_line_that_cannot_be_scored_keeps_its_place_and_its_number(marc: Marc) -> None:
    lines = [
        "armagnac,fig-liqueur",
        "armagnac",
        '"moon\nbeam",fig-liqueur',
        "coffee-light-washed-arabica,coffee-dark-washed-arabica",
        "fig-liqueur,armagnac",
    ]
    done = marc("affinity", "-", given="\n".join(["a,b", *lines, ""]).encode())
    rows = rows_of(done.out)
    assert done.code == 1
    assert [bool(row["problem"]) for row in rows] == [False, True, True, True, False]
    assert rows[0]["score"] == rows[4]["score"]
    assert "two coffees" in rows[3]["problem"]
    assert "3 of 5 lines have no score; first: line 3:" in done.line


def test_a_quote_left_open_is_named_and_says_how_many_lines_it_took(marc: Marc) -> None:
    text = 'a,b\nbourbon,armagnac\narmagnac,"fig-liqueur\nbourbon,cognac\nbourbon,fig-liqueur\n'
    done = marc("affinity", "-", given=text.encode())
    assert done.code == 1
    good, taken = rows_of(done.out)
    assert good["problem"] == ""
    assert "over 3 lines; is a quotation mark opened and not closed?" in taken["problem"]


def test_what_is_no_csv_is_one_plain_line(marc: Marc) -> None:
    done = marc("affinity", "-", given=b"a,b\n" + b"x" * 200_000 + b",y\n")
    assert done.code == 1
    assert "line" in done.line


def test_ten_thousand_pairs_take_less_than_ten_seconds(known: Known) -> None:
    """Of processor time, so that what else runs on the machine does not count."""
    ingredients = known.catalogue.ingredients
    ids, draw = sorted(ingredients), random.Random(1862)
    pairs = [(draw.choice(ids), draw.choice(ids)) for _ in range(LONG)]
    text = "a,b\n" + "".join(f"{a},{b}\n" for a, b in pairs)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = own_process("affinity", "-", given=text.encode())
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    rows = rows_of(done.out)
    assert [(row["a"], row["b"]) for row in rows] == pairs
    coffees = [{ingredients[a].role, ingredients[b].role} == {Role.COFFEE} for a, b in pairs]
    assert [row["score"] == "" for row in rows] == coffees
    seconds = after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime
    assert seconds < LONGEST_SECONDS
