"""Checks of the plunger's movement: travel, reach, guidance, fit and air."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, tan

from generator.checks.finding import Finding, down_to, up_to
from generator.formulas import fit
from generator.model import parts
from generator.model.tool import Tool
from generator.units import shown

LEAST_GUIDE_MM = 1.0


def travel(tool: Tool) -> Iterator[Finding]:
    """Check that there is travel worth having."""
    limit = tool.limit("travel")
    travel_mm = tool.parameters.slot.length_mm - tool.tip_in_slot_mm
    yield Finding(
        limit,
        travel_mm,
        f"raise slot.length_mm to {up_to(tool.tip_in_slot_mm + limit.passes)}",
    )


def land(tool: Tool) -> Iterator[Finding]:
    """Check whether the slot stays inside the nose at extension."""
    p = tool.parameters
    limit = tool.limit("land in front of the slot")
    reach_mm = p.slot.length_mm - tool.tip_in_slot_mm / 2
    value_mm = p.set_screw.position_mm - reach_mm
    shows = f"; {shown(-value_mm, 'mm')} of it shows now" if value_mm < 0 else ""
    yield Finding(
        limit,
        value_mm,
        f"raise set_screw.position_mm to {up_to(reach_mm + limit.passes)}{shows}",
    )


def reach(tool: Tool) -> Iterator[Finding]:
    """Check that the working end stays outside the nose when the plunger is pushed home."""
    p = tool.parameters
    limit = tool.limit("tip clear of the nose when compressed")
    for o in tool.orientations:
        value_mm = o.projection_compressed_mm - o.outer.outer_mm
        more_mm = limit.passes - value_mm
        position_mm = p.set_screw.position_mm - more_mm
        nearer = f"lower set_screw.position_mm to {down_to(position_mm)}, or "
        yield Finding(
            limit,
            value_mm,
            f"{nearer if position_mm >= 0.001 else ''}lengthen the plunger (plunger.length_mm) in "
            f"front of the slot by {up_to(more_mm)}",
            subject=o.name,
        )


def guide(tool: Tool) -> Iterator[Finding]:
    """Check the guided length at extension in each orientation."""
    p = tool.parameters
    limit = tool.limit("guide length")
    for o in tool.orientations:
        more_mm = (limit.passes - o.guide_ratio) * p.plunger.diameter_mm
        yield Finding(
            limit,
            o.guide_ratio,
            f"raise set_screw.position_mm to {up_to(p.set_screw.position_mm + more_mm)}, or "
            "lengthen the plunger behind the slot by as much",
            subject=o.name,
        )


def clear_of_rear_hole(tool: Tool) -> Iterator[Finding]:
    """Check that the plunger, pushed home, stops short of the larger hole or the thread."""
    p = tool.parameters
    limit = tool.limit("plunger clear of the rear hole")
    for o in tool.orientations:
        value_mm = parts.rear_hole_start_mm(p) - o.inner_compressed_mm
        yield Finding(
            limit,
            value_mm,
            f"raise body.nose_length_mm to "
            f"{up_to(p.body.nose_length_mm + limit.passes - value_mm)}, or shorten plug.sunk_mm or "
            "plug.length_mm by as much as it lacks",
            subject=o.name,
        )


def clearance(tool: Tool) -> Iterator[Finding]:
    """Check the fit of plunger and bore and the tilt that it allows."""
    p = tool.parameters
    least = tool.limit("clearance, least")
    lacks_um = least.passes - tool.least_clearance_um
    yield Finding(
        least,
        tool.least_clearance_um,
        "choose a plunger.tolerance such as h8 or a bore.tolerance such as H7, or measure the bar "
        f"before you choose the reamer; the bore must be {up_to(lacks_um, 'um')} "
        "larger",
    )
    most = tool.limit("clearance, greatest")
    yield Finding(
        most,
        tool.greatest_clearance_um,
        "choose a closer plunger.tolerance or bore.tolerance; together they may leave "
        f"{down_to(most.passes, 'um')}",
    )
    limit = tool.limit("tilt of the plunger")
    for o in tool.orientations:
        loose_um = max(0.0, tool.greatest_clearance_um)
        tilt_deg = float("nan")
        if o.guide_mm > 0:
            tilt_deg = fit.tilt_deg(clearance_um=loose_um, guide_mm=o.guide_mm)
        advice = "choose a closer plunger.tolerance or bore.tolerance"
        if limit.passes > 0:
            need_mm = max(loose_um / 1000 / tan(radians(limit.passes)), LEAST_GUIDE_MM)
            more_mm = need_mm - o.guide_mm
            position_mm = p.set_screw.position_mm + more_mm
            advice = f"raise set_screw.position_mm to {up_to(position_mm)}, or {advice}"
        yield Finding(limit, tilt_deg, advice, subject=o.name)
    runout = tool.limit("run-out of the bore")
    yield Finding(
        runout,
        p.making.runout_mm,
        f"make bore and mount in one setting and reach a making.runout_mm of "
        f"{down_to(runout.passes)}",
    )


def vent(tool: Tool) -> Iterator[Finding]:
    """Check the narrowest hole on the way out for the air behind the plunger.

    A button without a hole is loose in the bore by a check of its own, and lets it pass.
    """
    p = tool.parameters
    limit = tool.limit("vent")
    holes = {"plug.vent_mm": p.plug.vent_mm}
    if p.button is not None and p.button.vent_mm > 0:
        holes["button.vent_mm"] = p.button.vent_mm
    if tool.separator is not None and p.separator is not None:
        holes["separator.hole_mm"] = p.separator.hole_mm
    narrow = [key for key, hole_mm in holes.items() if hole_mm < limit.passes]
    yield Finding(
        limit,
        min(holes.values()),
        " and ".join(f"raise {key} to {up_to(limit.passes)}" for key in narrow),
    )
