"""What the API takes for specs, for tonight, for trials, blind tests and guests."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Annotated, Any, Final

from pydantic import AwareDatetime, ConfigDict, Field, JsonValue

from service.bar import BlindKind, SpecDraft, SpecStatus, TrialDraft
from service.bed import LEAST_DOSE_G, MOST_DOSE_G
from service.counter.house_trials import SOLIDS
from service.counter.naming import id_named, pours_named
from service.ingredients import Catalogue
from service.ingredients.records import Grind, Process, Roast, Species, SpecPour
from service.web.api.v1.record_requests import HIGHEST_ID, HIGHEST_VERSION, Change, Id, Text
from service.web.api.v1.requests import (
    POURS_EXAMPLE,
    Name,
    PourRequest,
    PreparationRequest,
    Request,
    poured_lines,
)

Pours = Annotated[list[PourRequest], Field(min_length=1, max_length=30)]
Whole = Annotated[int, Field(ge=-HIGHEST_ID, le=HIGHEST_ID)]
Moment = Annotated[
    AwareDatetime, Field(ge=datetime(1900, 1, 1, tzinfo=UTC), le=datetime(2200, 1, 1, tzinfo=UTC))
]
SPEC_EXAMPLE: Final[dict[str, JsonValue]] = {
    "name": "Low Tide Letter",
    "pours": POURS_EXAMPLE,
    "glass": "small stemmed glass",
    "method": "Stir, then pour slowly through the coffee.",
}
TRIAL_EXAMPLE: Final[dict[str, JsonValue]] = {
    "spec_id": 1,
    "dose_g": 15,
    "liquid_in_ml": 115,
    "liquid_out_ml": 96,
    "drain_seconds": 150,
    "sweetness": 1,
    "liking": 7,
    "taster": "MB",
}
_ONE_TO_NINE: Final = "1 dislike extremely to 9 like extremely"
_JUST_RIGHT: Final = "0 just about right, -2 much too little, 2 much too much"


class SpecBed(Request):
    """What a spec says of its coffee other than the bag; what is left out is the bag's."""

    roast: Roast | None = None
    process: Process | None = None
    species: Species | None = None
    notes: Text | None = None
    dose_g: Annotated[float | None, Field(ge=LEAST_DOSE_G, le=MOST_DOSE_G)] = None
    grind: Grind | None = None
    decaf: bool | None = None


class SpecRequest(Request):
    """A drink as it is written down."""

    model_config = ConfigDict(json_schema_extra={"examples": [SPEC_EXAMPLE]})

    name: Name
    pours: Pours
    coffee_id: Annotated[Id | None, Field(description="a coffee in use")] = None
    preparation: PreparationRequest = Field(default_factory=PreparationRequest)
    bed: SpecBed = Field(default_factory=SpecBed)
    glass: Text = ""
    garnish: Text = ""
    method: Text = ""
    reason: Annotated[Text, Field(description="why this revision was written")] = ""

    def draft(self, catalogue: Catalogue) -> SpecDraft:
        self.preparation.preparation()  # refuses what says nothing of this method
        return SpecDraft(
            name=self.name,
            pours=pours_named(catalogue, poured_lines(self.pours)),
            coffee_id=self.coffee_id,
            preparation=_said(self.preparation),
            bed=_said(self.bed),
            glass=self.glass,
            garnish=self.garnish,
            method=self.method,
            reason=self.reason,
        )


class NewSpecRequest(SpecRequest):
    """A new drink; a draft unless said otherwise."""

    status: SpecStatus = SpecStatus.DRAFT


class SpecRevision(Change, SpecRequest):
    """New contents: the next revision, none is written over."""

    model_config = ConfigDict(json_schema_extra={"examples": [{**SPEC_EXAMPLE, "version": 1}]})


