"""Ends of the plunger, slot and screw hole: positions and depths against the model."""

from __future__ import annotations

from collections.abc import Mapping
from math import hypot, isnan, radians, sqrt, tan
from types import MappingProxyType
from typing import Any

import pytest

from generator.formulas import cone
from generator.making.slot_setups import (
    CLEAR_MM,
    PAPER_MM,
    hole_setup,
    passes_mm,
    slot_setup,
    ways,
)
from generator.making.tip_setups import (
    RIM_MM,
    CountersinkSetup,
    PointSetup,
    ball_for_mm,
    tip_setups,
)
from generator.model.part import CrossHole, Slot
from tests.tools import tool


def ends(changes: Mapping[str, Any] = MappingProxyType({})) -> tuple[PointSetup, CountersinkSetup]:
    point, sink = tip_setups(tool(changes), inch=False)
    assert isinstance(point, PointSetup)
    assert isinstance(sink, CountersinkSetup)
    return point, sink


@pytest.mark.parametrize("angle_deg", [60.0, 75.0, 90.0])
def test_point_is_that_of_the_outline(angle_deg: float) -> None:
    changes = {"plunger.front.angle_deg": angle_deg, "plunger.front.flat_mm": 0.4}
    made = tool(changes)
    point, _ = ends(changes)
    run = made.plunger.outline.surface("front point")
    assert point.length_mm == pytest.approx(run.length_mm)
    assert point.flank_mm == pytest.approx(hypot(run.length_mm, point.radial_mm))
    assert point.radial_mm == pytest.approx((run.diameter_mm - run.small_diameter_mm) / 2)
    assert point.steps[0].finish_mm == pytest.approx(0.4)
    assert point.steps[-1].finish_mm == pytest.approx(8.0)
    for hole_mm, through_mm in point.gauges:
        # where the outline has the hole's diameter, the plate's edge bears
        z_mm = through_mm
        assert 2 * made.plunger.outline.radius_at_mm(z_mm, inside=False) == pytest.approx(hole_mm)


def test_tool_off_centre_leaves_a_pip() -> None:
    """The tip as turned is the hypotenuse of what was wanted and the error, worked by hand."""
    point, _ = ends({"plunger.front.flat_mm": 0.4})
    for height_mm, flat_mm in point.heights:
        across = 0.2 - (4 - sqrt(16 - height_mm**2))
        assert flat_mm == pytest.approx(2 * hypot(across, height_mm))


def test_countersink_is_that_of_the_outline() -> None:
    made = tool()
    _, sink = ends()
    run = made.plunger.outline.surface("rear countersink")
    length_mm = made.plunger.outline.length_mm
    assert sink.cone_mm == pytest.approx(run.length_mm)
    assert sink.flank_mm == pytest.approx(hypot(run.length_mm, sink.radial_mm))
    hole = made.plunger.outline.surface("rear pilot")
    assert sink.drill_mm == pytest.approx(length_mm - hole.front_mm)
    deepest = made.plunger.outline.surface("rear pilot point")
    assert sink.drill_tip_mm == pytest.approx(length_mm - deepest.front_mm)
    (_, high), (mouth, wanted), (_, low) = sink.heights
    assert mouth == 7.0
    assert wanted == pytest.approx(1.5 * sink.ball_mm - 0.8660254 * 7.0)
    assert high - wanted == pytest.approx(0.1 / (2 * tan(radians(30))))
    assert low < wanted


@pytest.mark.parametrize("inch", [False, True])
def test_ball_rests_within_the_flank_or_there_is_none(inch: bool) -> None:
    for mouth, pilot in ((7.0, 2.0), (4.3, 1.5), (10.5, 3.0), (12.0, 11.0)):
        ball = ball_for_mm(mouth, pilot, 60.0, inch=inch)
        if ball:
            circle = cone.ball_circle_mm(ball_mm=ball, angle_deg=60.0)
            assert pilot + 2 * RIM_MM <= circle <= mouth - 2 * RIM_MM
        else:
            assert (mouth, pilot) == (12.0, 11.0)


