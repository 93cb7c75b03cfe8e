"""The bottles: a list to search, and all that is known of each, down to the source."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter
from starlette.requests import Request
from starlette.responses import Response

from service.counter.browse import Evidence, ingredient_evidence, list_ingredients
from service.counter.known import Known
from service.ingredients import Catalogue
from service.ingredients.records import Composition, Ingredient, Legal, Occurrence, Role
from service.kit import Interval
from service.web.deps import KnownHere
from service.web.pages.pictures import neighbourhood
from service.web.pages.pieces import GradeMark, Option, PictureView, SourceLine
from service.web.pages.rendering import page_answer
from service.web.pages.sources import source_line
from service.web.pages.telling import grade_mark, listed, number, range_words

router = APIRouter()
MOST_SHOWN: Final = 500
LONGEST_SEARCH: Final = 100
_ROLES: Final = {
    Role.BASE: "bases",
    Role.MODIFIER: "modifiers",
    Role.BITTERS: "bitters",
    Role.SWEETENER: "sweeteners",
    Role.SEASONING: "seasonings",
    Role.GARNISH: "garnishes",
    Role.COFFEE: "coffees",
}
_IMPACTS: Final = {"character": "gives its character", "key": "key", "background": "background"}


@dataclass(frozen=True, slots=True)
class IngredientEntry:
    """One line of the list."""

    name: str
    address: str
    aside: str


@dataclass(frozen=True, slots=True)
class IngredientsPage:
    """The list, and what it was asked for."""

    text: str
    roles: tuple[Option, ...]
    entries: tuple[IngredientEntry, ...]
    count_words: str
    clear_address: str


@dataclass(frozen=True, slots=True)
class Fact:
    """One property with its range."""

    name: str
    value: str
    range: str


@dataclass(frozen=True, slots=True)
class NoteLine:
    """A note of the aroma: its share, and how well it is known."""

    name: str
    percent: str
    share: float
    trust: str


@dataclass(frozen=True, slots=True)
class OdorantLine:
    """An odorant with its amount or impact, its grade and its source."""

    name: str
    cas: str
    amount: str
    grade: GradeMark
    source: SourceLine


@dataclass(frozen=True, slots=True)
class WordLine:
    """A note that a source names in words."""

    name: str
    grade: GradeMark
    source: SourceLine


@dataclass(frozen=True, slots=True)
class IngredientPage:
    """One ingredient with all its evidence."""

    name: str
    role: str
    style: str
    aliases: str
    facts: tuple[Fact, ...]
    grade: GradeMark
    legal: str
    allergens: str
    cautions: str
    notes: tuple[NoteLine, ...]
    odorants: tuple[OdorantLine, ...]
    words: tuple[WordLine, ...]
    sources: tuple[SourceLine, ...]
    picture: PictureView
    json_address: str


@router.get("/ingredients", include_in_schema=False)
async def every_bottle(request: Request, known: KnownHere) -> Response:
    """The list, by role and by a word of the name."""
    text = request.query_params.get("text", "").strip()[:LONGEST_SEARCH]
    given = request.query_params.get("role", "")
    role = Role(given) if given in set(Role) else None
    page = ingredients_page(known, text, role)
    return page_answer(request, "ingredients.html", page, section="ingredients")


@router.get("/ingredients/{ingredient_id}", include_in_schema=False)
async def one_bottle(request: Request, known: KnownHere, ingredient_id: str) -> Response:
    """One ingredient with everything it rests on."""
    page = ingredient_page(known, ingredient_evidence(known, ingredient_id))
    return page_answer(request, "ingredient.html", page, section="ingredients")


def ingredients_page(known: Known, text: str, role: Role | None) -> IngredientsPage:
    """The list as asked for; coffee profiles only when asked by role."""
    found = list_ingredients(known, role=role, text=text, limit=MOST_SHOWN).items
    shown = sorted(
        (i for i in found if role is not None or i.role is not Role.COFFEE),
        key=lambda i: i.name.casefold(),
    )
    every = Option("", "all", role is None)
    bottles = {0: "None is", 1: "One is"}.get(len(shown), f"{len(shown)} are")
    return IngredientsPage(
        text=text,
        roles=(every, *(Option(str(r), _ROLES[r], r is role) for r in _ROLES)),
        entries=tuple(_entry(i) for i in shown),
        count_words=f"{bottles} known here",
        clear_address="/ingredients",
    )


def ingredient_page(known: Known, evidence: Evidence) -> IngredientPage:
    """Everything that the page says."""
    ingredient, catalogue = evidence.ingredient, known.catalogue
    used = {o.source for o in evidence.occurrences} | {n.source for n in evidence.words}
    return IngredientPage(
        name=ingredient.name[:1].upper() + ingredient.name[1:],
        role=str(ingredient.role),
        style=ingredient.style,
        aliases=listed(ingredient.aliases),
        facts=tuple(_facts(ingredient)),
        grade=grade_mark(str(ingredient.grade)),
        legal=_legal(ingredient.legal) if ingredient.legal else "",
        allergens=listed(sorted(ingredient.allergens)),
        cautions=listed(sorted(c.replace("-", " ") for c in ingredient.cautions)),
        notes=tuple(
            NoteLine(
                catalogue.descriptors[d].name, f"{share:.0%}".replace("%", " %"),
                round(share * 100, 1), f"{trust:.0%} known".replace("%", " %"),
            )
            for d, share, trust in evidence.notes[:12]
        ),
        odorants=tuple(_odorants(catalogue, evidence.occurrences)),
        words=tuple(
            WordLine(
                catalogue.descriptors[n.descriptor].name, grade_mark(str(n.grade)),
                source_line(catalogue, n.source),
            )
            for n in sorted(evidence.words, key=lambda n: -n.weight)
        ),
        sources=tuple(source_line(catalogue, s) for s in sorted(used | set(ingredient.sources))),
        picture=neighbourhood(known, ingredient.id),
        json_address=f"/api/v1/ingredients/{ingredient.id}",
    )  # fmt: skip


def _entry(ingredient: Ingredient) -> IngredientEntry:
    strength = number(ingredient.composition.abv.mid * 100, 2)
    aside = f"{ingredient.role}" if strength == "0" else f"{ingredient.role}, {strength} %"
    return IngredientEntry(ingredient.name, f"/ingredients/{ingredient.id}", aside)


def _facts(ingredient: Ingredient) -> Iterable[Fact]:
    if ingredient.role in {Role.COFFEE, Role.GARNISH}:
        return
    holds: Composition = ingredient.composition
    yield _fact("strength", holds.abv.scaled(100.0), "% vol")
    yield _fact("sugar", holds.sugar_g_per_l, "g/L")
    yield _fact("acid, as tartaric", holds.acid_g_per_l, "g/L")
    yield _fact("bitterness, as quinine", holds.qhe_mg_per_l, "mg/L")
    for name, interval, unit in (
        ("caffeine", holds.caffeine_mg_per_l, "mg/L"),
        ("salt", holds.salt_g_per_l, "g/L"),
    ):
        if interval.high > 0:
            yield _fact(name, interval, unit)


def _fact(name: str, interval: Interval, unit: str) -> Fact:
    return Fact(name, f"{number(interval.mid)} {unit}", range_words(interval, 3))


def _legal(legal: Legal) -> str:
    limits = [
        f"at least {number(legal.abv_min * 100)} % vol" if legal.abv_min is not None else "",
        f"at least {number(legal.sugar_min_g_per_l)} g/L of sugar"
        if legal.sugar_min_g_per_l is not None
        else "",
        f"at most {number(legal.sugar_max_g_per_l)} g/L of sugar"
        if legal.sugar_max_g_per_l is not None
        else "",
    ]
    told = listed(filter(None, limits))
    return f"{legal.category}{': ' + told if told else ''}"


def _odorants(catalogue: Catalogue, occurrences: Iterable[Occurrence]) -> Iterable[OdorantLine]:
    """Those with an amount first, the largest leading; then by impact."""
    impacts = list(_IMPACTS)

    def order(o: Occurrence) -> tuple[int, float]:
        if o.concentration_ug_per_l is not None:
            return 0, -o.concentration_ug_per_l.mid
        return 1, float(impacts.index(str(o.impact))) if o.impact else 9.0

    for occurrence in sorted(occurrences, key=order):
        odorant = catalogue.odorants[occurrence.odorant]
        yield OdorantLine(
            odorant.name,
            odorant.cas,
            _amount(occurrence),
            grade_mark(str(occurrence.grade)),
            source_line(catalogue, occurrence.source),
        )


def _amount(occurrence: Occurrence) -> str:
    amount = occurrence.concentration_ug_per_l
    if amount is None:
        return _IMPACTS.get(str(occurrence.impact), "named")
    unit, scaled = ("mg/L", amount.scaled(1e-3)) if amount.mid >= 1000 else ("µg/L", amount)
    return f"{number(scaled.mid, 2)} {unit}"