class StatusChange(Change):
    """Put a spec on the list, retire it, or make it a draft again."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"status": "on the list", "version": 1}]}
    )

    status: SpecStatus


class SubstitutionRequest(Change):
    """What is poured tonight in place of a spec's own pours; `version` where there is one."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"ingredient_out": "fig-liqueur", "pours": POURS_EXAMPLE}]}
    )

    ingredient_out: Annotated[Name, Field(description="id, name or trade word")]
    pours: Pours
    remarks: Text = ""
    night: Annotated[date | None, Field(description="this night where left out")] = None

    def swapped(self, catalogue: Catalogue) -> tuple[str, tuple[SpecPour, ...]]:
        """Id of what is out, and the pours instead."""
        out = id_named(catalogue, self.ingredient_out, field="ingredient_out")
        return out, pours_named(catalogue, poured_lines(self.pours))


class TrialRequest(Request):
    """One making and tasting of a spec; what nobody looked at is left out.

    The bed and the liquid as they were are kept beside it, as they are foretold of the spec.
    """

    model_config = ConfigDict(json_schema_extra={"examples": [TRIAL_EXAMPLE]})

    spec_id: Id
    revision: Annotated[
        int | None, Field(ge=1, le=HIGHEST_VERSION, description="the latest where left out")
    ] = None
    coffee_id: Annotated[Id | None, Field(description="the spec's where left out")] = None
    made_at: Moment | None = None
    taster: Annotated[Text, Field(description="initials")] = ""
    dose_g: float | None = None
    liquid_in_ml: float | None = None
    liquid_out_ml: float | None = None
    drain_seconds: float | None = None
    celsius: float | None = None
    sweetness: Annotated[Whole | None, Field(description=_JUST_RIGHT)] = None
    bitterness: Annotated[Whole | None, Field(description=_JUST_RIGHT)] = None
    coffee_strength: Annotated[Whole | None, Field(description=_JUST_RIGHT)] = None
    strength: Annotated[Whole | None, Field(description=_JUST_RIGHT)] = None
    liking: Annotated[Whole | None, Field(description=_ONE_TO_NINE)] = None
    solids_g_per_l: Annotated[
        float | None,
        Field(gt=0, le=1000, description="dissolved coffee, against a control without coffee"),
    ] = None
    words: Text = ""

    def draft(self) -> TrialDraft:
        solids = {} if self.solids_g_per_l is None else {SOLIDS: self.solids_g_per_l}
        return TrialDraft(**self.model_dump(exclude={SOLIDS}), conditions=solids)


class BlindTestRequest(Request):
    """A blind test to be planned: orders, codes and who gets which are drawn by lot."""

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [{"name": "two grinds", "kind": "triangle", "assessors": 12, "seed": 7}]
        }
    )

    name: Name
    kind: BlindKind
    assessors: Annotated[int, Field(ge=1, le=1000)]
    samples: tuple[Name, Name] = ("A", "B")
    attribute: Annotated[Name, Field(description="what a paired test asks for")] = "bitterness"
    two_sided: Annotated[bool, Field(description="paired: either could have more")] = False
    seed: Annotated[int | None, Field(ge=0, le=2**31 - 1)] = None

    def asked(self) -> dict[str, Any]:
        return self.model_dump()


class BlindAnswerRequest(Request):
    """The code that a seat named."""

    model_config = ConfigDict(
        json_schema_extra={"examples": [{"seat": 1, "answer": "482", "taster": "MB"}]}
    )

    seat: Annotated[int, Field(ge=1, le=1000)]
    answer: Name
    taster: Text = ""
    words: Text = ""


class CloseRequest(Change):
    """No more answers; count them."""

    model_config = ConfigDict(json_schema_extra={"examples": [{"version": 1}]})


class GuestLinkRequest(Request):
    """A spec that guests may read of."""

    model_config = ConfigDict(json_schema_extra={"examples": [{"spec_id": 1}]})

    spec_id: Id


def _said(part: Request) -> dict[str, Any]:
    """What was said, under its own names; nothing for what was left out."""
    return part.model_dump(mode="json", exclude_none=True, exclude_unset=True)
