"""Outlines: closed, without naught-long runs, never crossing themselves; volumes by integration."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given, settings

from generator.checks.finding import Verdict, worst
from generator.checks.run import run_checks
from generator.errors import ProfileError
from generator.inputs.profile import read_profile
from generator.model.outline import Corner, Outline, Segment
from generator.model.part import (
    CrossHole,
    DriverSlot,
    HexSocket,
    Part,
    Slot,
    mean_strip_area_mm2,
    over_disc,
    strip_area_mm2,
)
from generator.model.tool import Tool, design
from tests.strategies import near_changes, silly_changes
from tests.tools import tool

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
SLICES = 201


def every_part(made: Tool) -> list[Part]:
    return list(made.solid_parts)


def side(start: Corner, end: Corner, point: Corner) -> float:
    return (end.z_mm - start.z_mm) * (point.r_mm - start.r_mm) - (end.r_mm - start.r_mm) * (
        point.z_mm - start.z_mm
    )


def cross(one: Segment, other: Segment) -> bool:
    """Tell whether two runs cross inside both."""
    return (
        side(one.start, one.end, other.start) * side(one.start, one.end, other.end) < -1e-12
        and side(other.start, other.end, one.start) * side(other.start, other.end, one.end) < -1e-12
    )


def assert_sound(part: Part) -> None:
    outline = part.outline
    segments = list(outline.segments())
    assert [s.start for s in segments[1:]] == [s.end for s in segments[:-1]]
    assert segments[0].start == segments[-1].end
    assert outline.shortest_mm > 1e-6
    assert all(corner.r_mm >= 0 for corner in outline.corners)
    assert min(corner.z_mm for corner in outline.corners) == 0
    assert not any(cross(one, other) for one, other in combinations(segments, 2))
    signed = sum((s.end.z_mm - s.start.z_mm) * (s.start.r_mm + s.end.r_mm) / 2 for s in segments)
    assert signed > 0, "corners run clockwise, z to the right and r upward"


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_outlines_of_the_shipped_tools_are_sound(path: Path) -> None:
    made = design(read_profile(path))
    if worst(run_checks(made)) is Verdict.FAIL:
        assert path.stem.startswith("refused")
        return
    for part in every_part(made):
        assert_sound(part)


@settings(max_examples=200)
@given(near_changes() | silly_changes(most=3))
def test_outlines_of_every_tool_that_may_be_made_are_sound(changes: dict[str, object]) -> None:
    try:
        made = tool(changes)
    except ProfileError:
        assume(False)
        raise
    if worst(run_checks(made)) is Verdict.FAIL:
        return
    for part in every_part(made):
        assert_sound(part)
        assert 0 < part.volume_mm3 < part.outline.volume_mm3 + 1e-9


def sliced_mm3(outline: Outline) -> float:
    """Return the volume by slicing: pi times outside squared less bore squared, over the length."""
    edges = sorted({corner.z_mm for corner in outline.corners})
    total = 0.0
    for front, rear in pairwise(edges):
        z = np.linspace(front + 1e-9, rear - 1e-9, SLICES)
        area = [
            outline.radius_at_mm(at, inside=False) ** 2 - outline.radius_at_mm(at, inside=True) ** 2
            if outline.radius_at_mm(at, inside=True) != outline.radius_at_mm(at, inside=False)
            else outline.radius_at_mm(at, inside=False) ** 2
            for at in z
        ]
        total += math.pi * float(np.trapezoid(area, z))
    return total


def test_volume_of_the_worked_parts_is_that_of_their_slices() -> None:
    for part in every_part(tool({"body.bevel_mm": 1.5, "body.recess_mm": 0.3})):
        assert part.outline.volume_mm3 == pytest.approx(sliced_mm3(part.outline), rel=1e-4)


def test_volume_of_a_frustum_is_the_printed_formula() -> None:
    """V = pi h (R^2 + R r + r^2) / 3, any collection of formulas; here 3, 1 and 6."""
    frustum = Outline((Corner(0, 0), Corner(0, 3), Corner(6, 1), Corner(6, 0)))
    assert frustum.volume_mm3 == pytest.approx(math.pi * 6 * 13 / 3)


TUBE = Outline((Corner(0, 10), Corner(30, 10, "outside"), Corner(30, 4), Corner(0, 4, "bore")))
BAR = Outline((Corner(0, 4), Corner(40, 4, "outside"), Corner(40, 0), Corner(0, 0, "axis")))
CHAMFERED = Outline(
    (
        Corner(0, 4),
        Corner(1, 5, "front chamfer"),
        Corner(7, 5, "thread"),
        Corner(8, 4, "rear chamfer"),
        Corner(8, 1),
        Corner(0, 1, "vent"),
    )
)


def disc_height(radius: float, height: object) -> float:
    """Integrate a height h(x, y) over a disc on a fine grid of midpoints."""
    n = 1201
    at = (np.arange(n) + 0.5) / n * 2 * radius - radius
    x, y = np.meshgrid(at, at)
    inside = x**2 + y**2 <= radius**2
    step = 2 * radius / n
    return float((height(x, y) * inside).sum() * step**2)  # type: ignore[operator]  # a function


def test_cross_hole_takes_out_the_wall_between_bore_and_outside() -> None:
    hole = CrossHole("screw hole", 12, 3.3, "M4")
    expected = disc_height(1.65, lambda x, y: np.sqrt(100 - y**2) - np.sqrt(16 - y**2))
    assert hole.volume_mm3(TUBE) == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(("length", "width", "depth"), [(14.5, 3, 1.6), (3, 3, 1.2), (20, 5, 3)])
def test_slot_takes_out_its_floor_to_the_round_outside(
    length: float, width: float, depth: float
) -> None:
    """Slices across the axis: for every z the cutter's half width, for every y the metal above."""
    slot, half, floor = Slot("slot", 5, length, width, depth), width / 2, 4 - depth
    z = np.linspace(0, length, 6001)
    nearest = np.minimum(np.minimum(z, length - z), half)
    reach = np.sqrt(np.maximum(half**2 - (half - nearest) ** 2, 0))
    area = 2 * (reach * np.sqrt(16 - reach**2) / 2 + 8 * np.arcsin(reach / 4) - reach * floor)
    expected = float(np.trapezoid(area, z))
    assert slot.volume_mm3(BAR) == pytest.approx(expected, rel=1e-4)


