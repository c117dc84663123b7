"""Checks of the set screw and the slot that keep the plunger in."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding
from generator.formulas import slot as slots
from generator.formulas import strength
from generator.model import parts
from generator.model.tool import Tool
from generator.standards.rows import Thread
from generator.units import shown

HOLE_CHAMFER_MM = 0.3
SHOULDER_CLEARANCE_MM = 0.1
JAM_SCREW_TURNS = 2.5


def _wall_mm(tool: Tool) -> float:
    p = tool.parameters
    return (p.body.nose_diameter_mm - p.bore.diameter_mm) / 2


def _below_mm(tool: Tool) -> float:
    """Return how deep the head of the screw lies below the outside of the nose."""
    p = tool.parameters
    return _wall_mm(tool) + parts.screw_reach_mm(p) - p.set_screw.length_mm


def _thread_in_bore_mm(tool: Tool) -> float:
    """Return how far the full thread of the screw stands inside the plunger's outside."""
    p = tool.parameters
    return parts.screw_reach_mm(p) - p.set_screw.tip_length_mm


def holding(tool: Tool) -> Iterator[Finding]:
    """Check the length of thread that holds the screw in the wall, and its locking."""
    p = tool.parameters
    row = Thread.find(p.set_screw.thread)
    outer_mm = max(_below_mm(tool), HOLE_CHAMFER_MM)
    inner_mm = min(
        _wall_mm(tool), _below_mm(tool) + p.set_screw.length_mm - p.set_screw.tip_length_mm
    )
    need_mm = max(3 * row.pitch_mm, 0.8 * row.major_mm)
    limit = tool.limit("screw thread in the wall", warn=need_mm, fail=2 * row.pitch_mm)
    more_mm = 2 * (need_mm - (inner_mm - outer_mm))
    yield Finding(
        limit,
        inner_mm - outer_mm,
        "raise body.nose_diameter_mm to "
        f"{shown(p.body.nose_diameter_mm + more_mm, 'mm')}, or take a finer set_screw.thread",
    )
    yield Finding(
        tool.limit("set screw below the nose"),
        _below_mm(tool),
        f"shorten set_screw.length_mm to {shown(p.set_screw.length_mm + _below_mm(tool), 'mm')}",
    )
    if p.set_screw.locking == "jam screw":
        room_mm = _below_mm(tool) - JAM_SCREW_TURNS * row.pitch_mm
        yield Finding(
            tool.limit("room for the jam screw"),
            room_mm,
            f"raise body.nose_diameter_mm to {shown(p.body.nose_diameter_mm - 2 * room_mm, 'mm')}",
        )
    yield Finding(
        tool.limit("set screw locked"),
        float(p.set_screw.locking != "none"),
        'set set_screw.locking to "threadlocker" or "jam screw"',
    )


def gap(tool: Tool) -> Iterator[Finding]:
    """Check the gap between the tip of the screw and the floor of the slot."""
    gap_mm = tool.parameters.set_screw.gap_mm
    for name in ("gap under the screw tip", "gap under the screw tip, greatest"):
        limit = tool.limit(name)
        yield Finding(limit, gap_mm, f"set set_screw.gap_mm to {shown(limit.warn, 'mm')}")


def bearing(tool: Tool) -> Iterator[Finding]:
    """Check how much of the slot's side wall the tip bears on, and what the slot leaves."""
    p = tool.parameters
    diameter_mm = p.plunger.diameter_mm
    start_mm = float("nan")
    if p.slot.width_mm < diameter_mm:
        start_mm = slots.side_wall_start_mm(diameter_mm=diameter_mm, width_mm=p.slot.width_mm)
    side = tool.limit("side engagement of the screw tip")
    need_mm = start_mm + p.set_screw.gap_mm + side.warn
    yield Finding(
        side,
        parts.screw_reach_mm(p) - start_mm,
        f"raise slot.depth_mm to {shown(need_mm, 'mm')}, or narrow slot.width_mm",
    )
    depth = tool.limit("slot depth")
    yield Finding(
        depth,
        p.slot.depth_mm / diameter_mm,
        f"lower slot.depth_mm to {shown(depth.warn * diameter_mm, 'mm')}",
    )
    core = tool.limit("core under the slot")
    yield Finding(
        core,
        1 - p.slot.depth_mm / diameter_mm,
        f"lower slot.depth_mm to {shown((1 - core.warn) * diameter_mm, 'mm')}",
    )


