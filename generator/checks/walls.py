"""Checks of the metal that is left: walls, rims, webs and cores."""

from __future__ import annotations

from collections.abc import Iterator
from math import sqrt

from generator.checks.finding import Finding
from generator.inputs.parameters import CountersinkTip, PointTip, StraightMount
from generator.model import parts
from generator.model.tool import Tool, front_bevel_mm
from generator.standards.rows import Thread
from generator.units import shown


def bore_at_small_end(tool: Tool) -> Iterator[Finding]:
    """Check the wall over the bore where the mount is thinnest."""
    p = tool.parameters
    limit = tool.limit("wall over the bore at the small end")
    outside_mm = parts.rear_diameter_mm(p)
    most_mm = outside_mm - 2 * limit.warn
    yield Finding(
        limit,
        (outside_mm - p.bore.diameter_mm) / 2,
        f"keep bore.diameter_mm at {shown(most_mm, 'mm')} or less, or take a larger mount",
    )


def rear_thread(tool: Tool) -> Iterator[Finding]:
    """Check the wall over the crests of the rear thread."""
    p = tool.parameters
    limit = tool.limit("wall over the rear thread")
    outside_mm, major_mm = parts.rear_diameter_mm(p), Thread.find(p.plug.thread).major_mm
    yield Finding(
        limit,
        (outside_mm - major_mm) / 2,
        f"choose plug.thread of at most {shown(outside_mm - 2 * limit.warn, 'mm')} diameter",
    )


def nose(tool: Tool) -> Iterator[Finding]:
    """Check the wall of the nose, which carries the set screw."""
    p = tool.parameters
    limit = tool.limit("wall of the nose")
    yield Finding(
        limit,
        (p.body.nose_diameter_mm - p.bore.diameter_mm) / 2,
        "raise body.nose_diameter_mm to "
        f"{shown(p.bore.diameter_mm + 2 * max(limit.warn, limit.fail), 'mm')}",
    )


def nose_rim(tool: Tool) -> Iterator[Finding]:
    """Check what is left of the nose face between bevel and chamfer."""
    p = tool.parameters
    limit = tool.limit("rim of the nose face")
    outline = tool.body.outline
    inner_mm = outline.corners[-1].r_mm
    rim_mm = p.body.nose_diameter_mm / 2 - p.body.edge_mm - inner_mm
    yield Finding(
        limit,
        rim_mm,
        f"lower body.bevel_mm to {shown(p.body.bevel_mm - 2 * (limit.warn - rim_mm), 'mm')} or "
        f"raise body.nose_diameter_mm to "
        f"{shown(p.body.nose_diameter_mm + 2 * (limit.warn - rim_mm), 'mm')}",
    )


def jaws(tool: Tool) -> Iterator[Finding]:
    """Check the wall of a straight shank under collet or chuck, and the length they hold."""
    p = tool.parameters
    if not isinstance(p.mount, StraightMount):
        return
    limit = tool.limit("wall under the jaws")
    yield Finding(
        limit,
        (p.mount.diameter_mm - max(p.bore.diameter_mm, parts.rear_hole_mm(p))) / 2,
        f"raise mount.diameter_mm to {shown(parts.rear_hole_mm(p) + 2 * limit.warn, 'mm')}",
    )
    yield Finding(
        tool.limit("length for the jaws"),
        p.mount.length_mm - p.mount.grip_mm,
        f"raise mount.length_mm to {shown(p.mount.grip_mm, 'mm')}",
    )


def plug_web(tool: Tool) -> Iterator[Finding]:
    """Check the plug beside its vent and under its drive."""
    p = tool.parameters
    row = Thread.find(p.plug.thread)
    limit = tool.limit("web of the plug beside its vent")
    hole_mm = p.plug.vent_mm
    if p.plug.drive == "hexagon":
        hole_mm = max(hole_mm, p.plug.drive_width_mm * 2 / sqrt(3))
    yield Finding(
        limit,
        (row.minor_mm - hole_mm) / 2,
        "lower plug.vent_mm or plug.drive_width_mm so that holes stay within "
        f"{shown(row.minor_mm - 2 * limit.warn, 'mm')}",
    )
    floor = tool.limit("floor under the plug's drive")
    yield Finding(
        floor,
        p.plug.length_mm - p.plug.drive_depth_mm,
        f"raise plug.length_mm to {shown(p.plug.drive_depth_mm + floor.warn, 'mm')}",
    )


