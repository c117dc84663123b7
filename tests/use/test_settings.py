"""Setting cards: one worked by hand from end to end, and what must hold on every card."""

from __future__ import annotations

from itertools import pairwise
from math import isnan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import ProfileError
from generator.use.seats import tap_names
from generator.use.settings import (
    MOST_SETTINGS,
    Card,
    cards,
    ejects_at_mm,
    start_and_usable_mm,
)
from tests.cases import Printed
from tests.strategies import silly_changes
from tests.tools import finding, tool

M6: dict[str, Any] = {
    "standard": "ISO 529",
    "size": "M6",
    "end": "point",
    "lead_threads": 4.0,
    "depth_mm": 12.0,
    "wrench_arm_mm": 79.28,
}
"""12 mm through. With this arm one hand needs 14.0 N, by hand from 1.92 N m: see below."""

WORKED: dict[str, Any] = {"taps": [M6]}
TAILSTOCK: dict[str, Any] = {
    "mount": {"kind": "morse ejected", "size": "MT2", "extension_length_mm": 4.0},
    "machine.ejection_depth_mm": 66.0,
    "plug.thread": "M10",
}


def worked(**changes: Any) -> Card:
    (card,) = cards(tool({**WORKED, **changes}))
    return card


def near(**handled: Any) -> Card:
    (card,) = cards(tool({"taps": [{**M6, **handled}]}))
    return card


def test_worked_card_from_end_to_end() -> None:
    """By hand: 12 and 4 threads of 1; 12 of travel less 1 and 1; k = 1.459, preload 10.2 at P 21.

    Lower 11 and P is 10; at 26.3 - 14 = 12.3 N, or 8.4 mm, one hand is no longer enough.
    """
    card = worked()
    assert card.orientation.name == "countersink out"
    assert (card.needed_mm, card.home_reserve_mm, card.usable_mm) == (16, 1, 10)
    assert card.settings_mm == (10, 6)
    assert card.resets == 1
    told = [
        (s.action, s.by_mm, s.reading_mm, s.advance_mm, s.projection_mm, s.force_N)
        for s in card.steps
    ]
    assert told == [
        ("touch", 0, 0, 0, 21, Printed("10.2")),
        ("advance", 11, 11, 0, 10, Printed("26.3")),
        ("tap", 10, 11, 10, 20, Printed("11.7")),
        ("advance", 10, 21, 10, 10, Printed("26.3")),
        ("tap", 6, 21, 16, 16, Printed("17.5")),
        ("back off", 6, 21, 10, 10, Printed("26.3")),
        ("retract", 10, 11, 10, 20, Printed("11.7")),
        ("back off", 10, 11, 0, 10, Printed("26.3")),
        ("retract", 11, 0, 0, 21, Printed("10.2")),
    ]
    assert [s.one_hand_mm for s in card.steps if s.action == "tap"] == [Printed("8.4"), 6]
    assert all(s.held for s in card.steps)
    assert (card.retreat_left_mm, card.raise_mm) == (7, 9)


def test_gap_between_spindle_face_and_work_at_touch() -> None:
    """By hand: 5 + 24 + 21 + 66 less half of a 4 mm lead; the plunger fully out, at P 21.

    The shank of 6.3 stands (7 - 6.3)/2 x cot 30 = 0.606 deep in the countersink's mouth of 7.
    In a centre of 2.646 on the shank of 6.3 a sharp 60 degree point goes 2.29 deep.
    """
    assert worked().gap_mm == pytest.approx(5 + 24 + 21 + 66 - 2 - 0.606, abs=0.001)
    (card,) = cards(tool({"taps": [{**M6, "end": "centre"}]}))
    assert card.orientation.name == "point out"
    assert card.gap_mm == pytest.approx(114 - 2.646 / 2 * 3**0.5)
    assert near(wrench_height_mm=60.0).gap_mm == pytest.approx(worked().gap_mm + 60)


def test_twenty_deep_with_an_m8_takes_three_settings() -> None:
    """By hand: 25 in all; 10.5 pushed in by divisions of 0.5, 9.5 usable, so 9.5, 9.5 and 6."""
    (card,) = cards(
        tool({"taps": [{"standard": "ISO 529", "size": "M8", "end": "centre", "depth_mm": 20.0}]})
    )
    assert card.settings_mm == (9.5, 9.5, 6)
    assert card.resets == 2
    readings = [s.reading_mm for s in card.steps if s.action in ("advance", "retract")]
    assert readings == [10.5, 20, 29.5, 20, 10.5, 0]
    assert card.retreat_left_mm == 12 - 4.5
    assert card.raise_mm == 25 - 7.5


