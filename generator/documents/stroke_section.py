"""The section of the tool in layers that slide past each other, each hiding those beneath it.

x = -scale * z as on the assembly sheet, the nose to the right. The springs are not among the marks:
they close up, so whoever shows the layers draws them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Final, Literal

from generator.documents.assembly_view import (
    bush_marks,
    bush_solid,
    disc_marks,
    plug_marks,
    plug_solid,
    plugs,
    screw_marks,
    screw_outline,
    sliding_faces,
    sliding_marks,
    standing_across,
    without_axis,
)
from generator.documents.clip import visible
from generator.documents.drawing import Line, Mark, Point
from generator.documents.stroke_view import SAME_MM
from generator.documents.text import Box
from generator.documents.view import OVERRUN_MM, cut_face, section
from generator.model.assembly import Placed
from generator.model.instances import instances
from generator.model.part import CrossHole, Part
from generator.model.tool import Orientation, Tool

WIDE_MM: Final = 190.0
"""How wide the whole section is drawn; the lines are those of a sheet."""

Polygon = tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Layer:
    """What moves together.

    Attributes:
        kind: "still"; "slide", which moves with a body; "spring", which is drawn at its length.
        body: Name of the body that it moves with; "" where it stands still.
        way: Key of the orientation in which it is shown; "" for both.
        hides: Areas in which nothing beneath is seen.
        tinted: Areas of metal, each with the part whose colour it has.
        marks: Its lines.
    """

    kind: Literal["still", "slide", "spring"]
    body: str = ""
    way: str = ""
    hides: tuple[Polygon, ...] = ()
    tinted: tuple[tuple[str, Polygon], ...] = ()
    marks: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class StrokeSection:
    """The section of a tool, ready to be moved.

    Attributes:
        scale: Length in the picture over true length.
        box: Left, bottom, right and top of all that is ever shown.
        layers: From the lowest to the uppermost.
    """

    scale: float
    box: Box
    layers: tuple[Layer, ...]


def stroke_section(tool: Tool) -> StrokeSection:
    """Return the layers of a tool for every orientation that has a stroke.

    Raises:
        ValueError: If none has.
    """
    ways = [o for o in tool.orientations if o.travel_mm > SAME_MM]
    if not ways:
        raise ValueError(f"{tool.name}: no stroke")
    out_mm = max(o.projection_extended_mm for o in ways)
    scale = WIDE_MM / (tool.body.outline.length_mm + max(0.0, out_mm))
    placed = {each.name: each for each in instances(tool, ways[0], compressed=False)}
    springs = [Layer("spring", body=name) for name in placed if name.startswith("spring")]
    discs = [
        _disc(each, scale)
        for name, each in placed.items()
        if name.startswith(("button", "separator"))
    ]
    screws = standing_across(placed.values())
    upright = [screw_outline(each, scale) for each in screws]
    nested = [o for o in ways if _takes_the_spring(tool, o)]
    within = [o for o in ways if o not in nested]
    still = _still(tool, placed, scale)
    top = _top(tool, screws, scale)
    left, bottom, _, high = section(tool.body, scale).box
    return StrokeSection(
        scale=scale,
        box=(
            left - OVERRUN_MM,
            min([bottom, *(y for outline in upright[:1] for _, y in outline)]) - OVERRUN_MM,
            max(0.0, scale * out_mm) + OVERRUN_MM,
            max([high, *(y for outline in upright for _, y in outline)]) + OVERRUN_MM,
        ),
        layers=(
            still,
            *(_plunger(tool, o, scale) for o in nested),
            *springs,
            *discs,
            *(_plunger(tool, o, scale) for o in within),
            *top,
        ),
    )


def _takes_the_spring(tool: Tool, o: Orientation) -> bool:
    """Tell whether the spring stands in the plunger's countersink, in front of its far wall."""
    return tool.button is None and o.inner.sink is not None


