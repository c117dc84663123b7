"""The numbers of the set-ups: what closes, what a limit decides, what the drawing says."""

from __future__ import annotations

from dataclasses import replace
from math import asin, radians, sin, tan
from pathlib import Path
from typing import Any

import pytest

from generator.checks.making import LEAD_AND_RUN_OFF_MM
from generator.formulas import taper
from generator.inputs.profile import read_profile
from generator.making import setups
from generator.making.dials import Dial, cross_slide
from generator.making.lengths import Lengths
from generator.making.setups import TaperSetup
from generator.making.sine_bar import sine_bars
from generator.making.taper_methods import methods, proposed
from generator.making.taper_ways import set_over, two_bites
from generator.model.shank import shank_of
from generator.model.tool import Tool, design
from tests.cases import Printed, cases
from tests.tools import tool

MM = Lengths("mm")
PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
TOOLS = [design(read_profile(path)) for path in PROFILES]
TAPERS = [made for made in TOOLS if setups.taper_setup(made) is not None]
every_taper = pytest.mark.parametrize("made", TAPERS, ids=lambda each: each.name)
both_units = pytest.mark.parametrize("inch", [False, True])


def of(made: Tool) -> TaperSetup:
    setup = setups.taper_setup(made)
    assert setup is not None
    return setup


def way(changes: dict[str, Any]) -> str:
    made = tool(changes)
    setup = of(made)
    over = set_over(made, setup, inch=False)
    return proposed(methods(made.parameters.workshop, setup, over, MM)).name


@every_taper
@both_units
def test_in_feed_closes_and_reaches_the_drawing(made: Tool, inch: bool) -> None:
    """What the dial takes off lets the taper in by just what it has to go."""
    setup, dial = of(made), cross_slide(made.parameters.workshop)
    rows = setups.in_feed(setup, inch=inch)
    for row in rows:
        sinks_mm = taper.axial_shift_mm(radial_mm=row.radial_mm, taper=setup.rate)
        assert sinks_mm == pytest.approx(row.to_go_mm)
        assert row.stand_off_mm - row.to_go_mm == pytest.approx(setup.stand_out_mm)
        assert dial.divisions(row.radial_mm) * dial.division_mm == pytest.approx(
            row.radial_mm * (2 if dial.reads == "diameter" else 1)
        )
    assert [row.to_go_mm for row in rows] == sorted((row.to_go_mm for row in rows), reverse=True)
    assert rows[-1].radial_mm == 0
    outline = made.body.outline
    stand_out_mm = outline.plane_mm("gauge plane") - outline.surface("taper").front_mm
    assert rows[-1].stand_off_mm == pytest.approx(stand_out_mm)
    assert stand_out_mm == pytest.approx(shank_of(made.parameters.mount).stand_out_mm)


@every_taper
@both_units
def test_steps_end_at_the_small_end_of_the_drawing(made: Tool, inch: bool) -> None:
    step_mm, rows = setups.steps(of(made), inch=inch)
    cone = shank_of(made.parameters.mount).taper
    assert cone is not None
    assert rows[-1].z_mm == pytest.approx(cone.length_mm)
    assert rows[-1].finish_mm == pytest.approx(cone.small_diameter_mm)
    assert rows[0].finish_mm == pytest.approx(cone.large_diameter_mm)
    assert any(each.z_mm == 0 for each in rows)
    assert 5 <= len(rows) <= setups.MOST_STEPS + 2
    assert setups.step_slope_mm(of(made), step_mm) == pytest.approx(step_mm * cone.rate)


@every_taper
@both_units
def test_rise_is_over_his_travel_first(made: Tool, inch: bool) -> None:
    setup = of(made)
    first, *others = setups.rises(setup, inch=inch)
    assert 0 <= setup.travel_mm - first.travel_mm < 6.4
    assert all(one.travel_mm < first.travel_mm for one in others)
    for one in (first, *others):
        assert asin(one.rise_mm / one.travel_mm) == pytest.approx(radians(setup.half_deg))


@pytest.mark.parametrize("case", cases("morse_half_angle"), ids=str)
def test_rise_is_that_of_the_published_half_angle(case: Any) -> None:
    made = tool({"mount": {"kind": "morse draw-bar", "size": case.inputs["size"]}})
    published_mm = 50 * sin(radians(float(case.published)))
    (rise,) = (one for one in setups.rises(of(made), inch=False) if one.travel_mm == 50)
    assert rise.rise_mm == pytest.approx(published_mm, abs=50 * radians(0.00005))


def test_error_of_an_indicator_over_a_no_2_morse() -> None:
    """Worked by hand: 2 x 69 x 0.01 / 80."""
    assert setups.rises(of(tool()), inch=False)[0].wrong_mm == Printed("0.0173")


