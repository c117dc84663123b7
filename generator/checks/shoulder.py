"""Checks of a plunger with a head behind a step."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi

from generator.checks.finding import Finding, down_to, up_to
from generator.checks.retention import blow_N
from generator.model import parts
from generator.model.completion import HEAD_PLAY_MM
from generator.model.parts import HEAD_EDGE_MM
from generator.model.tool import Tool
from generator.units import shown


def head(tool: Tool) -> Iterator[Finding]:
    """Check the step that keeps the head in, the head itself and its room in the pocket."""
    p = tool.parameters
    if p.shoulder is None:
        return
    s = p.shoulder
    step = tool.limit("step under the head")
    wide_mm = p.bore.diameter_mm + 2 * step.passes
    yield Finding(
        step,
        (s.head_diameter_mm - p.bore.diameter_mm) / 2,
        f"raise shoulder.pocket_mm to {up_to(wide_mm + HEAD_PLAY_MM)}"
        + (
            f" and shoulder.head_diameter_mm to {up_to(wide_mm)}"
            if "shoulder.head_diameter_mm" not in tool.derived
            else ""
        ),
    )
    thick = tool.limit("length of the head")
    yield Finding(
        thick, s.head_length_mm, f"raise shoulder.head_length_mm to {up_to(thick.passes)}"
    )
    right_mm = s.pocket_mm - HEAD_PLAY_MM
    for name in ("disc free in the bore, least", "disc free in the bore, greatest"):
        yield Finding(
            tool.limit(name),
            s.pocket_mm - s.head_diameter_mm,
            f"set shoulder.head_diameter_mm to {shown(right_mm, 'mm')}"
            if right_mm >= 0.001
            else "take a larger shoulder.pocket_mm",
            subject="head",
        )


def tail(tool: Tool) -> Iterator[Finding]:
    """Check the tail inside the springs, and what it meets at the end of the stroke."""
    p = tool.parameters
    if p.shoulder is None:
        return
    s = p.shoulder
    first = tool.springs[0]
    inside_mm = (first if first.inner is None else first.inner).inside_mm
    free = tool.limit("tail free in the springs")
    yield Finding(
        free,
        inside_mm - s.tail_diameter_mm,
        f"lower shoulder.tail_diameter_mm to {down_to(inside_mm - free.passes)}"
        if inside_mm - free.passes >= 0.001
        else "take a wider first spring (springs[1].outside_mm)",
    )
    lands = tool.limit("tail on the plug")
    ((vent_key, vent_mm),) = parts.way_out_mm(p).items()
    yield Finding(
        lands,
        (s.tail_diameter_mm - 2 * HEAD_EDGE_MM - vent_mm) / 2,
        f"lower {vent_key} to {down_to(s.tail_diameter_mm - 2 * (HEAD_EDGE_MM + lands.passes))}, "
        "or take a thicker tail (shoulder.tail_diameter_mm)"
        if s.tail_diameter_mm - 2 * (HEAD_EDGE_MM + lands.passes) >= 0
        else "take a thicker tail (shoulder.tail_diameter_mm) in a wider spring",
    )
    long = tool.limit("length of the tail")
    left_mm = tool.plug_face_mm - s.guide_mm - s.head_length_mm - s.travel_mm
    lacks_mm = long.passes - left_mm
    yield Finding(
        long,
        s.tail_length_mm,
        f"raise body.nose_length_mm to {up_to(p.body.nose_length_mm + lacks_mm)}, or lower "
        "shoulder.travel_mm by as much as it lacks",
    )


def blow(tool: Tool) -> Iterator[Finding]:
    """Check the pressure on the step when the plunger flies out against it."""
    p = tool.parameters
    if p.shoulder is None:
        return
    limit = tool.limit("blow on the step")
    inner_mm = max(p.bore.diameter_mm, p.plunger.diameter_mm)
    outer_mm = p.shoulder.head_diameter_mm - 2 * HEAD_EDGE_MM
    if tool.bush is not None:
        face = tool.bush.outline.surface("rear face")
        inner_mm = max(inner_mm, face.small_diameter_mm)
        outer_mm = min(outer_mm, face.diameter_mm)
    area_mm2 = pi / 4 * (outer_mm**2 - inner_mm**2)
    pressure_MPa = blow_N(tool) / area_mm2 if area_mm2 > 0 else float("nan")
    yield Finding(limit, pressure_MPa, "take a larger shoulder.pocket_mm, or softer [[springs]]")
