"""The parts of a tool moved apart along its axis, in the order in which they go together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from generator.documents.assembly_view import standing_across, standing_plunger
from generator.documents.isometric import NARROWER
from generator.documents.part_edges import Crests
from generator.documents.parts_list import Item, items, spring_designation
from generator.model import keeping, parts
from generator.model.assembly import Placed
from generator.model.instances import COLOURS, instances
from generator.model.part import Part
from generator.model.springs import CoilSpring
from generator.model.tool import Tool
from generator.standards.rows import Thread

AIR_MM: Final = 4.0
"""From part to part on paper."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A part moved to where it is drawn.

    Attributes:
        item: Its row of the parts list.
        placed: The part and where it is drawn.
        spring: The spring, of which the part is the envelope.
        crests: Where it carries a male thread.
    """

    item: Item
    placed: Placed
    spring: CoilSpring | None = None
    crests: Crests | None = None

    @property
    def reach_mm(self) -> tuple[float, float]:
        """How far along the axis it is seen on paper, from and to, at true size."""
        z_mm = self.placed.origin_mm[2]
        corners = self.placed.part.outline.corners
        return (
            z_mm + min(c.z_mm - NARROWER * c.r_mm for c in corners),
            z_mm + max(c.z_mm + NARROWER * c.r_mm for c in corners),
        )


def assembly_order(tool: Tool) -> tuple[str, ...]:
    """Return the item numbers in the order in which the parts go into the body."""
    row, screws = pieces(tool, 1.0)
    stop = tool.abutment.title
    screwed = {tip.title for tip in tool.tips} | ({"Ball"} if tool.tips else set())
    tips = [piece.item for piece in row if piece.item.name in screwed]
    apart = {"Body", stop, *screwed}
    inside = [piece.item for piece in row if piece.item.name not in apart]
    plugs = [piece.item for piece in row if piece.item.name == stop]
    held = [piece.item for piece in screws]
    if tool.parameters.body.assembly == "front-loaded":
        order = [*plugs, *reversed(inside), *held, *tips]
    else:
        order = [inside[0], *held, *inside[1:], *plugs, *tips]
    return tuple(str(item.number) for item in order)


def pieces(tool: Tool, scale: float) -> tuple[tuple[Piece, ...], tuple[Piece, ...]]:
    """Return the parts drawn apart: those along the axis from the nose on, and the screws.

    Args:
        tool: The tool; its first orientation is shown.
        scale: Paper length over true length; the gaps are lengths on paper.
    """
    orientation = tool.orientations[0]
    standing = {p.name: p for p in instances(tool, orientation, compressed=False)}
    rows = {(item.name, item.designation): item for item in items(tool, orientation)}
    listed = {item.name: item for item in rows.values()}
    body = Piece(listed["Body"], standing["body"])
    plunger = Placed(
        "plunger", standing_plunger(tool, orientation), (0.0, 0.0, 0.0), "rear", COLOURS["plunger"]
    )
    inside, ahead = [Piece(listed["Plunger"], plunger)], list[Piece]()
    if "tip" in standing:
        tip = standing["tip"]
        crests = _crests(tip.part, tip.part.threads[0].designation)
        ahead.append(Piece(listed[tip.part.title], tip, crests=crests))
    if "ball" in standing:
        at = ahead if "tip" in standing else inside
        at.insert(0 if orientation.outer.ball_mm else 1, Piece(listed["Ball"], standing["ball"]))
    if tool.bush is not None:
        crests = _crests(tool.bush, tool.bush.threads[0].designation)
        inside.insert(0, Piece(listed["Nose bush"], standing["nose bush"], crests=crests))
    if tool.button is not None:
        inside.append(Piece(listed["Button"], standing["button"]))
    for place, outer in enumerate(tool.springs, 1):
        for spring in outer.nested:
            title = "Spring" if spring is outer else "Inner spring"
            item = rows[title, spring_designation(spring, tool.parameters.making.units)]
            inside.append(Piece(item, _at_rest(spring, place), spring))
        if f"separator {place}" in standing:
            inside.append(Piece(listed["Separator"], standing[f"separator {place}"]))
    plug, stop = tool.parameters.plug, tool.abutment
    plugs = [
        Piece(
            listed[stop.title], placed, crests=_crests(placed.part, plug.thread) if plug else None
        )
        for placed in standing.values()
        if placed.part is stop
    ]
    if plug is None:
        inside, plugs = [*inside, *plugs], []
    front_loaded = tool.parameters.body.assembly == "front-loaded"
    row = [*inside, body, *plugs] if front_loaded else [body, *inside, *plugs]
    row = [*ahead, *row]
    apart = tuple(_apart(row, scale))
    body = next(piece for piece in apart if piece.item.name == "Body")
    across = standing_across(standing.values())
    return apart, tuple(_across(tool, listed, across, body, scale))


def _at_rest(spring: CoilSpring, place: int) -> Placed:
    envelope = parts.spring_envelope(spring, f"spring {place}", spring.free_mm)
    return Placed(f"spring {place}", envelope, (0.0, 0.0, 0.0), "rear", COLOURS["spring"])


def _crests(part: Part, thread: str) -> Crests:
    surface = part.outline.surface(part.threads[0].surface if part.threads else "thread")
    return Crests(
        surface.front_mm,
        surface.rear_mm,
        surface.diameter_mm / 2,
        Thread.find(thread).pitch_mm,
    )


def _apart(row: Sequence[Piece], scale: float) -> Iterator[Piece]:
    """Yield the parts one behind the other, with air between them on paper."""
    rear_mm = 0.0
    for n, piece in enumerate(row):
        at = replace(piece.placed, origin_mm=(0.0, 0.0, 0.0))
        front_mm = replace(piece, placed=at).reach_mm[0]
        z_mm = rear_mm - front_mm + (AIR_MM / scale if n else 0.0)
        moved_piece = replace(piece, placed=replace(at, origin_mm=(0.0, 0.0, z_mm)))
        rear_mm = moved_piece.reach_mm[1]
        yield moved_piece


def _across(
    tool: Tool, listed: dict[str, Item], across: Sequence[Placed], body: Piece, scale: float
) -> Iterator[Piece]:
    """Yield set screw and jam screw, or the pin, raised out of their hole clear of the body."""
    screw = tool.parameters.set_screw
    z_mm = body.placed.origin_mm[2] + keeping.position_mm(tool.parameters)
    y_mm = 2 * NARROWER * tool.body.outline.diameter_mm / 2 + AIR_MM / scale
    for each in across:
        r_mm = each.part.outline.diameter_mm / 2
        y_mm += 2 * NARROWER * r_mm
        placed = replace(each, origin_mm=(0.0, y_mm, z_mm))
        crests = None if screw is None else _crests(each.part, screw.thread)
        yield Piece(listed[each.part.title], placed, crests=crests)
        y_mm += each.part.outline.length_mm + AIR_MM / scale
