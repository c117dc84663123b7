"""Checks of the plunger's movement: travel, reach, guidance, fit and air."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, tan

from generator.checks.advice import crossing_key, further_out, more_guide, more_travel
from generator.checks.finding import Finding, down_to, up_to
from generator.formulas import fit
from generator.model import keeping, parts
from generator.model.shank import shank_of
from generator.model.tool import Tool
from generator.units import shown

LEAST_GUIDE_MM = 1.0


def travel(tool: Tool) -> Iterator[Finding]:
    """Check that there is travel worth having."""
    limit = tool.limit("travel")
    travel_mm = keeping.travel_mm(tool.parameters)
    yield Finding(limit, travel_mm, more_travel(tool, limit.passes - travel_mm))


def land(tool: Tool) -> Iterator[Finding]:
    """Check whether the slot stays inside the nose at extension."""
    p = tool.parameters
    if p.slot is None:
        return
    limit = tool.limit("land in front of the slot")
    reach_mm = p.slot.length_mm - tool.across_mm / 2
    value_mm = keeping.position_mm(p) - reach_mm
    shows = f"; {shown(-value_mm, 'mm')} of it shows now" if value_mm < 0 else ""
    yield Finding(
        limit,
        value_mm,
        f"raise {crossing_key(p)} to {up_to(reach_mm + limit.passes)}{shows}",
    )


def reach(tool: Tool) -> Iterator[Finding]:
    """Check that the working end stays outside the nose when the plunger is pushed home."""
    limit = tool.limit("tip clear of the nose when compressed")
    for o in tool.orientations:
        value_mm = o.projection_compressed_mm - o.before_mm - o.outer.outer_mm
        yield Finding(limit, value_mm, further_out(tool, limit.passes - value_mm), subject=o.name)


def guide(tool: Tool) -> Iterator[Finding]:
    """Check the guided length at extension in each orientation."""
    p = tool.parameters
    limit = tool.limit("guide length")
    for o in tool.orientations:
        more_mm = (limit.passes - o.guide_ratio) * p.plunger.diameter_mm
        behind = "" if p.shoulder else ", or lengthen the plunger behind the slot by as much"
        yield Finding(limit, o.guide_ratio, more_guide(tool, more_mm) + behind, subject=o.name)


def clear_of_rear_hole(tool: Tool) -> Iterator[Finding]:
    """Check that the plunger, pushed home, stops short of the larger hole or the thread."""
    p = tool.parameters
    limit = tool.limit("plunger clear of the rear hole")
    for o in tool.orientations:
        value_mm = parts.rear_hole_start_mm(p) - o.wide_compressed_mm
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
            advice = f"{more_guide(tool, more_mm)}, or {advice}"
        yield Finding(limit, tilt_deg, advice, subject=o.name)
    runout = tool.limit("run-out of the bore")
    yield Finding(
        runout,
        p.making.runout_mm,
        f"make bore and mount in one setting and reach a making.runout_mm of "
        f"{down_to(runout.passes)}",
    )


def headroom(tool: Tool) -> Iterator[Finding]:
    """Check that a tool that follows no tap fits between spindle and work, pushed home."""
    p = tool.parameters
    if p.taps or not tool.orientations:
        return
    o = max(tool.orientations, key=lambda each: each.projection_compressed_mm)
    need_mm = shank_of(p.mount).out_mm + p.body.nose_length_mm + o.projection_compressed_mm
    limit = tool.limit("headroom", warn=o.travel_mm)
    yield Finding(
        limit,
        p.machine.headroom_mm - need_mm,
        f"a machine.headroom_mm of {up_to(need_mm + limit.passes)} is comfortable; shorten "
        "body.nose_length_mm",
    )


def vent(tool: Tool) -> Iterator[Finding]:
    """Check the narrowest hole on the way out for the air behind the plunger.

    A button without a hole is loose in the bore by a check of its own, and lets it pass.
    """
    p = tool.parameters
    limit = tool.limit("vent")
    holes = parts.way_out_mm(p)
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
