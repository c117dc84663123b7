"""What must hold for every tool: how its figures move when one parameter moves."""

from __future__ import annotations

import math
from dataclasses import fields
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generator.checks.run import run_checks
from generator.checks.springs import solid_margins_mm
from generator.errors import ProfileError
from generator.inputs.profile import parameters_from
from generator.model.part import Part
from generator.model.tool import Orientation, Tool, design
from tests.strategies import silly_changes
from tests.tools import BASE, REMOVED, changed, parameters, slot_of, tool

SHIFTS = st.floats(-2, 2)
SAME = 1e-9


def made(changes: dict[str, Any]) -> Tool:
    try:
        return tool(changes)
    except ProfileError:
        assume(False)
        raise


def numbers(o: Orientation) -> dict[str, float]:
    return {
        field.name: getattr(o, field.name)
        for field in fields(o)
        if isinstance(getattr(o, field.name), float)
    }


@given(silly_changes())
def test_strokes_of_both_ends_agree(changes: dict[str, Any]) -> None:
    one = made(changes)
    travel_mm = slot_of(one.parameters).length_mm - one.across_mm
    for o in one.orientations:
        assert o.travel_mm == pytest.approx(travel_mm, abs=1e-6)
        assert o.room_extended_mm - o.room_compressed_mm == pytest.approx(travel_mm, abs=1e-6)
        length_mm = one.parameters.plunger.length_mm
        assert o.inner_extended_mm + o.projection_extended_mm == pytest.approx(length_mm)
        assert o.inner_compressed_mm == pytest.approx(o.inner_extended_mm + travel_mm, abs=1e-6)


@given(silly_changes())
def test_force_grows_by_rate_times_travel_while_no_spring_is_solid(
    changes: dict[str, Any],
) -> None:
    one = made(changes)
    rate = one.curve.rate_N_per_mm(one.curve.free_mm)
    for o in one.orientations:
        if o.preload_N > 0 and o.travel_mm > 0 and not one.bent(o):
            assert o.full_force_N - o.preload_N == pytest.approx(rate * o.travel_mm, abs=1e-6)
            assert o.rate_N_per_mm == pytest.approx(rate, rel=1e-6, abs=1e-6 / o.travel_mm)
            taken_J = one.energy_J(o.full_force_N) - one.energy_J(o.preload_N)
            mean_N = (o.full_force_N + o.preload_N) / 2
            assert taken_J == pytest.approx(mean_N * o.travel_mm / 1000, rel=1e-6, abs=1e-9)


@given(silly_changes())
def test_springs_of_a_place_share_the_force_on_all(changes: dict[str, Any]) -> None:
    one = made(changes)
    for o in one.orientations:
        for force_N in (o.preload_N, o.full_force_N):
            if not 0 < force_N < min(spring.curve.end_force_N for spring in one.springs):
                continue
            for outer in one.springs:
                borne_N = [e.bears_N(force_N) for e in one.in_place if e.place is outer]
                assert sum(borne_N) == pytest.approx(force_N, rel=1e-6, abs=1e-6)


@given(SHIFTS, SHIFTS)
def test_travel_depends_on_neither_screw_position_nor_plug_nor_body(
    along_mm: float, sunk_mm: float
) -> None:
    base = tool()
    moved = tool(
        {
            "set_screw.position_mm": 16 + along_mm,
            "plug.sunk_mm": 15 + sunk_mm,
            "body.nose_length_mm": 24 + along_mm,
        }
    )
    for one, other in zip(base.orientations, moved.orientations, strict=True):
        assert one.travel_mm == pytest.approx(other.travel_mm, abs=SAME)


@given(SHIFTS)
def test_projections_fall_as_the_screw_goes_back(along_mm: float) -> None:
    base, moved = tool(), tool({"set_screw.position_mm": 16 + along_mm})
    for one, other in zip(base.orientations, moved.orientations, strict=True):
        for name in ("projection_extended_mm", "projection_compressed_mm"):
            assert getattr(other, name) - getattr(one, name) == pytest.approx(-along_mm, abs=SAME)


