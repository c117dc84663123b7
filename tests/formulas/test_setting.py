"""Setting a follower: blind holes in print, one case worked by hand, and what must always hold."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import setting
from tests.cases import Case, cases
from tests.formulas.quantities import NAN, lengths, steady

ratios = st.floats(0.03, 8.0)


@pytest.mark.parametrize("case", cases("setting_clear_below_inches"), ids=str)
def test_room_below_a_blind_thread_is_the_published_one(case: Case) -> None:
    assert setting.clear_below_mm(**case.numbers) == case.published


@pytest.mark.parametrize("case", cases("setting_lead_inches"), ids=str)
def test_lead_is_the_published_one(case: Case) -> None:
    assert setting.lead_mm(**case.numbers) == case.published


def test_twenty_deep_with_an_m8_takes_three_settings() -> None:
    """By hand: 20 and four threads of 1.25 are 25; 12 of travel less 1 and 1.125; 25 / 9.875."""
    lead_mm = setting.lead_mm(lead_threads=4, pitch_mm=1.25)
    needed_mm = setting.travel_needed_mm(depth_mm=20, lead_mm=lead_mm)
    home_mm = setting.home_reserve_mm(pitch_mm=1.25)
    usable_mm = setting.usable_travel_mm(travel_mm=12, home_mm=home_mm)
    assert (needed_mm, home_mm, usable_mm) == (25, 1.125, 9.875)
    assert setting.settings_mm(needed_mm=needed_mm, usable_mm=usable_mm) == (9.875, 9.875, 5.25)


@steady
@given(lengths, ratios)
def test_settings_add_up_and_only_the_last_is_short(usable_mm: float, ratio: float) -> None:
    needed_mm = ratio * usable_mm
    found = setting.settings_mm(needed_mm=needed_mm, usable_mm=usable_mm)
    assert sum(found) == pytest.approx(needed_mm)
    assert all(one == usable_mm for one in found[:-1])
    assert 0 < found[-1] <= usable_mm * (1 + 1e-6)
    assert len(found) - 1 < ratio + 1e-6 <= len(found) + 1e-6 + 1e-9 * ratio


@given(st.floats(0.2, 6.0))
def test_half_a_turn_back_leaves_half_a_millimetre(pitch_mm: float) -> None:
    assert setting.home_reserve_mm(pitch_mm=pitch_mm) - pitch_mm / 2 >= 0.5 - 1e-9


@given(lengths, st.floats(0, 1), lengths)
def test_retreat_and_raise_together_bring_the_tap_out(
    travel_mm: float, share: float, advanced_mm: float
) -> None:
    pushed_mm = share * travel_mm
    left_mm = setting.retreat_left_mm(travel_mm=travel_mm, compression_mm=pushed_mm)
    raise_mm = setting.least_raise_mm(advanced_mm=advanced_mm, retreat_mm=left_mm)
    assert pushed_mm + advanced_mm - raise_mm <= travel_mm + 1e-9
    assert raise_mm == 0 or pushed_mm + advanced_mm - raise_mm == pytest.approx(travel_mm)


@given(lengths, lengths, lengths)
def test_a_longer_wrench_or_plunger_needs_as_much_more_room(
    nose_mm: float, projection_mm: float, more_mm: float
) -> None:
    def gap(out_mm: float, tap_mm: float) -> float:
        return setting.spindle_gap_mm(
            stand_out_mm=5,
            nose_mm=nose_mm,
            projection_mm=out_mm,
            tap_mm=tap_mm,
            overlap_mm=2,
            entry_mm=2,
        )

    before = gap(projection_mm, 66)
    assert gap(projection_mm + more_mm, 66) - before == pytest.approx(more_mm)
    assert gap(projection_mm, 66 + more_mm) - before == pytest.approx(more_mm)


OUTSIDE: list[Callable[[], object]] = [
    lambda: setting.lead_mm(lead_threads=0, pitch_mm=1),
    lambda: setting.lead_mm(lead_threads=4, pitch_mm=NAN),
    lambda: setting.travel_needed_mm(depth_mm=0, lead_mm=4),
    lambda: setting.travel_needed_mm(depth_mm=12, lead_mm=NAN),
    lambda: setting.home_reserve_mm(pitch_mm=0),
    lambda: setting.home_reserve_mm(pitch_mm=NAN),
    lambda: setting.usable_travel_mm(travel_mm=NAN, home_mm=1),
    lambda: setting.usable_travel_mm(travel_mm=12, home_mm=-1),
    lambda: setting.usable_travel_mm(travel_mm=12, home_mm=1, extended_mm=NAN),
    lambda: setting.settings_mm(needed_mm=16, usable_mm=0),
    lambda: setting.settings_mm(needed_mm=NAN, usable_mm=10),
    lambda: setting.retreat_left_mm(travel_mm=12, compression_mm=12.1),
    lambda: setting.retreat_left_mm(travel_mm=12, compression_mm=-0.1),
    lambda: setting.least_raise_mm(advanced_mm=-1, retreat_mm=0),
    lambda: setting.least_raise_mm(advanced_mm=1, retreat_mm=NAN),
    lambda: setting.clear_below_mm(drilled_mm=0, depth_mm=12, lead_mm=4),
    lambda: setting.clear_below_mm(drilled_mm=NAN, depth_mm=12, lead_mm=4),
    lambda: setting.spindle_gap_mm(
        stand_out_mm=-1, nose_mm=24, projection_mm=21, tap_mm=66, overlap_mm=2, entry_mm=2
    ),
    lambda: setting.spindle_gap_mm(
        stand_out_mm=5, nose_mm=24, projection_mm=NAN, tap_mm=66, overlap_mm=2, entry_mm=2
    ),
]


@pytest.mark.parametrize("call", OUTSIDE)
def test_outside_its_range_a_formula_refuses(call: Callable[[], object]) -> None:
    with pytest.raises(ValueError, match="="):
        call()
