"""The same fault is a page to a person and problem details to a program."""

from __future__ import annotations

from fastapi.testclient import TestClient

from service.web.app import create_app
from tests.web.conftest import HERE
from tests.web.pages.reading import read_page

PERSON = {"accept": "text/html,application/xhtml+xml,*/*;q=0.8"}


def test_a_missing_page_says_where_to_go(client: TestClient) -> None:
    answer = client.get("/nowhere", headers=PERSON)
    assert answer.status_code == 404
    page = read_page(answer.text)
    assert page.first("h1").text == "Not Found"
    assert [a.attributes["href"] for a in page.every("a", class_="button")] == ["/", "/ingredients"]


def test_page_and_details_say_the_same(client: TestClient) -> None:
    address = "/ingredients/moonbeam"
    details = client.get(address).json()
    page = read_page(client.get(address, headers=PERSON).text)
    assert page.first("h1").text == details["title"]
    said = page.first(class_="problem").text
    assert details["detail"][1:] in said


def test_the_api_speaks_json_even_to_a_browser(client: TestClient) -> None:
    answer = client.get("/api/v1/ingredients/moonbeam", headers=PERSON)
    assert answer.headers["content-type"] == "application/problem+json"


def test_a_fault_of_the_service_is_told_without_its_inside(client: TestClient) -> None:
    app = create_app(client.app.state.settings, client.app.state.known)  # type: ignore[attr-defined]

    @app.get("/broken")
    def broken() -> None:
        raise RuntimeError("a secret of the inside")

    with TestClient(app, base_url=HERE, raise_server_exceptions=False) as broken_client:
        answer = broken_client.get("/broken", headers=PERSON)
    assert answer.status_code == 500
    assert "secret" not in answer.text
    assert "the fault is the service's, not yours" in answer.text.replace("&#39;", "'").lower()
