"""Checks of a blind bore: the solid metal behind it, and the way out for the air."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding, down_to, up_to
from generator.model import parts
from generator.model.shank import shank_of
from generator.model.tool import Tool


def solid_end(tool: Tool) -> Iterator[Finding]:
    """Check the solid metal between the bottom of a blind bore and tang, socket or rear face."""
    p = tool.parameters
    if p.disc is None:
        return
    limit = tool.limit("solid metal behind a blind bore")
    solid_mm = parts.solid_start_mm(p) - parts.blind_end_mm(p, p.disc)
    most_mm = p.disc.bottom_mm + solid_mm - limit.passes
    yield Finding(
        limit,
        solid_mm,
        f"lower disc.bottom_mm to {down_to(most_mm)}"
        if most_mm >= p.disc.thickness_mm
        else "take a longer [mount]",
    )


def vent_hole(tool: Tool) -> Iterator[Finding]:
    """Check that a vent through the wall stays open: plunger, socket, jaws and arbor clear it."""
    p = tool.parameters
    if p.disc is None or p.disc.vent != "side":
        return
    at_mm, half_mm = parts.vent_position_mm(p, p.disc), p.disc.vent_mm / 2
    behind = tool.limit("vent behind the plunger")
    worst_mm = max(o.wide_compressed_mm for o in tool.orientations)
    left_mm = at_mm - half_mm - worst_mm
    deeper_mm = p.disc.bottom_mm + behind.passes - left_mm
    yield Finding(behind, left_mm, f"raise disc.bottom_mm to {up_to(deeper_mm)}")
    clear = tool.limit("vent clear of what holds the body")
    shank = shank_of(p.mount)
    free_mm = parts.body_length_mm(p) - shank.held_mm - at_mm - half_mm
    lacks_mm = clear.passes - free_mm
    nose_mm = up_to(p.body.nose_length_mm + lacks_mm)
    remedy = f'set disc.vent to "rear", or raise body.nose_length_mm to {nose_mm}'
    if shank.socket is not None and shank.cylinder is not None:
        remedy = f"raise mount.length_mm to {up_to(shank.cylinder.length_mm + lacks_mm)}"
    yield Finding(clear, free_mm, remedy)


def socket(tool: Tool) -> Iterator[Finding]:
    """Check the wall over the socket that an arbor goes into."""
    shank = shank_of(tool.parameters.mount)
    if shank.socket is None or shank.cylinder is None:
        return
    limit = tool.limit("wall over the socket of the arbor")
    hollow_mm = max(shank.socket.mouth_mm, shank.socket.register_mm)
    yield Finding(
        limit,
        (shank.cylinder.diameter_mm - hollow_mm) / 2,
        f"raise mount.diameter_mm to {up_to(hollow_mm + 2 * limit.passes)}",
    )
