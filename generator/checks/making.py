"""Checks of what the workshop can reach: drill, reamer, tap, compound slide."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding, up_to
from generator.formulas import cone, taper
from generator.inputs.tables import StraightMount
from generator.model import parts
from generator.model.tips import DRILL_POINT_DEG
from generator.model.tool import Tool
from generator.standards.rows import Thread

LEAD_AND_RUN_OFF_MM = 6.0


def bored_mm(tool: Tool) -> float:
    """Return the length that drill and reamer pass: to the rear hole, or right through."""
    p = tool.parameters
    length_mm = parts.body_length_mm(p)
    if p.shoulder is not None:
        return p.shoulder.guide_mm
    if parts.rear_hole_mm(p) > p.bore.diameter_mm:
        return length_mm - parts.rear_hole_depth_mm(p)
    return length_mm


def reamer(tool: Tool) -> Iterator[Finding]:
    """Check that the reamer passes the bore before its chuck meets the work."""
    workshop, limit = tool.parameters.workshop, tool.limit("reamer reach")
    need_mm = bored_mm(tool) + workshop.reamer_grip_mm
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
        diameter_mm=p.bore.diameter_mm, angle_deg=DRILL_POINT_DEG
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
    if isinstance(p.mount, StraightMount):
        return
    row = parts.morse_taper(p.mount)
    need_mm = LEAD_AND_RUN_OFF_MM + taper.slide_travel_mm(
        length_mm=row.projection_mm + row.length_mm, taper=row.taper
    )
    limit = tool.limit("compound travel")
    yield Finding(
        limit,
        p.workshop.compound_travel_mm - need_mm,
        f"a workshop.compound_travel_mm of {up_to(need_mm + limit.passes)} would turn it in one "
        "pass",
    )
