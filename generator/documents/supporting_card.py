"""A support centre at the machine: its card, its cautions, and what the cover says of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.documents.signs import amount, digits, places
from generator.documents.table import Column, Section, Table
from generator.documents.use_card import card_section, orders, seat_step
from generator.inputs.purposes import Support
from generator.model.tool import Tool
from generator.use.supporting import Hold, holds

LEAST_LEFT_MM: Final = 0.5
"""Travel below which the plunger is set anew; engineering judgement."""


def work(asked: Support) -> str:
    """Return what is steadied, in words."""
    return (
        f"Ø{digits(asked.diameter_mm, 1)} x {digits(asked.length_mm, 0)} of {asked.work}, centre "
        f"hole {asked.centre}, {_speed(asked)}"
    )


def _speed(asked: Support) -> str:
    return f"{digits(asked.rpm, 0)} turns a minute" if asked.rpm > 0 else "turned by hand"


def rows(tool: Tool) -> Iterator[tuple[str, str]]:
    """Yield what a support centre steadies, and how."""
    for each in holds(tool):
        asked = each.asked
        yield "steadies", work(asked)
        yield (
            "thrust",
            f"{amount(each.thrust_N, 'N')}, pushed in by {amount(asked.set_mm, 'mm')}; "
            f"{amount(each.warm_N, 'N')} when the work is {digits(asked.warmer_K, 0)} K warmer",
        )
        yield (
            "side load held",
            f"{amount(each.held_N, 'N')}; there is {amount(each.load_N, 'N')}",
        )
        yield (
            "off the spindle's axis",
            f"95 % by less than {places(each.off_mm.most, 3)} mm, all by less than "
            f"{places(each.off_mm.worst, 3)} mm; asked for: {amount(asked.accept_mm, 'mm')}",
        )


def card(tool: Tool) -> Section:
    """Return what is done to support work, and the figures for it."""
    found = holds(tool)
    tables = [orders(_steps(tool, found[0]))] if found else []
    return card_section((*tables, *(_figures(each) for each in found)))


def _steps(tool: Tool, hold: Hold) -> Iterator[tuple[str, str]]:
    """Yield a word for each step, and what is done."""
    asked = hold.asked
    yield "POWER OFF", "Isolate the power. Work tight in the chuck, no key in it."
    yield "SEAT", seat_step(tool)
    yield "GREASE", "Wipe centre hole and point; grease both."
    yield (
        "TOUCH",
        "Tailstock up and locked. Barrel forward until the point touches. Set the scale to 0.",
    )
    yield (
        "SET",
        f"Barrel forward by {amount(asked.set_mm, 'mm')}. Lock the barrel.",
    )
    if asked.lock == "lock screw":
        yield "CLAMP", "Tighten the lock screw while anything may push the work."
    yield "TRY", "Turn the work by hand: it turns freely and does not shake."
    yield (
        "WORK",
        "By hand, light cuts toward the chuck. Under power only where the machine's manual allows "
        "a centre that stands still, and no faster.",
    )
    loose = "Let the lock screw go. " if asked.lock == "lock screw" else ""
    yield (
        "WARM",
        f"{loose}Look at the plunger: less than {amount(LEAST_LEFT_MM, 'mm')} of travel left, or "
        "warm to the hand: stop, unlock, go back to TOUCH.",
    )
    yield "RELEASE", "Stop. A hand on the work, unlock the barrel, wind it back slowly."


def _figures(hold: Hold) -> Table:
    """Return the figures that are wanted at the machine."""
    o, asked = hold.orientation, hold.asked
    out_mm = o.projection_extended_mm - asked.set_mm
    return Table(
        f"Figures, {o.name}",
        (Column(""), Column("")),
        (
            ("for", work(asked)),
            ("barrel forward after touch", amount(asked.set_mm, "mm")),
            ("tip then out of the nose", amount(round(out_mm, 2), "mm")),
            ("thrust", amount(hold.thrust_N, "N")),
            ("thrust, work warm", amount(hold.warm_N, "N")),
            ("side load it holds", amount(hold.held_N, "N")),
            ("travel left, work warm", amount(round(hold.left_mm, 2), "mm")),
        ),
    )
