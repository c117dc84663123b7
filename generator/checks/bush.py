"""Checks of the bush screwed into the nose: its thread, its register, its walls and its flange."""

from __future__ import annotations

from collections.abc import Iterator
from math import copysign

from generator.checks.finding import Finding, down_to, up_to
from generator.formulas import thread
from generator.inputs.tables import NoseBush
from generator.model import bush as bushes
from generator.model.tool import Tool, left_runout_mm
from generator.standards.rows import Thread

TURNS_TO_SPARE = 2.0
"""Turns by which a thread no longer holds against a push; engineering judgement."""


def holding(tool: Tool) -> Iterator[Finding]:
    """Check the thread that the bush holds by, and its locking."""
    p, bush = tool.parameters, tool.parameters.bush
    if bush is None or p.shoulder is None:
        return
    row = Thread.find(bush.thread)
    limit = tool.limit("thread of the nose bush")
    lacks_mm = limit.passes * row.pitch_mm - bushes.engaged_mm(p, bush)
    yield Finding(
        limit,
        bushes.engaged_mm(p, bush) / row.pitch_mm,
        f"raise shoulder.guide_mm to {up_to(p.shoulder.guide_mm + lacks_mm)}",
    )
    height = tool.limit("thread height in the nose")
    basic_mm = row.major_mm - thread.basic_minor_mm(major_mm=row.major_mm, pitch_mm=row.pitch_mm)
    most_mm = row.major_mm - height.passes / 100 * basic_mm
    hole_mm = bushes.hole_mm(p, bush)
    yield Finding(
        height,
        thread.height_percent(major_mm=row.major_mm, hole_mm=hole_mm, pitch_mm=row.pitch_mm),
        f"choose a larger bush.thread, or a shoulder.pocket_mm of at most {down_to(most_mm)}",
    )
    yield Finding(
        tool.limit("nose bush locked"),
        float(bush.locking != "none"),
        'set bush.locking to "threadlocker"',
    )


def register(tool: Tool) -> Iterator[Finding]:
    """Check the length over which the spigot touches the register, and the seat of the flange."""
    p, bush = tool.parameters, tool.parameters.bush
    if bush is None:
        return
    limit = tool.limit("register of the nose bush")
    lacks_mm = limit.passes - bushes.contact_mm(p, bush)
    yield Finding(
        limit,
        bushes.contact_mm(p, bush),
        f"raise bush.register_length_mm to {up_to(bush.register_length_mm + lacks_mm)}"
        + _longer(tool, lacks_mm),
    )
    step = tool.limit("step from thread to register")
    major_mm = Thread.find(bush.thread).major_mm
    yield Finding(
        step,
        (bush.register_mm - major_mm) / 2,
        f"raise bush.register_mm to {up_to(major_mm + 2 * step.passes)}",
    )
    seat = tool.limit("seat of the flange")
    mouth_mm = 2 * tool.body.outline.corners[-1].r_mm
    face_mm = p.body.nose_diameter_mm - 2 * p.body.edge_mm
    wide_mm = mouth_mm + 2 * seat.passes
    larger = f"raise bush.flange_diameter_mm to {up_to(wide_mm)}"
    if face_mm < wide_mm:
        larger += f" and body.nose_diameter_mm to {up_to(wide_mm + 2 * p.body.edge_mm)}"
    yield Finding(seat, (min(bush.flange_diameter_mm, face_mm) - mouth_mm) / 2, larger)


def run_out(tool: Tool) -> Iterator[Finding]:
    """Check that the play of the spigot leaves the register a run-out that can be turned."""
    p = tool.parameters
    if p.bush is None:
        return
    limit = tool.limit("run-out left to the register")
    left_mm = left_runout_mm(p)
    squares = p.making.runout_mm**2 - copysign(left_mm**2, left_mm) + limit.passes**2
    yield Finding(
        limit,
        left_mm,
        f"count with a making.runout_mm of {up_to(squares**0.5)}, since a bush plays in its "
        "register",
    )


