"""Checks of what is milled into a shank: flats for a set screw, a slot for a key."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding, down_to, up_to
from generator.checks.springs import pocket_key
from generator.inputs.tables import StraightMount
from generator.model.milled import milled
from generator.model.part import Part, Slot
from generator.model.tool import Tool


def wall(tool: Tool) -> Iterator[Finding]:
    """Check the wall that a flat or a key slot leaves over the bore and the rear thread."""
    cut = milled(tool)
    if cut is None:
        return
    yield _wall(tool, cut, hollow_under_mm(tool.body, cut))


def wall_over_any_thread(tool: Tool) -> Iterator[Finding]:
    """Check the same for a rear thread of whatever depth, before the lengths are settled."""
    cut = milled(tool)
    if cut is not None:
        crests_mm = (thread.major_mm / 2 for thread in tool.body.threads)
        yield _wall(tool, cut, max(hollow_under_mm(tool.body, cut), *crests_mm, 0.0))


def _wall(tool: Tool, cut: Slot, hollow_mm: float) -> Finding:
    limit = tool.limit("wall under flat or key slot")
    left_mm = cut.floor_mm(tool.body.outline) - hollow_mm
    depth_mm = cut.depth_mm + left_mm - limit.passes
    return Finding(
        limit,
        left_mm,
        f"lower mount.flat_depth_mm to {down_to(depth_mm)}"
        if cut.square and depth_mm >= 0.1
        else f"lower {pocket_key(tool)} and take a plug.thread of at most "
        f"{down_to(2 * (hollow_mm + left_mm - limit.passes))}",
    )


def hollow_under_mm(body: Part, cut: Slot) -> float:
    """Return the largest radius that is hollow under a cut, a thread at its crests; 0 for none."""
    outline = body.outline
    hollow_mm = 0.0
    for s in outline.segments():
        inside = s.end.z_mm < s.start.z_mm
        if inside and s.front_mm < cut.rear_mm and s.rear_mm > cut.front_mm:
            slope = (s.end.r_mm - s.start.r_mm) / (s.end.z_mm - s.start.z_mm)
            front_mm, rear_mm = max(s.front_mm, cut.front_mm), min(s.rear_mm, cut.rear_mm)
            radii = (s.start.r_mm + slope * (z - s.start.z_mm) for z in (front_mm, rear_mm))
            hollow_mm = max(hollow_mm, *radii)
    for thread in body.threads:
        run = outline.surface(thread.surface)
        if run.front_mm < cut.rear_mm and run.rear_mm > cut.front_mm:
            hollow_mm = max(hollow_mm, thread.major_mm / 2)
    return hollow_mm


def flats(tool: Tool) -> Iterator[Finding]:
    """Check that flats lie within the grip, and leave enough of the shank to centre by."""
    mount, cut = tool.parameters.mount, milled(tool)
    if not isinstance(mount, StraightMount) or cut is None:
        return
    within = tool.limit("flat within the grip")
    half_mm, place_mm = cut.length_mm / 2, mount.flat_position_mm
    rear_mm, front_mm = place_mm - half_mm, mount.grip_mm - place_mm - half_mm
    low_mm, high_mm = half_mm + within.passes, mount.grip_mm - half_mm - within.passes
    if low_mm > high_mm:
        advice = f"lower mount.flat_length_mm to {down_to(mount.grip_mm - 2 * within.passes)}"
    elif rear_mm < within.passes:
        advice = f"raise mount.flat_position_mm to {up_to(low_mm)}"
    else:
        advice = f"lower mount.flat_position_mm to {down_to(high_mm)}"
    yield Finding(within, min(rear_mm, front_mm), advice)
    wide = tool.limit("flat against the shank")
    share = wide.passes
    depth_mm = mount.diameter_mm / 2 * (1 - (1 - share**2) ** 0.5)
    yield Finding(
        wide,
        cut.width_mm / mount.diameter_mm,
        f"lower mount.flat_depth_mm to {down_to(depth_mm)}",
    )
