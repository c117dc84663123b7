"""Tapers and their settings against printed examples and geometry."""

from __future__ import annotations

from math import hypot, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import taper
from generator.units import MM_PER_INCH
from tests.cases import Case, Printed, cases
from tests.formulas.quantities import NAN, lengths, steady, tapers


@pytest.mark.parametrize("case", cases("taper_half_angle"), ids=str)
def test_half_angle_is_the_published_one(case: Case) -> None:
    assert taper.half_angle_deg(**case.numbers) == case.published


@pytest.mark.parametrize("case", cases("taper_included_angle"), ids=str)
def test_included_angle_is_the_published_one(case: Case) -> None:
    assert taper.included_angle_deg(**case.numbers) == case.published


@pytest.mark.parametrize("case", cases("taper_small_end_inches"), ids=str)
def test_small_end_is_the_published_one(case: Case) -> None:
    end_mm = taper.diameter_at_mm(
        gauge_diameter_mm=case.numbers["gauge_diameter_in"] * MM_PER_INCH,
        taper=case.numbers["taper_in_per_ft"] / 12,
        distance_mm=case.numbers["distance_in"] * MM_PER_INCH,
    )
    assert end_mm / MM_PER_INCH == case.published


@pytest.mark.parametrize("case", cases("taper_set_over_inches"), ids=str)
def test_set_over_is_the_published_one(case: Case) -> None:
    over_mm = taper.set_over_mm(
        length_mm=case.numbers["length_in"] * MM_PER_INCH,
        taper=case.numbers["taper_in_per_ft"] / 12,
    )
    assert over_mm / MM_PER_INCH == case.published


@pytest.mark.parametrize("case", cases("taper_sine_bar_inches"), ids=str)
def test_sine_bar_is_the_published_one(case: Case) -> None:
    blocks_mm = taper.sine_bar_mm(
        length_mm=case.numbers["length_in"] * MM_PER_INCH, angle_deg=case.numbers["angle_deg"]
    )
    assert blocks_mm / MM_PER_INCH == case.published


def test_dial_rise_is_the_published_one() -> None:
    """A shop note: slide at 30 degrees, travel 1.000 in, cross movement 0.500 in."""
    at_30_deg = 2 * tan(radians(30))
    rise_mm = taper.dial_rise_mm(travel_mm=MM_PER_INCH, taper=at_30_deg)
    assert rise_mm / MM_PER_INCH == Printed("0.500")


@steady
@given(lengths, tapers)
def test_saddle_and_slide_rise_alike_over_the_same_flank(length_mm: float, rate: float) -> None:
    """The saddle goes the length along the axis while the slide goes the flank."""
    flank_mm = taper.slide_travel_mm(length_mm=length_mm, taper=rate)
    by_slide = taper.dial_rise_mm(travel_mm=flank_mm, taper=rate)
    assert taper.carriage_rise_mm(travel_mm=length_mm, taper=rate) == pytest.approx(by_slide)


def test_a_hundredth_off_the_radius_is_four_tenths_along_a_no_2_morse() -> None:
    """Common practice, no source: 0.40 along the axis for 0.01 on the radius."""
    assert taper.axial_shift_mm(radial_mm=0.01, taper=0.59941 / 12) == Printed("0.40")


@steady
@given(lengths, tapers)
def test_slide_travel_and_its_rise_close_the_triangle(length_mm: float, rate: float) -> None:
    """The slide moves along the flank: its length along the axis, its rise across it."""
    along_mm = taper.slide_travel_mm(length_mm=length_mm, taper=rate)
    rise_mm = taper.dial_rise_mm(travel_mm=along_mm, taper=rate)
    assert hypot(length_mm, rise_mm) == pytest.approx(along_mm)
    assert rise_mm == pytest.approx(length_mm * rate / 2)


@steady
@given(st.floats(-0.5, 0.5), tapers, st.floats(-5.0, 5.0))
def test_a_cone_cut_smaller_sits_where_its_diameter_moved(
    radial_mm: float, rate: float, distance_mm: float
) -> None:
    shift_mm = taper.axial_shift_mm(radial_mm=radial_mm, taper=rate)
    before, after = (
        taper.diameter_at_mm(gauge_diameter_mm=size, taper=rate, distance_mm=at)
        for size, at in ((20, distance_mm), (20 - 2 * radial_mm, distance_mm - shift_mm))
    )
    assert after == pytest.approx(before)


@steady
@given(lengths, tapers)
def test_set_over_is_what_a_sine_bar_of_that_length_needs(length_mm: float, rate: float) -> None:
    blocks_mm = taper.sine_bar_mm(length_mm=length_mm, angle_deg=taper.half_angle_deg(taper=rate))
    assert taper.set_over_mm(length_mm=length_mm, taper=rate) == pytest.approx(blocks_mm)


@steady
@given(tapers)
def test_included_angle_is_twice_the_half_angle(rate: float) -> None:
    half_deg = taper.half_angle_deg(taper=rate)
    assert taper.included_angle_deg(taper=rate) == pytest.approx(2 * half_deg)
    assert 2 * tan(radians(half_deg)) == pytest.approx(rate)


@pytest.mark.parametrize("wrong", [0.0, -0.05, NAN])
def test_a_taper_must_be_positive(wrong: float) -> None:
    with pytest.raises(ValueError, match="taper"):
        taper.half_angle_deg(taper=wrong)
    with pytest.raises(ValueError, match="taper"):
        taper.included_angle_deg(taper=wrong)
    with pytest.raises(ValueError, match="taper"):
        taper.axial_shift_mm(radial_mm=0.01, taper=wrong)
    with pytest.raises(ValueError, match="taper"):
        taper.diameter_at_mm(gauge_diameter_mm=18, taper=wrong, distance_mm=1)
    with pytest.raises(ValueError, match="taper"):
        taper.slide_travel_mm(length_mm=1, taper=wrong)


@pytest.mark.parametrize("wrong", [0.0, -1.0, NAN])
def test_a_length_must_be_positive(wrong: float) -> None:
    with pytest.raises(ValueError, match="length_mm"):
        taper.slide_travel_mm(length_mm=wrong, taper=0.05)
    with pytest.raises(ValueError, match="travel_mm"):
        taper.carriage_rise_mm(travel_mm=wrong, taper=0.05)
    with pytest.raises(ValueError, match="travel_mm"):
        taper.dial_rise_mm(travel_mm=wrong, taper=0.05)
    with pytest.raises(ValueError, match="length_mm"):
        taper.set_over_mm(length_mm=wrong, taper=0.05)
    with pytest.raises(ValueError, match="length_mm"):
        taper.sine_bar_mm(length_mm=wrong, angle_deg=3)


def test_a_cone_ends_at_its_tip() -> None:
    with pytest.raises(ValueError, match="distance_mm"):
        taper.diameter_at_mm(gauge_diameter_mm=10, taper=0.1, distance_mm=100.1)


@pytest.mark.parametrize("wrong", [-1.0, 90.0, NAN])
def test_a_sine_bar_lies_below_the_upright(wrong: float) -> None:
    with pytest.raises(ValueError, match="angle_deg"):
        taper.sine_bar_mm(length_mm=100, angle_deg=wrong)
