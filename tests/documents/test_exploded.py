from __future__ import annotations

from functools import cache
from itertools import pairwise
from math import dist, hypot, sqrt

import numpy as np
import pytest

from generator.documents.balloons import RADIUS_MM
from generator.documents.coil_picture import coil_of, coil_picture
from generator.documents.drawing import Arc, Curve, Drawing, Line, Text
from generator.documents.exploded import exploded_figure, exploded_view
from generator.documents.exploded_pieces import Piece, assembly_order, pieces
from generator.documents.exploded_sheet import exploded_sheet
from generator.documents.isometric import EYE, on_paper, picture, simplified, stretches, turn_of
from generator.documents.layout import Array, bounds, collisions
from generator.documents.part_edges import part_edges, ring
from generator.documents.parts_list import items
from generator.documents.sheet import inner_frame
from generator.documents.sight import Flags, Solid
from generator.documents.title_block import BLOCK_MM
from generator.export.dxf import write_drawing
from generator.model.assembly import Placed
from generator.model.outline import Corner, Outline
from generator.model.part import Part
from tests.cases import Case, cases
from tests.documents import samples
from tests.documents.test_assembly_sheet import NAMES, PROFILES, header, tool

MOST_BYTES = 200_000


@cache
def sheet(name: str) -> Drawing:
    return exploded_sheet(tool(name), header())