def test_two_flats_take_out_a_segment_on_either_side() -> None:
    """A flat of 1.8 in a bar of 20: a segment of radius 10, 8.2 from the axis."""
    bar = Outline((Corner(0, 10), Corner(40, 10, "outside"), Corner(40, 0), Corner(0, 0, "axis")))
    half = math.acos(0.82)
    segment = 100 * (half - math.sin(2 * half) / 2)
    one = Slot("flat", 5, 11, 11.4473, 1.8, square=True)
    assert one.volume_mm3(bar) == pytest.approx(11 * segment)
    assert replace(one, both=True).volume_mm3(bar) == pytest.approx(22 * segment)


@pytest.mark.parametrize("depth", [1.5, 2.4])
def test_slot_open_at_the_rear_runs_out_through_the_chamfer(depth: float) -> None:
    """Slices across the axis, from the round end to the rear face behind a chamfer of 1."""
    bar = Outline(
        (
            Corner(0, 12),
            Corner(29, 12, "outside"),
            Corner(30, 11, "rear chamfer"),
            Corner(30, 0),
            Corner(0, 0, "axis"),
        )
    )
    slot, floor = Slot("key slot", 10, 20, 4, depth, open=True), 12 - depth
    z = np.linspace(10, 30, 8001)
    reach = np.sqrt(np.maximum(4 - (2 - np.minimum(z - 10, 2)) ** 2, 0))
    radius = np.where(z < 29, 12.0, 12.0 - (z - 29))
    strip = reach * np.sqrt(radius**2 - reach**2) + radius**2 * np.arcsin(reach / radius)
    expected = float(np.trapezoid(strip - 2 * reach * floor, z))
    assert slot.volume_mm3(bar) == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize("width", [1.5, 3.0])
