"""Steadying work: contact, side load, heat, and a push along the axis, worked by hand."""

from __future__ import annotations

from collections.abc import Mapping
from math import pi, radians, sqrt, tan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.checks.finding import Verdict
from generator.standards.rows import CentreHole
from generator.use.supporting import Hold, holds
from tests.checks.limit_cases import STIFF, SUPPORT
from tests.tools import REMOVED, finding, tool


def hold(changes: Mapping[str, Any] = {}) -> Hold:
    (found,) = holds(tool({**SUPPORT, **changes}))
    return found


def test_no_other_tool_supports() -> None:
    assert holds(tool()) == ()


def test_contact_is_that_worked_by_hand() -> None:
    """A2.5 has a mouth of 5.3 and is 4.6 deep; its cone is (5.3 - 2.5)/2 times root 3 long."""
    one = hold()
    assert (one.outer_mm, one.inner_mm) == (5.3, 2.5)
    assert one.deep_mm == pytest.approx((5.3 - 0.4) / 2 * sqrt(3))
    pilot_mm = 4.6 - 1.4 * sqrt(3)
    assert one.bottom_mm == pytest.approx(pilot_mm - (2.5 - 0.4) / 2 * sqrt(3))


@pytest.mark.parametrize("hole", CentreHole.rows(), ids=lambda hole: str(hole.name))
def test_a_point_of_60_degrees_clears_the_bottom_of_every_centre_hole(hole: CentreHole) -> None:
    assert hold({"support.centre": hole.name}).bottom_mm > 0


def test_side_load_is_that_worked_by_hand() -> None:
    """Half the weight of a bar of 16 by 200 in steel, 3.1 N by 7.85 g/cm3, and 5 N besides."""
    one = hold()
    mass_g = 7.85 * pi / 4 * 1.6**2 * 20
    assert one.asked.mass_g == pytest.approx(mass_g, abs=1)
    assert one.load_N == pytest.approx(mass_g / 1000 * 9.80665 / 2 + 5, abs=0.01)
    assert one.held_N == pytest.approx(one.thrust_N * sqrt(3))
    assert one.held_N == pytest.approx(one.thrust_N / tan(radians(30)))


def test_heat_is_that_worked_by_hand() -> None:
    """200 long and 30 K warmer in steel is 0.07; at 5 N/mm that is 0.35 N."""
    one = hold({"support.warmer_K": 30.0, "springs.0.rate_N_per_mm": 5.0})
    assert one.growth_mm == pytest.approx(0.07, abs=0.0005)
    assert one.warm_N - one.thrust_N == pytest.approx(0.35, abs=0.005)


@given(st.floats(1, 300), st.floats(1, 2))
def test_thrust_rises_with_heat_in_proportion(warmer_K: float, times: float) -> None:
    base = {**STIFF, "support.warmer_K": warmer_K / 2}
    one, more = hold(base), hold({**base, "support.warmer_K": warmer_K / 2 * times})
    assert more.growth_mm == pytest.approx(times * one.growth_mm)
    if more.growth_mm < more.retreat_mm:
        assert more.change_percent == pytest.approx(times * one.change_percent, rel=1e-6)


@pytest.mark.parametrize("warmer_K", [0.0, 50.0, 300.0])
def test_derived_setting_leaves_a_millimetre_for_growth(warmer_K: float) -> None:
    changes = {"support.set_mm": REMOVED, "support.warmer_K": warmer_K, "support.length_mm": 400.0}
    assert 1.0 <= hold(changes).left_mm < 1.5


def test_a_push_takes_the_point_out_unless_travel_or_a_screw_stops_it() -> None:
    loose = {**SUPPORT, "support.set_mm": 1.0}
    limit = "point held in the centre hole"
    assert hold({"support.set_mm": 1.0}).retreat_mm > hold().deep_mm
    assert finding(tool(loose), limit).verdict is Verdict.FAIL
    assert finding(tool({**loose, "support.lock": "lock screw"}), limit).verdict is Verdict.PASS
    assert finding(tool(SUPPORT), limit).verdict is Verdict.PASS


def test_nothing_of_the_tool_turns_with_the_work() -> None:
    """Whoever turns what, the tool stands still; tap and hole have no part in it."""
    for turned in ("tap", "work"):
        one = hold({"machine.turned": turned})
        assert not any(term.turns for term in one.terms)
        assert not any("hole" in term.key or "tap" in term.key for term in one.terms)
        assert one.off_mm == hold().off_mm


def test_work_that_stands_still_does_not_rub() -> None:
    assert hold().rubbing_m_per_min == 0
    assert hold({"support.rpm": 100.0}).rubbing_m_per_min == pytest.approx(pi * 5.3 * 0.1)
