"""The parts of a tool in their places, as it stands with one end of the plunger at work."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.model import bush, keeping, parts, screwed
from generator.model.assembly import Placed
from generator.model.part import Part
from generator.model.tool import Orientation, Tool

COLOURS: Final = {
    "body": (0.62, 0.66, 0.70),
    "plunger": (0.85, 0.70, 0.35),
    "tip": (0.80, 0.50, 0.30),
    "plug": (0.36, 0.52, 0.74),
    "disc": (0.36, 0.52, 0.74),
    "nose-bush": (0.78, 0.58, 0.36),
    "button": (0.75, 0.52, 0.32),
    "separator": (0.75, 0.52, 0.32),
    "set-screw": (0.25, 0.27, 0.30),
    "cross-pin": (0.25, 0.27, 0.30),
    "jam-screw": (0.25, 0.27, 0.30),
    "ball": (0.80, 0.82, 0.85),
    "spring": (0.40, 0.60, 0.45),
}


def instances(tool: Tool, orientation: Orientation, *, compressed: bool) -> tuple[Placed, ...]:
    """Return every part in its place, the springs as their envelopes.

    Args:
        tool: The tool.
        orientation: Which end is at work.
        compressed: Whether the plunger is pushed home; else it stands at preload.
    """
    return standing(tool, orientation, travel_mm=orientation.travel_mm if compressed else 0.0)


def standing(tool: Tool, orientation: Orientation, *, travel_mm: float) -> tuple[Placed, ...]:
    """Return every part in its place, the plunger pushed in by some of its travel.

    Springs that would have to be crushed stand at their solid lengths, into the plug.

    Args:
        tool: The tool.
        orientation: Which end is at work.
        travel_mm: How far the plunger is pushed in from where it stands at preload.
    """
    return tuple(_standing(tool, orientation, travel_mm))


def _standing(tool: Tool, o: Orientation, moved_mm: float) -> Iterator[Placed]:
    yield _along("body", tool.body, 0.0)
    if tool.bush is not None:
        yield _along("nose bush", tool.bush, -bush.flange_mm(tool.parameters))
    if o.which == "as drawn":
        at_mm = moved_mm - o.projection_extended_mm
        yield _along("plunger", tool.plunger, at_mm + screwed.front_mm(tool.parameters))
        yield from (_along("tip", tip, at_mm) for tip in tool.tips[o.tip : o.tip + 1])
    else:
        yield Placed(
            "plunger",
            tool.plunger,
            (0.0, 0.0, moved_mm + o.inner_extended_mm),
            "front",
            COLOURS["plunger"],
        )
    if tool.ball is not None and o.tip == tool.ball_tip:
        outer = bool(o.outer.ball_mm)
        pole_mm = -o.projection_extended_mm - o.outer.stands_mm
        inner_mm = o.inner_extended_mm + o.inner.stands_mm - tool.ball.outline.length_mm
        yield _along("ball", tool.ball, moved_mm + (pole_mm if outer else inner_mm))
    yield from _across(tool)
    z_mm = o.inner_extended_mm + moved_mm - o.seat_mm
    if tool.button is not None:
        yield _along("button", tool.button, z_mm - tool.button.outline.length_mm)
    yield from _stack(tool, z_mm, o.force_N(moved_mm))
    stop = tool.abutment
    yield _along(stop.name, stop, tool.plug_face_mm)
    if parts.second_plug_mm(tool.parameters):
        yield _along("plug 2", stop, tool.plug_face_mm + stop.outline.length_mm)


def _across(tool: Tool) -> Iterator[Placed]:
    """Yield what stands across the tool: the pin, or the set screw and the one that jams it."""
    p, part = tool.parameters, tool.crossing
    if part is None:
        return
    y_mm, z_mm = keeping.crossing_start_mm(p), keeping.position_mm(p)
    for each in (part, keeping.jam_screw(p)):
        if each is not None:
            name = each.title.lower()
            yield Placed(name, each, (0.0, y_mm, z_mm), "outward", COLOURS[each.name])
            y_mm += each.outline.length_mm


def _stack(tool: Tool, z_mm: float, force_N: float) -> Iterator[Placed]:
    """Yield springs and separators from a position to the plug; equal springs are one part.

    A spring inside another one stands on the same face toward the plunger; one that is shorter than
    the room reaches no further than its free length.
    """
    envelopes: dict[tuple[object, float], Part] = {}
    for place, spring in enumerate(tool.springs, 1):
        room_mm = spring.curve.length_mm(force_N) if force_N == force_N else spring.curve.end_mm
        for each in spring.nested:
            name = f"spring {place}" if each is spring else f"spring {place} inner"
            length_mm = min(room_mm, each.free_mm)
            key = (each, length_mm)
            if key not in envelopes:
                envelopes[key] = parts.spring_envelope(each, name, length_mm)
            yield Placed(name, envelopes[key], (0.0, 0.0, z_mm), "rear", COLOURS["spring"])
        z_mm += room_mm
        if tool.separator is not None and place < len(tool.springs):
            yield _along(f"separator {place}", tool.separator, z_mm)
            z_mm += tool.separator.outline.length_mm


def kind_of(part: Part) -> str:
    """Return what a part is, by which it is coloured: all tips are of one kind, all springs too."""
    return part.name if part.name in COLOURS else part.name.split("-")[0]


def colour_of(part: Part) -> tuple[float, float, float]:
    """Return the colour of a part."""
    return COLOURS[kind_of(part)]


def _along(name: str, part: Part, z_mm: float) -> Placed:
    return Placed(name, part, (0.0, 0.0, z_mm), "rear", colour_of(part))