def test_driver_slot_takes_out_a_strip_through_chamfer_and_hole(width: float) -> None:
    slot = DriverSlot("driver", width, 2.5)
    y = np.linspace(-width / 2, width / 2, 4001)

    def strip(radius: float) -> float:
        chords = 2 * np.sqrt(np.maximum(radius**2 - y**2, 0))
        return float(np.trapezoid(chords, y))

    z = np.linspace(5.5, 8, 2001)
    outside = np.where(z < 7, 5.0, 5.0 - (z - 7))
    area = [strip(float(radius)) - strip(1.0) for radius in outside]
    assert slot.volume_mm3(CHAMFERED) == pytest.approx(float(np.trapezoid(area, z)), rel=1e-4)


def test_hexagon_socket_takes_out_the_hexagon_around_the_hole() -> None:
    """A hexagon of width s has the area 0.866 s^2."""
    socket = HexSocket("driver", 5, 3)
    assert socket.volume_mm3(CHAMFERED) == pytest.approx(3 * (0.8660254 * 25 - math.pi), rel=1e-6)


def test_part_is_its_outline_less_its_cuts() -> None:
    body = tool().body
    assert replace(body, cuts=()).volume_mm3 == body.outline.volume_mm3
    taken = sum(cut.volume_mm3(body.outline) for cut in body.cuts)
    assert body.volume_mm3 == pytest.approx(body.outline.volume_mm3 - taken)
    assert body.mass_g == pytest.approx(body.volume_mm3 * body.density_g_per_cm3 / 1000)


def test_area_of_a_strip_of_half_the_radius() -> None:
    """Strip of half width 1/2 in the unit circle: sqrt(3)/2 + pi/3."""
    assert strip_area_mm2(1.0, 0.5) == pytest.approx(math.sqrt(3) / 2 + math.pi / 3)
    mean = np.mean([strip_area_mm2(float(r), 0.5) for r in np.linspace(0.7, 1.3, 20001)])
    assert mean_strip_area_mm2(0.7, 1.3, 0.5) == pytest.approx(float(mean), rel=1e-6)


def test_quadrature_over_a_disc_is_exact_for_a_ball() -> None:
    """Half a ball of radius 2: 2/3 pi 8."""
    assert over_disc(2.0, lambda y: 1.0) == pytest.approx(math.pi * 4)
    steinmetz = over_disc(2.0, lambda y: 2 * math.sqrt(4 - y**2))
    assert steinmetz == pytest.approx(16 / 3 * 8), "two crossed cylinders: 16/3 r^3"


def test_surfaces_and_planes_are_found_by_name() -> None:
    outline = tool().body.outline
    assert outline.surface("nose").diameter_mm == 20
    assert outline.has("taper")
    assert not outline.has("keyway")
    assert outline.plane_mm("gauge plane") == pytest.approx(29)
    with pytest.raises(KeyError):
        outline.surface("keyway")
    with pytest.raises(KeyError):
        outline.plane_mm("nowhere")
    with pytest.raises(ValueError, match="z_mm"):
        outline.radius_at_mm(200, inside=True)


def test_a_sharp_rear_point_and_a_mouth_that_meets_the_chamfer_keep_their_names() -> None:
    sharp = tool({"plunger.rear": {"style": "point", "flat_mm": 0.0}}).plunger.outline
    assert sharp.surface("rear point").small_diameter_mm == 0
    met = {"style": "countersink", "mouth_mm": 7.0, "chamfer_mm": 0.5}
    outline = tool({"plunger.front": met}).plunger.outline
    assert outline.surface("front countersink").diameter_mm == 7
    assert outline.shortest_mm > 0
