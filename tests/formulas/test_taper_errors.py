"""Errors of tapers, each turned again by the wrong setting and measured."""

from __future__ import annotations

from math import asin, atan, degrees, hypot, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import taper_errors
from tests.cases import Printed
from tests.formulas.quantities import NAN, lengths, steady

tapers = st.floats(0.02, 0.6)
MT2 = 0.59941 / 12


@steady
@given(st.floats(-1, 1), lengths, tapers)
def test_a_wrong_angle_turns_another_cone(error_deg: float, length_mm: float, rate: float) -> None:
    wrong = 2 * length_mm * tan(atan(rate / 2) + radians(error_deg))
    error_mm = taper_errors.by_angle_mm(error_deg=error_deg, length_mm=length_mm, taper=rate)
    assert error_mm == pytest.approx(wrong - length_mm * rate, abs=1e-9)


@steady
@given(st.floats(-0.05, 0.05), st.floats(20, 120), lengths, tapers)
def test_a_wrong_rise_is_a_wrong_angle(
    error_mm: float, travel_mm: float, length_mm: float, rate: float
) -> None:
    half = atan(rate / 2)
    set_to = asin((travel_mm * sin(half) + error_mm) / travel_mm)
    by_rise = taper_errors.by_indicator_mm(
        error_mm=error_mm, travel_mm=travel_mm, length_mm=length_mm, taper=rate
    )
    by_angle = taper_errors.by_angle_mm(
        error_deg=degrees(set_to - half), length_mm=length_mm, taper=rate
    )
    assert by_rise == pytest.approx(by_angle, abs=1e-9)


@steady
@given(st.floats(-5, 5), st.floats(50, 200), lengths, tapers)
def test_a_longer_piece_is_turned_less_steep(
    error_mm: float, between_mm: float, length_mm: float, rate: float
) -> None:
    half = atan(rate / 2)
    turned = asin(between_mm * sin(half) / (between_mm + error_mm))
    found = taper_errors.by_centres_mm(
        error_mm=error_mm, between_mm=between_mm, length_mm=length_mm, taper=rate
    )
    assert found == pytest.approx(2 * length_mm * (tan(turned) - tan(half)), abs=1e-9)
    assert found * error_mm <= 1e-12


@pytest.mark.parametrize(("height_mm", "printed"), [(0.2, "0.001"), (0.5, "0.006"), (1.0, "0.025")])
def test_tool_height_of_a_no_2_morse_goes_with_its_square(height_mm: float, printed: str) -> None:
    """h^2 (1 / r - 1 / R) from 14.583 to 17.780 mm, worked by hand."""
    rule = height_mm**2 * (2 / 14.583 - 2 / 17.780)
    assert rule == Printed(printed)
    found = taper_errors.by_tool_height_mm(height_mm=height_mm, small_mm=14.583, large_mm=17.780)
    assert found == pytest.approx(rule, rel=0.05)


@steady
@given(st.floats(0, 0.4), st.floats(1, 10), st.floats(0.1, 8))
def test_tool_off_centre_turns_the_hyperbola(
    height_mm: float, small_mm: float, more_mm: float
) -> None:
    """Walk the tool along the flank and take the radius wherever it is."""
    large_mm = small_mm + more_mm
    start = sqrt((large_mm / 2) ** 2 - height_mm**2)
    walked = [start - more_mm / 2 * n / 400 for n in range(401)]
    radii = [hypot(x, height_mm) for x in walked]
    found = taper_errors.by_tool_height_mm(
        height_mm=height_mm, small_mm=small_mm, large_mm=large_mm
    )
    assert 2 * radii[-1] - small_mm == pytest.approx(found, abs=1e-9)
    chord = [radii[0] + (radii[-1] - radii[0]) * n / 400 for n in range(401)]
    hollow = max(line - radius for line, radius in zip(chord, radii, strict=True))
    bow = taper_errors.bow_mm(height_mm=height_mm, small_mm=2 * radii[-1], large_mm=large_mm)
    assert bow == pytest.approx(hollow, abs=1e-5)


def test_a_quarter_of_a_degree_is_half_a_millimetre_on_a_no_2_morse() -> None:
    """Engineering judgement, worked by hand: 0.56 mm over 64."""
    error_mm = taper_errors.by_angle_mm(error_deg=0.25, length_mm=64, taper=MT2)
    assert error_mm == Printed("0.56")


def test_what_makes_no_cone_is_refused() -> None:
    with pytest.raises(ValueError, match="length_mm"):
        taper_errors.by_angle_mm(error_deg=0, length_mm=0, taper=MT2)
    with pytest.raises(ValueError, match="error_deg"):
        taper_errors.by_angle_mm(error_deg=90, length_mm=10, taper=MT2)
    with pytest.raises(ValueError, match="travel_mm"):
        taper_errors.by_indicator_mm(error_mm=0.01, travel_mm=0, length_mm=10, taper=MT2)
    with pytest.raises(ValueError, match="error_mm"):
        taper_errors.by_indicator_mm(error_mm=9, travel_mm=5, length_mm=10, taper=MT2)
    with pytest.raises(ValueError, match="between_mm"):
        taper_errors.by_centres_mm(error_mm=-99, between_mm=99, length_mm=10, taper=MT2)
    for small, large, height in ((8, 8, 0.1), (-1, 8, 0.1), (0, 8, 4), (NAN, 8, 0)):
        with pytest.raises(ValueError, match="small_mm"):
            taper_errors.by_tool_height_mm(height_mm=height, small_mm=small, large_mm=large)
    with pytest.raises(ValueError, match="small_mm"):
        taper_errors.bow_mm(height_mm=1, small_mm=2, large_mm=8)