@every_taper
@both_units
def test_stacks_are_near_or_say_how_far_off(made: Tool, inch: bool) -> None:
    setup = of(made)
    for one in sine_bars(made, setup, inch=inch):
        assert one.unit == ("in" if inch else "mm")
        unit_mm = 25.4 if inch else 1.0
        assert sum(one.stack) * unit_mm == pytest.approx(one.stack_mm)
        bar_mm = made.parameters.workshop.sine_bar_mm
        assert one.height_mm == pytest.approx(bar_mm * sin(radians(one.angle_deg)))
        turned = asin(one.stack_mm / bar_mm) / (one.angle_deg / setup.half_deg)
        wrong_mm = 2 * setup.whole_mm * (tan(turned) - tan(radians(setup.half_deg)))
        assert one.wrong_mm == pytest.approx(wrong_mm, rel=0.01, abs=1e-5)


def test_88_blocks_hold_a_taper_nearer_than_47() -> None:
    made = tool()
    found = sine_bars(made, of(made), inch=False)
    by_set = {(one.set_name, round(one.angle_deg)): abs(one.wrong_mm) for one in found}
    assert by_set["88-piece", 3] < by_set["47-piece", 3] < 0.01


def test_compound_at_its_limit_is_proposed_and_below_it_not() -> None:
    needed = of(tool()).needed_mm
    assert needed == pytest.approx(69.0215 + LEAD_AND_RUN_OFF_MM, abs=1e-3)
    assert way({"workshop.compound_travel_mm": needed}) == "compound slide, one pass"
    assert way({"workshop.compound_travel_mm": needed - 0.01}) == "compound slide, two passes"


def test_two_passes_at_their_limit() -> None:
    """Two bites less the overlap are the taper: (69 + 5) / 2 + 6 along the flank."""
    least = (69 + setups.OVERLAP_MM) / 2 * of(tool()).needed_mm / 75
    bites = replace(of(tool()), travel_mm=0.0)
    assert bites.bites == 0
    limit = (69 + setups.OVERLAP_MM) / 2 / 0.99968826 + LEAD_AND_RUN_OFF_MM
    assert least < limit
    assert way({"workshop.compound_travel_mm": limit + 0.01}) == "compound slide, two passes"
    assert way({"workshop.compound_travel_mm": limit - 0.01}) == "blank-end arbor, bought"


def test_passes_overlap_and_reach_both_ends() -> None:
    setup = replace(of(tool()), travel_mm=50.0)
    bites = two_bites(setup)
    assert bites is not None
    assert bites.first_mm + bites.second_mm - setups.OVERLAP_MM == pytest.approx(setup.whole_mm)
    assert max(bites.first_mm, bites.second_mm) <= setup.bite_mm + 1e-9
    assert bites.saddle_mm == pytest.approx(setup.whole_mm - bites.second_mm)
    assert bites.radial_mm == pytest.approx(bites.saddle_mm * setup.rate / 2)
    assert -setup.stand_out_mm < bites.blend_mm < setup.length_mm
    assert two_bites(of(tool())) is None


def test_set_over_at_its_limit() -> None:
    short = {"workshop.compound_travel_mm": 30.0}
    kit = ["centres", "tailstock set-over"]
    made = tool({**short, "body.bevel_mm": 1.5, "workshop.kit": kit})
    over = set_over(made, of(made), inch=False)
    assert over is not None
    assert over.over_mm == pytest.approx(over.between_mm * sin(radians(of(made).half_deg)))
    assert over.between_mm > of(made).body_mm
    at = {**short, "body.bevel_mm": 1.5, "workshop.kit": kit}
    assert way({**at, "workshop.set_over_mm": over.over_mm}) == "tailstock set over"
    assert way({**at, "workshop.set_over_mm": over.over_mm - 0.01}) == "blank-end arbor, bought"
    assert way({**at, "workshop.kit": ["tailstock set-over"]}) == "blank-end arbor, bought"
    assert way({**at, "body.bevel_mm": 0.0}) == "blank-end arbor, bought"


def test_kit_and_machine_decide() -> None:
    assert way({"workshop.kit": ["taper attachment"]}) == "taper attachment"
    assert way({"workshop.machines": "cnc lathe"}) == "profile on the CNC lathe"
    made = tool()
    over = set_over(made, of(made), inch=False)
    found = methods(made.parameters.workshop, of(made), over, MM)
    assert sum(method.proposed for method in found) == 1
    assert all(method.why for method in found)


def test_straight_shank_has_no_taper() -> None:
    straight = {"kind": "straight", "diameter_mm": 20.0, "length_mm": 60.0}
    made = tool({"mount": straight})
    assert setups.taper_setup(made) is None
    shank = setups.shank_setup(made)
    assert shank is not None
    assert (shank.diameter_mm, shank.length_mm, shank.grip_mm) == (20.0, 60.0, 60.0)
    # a tailstock 0.01 off tilts a body of 84
    assert shank.wrong_mm == pytest.approx(2 * 0.01 * 60 / 84)
    assert setups.shank_setup(tool()) is None


def test_dials_count_in_their_own_unit() -> None:
    inch, metric = Dial("cross-slide", 0.0254, "diameter"), Dial("cross-slide", 0.02)
    assert (inch.unit, metric.unit) == ("in", "mm")
    assert inch.divisions(0.127) == pytest.approx(10)
    assert metric.divisions(0.127) == pytest.approx(6.35)
