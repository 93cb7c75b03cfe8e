"""Long runs say how far they are, and stop when told to."""

from __future__ import annotations

from service.recommend.compose import Progress, compose
from tests.recommend.compose.by_hand import told
from tests.recommend.compose.conftest import BAR, COARSE, MakeProblem


def test_an_exhaustive_run_tells_its_share_and_ends_at_the_whole(problem: MakeProblem) -> None:
    heard: list[Progress] = []
    compose(problem(BAR[3:9] + BAR[12:14], measures=COARSE), every=True, tell=heard.append)
    shares = [p.share for p in heard if p.share is not None]
    assert len(shares) == len(heard) >= 2
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


def test_an_exhaustive_run_stops_when_told_to(problem: MakeProblem) -> None:
    heard: list[Progress] = []
    found = compose(problem(BAR), every=True, tell=heard.append, stop=lambda: len(heard) >= 2)
    assert len(heard) == 2
    assert not found.certificate.proved
    assert found.certificate.drinks < found.certificate.candidates


def test_a_search_that_is_stopped_gives_what_is_certain_by_then(problem: MakeProblem) -> None:
    question = problem(BAR)
    whole = told(compose(question, limit=10))
    heard: list[Progress] = []
    part = compose(
        question,
        limit=10,
        tell=heard.append,
        stop=lambda: bool(heard) and heard[-1].certain >= 3,
    )
    assert told(part) == whole[: len(part.drinks)]
    assert 3 <= len(part.drinks) < 10
    assert not part.certificate.proved


def test_a_search_stopped_at_once_has_nothing_certain(problem: MakeProblem) -> None:
    found = compose(problem(BAR), stop=lambda: True)
    assert found.drinks == ()
    assert not found.certificate.proved