@given(SHIFTS)
def test_front_of_the_slot_moves_the_front_end_alone(along_mm: float) -> None:
    """The plunger keeps its rear length, so it grows by as much."""
    base = tool()
    moved = tool({"slot.front_mm": 23.75 + along_mm, "plunger.length_mm": 62 + along_mm})
    (front, rear), (front_moved, rear_moved) = base.orientations, moved.orientations
    assert front_moved.projection_extended_mm - front.projection_extended_mm == pytest.approx(
        along_mm, abs=SAME
    )
    assert rear_moved.projection_extended_mm == pytest.approx(rear.projection_extended_mm, abs=SAME)


@given(st.floats(20, 27))
def test_exchanging_the_ends_exchanges_the_orientations_and_nothing_else(front_mm: float) -> None:
    ends = {"front": BASE["plunger"]["front"], "rear": BASE["plunger"]["rear"]}
    one = tool({"slot.front_mm": front_mm})
    other = tool(
        {
            "slot.front_mm": 62 - 14.5 - front_mm,
            "plunger.front": ends["rear"],
            "plunger.rear": ends["front"],
        }
    )
    for a, b in zip(one.orientations, reversed(other.orientations), strict=True):
        assert a.name == b.name
        assert numbers(a) == pytest.approx(numbers(b), abs=SAME)
    assert one.plunger.volume_mm3 == pytest.approx(other.plunger.volume_mm3)


@given(st.floats(0, 1))
def test_plug_further_in_adds_its_step_times_the_rate(forward_mm: float) -> None:
    base, moved = tool(), tool({"plug.sunk_mm": 15 + forward_mm})
    for one, other in zip(base.orientations, moved.orientations, strict=True):
        more_N = base.rate_N_per_mm * forward_mm
        assert other.preload_N - one.preload_N == pytest.approx(more_N, abs=SAME)
        assert other.full_force_N - one.full_force_N == pytest.approx(more_N, abs=SAME)
        assert other.projection_extended_mm == one.projection_extended_mm
    assert solid_margins_mm(base)[0] - solid_margins_mm(moved)[0] == pytest.approx(
        forward_mm, abs=SAME
    )


@given(st.floats(0.7, 1.3))
def test_scaling_every_length_scales_rate_once_and_force_twice(scale: float) -> None:
    """The rate goes with the scale, forces with its square, stress stays."""
    asked = {
        "plunger.diameter_mm": 8.0,
        "bore.diameter_mm": 8.0,
        "plunger.length_mm": 62.0,
        "slot.length_mm": 14.5,
        "slot.width_mm": 3.0,
        "slot.depth_mm": 1.6,
        "slot.front_mm": 23.75,
        "set_screw.position_mm": 16.0,
        "set_screw.tip_mm": 2.5,
        "set_screw.tip_length_mm": 2.0,
        "springs.0.wire_mm": 0.8,
        "springs.0.outside_mm": 7.0,
        "springs.0.free_mm": 34.0,
        "button.thickness_mm": 2.0,
        "plug.length_mm": 8.0,
        "plug.sunk_mm": 15.0,
        "set_screw.gap_mm": 0.3,
        "mount": {"kind": "straight", "diameter_mm": 20.0, "length_mm": 69.0},
        "body.nose_length_mm": 24.0,
        "plug.thread": "M10",
    }
    scaled = {
        key: value * scale if isinstance(value, float) else value for key, value in asked.items()
    }
    scaled["mount"] = {"kind": "straight", "diameter_mm": 20.0, "length_mm": 69.0 * scale}
    one, other = tool(asked), tool({**scaled, "set_screw.thread": "M5"})
    assert other.rate_N_per_mm == pytest.approx(one.rate_N_per_mm * scale)
    a, b = one.orientations[0], other.orientations[0]
    assert b.travel_mm == pytest.approx(a.travel_mm * scale)
    assert b.preload_N == pytest.approx(a.preload_N * scale**2)
    assert b.full_force_N == pytest.approx(a.full_force_N * scale**2)
    stress = [t.springs[0].stress_MPa(t.orientations[0].full_force_N) for t in (one, other)]
    assert stress[1] == pytest.approx(stress[0])


def in_inches(node: Any, key: str = "") -> Any:
    """Return a table with every length written as text in inches."""
    if isinstance(node, dict):
        return {name: in_inches(value, name) for name, value in node.items()}
    if isinstance(node, list):
        return [in_inches(each) for each in node]
    if isinstance(node, float) and key.endswith("_mm") and not key.endswith("_per_mm"):
        return f"{node / 25.4:.14f} in"
    return node


