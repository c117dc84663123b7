"""Checks of the set screw and the slot that keep the plunger in."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding, down_to, up_to
from generator.checks.springs import preload_key
from generator.formulas import slot as slots
from generator.formulas import strength
from generator.inputs.tables import RetainingScrew, RetainingSlot
from generator.model import keeping
from generator.model.completion import JAM_SCREW_TURNS
from generator.model.limit_sizes import BACK_OFF_TURNS
from generator.model.tool import Limiting, Tool
from generator.standards.limits import Limit
from generator.standards.rows import SetScrew, Thread
from generator.units import shown

HOLE_CHAMFER_MM = 0.3
SHOULDER_CLEARANCE_MM = 0.1


def _wall_mm(tool: Tool) -> float:
    p = tool.parameters
    return (p.body.nose_diameter_mm - p.bore.diameter_mm) / 2


def screw_below_mm(tool: Tool, screw: RetainingScrew, slot: RetainingSlot) -> float:
    """Return how deep the head of the screw lies below the outside of the nose."""
    return _wall_mm(tool) + keeping.reach_mm(screw, slot) - screw.length_mm


def _thread_in_bore_mm(screw: RetainingScrew, slot: RetainingSlot) -> float:
    """Return how far the full thread of the screw stands inside the plunger's outside."""
    return keeping.reach_mm(screw, slot) - screw.tip_length_mm


def thread_in_wall(tool: Limiting, row: Thread) -> Limit:
    """Return the length of thread that must hold a screw in the wall of the nose."""
    need_mm = max(3 * row.pitch_mm, 0.8 * row.major_mm)
    return tool.limit("screw thread in the wall", warn=need_mm, fail=2 * row.pitch_mm)


def holding(tool: Tool) -> Iterator[Finding]:
    """Check the length of thread that holds the screw in the wall, and its locking."""
    p = tool.parameters
    if p.screw_and_slot is None:
        return
    screw, slot = p.screw_and_slot
    row, below_mm = Thread.find(screw.thread), screw_below_mm(tool, screw, slot)
    outer_mm = max(below_mm, HOLE_CHAMFER_MM)
    inner_mm = min(_wall_mm(tool), below_mm + screw.length_mm - screw.tip_length_mm)
    limit = thread_in_wall(tool, row)
    yield Finding(limit, inner_mm - outer_mm, _hold(tool, screw, slot, limit.passes))
    sunk = tool.limit("set screw below the nose")
    more_mm = sunk.passes - below_mm
    length_mm = screw.length_mm - more_mm
    yield Finding(
        sunk,
        below_mm,
        f"shorten set_screw.length_mm to {down_to(length_mm)}"
        if length_mm >= 0.5
        else f"raise body.nose_diameter_mm to {up_to(p.body.nose_diameter_mm + 2 * more_mm)}",
    )
    if screw.locking == "jam screw":
        jam = tool.limit("room for the jam screw")
        room_mm = below_mm - JAM_SCREW_TURNS * row.pitch_mm
        nose_mm = p.body.nose_diameter_mm + 2 * (jam.passes - room_mm)
        yield Finding(jam, room_mm, f"raise body.nose_diameter_mm to {up_to(nose_mm)}")
    yield Finding(
        tool.limit("set screw locked"),
        float(screw.locking != "none"),
        'set set_screw.locking to "threadlocker" or "jam screw"',
    )


def ledge(tool: Tool) -> Iterator[Finding]:
    """Check the ledge in the screw hole that the shoulder of a turned tip is drawn tight on."""
    p = tool.parameters
    if p.screw_and_slot is None or p.screw_and_slot[0].locking != "shoulder":
        return
    screw = p.screw_and_slot[0]
    limit = tool.limit("ledge under the screw's shoulder")
    ledge_mm = keeping.ledge_mm(p)
    yield Finding(
        limit,
        ledge_mm,
        f"turn a longer tip: set_screw.tip_length_mm of "
        f"{up_to(screw.tip_length_mm + limit.passes - ledge_mm)}",
    )
    seat = tool.limit("seat of the screw's shoulder")
    minor_mm = Thread.find(screw.thread).minor_mm
    through_mm = screw.tip_mm + keeping.TIP_PLAY_MM
    yield Finding(
        seat,
        (minor_mm - through_mm) / 2,
        f"turn a thinner tip: set_screw.tip_mm of "
        f"{down_to(minor_mm - 2 * seat.passes - keeping.TIP_PLAY_MM)}",
    )


