"""The card for using the tool: one page in large letters, to be pinned up at the machine."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import Final

from generator.documents.cautions import FIRST, at_rest
from generator.documents.setting_papers import hands, moving_part, release
from generator.documents.table import Column, Section, Table
from generator.model.holder import holder_of
from generator.model.shank import Shank, shank_of
from generator.model.tool import Tool
from generator.units import number, shown
from generator.use.settings import Card, cards

ORDERS: Final = (Column("", "number"), Column(""), Column(""))
COARSE_N: Final = 10.0
"""A force from here on is told in whole newtons."""


def use_card(tool: Tool) -> Section:
    """Return what is done at the machine in the order in which it is done, and the readings."""
    made = tuple(card for card in cards(tool) if card.steps)
    tables = [orders(_steps(tool, again=any(card.resets for card in made)))]
    if made:
        tables.append(_readings(tool, made))
    return card_section(tables)


def orders(steps: Iterable[tuple[str, str]]) -> Table:
    """Return the steps in a table: number, word, and what is done."""
    return Table("", ORDERS, tuple((str(n), *step) for n, step in enumerate(steps, 1)))


def card_section(tables: Iterable[Table]) -> Section:
    """Return the card with its tables, in large letters."""
    first = f"{FIRST} Wear eye protection. No live centre, no work-holding."
    return Section("Card for using it", (first,), tuple(tables), large=True)


def _steps(tool: Tool, *, again: bool) -> Iterator[tuple[str, str]]:
    """Yield a word for each step, and what is done."""
    words = moving_part(tool)
    gear, turned = at_rest(tool)
    yield "POWER OFF", f"Isolate the power, {gear}. No key in the chuck. Never tap under power."
    if tool.tips:
        yield "TIP", "The tip that the table names, screwed tight: see the card for changing it."
    yield "SEAT", seat_step(tool)
    yield (
        "TOUCH",
        f"Stand the tap's lead half in the hole. {words.advance} until the tool touches the tap. "
        "Set the scale to 0.",
    )
    yield "COMPRESS", f"{words.advance} to the first reading below."
    yield "LOCK", f"Lock the {words.quill}."
    yield (
        "TAP",
        f"Turn the {turned} by hand, no further than below. Half a turn back breaks the chip, no "
        "more.",
    )
    if again:
        yield "RE-SET", f"{words.unlock} {words.advance} to the next reading, lock it, tap on."
    yield (
        "WITHDRAW",
        f"Back off what was cut at this reading, no more. {words.unlock} {words.retract} to the "
        "reading before, lock it; and so on to 0.",
    )
    yield "RELEASE", release(tool)


def seat_step(tool: Tool) -> str:
    """Return how the tool is put into the machine."""
    shank = shank_of(tool.parameters.mount)
    match shank.held:
        case "draw-bar":
            key = "" if shank.milled is None else " Slot to the spindle's key."
            return (
                f"Wipe socket and taper dry.{key} A hand under the tool, pull the draw-bar tight."
            )
        case "gripped":
            assert shank.gripped is not None
            grip = shown(shank.gripped.grip_mm, "mm")
            alone = shank.milled is not None and holder_of(tool.parameters.mount) is None
            screw = " Flat to the holder's set screw." if alone else ""
            return f"{_collet(tool)}Grip at least {grip} of the shank, a hand under it.{screw}"
        case "arbor":
            return f"Wipe arbor and socket dry. {_onto_arbor(shank)}"
        case _:
            seat = "Wipe socket and taper dry. Push the tool home by hand; no blows on the nose."
            if shank.gripped is None:
                return seat
            grip = shown(shank.gripped.grip_mm, "mm")
            return f"{seat} Or by its shank: {_collet(tool)}Grip at least {grip}."


def _collet(tool: Tool) -> str:
    """Return which holder is taken, and which collet of its set; "" where the file does not say."""
    holder = holder_of(tool.parameters.mount)
    if holder is None:
        return ""
    if not holder.collet_mm:
        return f"{holder.title}. "
    size, least_mm = number(holder.collet_mm), holder.collet_mm - holder.closes_mm
    return f"{holder.title}, collet {size} ({size} to {shown(least_mm, 'mm')}). "


def _onto_arbor(shank: Shank) -> str:
    """Return how a body is put on its arbor."""
    if shank.socket is not None and shank.socket.thread is not None:
        return "Screw the tool on by hand to the shoulder, no tighter."
    return "Push the tool on, plunger free; one tap with a soft mallet on the nose's rim."


def _readings(tool: Tool, made: tuple[Card, ...]) -> Table:
    """Return the readings of every hole, a row for each setting."""
    columns = (
        Column("tap and hole"),
        Column("plunger"),
        Column(f"{moving_part(tool).quill}, mm", "number"),
        Column("cut, mm", "number"),
        Column("force, N"),
        Column("wrench" if tool.parameters.machine.turned == "work" else "hands"),
    )
    return Table("Readings for each hole", columns, tuple(r for c in made for r in _rows(tool, c)))


def _rows(tool: Tool, card: Card) -> Iterator[tuple[str, ...]]:
    tap = card.tap
    named = (
        f"{tap.size} {tap.standard}, {number(tap.depth_mm, 1)} {tap.hole}",
        card.orientation.name,
    )
    for before, cut in pairwise(card.steps):
        if cut.action == "tap":
            yield (
                *named,
                number(cut.reading_mm, 3),
                number(cut.by_mm, 1),
                f"{_force(before.force_N)} to {_force(cut.force_N)}",
                hands(tool, cut),
            )
            named = ("", "")


def _force(force_N: float) -> str:
    return number(force_N, 0 if force_N >= COARSE_N else 1)
