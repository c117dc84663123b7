"""Sheets of operations, their sketches, and the comparison of ways."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from math import isfinite
from typing import Any

import pytest
from hypothesis import given, settings

from generator.documents.drawing import Drawing, Fill, Line, Text
from generator.documents.layout import collisions
from generator.documents.part_state import LETTER_MM, sketch
from generator.documents.plan_papers import (
    enough_runout_mm,
    operation_sheets,
    plan_data,
    routes_section,
)
from generator.documents.unverified import unverified
from generator.errors import GeneratorError
from generator.making.bench import bench
from generator.making.body import body
from generator.making.plan import plan
from generator.making.routes import routes
from generator.model.part import CrossHole, Slot
from tests.making.plans import PROFILES, designed, with_workshop
from tests.strategies import silly_changes
from tests.tools import tool

MOST_HIGH_MM = 76.0
MOST_WIDE_MM = 175.0

every_profile = pytest.mark.parametrize("name", PROFILES)


def checked(operation: Any, *, inch: bool = False) -> None:
    """Assert that a sketch is clean and fits its sheet."""
    shown = sketch(operation, inch=inch)
    if shown is None:
        return
    assert shown.width_mm <= MOST_WIDE_MM
    assert shown.height_mm <= MOST_HIGH_MM
    page = Drawing("x", "x", shown.width_mm, shown.height_mm, 1.0, shown.marks, ())
    assert collisions(page) == (), operation.title
    letters = [mark for mark in shown.marks if isinstance(mark, Text)]
    assert all(letter.height_mm >= LETTER_MM for letter in letters)
    assert 1 <= len(letters) <= 6


@every_profile
@pytest.mark.parametrize("inch", [False, True])
def test_sketches_are_clean(name: str, inch: bool) -> None:
    for each in plan(designed(name)).operations:
        checked(each, inch=inch)


@every_profile
def test_sketches_of_every_way_are_clean(name: str) -> None:
    made = with_workshop(designed(name), machines="cnc lathe")
    for route in routes(made)[1:]:
        for each in body(made, bench(made), route):
            checked(each)


def test_what_is_cut_is_thick_and_what_comes_off_double_dashed() -> None:
    nose = next(e for e in plan(tool()).operations if e.title == "Nose, between centres")
    shown = sketch(nose)
    assert shown is not None
    thick = [m for m in shown.marks if isinstance(m, Line) and m.style == "cut"]
    assert len(thick) == 2 * 3  # chamfer, nose, and the step behind it, above and below
    assert any(isinstance(m, Line) and m.style == "phantom" for m in shown.marks)
    assert any(isinstance(m, Fill) and m.style == "warm" for m in shown.marks)


def test_the_headstock_is_to_the_left() -> None:
    found = plan(designed("mt2-drawbar-8")).operations
    faced = next(each for each in found if each.title == "Face and turn the nose end")
    shown = sketch(faced)
    assert shown is not None
    zero = next(m for m in shown.marks if isinstance(m, Text) and m.text == "0")
    jaws = [m for m in shown.marks if isinstance(m, Fill) and m.style == "light"]
    assert max(x for jaw in jaws for x, _ in jaw.points) < zero.at[0]


def test_slot_and_screw_hole_are_cut_from_the_top() -> None:
    found = plan(designed("mt2-drawbar-8")).operations
    kinds = {Slot: "slot", CrossHole: "screw hole"}
    for kind, feature in kinds.items():
        each = next(one for one in found if feature in one.features)
        assert each.after is not None
        assert any(isinstance(cut, kind) for cut in each.after.cuts)
        shown = sketch(each)
        assert shown is not None
        thick = [m for m in shown.marks if isinstance(m, Line) and m.style == "cut"]
        axis = next(m for m in shown.marks if isinstance(m, Line) and m.style == "centre")
        assert len(thick) in (2, 3)
        assert all(min(m.start[1], m.end[1]) > axis.start[1] for m in thick)


def test_nothing_is_sketched_at_the_saw_or_where_nothing_is_held() -> None:
    for each in plan(designed("mt2-drawbar-8")).operations:
        if each.station == "saw" or each.part == "assembly":
            assert sketch(each) is None


@every_profile
def test_sheets_follow_the_operations(name: str) -> None:
    made = designed(name)
    found = plan(made)
    sheets = operation_sheets(found, made)
    assert [sheet.number for sheet in sheets] == [str(each.number) for each in found.operations]
    for sheet, each in zip(sheets, found.operations, strict=True):
        lines = [line for line in sheet.steps if len(line) > 1]
        stops = [line for line in sheet.steps if len(line) == 1]
        assert [line[0] for line in lines] == [str(n) for n in range(1, len(each.steps) + 1)]
        assert all(len(line) == 6 for line in lines)
        assert all(line[0].startswith("STOP") for line in stops)
        assert len(stops) == sum(bool(step.stop) for step in each.steps)
        assert all("nan" not in cell for line in sheet.steps for cell in line)
        assert len(sheet.notes) == len(each.cautions) + len(each.instead)


def test_a_target_has_two_limits_as_numbers() -> None:
    made = designed("mt2-drawbar-8")
    cells = [
        line
        for sheet in operation_sheets(plan(made), made)
        for line in sheet.steps
        if len(line) > 1
    ]
    assert ("Ø8 (8 to 8.015)") in [line[5] for line in cells]
    assert any(line[3] == "450 rpm, by hand" for line in cells)


@given(silly_changes())
@settings(max_examples=40, deadline=None)
def test_however_silly_the_tool_its_sheets_are_written(changes: dict[str, Any]) -> None:
    try:
        made = tool(changes)
    except GeneratorError:
        return
    found = plan(made)
    assert len(operation_sheets(found, made)) == len(found.operations)


BARE = re.compile(r'(?<![\w.#/-])\d*\.\d+(?!["\d])(?! ?(?:of a turn|in/|div|coils|N\b|to \d|mm))')
"""A decimal that stands without the sign of an inch or another unit."""


@every_profile
@pytest.mark.parametrize("machines", ["lathe", "lathe and mill", "cnc lathe"])
def test_no_line_of_an_inch_sheet_holds_bare_millimetres(name: str, machines: str) -> None:
    made = with_workshop(designed(name), machines=machines)
    making = replace(made.parameters.making, units="inch")
    inch = replace(made, parameters=replace(made.parameters, making=making))
    for each in plan(inch).operations:
        for step in each.steps:
            for words in (step.do, step.dial, step.tool, step.stop, step.feed, each.holding):
                assert not BARE.search(words.replace("0.01 indicator", "")), words


def test_inch_sheets_are_in_inches() -> None:
    made = designed("mt2-drawbar-8")
    inch = replace(
        made,
        parameters=replace(made.parameters, making=replace(made.parameters.making, units="inch")),
    )
    cells = [
        line[5]
        for sheet in operation_sheets(plan(inch), inch)
        for line in sheet.steps
        if len(line) > 1
    ]
    assert 'Ø0.315" (0.315" to 0.3156")' in cells


def test_two_ways_stand_side_by_side_with_their_errors() -> None:
    made = designed("mt2-drawbar-8")
    section = routes_section(plan(made), made)
    side, others = section.tables
    assert [column.heading for column in side.columns][1].startswith("planned: outside from")
    rows = {row[0]: row[1:] for row in side.rows}
    assert rows["all at their greatest, mm"][0] == "0.01 / 0.02"
    assert rows["lacking"] == ("nothing", "nothing")
    assert len(others.rows) == len(plan(made).routes) - 2
    assert "good enough" in " ".join(section.lines)


def test_a_way_that_is_worse_than_assumed_is_told_with_the_run_out_to_set() -> None:
    made = with_workshop(designed("straight-16"), kit=("3-jaw chuck",))
    found = plan(made)
    words = " ".join(routes_section(found, made).lines)
    runout_mm = enough_runout_mm(found.routes[0])
    assert "WORSE THAN ASSUMED" in words
    assert f"{runout_mm:.3f}".rstrip("0") in words
    assert "spoiled" in words
    eased = replace(made.parameters.alignment, bore_mm=runout_mm / 2, bore_slope_mm=runout_mm)
    assert plan(replace(made, parameters=replace(made.parameters, alignment=eased))).good_enough


@every_profile
def test_the_data_are_plain(name: str) -> None:
    made = designed(name)
    data = plan_data(plan(made))
    assert json.loads(json.dumps(data))["routes"]
    for operation in data["operations"]:
        for step in operation["steps"]:
            sizes = [step[key] for key in ("set_mm", "low_mm", "high_mm")]
            assert all(map(isfinite, sizes)) is (step["measures"] is not None)


def test_cutting_data_from_memory_are_listed_as_unverified() -> None:
    made = tool()
    listed = {each.subject: each.text for each in unverified(made, ())}
    assert listed["cutting speed, free-cutting steel, turning, HSS"] == "speed 45.7 m/min"
    assert "cut as steel 11SMn30" in listed
    low = {each.subject for each in unverified(tool({"body.material": "steel C45"}), ())}
    assert not any("medium-carbon" in subject for subject in low)
