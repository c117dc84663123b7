"""What keeps the plunger in: a set screw or a pin across a slot, or a head behind a step."""

from __future__ import annotations

from math import nan

from generator.formulas import slot as slots
from generator.inputs.parameters import Parameters
from generator.inputs.tables import CrossPin, RetainingScrew, RetainingSlot
from generator.model.outline import Corner, Outline
from generator.model.part import CrossHole, HexSocket, Part, Slot
from generator.standards.rows import Material, SetScrew
from generator.standards.rows import Thread as ThreadRow

BOUGHT_STEEL_G_PER_CM3 = 7.85
PIN_EDGE_MM = 0.3
PIN_SUNK_MM = 0.2
TIP_PLAY_MM = 0.1
"""How much wider than a shouldered tip the hole through its ledge is; common practice."""


def across_mm(p: Parameters) -> float:
    """Return the diameter of what meets the ends of the slot; NaN where there is no slot.

    A dog is a cylinder; a cup, flat or cone grows at 45 degrees with the depth it reaches. Once
    the thread itself stands in the slot, that is the major diameter.
    """
    if p.cross_pin is not None:
        return p.cross_pin.diameter_mm
    if p.screw_and_slot is None:
        return nan
    screw, slot = p.screw_and_slot
    major_mm = ThreadRow.find(screw.thread).major_mm
    reach_mm = max(0.0, slot.depth_mm - screw.gap_mm)
    if screw.point in ("dog short", "dog long"):
        return screw.tip_mm if reach_mm <= screw.tip_length_mm + 1e-9 else major_mm
    return slots.tip_in_slot_mm(major_mm=major_mm, point_mm=screw.tip_mm, penetration_mm=reach_mm)


def travel_mm(p: Parameters) -> float:
    """Return the travel that slot and screw allow, or step and tail; negative for none."""
    if p.shoulder is not None:
        return p.shoulder.travel_mm
    return nan if p.slot is None else p.slot.length_mm - across_mm(p)


def out_mm(p: Parameters) -> float:
    """Return how far the front end stands out of the nose with the plunger forward."""
    if p.shoulder is not None:
        return p.shoulder.stem_mm - p.shoulder.guide_mm
    if p.slot is None:
        return nan
    return p.slot.front_mm + p.slot.length_mm - across_mm(p) / 2 - position_mm(p)


def position_mm(p: Parameters) -> float:
    """Return where the screw or the pin stands, from the nose face; NaN for neither."""
    crossing = p.set_screw or p.cross_pin
    return nan if crossing is None else crossing.position_mm


def hole_mm(p: Parameters) -> float:
    """Return the greatest diameter of the hole in the nose that it stands in; NaN for none."""
    if p.set_screw is not None:
        return ThreadRow.find(p.set_screw.thread).major_mm
    return nan if p.cross_pin is None else p.cross_pin.diameter_mm


def reach_mm(screw: RetainingScrew, slot: RetainingSlot) -> float:
    """Return how far the tip of the set screw stands inside the plunger's outside diameter."""
    return slot.depth_mm - screw.gap_mm


def ledge_mm(p: Parameters) -> float:
    """Return how thick the ledge is that a shouldered tip is drawn tight on; 0 without one.

    The tip goes on from it through the clearance about the plunger and into the slot.
    """
    if p.screw_and_slot is None or p.screw_and_slot[0].locking != "shoulder":
        return 0.0
    screw, slot = p.screw_and_slot
    clear_mm = (p.bore.diameter_mm - p.plunger.diameter_mm) / 2
    return screw.tip_length_mm - reach_mm(screw, slot) - clear_mm


def hole_across(p: Parameters) -> tuple[CrossHole, ...]:
    """Return the hole across the nose for the screw or the pin, if there is one."""
    if p.set_screw is not None:
        screw, ledge = p.set_screw, max(0.0, ledge_mm(p))
        return (
            CrossHole(
                "screw hole",
                screw.position_mm,
                ThreadRow.find(screw.thread).tapping_drill_mm,
                screw.thread,
                ledge_mm=ledge,
                through_mm=screw.tip_mm + TIP_PLAY_MM if ledge else 0.0,
            ),
        )
    if p.cross_pin is not None:
        pin = p.cross_pin
        both = pin.support == "both walls"
        return (CrossHole("pin hole", pin.position_mm, pin.diameter_mm, both=both),)
    return ()