def test_floor_is_the_published_torque_over_the_arm() -> None:
    """Computed check values for steel, kc 3700, K 1.35: 14 and 2.8 N for M6, 43 and 8.6 for M12.

    The torque is a tap maker's equation and tables, general catalogue of 2021, p. 639-640.
    """
    for size, end, one, two in (
        ("M3", "point", "2.8", "0.6"),
        ("M6", "point", "14", "2.8"),
        ("M8", "centre", "20", "3.9"),
        ("M10", "centre", "30", "6"),
        ("M12", "centre", "43", "8.6"),
    ):
        made = tool({"taps": [{"standard": "ISO 529", "size": size, "end": end}]})
        (card,) = cards(made)
        assert card.floor_one_N == Printed(one), size
        assert card.floor_two_N == Printed(two), size


def test_weight_of_the_wrench_counts_on_a_lathe() -> None:
    """120 g weigh 1.177 N; tan 30 of that is 0.68 N."""
    upright, flat = (
        worked(**{"machine.spindle": spindle}) for spindle in ("vertical", "horizontal")
    )
    assert flat.floor_one_N - upright.floor_one_N == Printed("0.68")


def test_blunter_cone_needs_more_force() -> None:
    """The mouth of a centre slides on the plunger's point: tan 45 over tan 30."""
    tap = {"taps": [{"standard": "ISO 529", "size": "M10", "end": "centre"}]}
    (sharp,), (blunt,) = (
        cards(tool({**tap, "plunger.front.angle_deg": angle})) for angle in (60.0, 90.0)
    )
    assert blunt.floor_one_N == pytest.approx(3**0.5 * sharp.floor_one_N)


def test_blind_hole_has_its_figures() -> None:
    card = near(hole="blind", drilled_mm=18.0)
    assert card.clear_below_mm == 2
    assert isnan(near().clear_below_mm)
    made = tool({"taps": [{**M6, "hole": "blind", "drilled_mm": 17.0}]})
    found = finding(made, "clear below the tap in a blind hole")
    assert (found.value, found.verdict) == (1, "warn")
    for number in (
        "taps[1].drilled_mm to 18 mm",
        "taps[1].depth_mm to 11 mm",
        "lead_threads of at most 3",
    ):
        assert number in found.advice


def test_derived_depth_of_a_blind_hole_is_enough() -> None:
    found = finding(
        tool({"taps": [{**M6, "hole": "blind"}]}), "clear below the tap in a blind hole"
    )
    assert found.verdict == "pass"


def test_short_quill_warns_and_one_too_short_for_any_setting_fails() -> None:
    """The worked card lowers the quill 11 mm, and 10 more."""
    for travel_mm, value, verdict in ((21.0, 0, "pass"), (20.0, -1, "warn"), (10.5, -10.5, "fail")):
        made = tool({**WORKED, "machine.quill_travel_mm": travel_mm})
        found = finding(made, "quill travel")
        assert (found.value, found.verdict) == (value, verdict)
    with pytest.raises(LookupError, match="quill travel"):
        finding(tool(WORKED), "quill travel")


def test_quill_that_ejects_keeps_that_much_of_its_travel() -> None:
    """MT2 is 64 long by DIN 807; with 4 of extension it ends 2 mm past a screw 66 deep."""
    made = tool({**WORKED, **TAILSTOCK})
    assert ejects_at_mm(made) == 2
    (card,) = cards(made)
    assert card.quill_mm == 21 + 2
    assert ejects_at_mm(tool(WORKED)) == 0


def test_tap_whose_end_is_not_told_has_a_card_for_each_end_that_may_serve() -> None:
    made = tool({"taps": [{"standard": "ISO 529", "size": "M6"}]})
    found = cards(made)
    assert [(c.ends, c.orientation.name) for c in found] == [
        (("point", "bevel"), "countersink out")
    ]
    none = tool({"taps": [{"standard": "ISO 529", "size": "M6", "end": "none"}]})
    assert cards(none) == ()


def test_two_holes_for_one_tap_have_two_names() -> None:
    made = tool({"taps": [M6, {**M6, "depth_mm": 20.0}, {**M6, "size": "M5"}]})
    assert tap_names(made) == ("M6 ISO 529, taps[1]", "M6 ISO 529, taps[2]", "M5 ISO 529")
    assert [card.place for card in cards(made)] == [1, 2, 3]


