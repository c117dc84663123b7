"""Checks of the rear thread, the plug in it, the draw-bar behind it, and of taking it apart."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding
from generator.formulas import thread
from generator.inputs.parameters import DrawbarMount, EjectedMount
from generator.model import parts
from generator.model.tool import Tool
from generator.standards.limits import NONE
from generator.standards.rows import Thread
from generator.units import shown

TURNS_TO_SPARE = 2.0
DANGEROUS_J = 0.3


def rear_hole(tool: Tool) -> Iterator[Finding]:
    """Check the hole that the rear thread is cut in against the thread and against the bore."""
    p = tool.parameters
    row, hole_mm = Thread.find(p.plug.thread), parts.rear_hole_mm(p)
    height = tool.limit("thread height in the rear hole")
    most_mm = row.major_mm - height.warn / 100 * 1.0825 * row.pitch_mm
    yield Finding(
        height,
        thread.height_percent(major_mm=row.major_mm, hole_mm=hole_mm, pitch_mm=row.pitch_mm),
        f"choose a larger plug.thread, or a bore.diameter_mm of at most {shown(most_mm, 'mm')}",
    )
    yield Finding(
        tool.limit(
            "rear hole against the thread's greatest minor diameter", warn=row.minor_greatest_mm
        ),
        hole_mm,
        "choose a larger plug.thread, or a bore.diameter_mm of at most "
        f"{shown(row.minor_greatest_mm, 'mm')}",
    )
    relief = tool.limit("relief of the rear thread over the bore")
    yield Finding(
        relief,
        hole_mm - p.bore.diameter_mm,
        "choose a larger plug.thread, with a tapping drill of "
        f"{shown(p.bore.diameter_mm + relief.warn, 'mm')} or more",
    )


def drawbar(tool: Tool) -> Iterator[Finding]:
    """Check that the draw-bar enters, holds, and stops short of the plug."""
    p = tool.parameters
    if not isinstance(p.mount, DrawbarMount):
        return
    bar, rear = Thread.find(p.mount.drawbar_thread), Thread.find(p.plug.thread)
    yield Finding(
        tool.limit("draw-bar thread against the rear thread"),
        abs(bar.major_mm - rear.major_mm) + abs(bar.pitch_mm - rear.pitch_mm),
        f'set plug.thread to "{bar.name}", the thread of the draw-bar',
    )
    engaged_mm = p.mount.drawbar_engagement_mm
    engagement = tool.limit("draw-bar engagement")
    yield Finding(
        engagement,
        engaged_mm / bar.major_mm,
        f"raise mount.drawbar_engagement_mm to {shown(engagement.warn * bar.major_mm, 'mm')}",
    )
    room = tool.limit("room between draw-bar and plug")
    yield Finding(
        room,
        p.plug.sunk_mm - engaged_mm,
        f"raise plug.sunk_mm to {shown(engaged_mm + room.warn, 'mm')}",
    )


def plug(tool: Tool) -> Iterator[Finding]:
    """Check the thread that the plug holds by, its place and its locking."""
    p = tool.parameters
    row = Thread.find(p.plug.thread)
    hold = tool.limit("thread of the plug")
    yield Finding(
        hold,
        p.plug.length_mm / row.major_mm,
        f"raise plug.length_mm to {shown(hold.warn * row.major_mm, 'mm')}",
    )
    sunk = tool.limit("plug below the rear end")
    yield Finding(
        sunk, p.plug.sunk_mm, f"raise plug.sunk_mm to {shown(max(sunk.warn, sunk.fail), 'mm')}"
    )
    locked = tool.limit("plug locked", fail=1.0 if p.body.assembly == "front-loaded" else NONE)
    yield Finding(
        locked,
        float(p.plug.locking != "none"),
        'set plug.locking to "threadlocker" or "second plug" (1 means locked)',
    )


def taking_apart(tool: Tool) -> Iterator[Finding]:
    """Check what the springs do when the tool is opened, by the way it was put together."""
    p = tool.parameters
    force_N = max((o.preload_N for o in tool.orientations), default=0.0)
    energy_J = tool.energy_J(force_N)
    if p.body.assembly == "front-loaded":
        force = tool.limit("force let go at the nose")
        yield Finding(force, force_N, "take a softer spring, or lower the preload by plug.sunk_mm")
        energy = tool.limit("energy let go at the nose")
        yield Finding(
            energy, energy_J, "take a softer spring, or lower the preload by plug.sunk_mm"
        )
        return
    row = Thread.find(p.plug.thread)
    slack_mm = max((sum(s.free_mm - s.length_mm(force_N) for s in tool.springs)), 0.0)
    spare_mm = TURNS_TO_SPARE * row.pitch_mm
    held_mm = p.plug.sunk_mm + p.plug.length_mm - spare_mm
    short_mm = slack_mm - held_mm
    yield Finding(
        tool.limit(
            "thread left when the springs are slack",
            fail=0.0 if energy_J > DANGEROUS_J else NONE,
        ),
        held_mm - slack_mm,
        f"raise body.nose_length_mm to {shown(p.body.nose_length_mm + short_mm, 'mm')} and "
        f"plug.sunk_mm to {shown(p.plug.sunk_mm + short_mm, 'mm')}, or take a shorter, stiffer "
        "spring",
    )


def ejection(tool: Tool) -> Iterator[Finding]:
    """Check that the quill's screw reaches the rear end and that the extension clears the socket."""
    p = tool.parameters
    if not isinstance(p.mount, EjectedMount):
        return
    row = parts.morse_taper(p.mount)
    past_mm = row.length_mm + p.mount.extension_length_mm - p.machine.ejection_depth_mm
    least = tool.limit("rear end past the ejection depth")
    length_mm = p.mount.extension_length_mm + least.warn - past_mm
    yield Finding(least, past_mm, f"raise mount.extension_length_mm to {shown(length_mm, 'mm')}")
    most = tool.limit("rear end past the ejection depth, greatest")
    length_mm = p.mount.extension_length_mm + most.warn - past_mm
    yield Finding(
        most,
        past_mm,
        f"lower mount.extension_length_mm to {shown(max(0.0, length_mm), 'mm')}",
    )
    if p.mount.extension_length_mm > 0:
        clear = tool.limit("extension below the small end")
        yield Finding(
            clear,
            row.small_diameter_mm - p.mount.extension_diameter_mm,
            "lower mount.extension_diameter_mm to "
            f"{shown(row.small_diameter_mm - clear.warn, 'mm')}",
        )
