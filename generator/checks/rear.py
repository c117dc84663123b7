"""Checks of the rear thread, the plug in it, the draw-bar behind it, and of taking it apart."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.bush import let_go_N
from generator.checks.finding import Finding, down_to, up_to
from generator.checks.springs import pocket_key, preload_key
from generator.formulas import thread
from generator.formulas.taper import half_angle_deg
from generator.inputs.tables import Plug
from generator.model import parts
from generator.model.shank import shank_of
from generator.model.tool import Tool
from generator.standards.limits import NONE
from generator.standards.rows import Thread
from generator.use.bands import force_bands

TURNS_TO_SPARE = 2.0
DANGEROUS_J = 0.3


def rear_hole(tool: Tool) -> Iterator[Finding]:
    """Check the hole that the rear thread is cut in against the thread and against the bore."""
    p = tool.parameters
    if p.plug is None:
        return
    row, hole_mm = Thread.find(p.plug.thread), parts.rear_hole_mm(p)
    height = tool.limit("thread height in the rear hole")
    basic_mm = row.major_mm - thread.basic_minor_mm(major_mm=row.major_mm, pitch_mm=row.pitch_mm)
    most_mm = row.major_mm - height.passes / 100 * basic_mm
    yield Finding(
        height,
        thread.height_percent(major_mm=row.major_mm, hole_mm=hole_mm, pitch_mm=row.pitch_mm),
        f"choose a larger plug.thread, or a {pocket_key(tool)} of at most {down_to(most_mm)}",
    )
    largest = tool.limit(
        "rear hole against the thread's greatest minor diameter", warn=row.minor_greatest_mm
    )
    yield Finding(
        largest,
        hole_mm,
        f"choose a larger plug.thread, or a {pocket_key(tool)} of at most "
        f"{down_to(largest.passes)}",
    )
    relief = tool.limit("relief of the rear thread over the bore")
    yield Finding(
        relief,
        hole_mm - parts.pocket_mm(p),
        "choose a larger plug.thread, with a tapping drill of "
        f"{up_to(parts.pocket_mm(p) + relief.passes)} or more",
    )


def drawbar(tool: Tool) -> Iterator[Finding]:
    """Check that the draw-bar enters, holds, and stops short of the plug."""
    p = tool.parameters
    pulled = shank_of(p.mount).draw_bar
    if pulled is None or p.plug is None:
        return
    bar, rear = Thread.find(pulled.thread), Thread.find(p.plug.thread)
    yield Finding(
        tool.limit("draw-bar thread against the rear thread"),
        abs(bar.major_mm - rear.major_mm) + abs(bar.pitch_mm - rear.pitch_mm),
        f'set plug.thread to "{bar.name}", the thread of the draw-bar',
    )
    engaged_mm = pulled.engaged_mm
    engagement = tool.limit("draw-bar engagement")
    yield Finding(
        engagement,
        engaged_mm / bar.major_mm,
        f"raise mount.drawbar_engagement_mm to {up_to(engagement.passes * bar.major_mm)}",
    )
    room = tool.limit("room between draw-bar and plug")
    taken_mm = engaged_mm + parts.second_plug_mm(p)
    yield Finding(
        room,
        p.plug.sunk_mm - taken_mm,
        f"raise plug.sunk_mm to {up_to(taken_mm + room.passes)}",
    )


def plug(tool: Tool) -> Iterator[Finding]:
    """Check the thread that the plug holds by, its place and its locking."""
    p = tool.parameters
    if p.plug is None:
        return
    row = Thread.find(p.plug.thread)
    hold = tool.limit("thread of the plug")
    yield Finding(
        hold,
        p.plug.length_mm / row.major_mm,
        f"raise plug.length_mm to {up_to(hold.passes * row.major_mm)}",
    )
    sunk = tool.limit("plug below the rear end")
    second_mm = parts.second_plug_mm(p)
    yield Finding(
        sunk,
        p.plug.sunk_mm - second_mm,
        f"raise plug.sunk_mm to {up_to(second_mm + sunk.passes)}",
    )
    yield from _tapped(tool, p.plug)
    locked = tool.limit("plug locked", fail=1.0 if p.body.assembly == "front-loaded" else NONE)
    yield Finding(
        locked,
        float(p.plug.locking != "none"),
        'set plug.locking to "threadlocker" or "second plug"',
    )


def _tapped(tool: Tool, plug: Plug) -> Iterator[Finding]:
    """Check that the plug goes in as far as drawn, and as far as the weakest springs want it."""
    drawn_mm = plug.sunk_mm + plug.length_mm
    deepest_mm = [band.sunk_weakest_mm - plug.sunk_mm for band in force_bands(tool)]
    limit = tool.limit(
        "thread ahead of the plug", warn=max((mm for mm in deepest_mm if mm == mm), default=NONE)
    )
    yield Finding(
        limit,
        plug.tapped_mm - drawn_mm,
        f"raise plug.tapped_mm to {up_to(drawn_mm + limit.passes)}, with a tap "
        "(workshop.tap_reach_mm) that reaches as far",
    )


def taking_apart(tool: Tool) -> Iterator[Finding]:
    """Check what the springs do when the tool is opened, by the way it was put together."""
    p = tool.parameters
    force_N = max((o.preload_N for o in tool.orientations), default=0.0)
    energy_J = tool.energy_J(force_N)
    if p.body.assembly == "front-loaded":
        if p.bush is not None:
            force_N = let_go_N(tool)
            energy_J = tool.energy_J(force_N)
        force = tool.limit("force let go at the nose")
        yield Finding(
            force, force_N, f"take a softer spring, or lower the preload by {preload_key(tool)}"
        )
        energy = tool.limit("energy let go at the nose")
        yield Finding(
            energy, energy_J, f"take a softer spring, or lower the preload by {preload_key(tool)}"
        )
        return
    assert p.plug is not None  # a blind bore is loaded from the front
    row = Thread.find(p.plug.thread)
    slack_mm = tool.curve.free_mm - tool.length_mm(force_N)
    spare_mm = TURNS_TO_SPARE * row.pitch_mm
    held_mm = p.plug.sunk_mm + p.plug.length_mm - spare_mm
    left = tool.limit(
        "thread left when the springs are slack", fail=0.0 if energy_J > DANGEROUS_J else NONE
    )
    short_mm = left.passes - (held_mm - slack_mm)
    yield Finding(
        left,
        held_mm - slack_mm,
        f"raise body.nose_length_mm to {up_to(p.body.nose_length_mm + short_mm)} and "
        f"plug.sunk_mm to {up_to(p.plug.sunk_mm + short_mm)}, or take a shorter, stiffer spring",
    )


def ejection(tool: Tool) -> Iterator[Finding]:
    """Check that the quill's screw reaches the rear end, and that the taper holds until then."""
    p = tool.parameters
    shank = shank_of(p.mount)
    if shank.held != "pushed out" or shank.taper is None:
        return
    behind_mm = shank.extension.length_mm if shank.extension else 0.0
    past_mm = shank.taper.length_mm + behind_mm - p.machine.ejection_depth_mm
    least = tool.limit("rear end past the ejection depth")
    length_mm = behind_mm + least.passes - past_mm
    yield Finding(least, past_mm, f"raise mount.extension_length_mm to {up_to(length_mm)}")
    most = tool.limit("rear end past the ejection depth, greatest")
    length_mm = behind_mm + most.passes - past_mm
    yield Finding(
        most,
        past_mm,
        f"lower mount.extension_length_mm to {down_to(length_mm)}"
        if length_mm >= 0
        else "measure machine.ejection_depth_mm again: the taper alone reaches past it",
    )


def behind_taper(tool: Tool) -> Iterator[Finding]:
    """Check that what lies behind a taper passes its socket, and that a taper holds by itself."""
    shank = shank_of(tool.parameters.mount)
    if shank.taper is None:
        return
    if shank.cylinder is not None and shank.cylinder.keys[0]:
        clear = tool.limit("extension below the small end")
        small_mm = shank.taper.small_diameter_mm
        yield Finding(
            clear,
            small_mm - shank.cylinder.diameter_mm,
            f"lower {shank.cylinder.keys[0]} to {down_to(small_mm - clear.passes)}",
        )
    if shank.draw_bar is None and shank.taper.row is None:
        steep = tool.limit("included angle of a taper that holds itself")
        yield Finding(
            steep,
            2 * half_angle_deg(taper=shank.taper.rate),
            'a taper so steep is pulled home: set mount.kind to "own taper draw-bar"',
        )
