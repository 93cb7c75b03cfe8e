"""A coffee's aroma: the profile moves it by sourced factors, the bag's words most of all."""

import numpy as np
import pytest

from service.aroma import coffee_aroma, profile_factors
from service.counter.known import Known
from service.ingredients import CoffeeProfile
from service.ingredients.records import Process, Roast, Species
from service.kit import BadData

ALL = [CoffeeProfile(r, p, s) for r in Roast for p in Process for s in Species]


@pytest.mark.parametrize("profile", ALL, ids=lambda p: p.id)
def test_every_profile_has_an_aroma_of_length_one(known: Known, profile: CoffeeProfile) -> None:
    aroma = coffee_aroma(known.knowledge.space, known.catalogue, profile, {"caramel": 1.0})
    for vector in (aroma.notes, aroma.families, aroma.plain, aroma.named):
        assert np.linalg.norm(vector) == pytest.approx(1.0)
    assert ((aroma.trust >= 0) & (aroma.trust <= 1)).all()


def test_the_usual_coffee_is_not_apart_from_itself(known: Known) -> None:
    space = known.knowledge.space
    assert not coffee_aroma(space, known.catalogue, CoffeeProfile()).apart.any()
    dark = coffee_aroma(space, known.catalogue, CoffeeProfile(Roast.DARK)).apart
    assert dark[space.descriptor_index["ash"]] > dark[space.descriptor_index["strawberry"]]


def test_a_medium_roast_lies_between_light_and_dark(known: Known) -> None:
    # Factors are interpolated in the logarithm, so half way is the square root.
    full = profile_factors(known.catalogue, CoffeeProfile(Roast.DARK))
    half = profile_factors(known.catalogue, CoffeeProfile(Roast.MEDIUM_DARK))
    washed = profile_factors(known.catalogue, CoffeeProfile(Roast.MEDIUM))
    odorants = [o for o in full if o in half]
    assert odorants
    for odorant in odorants:
        base = washed.get(odorant, (1.0, 1.0))[0]
        assert half[odorant][0] / base == pytest.approx((full[odorant][0] / base) ** 0.5)


def test_named_notes_lead_the_aroma(known: Known) -> None:
    space = known.knowledge.space
    aroma = coffee_aroma(space, known.catalogue, CoffeeProfile(), {"jasmine": 1.0})
    assert space.descriptors[int(np.argmax(aroma.notes))] == "jasmine"


def test_the_kin_of_a_named_note_is_of_its_family(known: Known) -> None:
    space = known.knowledge.space
    aroma = coffee_aroma(space, known.catalogue, CoffeeProfile(), {"strawberry": 1.0})
    kin = {space.descriptors[i] for i in np.flatnonzero(aroma.kin)}
    assert {known.catalogue.descriptors[d].family for d in kin} == {"berry"}
    assert "strawberry" not in kin


def test_a_note_that_is_no_descriptor_is_refused(known: Known) -> None:
    with pytest.raises(BadData):
        coffee_aroma(known.knowledge.space, known.catalogue, CoffeeProfile(), {"moonlight": 1.0})
