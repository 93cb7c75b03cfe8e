"""The type of a problem is a URI reference that explains it (RFC 9457, section 3.1.1)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

import service.web
from service.kit import BadData, CannotCompose, Conflict, NotFound, OutOfRange, ServiceError
from service.web.api.v1.responses import ProblemKind
from service.web.errors import service_problem
from service.web.problem_kinds import KINDS
from tests.web.api.operations import hold_to_problem

WEB = Path(service.web.__file__).parent
PROBLEM_TYPE = re.compile(r'"/problems/([a-z-]+)"')
ERRORS = (BadData, OutOfRange, NotFound, Conflict, CannotCompose)


def test_every_error_of_the_service_has_a_kind() -> None:
    assert set(ServiceError.__subclasses__()) == set(ERRORS)
    for kind in ERRORS:
        answer = service_problem(kind("sail closer"))
        slug = re.search(rb'"/problems/([a-z-]+)"', answer.body)
        assert slug is not None
        explained = KINDS[slug.group(1).decode()]
        assert (explained.title, explained.status) == (kind.title, answer.status_code)


def test_every_kind_that_is_written_somewhere_is_explained() -> None:
    written = {
        slug
        for path in WEB.rglob("*.py")
        for slug in PROBLEM_TYPE.findall(path.read_text(encoding="utf-8"))
    }
    assert {"bad-data", "too-large"} <= written <= set(KINDS)


@pytest.mark.parametrize("slug", KINDS)
def test_a_kind_is_explained_to_a_program_and_to_a_person(client: TestClient, slug: str) -> None:
    answer = client.get(f"/problems/{slug}")
    explained = ProblemKind.model_validate_json(answer.content, strict=True)
    assert explained.type == f"/problems/{slug}"
    page = client.get(f"/problems/{slug}", headers={"accept": "text/html"})
    assert page.status_code == 200
    assert page.headers["content-type"].startswith("text/html")
    assert explained.meaning.split("'")[0] in page.text


def test_the_type_of_a_real_problem_answers(client: TestClient) -> None:
    problem = hold_to_problem(client.get("/api/v1/ingredients/moonbeam"))
    assert client.get(problem.type).json()["title"] == problem.title


def test_a_kind_that_is_none_is_not_found(client: TestClient) -> None:
    assert client.get("/problems/spilt").status_code == 404
    listed = client.get("/problems").json()["kinds"]
    assert [kind["type"] for kind in listed] == [f"/problems/{slug}" for slug in KINDS]
