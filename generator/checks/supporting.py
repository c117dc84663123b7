"""Checks of a support centre: its point in the work, what holds the work, and what heat does."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, radians, tan

from generator.checks.advice import more_travel
from generator.checks.finding import Finding, down_to, up_to
from generator.checks.off_axis import lowered
from generator.checks.springs import room_advice
from generator.model.tool import Tool
from generator.standards.rows import CentreHole
from generator.use.supporting import Hold, holds


def contact(tool: Tool) -> Iterator[Finding]:
    """Check the band on which point and centre hole touch, the angle, and the tip's clearance."""
    band = tool.limit("contact in the centre hole")
    wide = tool.limit("plunger wider than the centre hole")
    angle = tool.limit("angle of the point against the centre hole")
    clear = tool.limit("tip clear of the bottom of the centre hole")
    for each in holds(tool):
        o, hole = each.orientation, each.hole
        flat_mm, subject = each.outer_mm - band.passes, o.name
        yield Finding(band, each.band_mm, _more_band(each, flat_mm), subject=subject)
        yield Finding(
            wide,
            o.outer.diameter_mm - hole.mouth_mm,
            f"a plunger.diameter_mm of {up_to(hole.mouth_mm + wide.passes)} serves it, or a "
            "smaller support.centre",
            subject=subject,
        )
        yield Finding(
            angle,
            abs(each.tip.angle_deg - CentreHole.ANGLE_DEG),
            f"set {each.side}.angle_deg to {CentreHole.ANGLE_DEG:g}",
            subject=subject,
        )
        raised_mm = each.tip.flat_mm + 2 * tan(radians(each.tip.angle_deg / 2)) * (
            clear.passes - each.bottom_mm
        )
        yield Finding(
            clear,
            each.bottom_mm,
            f"raise {each.side}.flat_mm to {up_to(raised_mm)}, or set {each.side}.angle_deg to "
            f"{CentreHole.ANGLE_DEG:g}",
            subject=subject,
        )


def _more_band(each: Hold, flat_mm: float) -> str:
    """Return how the band grows: by a smaller flat, where that sets it, else by another hole."""
    if each.tip.flat_mm > each.hole.pilot_mm and flat_mm >= each.hole.pilot_mm:
        return f"lower {each.side}.flat_mm to {down_to(flat_mm)}"
    return "drill a larger support.centre, with a plunger.diameter_mm over its mouth"


def side(tool: Tool) -> Iterator[Finding]:
    """Check the push across the axis that the thrust holds against the one there is."""
    limit = tool.limit("side load held by the thrust")
    for each in holds(tool):
        if not each.load_N > 0:
            continue
        need_N = limit.passes * each.load_N * tan(radians(each.tip.angle_deg / 2))
        advice = "take stiffer [[springs]]"
        if 0 < need_N < tool.curve.end_force_N:
            need_mm = tool.curve.length_mm(need_N) + each.asked.set_mm
            advice = room_advice(tool, each.orientation, need_mm, or_less=True)
        yield Finding(limit, each.held_N / each.load_N, advice, subject=each.orientation.name)


def growth(tool: Tool) -> Iterator[Finding]:
    """Check what is left of the travel when the work has grown, and the thrust then."""
    left = tool.limit("travel left when the work has grown")
    change = tool.limit("change of thrust as the work grows")
    for each in holds(tool):
        o, asked = each.orientation, each.asked
        set_mm = o.travel_mm - each.growth_mm - left.passes
        advice = more_travel(tool, left.passes - each.left_mm)
        if set_mm >= 0 and "support.set_mm" not in tool.derived:
            advice = f"lower support.set_mm to {down_to(set_mm)}, or {advice}"
        yield Finding(left, each.left_mm, advice, subject=o.name)
        softer = "take longer, softer [[springs]]"
        if each.change_percent > 0 and change.passes > 0:
            warmer_K = asked.warmer_K * change.passes / each.change_percent
            softer += f", or let it cool before support.warmer_K comes to {warmer_K:.0f}"
        yield Finding(change, each.change_percent, softer, subject=o.name)


def held(tool: Tool) -> Iterator[Finding]:
    """Check that a push cannot drive the point right out of the centre hole."""
    limit = tool.limit("point held in the centre hole")
    for each in holds(tool):
        set_mm = each.orientation.travel_mm - each.deep_mm + limit.passes
        advice = 'set support.lock to "lock screw"'
        if set_mm <= each.orientation.travel_mm - each.growth_mm:
            advice = f"raise support.set_mm to {up_to(set_mm)}, or {advice}"
        yield Finding(limit, each.deep_mm - each.free_mm, advice, subject=each.orientation.name)


def rubbing(tool: Tool) -> Iterator[Finding]:
    """Check the speed at which the work rubs on a point that stands still."""
    limit = tool.limit("rubbing speed in the centre hole")
    for each in holds(tool):
        most_rpm = 1000 * limit.passes / (pi * each.outer_mm)
        yield Finding(
            limit,
            each.rubbing_m_per_min,
            f"lower support.rpm to {max(most_rpm, 0.0):.0f}, or turn the work by hand",
            subject=each.orientation.name,
        )


def off_axis(tool: Tool) -> Iterator[Finding]:
    """Check how far off the spindle's axis the point may stand, 95 of 100 times."""
    for each in holds(tool):
        limit = tool.limit("support off the spindle's axis", warn=each.asked.accept_mm)
        value_mm = each.off_mm.most
        accept = "" if limit.changed else "support.accept_mm"
        advice = lowered(each.terms, value_mm, limit.passes, accept=accept)
        yield Finding(limit, value_mm, advice, subject=each.orientation.name)
