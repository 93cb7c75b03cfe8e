"""Bar units against the laws that define them."""

import pytest

from service.kit import BadData, OutOfRange
from service.kit.units import Weighed, check_volume_ml, ml_per, parse_amount, parse_volume_ml


def test_us_fluid_ounce_is_that_of_handbook_44() -> None:
    # NIST Handbook 44 (2024), Appendix C: 1 US fluid ounce = 29.573 53 mL.
    assert ml_per("oz") == pytest.approx(29.57353, abs=5e-6)


@pytest.mark.parametrize(
    ("text", "volume_ml"),
    [
        ("45ml", 45.0),
        ("45", 45.0),
        (" 4.5 cl ", 45.0),
        ("22,5 ml", 22.5),
        ("1/2 oz", 14.78676),
        ("1 1/2 oz", 44.36029),
        ("0.75 fl. oz", 22.18015),
        ("2 dashes", 1.6),
        ("1 barspoon", 5.0),
        ("3 Drops", 0.15),
    ],
)
def test_an_amount_is_read_as_a_bartender_writes_it(text: str, volume_ml: float) -> None:
    assert parse_volume_ml(text) == pytest.approx(volume_ml, abs=1e-4)


@pytest.mark.parametrize(
    "text", ["", "ml", "two dashes", "-5 ml", "1e3 ml", "5 5 5", "1/0 oz", "4 glugs"]
)
def test_what_is_no_amount_says_so(text: str) -> None:
    with pytest.raises(BadData):
        parse_volume_ml(text, field="pour")


@pytest.mark.parametrize("digits", [41, 400, 5000])
@pytest.mark.parametrize("amount", ["{} oz", "{}/1 oz", "1/{} oz", "{} 1/2 g"])
def test_a_number_without_end_is_refused_and_breaks_nothing(amount: str, digits: int) -> None:
    """Python divides no integers of 400 digits into a float and reads none of 5000."""
    for read in (parse_amount, parse_volume_ml):
        with pytest.raises(BadData, match="is not an amount") as caught:
            read(amount.format("9" * digits), field="pour")
        assert len(caught.value.message) < 200


@pytest.mark.parametrize(
    ("text", "mass_g"),
    [("45g", 45.0), ("45 grams", 45.0), ("1/2 kg", 500.0), ("7,5 g", 7.5), ("1 gramme", 1.0)],
)
def test_a_weight_is_read_as_it_is_written(text: str, mass_g: float) -> None:
    assert parse_amount(text) == Weighed(mass_g)


@pytest.mark.parametrize("text", ["45ml", "1 1/2 oz", "2 dashes", "1 bar spoon", "45"])
def test_a_volume_is_the_same_by_either_reader(text: str) -> None:
    assert parse_amount(text) == parse_volume_ml(text)


@pytest.mark.parametrize("text", ["", "g", "-5 g", "5 gr", "45 lb", "1e3 g", "4 glugs"])
def test_what_is_neither_volume_nor_weight_says_so(text: str) -> None:
    with pytest.raises(BadData) as caught:
        parse_amount(text, field="pours.0.amount")
    assert caught.value.field == "pours.0.amount"


def test_a_weight_is_refused_where_only_a_volume_will_do() -> None:
    with pytest.raises(BadData, match="is a weight; give a volume"):
        parse_volume_ml("45 g", field="size")


@pytest.mark.parametrize("volume_ml", [0.0, -1.0, 100_001.0, float("nan"), float("inf")])
def test_no_pour_is_nothing_or_a_barrel(volume_ml: float) -> None:
    with pytest.raises(OutOfRange) as caught:
        check_volume_ml(volume_ml, field="pours.0")
    assert caught.value.field == "pours.0"
