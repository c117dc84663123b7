"""The forms of a plunger's end: what is derived, what follows a tap, what makes no sense."""

from __future__ import annotations

from dataclasses import replace
from math import acos, pi, sqrt
from typing import Any

import pytest

from generator.checks.finding import Verdict
from generator.documents.bill import ball_text
from generator.errors import ProfileError
from generator.inputs.tables import BallTip, BlankTip
from generator.making.tip_setups import tip_setups
from generator.model.outline import Corner, Outline
from generator.model.part import SideFlat
from generator.use.seats import seats
from generator.use.windows import floors_N
from tests.tools import finding, parameters, tool


def test_a_blank_end_keeps_room_for_a_point() -> None:
    """Half of 8 over tan 30 is 6.93."""
    made = tool({"plunger.front": {"style": "blank"}})
    front = made.parameters.plunger.front
    assert isinstance(front, BlankTip)
    assert front.stock_mm == 7.0
    assert [o.name for o in made.orientations] == ["blank out", "countersink out"]
    assert made.orientations[1].inner.outer_mm == 7.0


def test_a_tap_that_a_blank_end_may_be_finished_for_is_not_refused() -> None:
    tap = {"taps": [{"standard": "ISO 529", "size": "M6", "end": "centre"}]}
    open_end, shut = (
        finding(tool({**tap, "plunger.front": {"style": style}}), "tap seats")
        for style in ("blank", "plain")
    )
    assert (open_end.verdict, shut.verdict) == (Verdict.WARN, Verdict.FAIL)
    assert open_end.remedy.endswith("or finish the blank end to suit the tap")


def test_the_rear_end_keeps_its_name_where_the_front_is_plain() -> None:
    (found,) = tip_setups(tool({"plunger.front": {"style": "plain"}}), inch=False)
    assert found.end == "rear"


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        (
            {"plunger.front": {"style": "blank"}, "plunger.rear": {"style": "blank"}},
            "plunger.rear.style: one blank end is enough to finish to suit",
        ),
        (
            {"plunger.front": {"style": "ball"}, "plunger.rear": {"style": "ball"}},
            "plunger.rear.style: one ball is enough",
        ),
        (
            {"plunger.front": {"style": "half centre", "relief_mm": 4.0}},
            "plunger.front.relief_mm: must be below half the plunger's diameter, 4, or nothing is",
        ),
        (
            {"plunger.front": {"style": "half centre"}, "button.recess_mm": 4.0},
            "button.recess_mm: the half centre at the plunger's front would tilt a button",
        ),
        (
            {"plunger.front": {"style": "plain"}, "plunger.rear": {"style": "plain"}},
            "one end must be a point or a countersink, or be left blank",
        ),
    ],
)
def test_ends_that_make_no_sense_together_are_refused(changes: dict[str, Any], told: str) -> None:
    with pytest.raises(ProfileError) as caught:
        parameters(changes)
    (problem,) = caught.value.problems
    assert told in problem


def test_a_ball_is_derived_with_its_seat() -> None:
    """Half of 8; in a right angle with a mouth of its own size it stands out by 4 / sqrt 2."""
    made = tool({"plunger.front": {"style": "ball"}})
    front = made.orientations[0].outer
    assert isinstance(front.tip, BallTip)
    assert (front.tip.ball_mm, front.tip.mouth_mm, front.tip.pilot_mm) == (4.0, 4.0, 1.5)
    assert front.stands_mm == pytest.approx(4 / sqrt(2))
    assert front.ball_circle_mm == pytest.approx(4 / sqrt(2))


def test_a_ball_on_an_inch_bar_is_an_inch_ball() -> None:
    made = tool({"plunger.front": {"style": "ball"}, "plunger.diameter_mm": 7.9375})
    assert made.ball is not None
    assert ball_text(made.ball) == "bearing ball 5/32 in, ISO 3290 G100"


def test_a_ball_is_a_whole_sphere() -> None:
    made = tool({"plunger.front": {"style": "ball"}})
    assert made.ball is not None
    assert made.ball.volume_mm3 == pytest.approx(4 / 3 * pi * 2**3, rel=1e-12)
    chords = replace(
        made.ball.outline,
        corners=tuple(replace(corner, arc_mm=0.0) for corner in made.ball.outline.corners),
    )
    assert chords.volume_mm3 == pytest.approx(made.ball.volume_mm3, rel=2e-3)


