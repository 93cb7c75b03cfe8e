"""What each kind of problem means: `type` of a problem is an address, and answers here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from starlette.responses import Response

from service.kit import BadData, CannotCompose, Conflict, NotFound, OutOfRange
from service.web.answers import json_answer
from service.web.pages.problems import ProblemPage, wants_page
from service.web.pages.rendering import page_answer


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of problem: its slug, and what to say of it."""

    slug: str
    title: str
    status: int
    meaning: str
    what_to_do: str

    def as_json(self) -> dict[str, str | int]:
        return {
            "type": f"/problems/{self.slug}",
            "title": self.title,
            "status": self.status,
            "meaning": self.meaning,
            "what_to_do": self.what_to_do,
        }


KINDS: Final = {
    kind.slug: kind
    for kind in (
        Kind(
            "bad-data",
            BadData.title,
            422,
            "Something that was sent cannot be read: no JSON, a wrong type, an unknown field, a "
            "word that stands for nothing here.",
            "Look at each entry of errors: it names the field and the reason. Sent again as it "
            "is, the answer will be the same.",
        ),
        Kind(
            "out-of-range",
            OutOfRange.title,
            422,
            "A number is outside what a person could pour, or outside what the models are valid "
            "for. They do not guess beyond it.",
            "Send a number inside the limits that the detail names.",
        ),
        Kind(
            "not-found",
            NotFound.title,
            404,
            "Nothing is known by that id or name.",
            "Look for it with GET /api/v1/ingredients?text=...; the reason names the nearest "
            "known, where there is one.",
        ),
        Kind(
            "conflict",
            Conflict.title,
            409,
            "Somebody else changed the record after you read it, or it exists already. Nothing "
            "was written over.",
            "Read it again, and make your change on what stands there now.",
        ),
        Kind(
            "cannot-compose",
            CannotCompose.title,
            409,
            "No drink meets all that was asked.",
            "Loosen the condition that the detail names, or add a bottle to the shelf.",
        ),
        Kind(
            "too-large",
            "Too much at once",
            413,
            "The body of the request is larger than the service takes.",
            "Send less, or send it in parts.",
        ),
        Kind(
            "sign-in-first",
            "Sign in first",
            401,
            "Nobody is known to ask. Where others can reach the service, it opens to staff and to "
            "tokens only.",
            "Sign in on the page, or send a token as Authorization: Bearer ...",
        ),
        Kind(
            "not-from-here",
            "Not from here",
            403,
            "The request came from another machine to a service that has no passphrase.",
            "Ask on the machine it runs on, or have it started with a passphrase.",
        ),
        Kind(
            "not-this-service",
            "Not this service",
            421,
            "The name in the address is none that this service answers to.",
            "Ask by a name it knows, or have the name added to MARC_HOSTS.",
        ),
        Kind(
            "fault",
            "Something broke here",
            500,
            "The fault is the service's, not the request's. Nothing was changed.",
            "Try again; tell whoever runs it if it happens twice.",
        ),
    )
}
router = APIRouter(prefix="/problems", include_in_schema=False)


@router.get("")
async def every_kind() -> Response:
    return json_answer({"kinds": [kind.as_json() for kind in KINDS.values()]})


@router.get("/{slug}")
async def one_kind(request: Request, slug: str) -> Response:
    if slug not in KINDS:
        raise NotFound("no kind of problem has that name; /problems lists them", field="slug")
    kind = KINDS[slug]
    if wants_page(request):
        page = ProblemPage(kind.title, kind.meaning, (kind.what_to_do,))
        return page_answer(request, "problem.html", page, section="")
    return json_answer(kind.as_json())