def _longer(tool: Tool, more_mm: float) -> str:
    """Return that a given length of the bush must grow with its spigot, or its thread shrinks."""
    shoulder = tool.parameters.shoulder
    if shoulder is None or "shoulder.guide_mm" in tool.derived:
        return ""
    return f" and shoulder.guide_mm to {up_to(shoulder.guide_mm + more_mm)}"


def walls(tool: Tool) -> Iterator[Finding]:
    """Check the wall of the bush under its thread, and that of the nose over it."""
    p, bush = tool.parameters, tool.parameters.bush
    if bush is None:
        return
    limit = tool.limit("wall of the nose bush")
    row = Thread.find(bush.thread)
    need_mm = p.bore.diameter_mm + 2 * limit.passes + row.major_mm - bushes.relief_mm(bush)
    yield Finding(
        limit,
        (bushes.relief_mm(bush) - p.bore.diameter_mm) / 2,
        f"choose a bush.thread with a major diameter of {up_to(need_mm)} or more",
    )
    over = tool.limit("wall over the nose thread")
    deep_mm = bushes.hole_depth_mm(p, bush)
    outside_mm = 2 * tool.body.outline.radius_at_mm(
        min(deep_mm, tool.body.outline.length_mm), inside=False
    )
    wall_mm = (min(outside_mm, p.body.nose_diameter_mm) - row.major_mm) / 2
    yield Finding(over, wall_mm, _thicker(tool, bush, over.passes, deep_mm))


def _thicker(tool: Tool, bush: NoseBush, need_mm: float, deep_mm: float) -> str:
    """Return how the nose gets a wall over the thread."""
    p, row = tool.parameters, Thread.find(bush.thread)
    if p.body.nose_length_mm < deep_mm:
        return f"raise body.nose_length_mm to {up_to(deep_mm)}, so that the nose takes it wholly"
    return f"raise body.nose_diameter_mm to {up_to(row.major_mm + 2 * need_mm)}"


def spanner(tool: Tool) -> Iterator[Finding]:
    """Check what a spanner grips of the flange."""
    bush = tool.parameters.bush
    if bush is None:
        return
    thick = tool.limit("flange for the spanner")
    yield Finding(thick, bush.flange_mm, f"raise bush.flange_mm to {up_to(thick.passes)}")
    deep = tool.limit("depth of the spanner flats")
    yield Finding(
        deep,
        (bush.flange_diameter_mm - bush.flats_mm) / 2,
        f"lower bush.flats_mm to {down_to(bush.flange_diameter_mm - 2 * deep.passes)}",
    )


def held_mm(tool: Tool) -> float:
    """Return how far the bush is screwed out before its thread lets go."""
    p = tool.parameters
    assert p.bush is not None
    spare_mm = TURNS_TO_SPARE * Thread.find(p.bush.thread).pitch_mm
    return max(0.0, bushes.engaged_mm(p, p.bush) - spare_mm)


def let_go_N(tool: Tool) -> float:
    """Return the force that still pushes when the thread of the bush lets go; 0 for none."""
    force_N = max((o.preload_N for o in tool.orientations), default=0.0)
    length_mm = tool.length_mm(force_N) + held_mm(tool)
    return tool.curve.force_N(length_mm) if length_mm < tool.curve.free_mm else 0.0


def slack(tool: Tool) -> Iterator[Finding]:
    """Check whether the springs are slack before the thread of the bush lets go."""
    p = tool.parameters
    if p.bush is None or p.shoulder is None:
        return
    limit = tool.limit("bush thread left when the springs are slack")
    force_N = max((o.preload_N for o in tool.orientations), default=0.0)
    left_mm = held_mm(tool) - (tool.curve.free_mm - tool.length_mm(force_N))
    more_mm = limit.passes - left_mm
    yield Finding(
        limit,
        left_mm,
        f"raise shoulder.guide_mm to {up_to(p.shoulder.guide_mm + more_mm)} and "
        f"body.nose_length_mm to {up_to(p.body.nose_length_mm + more_mm)}, or take shorter, "
        "stiffer [[springs]]",
    )
