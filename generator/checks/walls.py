"""Checks of the metal that is left: walls, rims, webs and cores."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, sqrt

from generator.checks.advice import width_key
from generator.checks.finding import Finding, down_to, up_to
from generator.inputs.tables import RetainingSlot, SunkTip
from generator.model import keeping, parts, screwed
from generator.model.completion import DRIVE_SHARE
from generator.model.holder import holder_of
from generator.model.shank import Cylinder, shank_of
from generator.model.tips import End
from generator.model.tool import Tool
from generator.standards.rows import Thread


def bore_at_small_end(tool: Tool) -> Iterator[Finding]:
    """Check the wall over the bore where the mount is thinnest."""
    p = tool.parameters
    limit = tool.limit("wall over the bore at the small end")
    outside_mm = _over_bottom_mm(tool)
    most_mm = outside_mm - 2 * limit.passes
    key = "bore.diameter_mm" if p.shoulder is None else "shoulder.pocket_mm"
    smaller = f"lower {key} to {down_to(most_mm)}, or " if most_mm > 0.5 else ""
    yield Finding(
        limit,
        (outside_mm - parts.pocket_mm(p)) / 2,
        f"{smaller}take a larger [mount]",
    )


def _over_bottom_mm(tool: Tool) -> float:
    """Return the outside diameter where the bore ends: at the rear end, or over the disc."""
    p = tool.parameters
    if p.disc is None:
        return shank_of(p.mount).rear_diameter_mm
    return 2 * tool.body.outline.radius_at_mm(
        min(p.disc.bottom_mm, tool.body.outline.length_mm), inside=False
    )


def rear_thread(tool: Tool) -> Iterator[Finding]:
    """Check the wall over the crests of the rear thread."""
    p = tool.parameters
    if p.plug is None:
        return
    limit = tool.limit("wall over the rear thread")
    outside_mm, major_mm = shank_of(p.mount).rear_diameter_mm, Thread.find(p.plug.thread).major_mm
    yield Finding(
        limit,
        (outside_mm - major_mm) / 2,
        f"choose a plug.thread no larger than {down_to(outside_mm - 2 * limit.passes)}",
    )


def nose(tool: Tool) -> Iterator[Finding]:
    """Check the wall of the nose, where it is thinnest."""
    p = tool.parameters
    limit = tool.limit("wall of the nose")
    hollow_mm = parts.nose_hollow_mm(p)
    yield Finding(
        limit,
        (p.body.nose_diameter_mm - hollow_mm) / 2,
        f"raise body.nose_diameter_mm to {up_to(hollow_mm + 2 * limit.passes)}",
    )


def nose_rim(tool: Tool) -> Iterator[Finding]:
    """Check what is left of the nose face between bevel and chamfer."""
    p = tool.parameters
    limit = tool.limit("rim of the nose face")
    outline = tool.body.outline
    inner_mm = outline.corners[-1].r_mm
    rim_mm = p.body.nose_diameter_mm / 2 - p.body.edge_mm - inner_mm
    more_mm = 2 * (limit.passes - rim_mm)
    bevel_mm = p.body.bevel_mm - more_mm
    lower = f"lower body.bevel_mm to {down_to(bevel_mm)}, or " if bevel_mm >= 0.001 else ""
    yield Finding(
        limit,
        rim_mm,
        f"{lower}raise body.nose_diameter_mm to {up_to(p.body.nose_diameter_mm + more_mm)}",
    )


def bevel(tool: Tool) -> Iterator[Finding]:
    """Check that the bore keeps a bevel on which the body runs true when it is set up again."""
    limit = tool.limit("bevel at the front of the bore")
    yield Finding(
        limit,
        tool.parameters.body.bevel_mm,
        f"raise body.bevel_mm to {up_to(limit.passes)}",
    )


def jaws(tool: Tool) -> Iterator[Finding]:
    """Check the wall of a straight shank under collet or chuck, and the length they hold."""
    p = tool.parameters
    shank = shank_of(p.mount).gripped
    if shank is None:
        return
    diameter_key, length_key = shank.keys
    limit = tool.limit("wall under the jaws")
    hollow_mm = parts.rear_hole_mm(p)
    solid = p.disc is not None and (
        parts.blind_end_mm(p, p.disc) <= parts.body_length_mm(p) - shank.grip_mm
    )
    yield Finding(
        limit,
        shank.diameter_mm / 2 if solid else (shank.diameter_mm - hollow_mm) / 2,
        f"raise {diameter_key} to {up_to(hollow_mm + 2 * limit.passes)}",
    )
    yield from _clamped(tool, shank)
    held = tool.limit("gripped length")
    yield Finding(
        held,
        shank.grip_mm / shank.diameter_mm,
        f"raise mount.grip_mm to {up_to(held.passes * shank.diameter_mm)}",
    )
    length = tool.limit("length for the jaws")
    yield Finding(
        length,
        shank.length_mm - shank.grip_mm,
        f"raise {length_key} to {up_to(shank.grip_mm + length.passes)}",
    )


def _clamped(tool: Tool, shank: Cylinder) -> Iterator[Finding]:
    """Check the shank against what the collets or the chuck of the file take."""
    holder = holder_of(tool.parameters.mount)
    if holder is None:
        return
    limit = tool.limit("shank in the clamping range")
    most_mm, least_mm = holder.greatest_mm - limit.passes, holder.least_mm + limit.passes
    bound = (
        f"lower {shank.keys[0]} to {down_to(most_mm)}"
        if shank.diameter_mm > most_mm
        else f"raise {shank.keys[0]} to {up_to(least_mm)}"
    )
    yield Finding(
        limit,
        min(holder.greatest_mm - shank.diameter_mm, shank.diameter_mm - holder.least_mm),
        f"choose another mount.holder, or {bound}",
        subject=holder.name,
    )


def plug_web(tool: Tool) -> Iterator[Finding]:
    """Check the plug beside its vent and under its drive."""
    plug = tool.parameters.plug
    if plug is None:
        return
    row = Thread.find(plug.thread)
    limit = tool.limit("web of the plug beside its vent")
    most_mm = row.minor_mm - 2 * limit.passes
    holes = {"plug.vent_mm": (plug.vent_mm, most_mm)}
    if plug.drive == "hexagon":
        corners = 2 / sqrt(3)
        holes["plug.drive_width_mm"] = (plug.drive_width_mm * corners, most_mm / corners)
    wide = [
        f"lower {key} to {down_to(size)}" for key, (hole, size) in holes.items() if hole > most_mm
    ]
    yield Finding(
        limit,
        (row.minor_mm - max(hole for hole, _ in holes.values())) / 2,
        " and ".join(wide) if most_mm > 0.5 else "choose a larger plug.thread",
    )
    if plug.drive == "hexagon":
        flats = tool.limit("hexagon around the vent")
        width_mm = plug.vent_mm + 2 * flats.passes
        yield Finding(
            flats,
            (plug.drive_width_mm - plug.vent_mm) / 2,
            f"raise plug.drive_width_mm to {up_to(width_mm)}, or lower plug.vent_mm",
        )
    floor = tool.limit("floor under the plug's drive")
    depth_mm = plug.length_mm - floor.passes
    length_mm = plug.drive_depth_mm + floor.passes
    if "plug.drive_depth_mm" in tool.derived:
        length_mm = floor.passes / (1 - DRIVE_SHARE)
    yield Finding(
        floor,
        plug.length_mm - plug.drive_depth_mm,
        f"lower plug.drive_depth_mm to {down_to(depth_mm)}"
        if depth_mm >= 0.5
        else f"raise plug.length_mm to {up_to(length_mm)}",
    )


def plunger_ends(tool: Tool) -> Iterator[Finding]:
    """Check the metal between the slot and each end, and the forms of the ends."""
    p = tool.parameters
    front, rear = parts.plunger_ends(p)
    if p.shoulder is not None:
        for n, end in enumerate(screwed.tip_ends(p) or (front,)):
            side = f"tip {n + 1}" if p.screwed_tips is not None else "front"
            yield from _form(tool, end, side, screwed.tip_table(n))
        return
    if p.slot is not None:
        yield from _slot_and_ends(tool, p.slot)
    for end, side in ((front, "front"), (rear, "rear")):
        yield from _form(tool, end, side, f"plunger.{side}")
    core = tool.limit("core between the ends")
    taken_mm = max(front.inner_mm, front.outer_mm) + max(rear.inner_mm, rear.outer_mm)
    yield Finding(
        core,
        p.plunger.length_mm - taken_mm,
        f"raise plunger.length_mm to {up_to(taken_mm + core.passes)}",
    )


def _slot_and_ends(tool: Tool, slot: RetainingSlot) -> Iterator[Finding]:
    """Check the metal between the slot and each end."""
    p = tool.parameters
    limit = tool.limit("metal between slot and end")
    slot_end_mm = slot.front_mm + slot.length_mm
    gaps = {"front": slot.front_mm, "rear": p.plunger.length_mm - slot_end_mm}
    for (side, gap_mm), end in zip(gaps.items(), parts.plunger_ends(p), strict=True):
        along_mm = gap_mm - max(end.outer_mm, end.inner_mm)
        across_mm = -1.0
        if end.hollow and gap_mm > end.cone_mm:
            across_mm = (p.plunger.diameter_mm - end.hollow.pilot_mm) / 2 - slot.depth_mm
        more_mm = limit.passes - along_mm
        move = f"raise slot.front_mm to {up_to(slot.front_mm + more_mm)}"
        if side == "rear":
            more_mm *= 2 if "slot.front_mm" in tool.derived else 1
            move = f"raise plunger.length_mm to {up_to(p.plunger.length_mm + more_mm)}"
        yield Finding(limit, max(along_mm, across_mm), move, subject=side)


def _form(tool: Tool, end: End, side: str, table: str) -> Iterator[Finding]:
    """Check one end for itself."""
    if end.point is not None:
        tip, diameter_mm = end.point, end.diameter_mm
        limit = tool.limit("step from pilot to mouth")
        flat_mm = diameter_mm - limit.passes
        yield Finding(
            limit,
            diameter_mm - tip.flat_mm,
            f"lower {table}.flat_mm to {down_to(flat_mm)}"
            if flat_mm >= 0
            else f"raise {width_key(tool)} to {up_to(tip.flat_mm + limit.passes)}",
            subject=f"{side} flat to diameter",
        )
    if end.relief is not None:
        whole, past = (tool.limit(f"side flat clear of {what}") for what in ("the tip", "the cone"))
        off_mm = end.relief.relief_mm - end.relief.flat_mm / 2
        yield Finding(
            whole,
            off_mm,
            f"raise {table}.relief_mm to {up_to(end.relief.flat_mm / 2 + whole.passes)}",
            subject=side,
        )
        yield Finding(
            past,
            end.relief_length_mm - end.point_mm,
            f"raise {table}.relief_length_mm to {up_to(end.point_mm + past.passes)}",
            subject=side,
        )
    if end.hollow is not None:
        yield from _sunk_form(tool, end, end.hollow, side, table)
        if end.ball_mm:
            yield _ball_seat(tool, end, end.hollow, side, table)


def _ball_seat(tool: Tool, end: End, tip: SunkTip, side: str, table: str) -> Finding:
    """Check that a ball touches the flank of its seat, and nothing else."""
    flank = tool.limit("ball on the flank of its seat")
    flank_mm = end.ball_mm * cos(radians(tip.angle_deg / 2))
    below_mm = 2 * (end.pilot_mm - end.ball_mm + end.stands_mm)
    spare_mm = min(tip.mouth_mm - flank_mm, flank_mm - tip.pilot_mm, below_mm)
    if tip.mouth_mm < flank_mm + flank.passes:
        advice = f"raise {table}.mouth_mm to {up_to(flank_mm + flank.passes)}"
    elif tip.pilot_mm > flank_mm - flank.passes > 0:
        advice = f"lower {table}.pilot_mm to {down_to(flank_mm - flank.passes)}"
    else:
        depth_mm = tip.pilot_depth_mm + (flank.passes - below_mm) / 2
        advice = f"raise {table}.pilot_depth_mm to {up_to(depth_mm)}"
    return Finding(flank, spare_mm, advice, subject=side)


def _sunk_form(tool: Tool, end: End, tip: SunkTip, side: str, table: str) -> Iterator[Finding]:
    rim = tool.limit("rim of the countersink")
    mouth_mm = end.diameter_mm - 2 * (rim.passes + tip.chamfer_mm)
    yield Finding(
        rim,
        (end.diameter_mm - tip.mouth_mm) / 2 - tip.chamfer_mm,
        f"lower {table}.mouth_mm to {down_to(mouth_mm)}"
        if mouth_mm > 0
        else f"lower {table}.chamfer_mm, or take a thicker plunger",
        subject=side,
    )
    step = tool.limit("step from pilot to mouth")
    pilot_mm = tip.mouth_mm - step.passes
    yield Finding(
        step,
        tip.mouth_mm - tip.pilot_mm,
        f"lower {table}.pilot_mm to {down_to(pilot_mm)}"
        if pilot_mm > 0
        else f"raise {table}.mouth_mm to {up_to(tip.pilot_mm + step.passes)}",
        subject=side,
    )


def hole_across(tool: Tool) -> Iterator[Finding]:
    """Check the nose in front of and behind the hole for screw or pin, and it against the bore."""
    p = tool.parameters
    if p.slot is None:
        return
    hole_mm, position_mm = keeping.hole_mm(p), keeping.position_mm(p)
    key, size = (
        ("set_screw.position_mm", "set_screw.thread")
        if p.set_screw is not None
        else ("cross_pin.position_mm", "cross_pin.diameter_mm")
    )
    behind = tool.limit("nose behind the screw hole")
    edge_mm = position_mm + hole_mm / 2
    yield Finding(
        behind,
        p.body.nose_length_mm - edge_mm,
        f"raise body.nose_length_mm to {up_to(edge_mm + behind.passes)}",
    )
    front = tool.limit("nose in front of the screw hole")
    start_mm = position_mm - hole_mm / 2 - parts.front_bevel_mm(p)
    need_mm = front.passes * hole_mm + hole_mm / 2 + parts.front_bevel_mm(p)
    yield Finding(
        front,
        start_mm / hole_mm,
        f"raise {key} to {up_to(need_mm)}",
    )
    across = tool.limit("screw hole against the bore")
    yield Finding(
        across,
        hole_mm / p.bore.diameter_mm,
        f"choose a {size} no larger than {down_to(across.passes * p.bore.diameter_mm)}",
    )