def test_plain_end_has_no_set_up() -> None:
    found = tip_setups(tool({"plunger.rear": {"style": "plain"}}), inch=False)
    assert [each.end for each in found] == ["front"]


def test_slot_counts_from_the_end_that_has_a_face() -> None:
    made = tool()
    slot = slot_setup(made, inch=False)
    assert slot is not None
    assert slot.datum == "rear end"
    (cut,) = (each for each in made.plunger.cuts if isinstance(each, Slot))
    # from the other end, the same slot
    assert slot.near_mm == pytest.approx(62.0 - cut.front_mm - cut.length_mm)
    assert slot.far_mm == pytest.approx(62.0 - cut.front_mm)
    assert slot.first_mm == pytest.approx(23.75 + 1.5)
    assert slot.move_mm == pytest.approx(cut.length_mm - cut.width_mm)
    assert slot.side_mm == pytest.approx(4 + 1.5 + PAPER_MM)
    assert slot.across_mm == pytest.approx(8 - 1.6)
    assert slot.depths_mm[-1] == pytest.approx(cut.depth_mm)
    turned = tool(
        {
            "plunger.front": {"style": "plain"},
            "plunger.rear": {"style": "point"},
        }
    )
    other = slot_setup(turned, inch=False)
    assert other is not None
    assert (other.datum, other.near_mm) == ("front end", 23.75)
    pointed = slot_setup(tool({"plunger.rear": {"style": "point"}}), inch=False)
    assert pointed is not None
    assert not pointed.flat_datum


def test_slot_beyond_the_plunger_has_no_set_up() -> None:
    assert slot_setup(tool({"slot.front_mm": 60.0}), inch=False) is None
    assert slot_setup(tool({"slot.width_mm": 9.0}), inch=False) is None


@pytest.mark.parametrize("depth_mm", [0.1, 0.3, 0.45, 1.55, 1.6, 2.4])
def test_passes_reach_the_depth_in_small_steps(depth_mm: float) -> None:
    depths = passes_mm(depth_mm, 0.3)
    assert depths[-1] == depth_mm
    steps = [b - a for a, b in zip((0.0, *depths), depths, strict=False)]
    assert all(0.1 - 1e-9 <= step <= 0.48 for step in steps)


def test_machine_decides_how_the_slot_is_cut() -> None:
    assert ways(tool()) == ("mill",)
    assert ways(tool({"workshop.machines": "cnc lathe"})) == ("mill",)
    alone = {"workshop.machines": "lathe"}
    assert ways(tool(alone)) == ("tool-post", "planing", "filing")
    kit = {**alone, "workshop.kit": ["vertical slide"]}
    assert ways(tool(kit))[0] == "vertical slide"


def test_drill_clears_the_far_wall_and_goes_right_through() -> None:
    made = tool()
    hole = hole_setup(made)
    assert hole is not None
    (cut,) = (each for each in made.body.cuts if isinstance(each, CrossHole))
    assert hole.at_mm == cut.z_mm == 16.0
    assert hole.wall_mm == pytest.approx((20 - 8) / 2)
    # at the edge of the hole the bore's wall lies lower than on the centre line
    edge = 10 - sqrt(4**2 - (cut.diameter_mm / 2) ** 2)
    point = cone.drill_point_mm(diameter_mm=cut.diameter_mm)
    assert hole.least_mm == pytest.approx(edge + point)
    assert hole.most_mm == pytest.approx(10 + 4 - CLEAR_MM)
    assert hole.least_mm < hole.set_mm < hole.most_mm
    assert hole.tap_least_mm == pytest.approx(edge + 4 * 0.7)


def test_no_depth_stop_where_the_bore_is_too_small() -> None:
    """A bore of 3.31 has no room for the point of a 3.3 drill beyond a wall."""
    hole = hole_setup(tool({"bore.diameter_mm": 3.31, "plunger.diameter_mm": 3.3}))
    assert hole is not None
    assert hole.least_mm > hole.most_mm
    assert isnan(hole.set_mm)
    assert hole_setup(tool({"bore.diameter_mm": 3.0, "plunger.diameter_mm": 3.0})) is None
