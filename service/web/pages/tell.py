"""Tell: the guest's sentence large, the staff's paragraph, and the evidence for whoever doubts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.counter.house_readings import SpecAsked, spec_asked
from service.counter.known import Known
from service.counter.this_bar import ThisBar
from service.drink import Level
from service.recommend.explain import Fact, FactKind, PairEvidence, Said
from service.web.deps import BarLooked, LookHere
from service.web.pages.bar_words import BarLine, bar_lines
from service.web.pages.pieces import CautionLine, GradeMark, ReasonLine, SourceLine
from service.web.pages.rendering import page_answer
from service.web.pages.sources import source_line
from service.web.pages.telling import caution_lines, grade_mark, listed, number

router = APIRouter()
_REASONS_SHOWN: Final = 8
# What would be rounded to nothing is no reason.
_WORTH_A_LINE: Final = 0.005


@dataclass(frozen=True, slots=True)
class PairProof:
    """The coffee and one bottle: the score, its contributions, the paths between them."""

    title: str
    score: str
    reasons: tuple[ReasonLine, ...]
    paths: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GradeCount:
    """How many facts are known how well."""

    mark: GradeMark
    count: str


@dataclass(frozen=True, slots=True)
class TellPage:
    """The three lengths of one drink."""

    id: int
    name: str
    guest: tuple[str, ...]
    cautions: tuple[CautionLine, ...]
    staff: tuple[str, ...]
    readings: tuple[str, ...]
    pairs: tuple[PairProof, ...]
    grades: tuple[GradeCount, ...]
    sources: tuple[SourceLine, ...]
    learnt: tuple[BarLine, ...]


@router.get("/list/{spec_id:int}/tell", include_in_schema=False)
def tell(request: Request, bar: BarLooked, unit: LookHere, spec_id: int) -> Response:
    """What to say of a drink as it is poured tonight."""
    asked = spec_asked(unit, bar, spec_id)
    return page_answer(request, "tell.html", tell_page(bar, asked), section="list")


def tell_page(bar: ThisBar, asked: SpecAsked) -> TellPage:
    """Everything that the page says."""
    explained = asked.explained()
    evidence, catalogue = explained.evidence, asked.known.catalogue
    loud = [c for c in asked.measured().reading.cautions if c.level is not Level.NOTE]
    return TellPage(
        id=asked.spec.id,
        name=asked.spec.name,
        guest=sentences(explained.guest),
        cautions=caution_lines(catalogue, loud),
        staff=sentences(explained.staff),
        readings=tuple(_reading_words(fact) for fact in evidence.readings),
        pairs=tuple(_pair(asked.known, pair) for pair in evidence.pairs),
        grades=tuple(
            GradeCount(grade_mark(grade), str(count))
            for grade, count in sorted(evidence.grades.items())
        ),
        sources=tuple(
            source_line(catalogue, source)
            for source in evidence.sources
            if source in catalogue.sources
        ),
        learnt=bar_lines(bar, asked.coffee, coffee_id=asked.spec.coffee_id),
    )


def sentences(said: Sequence[Said]) -> tuple[str, ...]:
    """What is said, sentence by sentence."""
    return tuple(one.text for one in said)


def _reading_words(fact: Fact) -> str:
    name = listed(fact.about)
    said = f"{number(fact.value)} {fact.unit}".strip() if fact.unit or fact.value else ""
    return ": ".join(filter(None, [name, fact.words or said]))


def _pair(known: Known, pair: PairEvidence) -> PairProof:
    shown = sorted(pair.contributions, key=lambda fact: -abs(fact.value))
    shown = [fact for fact in shown if abs(fact.value) >= _WORTH_A_LINE][:_REASONS_SHOWN]
    return PairProof(
        title=f"The coffee with {_name(known, pair.b)}",
        score=f"{pair.score:.2f}",
        reasons=tuple(_reason(known, fact, pair.score) for fact in shown),
        paths=tuple(" – ".join(_name(known, node) for node in fact.about) for fact in pair.paths),
    )


def _reason(known: Known, fact: Fact, score: float) -> ReasonLine:
    share = 100.0 * max(fact.value, 0.0) / max(abs(score), 1e-9)
    amount = f"{fact.value:+.2f}".replace("-", "\u2212")
    return ReasonLine(_reason_words(known, fact), amount, round(min(share, 100.0), 1))


def _reason_words(known: Known, fact: Fact) -> str:
    names = [_name(known, each) for each in fact.about[2:]]
    match fact.kind:
        case FactKind.ECHO:
            return f"both smell of {names[0]}"
        case FactKind.BRIDGE:
            return f"{names[0]} has something of both"
        case FactKind.CONTRAST:
            return f"{listed(names)} set each other off"
        case FactKind.CUSTOM:
            return f"long poured together: {listed(names)}"
        case _:
            return f"what else speaks of {listed(names)}" if names else "all that is smaller"


def _name(known: Known, word: str) -> str:
    """The name of whatever a fact is about."""
    catalogue = known.catalogue
    for table in (catalogue.ingredients, catalogue.descriptors, catalogue.odorants):
        if word in table:
            return str(table[word].name)
    if word.startswith("coffee"):
        return "the coffee"
    return catalogue.families.get(word, word)
