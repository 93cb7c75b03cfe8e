"""What goes with what: the affinity of any two ingredients, for a list of ideas."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

from service.counter.known import Known
from service.kit import BadData, OutOfRange, ServiceError
from service.recommend import Affinity, Part, in_order, pair_affinities

MOST_PAIRS = 1_000
COLUMNS = ("a", "b", "score", *(str(part) for part in Part), "problem")


@dataclass(frozen=True, slots=True)
class ScoredFile:
    """A scored list of pairs, and the lines that could not be scored."""

    text: str
    lines: int
    problems: tuple[str, ...]


def affinities(known: Known, pairs: Sequence[tuple[str, str]]) -> list[Affinity]:
    """Score and parts of each pair, in the order given. Ids, names and aliases are taken."""
    if len(pairs) > MOST_PAIRS:
        raise OutOfRange(
            f"{len(pairs)} pairs are too many at once; send at most {MOST_PAIRS}", field="pairs"
        )
    resolved = [
        (
            known.names.find(a, field=f"pairs.{number}.a").id,
            known.names.find(b, field=f"pairs.{number}.b").id,
        )
        for number, (a, b) in enumerate(pairs)
    ]
    return pair_affinities(known.knowledge, known.catalogue, resolved)


def affinities_of_csv(known: Known, text: str) -> ScoredFile:
    """A CSV with columns a, b in; the same lines with score and parts out.

    A line that cannot be scored keeps its place, without a score and with the reason, and is
    counted as a problem.
    """
    lines, pairs = _read_pairs(text)
    scored = _scored(known, pairs)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    problems = []
    for line, pair, outcome in zip(lines, pairs, scored, strict=True):
        if isinstance(outcome, ServiceError):
            problems.append(f"line {line}: {outcome.message}")
            writer.writerow((*pair, *[""] * 5, outcome.message))
        else:
            parts = (f"{outcome.parts[part]:.6f}" for part in Part)
            writer.writerow((*pair, f"{outcome.score:.6f}", *parts, ""))
    return ScoredFile(out.getvalue(), len(pairs), tuple(problems))


def _read_pairs(text: str) -> tuple[list[int], list[tuple[str, str]]]:
    """Line numbers and pairs of a CSV."""
    reader = csv.DictReader(io.StringIO(text.lstrip("\ufeff"), newline=""))
    try:
        if not {"a", "b"} <= set(reader.fieldnames or ()):
            raise BadData("the file needs the columns a and b in its first line", field="columns")
        rows = [(reader.line_num, (row["a"] or "", row["b"] or "")) for row in reader]
    except csv.Error as error:
        raise BadData(f"line {reader.line_num} is no CSV: {error}", field="columns") from None
    return [line for line, _ in rows], [pair for _, pair in rows]


def _scored(known: Known, pairs: Sequence[tuple[str, str]]) -> list[Affinity | ServiceError]:
    """Each pair's affinity, or why it has none; all that can be scored in one go."""
    outcomes: list[tuple[str, str] | ServiceError] = [_ids(known, *pair) for pair in pairs]
    ids = [pair for pair in outcomes if not isinstance(pair, ServiceError)]
    found = iter(pair_affinities(known.knowledge, known.catalogue, ids))
    return [one if isinstance(one, ServiceError) else next(found) for one in outcomes]


def _ids(known: Known, a: str, b: str) -> tuple[str, str] | ServiceError:
    ends = max(a.strip().count("\n"), b.strip().count("\n"))
    if ends:  # a quotation mark left open takes the lines after it into one cell
        return BadData(
            f"a name runs over {ends + 1} lines; is a quotation mark opened and not closed? The "
            "pairs on these lines have no score"
        )
    try:
        return in_order(known.knowledge, known.names.find(a).id, known.names.find(b).id)
    except ServiceError as error:
        return error
