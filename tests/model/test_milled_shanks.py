"""Shanks of a milling spindle and for collet or chuck: shape, limits, flats, holders."""

from __future__ import annotations

from math import isclose

import pytest

from generator.formulas.taper import half_angle_deg
from generator.model import parts
from generator.model.holder import Holder, holder_of
from generator.model.milled import key_width, milled, over_flat
from generator.model.shank import Cylinder, Shank, shank_of
from generator.model.tool import Tool
from tests.cases import Case, Printed, cases
from tests.tools import tool

R8 = {"mount": {"kind": "r8"}, "body.nose_diameter_mm": 36.0, "plug.sunk_mm": 17.0}
STRAIGHT = {
    "mount": {"kind": "straight", "diameter_mm": 20.0, "length_mm": 62.0},
    "plug.thread": "M10",
}


def shank(made: Tool) -> Shank:
    return shank_of(made.parameters.mount)


def behind(made: Tool) -> Cylinder:
    found = shank(made).cylinder
    assert found is not None
    return found


def holder(diameter_mm: float, name: str, **keys: str) -> Holder:
    changes = {"mount.diameter_mm": diameter_mm, "mount.holder": name}
    found = holder_of(tool({**STRAIGHT, **changes, **keys}).parameters.mount)
    assert found is not None
    return found


@pytest.mark.parametrize("case", cases("r8_inches"), ids=str)
def test_r8_is_the_published_one(case: Case) -> None:
    made = tool(R8)
    cone, limits = shank(made).taper, behind(made).limits
    assert cone is not None
    assert limits is not None
    most_mm = limits.nominal_mm + limits.upper_um / 1000
    found = {
        "body_greatest_mm": most_mm,
        "body_least_mm": limits.nominal_mm + limits.lower_um / 1000,
        "large_diameter_mm": made.body.outline.radius_at_mm(
            made.body.outline.plane_mm("gauge plane"), inside=False
        )
        * 2,
        "overall_mm": made.body.outline.length_mm - made.body.outline.plane_mm("gauge plane"),
    }
    if case.inputs["field"] in found:
        assert found[str(case.inputs["field"])] / 25.4 == case.published


def test_cone_of_an_r8_ends_in_its_parallel_body_without_a_step() -> None:
    made = tool(R8)
    outline = made.body.outline
    assert not outline.has("rear shoulder")
    assert outline.surface("taper").rear_mm == outline.surface("parallel body").front_mm
    cone = shank(made).taper
    assert cone is not None
    assert 2 * half_angle_deg(taper=cone.rate) == Printed("16.85")


def test_draw_bar_of_an_r8_is_inch_or_what_the_file_says() -> None:
    for thread, changes in (("7/16-20 UNF", {}), ("M12", {"mount.drawbar_thread": "M12"})):
        made = tool({**R8, **changes})
        assert made.parameters.plug is not None
        assert made.parameters.plug.thread == thread
        assert made.body.threads[0].designation == thread


def test_key_slot_of_an_r8_is_open_at_the_rear_or_left_out() -> None:
    made = tool(R8)
    cut, width = milled(made), key_width(made)
    assert cut is not None
    assert width is not None
    assert cut.open
    assert isclose(cut.rear_mm, made.body.outline.length_mm)
    assert width.nominal_mm / 25.4 == Printed("0.156")  # 5/32 in
    without = tool({**R8, "mount.key_slot": "none"})
    assert milled(without) is None
    assert without.body.volume_mm3 > made.body.volume_mm3


def test_rear_chamfer_stays_above_the_floor_of_a_slot_that_runs_out_through_it() -> None:
    made = tool({**R8, "body.edge_mm": 4.0})
    cut = milled(made)
    assert cut is not None
    assert made.body.outline.surface("rear chamfer").length_mm <= cut.depth_mm / 2