def texts(drawing: Drawing) -> list[Text]:
    return [mark for mark in drawing.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("case", cases("isometric_circle"), ids=str)
def test_a_circle_about_the_axis_is_the_ellipse_of_the_standard(case: Case) -> None:
    points = on_paper(ring(0.0, 0.5).at(np.linspace(0.0, 2 * np.pi, 3601)), 1.0)
    radii = np.hypot(*points.T)
    width = radii.max() if case.inputs["axis"] == "long" else radii.min()
    assert 2 * float(width) == case.published


def test_lengths_along_the_three_axes_are_true() -> None:
    """And the axes stand 120 degrees apart, which is what isometric means."""
    x, y, z = on_paper(np.eye(3), 2.0)
    assert [hypot(*way) for way in (x, y, z)] == pytest.approx([2.0] * 3)
    assert [x @ y, y @ z, z @ x] == pytest.approx([-2.0] * 3)
    assert y == pytest.approx([0.0, 2.0])


def test_a_plain_pin_shows_its_rear_face_two_contours_and_the_half_of_its_far_rim() -> None:
    pin = Outline((Corner(0, 0), Corner(0, 5), Corner(40, 5), Corner(40, 0)))
    placed = Placed("pin", Part("pin", "Pin", pin, "", 7.85), (0, 0, 0), "rear", (0, 0, 0))
    marks = list(picture(placed, None, 1.0))
    contours = [mark for mark in marks if isinstance(mark, Line)]
    full, half = sorted((m for m in marks if isinstance(m, Curve)), key=lambda m: -len(m.points))
    assert len(marks) == 4
    assert [dist(line.start, line.end) for line in contours] == pytest.approx([40.0, 40.0])
    apart = bounds([Line(contours[0].start, contours[1].start)])
    assert hypot(apart[2] - apart[0], apart[3] - apart[1]) == pytest.approx(10 * sqrt(1.5))
    assert dist(full.points[0], full.points[-1]) < 0.02
    assert dist(half.points[0], half.points[-1]) == pytest.approx(10 * sqrt(1.5), abs=0.02)


def test_curves_are_followed_within_a_fortieth_of_a_millimetre() -> None:
    """Half way along each chord of the rear rim, held against the ellipse itself."""
    placed = Placed("body", samples.morse_body(), (0, 0, 0), "rear", (0, 0, 0))
    solid = Solid(placed.part, EYE)
    for edge, start, end in stretches(list(part_edges(placed.part, EYE, None, 2.0)), solid, 2.0):
        if edge.bend_mm > 1:
            fine = on_paper(edge.at(np.linspace(start, end, 2000)), 2.0)
            drawn = [m for m in picture(placed, None, 2.0) if isinstance(m, Curve)]
            middles = np.array(
                [
                    ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                    for m in drawn
                    for a, b in pairwise(m.points)
                ]
            )
            off = np.linalg.norm(middles[:, None] - fine, axis=2).min(axis=1)
            assert np.sort(off)[: int((end - start) / 0.3)].max() < 0.025
            return


ENDS_WITHIN_MM = 0.04
"""How near the end of a visible stretch is found."""


def in_part(placed: Placed, points: Array) -> Array:
    return np.asarray((points - np.array(placed.origin_mm)) @ turn_of(placed).T)


def hides(piece: Piece, points: Array) -> Flags:
    """Tell which points of the tool a part drawn apart hides."""
    local = in_part(piece.placed, points)
    if piece.spring is not None:
        return coil_of(piece.spring, piece.spring.free_mm).hides(local)
    return Solid(piece.placed.part, turn_of(piece.placed) @ EYE).hides(local)


@pytest.mark.parametrize("name", [*PROFILES, "locked by screws", "no button"])
def test_from_all_that_is_drawn_the_way_to_the_eye_is_free(name: str) -> None:
    """Of its own part, drawn with small chamfers as corners, and of every other one."""
    row, screws = pieces(tool(name), 1.0)
    every = [*row, *screws]
    for piece in every:
        if piece.spring is not None:
            coil = coil_of(piece.spring, piece.spring.free_mm)
            points = coil.centres_mm + np.array(piece.placed.origin_mm)
            assert not any(hides(other, points).any() for other in every if other is not piece)
            continue
        turn = turn_of(piece.placed)
        solid = Solid(simplified(piece.placed.part, 0.7), turn @ EYE)
        found = stretches(list(part_edges(solid.part, solid.eye, None, 1.0)), solid, 1.0)
        for edge, start, end in found:
            middle = edge.at(np.linspace(start, end, 23)[1:-1])
            ends = edge.at(np.array([start, end]))
            off = np.linalg.norm(middle[:, None] - ends, axis=2).min(axis=1)
            middle = middle[off > ENDS_WITHIN_MM]
            assert not solid.hides(middle).any()
            points = middle @ turn + np.array(piece.placed.origin_mm)
            assert not any(hides(other, points).any() for other in every if other is not piece)


def test_what_is_left_out_is_hidden_or_cut_away() -> None:
    part = samples.plug()
    solid = Solid(part, EYE)
    edges = list(part_edges(part, EYE, None, 2.0))
    kept: dict[int, list[tuple[float, float]]] = {}
    for edge, start, end in stretches(edges, solid, 2.0):
        kept.setdefault(id(edge), []).append((start, end))
    for edge in edges:
        whole = edge.end - edge.start
        u = np.linspace(edge.start, edge.end, 199)
        near = 0.02 * whole
        drawn = [
            any(
                a - near <= t + k * whole <= b + near
                for a, b in kept.get(id(edge), [])
                for k in (0, 1)
            )
            for t in u
        ]
        points = edge.at(u)
        seen = ~solid.hides(points) & (edge.cut | ~solid.lacks(points))
        missed = seen & ~np.array(drawn)
        assert missed.sum() * whole / 199 * max(edge.bend_mm, 0.1) < 0.4


@pytest.mark.parametrize("name", NAMES)
def test_nothing_touches(name: str) -> None:
    assert collisions(sheet(name)) == ()


@pytest.mark.parametrize("name", NAMES)
def test_everything_is_within_the_frame_and_off_the_title_block(name: str) -> None:
    drawing = sheet(name)
    left, bottom, right, top = inner_frame({297.0: "A4", 420.0: "A3"}[drawing.width_mm])
    drawn = [m for m in drawing.marks if m.style in ("outline", "thin", "thread", "centre")]
    box = bounds(drawn)
    assert left <= box[0]
    assert bottom <= box[1]
    assert box[2] <= right
    assert box[3] <= top
    block = right - BLOCK_MM[0], bottom + BLOCK_MM[1]
    for mark in drawn:
        if isinstance(mark, Curve):
            assert not any(x > block[0] and y < block[1] for x, y in mark.points)


@pytest.mark.parametrize("name", NAMES)
def test_numbers_and_names_are_those_of_the_parts_list(name: str) -> None:
    drawing, made = sheet(name), tool(name)
    rings = [m for m in drawing.marks if isinstance(m, Arc) and m.radius_mm == RADIUS_MM]
    shown = {}
    for ring_ in rings:
        [number] = [t.text for t in texts(drawing) if dist(t.at, ring_.centre) < RADIUS_MM]
        [word] = [
            t.text
            for t in texts(drawing)
            if t.anchor == "right" and dist(t.at, ring_.centre) < 2 * RADIUS_MM
        ]
        shown[number] = word
    listed = items(made, made.orientations[0])
    assert shown == {
        str(i.number): i.name if i.quantity == 1 else f"{i.name}, {i.quantity} off" for i in listed
    }


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_goes_into_the_body_once(name: str) -> None:
    made = tool(name)
    order = assembly_order(made)
    for item in items(made, made.orientations[0]):
        assert order.count(str(item.number)) == (0 if item.name == "Body" else item.quantity)


def test_the_set_screw_follows_the_plunger_and_the_plug_closes_the_springs_in() -> None:
    def order(name: str) -> list[str]:
        names = {str(i.number): i.name for i in items(tool(name), tool(name).orientations[0])}
        return [names[number] for number in assembly_order(tool(name))]

    assert order("mt2-drawbar-8") == ["Plunger", "Set screw", "Button", "Spring", "Plug"]
    assert order("front-loaded-9") == ["Plug", "Spring", "Button", "Plunger", "Set screw"]


def test_the_file_of_a_sheet_is_small(tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.mktemp("dxf") / "exploded.dxf"
    for name in PROFILES:
        write_drawing(sheet(name), path)
        assert path.stat().st_size < MOST_BYTES, name


def test_a_spring_shows_more_of_its_near_side_than_of_its_far_one() -> None:
    """Each coil is seen whole on the side of the eye; behind, the coils before it hide a part."""
    spring = tool("mt2-drawbar-8").springs[0]
    coil = coil_of(spring, spring.free_mm)
    side = coil.centres_mm @ np.array([1.0, 1.0, 0.0])
    along = np.gradient(coil.centres_mm, axis=0)
    along /= np.linalg.norm(along, axis=1)[:, None]
    toward = EYE - (along @ EYE)[:, None] * along
    toward /= np.linalg.norm(toward, axis=1)[:, None]
    hidden = coil.hides(coil.centres_mm + 1.01 * coil.radius_mm * toward)
    assert hidden[side < 0].mean() > 0.2
    assert hidden[side > 0].mean() < 0.05


def test_nothing_of_a_spring_is_a_speck() -> None:
    spring = tool("mt2-drawbar-8").springs[0]
    for mark in coil_picture(spring, spring.free_mm, 1.0):
        assert isinstance(mark, Curve | Line)
        points = mark.points if isinstance(mark, Curve) else (mark.start, mark.end)
        assert sum(dist(a, b) for a, b in pairwise(points)) > 0.4


@pytest.mark.parametrize("width_mm", [80.0, 200.0])
def test_a_figure_has_the_width_asked_for(width_mm: float) -> None:
    figure = exploded_figure(tool("mt2-drawbar-8"), width_mm)
    left, bottom, right, top = bounds(figure.marks)
    assert (figure.width_mm, left, bottom) == pytest.approx((width_mm, 1.0, 1.0))
    assert right == pytest.approx(width_mm - 1, abs=0.1)
    assert top < figure.height_mm
    assert not [mark for mark in figure.marks if isinstance(mark, Text)]
    assert ("outline" in {mark.style for mark in figure.marks}) == (width_mm > 150)


def test_same_tool_gives_the_same_view() -> None:
    assert exploded_view(tool(PROFILES[0]), 1.0) == exploded_view(tool(PROFILES[0]), 1.0)


def test_small_chamfers_become_corners_and_a_small_flat_a_tip() -> None:
    part = samples.plunger(rear="plain")  # chamfer 0.3 and flat 0.4 across
    plain = simplified(part, 0.5).outline
    assert [(c.z_mm, c.r_mm) for c in plain.corners if c.z_mm > 61] == [
        pytest.approx((62.0, 4.0)),
        (62.0, 0.0),
    ]
    assert [c.r_mm for c in plain.corners if c.z_mm == 0.0] == [0.0]
    assert simplified(part, 0.0) == part


@pytest.mark.parametrize("part", [samples.morse_body(), samples.plunger(), samples.plug()])
def test_a_simplified_part_has_no_short_run_and_nearly_its_size(part: Part) -> None:
    plain = simplified(part, 0.5).outline
    assert plain.shortest_mm >= 0.5
    assert plain.length_mm == pytest.approx(part.outline.length_mm, abs=0.25)
    assert plain.diameter_mm == pytest.approx(part.outline.diameter_mm, abs=0.5)
    assert plain.volume_mm3 == pytest.approx(part.outline.volume_mm3, rel=0.02)
