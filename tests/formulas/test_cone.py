"""Points and countersinks against a printed table of depth factors."""

from __future__ import annotations

from math import radians, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import cone
from tests.cases import Case, cases
from tests.formulas.quantities import NAN, angles, forces, lengths, ratios, steady

every_angle = pytest.mark.parametrize("case", cases("cone_depth_factor"), ids=str)


@every_angle
def test_sharp_point_is_the_published_factor(case: Case) -> None:
    angle_deg = case.numbers["angle_deg"]
    assert cone.cone_length_mm(diameter_mm=1, flat_mm=0, angle_deg=angle_deg) == case.published


@every_angle
def test_countersink_is_the_published_factor(case: Case) -> None:
    angle_deg = case.numbers["angle_deg"]
    depth_mm = cone.countersink_depth_mm(mouth_mm=1, pilot_mm=0, angle_deg=angle_deg)
    assert depth_mm == case.published


@every_angle
def test_drill_point_is_the_published_factor(case: Case) -> None:
    assert cone.drill_point_mm(diameter_mm=1, **case.numbers) == case.published


@every_angle
def test_overlap_in_a_sharp_edge_is_the_published_factor(case: Case) -> None:
    angle_deg = case.numbers["angle_deg"]
    assert cone.overlap_mm(circle_mm=1, flat_mm=0, angle_deg=angle_deg) == case.published


def test_a_drill_is_ground_to_118_degrees_unless_said() -> None:
    """Common practice, no source."""
    assert cone.drill_point_mm(diameter_mm=8) == cone.drill_point_mm(diameter_mm=8, angle_deg=118)


def test_a_60_degree_point_holds_root_three_times_its_force() -> None:
    """Geometry: the cotangent of 30 degrees is the square root of 3."""
    assert cone.lateral_capacity_N(force_N=10, angle_deg=60) == pytest.approx(10 * sqrt(3))


@steady
@given(lengths, st.floats(0.0, 1.0), angles)
def test_a_flat_shortens_a_point_by_the_tip_it_takes_off(
    diameter_mm: float, share: float, angle_deg: float
) -> None:
    flat_mm = share * diameter_mm
    whole, blunt, tip = (
        cone.cone_length_mm(diameter_mm=large, flat_mm=small, angle_deg=angle_deg)
        for large, small in ((diameter_mm, 0.0), (diameter_mm, flat_mm), (flat_mm, 0.0))
    )
    assert blunt + tip == pytest.approx(whole)


@steady
@given(lengths, angles, ratios)
def test_scaling_a_point_scales_its_length(
    diameter_mm: float, angle_deg: float, scale: float
) -> None:
    small, large = (
        cone.cone_length_mm(diameter_mm=size, flat_mm=0.1 * size, angle_deg=angle_deg)
        for size in (diameter_mm, scale * diameter_mm)
    )
    assert large == pytest.approx(scale * small)


@steady
@given(forces, angles)
def test_side_force_and_axial_force_make_the_slope_of_the_point(
    force_N: float, angle_deg: float
) -> None:
    """Without friction the seat pushes at right angles to the flank."""
    side_N = cone.lateral_capacity_N(force_N=force_N, angle_deg=angle_deg)
    assert side_N * tan(radians(angle_deg / 2)) == pytest.approx(force_N)


@pytest.mark.parametrize("angle_deg", [0.0, 180.0, -60.0, NAN])
def test_an_angle_that_is_no_cone_is_refused(angle_deg: float) -> None:
    with pytest.raises(ValueError, match="angle_deg"):
        cone.cone_length_mm(diameter_mm=8, flat_mm=0, angle_deg=angle_deg)
    with pytest.raises(ValueError, match="angle_deg"):
        cone.countersink_depth_mm(mouth_mm=7, pilot_mm=2, angle_deg=angle_deg)
    with pytest.raises(ValueError, match="angle_deg"):
        cone.drill_point_mm(diameter_mm=8, angle_deg=angle_deg)
    with pytest.raises(ValueError, match="angle_deg"):
        cone.overlap_mm(circle_mm=5, flat_mm=0, angle_deg=angle_deg)
    with pytest.raises(ValueError, match="angle_deg"):
        cone.lateral_capacity_N(force_N=10, angle_deg=angle_deg)


@pytest.mark.parametrize(("large_mm", "small_mm"), [(8, 8.1), (8, -0.1), (NAN, 0), (8, NAN)])
def test_a_cone_narrows_toward_its_tip(large_mm: float, small_mm: float) -> None:
    with pytest.raises(ValueError, match="cone"):
        cone.cone_length_mm(diameter_mm=large_mm, flat_mm=small_mm, angle_deg=60)
    with pytest.raises(ValueError, match="cone"):
        cone.countersink_depth_mm(mouth_mm=large_mm, pilot_mm=small_mm, angle_deg=60)
    with pytest.raises(ValueError, match="cone"):
        cone.overlap_mm(circle_mm=large_mm, flat_mm=small_mm, angle_deg=60)


@pytest.mark.parametrize("wrong", [-1.0, NAN])
def test_negative_sizes_and_forces_are_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="cone"):
        cone.drill_point_mm(diameter_mm=wrong)
    with pytest.raises(ValueError, match="force_N"):
        cone.lateral_capacity_N(force_N=wrong, angle_deg=60)
