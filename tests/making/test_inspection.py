"""The inspection sheets: every line has sound limits, and the readings are those of the parts."""

from __future__ import annotations

import tomllib
from math import cos, isfinite, radians, tan
from pathlib import Path

import pytest
from hypothesis import assume, given, settings

from generator.documents.inspection_papers import figure, inspection_data, inspection_sections
from generator.documents.measured_template import measured_template
from generator.documents.table import TICK
from generator.documents.text import width_mm
from generator.errors import GeneratorError
from generator.inputs.measured import Measured, measurable, measured_from
from generator.inputs.profile import read_profile
from generator.making.inspect_body import rollers
from generator.making.inspect_plunger import ball_for_mm, holes_for_mm, pin_for_mm
from generator.making.inspection import grams, inspection
from generator.making.line import Line, reading
from generator.making.sizes import sizes
from generator.model.shank import shank_of
from generator.model.tool import Tool, design
from generator.use.bands import Span
from tests.cases import Printed
from tests.strategies import near_changes, silly_changes
from tests.tools import REMOVED, parameters, tool

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
STRAIGHT = {"mount": {"kind": "straight", "diameter_mm": 16, "length_mm": 70}}
every_profile = pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)


def line(tool: Tool, part: str, what: str) -> Line:
    (sheet,) = (each for each in inspection(tool) if each.part == part)
    (found,) = (each for each in sheet.lines if each.what == what)
    return found


def ordered(span: Span) -> bool:
    """A fit may lie wholly on one side of its nominal size; nothing else may."""
    return span.least - 1e-9 <= span.nominal <= span.greatest + 1e-9


@every_profile
def test_every_size_of_the_file_stands_once_on_the_sheets(path: Path) -> None:
    made = design(read_profile(path))
    keys = [each.key for sheet in inspection(made) for each in sheet.lines if each.key]
    single = [key for key in keys if "." not in key]
    wanted = set(measurable(made.parameters))
    if shank_of(made.parameters.mount).taper is None and not made.body.outline.has("shoulder"):
        wanted -= {"nose_length_mm"}
    assert sorted(single) == sorted(wanted)
    assert sum(key.startswith("springs[") for key in keys) == 4 * len(made.in_place)


@every_profile
def test_limits_and_readings_are_in_order(path: Path) -> None:
    for sheet in inspection(design(read_profile(path))):
        for each in sheet.lines:
            assert each.how
            fitted = each.key in ("bore_mm", "plunger_mm")
            assert each.judged or fitted or (ordered(each.limits) and ordered(each.reads)), each
            assert each.judged or each.limits.least < each.limits.greatest, each


@settings(deadline=None, derandomize=True, max_examples=60)
@given(silly_changes())
def test_any_tool_that_can_be_designed_can_be_inspected(changes: dict[str, object]) -> None:
    try:
        made = design(parameters(changes))
    except GeneratorError:
        assume(False)
    for sheet in inspection(made):
        for each in sheet.lines:
            assert (
                each.judged
                or all(isfinite(value) for value in (each.limits.least, each.limits.greatest))
                or "force" in each.what
            )


def test_limits_are_those_of_fit_standard_and_sheet() -> None:
    worked = tool()
    spans = {size.key: size.limits for size in sizes(worked)}
    assert (spans["bore_mm"].least, spans["bore_mm"].greatest) == pytest.approx((8.0, 8.015))
    assert (spans["plunger_mm"].least, spans["plunger_mm"].greatest) == pytest.approx((7.978, 8))
    assert (spans["slot_depth_mm"].least, spans["slot_depth_mm"].greatest) == pytest.approx(
        (1.5, 1.7)
    )
    # ISO 2768-1 m: 0.2 over 6 to 30, 0.3 over 30 to 120
    assert spans["slot_length_mm"].greatest == pytest.approx(14.7)
    assert spans["plunger_length_mm"].least == pytest.approx(61.7)
    # ISO 4028 M4: dog 2.25 to 2.5, long dog 2.0 to 2.25
    assert (spans["screw_tip_mm"].least, spans["screw_tip_mm"].greatest) == (2.25, 2.5)
    assert (spans["screw_tip_length_mm"].least, spans["screw_tip_length_mm"].greatest) == (2, 2.25)
    fine = {
        size.key: size.limits for size in sizes(tool({"making.general_tolerance": "ISO 2768-f"}))
    }
    assert fine["slot_length_mm"].greatest == pytest.approx(14.6)


