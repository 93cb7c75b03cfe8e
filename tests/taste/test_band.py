"""The band's geometry on made-up drinks whose answer can be seen."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import BadData
from service.taste import (
    AXES,
    BandSettings,
    Percept,
    Reference,
    Style,
    Verdict,
    fit_band,
    judge,
    leanings,
)


def cloud(count=60, seed=1, style=Style.SUGAR, centre=(4.0, 2.5, 1.0, 0.0, 22.0)):
    """Drinks scattered evenly about a middle: 1 point each way, 2 of heat."""
    rng = np.random.default_rng(seed)
    points = np.array(centre) + rng.normal(size=(count, 5)) * np.array([1.0, 1.0, 0.2, 0.0, 2.0])
    return [
        Reference(f"{style} {i}", Percept(*np.maximum(row, 0.0).tolist()), style)
        for i, row in enumerate(points)
    ]


@pytest.fixture(scope="module")
def band():
    return fit_band(cloud())


def at(sweet=4.0, bitter=2.5, sour=1.0, salt=0.0, heat=22.0):
    return Percept(sweet, bitter, sour, salt, heat)


def test_the_middle_is_inside_and_far_away_is_outside(band):
    assert judge(band, at()).verdict() is Verdict.INSIDE
    for off in (at(sweet=12.0), at(bitter=12.0), at(sour=15.0), at(salt=5.0), at(heat=40.0)):
        assert judge(band, off).verdict() is Verdict.OUTSIDE


def test_the_edge_lies_between_inside_and_outside(band):
    words = [judge(band, at(sweet=s)).verdict() for s in np.linspace(4.0, 12.0, 200)]
    order = [Verdict.INSIDE, Verdict.EDGE, Verdict.OUTSIDE]
    assert [w for i, w in enumerate(words) if i == 0 or words[i - 1] is not w] == order


def test_the_chosen_share_of_new_drinks_is_turned_away():
    """New drinks from the same cloud: about 12 % outside, 33 % not inside, as set (conformal)."""
    band = fit_band(cloud(count=200))
    fresh = judge(band, Percept(*np.array([_row(r) for r in cloud(count=4000, seed=2)]).T))
    assert np.mean(fresh.outside) == pytest.approx(0.12, abs=0.06)
    assert np.mean(~fresh.inside) == pytest.approx(0.33, abs=0.09)


def test_a_stricter_band_turns_more_away():
    loose = fit_band(cloud(), BandSettings(beyond_inside=0.2, beyond_edge=0.05))
    strict = fit_band(cloud(), BandSettings(beyond_inside=0.5, beyond_edge=0.3))
    assert strict.inside_radius < loose.inside_radius


def test_leanings_name_the_taste_that_is_off_and_its_sign(band):
    for taste, percept, sign in (
        ("sweet", at(sweet=9.0), 1),
        ("sweet", at(sweet=0.0), -1),
        ("bitter", at(bitter=9.0), 1),
        ("heat", at(heat=12.0), -1),
        ("salt", at(salt=4.0), 1),
    ):
        leans = leanings(band, percept)
        assert AXES[int(np.abs(leans).argmax())] == taste
        assert np.sign(leans[AXES.index(taste)]) == sign


def test_two_families_make_two_regions_and_nothing_between():
    far = cloud(seed=3, style=Style.LIQUEUR, centre=(12.0, 0.5, 0.5, 0.0, 22.0))
    band = fit_band([*cloud(), *far])
    assert judge(band, at()).verdict() is Verdict.INSIDE
    assert judge(band, at(sweet=12.0, bitter=0.5, sour=0.5)).verdict() is Verdict.INSIDE
    assert judge(band, at(sweet=8.0, bitter=1.5)).verdict() is not Verdict.INSIDE


def test_a_style_of_its_own_is_excused_near_its_kind_only():
    own = cloud(count=8, seed=5, style=Style.EQUAL_PARTS_BITTER, centre=(9.0, 6.0, 4.0, 0.0, 18.0))
    band = fit_band([*cloud(), *own])
    near, far = own[0].percept, at(sweet=20.0)
    assert judge(band, near).verdict() is Verdict.OUTSIDE
    assert judge(band, near, Style.EQUAL_PARTS_BITTER).verdict() is Verdict.EDGE
    assert judge(band, far, Style.EQUAL_PARTS_BITTER).verdict() is Verdict.OUTSIDE
    assert judge(band, near, Style.EQUAL_PARTS).verdict() is Verdict.OUTSIDE


@given(points=st.lists(st.floats(0.0, 14.0), min_size=5, max_size=5))
def test_distance_is_finite_and_leanings_are_too(points):
    band = fit_band(cloud())
    percept = Percept(*points)
    assert np.isfinite(judge(band, percept).distance)
    assert np.isfinite(leanings(band, percept)).all()


def test_shapes_follow_the_percepts(band):
    grid = Percept(*(np.full((3, 4), x) for x in (4.0, 2.5, 1.0, 0.0, 22.0)))
    judgement = judge(band, grid)
    assert judgement.distance.shape == judgement.inside.shape == judgement.outside.shape == (3, 4)
    assert leanings(band, grid).shape == (3, 4, 5)
    assert judgement.usual_verdicts() == [Verdict.INSIDE] * 3


def test_too_few_drinks_make_no_band():
    with pytest.raises(BadData, match="a band needs 12 reference drinks"):
        fit_band(cloud(count=11))


def _row(reference):
    return [getattr(reference.percept, taste) for taste in AXES]
