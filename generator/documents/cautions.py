"""How the tool is put together, used and taken apart without harm."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from generator.checks.bush import held_mm, let_go_N
from generator.documents.bill import total_mass_g
from generator.documents.results import land_mm
from generator.documents.warned import Warned, pick_up_warned, support_warned
from generator.inputs.parameters import Parameters
from generator.inputs.purposes import Purpose
from generator.model.holder import holder_of
from generator.model.shank import Shank, shank_of
from generator.model.tool import Tool
from generator.standards.mounts import R8Shank
from generator.standards.rows import Thread
from generator.units import number, shown

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
    shank = shank_of(p.mount)
    grip = "" if shank.gripped is None else shown(shank.gripped.grip_mm, "mm")
    match shank.held:
        case "draw-bar":
            assert shank.draw_bar is not None
            assert p.plug is not None  # a draw-bar's mount has one
            bottom_mm = p.plug.sunk_mm
            most_mm = bottom_mm - max(0.0, tool.limit("room between draw-bar and plug").fail)
            most = min(max(most_mm, 0.0), bottom_mm)
            yield (
                f"Draw-bar: {shown(shank.draw_bar.engaged_mm, 'mm')} of thread is meant; screw "
                f"it in no further than {shown(most, 'mm')}, for at {shown(bottom_mm, 'mm')} it "
                "bottoms on the plug and the taper never tightens. "
                f"{_key(shank)}Without the draw-bar the tool ({mass}) can drop from an upright "
                "spindle: hold "
                "it, and lay a board under it."
            )
        case "gripped":
            yield (
                f"Grip at least {grip} of the shank. The tool ({mass}) can drop when the collet "
                "or chuck is opened: hold it, and lay a board under it."
            )
            yield from _gripping(tool)
            if shank.milled is not None and holder_of(p.mount) is None:
                yield (
                    f"The holder's set screw goes on the {'flats' if shank.milled.both else 'flat'}"
                    ", tightened by hand: it keeps the tool from turning and from dropping. It "
                    "pushes the shank to one side by half of its play in the holder, so that a "
                    "collet centres better."
                )
        case "arbor":
            assert shank.socket is not None
            yield (
                f"Hold the tool ({mass}) when you take it off its arbor, by wedges between the two "
                "and not by blows on the tool; eye protection."
                if shank.socket.thread is None
                else f"The arbor's thread alone holds the tool ({mass}): tapping turns no spindle "
                "here, but a spindle that is braked throws it off. Power stays off."
            )
        case _:
            yield (
                f"Nothing but its taper holds the tool ({mass}): in an upright spindle it can "
                "drop. Seat it dry and clean, and lay a board under it."
            )
            if grip:
                yield (
                    f"Held by its shank instead: grip at least {grip}, and keep jaws off the "
                    "taper; a dent in it spoils the seat."
                )
                yield from _gripping(tool)


def _gripping(tool: Tool) -> Iterator[str]:
    """Yield what is to be minded of the collet or chuck that the file names."""
    holder = holder_of(tool.parameters.mount)
    if holder is None:
        return
    told = (
        f"{holder.title} runs out {shown(holder.runout_mm, 'mm')} in all, "
        f"{shown(holder.overhang_mm, 'mm')} in front of it; put an indicator on the nose, and "
        "loosen and turn the shank to where it reads least."
    )
    if holder.collet_mm:
        told += (
            f" Take the collet of {shown(holder.collet_mm, 'mm')}, which grips "
            f"{number(holder.collet_mm)} to {shown(holder.collet_mm - holder.closes_mm, 'mm')}: a "
            "smaller shank in it is held at one end only."
        )
    yield told


def _key(shank: Shank) -> str:
    """Return what is to be minded of a key in the spindle, and of a cone that does not hold."""
    if shank.taper is None or not isinstance(shank.taper.row, R8Shank):
        return ""
    if shank.milled is None:
        return (
            "The body has no slot: take the key out of the spindle first. So steep a cone does "
            "not hold itself. "
        )
    return (
        "Turn the tool until its slot finds the key; never force it, and see that no burr stands "
        "at the slot. So steep a cone does not hold itself. "
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
    closed = "the disc, flat on the bottom"
    if p.plug is not None:
        deep = shown(p.plug.sunk_mm, "mm")
        closed = f"the plug, its rear face {deep} below the rear end, fitted for good"
    kept, last = _kept_in(p)
    if any(one.spring.bought for one in tool.in_place):
        yield (
            "Dress the cut end of a spring so that no sharp wire is left, and put that end toward "
            "the plunger."
        )
    if p.body.assembly == "rear-loaded" and p.plug is not None:
        sunk = f"the plug, its rear face {shown(p.plug.sunk_mm, 'mm')} below the rear end"
        behind = f"button, {springs}" if tool.button else springs
        tip = " The tip comes last, from the front, by two spanners." if tool.tips else ""
        yield f"Put together: plunger first{kept}. Then {behind}, and {sunk}; lock it.{tip}"
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
    if tool.bush is not None:
        yield from _bush(tool, springs, pushed, closed)
        return
    before = f"{springs}, button" if tool.button else springs
    yield (
        f"Put together: first {closed}. Then from the nose {before} and plunger; "
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


def _bush(tool: Tool, springs: str, pushed: str, closed: str) -> Iterator[str]:
    """Yield how a nose bush goes on and comes off, and which way it tends to turn.

    Args:
        tool: The tool.
        springs: What goes in behind the plunger.
        pushed: With what it pushes.
        closed: How the rear is closed.
    """
    p = tool.parameters
    assert p.bush is not None
    turns = held_mm(tool) / Thread.find(p.bush.thread).pitch_mm
    yield (
        f"Put together: first {closed}. Then from the nose {springs} and plunger, "
        f"the nose bush over its stem: press it down, it pushes with {pushed}, until the thread "
        "has caught; then home with a spanner until its flange bears all round, and lock it."
    )
    left_N = let_go_N(tool)
    after = (
        "by then the spring is slack"
        if left_N == 0
        else f"{shown(left_N, 'N')} still pushes then: press on the flange while the last turns "
        "come out"
    )
    yield (
        "Take apart: the body in a vice by soft jaws, the nose pointing away from anyone, a hand "
        f"on the flange; the thread lets go after {number(turns, 1)} turns, and {after}. Bush, "
        "plunger and springs come out by the nose; the plug stays."
    )
    yield (
        "A right-hand tap drags the plunger the way that unscrews the nose bush, and its "
        "withdrawal the other way. Look before each use that no gap shows under the flange."
    )


def _let_go(tool: Tool, slack_mm: float) -> str:
    """Return what happens where the thread ends before the springs are slack."""
    p = tool.parameters
    if p.plug is None:
        return ""
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