def test_rollers_read_the_taper() -> None:
    """Two readings, the blocks apart: their difference is the taper per length times that."""
    worked = tool()
    setup = rollers(worked)
    assert setup is not None
    low, high = (line(worked, "body", f"taper, {name}").reads for name in ("low down", "high up"))
    apart = setup.high_mm - setup.low_mm
    assert (high.nominal - low.nominal) / apart * 12 == Printed("0.59941")
    angle = line(worked, "body", "taper, half angle")
    assert angle.reads.nominal == pytest.approx(high.nominal - low.nominal)
    assert angle.limits.nominal == Printed("1.4307")
    assert angle.limits.greatest - angle.limits.least == pytest.approx(0.009, abs=0.001)
    at_axes = low.nominal - setup.roller_mm * (1 + 1 / cos(radians(1.4307)))
    z = worked.body.outline.length_mm - setup.low_mm - setup.roller_mm / 2
    assert at_axes == pytest.approx(2 * worked.body.outline.radius_at_mm(z, inside=False), abs=1e-5)


@every_profile
def test_rollers_touch_the_taper_and_stay_under_the_nose(path: Path) -> None:
    made = design(read_profile(path))
    setup = rollers(made)
    outline = made.body.outline
    assert (setup is None) == (not outline.has("taper"))
    if setup is None:
        return
    taper, length = outline.surface("taper"), outline.length_mm
    for blocks in (setup.low_mm, setup.high_mm):
        touches = length - blocks - setup.roller_mm / 2
        assert taper.front_mm < touches + setup.roller_mm / 2
        assert taper.front_mm < touches < taper.rear_mm
    assert setup.high_mm + setup.roller_mm < length - taper.front_mm


def test_the_ball_touches_within_the_cone_or_there_is_none() -> None:
    worked = tool({"plunger.rear.mouth_mm": 5.0})
    mouth = line(worked, "plunger", "mouth of the rear end")
    ball = float(mouth.how.split()[2])
    assert mouth.reads.nominal == pytest.approx(1.5 * ball - 3**0.5 / 2 * 5)
    assert mouth.reads.least == pytest.approx(1.5 * ball - 3**0.5 / 2 * mouth.limits.greatest)
    assert 2.0 < ball * cos(radians(30)) < 5.0
    narrow = tool({"plunger.rear.mouth_mm": 3.0, "plunger.rear.pilot_mm": 2.8})
    how = line(narrow, "plunger", "mouth of the rear end")
    assert "no usual ball" in how.how
    assert how.reads == how.limits


def test_a_ball_that_reaches_the_bottom_is_not_taken() -> None:
    shallow = tool({"plunger.rear.pilot_depth_mm": 0.0, "plunger.rear.pilot_mm": 0.3})
    tip, (_, end) = shallow.parameters.plunger.rear, _ends(shallow)
    ball = ball_for_mm(tip, end, Span(6.8, 7.0, 7.2), Span(59.0, 60.0, 61.0))  # type: ignore[arg-type]  # a countersink
    assert ball is not None
    apex = 7.0 / 2 / tan(radians(30))
    assert apex - ball > 0 or ball < 7


def _ends(tool: Tool):  # type: ignore[no-untyped-def]  # a pair of ends
    from generator.model.parts import plunger_ends

    return plunger_ends(tool.parameters)


def test_pins_and_holes_fit_what_they_gauge() -> None:
    assert pin_for_mm(2.9) == 2.8
    assert pin_for_mm(0.1) <= 0
    for diameter, flat in ((8, 0.4), (3, 0.2), (1.2, 0.4), (5, 4.8)):
        large, small = holes_for_mm(diameter, flat)
        assert flat < small < large < diameter


