"""Bad tools worked by hand, and odd ones that must be let through."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.checks.finding import Verdict, worst
from generator.checks.run import run_checks
from generator.inputs.profile import read_profile
from generator.model.tool import design
from tests.cases import Printed
from tests.tools import finding, screw_of, tool

PROFILES = Path(__file__).parents[2] / "profiles"
TAILSTOCK: dict[str, Any] = {
    "mount": {"kind": "morse ejected", "size": "MT1", "extension_length_mm": 0.0},
    "machine.ejection_depth_mm": 50.0,
    "plug": {"thread": "M6", "length_mm": 8.0, "sunk_mm": 8.0},
}


def test_mt1_has_no_wall_for_an_8_mm_bore() -> None:
    """Small end 9.40 by the published taper, 0.59858 in a foot on 12.065: wall 0.70."""
    found = finding(tool(TAILSTOCK), "wall over the bore at the small end")
    assert found.value == Printed("0.70")
    assert found.verdict is Verdict.FAIL


def test_mt2_has_no_wall_for_an_m14_rear_thread() -> None:
    """Small end 14.58: wall 0.29 over M14, and 1.29 over a 12 mm bore, which only warns."""
    over_thread = finding(tool({"plug.thread": "M14"}), "wall over the rear thread")
    assert over_thread.value == Printed("0.29")
    assert over_thread.verdict is Verdict.FAIL
    over_bore = finding(tool({"bore.diameter_mm": 12.0}), "wall over the bore at the small end")
    assert over_bore.value == Printed("1.29")
    assert over_bore.verdict is Verdict.WARN


@pytest.mark.parametrize(
    ("outside_mm", "left", "verdict"),
    [(7.59, "0.22", Verdict.PASS), (7.62, "0.12", Verdict.FAIL)],
)
def test_spring_in_the_bore_steps_with_the_tolerance_band(
    outside_mm: float, left: str, verdict: Verdict
) -> None:
    """A stock-spring maker's notes: plus 0.13 up to 7.59, plus 0.20 from 7.62; it grows by 0.06."""
    made = tool({"springs.0.outside_mm": outside_mm, "springs.0.free_mm": 30.0})
    found = finding(made, "spring free in the bore")
    assert found.value == Printed(left)
    assert found.verdict is verdict


def test_tool_without_a_way_out_for_the_air_fails() -> None:
    found = finding(tool({"plug.vent_mm": 0.0}), "vent")
    assert found.verdict is Verdict.FAIL
    assert "plug.vent_mm" in found.advice


def test_reamer_of_117_does_not_pass_a_bore_of_98() -> None:
    """Reach 117 less 25 in the chuck is 92, six short."""
    made = tool(
        {
            **TAILSTOCK,
            "body.nose_length_mm": 41.0,
            "bore.diameter_mm": 5.0,
            "workshop.reamer_length_mm": 117.0,
        }
    )
    assert made.body.outline.length_mm == pytest.approx(98)
    found = finding(made, "reamer reach")
    assert found.value == pytest.approx(-6)
    assert found.verdict is Verdict.FAIL


def test_short_dog_is_too_short_for_its_slot() -> None:
    """ISO 4028 by published tables: short dog of M4 at least 1.0, long dog at least 2.0."""
    short, long = (tool({"set_screw.point": point}) for point in ("dog short", "dog long"))
    assert screw_of(short.parameters).tip_length_mm == 1.0
    assert screw_of(long.parameters).tip_length_mm == 2.0
    assert finding(short, "screw thread outside the bore").verdict is Verdict.FAIL
    assert finding(long, "screw thread outside the bore").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("thread", "short_mm", "long_mm", "tip_mm"),
    [("M3", 0.75, 1.5, 2.0), ("M5", 1.25, 2.5, 3.5), ("M6", 1.5, 3.0, 4.0)],
)
def test_dogs_are_those_of_the_standard(
    thread: str, short_mm: float, long_mm: float, tip_mm: float
) -> None:
    """ISO 4028, published tables: least length of the dog, greatest diameter."""
    for point, length_mm in (("dog short", short_mm), ("dog long", long_mm)):
        screw = screw_of(tool({"set_screw.thread": thread, "set_screw.point": point}).parameters)
        assert screw.tip_length_mm == length_mm
        assert screw.tip_mm == tip_mm


def test_rear_hole_is_held_against_the_limits_of_the_standard() -> None:
    """ISO 965-1, class 6H, as published: minor diameter of M6 4.917 to 5.153, of M10 to 8.676."""
    for thread, greatest_mm in (("M6", 5.153), ("M10", 8.676)):
        made = tool({"plug.thread": thread, "bore.diameter_mm": 5.0})
        found = finding(made, "rear hole against the thread's greatest minor diameter")
        assert found.limit.warn == greatest_mm


def test_whole_thread_in_a_slot_of_its_own_width_only_warns() -> None:
    made = tool({"set_screw.point": "dog short", "slot.width_mm": 4.2})
    assert made.across_mm == 4.0
    assert finding(made, "thread running in the slot").verdict is Verdict.WARN
    verdicts = {
        found.limit.name: found.verdict
        for found in run_checks(made)
        if "screw" in found.limit.name or "slot" in found.limit.name
    }
    assert Verdict.FAIL not in verdicts.values()


def test_compact_tool_may_be_made_with_warnings() -> None:
    findings = run_checks(design(read_profile(PROFILES / "compact-long-travel-8.toml")))
    assert worst(findings) is Verdict.WARN


def test_every_front_loaded_profile_may_be_made_with_warnings() -> None:
    tools = [design(read_profile(path)) for path in PROFILES.glob("*.toml")]
    front = [
        made
        for made in tools
        if made.parameters.body.assembly == "front-loaded" and made.bush is None
    ]
    assert front
    for made in front:
        assert worst(run_checks(made)) is Verdict.WARN


def test_compact_tool_shows_its_slot_and_says_how_much() -> None:
    """Travel 34 with the screw 8.5 behind the nose: 34 + 1.25 - 8.5 = 26.75 of the slot shows."""
    made = design(read_profile(PROFILES / "compact-long-travel-8.toml"))
    found = finding(made, "land in front of the slot")
    assert found.value == pytest.approx(-26.75)
    assert "26.75 mm of it shows" in found.advice


def test_front_loaded_tool_warns_of_what_is_let_go_and_fails_beyond_the_hand() -> None:
    """More than 60 N or 0.3 J can not be held with the thumb: engineering judgement."""
    for rate, verdict in ((1.0, Verdict.WARN), (20.0, Verdict.FAIL)):
        made = tool({"body.assembly": "front-loaded", "springs.0.rate_N_per_mm": rate})
        for name in ("force let go at the nose", "energy let go at the nose"):
            assert finding(made, name).verdict is verdict
        with pytest.raises(LookupError):
            finding(made, "thread left when the springs are slack")


def test_refused_profile_fails_for_its_three_faults() -> None:
    findings = run_checks(design(read_profile(PROFILES / "refused-three-faults.toml")))
    assert {found.limit.name for found in findings if found.verdict is Verdict.FAIL} == {
        "wall over the rear thread",
        "screw thread outside the bore",
        "spring free in the bore",
    }