@pytest.mark.parametrize("case", cases("shank_flats"), ids=str)
def test_flats_are_those_of_the_standard_shank(case: Case) -> None:
    size_mm = float(case.inputs["diameter_mm"])
    changes = {"mount.diameter_mm": size_mm, "mount.flats": "one", "bore.diameter_mm": 2.0}
    made = tool({**STRAIGHT, **changes, "plunger.diameter_mm": 2.0, "plug.thread": "M4"})
    cut, over = milled(made), over_flat(made)
    assert cut is not None
    assert over is not None
    found = {
        "flat_mm": cut.length_mm,
        "middle_mm": parts.body_length_mm(made.parameters) - cut.front_mm - cut.length_mm / 2,
        "over_flat_mm": over.nominal_mm,
    }
    if case.inputs["field"] in found:
        assert found[str(case.inputs["field"])] == case.published


def test_flats_of_another_shank_are_in_proportion_and_in_the_middle_of_the_grip() -> None:
    made = tool({**STRAIGHT, "mount.diameter_mm": 22.0, "mount.flats": "two"})
    cut, over = milled(made), over_flat(made)
    assert cut is not None
    assert over is not None
    assert (cut.depth_mm, cut.length_mm, cut.both) == (2.0, 12.5, True)
    assert over.nominal_mm == pytest.approx(18.0)
    assert made.body.outline.length_mm - cut.front_mm - cut.length_mm / 2 == pytest.approx(33.0)


def test_shank_that_is_gripped_has_a_zone_up_to_50_mm() -> None:
    """h8 over 18 to 30: 0/-33 um (ISO 286-2)."""
    limits = behind(tool(STRAIGHT)).limits
    assert limits is not None
    assert (limits.zone, limits.lower_um, limits.upper_um) == ("h8", -33.0, 0.0)
    assert behind(tool({**STRAIGHT, "mount.diameter_mm": 60.0})).limits is None


@pytest.mark.parametrize(
    ("shank_mm", "collet_mm", "least_mm"),
    [(20.0, 20.0, 19.0), (19.05, 20.0, 19.0), (12.7, 13.0, 12.0), (2.4, 2.5, 2.0)],
)
def test_collet_is_the_next_metric_one_above(
    shank_mm: float, collet_mm: float, least_mm: float
) -> None:
    found = holder(shank_mm, "ER32")
    assert found.collet_mm == pytest.approx(collet_mm)
    assert found.collet_mm - found.closes_mm == pytest.approx(least_mm)


def test_run_out_grows_with_the_length_beyond_where_it_is_measured() -> None:
    """ISO 15488, over 18 to 26 mm: class 2 runs out 0.020 at 50 mm."""
    found = holder(20.0, "ER32")
    assert (found.runout_mm, found.overhang_mm) == (0.02, 50.0)
    assert found.off_mm(25.0) == found.off_mm(50.0) == pytest.approx(0.01)
    assert found.off_mm(100.0) == pytest.approx(0.02)
    assert holder(20.0, "ER32", **{"mount.holder_runs": "good"}).runout_mm == 0.015


def test_holder_stands_in_the_budget_of_errors() -> None:
    free = tool(STRAIGHT).parameters.alignment.seat_mm
    held = {
        name: tool({**STRAIGHT, "mount.holder": name}) for name in ("ER32", "drill chuck 16 mm")
    }
    collet, chuck = (made.parameters.alignment.seat_mm for made in held.values())
    assert free == 0.05
    assert collet < free < chuck
    made = held["ER32"]
    long_mm = (
        2.0 + made.parameters.body.nose_length_mm + made.orientations[0].projection_extended_mm
    )
    assert collet == pytest.approx(0.01 * max(1.0, long_mm / 50.0), abs=0.001)


def test_a_worn_holder_is_told_by_its_seat() -> None:
    made = tool({**STRAIGHT, "mount.holder": "ER32", "alignment.seat_mm": 0.2})
    assert made.parameters.alignment.seat_mm == 0.2
