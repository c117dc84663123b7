"""The cautions that belong to a pick-up centre and to a support centre."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from generator.inputs.purposes import Purpose
from generator.model.tool import Tool
from generator.units import number
from generator.use.supporting import holds

WARNINGS: Final[dict[Purpose, str]] = {
    "support centre": "HOLDS NO WORK, IS NO LIVE CENTRE: for light work that the chuck holds, "
    "turned by hand or as slowly as the machine's maker allows on a centre that stands still.",
}
"""What stands on every sheet of a tool for a purpose."""


@dataclass(frozen=True, slots=True)
class Warned:
    """The cautions that belong to the purpose of a tool.

    Attributes:
        still: What must stand still, or be locked, while it is used.
        is_not: What it must not be taken for.
        last: What its work has of danger.
    """

    still: str
    is_not: str
    last: str


def pick_up_warned(_tool: Tool) -> Warned:
    """Return the cautions of a pick-up centre."""
    return Warned(
        "Isolate the power, put the spindle out of gear, leave no key in the chuck: the spindle is "
        "turned by hand alone. Never start it with this tool in it, nor drill or mill before the "
        "tool is out.",
        "It finds a place and does nothing else: no work-holding device, no live centre, no punch. "
        "Do not lean on it, do not drag it along the work. No blows on the nose.",
        "The point is sharp: keep hands from under it and cap it when it is put away. Chips by "
        "brush before you look. No gloves, rings or loose sleeves near what turns.",
    )


def support_warned(tool: Tool) -> Warned:
    """Return the cautions of a support centre."""
    return Warned(
        "The machine's maker says what may be turned on a centre that stands still, and how fast. "
        "Without his leave isolate the power and turn the work by hand. No key in the chuck; lock "
        "tailstock and barrel before anything turns.",
        f"{WARNINGS['support centre']} Never a driver or a dog in place of the chuck, never heavy, "
        f"long or lopsided work, no interrupted cut. No blows on the nose. {_pushed(tool)}",
        "Grease the point. Stop when it squeaks, smokes or grows hot, and look at both. Stand out "
        "of the way of work that could fly. Chips by brush, not by air or hand. No gloves, rings "
        "or loose sleeves near what turns.",
    )


def _pushed(tool: Tool) -> str:
    """Return what a push along the axis does, and what stops it."""
    found = holds(tool)
    if not found:
        return ""
    each = min(found, key=lambda one: one.deep_mm)
    if each.asked.lock == "lock screw":
        return (
            "Clamp the plunger by the lock screw once it is set; let it go and set it anew when "
            "the work has grown warm, since a clamped plunger does not give way."
        )
    deep_mm, left_mm = (f"{number(mm, 1)} mm" for mm in (each.deep_mm, each.retreat_mm))
    return (
        f"The point stands {deep_mm} deep in the work, and a push along the axis drives it back by "
        f"the travel that is left, {left_mm} as it should be set: with more left than the point is "
        "deep, a push takes it right out and the work is lost."
    )