def slot(p: Parameters) -> tuple[Slot, ...]:
    """Return the slot in the plunger, if there is one."""
    s = p.slot
    if s is None:
        return ()
    square = s.form == "flat"
    name = "flat" if square else "slot"
    return (Slot(name, s.front_mm, s.length_mm, s.width_mm, s.depth_mm, square),)


def crossing(p: Parameters) -> Part | None:
    """Return the set screw or the pin; z = 0 at its tip, or at its inner end."""
    if p.set_screw is not None:
        return _set_screw(p.set_screw)
    return None if p.cross_pin is None else _pin(p.cross_pin)


def crossing_start_mm(p: Parameters) -> float:
    """Return how far above the tool's axis the tip of the screw, or the pin's inner end, stands."""
    if p.screw_and_slot is not None:
        return p.plunger.diameter_mm / 2 - reach_mm(*p.screw_and_slot)
    assert p.cross_pin is not None
    return p.body.nose_diameter_mm / 2 - PIN_SUNK_MM - p.cross_pin.length_mm


def _set_screw(screw: RetainingScrew) -> Part:
    """Return the set screw as bought; its thread stands at the major diameter."""
    row = ThreadRow.find(screw.thread)
    known = {each.name: each for each in SetScrew.rows()}.get(row.name)
    major, tip = row.major_mm / 2, screw.tip_mm / 2
    tip_length, length = screw.tip_length_mm, screw.length_mm
    corners = [Corner(0.0, tip, "tip")]
    if screw.point not in ("cup", "flat", "cone"):
        corners += [Corner(tip_length, tip, "dog"), Corner(tip_length, major, "dog shoulder")]
    else:
        corners.append(Corner(tip_length, major, "flank"))
    corners += [
        Corner(length, major, "thread"),
        Corner(length, 0.0, "rear face"),
        Corner(0.0, 0.0, "axis"),
    ]
    hexagon_mm = known.hexagon_mm if known else row.major_mm / 2
    return Part(
        name="set-screw",
        title="Set screw",
        outline=Outline(tuple(corners)),
        material="steel, bought",
        density_g_per_cm3=BOUGHT_STEEL_G_PER_CM3,
        cuts=(HexSocket("socket", hexagon_mm, min(hexagon_mm, length / 2)),),
    )


def jam_screw(p: Parameters) -> Part | None:
    """Return the flat screw upon the set screw that locks it, if there is one."""
    screw = p.set_screw
    if screw is None or screw.locking != "jam screw":
        return None
    row = {each.name: each for each in SetScrew.rows()}.get(screw.thread)
    if row is None:
        return None
    r, length = ThreadRow.find(screw.thread).major_mm / 2, row.flat_cone_cup_shortest_mm
    return Part(
        name="jam-screw",
        title="Jam screw",
        outline=Outline(
            (
                Corner(0.0, r, "tip"),
                Corner(length, r, "thread"),
                Corner(length, 0.0, "rear face"),
                Corner(0.0, 0.0, "axis"),
            )
        ),
        material="steel, bought",
        density_g_per_cm3=BOUGHT_STEEL_G_PER_CM3,
        cuts=(HexSocket("socket", row.hexagon_mm, min(row.hexagon_mm, length / 2)),),
    )


def _pin(pin: CrossPin) -> Part:
    """Return the cross pin, its ends chamfered."""
    radius, length = pin.diameter_mm / 2, pin.length_mm
    edge = min(PIN_EDGE_MM, radius / 2, length / 4)
    material = Material.find(pin.material)
    return Part(
        name="cross-pin",
        title="Cross pin",
        outline=Outline(
            (
                Corner(0.0, radius - edge, "front face"),
                Corner(edge, radius, "front chamfer"),
                Corner(length - edge, radius, "outside"),
                Corner(length, radius - edge, "rear chamfer"),
                Corner(length, 0.0, "rear face"),
                Corner(0.0, 0.0, "axis"),
            )
        ),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
    )
