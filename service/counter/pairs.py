"""What goes with what: the affinity of any two ingredients, for a list of ideas."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

from service.counter.known import Known
from service.kit import BadData, OutOfRange, ServiceError
from service.recommend import Affinity, Part, pair_affinities

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
    reader = csv.DictReader(io.StringIO(text.lstrip("\ufeff")))
    if not {"a", "b"} <= set(reader.fieldnames or ()):
        raise BadData("the file needs the columns a and b in its first line", field="columns")
    pairs = [(row["a"] or "", row["b"] or "") for row in reader]
    scored = [_scored(known, pair) for pair in pairs]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    problems = []
    for line, (pair, outcome) in enumerate(zip(pairs, scored, strict=True), start=2):
        if isinstance(outcome, ServiceError):
            problems.append(f"line {line}: {outcome.message}")
            writer.writerow((*pair, *[""] * 5, outcome.message))
        else:
            parts = (f"{outcome.parts[part]:.6f}" for part in Part)
            writer.writerow((*pair, f"{outcome.score:.6f}", *parts, ""))
    return ScoredFile(out.getvalue(), len(pairs), tuple(problems))


def _scored(known: Known, pair: tuple[str, str]) -> Affinity | ServiceError:
    try:
        ids = tuple(known.names.find(name).id for name in pair)
        return pair_affinities(known.knowledge, known.catalogue, [(ids[0], ids[1])])[0]
    except ServiceError as error:
        return error
