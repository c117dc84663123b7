"""How the tool is put together, used and taken apart without harm."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from generator.documents.bill import total_mass_g
from generator.documents.results import land_mm
from generator.documents.warned import Warned, pick_up_warned, support_warned
from generator.inputs.parameters import Parameters
from generator.inputs.purposes import Purpose
from generator.inputs.tables import DrawbarMount, StraightMount
from generator.model.tool import Tool
from generator.units import shown

FIRST: Final = "The machine's manual, local rules and licensed practice come first."

HARDENING: Final = (
    "Nothing of it needs hardening. Whoever hardens the tip of the plunger all the same: hot metal "
    "burns, oil takes fire, fumes harm; tongs, face shield and fresh air, a lid for the oil at "
    "hand, nothing galvanised. The tip alone: bar hardened whole bends and grows, and no longer "
    "runs in the bore. Never the body."
)
"""Engineering judgement."""


def follower_warned(tool: Tool) -> Warned:
    """Return the cautions of a tap follower."""
    return Warned(
        still(tool),
        "It is a follower: no work-holding device, no live centre. No blows on the nose.",
        "Hand taps are glass-hard: do not pry, and back off before the tap binds. Chips by brush, "
        "not by air or hand. No gloves, rings or loose sleeves near what turns.",
    )


WARNED: Final[dict[Purpose, Callable[[Tool], Warned]]] = {
    "tap follower": follower_warned,
    "pick-up centre": pick_up_warned,
    "support centre": support_warned,
}
"""The cautions that belong to each purpose."""


def cautions(tool: Tool) -> tuple[str, ...]:
    """Return the cautions in the order in which they matter."""
    warned = WARNED[tool.parameters.purpose](tool)
    return (
        FIRST,
        warned.still,
        warned.is_not,
        "Wear eye protection, most of all when the tool is put together or taken apart.",
        *_mounted(tool),
        *_put_together(tool),
        *_slot(tool),
        HARDENING,
        warned.last,
    )


def at_rest(tool: Tool) -> tuple[str, str]:
    """Return how the spindle is kept still, or free to turn by hand, and what is turned."""
    machine = tool.parameters.machine
    if machine.turned == "work":
        return "put the spindle out of gear", "chuck"
    if machine.spindle == "horizontal":
        return "hold the chuck still by a low gear", "tap"
    return "put the spindle out of gear", "tap"


def still(tool: Tool) -> str:
    """Return what must stand still while a hole is tapped, and what is turned by hand."""
    machine = tool.parameters.machine
    lathe, (gear, turned) = machine.spindle == "horizontal", at_rest(tool)
    rest = ", the wrench at rest on the slide" if lathe and turned == "chuck" else ""
    return (
        f"Isolate the power, {gear}, leave no key in the chuck. Lock the "
        f"{'barrel' if lathe else 'quill'}, then turn the {turned} by hand{rest}: never tap under "
        "power with this tool."
    )


def _mounted(tool: Tool) -> Iterator[str]:
    p = tool.parameters
    mass = shown(total_mass_g(tool), "g")
    match p.mount:
        case DrawbarMount() as mount:
            bottom_mm = p.plug.sunk_mm
            most_mm = bottom_mm - max(0.0, tool.limit("room between draw-bar and plug").fail)
            most = min(max(most_mm, 0.0), bottom_mm)
            yield (
                f"Draw-bar: {shown(mount.drawbar_engagement_mm, 'mm')} of thread is meant; screw "
                f"it in no further than {shown(most, 'mm')}, for at {shown(bottom_mm, 'mm')} it "
                "bottoms on the plug and the taper never tightens. "
                f"Without the draw-bar the tool ({mass}) can drop from an upright spindle: hold "
                "it, and lay a board under it."
            )
        case StraightMount() as mount:
            yield (
                f"Grip at least {shown(mount.grip_mm, 'mm')} of the shank. The tool ({mass}) can "
                "drop when the collet or chuck is opened: hold it, and lay a board under it."
            )
        case _:
            yield (
                f"Nothing but its taper holds the tool ({mass}): in an upright spindle it can "
                "drop. Seat it dry and clean, and lay a board under it."
            )


def _put_together(tool: Tool) -> Iterator[str]:
    p = tool.parameters
    force_N = max((o.preload_N for o in tool.orientations), default=0.0)
    slack_mm = tool.curve.free_mm - tool.length_mm(force_N)
    energy = shown(tool.energy_J(force_N), "J")
    pushed = f"{shown(force_N, 'N')} over {shown(slack_mm, 'mm')}, {energy}"
    springs = "springs, a separator between each two" if tool.separator else "springs"
    push, them = "springs push", "springs"
    if len(tool.in_place) == 1:
        springs, push, them = "spring", "spring pushes", "spring"
    sunk = f"the plug, its rear face {shown(p.plug.sunk_mm, 'mm')} below the rear end"
    kept, last = _kept_in(p)
    if any(one.spring.bought for one in tool.in_place):
        yield (
            "Dress the cut end of a spring so that no sharp wire is left, and put that end toward "
            "the plunger."
        )
    if p.body.assembly == "rear-loaded":
        behind = f"button, {springs}" if tool.button else springs
        yield f"Put together: plunger first{kept}. Then {behind}, and {sunk}; lock it."
        after = (
            "The plunger comes out by the rear."
            if not last
            else f"The {last} comes out last: with the {them} in, the plunger would leave by the "
            "nose."
        )
        yield (
            "Take apart: plug first, slowly, in a vice, the rear pointing away from anyone; the "
            f"{push} with {pushed}.{_let_go(tool, slack_mm)} {after}"
        )
        return
    before = f"{springs}, button" if tool.button else springs
    yield (
        f"Put together: first {sunk}, fitted for good. Then from the nose {before} and plunger; "
        f"hold the plunger in with the thumb, it pushes with {pushed}{kept}."
    )
    yield (
        "Take apart, or turn the plunger end for end: the nose pointing away from anyone and the "
        f"thumb on the plunger while the {last} is withdrawn; let it out slowly, it follows for "
        f"{shown(slack_mm, 'mm')}."
    )


def _kept_in(p: Parameters) -> tuple[str, str]:
    """Return how the plunger is kept in, and what is taken out last; "" for a head on a step."""
    if p.set_screw is not None and p.set_screw.locking == "shoulder":
        return (
            "; draw the set screw tight on its ledge, see that the plunger runs free",
            "set screw",
        )
    if p.set_screw is not None:
        return (
            "; turn the set screw in until it touches the floor of the slot, back it off to a gap "
            f"of {shown(p.set_screw.gap_mm, 'mm')}, lock it, and see that the plunger runs free",
            "set screw",
        )
    if p.cross_pin is not None:
        return (
            "; drive the pin through, its ends below the nose, and see that the plunger runs free",
            "cross pin",
        )
    return ", in from the rear, its head on the step", ""


def _let_go(tool: Tool, slack_mm: float) -> str:
    """Return what happens where the thread ends before the springs are slack."""
    p = tool.parameters
    held_mm = p.plug.sunk_mm + p.plug.length_mm
    if slack_mm <= held_mm:
        return ""
    left_N = tool.curve.force_N(tool.curve.free_mm - (slack_mm - held_mm))
    return (
        f" The plug leaves its thread after {shown(held_mm, 'mm')}, and {shown(left_N, 'N')} still "
        "pushes then: keep a thumb on it."
    )


def _slot(tool: Tool) -> Iterator[str]:
    exposed_mm = -land_mm(tool) if tool.parameters.slot is not None else 0.0
    if exposed_mm > 0:
        yield (
            f"With the plunger out, {shown(exposed_mm, 'mm')} of the slot shows beyond the nose: "
            "wipe it before it goes back."
        )
    else:
        yield "Wipe the plunger before it goes back into the nose; a film of oil, no more."
