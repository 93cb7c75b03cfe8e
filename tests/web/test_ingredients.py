"""The list of ingredients, page by page, and one with its evidence."""

from fastapi.testclient import TestClient

from service.counter.known import Known


def test_pages_put_together_are_the_whole_list(client: TestClient, known: Known) -> None:
    seen: list[str] = []
    after = ""
    while True:
        page = client.get("/api/v1/ingredients", params={"limit": 50, "after": after}).json()
        seen += [item["id"] for item in page["items"]]
        if page["next_after"] is None:
            break
        after = page["next_after"]
    assert seen == sorted(known.catalogue.ingredients)


def test_a_role_filter_keeps_to_the_role(client: TestClient) -> None:
    page = client.get("/api/v1/ingredients", params={"role": "bitters"}).json()
    assert {item["role"] for item in page["items"]} == {"bitters"}


def test_an_ingredient_comes_with_a_source_for_every_number(client: TestClient) -> None:
    rye = client.get("/api/v1/ingredients/rye-whiskey").json()
    known_sources = {source["id"] for source in rye["sources"]}
    assert rye["odorants"]
    assert {row["source"] for row in rye["odorants"]} <= known_sources
    assert abs(sum(note["share"] for note in rye["notes"]) - 1.0) < 1e-4


def test_a_coffee_profile_is_an_ingredient_too(client: TestClient) -> None:
    coffee = client.get("/api/v1/ingredients/coffee-dark-washed-canephora").json()
    assert coffee["role"] == "coffee"
    assert coffee["odorants"]


def test_health_counts_the_dataset(client: TestClient, known: Known) -> None:
    health = client.get("/api/v1/health").json()
    assert health["counts"]["ingredients"] == len(known.catalogue.ingredients)
    assert health["dataset_version"] == known.catalogue.version
