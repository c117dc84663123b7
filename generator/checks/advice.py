"""What to change for more travel, more reach or more guidance, by what keeps the plunger in."""

from __future__ import annotations

from generator.checks.finding import down_to, up_to
from generator.inputs.parameters import Parameters
from generator.model import keeping
from generator.model.tool import Tool


def crossing_key(p: Parameters) -> str:
    """Return the key of where the screw or the pin stands."""
    table = "set_screw" if p.set_screw is not None else "cross_pin"
    return f"{table}.position_mm"


def more_travel(tool: Tool, more_mm: float) -> str:
    """Return how the stroke gets longer by so much."""
    p = tool.parameters
    if p.slot is not None:
        return f"raise slot.length_mm to {up_to(p.slot.length_mm + more_mm)}"
    assert p.shoulder is not None
    if "shoulder.tail_length_mm" in tool.derived:
        return f"raise shoulder.travel_mm to {up_to(p.shoulder.travel_mm + more_mm)}"
    tail_mm = p.shoulder.tail_length_mm - more_mm
    if tail_mm >= 0.001:
        return f"shorten shoulder.tail_length_mm to {down_to(tail_mm)}"
    return f"raise body.nose_length_mm to {up_to(p.body.nose_length_mm + more_mm)}"


def further_out(tool: Tool, more_mm: float) -> str:
    """Return how the working end stands out of the nose by so much more."""
    p = tool.parameters
    if p.shoulder is not None:
        return f"raise shoulder.stem_mm to {up_to(p.shoulder.stem_mm + more_mm)}"
    nearer_mm = keeping.position_mm(p) - more_mm
    nearer = f"lower {crossing_key(p)} to {down_to(nearer_mm)}, or " if nearer_mm >= 0.001 else ""
    return (
        f"{nearer}lengthen the plunger (plunger.length_mm) in front of the slot by {up_to(more_mm)}"
    )


def more_guide(tool: Tool, more_mm: float) -> str:
    """Return how the plunger is guided over so much more length."""
    p = tool.parameters
    if p.shoulder is not None:
        return f"raise shoulder.guide_mm to {up_to(p.shoulder.guide_mm + more_mm)}"
    return f"raise {crossing_key(p)} to {up_to(keeping.position_mm(p) + more_mm)}"


def width_key(tool: Tool) -> str:
    """Return the key of how wide the working ends are: of the plunger, or of its screwed tips."""
    return "screwed_tips.diameter_mm" if tool.tips else "plunger.diameter_mm"
