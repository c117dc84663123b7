"""Points and countersinks against a printed table of depth factors."""

from __future__ import annotations

from math import cos, hypot, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import cone
from tests.cases import Case, Printed, cases
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


def test_slide_at_30_degrees_goes_twice_as_far_as_the_tool_goes_across() -> None:
    """A shop note: slide at 30 degrees, travel 1.000 in, cross movement 0.500 in."""
    assert cone.flank_length_mm(large_mm=2.0, small_mm=1.0, angle_deg=60) == Printed("1.000")


@steady
@given(lengths, st.floats(0, 1), angles)
def test_flank_closes_the_triangle(large_mm: float, share: float, angle_deg: float) -> None:
    small_mm = share * large_mm
    along_mm = cone.cone_length_mm(diameter_mm=large_mm, flat_mm=small_mm, angle_deg=angle_deg)
    flank_mm = cone.flank_length_mm(large_mm=large_mm, small_mm=small_mm, angle_deg=angle_deg)
    assert hypot(along_mm, (large_mm - small_mm) / 2) == pytest.approx(flank_mm)


@steady
@given(st.floats(1, 30), st.floats(1.0, 3.0), angles)
def test_ball_touches_the_flank_and_nothing_else(
    ball_mm: float, wider: float, angle_deg: float
) -> None:
    """Lower a ball into the cone: its centre is a radius from the flank, along the normal."""
    half = radians(angle_deg / 2)
    mouth_mm = wider * cone.ball_circle_mm(ball_mm=ball_mm, angle_deg=angle_deg)
    height_mm = cone.ball_height_mm(ball_mm=ball_mm, mouth_mm=mouth_mm, angle_deg=angle_deg)
    middle = height_mm - ball_mm / 2
    # the flank as a line through the edge of the mouth; its distance from the ball's middle
    edge, way = (mouth_mm / 2, 0.0), (sin(half), cos(half))
    apart = (0.0 - edge[0]) * way[1] - (middle - edge[1]) * way[0]
    assert abs(apart) == pytest.approx(ball_mm / 2, rel=1e-6)
    # the foot of the normal lies on the circle, inside the mouth
    along = (0.0 - edge[0]) * way[0] + (middle - edge[1]) * way[1]
    foot_mm = 2 * (edge[0] + along * way[0])
    assert foot_mm == pytest.approx(cone.ball_circle_mm(ball_mm=ball_mm, angle_deg=angle_deg))


@pytest.mark.parametrize(("ball_mm", "mouth_mm", "printed"), [(4, 5, "1.670"), (6, 7, "2.938")])
def test_ball_in_a_60_degree_mouth(ball_mm: float, mouth_mm: float, printed: str) -> None:
    """1.5 B - 0.866 D, worked by hand; no printed example was found."""
    height_mm = cone.ball_height_mm(ball_mm=ball_mm, mouth_mm=mouth_mm, angle_deg=60)
    assert height_mm == Printed(printed)


def test_ball_must_rest_on_the_flank() -> None:
    assert cone.ball_height_mm(ball_mm=10, mouth_mm=5 * sqrt(3), angle_deg=60) == pytest.approx(7.5)
    with pytest.raises(ValueError, match="edge"):
        cone.ball_height_mm(ball_mm=10, mouth_mm=8.6, angle_deg=60)
    with pytest.raises(ValueError, match="ball_mm"):
        cone.ball_circle_mm(ball_mm=0, angle_deg=60)
    with pytest.raises(ValueError, match="angle_deg"):
        cone.ball_circle_mm(ball_mm=5, angle_deg=180)