def test_scale_too_coarse_is_left_aside() -> None:
    card = worked(**{"machine.quill_division_mm": 15.0})
    assert not card.rounded
    assert card.settings_mm == (10, 6)


def test_hole_beyond_all_patience_has_no_card() -> None:
    made = tool({"slot.length_mm": 7.0, "taps": [{**M6, "depth_mm": 60.0}]})
    (card,) = cards(made)
    assert card.needed_mm > MOST_SETTINGS * card.usable_mm
    assert not card.steps
    assert not card.settings_mm
    assert finding(made, "settings for a hole").verdict == "warn"


def assert_sound(card: Card, division_mm: float) -> None:
    """Check what no card may breach."""
    o, steps = card.orientation, card.steps
    if not steps:
        assert card.usable_mm <= 0 or card.needed_mm > MOST_SETTINGS * card.usable_mm
        return
    assert sum(card.settings_mm) == pytest.approx(card.needed_mm)
    pushed = [s.reading_mm - s.advance_mm for s in steps]
    assert max(pushed) <= o.travel_mm - card.home_reserve_mm + 1e-6
    assert min(pushed) >= -1e-9
    for step, pushed_mm in zip(steps, pushed, strict=True):
        assert step.projection_mm == pytest.approx(o.projection_extended_mm - pushed_mm)
        if step.action == "tap":
            assert pushed_mm >= 1 - 1e-6
            assert 0 <= step.one_hand_mm <= step.by_mm + 1e-9
        if card.rounded:
            divisions = step.reading_mm / division_mm
            assert divisions == pytest.approx(round(divisions), abs=1e-5)
    for before, after in pairwise(steps):
        moved = (after.reading_mm - before.reading_mm, after.advance_mm - before.advance_mm)
        signs = {"advance": (1, 0), "tap": (0, 1), "back off": (0, -1), "retract": (-1, 0)}
        sign = signs[after.action]
        assert moved == pytest.approx((sign[0] * after.by_mm, sign[1] * after.by_mm), abs=1e-6)
        if after.action == "tap" and before.force_N == before.force_N:
            assert after.force_N <= before.force_N + 1e-9
    out = steps[-1]
    assert (out.reading_mm, out.advance_mm) == (0, 0)
    raised_mm = sum(s.by_mm for s in steps[:-1] if s.action == "retract")
    assert raised_mm >= card.raise_mm - 1e-6
    assert max(s.reading_mm for s in steps) <= card.quill_mm + 1e-9


@given(
    st.floats(0.5, 60.0),
    st.floats(0.5, 12.0),
    st.sampled_from([0.02, 0.025, 0.1, 0.5, 0.635, 1.0, 5.0]),
    st.floats(4.0, 40.0),
)
def test_every_card_is_sound(
    depth_mm: float, lead_threads: float, division_mm: float, slot_mm: float
) -> None:
    made = tool(
        {
            "taps": [{**M6, "depth_mm": depth_mm, "lead_threads": lead_threads}],
            "machine.quill_division_mm": division_mm,
            "slot.length_mm": slot_mm,
        }
    )
    for card in cards(made):
        assert_sound(card, division_mm)


@given(st.floats(1.0, 40.0), st.floats(1.0, 25.0))
def test_deeper_hole_never_takes_fewer_settings(depth_mm: float, more_mm: float) -> None:
    one, other = near(depth_mm=depth_mm), near(depth_mm=depth_mm + more_mm)
    assert other.needed_mm > one.needed_mm
    if other.settings_mm:
        assert len(other.settings_mm) >= len(one.settings_mm)


@given(st.floats(1.5, 60.0), st.floats(1.0, 4.0), st.floats(0.5, 60.0), st.floats(0.01, 3.0))
def test_readings_never_eat_the_reserves(
    travel_mm: float, home_mm: float, needed_mm: float, division_mm: float
) -> None:
    start_mm, usable_mm, _ = start_and_usable_mm(
        travel_mm=travel_mm, home_mm=home_mm, needed_mm=needed_mm, division_mm=division_mm
    )
    if usable_mm > 0:
        assert start_mm <= travel_mm - home_mm + 1e-6
        assert start_mm - min(needed_mm, usable_mm) >= 1 - 1e-6


@given(silly_changes())
def test_silly_tools_raise_nothing(changes: dict[str, Any]) -> None:
    try:
        made = tool(changes)
    except ProfileError:
        return
    for card in cards(made):
        assert_sound(card, made.parameters.machine.quill_division_mm)
