"""Lean of the thread: what adds up, what moves it, and what it does to a screw."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.checks.run import run_checks
from generator.errors import ProfileError
from generator.formulas import chain, fit
from generator.use.alignment import Lean, leans
from generator.use.simulation import simulate
from tests.strategies import silly_changes
from tests.tools import finding, parameters, tool

ERRORS = ("height", "side", "slope", "seat", "bore", "bore_slope", "cone", "start", "tap", "wrench")
NONE = {**{f"alignment.{error}_mm": 0.0 for error in ERRORS}, "alignment.hole_deg": 0.0}
TIGHT = {"bore.limits_um": [0.0, 0.0], "plunger.limits_um": [0.0, 0.0]}
LATHE = {"machine.spindle": "horizontal"}
ARM_MM = 60.0


def one(changes: Mapping[str, Any] = {}) -> Lean:
    (found,) = leans(tool(changes))
    return found


def most(lean: Lean) -> dict[str, float]:
    return {term.key.removeprefix("alignment."): term.most_mm for term in lean.terms}


def kinds(lean: Lean) -> dict[str, str]:
    return {term.key.removeprefix("alignment."): term.kind for term in lean.terms}


@pytest.mark.parametrize(
    ("radii", "worst_deg", "most_deg"),
    [
        ((0.010, 0.010, 0.020, 0.018, 0.010), 0.065, 0.036),
        ((0.05, 0.02, 0.02, 0.06, 0.05), 0.191, 0.110),
    ],
)
def test_worked_chains_over_60_mm(
    radii: tuple[float, ...], worst_deg: float, most_deg: float
) -> None:
    """A tool made with care, and one held in a chuck; worked by 200 000 plain random drawings."""
    worst = chain.worst_case(bias=0, radii=radii) / ARM_MM
    (found,) = chain.quantiles(shares=[0.95], bias=0, radii=radii)
    assert math.degrees(worst) == pytest.approx(worst_deg, abs=5e-4)
    assert math.degrees(found / ARM_MM) == pytest.approx(most_deg, abs=5e-4)


def test_worked_arm_of_an_m6_tap() -> None:
    """66 mm overall, four threads of lead at 1 mm: ISO 529, from memory, unverified.

    The shank of 6.3 stands (7 - 6.3)/2 x cot 30 = 0.606 deep in the countersink's mouth of 7.
    """
    assert one().arm_mm == pytest.approx(62 - 0.606, abs=0.001)
    assert one({"taps.0.lead_threads": 8.0}).arm_mm == pytest.approx(58 - 0.606, abs=0.001)
    assert one({"taps.0.wrench_height_mm": 30.0}).arm_mm == pytest.approx(92 - 0.606, abs=0.001)


def test_cone_in_a_drilled_centre_shortens_the_arm_by_its_depth() -> None:
    """A 60 degree point without a flat goes 0.866 of the mouth deep."""
    tap = {"standard": "ISO 529", "size": "M10", "end": "centre", "end_mm": 4.0}
    found = one({"taps": [tap]})
    assert found.arm_mm == pytest.approx(80 - 4 * 1.5 - 4 * 0.866, abs=0.001)


def test_all_nil_is_no_lean_and_no_growth() -> None:
    found = one({**NONE, **TIGHT})
    assert found.terms == ()
    figures = (found.lean_deg, found.mouth_mm)
    assert all(
        value == 0
        for each in figures
        for value in (each.worst, each.rss, each.half, each.most, each.nearly_all)
    )
    assert found.contributors == ()


def test_clearance_is_taken_where_the_tap_is_started() -> None:
    """M6 x 9 needs 9 + 4 mm; the 12 mm travel less 2 gives 10, and 1 in hand: 11 pushed in."""
    base = tool()
    (found,) = leans(base)
    o = found.seat.orientation
    assert o is not None
    expected_um = fit.tip_error_um(
        clearance_um=base.greatest_clearance_um,
        projection_mm=o.projection_extended_mm - 11,
        guide_mm=o.guide_mm + 11,
    )
    assert most(found)["plunger.tolerance"] == pytest.approx(expected_um / 1000)


def test_slope_acts_from_the_mount_to_the_tip() -> None:
    """MT2 stands 5 mm out of its socket (ISO 296), the nose is 24 mm, the tip at 11 compressed."""
    base = tool({"alignment.slope_mm": 0.1})
    (found,) = leans(base)
    o = found.seat.orientation
    assert o is not None
    reach_mm = 5 + 24 + o.projection_extended_mm - 11
    assert most(found)["slope_mm"] == pytest.approx(0.1 * reach_mm / 100)


def test_lathe_adds_height_side_and_sagging_plunger_as_one_vector() -> None:
    changes = {**LATHE, **NONE, "alignment.height_mm": 0.04, "alignment.side_mm": 0.02}
    found = one(changes)
    assert kinds(found) == {
        "height_mm": "bias",
        "side_mm": "bias",
        "plunger.tolerance": "bias",
    }
    down_mm = 0.04 + most(found)["plunger.tolerance"]
    expected = math.degrees(math.atan(math.hypot(0.02, down_mm) / found.arm_mm))
    figures = found.lean_deg
    for value in (figures.worst, figures.rss, figures.half, figures.most, figures.nearly_all):
        assert value == pytest.approx(expected)


def test_upright_spindle_has_no_direction_of_its_own() -> None:
    changes = {"alignment.height_mm": 0.04, "alignment.side_mm": 0.02}
    assert set(kinds(one(changes)).values()) == {"random", "turning"}


def test_tailstock_leans_less_than_plain_addition_would_say() -> None:
    """Height and side stand square to each other: they add as the sides of a triangle."""
    found = one({**LATHE, **NONE, **TIGHT, "alignment.height_mm": 0.3, "alignment.side_mm": 0.4})
    assert found.lean_deg.worst == pytest.approx(math.degrees(math.atan(0.5 / found.arm_mm)))


@given(st.floats(0.001, 1), st.floats(0.001, 1))
def test_turning_error_opens_the_mouth_and_leans_nothing(tap_mm: float, wrench_mm: float) -> None:
    base = one({"taps.0.wrench_height_mm": 30.0})
    moved = one(
        {
            "taps.0.wrench_height_mm": 30.0,
            "alignment.tap_mm": tap_mm,
            "alignment.wrench_mm": wrench_mm,
        }
    )
    assert moved.lean_deg == base.lean_deg
    growth_mm = 2 * (tap_mm + wrench_mm) * base.tap.depth_mm / base.arm_mm
    assert moved.mouth_mm.worst == pytest.approx(growth_mm)


def test_centre_of_the_wrench_counts_only_where_it_is_followed() -> None:
    assert "wrench_mm" not in most(one())
    assert kinds(one({"taps.0.wrench_height_mm": 30.0}))["wrench_mm"] == "turning"


def test_turned_work_lets_all_but_hole_and_start_turn() -> None:
    found = one({**LATHE, "machine.turned": "work"})
    assert {key for key, kind in kinds(found).items() if kind != "turning"} == {
        "start_mm",
        "hole_deg",
    }
    still = one(LATHE)
    assert found.mouth_mm.worst > still.mouth_mm.worst
    assert found.lean_deg.most < still.lean_deg.most


def test_lean_falls_as_the_arm_grows() -> None:
    """The axis of the hole aside, which is an angle and no offset."""
    changes = {"alignment.hole_deg": 0.0}
    near = one(changes)
    far = one({**changes, "taps.0.wrench_height_mm": near.arm_mm})
    assert far.arm_mm == pytest.approx(2 * near.arm_mm)
    for a, b in (
        (near.lean_deg.worst, far.lean_deg.worst),
        (near.lean_deg.most, far.lean_deg.most),
    ):
        assert math.tan(math.radians(a)) == pytest.approx(2 * math.tan(math.radians(b)), rel=1e-5)


def test_axis_of_the_hole_alone_leans_by_itself() -> None:
    found = one({**NONE, **TIGHT, "alignment.hole_deg": 0.3})
    assert found.lean_deg.worst == pytest.approx(0.3)
    assert found.lean_deg.most == pytest.approx(0.3 * math.sqrt(0.95), rel=1e-4)


def test_contributors_share_the_whole_and_come_by_what_they_cost() -> None:
    found = one(LATHE).contributors
    assert sum(each.share for each in found) == pytest.approx(1)
    without = [each.without_deg for each in found]
    assert without == sorted(without)
    assert found[0].weight == "improve first"
    whole_deg = one(LATHE).most_deg()
    for each in found:
        assert each.without_deg < whole_deg
        assert (each.weight == "does not matter") == (each.without_deg >= 0.98 * whole_deg)


def test_named_contributor_when_gone_leaves_what_was_said() -> None:
    base = one()
    for each in base.contributors:
        if each.term.key.startswith("alignment."):
            gone = one({each.term.key: 0.0})
            assert gone.most_deg() == pytest.approx(each.without_deg, abs=1e-6)


def test_gap_under_a_head_and_screw_through_a_plate() -> None:
    """Head 10 and hole 6.6 of M6, ISO 4762 and ISO 273: 10 mm at 0.25 deg lift 0.044."""
    lean_deg = 0.25
    found = one({**NONE, **TIGHT, "alignment.hole_deg": lean_deg / math.sqrt(0.95)})
    assert found.gap_mm == pytest.approx(0.044, abs=5e-4)
    assert found.over_mm(found.most_deg()) == pytest.approx(9 * math.tan(math.radians(lean_deg)))
    assert found.passes is True
    assert one({**NONE, **TIGHT, "alignment.hole_deg": 2.8}).passes is True
    assert one({**NONE, **TIGHT, "alignment.hole_deg": 3.0}).passes is False


def test_size_without_a_head_leaves_both_out() -> None:
    found = one({"taps": [{"standard": "ISO 529", "size": "M3.5", "end": "point"}]})
    assert found.passes is None
    assert math.isnan(found.gap_mm)


def test_tap_that_no_end_serves_is_left_out() -> None:
    assert leans(tool({"taps.0.end": "none"})) == ()


def test_each_tap_of_the_file_comes_once_by_its_worst_form() -> None:
    tap = {"standard": "ISO 529", "size": "M6"}
    assert len(leans(tool({"taps": [tap, {**tap, "depth_mm": 20.0}, tap]}))) == 2
    forms = [one({"taps": [{**tap, "end": end}]}) for end in ("point", "bevel")]
    whole = one({"taps": [tap]})
    assert whole.most_deg() == max(form.most_deg() for form in forms)


def test_two_taps_of_one_name_are_told_apart() -> None:
    tap = {"standard": "ISO 529", "size": "M6", "end": "point"}
    found = [
        each.subject
        for each in run_checks(tool({"taps": [tap, {**tap, "lead_threads": 8.0}]}))
        if each.limit.name == "lean of the thread"
    ]
    assert found == ["M6 ISO 529, taps[1]", "M6 ISO 529, taps[2]"]


def test_no_guide_and_no_arm_fail_with_advice() -> None:
    unguided = finding(
        tool({"slot.front_mm": 0.5, "set_screw.position_mm": 0.5, "slot.length_mm": 2.6}),
        "lean of the thread",
    )
    assert unguided.value_text == "cannot be worked out"
    assert "plunger.length_mm" in unguided.advice
    sunk = {"standard": "ISO 529", "size": "M10", "end": "centre", "end_mm": 150.0}
    armless = finding(tool({"taps": [{**sunk, "wrench_height_mm": 1.0}]}), "lean of the thread")
    assert armless.value_text == "cannot be worked out"
    assert "taps[1].end_mm" in armless.advice


@pytest.mark.parametrize(
    ("accept", "limit_deg"), [("fine", 0.1), ("general", 0.25), ("rough", 0.5)]
)
def test_class_sets_the_limit(accept: str, limit_deg: float) -> None:
    found = finding(tool({"alignment.accept": accept}), "lean of the thread")
    assert (found.limit.warn, found.limit.fail) == (limit_deg, 1.0)


def test_advice_names_the_largest_error_and_the_next_wider_class() -> None:
    found = finding(tool({"alignment.hole_deg": 0.4}), "lean of the thread")
    assert found.advice.startswith("lower alignment.hole_deg to 0.2")
    assert found.advice.endswith('or set alignment.accept to "rough"')


def test_advice_takes_a_second_error_where_one_is_not_enough() -> None:
    changes = {"alignment.seat_mm": 0.5, "alignment.bore_mm": 0.5}
    found = finding(tool(changes), "lean of the thread")
    assert "alignment.seat_mm to" in found.advice
    assert " and alignment.bore_mm to" in found.advice


def test_advice_names_the_fit_where_nothing_else_will_do() -> None:
    loose = {"bore.limits_um": [0.0, 500.0], "plunger.limits_um": [-500.0, 0.0]}
    found = finding(tool({**loose, "alignment.accept": "fine"}), "lean of the thread")
    assert "plunger.tolerance" in found.advice


@pytest.mark.parametrize("changes", [{}, LATHE, {**LATHE, "machine.turned": "work"}])
def test_simulation_agrees_with_the_exact_figures(changes: dict[str, Any]) -> None:
    simulated = simulate(tool(changes))
    (each,) = simulated.taps
    for found, exact in (
        (each.lean_deg, each.lean.lean_deg),
        (each.mouth_mm, each.lean.mouth_mm),
    ):
        assert found.quantiles == pytest.approx(
            (exact.half, exact.most, exact.nearly_all), abs=4e-3 * exact.worst
        )
        assert list(found.quantiles) == sorted(found.quantiles)
        assert found.quantiles[-1] <= exact.worst
        assert found.edges[-1] == pytest.approx(exact.worst)


def test_simulation_repeats_itself() -> None:
    assert simulate(tool(), assemblies=30_000) == simulate(tool(), assemblies=30_000)


@given(silly_changes())
def test_no_silly_tool_raises(changes: dict[str, Any]) -> None:
    try:
        parameters(changes)
    except ProfileError:
        return
    one_tool = tool(changes)
    for each in leans(one_tool):
        figures = each.lean_deg
        assert each.contributors or not each.leaning or not each.known
        if each.known:
            slack = 1e-6 + 1e-4 * figures.worst
            assert figures.half <= figures.most + slack
            assert figures.most <= figures.nearly_all + slack
            assert figures.nearly_all <= figures.worst + slack
        else:
            assert math.isnan(figures.worst)
    simulate(one_tool, assemblies=2_000)


def test_one_gross_error_is_the_only_one_to_lower() -> None:
    found = finding(tool({"alignment.hole_deg": 5.0}), "lean of the thread")
    assert found.advice.startswith("lower alignment.hole_deg to 0.2")
    assert " and " not in found.advice
