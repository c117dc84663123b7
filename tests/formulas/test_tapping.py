"""Tapping torque against the area it stands for, and the forces of wrench and cone."""

from __future__ import annotations

from math import radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import cone, tapping
from tests.formulas.quantities import NAN, angles, forces, lengths, steady

# Worked by hand from the catalogue's equation: kc 3700, K 1.35, usual tapping drills.
BY_HAND = {
    "M2": (2, 1.6, 0.100),
    "M3": (3, 2.5, 0.240),
    "M4": (4, 3.3, 0.624),
    "M6": (6, 5.0, 1.923),
    "M8": (8, 6.8, 3.737),
    "M10": (10, 8.5, 7.300),
    "M12": (12, 10.2, 12.614),
}


@pytest.mark.parametrize("size", BY_HAND)
def test_torque_in_low_carbon_steel(size: str) -> None:
    major_mm, drill_mm, torque = BY_HAND[size]
    found = tapping.torque_Nm(
        cutting_pressure_MPa=3700, factor=1.35, major_mm=major_mm, drill_mm=drill_mm
    )
    assert found == pytest.approx(torque, abs=5e-4)


@steady
@given(st.floats(1.0, 40.0), st.floats(0.5, 0.98), st.floats(10, 60))
def test_torque_is_pressure_over_the_groove_times_lever(
    major_mm: float, share: float, half_deg: float
) -> None:
    """Summed over thin rings of the triangle, which is sharp at the major diameter."""
    drill_mm, count = share * major_mm, 2000
    step = (major_mm - drill_mm) / 2 / count
    radii = [drill_mm / 2 + (n + 0.5) * step for n in range(count)]
    width = [2 * (major_mm / 2 - r) * tan(radians(half_deg)) for r in radii]
    summed = sum(r * w * step for r, w in zip(radii, width, strict=True)) / 1000
    found = tapping.torque_Nm(
        cutting_pressure_MPa=1,
        factor=1,
        major_mm=major_mm,
        drill_mm=drill_mm,
        half_angle_deg=half_deg,
    )
    assert found == pytest.approx(summed, rel=1e-5)


def test_one_hand_pushes_with_the_whole_pull() -> None:
    """M6 at an arm of 80: 1.9226 N m is 24.03 N at the hand, and tan 30 of that is 13.87 N."""
    side_N = tapping.side_push_N(torque_Nm=1.9226, arm_mm=80, share=1)
    assert side_N == pytest.approx(24.03, abs=0.005)
    assert tapping.floor_force_N(side_N=side_N, angle_deg=60) == pytest.approx(13.87, abs=0.01)
    fifth_N = tapping.side_push_N(torque_Nm=1.9226, arm_mm=80, share=0.2)
    assert fifth_N == pytest.approx(side_N / 5)


@steady
@given(forces, angles)
def test_floor_and_capacity_are_each_others_inverse(force_N: float, angle_deg: float) -> None:
    side_N = cone.lateral_capacity_N(force_N=force_N, angle_deg=angle_deg)
    assert tapping.floor_force_N(side_N=side_N, angle_deg=angle_deg) == pytest.approx(force_N)


def test_a_60_degree_cone_drags_twice_mu_f_r() -> None:
    """Geometry: sin 30 is a half."""
    drag = tapping.cone_drag_Nm(force_N=100, friction=0.15, circle_mm=6.3, angle_deg=60)
    assert drag == pytest.approx(2 * 0.15 * 100 * 3.15 / 1000)


def test_a_blunt_cone_drags_like_a_flat_pivot() -> None:
    """The limit of a cone opened flat: mu F r."""
    drag = tapping.cone_drag_Nm(force_N=100, friction=0.15, circle_mm=6.3, angle_deg=179.999)
    assert drag == pytest.approx(0.15 * 100 * 3.15 / 1000, rel=1e-6)