def test_a_shallow_slot_is_gauged_by_a_pin_a_deep_one_by_a_rod() -> None:
    by_pin = line(tool(), "plunger", "slot depth")
    assert "pin" in by_pin.how
    assert by_pin.reads.nominal == pytest.approx(2.8 - 1.6)
    deep = line(tool({"slot.depth_mm": 2.9}), "plunger", "slot depth")
    assert "depth gauge" in deep.how
    assert deep.reads.nominal == pytest.approx(2.9 - (8 - 55**0.5) / 2)


def test_forces_are_on_the_scale_in_grams() -> None:
    worked = tool()
    o = worked.orientations[0]
    near = line(worked, "assembly", "point out: force 1 mm before the forward stop")
    home = line(worked, "assembly", "point out: force 1 mm before it is home")
    assert near.limits.nominal == pytest.approx(o.preload_N + worked.rate_N_per_mm)
    assert home.limits.nominal == pytest.approx(o.full_force_N - worked.rate_N_per_mm)
    assert near.reads.nominal == pytest.approx(near.limits.nominal / 9.80665 * 1000)
    assert near.reads.greatest == pytest.approx(1.15 * near.reads.nominal)
    assert grams(9.80665) == pytest.approx(1000)


def test_a_reading_has_the_extremes_of_all_its_sizes() -> None:
    span = reading(lambda a, b: a - b, a=Span(1, 2, 4), b=Span(0, 1, 3))
    assert span == Span(-2, 1, 4)


def test_lines_follow_the_tool() -> None:
    def whats(made: Tool, part: str) -> set[str]:
        return {each.what for s in inspection(made) if s.part == part for each in s.lines}

    assert "taper by bluing" in whats(tool(), "body")
    assert "taper by bluing" not in whats(tool(STRAIGHT), "body")
    assert "shank diameter" in whats(tool(STRAIGHT), "body")
    assert {s.part for s in inspection(tool({"button": REMOVED}))} == {
        *("body", "plunger", "plug", "bought", "assembly"),
    }
    plain = tool({"plunger.rear": {"style": "plain"}})
    assert not any("countersink out" in what for what in whats(plain, "assembly"))


@every_profile
def test_the_papers_hold_every_line_with_room_to_write(path: Path) -> None:
    made = design(read_profile(path))
    sections = inspection_sections(made)
    sheets = inspection(made)
    assert [len(s.tables[0].rows) for s in sections] == [len(s.lines) for s in sheets]
    for section in sections:
        for row in section.tables[0].rows:
            assert len(row) == len(section.tables[0].columns)
            assert row[-1] == TICK
            assert bool(row[-2]) == bool(row[1])
    assert "accepted" in " ".join(sections[-1].lines)
    width_mm(TICK, 3.0)  # the typeface has the box; else this raises


def test_the_data_are_plain_and_in_millimetres() -> None:
    data = inspection_data(tool({"making.units": "inch"}))
    (bore,) = (e for s in data for e in s["lines"] if e["key"] == "bore_mm")
    assert bore["greatest"] == pytest.approx(8.015)
    blue = next(e for s in data for e in s["lines"] if "bluing" in e["what"])
    assert blue["nominal"] is None


def test_inches_where_the_sheets_are_in_inches() -> None:
    (body, *_) = inspection_sections(tool({"making.units": "inch"}))
    bore = next(row for row in body.tables[0].rows if row[0] == "bore")
    assert bore[1:4] == ("0.315", "0.315", "0.3156")
    assert body.tables[0].columns[1].heading == "nominal, in"
    assert figure(1227.4, "g", "in") == "1227"


@every_profile
def test_the_empty_file_says_that_nothing_is_measured(path: Path) -> None:
    made = design(read_profile(path))
    text = measured_template(made)
    found = measured_from(tomllib.loads(text), made.parameters, "template")
    assert found == Measured(tool=made.name)
    assert all(len(each) <= 100 for each in text.splitlines())


@settings(deadline=None, derandomize=True, max_examples=15)
@given(near_changes())
def test_readings_stay_in_order_near_the_worked_tool(changes: dict[str, object]) -> None:
    try:
        made = tool(changes)
    except GeneratorError:
        assume(False)
    for sheet in inspection(made):
        sized = [each for each in sheet.lines if not each.judged and "force" not in each.what]
        assert all(ordered(each.reads) for each in sized)
