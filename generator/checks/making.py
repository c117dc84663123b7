"""Checks of what the workshop can reach: drill, reamer, tap, compound slide."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding, up_to
from generator.formulas import cone, taper
from generator.model import parts
from generator.model.shank import Taper, shank_of
from generator.model.tips import DRILL_POINT_DEG
from generator.model.tool import Tool
from generator.standards.rows import Thread

LEAD_AND_RUN_OFF_MM = 6.0


def compound_travel_mm(whole: Taper) -> float:
    """Return the travel of the compound slide that turns a taper in one pass."""
    travel_mm = taper.slide_travel_mm(length_mm=whole.whole_mm, taper=whole.rate)
    return LEAD_AND_RUN_OFF_MM + travel_mm


def bored_mm(tool: Tool) -> float:
    """Return the length that the drill passes in the body: to the rear hole, or right through."""
    p = tool.parameters
    length_mm = parts.body_length_mm(p)
    if p.shoulder is not None and p.bush is None:
        return p.shoulder.guide_mm
    if p.disc is not None:
        return p.disc.bottom_mm
    if parts.rear_hole_mm(p) > parts.pocket_mm(p):
        return length_mm - parts.rear_hole_depth_mm(p)
    return length_mm


def reamed_mm(tool: Tool) -> float:
    """Return the length that the reamer passes: all that is drilled, or the nose bush."""
    return bored_mm(tool) if tool.bush is None else tool.bush.outline.length_mm


def reamer(tool: Tool) -> Iterator[Finding]:
    """Check that the reamer passes the bore before its chuck meets the work."""
    workshop, limit = tool.parameters.workshop, tool.limit("reamer reach")
    need_mm = reamed_mm(tool) + workshop.reamer_grip_mm
    yield Finding(
        limit,
        workshop.reamer_length_mm - need_mm,
        f"use a reamer (workshop.reamer_length_mm) of {up_to(need_mm + limit.passes)}, or a "
        "shorter body",
    )


def drill(tool: Tool) -> Iterator[Finding]:
    """Check that the drill reaches; half the length is the least, drilled from both ends."""
    p = tool.parameters
    need_mm = bored_mm(tool) + cone.drill_point_mm(
        diameter_mm=p.bore.diameter_mm if p.bush is None else parts.pocket_mm(p),
        angle_deg=DRILL_POINT_DEG,
    )
    limit = tool.limit("drill reach", fail=-need_mm / 2)
    yield Finding(
        limit,
        p.workshop.drill_reach_mm - need_mm,
        f"use a drill with a reach (workshop.drill_reach_mm) of {up_to(need_mm + limit.passes)}",
    )


def tap(tool: Tool) -> Iterator[Finding]:
    """Check that the tap reaches the full depth of the rear thread with one turn of lead."""
    p = tool.parameters
    if p.plug is None:
        return
    need_mm = parts.rear_full_thread_mm(p) + Thread.find(p.plug.thread).pitch_mm
    limit = tool.limit("tap reach")
    yield Finding(
        limit,
        p.workshop.tap_reach_mm - need_mm,
        "use a tap with a thin shank and a reach (workshop.tap_reach_mm) of "
        f"{up_to(need_mm + limit.passes)}, or lower plug.sunk_mm or plug.tapped_mm",
    )


def compound(tool: Tool) -> Iterator[Finding]:
    """Check the travel of the compound slide against the taper with its lead and run-off."""
    p = tool.parameters
    shank = shank_of(p.mount)
    if shank.taper is None:
        return
    need_mm = compound_travel_mm(shank.taper)
    limit = tool.limit("compound travel")
    yield Finding(
        limit,
        p.workshop.compound_travel_mm - need_mm,
        f"a workshop.compound_travel_mm of {up_to(need_mm + limit.passes)} would turn it in one "
        "pass",
    )
