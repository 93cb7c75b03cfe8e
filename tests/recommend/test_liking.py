"""Liking against a published Bradley-Terry fit, reference libraries, and houses of known taste."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.kit import BadData, OutOfRange
from service.recommend import (
    Liked,
    LikingSettings,
    Preferred,
    learn_liking,
    liking_of_each,
)
from service.recommend.liking import LOGISTIC_PER_NORMAL

SETTINGS = LikingSettings()
Z90 = 1.2815515655446004

# Agresti 2002, Categorical Data Analysis, Table 10.10, from memory: games of seven teams, each
# pair meeting 13 times; rows won against columns.
WON = (
    (0, 7, 9, 7, 7, 9, 11),
    (6, 0, 7, 5, 11, 9, 9),
    (4, 6, 0, 7, 7, 8, 12),
    (6, 8, 6, 0, 6, 7, 10),
    (6, 2, 6, 7, 0, 7, 12),
    (4, 4, 5, 6, 6, 0, 6),
    (2, 4, 1, 3, 1, 7, 0),
)
# Table 10.11, read in the test suite of the R package that accompanies Turner & Firth 2012
# (J. Stat. Softw. 48(9)): abilities against the last team; "standard errors are about 0.3".
ABILITIES = (1.58, 1.44, 1.29, 1.25, 1.11, 0.68)


def test_abilities_of_a_published_bradley_terry_fit_are_met():
    teams = [{f"t{i}": 1.0} for i in range(6)] + [{}]
    games = [
        Preferred(f"{i}-{j}-{n}", teams[i], teams[j])
        for i, row in enumerate(WON)
        for j, wins in enumerate(row)
        for n in range(wins)
    ]
    assert len(games) == 21 * 13
    flat = LikingSettings(part_apart=1e3, noise=LOGISTIC_PER_NORMAL / 2**0.5)
    found = learn_liking([], games, flat)
    assert [round(found[f"t{i}"].points, 2) for i in range(6)] == list(ABILITIES)
    assert [round(found[f"t{i}"].points_error, 1) for i in range(6)] == [0.3] * 6


def some_likings(count: int, seed: int = 2) -> list[Liked]:
    rng = np.random.default_rng(seed)
    bottles = [f"bottle-{i}" for i in range(12)]
    return [
        Liked(
            f"{number:03d}",
            "abc"[int(rng.integers(3))],
            float(rng.integers(3, 10)),
            {str(name): 1.0 for name in rng.choice(bottles, 3, replace=False)},
        )
        for number in range(count)
    ]


def design(likings: list[Liked]) -> tuple[np.ndarray, list[str]]:
    """Columns scaled by their prior's standard deviation: usual, tasters, parts."""
    tasters = sorted({each.taster for each in likings})
    parts = sorted({part for each in likings for part in each.parts})
    rows = [
        [SETTINGS.usual_apart]
        + [SETTINGS.tasters_apart * (each.taster == taster) for taster in tasters]
        + [SETTINGS.part_apart * each.parts.get(part, 0.0) for part in parts]
        for each in likings
    ]
    return np.array(rows), parts


def test_likings_alone_are_ridge_regression():
    """scikit-learn's Ridge on the scaled columns, its penalty the variance of an answer."""
    from sklearn.linear_model import Ridge

    likings = some_likings(40)
    columns, parts = design(likings)
    ridge = Ridge(alpha=SETTINGS.noise**2, fit_intercept=False)
    ridge.fit(columns, [each.liking - SETTINGS.usual for each in likings])
    found = learn_liking(likings)
    for part, weight in zip(parts, ridge.coef_[-len(parts) :], strict=True):
        assert found[part].points == pytest.approx(SETTINGS.part_apart * weight, abs=1e-9)


def test_errors_are_those_of_a_gaussian_process_with_the_same_prior():
    """Rasmussen & Williams 2006, eq. 2.24: the same posterior from the side of the answers."""
    likings = some_likings(40)
    columns, parts = design(likings)
    between = columns @ columns.T + SETTINGS.noise**2 * np.eye(len(likings))
    for offset, part in enumerate(parts):
        towards = SETTINGS.part_apart * columns[:, columns.shape[1] - len(parts) + offset]
        variance = SETTINGS.part_apart**2 - towards @ np.linalg.solve(between, towards)
        assert learn_liking(likings)[part].points_error == pytest.approx(variance**0.5, rel=1e-9)


def test_eighty_percent_intervals_of_known_tastes_hold_75_to_85_percent():
    rng = np.random.default_rng(1987)
    bottles = [f"bottle-{i:02d}" for i in range(20)]
    held, errors, before = [], [], []
    for _ in range(400):
        usual = SETTINGS.usual + SETTINGS.usual_apart * rng.standard_normal()
        effects = dict(zip(bottles, SETTINGS.part_apart * rng.standard_normal(20), strict=True))
        tasters = SETTINGS.tasters_apart * rng.standard_normal(3)
        said = []
        for number in range(40):
            parts = {str(name): 1.0 for name in rng.choice(bottles, 3, replace=False)}
            who = int(rng.integers(3))
            liking = usual + tasters[who] + sum(effects[part] for part in parts)
            liking += SETTINGS.noise * rng.standard_normal()
            said.append(Liked(f"{number}", "abc"[who], float(np.clip(liking, 1, 9)), parts))
        found = learn_liking(said)
        off = np.array([found[part].points - effects[part] for part in found])
        wide = np.array([Z90 * found[part].points_error for part in found])
        held += list(np.abs(off) <= wide)
        errors.append(np.abs(off).mean())
        before.append(np.mean([abs(effects[part]) for part in found]))
    assert 0.75 <= np.mean(held) <= 0.85
    assert np.mean(errors) < 0.8 * np.mean(before)


