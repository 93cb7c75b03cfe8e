"""A number typed into a form is finite or refused, in the words that were typed."""

from __future__ import annotations

import pytest

from service.kit import BadData, OutOfRange
from service.web.pages.typed_numbers import number_or_none


def test_comma_and_point_are_one_number_and_nothing_is_none() -> None:
    read = [number_or_none(text, "dose_g", 2, 1000, "g", 15) for text in ("15.5", " 15,5 ", "  ")]
    assert read == [15.5, 15.5, None]


@pytest.mark.parametrize("text", ["nan", "inf", "-inf", "1e999", "9" * 400, "a lot"])
def test_what_is_no_finite_number_is_quoted_with_its_field(text: str) -> None:
    with pytest.raises(BadData, match="is no number; write one like 15") as caught:
        number_or_none(text, "dose_g", 2, 1000, "g", 15)
    assert caught.value.field == "dose_g"
    assert repr(text[:40]) in caught.value.message


def test_a_number_out_of_range_is_told_with_the_range() -> None:
    with pytest.raises(OutOfRange, match="1000000 g is outside 2 to 1000 g;"):
        number_or_none("1000000", "dose_g", 2, 1000, "g", 15)
    with pytest.raises(OutOfRange, match=r"price: 0 is outside 0\.01 to 1000000; write"):
        number_or_none("0", "price", 0.01, 1_000_000, "", 12)
    with pytest.raises(OutOfRange, match="1e308 g is outside"):
        number_or_none(" 1e308", "dose_g", 2, 1000, "g", 15)
