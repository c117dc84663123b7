import pytest

from generator.documents.drawing import Spelling
from generator.documents.numerals import (
    MICROINCHES,
    depth_text,
    fine,
    general,
    general_text,
    limits_text,
    size_text,
    toleranced,
)
from generator.model.fits import Limits


@pytest.mark.parametrize(
    ("value_mm", "decimals", "text"),
    [
        (12.7, 3, ".500"),
        (25.4, 3, "1.000"),
        (0.0, 3, ".000"),
        (7.9375, 4, ".3125"),
        (-12.7, 3, "-.500"),
        (22.225, 3, ".875"),
        (25.4 * 0.0625, 3, ".063"),
    ],
)
def test_inches_have_no_leading_zero_and_fixed_decimals(
    value_mm: float, decimals: int, text: str
) -> None:
    assert size_text(value_mm, Spelling("inch", decimals)) == text


@pytest.mark.parametrize(
    ("value_mm", "text"), [(23.0, "23"), (23.75, "23.75"), (14.125, "14.13"), (37.851, "37.85")]
)
def test_millimetres_have_no_more_decimals_than_two(value_mm: float, text: str) -> None:
    assert size_text(value_mm, general("mm")) == text


def test_a_size_with_limits_has_as_many_decimals_as_they() -> None:
    assert toleranced("mm", "H7 (+0.015/0)") == fine("mm")
    assert toleranced("mm", "±0.1") == toleranced("mm", "") == general("mm")
    assert toleranced("inch", "±.0005") == fine("inch")
    assert toleranced("inch", "±.004") == general("inch")


@pytest.mark.parametrize(
    ("zone", "lower_um", "upper_um", "text"),
    [
        ("h8", -22.0, 0.0, "h8 (+.0000/-.0009)"),
        ("H7", 0.0, 15.0, "H7 (+.0006/-.0000)"),
        ("", 13.0, 25.0, "(+.0010/+.0005)"),
        ("", -13.0, 13.0, "±.0005"),
    ],
)
def test_limits_in_inches_give_zero_the_sign_of_its_side(
    zone: str, lower_um: float, upper_um: float, text: str
) -> None:
    assert limits_text(Limits(8.0, lower_um, upper_um, zone), "inch") == text


def test_depths_of_holes_are_given_to_a_tenth() -> None:
    assert [depth_text(mm, "mm") for mm in (6.33, 34.75, 28.0, 2.25)] == [
        "6.3",
        "34.8",
        "28",
        "2.25",
    ]


def test_roughness_steps_agree_with_their_microinches() -> None:
    """Both series are rounded preferred numbers; ISO 1302 prints 63 and 125 for 1.6 and 3.2."""
    for um, microinches in MICROINCHES.items():
        assert microinches == pytest.approx(um / 25.4e-3, rel=0.025)


def test_general_tolerance_in_inches_goes_with_three_decimals() -> None:
    assert general_text("ISO 2768-f", "inch").startswith(".XXX ±.002")
    assert general_text("ISO 2768-c", "mm") == "ISO 2768-c"