def plunger_ends(tool: Tool) -> Iterator[Finding]:
    """Check the metal between the slot and each end, and the forms of the ends."""
    p = tool.parameters
    slot_end_mm = p.slot.front_mm + p.slot.length_mm
    gaps = {"front": p.slot.front_mm, "rear": p.plunger.length_mm - slot_end_mm}
    for (side, gap_mm), end in zip(gaps.items(), parts.plunger_ends(p), strict=True):
        limit = tool.limit("metal between slot and end")
        along_mm = gap_mm - max(end.outer_mm, end.inner_mm)
        across_mm = -1.0
        if isinstance(end.tip, CountersinkTip) and gap_mm > end.cone_mm:
            across_mm = (p.plunger.diameter_mm - end.tip.pilot_mm) / 2 - p.slot.depth_mm
        raise_mm = limit.warn - along_mm
        move = (
            f"raise slot.front_mm to {shown(p.slot.front_mm + raise_mm, 'mm')}"
            if side == "front"
            else f"raise plunger.length_mm to {shown(p.plunger.length_mm + raise_mm, 'mm')}"
        )
        yield Finding(limit, max(along_mm, across_mm), move, subject=side)
        yield from _form(tool, side)
    front, rear = parts.plunger_ends(p)
    yield Finding(
        tool.limit("core between the ends"),
        p.plunger.length_mm
        - max(front.inner_mm, front.outer_mm)
        - max(rear.inner_mm, rear.outer_mm),
        "raise plunger.length_mm to "
        f"{shown(front.inner_mm + rear.inner_mm + 2 * p.plunger.diameter_mm, 'mm')}",
    )


def _form(tool: Tool, side: str) -> Iterator[Finding]:
    """Check one end for itself."""
    p = tool.parameters
    tip = p.plunger.front if side == "front" else p.plunger.rear
    diameter_mm = p.plunger.diameter_mm
    if isinstance(tip, PointTip):
        limit = tool.limit("step from pilot to mouth")
        yield Finding(
            limit,
            diameter_mm - tip.flat_mm,
            f"lower plunger.{side}.flat_mm to {shown(diameter_mm - limit.warn, 'mm')}",
            subject=f"{side} flat to diameter",
        )
    if not isinstance(tip, CountersinkTip):
        return
    rim = tool.limit("rim of the countersink")
    yield Finding(
        rim,
        (diameter_mm - tip.mouth_mm) / 2 - max(0.0, tip.chamfer_mm - 0.3),
        f"lower plunger.{side}.mouth_mm to {shown(diameter_mm - 2 * rim.warn, 'mm')}",
        subject=side,
    )
    step = tool.limit("step from pilot to mouth")
    yield Finding(
        step,
        tip.mouth_mm - tip.pilot_mm,
        f"lower plunger.{side}.pilot_mm to {shown(tip.mouth_mm - step.warn, 'mm')}",
        subject=side,
    )


def screw_hole(tool: Tool) -> Iterator[Finding]:
    """Check the nose in front of and behind the screw hole, and the hole against the bore."""
    p = tool.parameters
    row = Thread.find(p.set_screw.thread)
    behind = tool.limit("nose behind the screw hole")
    edge_mm = p.set_screw.position_mm + row.major_mm / 2
    yield Finding(
        behind,
        p.body.nose_length_mm - edge_mm,
        f"raise body.nose_length_mm to {shown(edge_mm + behind.warn, 'mm')}",
    )
    front = tool.limit("nose in front of the screw hole")
    start_mm = p.set_screw.position_mm - row.major_mm / 2 - front_bevel_mm(p)
    need_mm = front.warn * row.major_mm + row.major_mm / 2 + front_bevel_mm(p)
    yield Finding(
        front,
        start_mm / row.major_mm,
        f"raise set_screw.position_mm to {shown(need_mm, 'mm')}",
    )
    across = tool.limit("screw hole against the bore")
    yield Finding(
        across,
        row.major_mm / p.bore.diameter_mm,
        f"choose set_screw.thread of at most {shown(across.warn * p.bore.diameter_mm, 'mm')}",
    )