@steady
@given(forces, st.floats(0.01, 1.0), lengths, angles)
def test_the_force_of_a_drag_drags_so_much(
    force_N: float, friction: float, circle_mm: float, angle_deg: float
) -> None:
    drag = tapping.cone_drag_Nm(
        force_N=force_N, friction=friction, circle_mm=circle_mm, angle_deg=angle_deg
    )
    found = tapping.force_of_drag_N(
        drag_Nm=drag, friction=friction, circle_mm=circle_mm, angle_deg=angle_deg
    )
    assert found == pytest.approx(force_N)


@pytest.mark.parametrize(
    ("friction", "times"), [(0.0, sqrt(3)), (0.1, 2.216), (0.15, 2.543)], ids=str
)
def test_friction_helps_a_60_degree_cone(friction: float, times: float) -> None:
    """By hand: cot(30 - arctan mu); arctan 0.1 is 5.71, arctan 0.15 is 8.53 degrees."""
    found = cone.lateral_capacity_N(force_N=1, angle_deg=60, friction=friction)
    assert found == pytest.approx(times, abs=0.0006)


@steady
@given(angles, st.floats(0.0, 0.99))
def test_a_cone_about_to_climb_is_in_balance(angle_deg: float, share: float) -> None:
    """Normal force 1 and friction mu at the flank, summed along and across the axis."""
    half = radians(angle_deg / 2)
    mu = share * tan(half)
    along = sin(half) - mu * (1 - sin(half) ** 2) ** 0.5
    across = (1 - sin(half) ** 2) ** 0.5 + mu * sin(half)
    found = cone.lateral_capacity_N(force_N=along, angle_deg=angle_deg, friction=mu)
    assert found == pytest.approx(across)


def test_a_steep_cone_with_friction_sticks() -> None:
    with pytest.raises(ValueError, match="holds a point"):
        cone.lateral_capacity_N(force_N=1, angle_deg=10, friction=tan(radians(5)))


def test_ring_pressure_of_a_narrow_band() -> None:
    """By hand: 30 N on a ring of 2.75 to 3.25, 2.356 mm2."""
    found = cone.ring_pressure_MPa(force_N=30, outer_mm=3.25, inner_mm=2.75)
    assert found == pytest.approx(12.73, abs=0.01)


@pytest.mark.parametrize("wrong", [-1.0, NAN])
def test_senseless_numbers_are_refused(wrong: float) -> None:
    good = {"cutting_pressure_MPa": 3700.0, "factor": 1.35, "major_mm": 6.0, "drill_mm": 5.0}
    for name in good:
        with pytest.raises(ValueError, match=name):
            tapping.torque_Nm(**{**good, name: wrong})
    with pytest.raises(ValueError, match="half_angle_deg"):
        tapping.torque_Nm(**good, half_angle_deg=wrong)
    with pytest.raises(ValueError, match="arm_mm"):
        tapping.side_push_N(torque_Nm=1, arm_mm=wrong, share=1)
    with pytest.raises(ValueError, match="side_N"):
        tapping.floor_force_N(side_N=wrong, angle_deg=60)
    with pytest.raises(ValueError, match="friction"):
        tapping.cone_drag_Nm(force_N=1, friction=wrong, circle_mm=5, angle_deg=60)
    with pytest.raises(ValueError, match="circle_mm"):
        tapping.force_of_drag_N(drag_Nm=1, friction=0.15, circle_mm=wrong, angle_deg=60)
    with pytest.raises(ValueError, match="friction"):
        cone.lateral_capacity_N(force_N=1, angle_deg=60, friction=wrong)
    with pytest.raises(ValueError, match="force_N"):
        cone.ring_pressure_MPa(force_N=wrong, outer_mm=3, inner_mm=2)


def test_a_hole_as_wide_as_the_thread_is_refused() -> None:
    with pytest.raises(ValueError, match="drill_mm"):
        tapping.torque_Nm(cutting_pressure_MPa=3700, factor=1.35, major_mm=6, drill_mm=6)
    with pytest.raises(ValueError, match="outer_mm"):
        cone.ring_pressure_MPa(force_N=1, outer_mm=3, inner_mm=3)