def _hold(tool: Tool, screw: RetainingScrew, slot: RetainingSlot, need_mm: float) -> str:
    """Return the advice for a screw that holds by so much thread: its length, and the nose's wall.

    The thread begins where the tip ends, or at the bore if the tip is shorter than its reach.
    """
    p = tool.parameters
    reach_mm = keeping.reach_mm(screw, slot)
    start_mm = max(0.0, screw.tip_length_mm - reach_mm)
    length_mm = max(start_mm + reach_mm + need_mm, 0.5)
    row = {each.name: each for each in SetScrew.rows()}.get(screw.thread)
    if row is not None and screw.point in row.points:
        stocked = row.lengths_mm(screw.point)
        length_mm = min((one for one in stocked if one >= length_mm - 1e-9), default=length_mm)
    wall_mm = max(start_mm + need_mm + HOLE_CHAMFER_MM, length_mm - reach_mm)
    nose_mm = max(p.bore.diameter_mm + 2 * wall_mm, p.body.nose_diameter_mm)
    return (
        f"raise body.nose_diameter_mm to {up_to(nose_mm)} and take a set_screw.length_mm of "
        f"{up_to(length_mm)}, or a finer set_screw.thread"
    )


def gap(tool: Tool) -> Iterator[Finding]:
    """Check the gap between the tip of the screw and the floor of the slot."""
    if tool.parameters.set_screw is None:
        return
    gap_mm = tool.parameters.set_screw.gap_mm
    for name in ("gap under the screw tip", "gap under the screw tip, greatest"):
        limit = tool.limit(name)
        rounded = up_to if limit.relation == "at least" else down_to
        yield Finding(limit, gap_mm, f"set set_screw.gap_mm to {rounded(limit.passes)}")


def bearing(tool: Tool) -> Iterator[Finding]:
    """Check how much of the slot's side wall the tip bears on, and what the slot leaves.

    A flat has no side walls; there the tip bears on the ends alone, over all of its reach.
    """
    p = tool.parameters
    if p.screw_and_slot is None:
        return
    screw, slot = p.screw_and_slot
    diameter_mm = p.plunger.diameter_mm
    start_mm = float("nan")
    advice = f"keep slot.width_mm below {diameter_mm:g} mm, the plunger's diameter"
    side = tool.limit("side engagement of the screw tip")
    if slot.form == "flat":
        start_mm = 0.0
        advice = f"raise slot.depth_mm to {up_to(screw.gap_mm + side.passes)}"
    elif slot.width_mm < diameter_mm:
        start_mm = slots.side_wall_start_mm(diameter_mm=diameter_mm, width_mm=slot.width_mm)
        need_mm = start_mm + screw.gap_mm + side.passes
        kept = _kept(tool, "slot.width_mm", slot.width_mm)
        advice = f"raise slot.depth_mm to {up_to(need_mm)}{kept}, or narrow slot.width_mm"
    yield Finding(side, keeping.reach_mm(screw, slot) - start_mm, advice)
    depth = tool.limit("slot depth")
    yield Finding(
        depth,
        slot.depth_mm / diameter_mm,
        _shallower(depth.passes * diameter_mm),
    )
    core = tool.limit("core under the slot")
    yield Finding(
        core,
        1 - slot.depth_mm / diameter_mm,
        _shallower((1 - core.passes) * diameter_mm),
    )


def _kept(tool: Tool, key: str, value_mm: float) -> str:
    """Return that a derived size is to stay: width and depth of the slot follow each other."""
    return f" and keep {key} at {shown(value_mm, 'mm')}" if key in tool.derived else ""


def _shallower(depth_mm: float) -> str:
    if depth_mm < 0.001:
        return "take a thicker plunger (plunger.diameter_mm)"
    return f"lower slot.depth_mm to {down_to(depth_mm)}"


def dog(tool: Tool) -> Iterator[Finding]:
    """Check the dog's length against the slot's depth: its thread must stay out of the bore.

    Where the slot is wide enough for the whole thread, the thread may run in it; that is a
    judgement and warns.
    """
    if tool.parameters.screw_and_slot is None:
        return
    screw, slot = tool.parameters.screw_and_slot
    row = Thread.find(screw.thread)
    touching_mm = screw.tip_length_mm + screw.gap_mm
    play = tool.limit("play of the tip in the slot, least")
    if slot.form == "flat" or slot.width_mm - row.major_mm >= play.passes - 1e-6:
        running = tool.limit("thread running in the slot")
        yield Finding(
            running,
            max(0.0, _thread_in_bore_mm(screw, slot)),
            f"{_shallower(touching_mm + running.passes)}, or take a longer set_screw.tip_length_mm",
        )
        return
    clear = tool.limit(
        "screw thread outside the bore",
        fail=_shoulder_room_mm(tool, row) if screw.point.startswith("dog") else 0.0,
    )
    depth_mm = touching_mm - clear.passes
    shallower = f"lower slot.depth_mm to {down_to(depth_mm)}, " if depth_mm >= 0.001 else ""
    yield Finding(
        clear,
        -_thread_in_bore_mm(screw, slot),
        f"{shallower}take a longer dog, or raise slot.width_mm to "
        f"{up_to(row.major_mm + play.passes)}",
    )


