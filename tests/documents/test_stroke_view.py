"""The table of a stroke tells every position between its corners; the layers hold every part."""

from __future__ import annotations

import json
from bisect import bisect_left
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generator.documents.drawing import Line
from generator.documents.spring_view import knots, place_mm
from generator.documents.stroke_section import stroke_section
from generator.documents.stroke_view import StrokeView, Way, legend, stroke_view
from generator.errors import ProfileError
from generator.export.html_stage import stage_data, stage_html
from generator.inputs.profile import read_profile
from generator.model.instances import standing
from generator.model.tool import Tool, design
from generator.use.windows import windows
from tests.strategies import near_changes, silly_changes
from tests.tools import plug_of, tool

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))


def made(changes: dict[str, Any]) -> Tool:
    try:
        return tool(changes)
    except ProfileError:
        assume(False)
        raise


def view_of(one: Tool) -> StrokeView:
    view = stroke_view(one)
    assert view is not None
    return view


def between(way: Way, pushed_mm: float) -> tuple[float, list[float], list[float]]:
    """Return force, places and lengths as the page does: evenly between two corners."""
    at_mm = [each.pushed_mm for each in way.positions]
    n = min(max(1, bisect_left(at_mm, pushed_mm)), len(at_mm) - 1)
    a, b = way.positions[n - 1 : n + 1]
    share = (pushed_mm - a.pushed_mm) / (b.pushed_mm - a.pushed_mm)

    def mean(x: float, y: float) -> float:
        return x + share * (y - x)

    return (
        mean(a.force_N, b.force_N),
        [mean(x, y) for x, y in zip(a.places_mm, b.places_mm, strict=True)],
        [mean(x, y) for x, y in zip(a.lengths_mm, b.lengths_mm, strict=True)],
    )


def holds_between_corners(one: Tool, share: float) -> None:
    view = stroke_view(one)
    moving = {o.key: o for o in one.orientations if o.travel_mm > 1e-9}
    if view is None:
        assert not moving
        return
    assert [way.key for way in view.ways] == list(moving)
    for way in view.ways:
        o = moving[way.key]
        pushed_mm = share * o.travel_mm
        force_N, places_mm, lengths_mm = between(way, pushed_mm)
        placed = standing(one, o, travel_mm=pushed_mm)
        springs = [each for each in placed if each.part.name.startswith("spring")]
        assert places_mm == pytest.approx([each.origin_mm[2] for each in placed], abs=1e-6)
        assert lengths_mm == pytest.approx(
            [each.part.outline.length_mm for each in springs], abs=1e-6
        )
        assert force_N == pytest.approx(o.force_N(pushed_mm), rel=1e-6, abs=1e-6, nan_ok=True)


@given(silly_changes(), st.floats(0.01, 0.99))
def test_positions_between_corners_are_told_exactly(changes: dict[str, Any], share: float) -> None:
    holds_between_corners(made(changes), share)


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)
def test_positions_of_every_profile_are_told_exactly(path: Path) -> None:
    one = design(read_profile(path))
    for share in (0.1, 0.27, 0.5, 0.81):
        holds_between_corners(one, share)


def test_a_spring_that_goes_solid_on_the_way_is_told_up_to_there() -> None:
    base = tool()
    o = base.orientations[0]
    middle_mm = (o.room_extended_mm + o.room_compressed_mm) / 2
    coils = middle_mm / 0.8 - 2
    one = tool({"springs.0.active_coils": coils, "springs.0.free_mm": 40.0})
    way = view_of(one).ways[0]
    out, solid, home = way.positions
    assert solid.pushed_mm == pytest.approx(o.travel_mm / 2, abs=1e-6)
    assert solid.force_N == pytest.approx(one.curve.end_force_N)
    assert out.force_N < solid.force_N
    assert home.force_N != home.force_N


def test_no_stroke_no_view() -> None:
    one = tool({"slot.length_mm": 2.5})
    assert all(o.travel_mm <= 0 for o in one.orientations)
    assert stroke_view(one) is None
    with pytest.raises(ValueError, match="no stroke"):
        stroke_section(one)


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)
def test_what_the_page_needs_is_there(path: Path) -> None:
    one = design(read_profile(path))
    view, section = view_of(one), stroke_section(one)
    names = {body.name for body in view.bodies}
    moving = {layer.body for layer in section.layers if layer.body}
    still = {"body", "plug", "plug 2", "disc", "nose bush", "set screw", "jam screw", "cross pin"}
    assert moving == names - still - {"tip", "ball"}
    assert {part for part, _, _ in legend(view)} >= {"body", "plunger", one.abutment.name, "spring"}
    assert [tap.tap for tap in view.taps] == [each.name for each in windows(one)]
    for tap, window in zip(view.taps, windows(one), strict=True):
        key = "as_drawn" if window.orientation.tip else window.orientation.key
        assert view.ways[tap.way].key == key
    left, bottom, right, top = section.box
    for layer in section.layers:
        for mark in layer.marks:
            if layer.kind == "still" and isinstance(mark, Line):
                for x, y in (mark.start, mark.end):
                    assert left <= x <= right
                    assert bottom <= y <= top


@given(near_changes())
def test_any_tool_makes_a_page(changes: dict[str, Any]) -> None:
    """Even a tool that no check lets pass is shown where the user insists on it."""
    one = made(changes)
    assume(plug_of(one.parameters).drive_depth_mm < plug_of(one.parameters).length_mm)
    view = stroke_view(one)
    if view is not None:
        section = stroke_section(one)
        json.dumps(stage_data(view, section, inches=False), allow_nan=False)
        assert "nan" not in stage_html("At work", view, section)


@given(near_changes(), st.floats(5, 40), st.floats(0, 1))
def test_the_wire_is_where_the_section_draws_it(
    changes: dict[str, Any], length_mm: float, share: float
) -> None:
    for one in made(changes).in_place:
        found = knots(one.spring)
        turn = share * one.spring.total_coils
        places = [(at, rise + whole * length_mm) for at, rise, whole in found]
        (t0, z0), (t1, z1) = next(
            (a, b) for a, b in pairwise(places) if a[0] <= turn <= b[0] and b[0] > a[0]
        )
        expected = z0 + (z1 - z0) * (turn - t0) / (t1 - t0)
        assert place_mm(one.spring, length_mm, turn) == pytest.approx(expected, abs=1e-9)
