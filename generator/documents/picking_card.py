"""A pick-up centre at the machine: its card, its cautions, and what the cover says of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.documents.signs import amount, digits, places
from generator.documents.table import WRITE_HERE, Column, Section, Table
from generator.documents.use_card import card_section, orders, seat_step
from generator.inputs.purposes import PickUp
from generator.model.tool import Tool
from generator.use.picking import Pick, picks

IN_FOR_FEEL_MM: Final = 2.0
"""How far the plunger is let in for a reading by feel or by indicator; engineering judgement."""


def place(asked: PickUp) -> str:
    """Return what is to be found, in words."""
    if asked.target == "hole":
        return f"a hole of {amount(asked.width_mm, 'mm')}"
    return (
        f"a punch mark {amount(asked.width_mm, 'mm')} wide, of {digits(asked.mark_angle_deg, 1)}°"
    )


def rows(tool: Tool) -> Iterator[tuple[str, str]]:
    """Yield what a pick-up centre finds, and how near."""
    for each in picks(tool):
        asked = each.asked
        yield "finds", f"{place(asked)}, in {asked.work}, read by {asked.read_by}"
        yield "one reading", off_text(each.once_mm.most, each.once_mm.worst)
        told = off_text(each.left_mm.most, each.left_mm.worst)
        yield "mean of two readings", f"{told}; asked for: {amount(asked.accept_mm, 'mm')}"


def off_text(most_mm: float, worst_mm: float) -> str:
    """Return how far off something is, as the papers say it."""
    return (
        f"95 % off by less than {places(most_mm, 3)} mm, all by less than {places(worst_mm, 3)} mm"
    )


def card(tool: Tool) -> Section:
    """Return what is done to find a place, and room for both readings."""
    found = picks(tool)
    tables = [orders(_steps(tool, found[0])), _readings()] if found else []
    return card_section((*tables, *(_figures(each) for each in found)))


def _steps(tool: Tool, pick: Pick) -> Iterator[tuple[str, str]]:
    """Yield a word for each step, and what is done."""
    what = pick.asked.target
    yield (
        "POWER OFF",
        "Isolate the power, put the spindle out of gear, so that it turns by hand. No key in the "
        "chuck.",
    )
    yield "SEAT", seat_step(tool)
    yield "WIPE", f"Burr and chips off the {what}, with a brush."
    yield "FIND", _find(pick)
    yield (
        "READ",
        "Come to it from the same side each time, for the backlash. Write down both readings.",
    )
    yield (
        "HALF A TURN",
        "Point up, clear of the work. Turn the spindle by half a turn by hand: the mark on the "
        "nose goes from front to back. Find and read again.",
    )
    yield (
        "MEAN",
        "Add both readings and halve, for each slide. Set the table to that, from the same side.",
    )
    yield "LOCK", "Lock the table. Quill up, a hand under the tool, and take it out."


def _find(pick: Pick) -> str:
    what, in_mm = pick.asked.target, amount(IN_FOR_FEEL_MM, "mm")
    match pick.asked.read_by:
        case "eye":
            return (
                f"Quill down until the tip stands a hair over the {what}. Move the table until it "
                "points at the middle, seen from the front and from the side, with a magnifier."
            )
        case "feel":
            return (
                f"Quill down until the point is in the {what} and pushed in by {in_mm}. Move the "
                "table until a finger feels no step at the nose as the plunger goes in and out."
            )
        case _:
            return (
                "Indicator on a stand on the table, its tip on the plunger; zero with the point "
                f"clear. Quill down until the plunger is pushed in by {in_mm}. Move the table "
                "until the needle stays still as the point goes in, in front and at the side."
            )


def _readings() -> Table:
    """Return room for both readings and their mean."""
    columns = (Column("spindle"), Column("along, mm"), Column("across, mm"))
    names = ("mark on the nose in front", "mark behind, half a turn on", "MEAN: set the table here")
    return Table(
        "Readings of the table", columns, tuple((name, WRITE_HERE, WRITE_HERE) for name in names)
    )


def _figures(pick: Pick) -> Table:
    """Return how near this comes, and with what force."""
    o = pick.orientation
    return Table(
        f"What to expect, {o.name}",
        (Column(""), Column("")),
        (
            ("one reading, 95 %, off by", f"{places(pick.once_mm.most, 2)} mm"),
            ("mean of two, 95 %, off by", f"{places(pick.left_mm.most, 2)} mm"),
            ("force, first touch", amount(o.preload_N, "N")),
            ("force, pushed home", amount(o.full_force_N, "N")),
            ("tip goes in", amount(round(pick.deep_mm, 2), "mm")),
        ),
    )