@pytest.mark.parametrize(
    ("size", "contact_mm", "angle_deg", "overlap_mm"),
    [
        ("M10", 2 * sqrt(3), 60.0, 4 - (6 - 4.2 * sqrt(3) / 2) - 2 * sqrt(2)),
        ("M6", 2.646, 97.18, 2 - sqrt(4 - 1.323**2) - 2 * sqrt(2)),
    ],
)
def test_a_ball_bears_on_the_flank_or_on_the_mouth_of_a_centre(
    size: str, contact_mm: float, angle_deg: float, overlap_mm: float
) -> None:
    """Mouths of 4.2 and 2.646; a ball of 4 would touch 60 degrees on a circle of 3.464."""
    taps = [{"standard": "ISO 529", "size": size, "end": "centre"}]
    (found,) = seats(tool({"plunger.front": {"style": "ball"}, "taps": taps}))
    assert found.contact_mm == pytest.approx(contact_mm)
    assert found.angle_deg == pytest.approx(angle_deg, abs=0.01)
    assert found.overlap_mm == pytest.approx(overlap_mm)
    assert found.serves


def test_a_ball_at_the_springs_stands_in_the_mouth_of_the_vent() -> None:
    """A ball of 4 sinks into a hole of 1.5 by 2 - sqrt(4 - 0.5625)."""
    changes = {"plunger.rear": {"style": "ball"}, "button.vent_mm": 1.5}
    made = tool(changes).orientations[0]
    sunk_mm = 2 - sqrt(4 - 0.75**2)
    assert made.seat_mm == pytest.approx(sunk_mm - 4 / sqrt(2) - 2.0)


def test_a_ball_weighs_what_its_maker_says() -> None:
    """A ball maker's table: 3810 balls of 4 mm to the kilogram."""
    made = tool({"plunger.front": {"style": "ball"}})
    assert made.ball is not None
    assert made.ball.mass_g == pytest.approx(1000 / 3810, rel=5e-3)


def test_a_half_centre_is_derived_past_its_tip_and_its_cone() -> None:
    """A tenth of 8; the cone of 6.58 and a quarter of 8, up to half a millimetre."""
    front = tool({"plunger.front": {"style": "half centre"}}).orientations[0].outer
    assert front.relief is not None
    assert (front.relief.relief_mm, front.relief_length_mm, front.outer_mm) == (0.8, 9.0, 9.0)
    assert front.point_mm == pytest.approx(3.8 * sqrt(3))


def test_a_half_centre_holds_least_toward_its_flat() -> None:
    """On a circle of 4.2 the arc ends 0.8 past the axis: 1.6 / 4.2 of a whole point's hold."""
    taps = {"taps": [{"standard": "ISO 529", "size": "M10", "end": "centre"}]}
    half, whole = (
        tool({**taps, "plunger.front": {"style": style}}) for style in ("half centre", "point")
    )
    ((found,), (full,)) = (tuple(seats(each)) for each in (half, whole))
    assert found.hold_share == pytest.approx(1.6 / 4.2)
    assert full.hold_share == 1.0
    for least, of_whole in zip(floors_N(half, found), floors_N(whole, full), strict=True):
        assert least == pytest.approx(of_whole * 4.2 / 1.6)


def test_a_small_circle_lies_whole_on_a_half_centre() -> None:
    front = tool({"plunger.front": {"style": "half centre"}}).orientations[0].outer
    assert front.hold_share(1.6) == 1.0
    assert front.hold_share(3.2) == 0.5


def test_a_side_flat_takes_a_segment_off_a_cylinder() -> None:
    """Radius 2, 1 from the axis: R^2 acos(1/2) - sqrt(3), over a length of 5."""
    bar = Outline((Corner(0, 2), Corner(9, 2), Corner(9, 0), Corner(0, 0)))
    segment_mm2 = 4 * acos(0.5) - sqrt(3)
    assert SideFlat("flat", 0, 5, 1).volume_mm3(bar) == pytest.approx(5 * segment_mm2)
    assert SideFlat("flat", 4, 5, 1).volume_mm3(bar) == pytest.approx(5 * segment_mm2)


def test_a_side_flat_reaches_a_cone_where_that_is_thick_enough() -> None:
    cone = Outline((Corner(4, 4), Corner(9, 4), Corner(9, 0), Corner(0, 0)))
    assert SideFlat("flat", 0, 6, 1).reach_mm(cone) == (1, 6)
