"""Invented content for the pieces of the bar's records, shown among all pieces."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from service.web.pages.file_preview import FileForm
from service.web.pages.learning import LearntLine
from service.web.pages.pieces import CautionLine, ConfidenceMark, Option, VerdictMark
from service.web.pages.rescue import BottleTile
from service.web.pages.run_out import MovedLine, WayCard
from service.web.pages.spec import PourLine, TrialLine
from service.web.pages.trial_form import MeasureField


@dataclass(frozen=True, slots=True)
class RecordPieces:
    """One of each."""

    pours: tuple[PourLine, ...]
    trials: tuple[TrialLine, ...]
    measures: tuple[MeasureField, ...]
    tiles: tuple[BottleTile, ...]
    learnt: tuple[LearntLine, ...]
    way: WayCard
    options: tuple[Option, ...]
    file: FileForm


RECORD_PIECES: Final = RecordPieces(
    pours=(
        PourLine("45 mL", "invented bottle", "/ingredients"),
        PourLine("2 dashes", "invented bitters with a name that is too long for a line", ""),
    ),
    trials=(
        TrialLine("/patterns", "1 March 21:40", "84 mL out, 150 s, liked 7 of 9, ab", False),
        TrialLine("/patterns", "1 March 20:15", "31 mL out", True),
    ),
    measures=(
        MeasureField("pattern_out", "Came through", "mL", "84", "84", "71 to 93",
                     "pattern_out=-2", "pattern_out=2", "2", True),
        MeasureField("pattern_took", "Took", "s", "9000", "120", "", "pattern_took=-5",
                     "pattern_took=5", "5", False, "9000 s is too long; write one like 120"),
    ),
    tiles=(
        BottleTile("invented bottle", "/patterns", "in Invented Drink", False),
        BottleTile("another", "/patterns", "in Invented Drink", True),
        BottleTile("a third with a long name of many words", "/patterns", "", False),
    ),
    learnt=(
        LearntLine("The grounds keep, mL per g", "1.3 (0.7 to 2.1)", "1.51", "1.49 (1.4 to 1.6)",
                   "3 trials"),
        LearntLine("Extraction, against the prior", "1 (0.5 to 2)", "", "1 (0.5 to 2)",
                   "no trials"),
    ),
    way=WayCard(
        title="invented bottle",
        flags=(CautionLine("warn", "Mind", "It brings nuts: tell the guest.", "nobody"),),
        lines=(
            MovedLine("what stays", "45 mL", "", ""),
            MovedLine("invented bottle", "20 mL", "new", "moved"),
            MovedLine("what is out", "out", "was 15 mL", "gone"),
        ),
        noticed="A guest will notice: less thyme, more dried fig.",
        verdict=VerdictMark("inside", "In balance", "the chance is 71 %"),
        tolerance="Sweetness, bitterness, acid and strength stay within tolerance.",
        confidence=ConfidenceMark(2, "fair evidence"), pours=(), remarks="",
    ),
    file=FileForm(
        "/shelf/preview/import", "What its columns are.", text="ingredient,colour\nfig liqueur,red",
        text_error="Line 1: the column 'colour' is not known; take ingredient, size_ml.",
    ),
    options=(Option("one", "the first of two"), Option("two", "the second of two", True)),
)  # fmt: skip
