"""Checks on the proof of motion: what the built solids do to each other over the stroke."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.checks.finding import Finding, down_to, up_to
from generator.checks.springs import fitting_mm, pocket_key
from generator.inputs.tables import RetainingScrew, RetainingSlot
from generator.model import keeping, parts
from generator.model.completion import LOOSE_DISC_MM
from generator.model.contacts import Contact, Deep, Proof
from generator.model.instances import standing
from generator.model.limit_sizes import limit_sizes
from generator.model.tool import Tool
from generator.standards.rows import Thread
from generator.units import shown

LIMITS: Final = (
    "interference",
    "screw kept out by a plunger turned half round",
    "turns of the screw before it clamps",
    "gap between plunger and what pushes it",
)
"""The limits that only the proof of motion judges."""

KEYS: Final = {
    "body": "bore.diameter_mm",
    "plunger": "plunger.length_mm",
    "tip": "screwed_tips.length_mm",
    "set screw": "set_screw.position_mm",
    "jam screw": "set_screw.length_mm",
    "cross pin": "cross_pin.length_mm",
    "button": "button.thickness_mm",
    "separator": "separator.thickness_mm",
    "plug": "plug.sunk_mm",
    "disc": "disc.thickness_mm",
    "nose bush": "shoulder.guide_mm",
}


def run_proof(tool: Tool, proof: Proof) -> tuple[Finding, ...]:
    """Return the findings on the proof of motion of a tool; none if no end of it works."""
    return (
        *interference(tool, proof),
        *turned_half_round(tool, proof),
        *screw_too_deep(tool, proof),
        *seat(tool, proof),
    )


def interference(tool: Tool, proof: Proof) -> Iterator[Finding]:
    """Check that no two parts share any volume; each pair that does is a finding."""
    limit = tool.limit("interference")
    if proof.orientations and not proof.collisions:
        yield Finding(limit, 0.0, "")
    for each in proof.collisions:
        yield Finding(limit, each.volume_mm3, f"{place(each)}: {_part(tool, each)}", each.pair)


def place(contact: Contact) -> str:
    """Return where in the stroke two parts are looked at, in words."""
    travel = shown(contact.travel_mm, "mm")
    return f"at {travel} of travel, {contact.orientation}, {contact.sizes} sizes"


def turned_half_round(tool: Tool, proof: Proof) -> Iterator[Finding]:
    """Check that the screw shows it when the plunger is in with its slot on the wrong side."""
    limit = tool.limit("screw kept out by a plunger turned half round")
    for each in proof.rolled:
        assert tool.parameters.slot is not None  # turned half round against a screw in a slot
        depth_mm = tool.parameters.slot.depth_mm + limit.passes - each.kept_out_mm
        yield Finding(
            limit,
            each.kept_out_mm,
            f"raise slot.depth_mm to {up_to(depth_mm)}",
            subject=each.orientation,
        )


def screw_too_deep(tool: Tool, proof: Proof) -> Iterator[Finding]:
    """Check how far the screw turns in from its place until it clamps the plunger."""
    limit = tool.limit("turns of the screw before it clamps")
    both = tool.parameters.screw_and_slot
    if both is None:
        return
    pitch_mm = Thread.find(both[0].thread).pitch_mm
    for each in proof.deep:
        need_mm = limit.passes * pitch_mm
        yield Finding(
            limit, each.free_mm / pitch_mm, _freer(*both, each, need_mm), subject=each.orientation
        )


def _freer(screw: RetainingScrew, slot: RetainingSlot, deep: Deep, need_mm: float) -> str:
    gap_mm = max(screw.gap_mm, need_mm)
    ways = [f"set set_screw.gap_mm to {up_to(gap_mm)}"] if deep.floor_mm < need_mm else []
    if deep.shoulder_first:
        tip_mm = slot.depth_mm - gap_mm + need_mm
        ways.append(f"raise set_screw.tip_length_mm to {up_to(tip_mm)}")
    return " and ".join(ways) or "deepen the slot: raise slot.depth_mm"


def seat(tool: Tool, proof: Proof) -> Iterator[Finding]:
    """Check that the plunger rests on what the springs press on it."""
    p = tool.parameters
    limit = tool.limit("gap between plunger and what pushes it")
    for each in proof.seats:
        advice = "use a button: set button.thickness_mm to 2 mm"
        if p.button is not None:
            right_mm = parts.pocket_mm(p) - LOOSE_DISC_MM
            advice = f"set button.diameter_mm to {up_to(right_mm)}, wider than the countersink"
        yield Finding(limit, each.clearance_mm, advice, subject=each.orientation)


def _part(tool: Tool, contact: Contact) -> str:
    """Return which parameter parts two parts that collide, and the number that does."""
    p, names = tool.parameters, {_kind(contact.first), _kind(contact.second)}
    across_mm, along_mm = contact.across_mm, contact.along_mm
    if names == {"plunger", "set screw"}:
        return _part_screw(tool, contact)
    if names == {"body", "plunger"} and p.bush is not None and p.shoulder is not None:
        return f"raise shoulder.pocket_mm to {up_to(p.shoulder.pocket_mm + 2 * across_mm)}"
    if names in ({"body", "plunger"}, {"nose bush", "plunger"}):
        return f"raise bore.diameter_mm to {up_to(p.bore.diameter_mm + 2 * across_mm)}"
    if names == {"body", "button"} and p.button is not None:
        return f"lower button.diameter_mm to {down_to(p.button.diameter_mm - 2 * across_mm)}"
    if names == {"body", "separator"} and p.separator is not None:
        return f"lower separator.diameter_mm to {down_to(p.separator.diameter_mm - 2 * across_mm)}"
    if names == {"body", "spring"}:
        return _smaller_coil(tool, contact)
    if names == {"plunger", "cross pin"} and p.slot is not None:
        return f"raise slot.width_mm to {up_to(p.slot.width_mm + 2 * across_mm)}"
    if names == {"body", "set screw"} and p.set_screw is not None:
        return f"lower set_screw.tip_mm to {down_to(p.set_screw.tip_mm - 2 * across_mm)}"
    if contact.second in ("plug", "disc") and contact.first != "body":
        longer_mm = p.body.nose_length_mm + _past_plug_mm(_sized(tool, contact), contact)
        return f"raise body.nose_length_mm to {up_to(longer_mm)}"
    keys = [_key(name) for name in (contact.first, contact.second)]
    return (
        f"they lack {up_to(across_mm)} across or {up_to(along_mm)} along the axis; see "
        f"{' and '.join(keys)}"
    )


def _sized(tool: Tool, contact: Contact) -> Tool:
    """Return the tool at the sizes of a contact."""
    return next(each.tool for each in limit_sizes(tool) if each.name == contact.sizes)


def _past_plug_mm(sized: Tool, contact: Contact) -> float:
    """Return how far a part that runs into the plug reaches past its face."""
    o = next(o for o in sized.ways if o.name == contact.orientation)
    (part,) = (
        each
        for each in standing(sized, o, travel_mm=contact.travel_mm)
        if each.name == contact.first
    )
    ends = (part.in_tool_mm((0.0, 0.0, corner.z_mm))[2] for corner in part.part.outline.corners)
    return max(ends) - sized.plug_face_mm


def _part_screw(tool: Tool, contact: Contact) -> str:
    slot = tool.parameters.slot
    sized = _sized(tool, contact)
    both, tip_mm = sized.parameters.screw_and_slot, sized.across_mm
    assert slot is not None
    assert both is not None
    screw, made = both
    wider_mm = slot.width_mm + max(tip_mm - made.width_mm, 0.0)
    reach_mm = keeping.reach_mm(screw, made)
    if screw.point.startswith("dog") and reach_mm > screw.tip_length_mm:
        return (
            f"raise set_screw.tip_length_mm to {up_to(reach_mm)}, or raise slot.width_mm to "
            f"{up_to(wider_mm)}"
        )
    if tip_mm > made.width_mm:
        return f"raise slot.width_mm to {up_to(wider_mm)}"
    if tip_mm > made.length_mm:
        longer_mm = slot.length_mm + tip_mm - made.length_mm
        return f"raise slot.length_mm to {up_to(longer_mm)}"
    return f"raise slot.width_mm to {up_to(slot.width_mm + 2 * contact.across_mm)}"


def _smaller_coil(tool: Tool, contact: Contact) -> str:
    """Return the coil that clears the bore at its least."""
    index = _number(contact.second)
    least_mm = parts.pocket_mm(tool.parameters)
    if tool.parameters.shoulder is None:
        least_mm += tool.bore_limits.lower_um / 1000
    outside_mm = fitting_mm(tool.springs[index - 1], least_mm)
    if outside_mm > 0:
        return f"take springs[{index}].outside_mm of {down_to(outside_mm)} or less"
    return f"take a thinner springs[{index}].wire_mm, or a larger {pocket_key(tool)}"


def _kind(name: str) -> str:
    """Return the name of an instance without its number: a spring inside another is a spring."""
    return name.removesuffix(" inner").rstrip(" 0123456789")


def _number(name: str) -> int:
    digits = name.removesuffix(" inner").removeprefix(_kind(name)).strip()
    return int(digits) if digits else 1


def _key(name: str) -> str:
    kind = _kind(name)
    if kind != "spring":
        return KEYS[kind]
    inner = ".inner" if name.endswith(" inner") else ""
    return f"springs[{_number(name)}]{inner}.outside_mm"
