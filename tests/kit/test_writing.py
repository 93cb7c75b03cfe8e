"""Numbers in sentences: never an exponent, and a scale is explained once."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.kit import OutOfRange, plain_number


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (10_600.0, "10600"), (1e12, "1000000000000"), (0.01234, "0.0123"), (45.0, "45"),
        (-2.5, "-2.5"), (0.0, "0"), (0.00001234, "0.0000123"), (1234.5, "1230"),
    ],
)  # fmt: skip
def test_a_number_is_written_out(value: float, text: str) -> None:
    assert plain_number(value) == text


@given(st.floats(-1e15, 1e15))
def test_no_number_has_an_exponent_and_each_is_read_again(value: float) -> None:
    text = plain_number(value, 6)
    assert "e" not in text
    assert float(text) == pytest.approx(value, rel=1e-5, abs=1e-9)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_stays_so(value: float) -> None:
    assert plain_number(value) == str(value)


def test_the_limits_of_a_scale_name_it_once() -> None:
    error = OutOfRange.of("novelty", 7.0, 0.0, 1.0, "(0 tried, 1 new)")
    assert error.message == "7 is outside 0 to 1 (0 tried, 1 new)"
    assert OutOfRange.of("g", 2e6, 1.0, 1e6, "g").message == "2000000 g is outside 1 to 1000000 g"
