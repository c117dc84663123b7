"""The force window of each tap, on the worked tool and on tools near it."""

from __future__ import annotations

from collections.abc import Mapping
from math import inf, isinf, isnan, tan
from typing import Any

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from generator.checks.finding import Verdict
from generator.errors import ProfileError
from generator.model.tool import Tool
from generator.use.windows import Window, windows
from tests.advice import alternatives
from tests.strategies import near_changes
from tests.tools import finding, tool

POINTS = ("M2", "M3", "M4", "M5", "M6")
CENTRES = ("M8", "M10", "M12")
TAPS = [
    {"standard": "ISO 529", "size": size, "end": end}
    for sizes, end in ((POINTS, "point"), (CENTRES, "centre"))
    for size in sizes
]


def near(changes: dict[str, Any]) -> Tool:
    """Return the worked tool with changes; a case that the reader refuses is no case."""
    try:
        return tool(changes)
    except ProfileError:
        reject()


def one(size: str, changes: Mapping[str, Any] = {}, *, end: str = "point") -> Window:
    """Return the window of one ISO tap on the worked tool."""
    tap = {"standard": "ISO 529", "size": size, "end": end}
    (found,) = windows(tool({"taps": [tap], **changes}))
    return found


# Worked by hand from torque, arm and shank: floors tan(30) i T / arm, feel 5 % of T over 2 mu r
# with the shank's radius, on which a point bears.
BY_HAND = {
    "M3": (0.240, 2.8, 0.6, 25.4),
    "M4": (0.624, 6.0, 1.2, 52.0),
    "M6": (1.923, 13.9, 2.8, 101.7),
}


@pytest.mark.parametrize("size", BY_HAND)
def test_windows_worked_by_hand(size: str) -> None:
    torque, one_hand, two_hands, feel = BY_HAND[size]
    found = one(size)
    assert found.torque_Nm == pytest.approx(torque, abs=5e-4)
    assert found.one_hand_N == pytest.approx(one_hand, abs=0.05)
    assert found.two_hands_N == pytest.approx(two_hands, abs=0.05)
    assert found.feel_N == pytest.approx(feel, abs=0.05)


def test_column_of_a_small_tap() -> None:
    """By hand, M2 of 41 mm: core 1, I 0.04909 mm4, 20.19 E I / L^2 is 121.5 N, over 4 30.4."""
    assert one("M2").column_N == pytest.approx(30.4, abs=0.05)


def test_verdicts_on_the_worked_tool() -> None:
    """10.2 N forward and 27.7 N pushed home: M4 to M6 are well served, M10 and M12 by two hands.

    M3 drags over 25 N, in the last 2 mm; M2 nearly everywhere.
    """
    asked = tool({"taps": TAPS})
    verdicts = {
        found.name.split()[0]: finding(asked, "stroke inside the force window", found.name).verdict
        for found in windows(asked)
    }
    assert verdicts.pop("M2") is Verdict.FAIL
    assert verdicts.pop("M3") is Verdict.WARN
    assert set(verdicts.values()) == {Verdict.PASS}
    told = {found.name.split()[0]: found.verdict for found in windows(asked)}
    assert told["M4"] == "one hand will do"
    assert told["M6"] == "one hand if pushed in over 2.5 mm, else two"
    assert told["M10"] == told["M12"] == "two hands only"
    assert told["M3"] == "pushed in 10.4 mm at most: one hand will do"


