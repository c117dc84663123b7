"""Readings of gauges against printed examples, and against the contact that they rest on."""

from __future__ import annotations

from math import asin, atan, cos, degrees, hypot, radians, sin, tan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generator.formulas import gauging
from tests.cases import Case, Printed, cases
from tests.formulas.quantities import NAN, lengths, steady, tapers


@pytest.mark.parametrize("case", cases("dovetail_over_pins"), ids=str)
def test_rollers_on_a_plate_read_as_pins_in_a_dovetail(case: Case) -> None:
    """A cone on its small end makes with the plate the corner of a dovetail of 60 degrees."""
    flat, pin = case.numbers["flat"], case.numbers["pin"]
    taper = 2 * tan(radians(30))
    at_axes = flat + pin / 2 * taper
    found = gauging.over_rollers_mm(diameter_mm=at_axes, roller_mm=pin, taper=taper)
    assert found == case.published


def test_half_angle_is_the_published_one() -> None:
    """A machinists' forum, calipers over 1-2-3 blocks: 0.745 and 0.620, 1 in apart."""
    found = gauging.half_angle_over_rollers_deg(apart_mm=1, low_mm=0.620, high_mm=0.745)
    assert found == Printed("3.5763")


@pytest.mark.parametrize("case", cases("balls_in_cone"), ids=str)
def test_two_balls_lie_as_far_apart_as_the_published_sine_says(case: Case) -> None:
    small, large, apart = (case.numbers[name] for name in ("small", "large", "apart"))

    def tops(sine: float) -> float:
        angle = 2 * degrees(asin(sine))
        low, high = (
            gauging.ball_height_mm(ball_mm=ball, mouth_mm=2 * large, angle_deg=angle)
            for ball in (small, large)
        )
        return high - low

    half = case.published.half_digit
    steep, flat = (float(case.published) + sign * half for sign in (-1, 1))
    assert tops(flat) <= apart <= tops(steep)


def test_ball_at_60_degrees_is_the_rule_of_thumb() -> None:
    """1.5 B - 0.866 m."""
    found = gauging.ball_height_mm(ball_mm=4, mouth_mm=5, angle_deg=60)
    assert found == pytest.approx(1.5 * 4 - 3**0.5 / 2 * 5, abs=1e-12)


@steady
@given(lengths, lengths, tapers)
def test_a_roller_touches_the_flank(diameter: float, roller: float, taper: float) -> None:
    """The distance from the roller's axis to the line of the flank is its radius."""
    over = gauging.over_rollers_mm(diameter_mm=diameter, roller_mm=roller, taper=taper)
    axis = over / 2 - roller / 2
    half = atan(taper / 2)
    assert (axis - diameter / 2) * cos(half) == pytest.approx(roller / 2, rel=1e-9)


@steady
@given(lengths, st.floats(1.05, 5.0), st.floats(30.0, 150.0))
def test_a_ball_touches_the_cone(ball: float, wider: float, angle: float) -> None:
    circle = gauging.ball_circle_mm(ball_mm=ball, angle_deg=angle)
    mouth = wider * circle
    top = gauging.ball_height_mm(ball_mm=ball, mouth_mm=mouth, angle_deg=angle)
    half, centre = radians(angle / 2), top - ball / 2
    at = (circle / 2, -(mouth - circle) / 2 / tan(half))
    assert hypot(at[0], centre - at[1]) == pytest.approx(ball / 2, rel=1e-9)
    assert (mouth / 2) * cos(half) + centre * sin(half) == pytest.approx(
        ball / 2, rel=1e-9, abs=1e-9
    )


@steady
@given(lengths, st.floats(0.05, 0.4), st.floats(0.1, 0.9))
def test_both_ways_to_a_slot_agree(diameter: float, depth: float, width: float) -> None:
    """Over the pin, and from the edges that lie lower by the height of the arc."""
    t, w = depth * diameter, width * diameter
    pin = 1.1 * t
    over = gauging.over_floor_mm(diameter_mm=diameter, depth_mm=t, pin_mm=pin)
    rod = gauging.rod_depth_mm(diameter_mm=diameter, width_mm=w, depth_mm=t)
    edge = (diameter**2 - w**2) ** 0.5 / 2
    assume(rod > 0)
    assert diameter / 2 + edge - rod + pin == pytest.approx(over, rel=1e-9)


@pytest.mark.parametrize(
    ("gauge", "sizes"),
    [
        (gauging.over_rollers_mm, {"diameter_mm": 0, "roller_mm": 8, "taper": 0.05}),
        (gauging.over_rollers_mm, {"diameter_mm": 8, "roller_mm": NAN, "taper": 0.05}),
        (gauging.half_angle_over_rollers_deg, {"apart_mm": 0, "low_mm": 1, "high_mm": 2}),
        (gauging.half_angle_over_rollers_deg, {"apart_mm": 1, "low_mm": 2, "high_mm": 1}),
        (gauging.ball_height_mm, {"ball_mm": 8, "mouth_mm": 6.9, "angle_deg": 60}),
        (gauging.ball_height_mm, {"ball_mm": 8, "mouth_mm": NAN, "angle_deg": 60}),
        (gauging.ball_circle_mm, {"ball_mm": 8, "angle_deg": 180}),
        (gauging.over_floor_mm, {"diameter_mm": 8, "depth_mm": 2.5, "pin_mm": 2.5}),
        (gauging.rod_depth_mm, {"diameter_mm": 8, "width_mm": 8.1, "depth_mm": 2}),
    ],
)
def test_what_cannot_be_gauged_is_refused(gauge, sizes) -> None:  # type: ignore[no-untyped-def]  # of several forms
    with pytest.raises(ValueError, match="_mm="):
        gauge(**sizes)
