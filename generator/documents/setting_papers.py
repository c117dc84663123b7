"""The setting cards: what to do at the machine, hole by hole, step by step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor, isfinite
from typing import Any, Final

from generator.documents.cautions import FIRST, still
from generator.documents.equations import figure
from generator.documents.table import Column, Section, Table
from generator.model.shank import shank_of
from generator.model.tool import Tool
from generator.units import number, shown
from generator.use.settings import MOST_SETTINGS, Card, Step, cards, ejects_at_mm
from generator.use.windows import windows

DASH: Final = "\N{EN DASH}"
ENOUGH: Final = 0.05
"""One hand for less than this of the way is no use to anyone."""

POINT_SHARE: Final = 0.5
"""Length of a point at a tap's front end over the thread; a tool dealer's rule for blind holes."""


@dataclass(frozen=True, slots=True)
class Words:
    """What the moving part of the machine is called, and what is done with it."""

    quill: str
    advance: str
    retract: str
    unlock: str


MILL: Final = Words(
    "quill", "Lower the quill", "Raise the quill", "Unlock with a hand on the lever."
)
LATHE: Final = Words("barrel", "Wind the barrel out", "Wind the barrel back", "Unlock.")


def setting_section(tool: Tool) -> Section:
    """Return the cards for readers, a table for each hole and end of the plunger."""
    made = cards(tool)
    if not made:
        return Section("Setting cards", ("None: no end of the plunger serves a tap.",))
    return Section("Setting cards", tuple(_lines(tool)), tuple(_table(tool, c) for c in made))


def setting_data(tool: Tool) -> list[dict[str, Any]]:
    """Return the cards as plain data; what cannot be worked out is None."""
    return [_data(card) for card in cards(tool)]


def release(tool: Tool) -> str:
    """Return how the tool comes out of the spindle when the work is done."""
    match shank_of(tool.parameters.mount).held:
        case "pushed out":
            at = shown(ejects_at_mm(tool), "mm")
            return (
                f"To release the tool wind the {moving_part(tool).quill} back until less than "
                f"{at} of it is out, a hand under the tool. While a tap stands before it, stay "
                "further out."
            )
        case "draw-bar":
            return (
                "To release the tool slacken the draw-bar half a turn, a hand under the tool, and "
                "tap the bar's head with a soft hammer; then unscrew it."
            )
        case "taper or grip":
            return (
                "To release the tool, a hand under it: from a socket drive it out by its rear end "
                "with a soft drift, from a chuck or collet open that."
            )
        case "drift":
            return (
                "To release the tool, a hand under it, put the drift through the slot of the "
                "socket, its slope to the tang, and tap it once; no blows on the tool."
            )
        case "arbor":
            return "The tool stays on its arbor; take both out as you do a chuck on its arbor."
        case "gripped":
            return "To release the tool hold it and open the chuck or collet."


def moving_part(tool: Tool) -> Words:
    """Return what the part of this machine that carries the tool is called."""
    return LATHE if tool.parameters.machine.spindle == "horizontal" else MILL


def _lines(tool: Tool) -> Iterator[str]:
    words, machine = moving_part(tool), tool.parameters.machine
    yield FIRST
    yield still(tool)
    yield (
        f"The {words.quill} reads 0 where the tool touches the tap. A row shows how things stand "
        "when it is done. The way out has the same readings as the way in: at each, back the tap "
        "off by the turns it was turned in there and no more, or the plunger meets its stop and "
        "pushes the tap against the thread."
    )
    hands = (
        "One hand: the force is over what a one-handed pull needs to keep the cone seated; below "
        "it take both hands."
    )
    if machine.turned == "work":
        hands = (
            "Wrench at rest: the force is over what keeps the cone seated while one arm takes the "
            "torque; below it hold the wrench's free end, too."
        )
    yield (
        f"Break the chip by half a turn back and no more. {hands} That floor, the lead half in the "
        "hole and the reserves at both ends of the travel are judgement."
    )
    yield release(tool)


def _table(tool: Tool, card: Card) -> Table:
    """Return the card of one hole."""
    columns = (
        Column("step", "number"),
        Column("do this"),
        Column(f"{moving_part(tool).quill} at, mm", "number"),
        Column("tip out, mm", "number"),
        Column("force, N", "number"),
        Column("wrench" if tool.parameters.machine.turned == "work" else "hands"),
    )
    rows = _whole(tool, card) if card.steps else _refused(card)
    numbered = tuple((str(place), *row) for place, row in enumerate(rows, 1))
    return Table(_title(card), columns, numbered)


def _title(card: Card) -> str:
    tap = card.tap
    ends = f" with {' or '.join(card.ends)}"
    hole = f"{number(tap.depth_mm, 2)} mm of thread, {tap.hole}"
    return f"{tap.size} {tap.standard}{ends}, {hole}: {card.orientation.name}"


Cells = tuple[str, str, str, str, str]


def _refused(card: Card) -> Iterator[Cells]:
    """Yield the one line of a hole for which there is no card."""
    if card.usable_mm <= 0:
        text = "Not with this tool: its travel is used up by the reserves at both ends."
    else:
        count = number(card.needed_mm / card.usable_mm, 0)
        text = f"Not with this tool: it takes some {count} settings, and {MOST_SETTINGS} are many."
    yield text, DASH, DASH, DASH, DASH


def _whole(tool: Tool, card: Card) -> Iterator[Cells]:
    """Yield what is done before the first step, and the steps."""
    for text in _before(tool, card):
        yield text, DASH, DASH, DASH, DASH
    last_cut = max(i for i, step in enumerate(card.steps) if step.action == "tap")
    for place, step in enumerate(card.steps):
        last = place in (last_cut, len(card.steps) - 1)
        yield (
            _action(tool, card, step, last=last, first_back=place == last_cut + 1),
            figure(round(step.reading_mm, 3), "mm"),
            _tenths(step.projection_mm),
            _tenths(step.force_N),
            hands(tool, step) if step.action == "tap" else DASH,
        )


def _before(tool: Tool, card: Card) -> Iterator[str]:
    tap, words = card.tap, moving_part(tool)
    if not card.rounded:
        yield (
            f"The scale of the {words.quill} is too coarse for this tool: measure how far the tip "
            "stands out instead."
        )
    if tap.hole == "blind":
        mark = number(card.needed_mm, 1)
        yield (
            f"Mark the tap {mark} mm behind the front of its lead. At the mark the thread is full "
            f"for {number(tap.depth_mm, 1)} mm and {_tenths(card.clear_below_mm)} mm are clear "
            "below. A point on the tap's front end takes some "
            f"{number(POINT_SHARE * card.row.major_mm, 1)} mm of that: grind it off or drill "
            "deeper."
        )
    yield from _too_strong(tool, card)
    out_mm = ejects_at_mm(tool)
    further = f" be over {number(out_mm, 1)} mm out and" if out_mm > 0 else ""
    left = number(max(step.reading_mm for step in card.steps), 3)
    yield (
        f"Stand the tap's lead half in the hole. At touch the face of the {words.quill} is some "
        f"{number(card.gap_mm, 0)} mm from the work; it must{further} have {left} mm of travel "
        "left."
    )


def _too_strong(tool: Tool, card: Card) -> Iterator[str]:
    """Yield what to do where the force of a card is above what the tap takes."""
    (window,) = (w for w in windows(tool) if w.tap == card.tap)
    most_N = max(step.force_N for step in card.steps)
    if not most_N > window.ceiling_N:
        return
    harm = "the cone's drag hides how the tap cuts" if window.by_feel else "the tap may bend"
    ceiling = f"{_tenths(window.ceiling_N)} N"
    if card.orientation.preload_N >= window.ceiling_N:
        yield f"The force is over {ceiling} all the way, and {harm}: take a softer spring."
        return
    pushed = number(card.orientation.pushed_mm(window.ceiling_N), 1)
    yield (
        f"The force comes to {_tenths(most_N)} N. Over {ceiling}, pushed in over {pushed} mm, "
        f"{harm}: take a softer spring, or advance less at a time."
    )


def _action(tool: Tool, card: Card, step: Step, *, last: bool, first_back: bool) -> str:
    """Return one step in words."""
    words = moving_part(tool)
    way = f"{number(step.by_mm, 3)} mm"
    turns = f"{number(step.by_mm, 1)} mm, {number(step.by_mm / card.row.pitch_mm, 1)} turns"
    match step.action:
        case "touch":
            return f"{words.advance} until the tool touches the tap. Set the scale to 0."
        case "advance":
            unlock = f"{words.unlock} " if step.advance_mm > 0 else ""
            return f"{unlock}{words.advance} by {way}; lock it."
        case "tap":
            turned = "chuck" if tool.parameters.machine.turned == "work" else "tap"
            most, stop = (" at most", _stop(card)) if last else ("", "")
            return f"Turn the {turned} to cut {turns}{most}.{stop}"
        case "back off":
            return f"Back off what was cut at this reading: {turns}.{_why(card, words, first_back)}"
        case _:
            if last:
                return f"{words.unlock} {words.retract} to 0 and on until the tap is free."
            return f"{words.unlock} {words.retract} by {way}; lock it."


def _stop(card: Card) -> str:
    """Return where the last cut ends."""
    if card.tap.hole == "blind":
        return " Stop at the mark or where the torque rises: the spring hides the bottom."
    return " Stop when full thread shows on the far side."


def _why(card: Card, words: Words, first_back: bool) -> str:
    """Return why the quill has to come back before the tap is out."""
    if not first_back or card.raise_mm <= 0:
        return ""
    return (
        f" The tap has {number(card.needed_mm, 1)} mm to come back, the tool gives way only "
        f"{_tenths(card.retreat_left_mm)} mm more: {number(card.raise_mm, 1)} mm at least must "
        f"come from the {words.quill}."
    )


def hands(tool: Tool, step: Step) -> str:
    """Return how many hands the wrench takes, or how it rests where the work is turned."""
    rests = tool.parameters.machine.turned == "work"
    one = "at rest" if rests else "one"
    two = "hold its free end" if rests else "two"
    share = step.one_hand_mm / step.by_mm
    lifts = "" if step.held else "; the cone can lift"
    if share >= 1:
        return one
    if share < ENOUGH:
        return f"{two}{lifts}"
    after = number(floor(step.one_hand_mm * 10 + 1e-6) / 10, 1)
    return f"{one}; {two} after {after} mm{lifts}"


def _tenths(value: float) -> str:
    return number(value, 1) if isfinite(value) else DASH


def _data(card: Card) -> dict[str, Any]:
    tap = card.tap
    return {
        "tap": f"{tap.size} {tap.standard}",
        "place": card.place,
        "ends": list(card.ends),
        "orientation": card.orientation.key,
        "hole": tap.hole,
        "depth_mm": tap.depth_mm,
        "lead_mm": card.lead_mm,
        "needed_mm": card.needed_mm,
        "home_reserve_mm": card.home_reserve_mm,
        "usable_mm": card.usable_mm,
        "rounded": card.rounded,
        "settings_mm": list(card.settings_mm),
        "resets": card.resets,
        "retreat_left_mm": _plain(card.retreat_left_mm),
        "raise_mm": _plain(card.raise_mm),
        "floor_one_hand_N": _plain(card.floor_one_N),
        "floor_two_hands_N": _plain(card.floor_two_N),
        "gap_mm": _plain(card.gap_mm),
        "quill_mm": _plain(card.quill_mm),
        "clear_below_mm": _plain(card.clear_below_mm),
        "steps": [
            {
                "action": step.action,
                "by_mm": step.by_mm,
                "reading_mm": step.reading_mm,
                "advance_mm": step.advance_mm,
                "projection_mm": step.projection_mm,
                "force_N": _plain(step.force_N),
                "one_hand_mm": _plain(step.one_hand_mm),
                "held": step.held,
            }
            for step in card.steps
        ],
    }


def _plain(value: float) -> float | None:
    return value if isfinite(value) else None
