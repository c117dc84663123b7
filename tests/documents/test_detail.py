from dataclasses import replace
from math import hypot

import pytest

from generator.documents.detail import MOST_RADIUS_MM, details
from generator.documents.drawing import Arc, Drawing, Line, Text
from generator.documents.layout import collisions
from generator.documents.part_notes import PartNotes
from generator.documents.part_sheet import part_sheet
from tests.documents.samples import (
    body_notes,
    button,
    header,
    morse_body,
    plug,
    plunger,
    plunger_notes,
    straight_body,
)

BODY = body_notes(morse_body())


@pytest.fixture(scope="module")
def sheet() -> Drawing:
    return part_sheet([BODY], header("Body"))


def texts(drawing: Drawing) -> list[str]:
    return [mark.text for mark in drawing.marks if isinstance(mark, Text)]


def test_mouths_of_a_body_are_shown_again_at_five_times_the_scale() -> None:
    rear, front = details(BODY, 1.0)
    assert (rear.letter, rear.scale, front.letter, front.scale) == ("X", 5.0, "Y", 5.0)
    assert front.surfaces == ("front recess", "front bevel")
    assert all(each.radius_mm * each.scale <= MOST_RADIUS_MM for each in (rear, front))


@pytest.mark.parametrize("scale", [0.5, 1.0, 2.0])
def test_a_detail_holds_its_surfaces_whole(scale: float) -> None:
    for notes in (BODY, plunger_notes(plunger())):
        for detail in details(notes, scale):
            z, r = detail.middle_mm
            for name in detail.surfaces:
                if not name.endswith(("point", "countersink")):
                    run = notes.part.outline.surface(name)
                    for corner in (run.start, run.end):
                        assert hypot(corner.z_mm - z, corner.r_mm - r) < detail.radius_mm


def test_large_parts_and_lone_features_need_no_detail() -> None:
    assert details(BODY, 5.0) == ()
    assert details(PartNotes(plug()), 1.0) == ()
    assert details(PartNotes(button(recess=5.0)), 1.0) == ()
    assert details(body_notes(straight_body()), 1.0) == ()


def test_tips_of_a_plunger_are_shown_again_at_full_size_only() -> None:
    notes = plunger_notes(plunger())
    assert [each.surfaces for each in details(notes, 1.0)] == [
        ("rear countersink", "rear chamfer"),
        ("front point",),
    ]
    assert details(notes, 2.0) == ()


def test_call_outs_stand_in_the_detail_and_nowhere_else(sheet: Drawing) -> None:
    written = texts(sheet)
    assert {"X (5:1)", "Y (5:1)", "X", "Y"} <= set(written)
    for text in ("recess Ø9.8 x 0.3", "bevel 60° to Ø9", "bevel 60° to Ø10.2"):
        assert written.count(text) == 1
    assert collisions(sheet) == ()


def test_a_detail_is_drawn_at_its_scale(sheet: Drawing) -> None:
    """The recess, 0.3 deep, is 1.5 long on paper; its circle is five times that in the view."""
    circles = sorted(
        (m for m in sheet.marks if isinstance(m, Arc) and m.style == "thin"),
        key=lambda m: m.radius_mm,
    )
    assert len(circles) == 4
    for small, large in zip(circles[:2], circles[2:], strict=True):
        assert large.radius_mm == pytest.approx(5 * small.radius_mm)
    for circle in circles[2:]:
        lengths = [
            hypot(m.end[0] - m.start[0], m.end[1] - m.start[1])
            for m in sheet.marks
            if isinstance(m, Line)
            and m.style == "outline"
            and hypot(m.start[0] - circle.centre[0], m.start[1] - circle.centre[1])
            <= circle.radius_mm + 1e-6
        ]
        assert any(length == pytest.approx(1.5) for length in lengths)


def test_third_angle_and_inches_keep_the_details_clean() -> None:
    notes = replace(BODY, unit="inch", tolerances={"bore": "H7 (+.0006/-.0000)"})
    head = replace(header("Body"), unit="inch", sheets="US", projection="third")
    sheet = part_sheet([notes], head)
    assert collisions(sheet) == ()
    assert (sheet.width_mm, sheet.unit) == (279.4, "inch")
    assert "recess Ø.386 x .012" in texts(sheet)


@pytest.mark.parametrize("diameter", [6.0, 12.0, 20.0])
def test_tips_of_a_long_plunger_are_called_out_in_their_details(diameter: float) -> None:
    slot = (70.0, 30.0, 0.3 * diameter, 0.2 * diameter)
    part = plunger(diameter=diameter, length=180.0, slot=slot)
    sheet = part_sheet([plunger_notes(part)], header("Plunger"))
    written = texts(sheet)
    assert sheet.scale == 1.0
    assert collisions(sheet) == ()
    for text in (f"60° to Ø{diameter - 1:g}", "0.3 x 45°", "flat Ø0.4"):
        assert written.count(text) == 1