def test_m3_leaves_the_feel_where_the_force_passes_its_ceiling() -> None:
    """Rate 1.459 N/mm by hand: (25.43 - 10.21) / 1.459 is 10.43 mm."""
    assert one("M3").two_hands_mm == pytest.approx(10.43, abs=0.01)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"springs.0.rate_N_per_mm": 0.02}, "too weak: 2.8 N would do"),
        ({"springs.0.rate_N_per_mm": 30.0}, "too stiff: at most 101.7 N would do"),
        ({"springs.0.rate_N_per_mm": 0.25}, "pushed in 4.1 mm at least: two hands only"),
        (
            {"springs.0.rate_N_per_mm": 0.25, "taps.0.wrench_arm_mm": 60.0},
            "pushed in 7.8 mm at least: two hands only",
        ),
        ({"plug.sunk_mm": 30.0}, "the springs have no room"),
        ({"slot.length_mm": 2.5}, "no stroke"),
        (  # by hand: 0.1 % of 1923 N mm over 0.15 x 3.15 x 2 is 2.035 N; 1923 x tan 30 / 2.035
            {"assumptions.two_hands": 1.0, "assumptions.feel_percent": 0.1},
            "no force both holds it and leaves the feel: the wrench's arm must be over 546 mm",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_verdict_in_words(changes: dict[str, Any], told: str) -> None:
    (found,) = windows(tool(changes))
    assert found.verdict == told


def test_the_advice_of_a_weak_tool_tells_the_force() -> None:
    advice = finding(
        tool({"springs.0.rate_N_per_mm": 0.02}), "stroke inside the force window"
    ).advice
    assert advice.startswith("a force of 2.8 to 101.7 N over the stroke would do: ")
    assert "raise springs[1].rate_N_per_mm to" in advice


def test_a_window_narrower_than_the_springs_asks_for_others() -> None:
    changes = {"assumptions.two_hands": 1.0, "assumptions.feel_percent": 1.0}
    advice = finding(tool(changes), "stroke inside the force window").advice
    assert advice.startswith("a force of 13.9 to 20.3 N over the stroke would do: ")
    assert "take other [[springs]]" in advice


@given(near_changes(), st.floats(1.1, 20))
def test_floor_and_feel_go_with_the_torque(changes: dict[str, Any], worn: float) -> None:
    """A worn tap wants more to hold it and hides more drag; the column stays."""
    for sharp, blunt in zip(
        windows(near(changes)),
        windows(near({**changes, "assumptions.worn_factor": worn})),
        strict=True,
    ):
        assert blunt.torque_Nm == pytest.approx(worn * sharp.torque_Nm)
        assert blunt.one_hand_N == pytest.approx(worn * sharp.one_hand_N)
        assert blunt.two_hands_N == pytest.approx(worn * sharp.two_hands_N)
        assert blunt.feel_N == pytest.approx(worn * sharp.feel_N)
        assert blunt.column_N == sharp.column_N


@given(near_changes())
def test_the_stroke_inside_holds_and_leaves_the_feel(changes: dict[str, Any]) -> None:
    """At both ends of what lies inside, the force stands between floor and ceiling."""
    for found in windows(near(changes)):
        o = found.seat.orientation
        assert o is not None
        if not found.two_hands_mm > 0:
            continue
        for travel_mm in found.reach_mm(found.two_hands_N):
            force_N = o.force_N(travel_mm)
            assert found.two_hands_N - 1e-6 <= force_N <= found.ceiling_N + 1e-6
        assert found.one_hand_mm <= found.two_hands_mm + 1e-9


def test_turning_the_work_takes_the_feel_and_leaves_one_floor() -> None:
    turned, rested = one("M6"), one("M6", {"machine.turned": "work"})
    assert not isinf(turned.feel_N)
    assert rested.feel_N == inf
    assert rested.ceiling_N == rested.column_N
    assert rested.one_hand_N == rested.two_hands_N == pytest.approx(turned.one_hand_N)
    assert rested.verdict == "pushed in 2.5 mm at least: holds, the wrench at rest"


def test_a_level_spindle_bears_the_wrench() -> None:
    """120 g hang 1.177 N across the axis; tan 30 of that is 0.679 N."""
    upright, level = one("M6"), one("M6", {"machine.spindle": "horizontal"})
    assert level.two_hands_N - upright.two_hands_N == pytest.approx(0.679, abs=0.001)
    assert level.weight_floor_N == pytest.approx(0.12 * 9.80665 * tan(3.14159265 / 6), rel=1e-6)
    assert level.feel_N == upright.feel_N


def test_the_work_sets_the_torque() -> None:
    """By the catalogue's K and kc: brass 1.60 x 2300 over steel 1.35 x 3700."""
    steel, brass = one("M6"), one("M6", {"taps.0.work": "brass"})
    assert brass.torque_Nm / steel.torque_Nm == pytest.approx(1.60 * 2300 / (1.35 * 3700))
    own = one("M6", {"taps.0.work": "brass", "assumptions.tap_factor": 1.0})
    assert own.torque_Nm / brass.torque_Nm == pytest.approx(1 / 1.60)


def test_a_tap_named_twice_has_one_window() -> None:
    tap = {"standard": "ISO 529", "size": "M6", "end": "point"}
    assert len(windows(tool({"taps": [tap, tap]}))) == 1
    names = [w.name for w in windows(tool({"taps": [tap, {**tap, "work": "brass"}]}))]
    assert names == ["M6 ISO 529, taps[1]", "M6 ISO 529, taps[2]"]


def test_of_unknown_ends_the_lowest_ceiling_stands() -> None:
    """A point bears on the whole shank, a bevel on its edge: both drag alike."""
    unknown = one("M6", end="")
    known = [one("M6", end=end) for end in ("point", "bevel", "centre")]
    assert unknown.ceiling_N == min(w.ceiling_N for w in known)


def test_a_tap_that_nothing_takes_has_no_window() -> None:
    assert windows(tool({"taps.0.end": "none"})) == ()


def test_force_between_the_ends_of_the_stroke() -> None:
    (o, _) = tool().orientations
    assert o.force_N(0.0) == o.preload_N
    assert o.force_N(o.travel_mm) == pytest.approx(o.full_force_N)
    assert o.force_N(o.travel_mm / 2) == pytest.approx((o.preload_N + o.full_force_N) / 2)
    assert isnan(o.force_N(100.0))
    for pushed_mm in (0.0, 3.0, o.travel_mm):
        assert o.pushed_mm(o.force_N(pushed_mm)) == pytest.approx(pushed_mm)
    assert o.pushed_mm(o.preload_N / 2) == 0.0
    assert o.pushed_mm(2 * o.full_force_N) == o.travel_mm


def test_a_follower_saves_most_of_the_bending() -> None:
    """By hand, M6 of 66 mm pushed 4 mm from its end: b (L + b) / (2 L^2) is 4 x 70 / 8712."""
    assert one("M6").bending == pytest.approx(4 * 70 / (2 * 66**2))
    high = one("M6", {"taps.0.wrench_height_mm": 80.0})
    assert high.bending > one("M6").bending
    assert high.column_N < one("M6").column_N


def test_where_the_whole_stroke_serves_only_a_longer_one_serves_more() -> None:
    name = "stroke inside the force window"
    found = finding(tool({"limits": {name: {"warn": 100.0, "fail": 50.0}}}), name)
    assert "slot.length_mm" in found.advice
    assert "rate_N_per_mm" not in found.advice


def test_advice_on_nested_springs_changes_the_rates_of_both() -> None:
    """The force is that of both, so it grows in one proportion only if both rates do."""
    inner = {"wire_mm": 0.5, "outside_mm": 4.0, "free_mm": 30.0, "active_coils": 15.0}
    weak = {"rate_N_per_mm": 0.05}
    changes = {
        "springs.0.inner": {**inner, "hand": "left", **weak},
        "springs.0.rate_N_per_mm": 0.05,
    }
    found = finding(tool(changes), "stroke inside the force window")
    assert found.verdict is not Verdict.PASS
    numbers = next(alternatives(found.advice))
    assert numbers.keys() == {"springs.0.rate_N_per_mm", "springs.0.inner.rate_N_per_mm"}
    better = tool({**changes, **numbers})
    assert finding(better, "stroke inside the force window").verdict is Verdict.PASS