@given(st.floats(5, 30), st.floats(0.5, 1.0))
def test_inches_and_millimetres_make_the_same_tool(travel_mm: float, wire_mm: float) -> None:
    table = changed(BASE, {"slot.length_mm": travel_mm, "springs.0.wire_mm": wire_mm})
    metric, inch = (design(parameters_from(each, "tool")) for each in (table, in_inches(table)))
    assert in_inches(table)["slot"]["length_mm"].endswith(" in")
    for one, other in zip(metric.orientations, inch.orientations, strict=True):
        assert numbers(one) == pytest.approx(numbers(other), abs=1e-6, nan_ok=True)
    for part, twin in zip(metric.made_parts, inch.made_parts, strict=True):
        for corner, other_corner in zip(part.outline.corners, twin.outline.corners, strict=True):
            assert corner.z_mm == pytest.approx(other_corner.z_mm, abs=1e-6)
            assert corner.r_mm == pytest.approx(other_corner.r_mm, abs=1e-6)


TOLERANCES = {
    "bore.limits_um": [5.0, 30.0],
    "plunger.limits_um": [-40.0, -10.0],
    "making.runout_mm": 0.1,
    "making.slot_depth_tolerance_mm": 0.2,
    "making.general_tolerance": "ISO 2768-c",
}


@pytest.mark.parametrize("key", TOLERANCES)
def test_tolerance_never_moves_a_nominal(key: str) -> None:
    one, other = tool(), tool({key: TOLERANCES[key]})
    assert one.made_parts == other.made_parts
    for a, b in zip(one.orientations, other.orientations, strict=True):
        assert a == b


@given(silly_changes())
def test_any_accepted_parameters_make_a_tool_and_findings(changes: dict[str, Any]) -> None:
    """However silly: a bad idea ends in a finding, never in a traceback."""
    try:
        asked = parameters(changes)
    except ProfileError:
        return
    one = design(asked)
    assert run_checks(one)
    assert isinstance(one.body, Part)
    assert one == design(asked)


@given(silly_changes())
def test_derived_are_the_keys_left_out_and_filled_in(changes: dict[str, Any]) -> None:
    table = changed(BASE, changes)
    try:
        one = design(parameters_from(table, "tool"))
    except ProfileError:
        return
    for key in one.derived:
        here: Any = table
        there: Any = one.parameters
        *steps, last = key.replace("]", "").replace("[", ".").split(".")
        for step in steps:
            if step.isdigit():
                here, there = here[int(step) - 1], there[int(step) - 1]
            else:
                here, there = here.get(step, {}), getattr(there, step)
        assert last not in here
        value = getattr(there, last)
        assert value != ""
        assert not (isinstance(value, float) and math.isnan(value))


def test_derived_keys_of_a_tool_are_listed_exactly() -> None:
    left_out = {
        "plunger.length_mm",
        "slot.front_mm",
        "slot.width_mm",
        "set_screw.position_mm",
        "set_screw.length_mm",
        "plug.sunk_mm",
        "body.nose_length_mm",
    }
    before = set(tool().derived)
    assert set(tool(dict.fromkeys(left_out, REMOVED)).derived) == before | left_out
    assert before == {
        "mount.drawbar_thread",
        "body.assembly",
        "bore.tolerance",
        "plunger.tolerance",
        "slot.form",
        "set_screw.tip_mm",
        "set_screw.tip_length_mm",
        "springs[1].rate_N_per_mm",
        "springs[1].total_coils",
        "button.diameter_mm",
        "plug.thread",
        "plug.drive_width_mm",
        "plug.drive_depth_mm",
        *(f"taps[1].{key}" for key in ("depth_mm", "drilled_mm", "wrench_arm_mm", "wrench_g")),
        "taps[1].advised_least_N",
        "taps[1].advised_greatest_N",
        *(f"alignment.{key}_mm" for key in ("height", "side", "slope", "seat", "bore")),
        "plug.tapped_mm",
        "alignment.bore_slope_mm",
        "alignment.hole_deg",
    }