def _shoulder_room_mm(tool: Tool, row: Thread) -> float:
    """Return by how much a dog must be longer than it reaches, or its shoulder enters the bore.

    A slot as deep as its tolerance lets it be and a screw as deep as the hand sets it take it up.
    """
    deeper_mm = tool.parameters.making.slot_depth_tolerance_mm + BACK_OFF_TURNS * row.pitch_mm
    return max(SHOULDER_CLEARANCE_MM, deeper_mm)


def play(tool: Tool) -> Iterator[Finding]:
    """Check the play of the tip, or of the pin, between the side walls, and the ends for it.

    A dog that is too short is found by its own check; here its cylinder counts. A flat has no side
    walls.
    """
    screw, slot = tool.parameters.set_screw, tool.parameters.slot
    if slot is None:
        return
    tip_mm = tool.across_mm
    if slot.form != "flat":
        if screw is not None and screw.point.startswith("dog") and slot.width_mm < tip_mm:
            tip_mm = screw.tip_mm
        yield from _side_play(tool, slot, tip_mm)
    wide_mm = tip_mm if slot.form == "flat" else slot.width_mm
    apart = tool.limit("slot ends apart")
    yield Finding(
        apart,
        slot.length_mm - wide_mm,
        f"raise slot.length_mm to {up_to(wide_mm + apart.passes)}",
    )


def _side_play(tool: Tool, slot: RetainingSlot, tip_mm: float) -> Iterator[Finding]:
    least = tool.limit("play of the tip in the slot, least")
    kept = "" if slot.form == "through" else _kept(tool, "slot.depth_mm", slot.depth_mm)
    yield Finding(
        least,
        slot.width_mm - tip_mm,
        f"widen slot.width_mm to {up_to(tip_mm + least.passes)}{kept}",
    )
    most = tool.limit("play of the tip in the slot, greatest")
    yield Finding(
        most,
        slot.width_mm - tip_mm,
        f"narrow slot.width_mm to {down_to(tip_mm + most.passes)}{kept}",
    )


def snap_J(tool: Tool) -> float:
    """Return the greatest energy with which the plunger flies out from full compression.

    NaN where the springs would be crushed, or where no end works.
    """
    return max(
        (tool.energy_J(o.full_force_N) - tool.energy_J(o.preload_N) for o in tool.orientations),
        default=float("nan"),
    )


def blow_N(tool: Tool) -> float:
    """Return the force of that blow; NaN where there is no energy to tell it from."""
    energy_J = snap_J(tool)
    if not energy_J >= 0:
        return float("nan")
    return strength.impact_force_N(
        energy_J=energy_J,
        stiffness_N_per_mm=tool.parameters.assumptions.stop_stiffness_N_per_mm,
    )


def snap(tool: Tool) -> Iterator[Finding]:
    """Check the blow on the tip when the plunger flies out from full compression."""
    screw = tool.parameters.set_screw
    if screw is None:
        return
    neck_mm = min(tool.across_mm, Thread.find(screw.thread).minor_mm)
    limit = tool.limit("snap on the screw tip")
    stress_MPa = float("nan")
    advice = f"first give the springs room ({preload_key(tool)}, slot.length_mm)"
    force_N = blow_N(tool)
    if force_N >= 0:
        stress_MPa = strength.pin_shear_MPa(force_N=force_N, diameter_mm=neck_mm)
        need_mm = neck_mm * (stress_MPa / limit.passes) ** 0.5 if limit.passes > 0 else neck_mm
        advice = f"take a set_screw.thread with a tip over {up_to(need_mm)}, or softer [[springs]]"
    yield Finding(limit, stress_MPa, advice)
    yield Finding(
        tool.limit("ends of the slot relieved"),
        snap_J(tool),
        "relieve the plunger at both slot ends, or take softer [[springs]]",
    )
