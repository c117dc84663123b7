"""Half sections on one axis: overlaps and distances summed by hand."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.model.outline import Corner, Outline
from generator.model.section import Section, distance_mm, overlap, section, section_of


def turned(*corners: tuple[float, float]) -> Section:
    return section_of(Outline(tuple(Corner(z, r) for z, r in corners)))


def cylinder(outside: float, length: float, inside: float = 0.0) -> Section:
    return turned((0.0, inside), (0.0, outside), (length, outside), (length, inside))


CONE = turned((0.0, 0.0), (6.0, 3.0), (6.0, 0.0))
"""Its tip at 0, its base of radius 3 at 6."""


def test_volume_is_that_of_cylinder_cone_and_tube() -> None:
    assert cylinder(2.0, 9.0).volume_mm3 == pytest.approx(36 * pi)
    assert CONE.volume_mm3 == pytest.approx(18 * pi)
    assert cylinder(3.0, 4.0, 1.0).volume_mm3 == pytest.approx(32 * pi)


def test_a_cone_in_a_hole_shares_what_is_wider_than_the_hole() -> None:
    """Cone to radius 3 in a hole of 2: a frustum of 4 to 6 less the hole through it."""
    plate = cylinder(9.0, 20.0, 2.0)
    shared = overlap(CONE, plate, -5.0)
    assert shared.volume_mm3 == pytest.approx(pi * 2 * (4 + 6 + 9) / 3 - 8 * pi)
    assert shared.across_mm == pytest.approx(1.0)
    assert shared.along_mm == pytest.approx(2.0)


def test_a_cone_that_rests_on_an_edge_touches_and_shares_nothing() -> None:
    plate = cylinder(9.0, 2.0, 2.0)  # its edge of radius 2 meets the cone at 4
    assert overlap(CONE, plate, 2.0).volume_mm3 == pytest.approx(0.0, abs=1e-12)
    assert distance_mm(CONE, plate, 2.0) == pytest.approx(0.0, abs=1e-12)
    assert distance_mm(CONE, plate, 1.0) == pytest.approx(1.0 / sqrt(5.0))


def test_pins_end_to_end_and_one_in_the_other() -> None:
    pin, bush = cylinder(2.0, 9.0), cylinder(5.0, 30.0, 2.005)
    assert distance_mm(pin, pin, 9.25) == pytest.approx(0.25)
    assert distance_mm(pin, bush, -3.0) == pytest.approx(0.005)
    assert distance_mm(pin, cylinder(5.0, 1.0, 3.0), 12.0) == pytest.approx(hypot(3.0, 1.0))


def test_end_for_end_a_section_is_the_same_about_zero() -> None:
    back = CONE.turned()
    assert (back.front_mm, back.rear_mm, back.radius_mm) == (-6.0, 0.0, 3.0)
    assert overlap(back, CONE, -6.0).volume_mm3 == pytest.approx(2 * pi * 3 * (1.5**2) / 3)


def test_the_core_of_a_pin_is_a_thinner_pin() -> None:
    core = turned((0.0, 0.5), (0.0, 4.0), (1.0, 5.0), (8.0, 5.0), (8.0, 0.5)).within(4.5)
    assert core is not None
    assert core.radius_mm == 4.5
    # chamfer from 4 to 4.5 over half a millimetre, then a plain pin, a hole of 0.5 through both
    chamfer = pi * 0.5 * (16 + 18 + 20.25) / 3
    assert core.volume_mm3 == pytest.approx(chamfer + pi * 7.5 * 20.25 - pi * 8 * 0.25)
    assert cylinder(5.0, 3.0, 4.6).within(4.5) is None


def test_lines_that_enclose_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="no section"):
        section([(1.0, 0.0, 1.0, 5.0)])


STEPS = st.lists(
    st.tuples(st.floats(0.5, 5.0), st.floats(0.5, 4.0), st.floats(0.5, 4.0)), min_size=1, max_size=5
)


def stepped(steps: list[tuple[float, float, float]]) -> Section:
    corners, z = [(0.0, 0.0)], 0.0
    for length, first, last in steps:
        corners += [(z, first), (z + length, last)]
        z += length
    return turned(*corners, (z, 0.0))


def in_slices(one: Section, other: Section, moved_mm: float) -> float:
    """Return the shared volume by the trapezoidal rule on two thousand slices."""

    def area(whole: Section, z: float) -> float:
        for (front, rear), strips in zip(pairwise(whole.at_mm), whole.slices, strict=True):
            if front <= z < rear:
                share = (z - front) / (rear - front)
                return sum(b + share * (d - b) for _, b, _, d in strips)
        return 0.0

    front = max(one.front_mm, other.front_mm + moved_mm)
    rear = min(one.rear_mm, other.rear_mm + moved_mm)
    if rear <= front:
        return 0.0
    step = (rear - front) / 2000
    middles = (front + (k + 0.5) * step for k in range(2000))
    return sum(pi * min(area(one, z), area(other, z - moved_mm)) ** 2 * step for z in middles)


@given(STEPS, STEPS, st.floats(-10.0, 10.0))
def test_overlap_of_any_two_is_that_of_thin_slices(
    one: list[tuple[float, float, float]],
    other: list[tuple[float, float, float]],
    moved_mm: float,
) -> None:
    first, second = stepped(one), stepped(other)
    shared = overlap(first, second, moved_mm).volume_mm3
    assert shared == pytest.approx(in_slices(first, second, moved_mm), rel=0.02, abs=0.2)
    back = overlap(second, first, -moved_mm).volume_mm3
    assert back == pytest.approx(shared, rel=1e-9, abs=1e-9)
    assert overlap(first, first, 0.0).volume_mm3 == pytest.approx(first.volume_mm3)
    if shared == 0.0:
        assert distance_mm(first, second, moved_mm) == pytest.approx(
            distance_mm(second, first, -moved_mm)
        )