def _still(tool: Tool, placed: Mapping[str, Placed], scale: float) -> Layer:
    """Return the body and, in it, the plugs and the nose bush."""
    fixed, bush = plugs(tool, placed[tool.abutment.name]), placed.get("nose bush")
    solids = [plug_solid(each, scale) for each in fixed]
    if bush is not None:
        solids.append(bush_solid(bush, scale))
    marks = visible(without_axis(section(tool.body, scale).marks), solids)
    tinted = list(_tinted(tool.body, 0.0, scale))
    for each in fixed:
        marks += plug_marks(tool, each, scale)
        tinted += _tinted(each.part, each.origin_mm[2], scale)
    if bush is not None:
        marks += bush_marks(bush, scale)
        tinted += _tinted(bush.part, bush.origin_mm[2], scale)
    return Layer("still", tinted=tuple(tinted), marks=tuple(marks))


def _tinted(part: Part, z_mm: float, scale: float) -> Iterable[tuple[str, Polygon]]:
    """Yield the cut faces of a part; where a hole is cut from the top, both of its sides."""
    face = [(x - scale * z_mm, y) for x, y in cut_face(part, scale)]
    yield part.name, tuple((x, -y) for x, y in face)
    left, right = min(x for x, _ in face) - 1, max(x for x, _ in face) + 1
    for cut in part.cuts:
        if isinstance(cut, CrossHole):
            middle, half = -scale * (cut.z_mm + z_mm), scale * cut.diameter_mm / 2
            yield part.name, tuple(_within(face, middle + half, right))
            face = _within(face, left, middle - half)
    yield part.name, tuple(face)


def _within(polygon: list[Point], left: float, right: float) -> list[Point]:
    """Return the part of a polygon between two upright lines."""
    for side, x in ((1.0, left), (-1.0, right)):
        kept: list[Point] = []
        for a, b in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
            inside, next_inside = side * a[0] >= side * x, side * b[0] >= side * x
            if inside:
                kept.append(a)
            if inside != next_inside:
                kept.append((x, a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])))
        polygon = kept
    return polygon


def _disc(placed: Placed, scale: float) -> Layer:
    """Return a button or a separator, its front face at x = 0."""
    at_rest = replace(placed, origin_mm=(0.0, 0.0, 0.0))
    right, left = 0.0, -scale * placed.part.outline.length_mm
    r = scale * placed.part.outline.diameter_mm / 2
    return Layer(
        "slide",
        body=placed.name,
        hides=(((left, -r), (right, -r), (right, r), (left, r)),),
        tinted=tuple(_tinted(placed.part, 0.0, scale)),
        marks=tuple(disc_marks(at_rest, scale)),
    )


def _plunger(tool: Tool, o: Orientation, scale: float) -> Layer:
    """Return the plunger with its end at work at x = 0."""
    faces = tuple((name, tuple(face)) for name, face in sliding_faces(tool, o, scale))
    return Layer(
        "slide",
        body="plunger",
        way=o.key,
        hides=tuple(face for _, face in faces),
        tinted=faces,
        marks=tuple(sliding_marks(tool, o, scale)),
    )


def _top(tool: Tool, screws: list[Placed], scale: float) -> tuple[Layer, ...]:
    """Return what stands in front of the plunger: the set screw and what locks it, or the pin."""
    if not screws:
        return ()
    outlines = [tuple(screw_outline(each, scale)) for each in screws]
    marks: list[Mark] = [mark for each in screws for mark in screw_marks(tool, each, scale)]
    at = -scale * screws[0].origin_mm[2]
    foot = min(y for _, y in outlines[0]) - OVERRUN_MM
    head = max(y for outline in outlines for _, y in outline) + OVERRUN_MM
    marks.append(Line((at, foot), (at, head), "centre"))
    tinted = zip((each.part.name for each in screws), outlines, strict=True)
    layer = Layer("still", hides=tuple(outlines), tinted=tuple(tinted), marks=tuple(marks))
    return (layer,)
