"""Every piece of the pages once, for the eye: in either theme, at any width."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.counter.coffees import Coffee
from service.web.deps import KnownHere
from service.web.pages.bar_words import BarLine, ShelfSwitch
from service.web.pages.coffee_form import CoffeeAsked, CoffeeForm
from service.web.pages.drink import StepLine
from service.web.pages.drink_shown import DrinkShown, MomentRow
from service.web.pages.instead import Move, WayOut
from service.web.pages.pairings import SuggestionCard
from service.web.pages.patterns_records import RECORD_PIECES, RecordPieces
from service.web.pages.pictures import coverage
from service.web.pages.pieces import (
    CautionLine,
    ConfidenceMark,
    Figure,
    GradeMark,
    PictureView,
    ReasonLine,
    RemedyLine,
    SourceLine,
    TasteCheck,
    TasteTrack,
    VerdictMark,
)
from service.web.pages.read_back import (
    HeardWord,
    NoteShare,
    ReadBack,
    Replacement,
    UnknownWord,
)
from service.web.pages.rendering import page_answer
from service.web.pages.telling import grade_mark

router = APIRouter()


@dataclass(frozen=True, slots=True)
class PatternsPage:
    """One of each."""

    colours: tuple[str, ...]
    verdicts: tuple[VerdictMark, ...]
    confidences: tuple[ConfidenceMark, ...]
    grades: tuple[GradeMark, ...]
    checks: tuple[TasteCheck, ...]
    figures: tuple[Figure, ...]
    card: SuggestionCard
    way: WayOut
    read_back: ReadBack
    form: CoffeeForm
    step: StepLine
    reasons: tuple[ReasonLine, ...]
    remedies: tuple[RemedyLine, ...]
    cautions: tuple[CautionLine, ...]
    sources: tuple[SourceLine, ...]
    picture: PictureView
    records: RecordPieces
    bar_lines: tuple[BarLine, ...]
    switch: ShelfSwitch
    drink: DrinkShown


@router.get("/patterns", include_in_schema=False)
async def patterns(request: Request, known: KnownHere) -> Response:
    """All pieces, with invented content."""
    return page_answer(request, "patterns.html", patterns_page(coverage(known)), section="")


def patterns_page(picture: PictureView) -> PatternsPage:
    """Invented content that shows what each piece can do."""
    reasons = (
        ReasonLine("both smell of dried fig", "+0.31", 42.0),
        ReasonLine("walnut and citrus set each other off", "+0.12", 16.0),
    )
    remedies = (
        RemedyLine("Add 2.5 mL of plain syrup", True, "/drink?pour=bourbon=50ml"),
        RemedyLine("12 g of coffee instead of 15 g; helps, but does not bring it inside", False),
    )
    return PatternsPage(
        colours=(
            "ground", "surface", "raised", "line", "line-strong", "ink", "ink-soft", "act",
            "act-ground", "before", "after", "edge", "out", "band", "rim",
        ),
        verdicts=(_INSIDE, _EDGE, _OUTSIDE),
        confidences=(
            ConfidenceMark(3, "firm evidence"),
            ConfidenceMark(2, "fair evidence"),
            ConfidenceMark(1, "thin evidence"),
        ),
        grades=tuple(grade_mark(g) for g in ("measured", "derived", "recalled", "estimate")),
        checks=(_SWEET, _BITTER),
        figures=(
            Figure("in the glass", "84", "mL", "71 to 93"),
            Figure("drains in", "2:03", "min", "0:58 to 4:08", "an invented figure"),
        ),
        card=_card(reasons),
        way=_WAY,
        read_back=_READ_BACK,
        form=CoffeeAsked(
            Coffee(notes="dried fig, quench"),
            {"notes": "dried fig, quench", "dose_g": "much"},
            {"dose_g": "'much' is no number; write one like 15"},
        ).form,
        step=StepLine(
            "invented", "invented bottle", "45", "mL", "bourbon=40", "bourbon=50", "/ingredients"
        ),
        reasons=reasons,
        remedies=remedies,
        cautions=(
            CautionLine("stop", "Stop", "An invented caution of the loudest kind.", "nobody"),
            CautionLine("warn", "Mind", "May contain nuts.", "nobody"),
            CautionLine("note", "To know", "Throw the bed away after one use.", "nobody"),
        ),
        sources=(SourceLine("none", "Nobody (1900). An invented source.", "/sources"),),
        picture=picture,
        records=RECORD_PIECES,
        bar_lines=(BarLine("The bed is foretold from", "/learning", "3 trials of this bar"),),
        switch=ShelfSwitch(True, "/patterns", "/patterns"),
        drink=_DRINK,
    )  # fmt: skip


_INSIDE = VerdictMark("inside", "In balance", "the chance that it is in balance is 71 %")
_EDGE = VerdictMark("edge", "On the edge: too bitter", "the chance is 34 %")
_OUTSIDE = VerdictMark("outside", "Out of balance: too sweet and too thin", "the chance is 2 %")
_SWEET = TasteCheck(
    "Sweetness", "in balance", False, "3.3 → 3",
    "sweetness goes from 3.3 to 3 of 15 points through the coffee; in balance",
    TasteTrack(118.0, 104.0, 80.0, 128.0),
)  # fmt: skip
_BITTER = TasteCheck(
    "Bitterness", "too bitter", True, "1.3 → 4.7",
    "bitterness goes from 1.3 to 4.7 of 15 points through the coffee; too bitter",
    TasteTrack(88.0, 150.0, 126.0, 194.0),
)  # fmt: skip
_READ_BACK = ReadBack(
    profile="medium roast, natural arabica",
    bed="15 g, medium-fine grind",
    heard=(
        HeardWord("dried fig", ""),
        HeardWord("hazelnut", "for “hazelnutt”"),
        HeardWord("smoke", "not in it", without=True),
    ),
    unknown=(
        UnknownWord(
            "quench", (Replacement("quince", "/pairings?notes=quince"),),
            Replacement("leave it out", "/pairings"),
        ),
    ),
    strongest=(NoteShare("fig", "31%", 31.0), NoteShare("hazelnut", "18%", 18.0)),
    empty=False,
)  # fmt: skip


_WAY = WayOut(
    id="invented-way", name="invented bottle", flags=("it brings nuts: tell the guest",),
    moves=(Move("what is out", "20 mL", "none"), Move("invented bottle", "none", "25 mL")),
    noticed=("loses thyme", "adds dried fig"), tolerance="strength cannot be kept",
    verdict=_INSIDE, confidence=ConfidenceMark(3, "firm evidence"), action="Pour it so",
    address="/patterns",
)  # fmt: skip


_DRINK = DrinkShown(
    with_coffee=True, verdict=_EDGE, verdict_before=_INSIDE,
    warning="An invented warning: drinks of this style are a family of their own.",
    sweetness=_SWEET, bitterness=_BITTER, middle="the classics",
    figures=(Figure("in the glass", "84", "mL", "71 to 93"), Figure("caffeine", "40", "mg")),
    moments=(MomentRow("strength, % vol", "27.1 (26 to 28)", "25.4 (24 to 27)"),),
    cautions=(CautionLine("warn", "Mind", "May contain nuts.", "nobody"),),
    notes=(CautionLine("note", "To know", "Throw the bed away after one use.", "nobody"),),
)  # fmt: skip


def _card(reasons: tuple[ReasonLine, ...]) -> SuggestionCard:
    return SuggestionCard(
        id="invented", name="invented bottle", picked=True, verdict=_EDGE, sweetness=_SWEET,
        bitterness=_BITTER, why="Shares dried fig and hazelnut with the coffee.",
        remedy="Add 2.5 mL of plain syrup.", mind="May contain nuts.",
        confidence=ConfidenceMark(2, "fair evidence"), score="0.74", reasons=reasons,
        build="50 mL invented bottle, 20 mL another", strength="27.1 % vol before, 25.4 % after",
        address="/ingredients",
    )  # fmt: skip
