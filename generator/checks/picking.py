"""Checks of a pick-up centre: what its point does to the work, and how near it comes."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, sqrt

from generator.checks.finding import Finding, down_to, up_to
from generator.checks.off_axis import lowered
from generator.checks.springs import room_advice
from generator.model.tool import Tool
from generator.use.picking import picks


def force(tool: Tool) -> Iterator[Finding]:
    """Check the force with which the point bears on the work, pushed home."""
    limit = tool.limit("force on the work")
    for each in picks(tool):
        o = each.orientation
        advice = "take softer [[springs]]"
        if 0 < limit.passes < tool.curve.end_force_N:
            need_mm = tool.curve.length_mm(limit.passes) + o.travel_mm
            advice += f", or {room_advice(tool, o, need_mm)}"
        yield Finding(limit, o.full_force_N, advice, subject=o.name)


def pressure(tool: Tool) -> Iterator[Finding]:
    """Check the pressure of the tip's flat where it comes down beside the place."""
    limit = tool.limit("pressure of the tip on the work")
    for each in picks(tool):
        o, yield_MPa = each.orientation, each.asked.yield_MPa
        advice = "take softer [[springs]]"
        if o.full_force_N > 0 and limit.passes > 0:
            flat_mm = sqrt(4 * o.full_force_N / (pi * limit.passes * yield_MPa))
            if flat_mm < o.outer.diameter_mm:
                advice += f", or raise {each.side}.flat_mm to {up_to(flat_mm)}"
        yield Finding(limit, each.pressure_MPa / yield_MPa, advice, subject=o.name)


def target(tool: Tool) -> Iterator[Finding]:
    """Check the width of the place against the tip's flat and against the plunger."""
    over, within = (
        tool.limit(name) for name in ("target over the flat of the tip", "plunger over the target")
    )
    for each in picks(tool):
        o, width_mm = each.orientation, each.asked.width_mm
        flat_mm = width_mm - over.passes
        wider = f"find a pick_up.width_mm of {up_to(each.tip.flat_mm + over.passes)} or more"
        smaller = f"lower {each.side}.flat_mm to {down_to(flat_mm)}, or " if flat_mm >= 0 else ""
        yield Finding(over, width_mm - each.tip.flat_mm, smaller + wider, subject=o.name)
        most_mm = o.outer.diameter_mm - within.passes
        ways = [f"take a plunger.diameter_mm of {up_to(width_mm + within.passes)}"]
        if most_mm >= 0.001:
            ways.append(f"find a pick_up.width_mm of at most {down_to(most_mm)}")
        yield Finding(within, o.outer.diameter_mm - width_mm, ", or ".join(ways), subject=o.name)


def error(tool: Tool) -> Iterator[Finding]:
    """Check how far off the mean of two readings may be, 95 of 100 times."""
    for each in picks(tool):
        asked = each.asked
        limit = tool.limit("off after two readings", warn=asked.accept_mm)
        value_mm = each.left_mm.most
        accept = "" if limit.changed else "pick_up.accept_mm"
        advice = lowered(each.left, value_mm, limit.passes, accept=accept)
        if asked.read_by == "feel":
            advice += ', or set pick_up.read_by to "indicator"'
        yield Finding(limit, value_mm, advice, subject=each.orientation.name)