def test_preferences_and_likings_of_one_taste_agree_and_add_up():
    liked = [Liked(f"l{i}", "ab", 8, {"amaro": 1}) for i in range(5)]
    liked += [Liked(f"m{i}", "ab", 4, {"mint": 1}) for i in range(5)]
    preferred = [Preferred(f"p{i}", {"amaro": 1}, {"mint": 1}) for i in range(5)]
    by_likings, by_both = learn_liking(liked), learn_liking(liked, preferred)
    assert by_likings["amaro"].liking > 0 > by_likings["mint"].liking
    assert by_both["amaro"].points > by_likings["amaro"].points
    assert by_both["amaro"].points_error < by_likings["amaro"].points_error
    alone = learn_liking([], preferred)
    assert alone["amaro"].points == pytest.approx(-alone["mint"].points)


def test_what_both_drinks_share_is_not_preferred():
    found = learn_liking([], [Preferred("1", {"rye": 1, "amaro": 1}, {"rye": 1, "mint": 1})])
    assert set(found) == {"amaro", "mint"}


def test_generous_tasters_do_not_make_a_bottle_liked():
    """One taster gives 9 to all, another 3; each bottle is tasted by both."""
    said = [
        Liked(f"{who}{part}", who, liking, {part: 1})
        for who, liking in (("kind", 9), ("stern", 3))
        for part in ("rye", "gin")
    ]
    fair = learn_liking(said)
    assert fair["rye"].points == pytest.approx(fair["gin"].points)
    lopsided = learn_liking([*said, Liked("more", "kind", 9, {"rye": 1})])
    assert abs(lopsided["rye"].points) < 0.5


def test_more_answers_move_further_and_know_better():
    one, ten = (
        learn_liking(
            [Liked(str(i), "ab", 9, {"amaro": 1}) for i in range(many)]
            + [Liked(f"x{i}", "ab", 5, {}) for i in range(many)]
        )["amaro"]
        for many in (1, 10)
    )
    assert 0 < one.liking < ten.liking < 1
    assert ten.error < one.error
    assert ten.tasted == 10
    assert "adds" in ten.words


def test_a_liking_of_one_means_a_drink_with_it_always_wins():
    """By definition: 2 P(better) - 1 for two answers that each scatter by the noise."""
    found = learn_liking([Liked(str(i), "ab", 9, {"amaro": 1}) for i in range(6)])["amaro"]
    rng = np.random.default_rng(4)
    with_it = found.points + SETTINGS.noise * rng.standard_normal(400_000)
    without = SETTINGS.noise * rng.standard_normal(400_000)
    assert 2.0 * (with_it > without).mean() - 1.0 == pytest.approx(found.liking, abs=0.005)


def test_undoing_an_answer_leaves_no_trace_and_order_is_of_no_account():
    likings = some_likings(20)
    whole = learn_liking(likings)
    assert learn_liking(random.Random(5).sample(likings, 20)) == whole
    assert learn_liking(likings[:-1]) == learn_liking([t for t in likings if t.key != "019"])
    assert learn_liking(likings[:-1]) != whole


def test_without_answers_nothing_is_known():
    assert learn_liking([]) == {}
    assert liking_of_each(learn_liking([])) == {}


def test_a_mild_pour_moves_less_than_a_full_one():
    said = [Liked(str(i), "ab", 9, {"amaro": 1, "mint": 0.2}) for i in range(6)]
    found = learn_liking(said)
    assert found["amaro"].points > 3 * found["mint"].points > 0


@settings(max_examples=40, deadline=None)
@given(
    likings=st.lists(st.floats(1, 9), max_size=12),
    wins=st.integers(0, 300),
    apart=st.floats(0.05, 50),
)
def test_likings_stay_between_minus_one_and_one(likings, wins, apart):
    liked = [Liked(f"{i}", "ab", x, {"amaro": 1, f"b{i % 4}": 1}) for i, x in enumerate(likings)]
    preferred = [Preferred(f"{i}", {"amaro": 1}, {"mint": 1}) for i in range(wins)]
    found = learn_liking(liked, preferred, LikingSettings(part_apart=apart))
    for part in found.values():
        assert -1.0 <= part.liking <= 1.0
        assert np.isfinite(part.points)
        assert 0 < part.points_error <= apart * (1 + 1e-9)
        assert part.error >= 0


def test_what_cannot_be_is_turned_away():
    with pytest.raises(OutOfRange):
        Liked("1", "ab", 10, {"rye": 1})
    with pytest.raises(BadData):
        Liked("1", "ab", 5, {"rye": float("nan")})
    with pytest.raises(BadData, match="same key"):
        learn_liking([Liked("1", "ab", 5, {}), Liked("1", "cd", 6, {})])
    with pytest.raises(OutOfRange):
        LikingSettings(noise=0.0)