def dog(tool: Tool) -> Iterator[Finding]:
    """Check the dog's length against the slot's depth: its thread must stay out of the bore.

    Where the slot is wide enough for the whole thread, the thread may run in it; that is a
    judgement and warns.
    """
    p = tool.parameters
    row = Thread.find(p.set_screw.thread)
    most_mm = p.set_screw.tip_length_mm + p.set_screw.gap_mm - SHOULDER_CLEARANCE_MM
    play = tool.limit("play of the tip in the slot, least")
    if p.slot.width_mm - row.major_mm >= play.warn - 1e-6:
        yield Finding(
            tool.limit("thread running in the slot"),
            max(0.0, _thread_in_bore_mm(tool)),
            f"lower slot.depth_mm to {shown(most_mm, 'mm')}, or take a longer dog",
        )
        return
    clear = tool.limit(
        "screw thread outside the bore",
        fail=SHOULDER_CLEARANCE_MM if p.set_screw.point.startswith("dog") else 0.0,
    )
    yield Finding(
        clear,
        -_thread_in_bore_mm(tool),
        f"lower slot.depth_mm to {shown(most_mm, 'mm')}, take a longer dog, or raise "
        f"slot.width_mm to {shown(row.major_mm + play.warn, 'mm')}",
    )


def play(tool: Tool) -> Iterator[Finding]:
    """Check the play of the tip between the side walls.

    A dog that is too short is found by its own check; here its cylinder counts.
    """
    p = tool.parameters
    least = tool.limit("play of the tip in the slot, least")
    tip_mm = tool.tip_in_slot_mm
    if p.set_screw.point.startswith("dog") and p.slot.width_mm < tip_mm:
        tip_mm = p.set_screw.tip_mm
    yield Finding(
        least,
        p.slot.width_mm - tip_mm,
        f"widen slot.width_mm to {shown(tip_mm + least.warn, 'mm')}",
    )
    most = tool.limit("play of the tip in the slot, greatest")
    yield Finding(
        most,
        p.slot.width_mm - tip_mm,
        f"narrow slot.width_mm to {shown(tip_mm + most.warn, 'mm')}",
    )
    yield Finding(
        tool.limit("slot ends apart"),
        p.slot.length_mm - p.slot.width_mm,
        f"raise slot.length_mm to {shown(p.slot.width_mm, 'mm')}",
    )


def snap(tool: Tool) -> Iterator[Finding]:
    """Check the blow on the tip when the plunger flies out from full compression."""
    p = tool.parameters
    row = Thread.find(p.set_screw.thread)
    energy_J = max(
        (tool.energy_J(o.full_force_N) - tool.energy_J(o.preload_N) for o in tool.orientations),
        default=float("nan"),
    )
    neck_mm = min(tool.tip_in_slot_mm, row.minor_mm)
    stress_MPa = float("nan")
    if energy_J >= 0:
        stress_MPa = strength.pin_shear_MPa(
            force_N=strength.impact_force_N(energy_J=energy_J), diameter_mm=neck_mm
        )
    limit = tool.limit("snap on the screw tip")
    need_mm = neck_mm * (stress_MPa / limit.fail) ** 0.5
    yield Finding(
        limit,
        stress_MPa,
        f"take a tip of {shown(need_mm, 'mm')} or more (set_screw.thread), or softer springs",
    )
    relief = tool.limit("ends of the slot relieved")
    yield Finding(relief, energy_J, "relieve the plunger at both slot ends, or take softer springs")
