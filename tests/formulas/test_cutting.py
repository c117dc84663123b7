"""Speeds and pecks: what must hold for every size."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import cutting

SIZE = st.floats(0.5, 60)


@given(SIZE, st.floats(1, 400))
def test_speed_and_turns_answer_each_other(diameter_mm: float, speed: float) -> None:
    rpm = cutting.spindle_rpm(speed_m_per_min=speed, diameter_mm=diameter_mm)
    back = cutting.cutting_speed_m_per_min(rpm=rpm, diameter_mm=diameter_mm)
    assert back == pytest.approx(speed)


@given(st.floats(0.5, 200), SIZE)
def test_pecks_rise_to_the_whole_depth(depth_mm: float, diameter_mm: float) -> None:
    depths = cutting.peck_depths_mm(depth_mm=depth_mm, diameter_mm=diameter_mm)
    assert depths[-1] == depth_mm
    assert all(first < second for first, second in pairwise(depths))
    assert depths[0] <= cutting.FIRST_PECK * diameter_mm * (1 + cutting.LAST_PECK)
    most = (cutting.PECK + cutting.LAST_PECK) * diameter_mm
    assert all(second - first <= most + 1e-9 for first, second in pairwise(depths))


@pytest.mark.parametrize(
    ("diameters", "count"), [(3.0, 1), (3.5, 1), (3.6, 2), (4.6, 3), (8.0, 6), (9.0, 7)]
)
def test_pecks_begin_at_three_diameters_and_halve_at_eight(diameters: float, count: int) -> None:
    assert len(cutting.peck_depths_mm(depth_mm=10 * diameters, diameter_mm=10)) == count


@given(st.lists(SIZE, min_size=1), SIZE)
def test_nearest_below_is_the_greatest_that_fits(values: list[float], most: float) -> None:
    found = cutting.nearest_below(values, most)
    if found is None:
        assert min(values) > most
    else:
        assert found in values
        assert not any(found < value <= most for value in values)


@pytest.mark.parametrize("wrong", [0.0, -1.0])
def test_nothing_turns_at_no_size(wrong: float) -> None:
    with pytest.raises(ValueError, match="diameter_mm"):
        cutting.spindle_rpm(speed_m_per_min=20, diameter_mm=wrong)
    with pytest.raises(ValueError, match="depth_mm"):
        cutting.peck_depths_mm(depth_mm=wrong, diameter_mm=5)
    with pytest.raises(ValueError, match="division_mm"):
        cutting.dial_divisions(distance_mm=1, division_mm=wrong)
