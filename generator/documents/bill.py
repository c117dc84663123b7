"""What to cut and what to buy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, nan, pi
from typing import Final

from generator.documents.numerals import general, size_text
from generator.documents.table import Column, Table
from generator.errors import StandardError
from generator.inputs.tables import RetainingScrew
from generator.making.stock import (
    cut_length_mm,
    finished_bar,
    stock_mm,
)
from generator.model import keeping
from generator.model.part import Part
from generator.model.parts import second_plug_mm
from generator.model.springs import CoilSpring
from generator.model.tool import Tool
from generator.standards.bands import SpringWire
from generator.standards.rows import Ball, SetScrew
from generator.units import MM_PER_INCH, number, shown

STANDARD_OF_POINT: Final = {
    "flat": "ISO 4026",
    "cone": "ISO 4027",
    "dog short": "ISO 4028",
    "dog long": "ISO 4028",
    "cup": "ISO 4029",
}
WORDS_OF_POINT: Final = {
    "flat": "flat point",
    "cone": "cone point",
    "dog short": "short dog",
    "dog long": "long dog",
    "cup": "cup point",
}


@dataclass(frozen=True, slots=True)
class Item:
    """One line of the bill of materials.

    Attributes:
        name: What it is.
        quantity: How many.
        made: Whether it is made; else it is bought.
        designation: Material of a made part, order text of a bought one.
        stock: Bar for a made part; "" for a bought one.
        stock_mm: Diameter of that bar; NaN for a bought part.
        cut_length_mm: Bar that all pieces together take; NaN for a bought part.
        mass_g: Mass of all pieces together; NaN where nobody weighs it.
    """

    name: str
    quantity: int
    made: bool
    designation: str
    stock: str = ""
    stock_mm: float = nan
    cut_length_mm: float = nan
    mass_g: float = nan


def stock_text(part: Part, quantity: int = 1) -> str:
    """Return the bar that a part is cut from, its length to half a millimetre: "Ø25 x 112.5"."""
    finished = " finished bar" if part.name == "plunger" and finished_bar(part) else ""
    length_mm = ceil(2 * cut_length_mm(part, quantity) - 1e-6) / 2
    return f"Ø{number(stock_mm(part))}{finished} x {number(length_mm)}"


def bill(tool: Tool) -> tuple[Item, ...]:
    """Return every line of the bill of materials, made parts first."""
    return (*_made(tool), *_bought(tool))


def total_mass_g(tool: Tool) -> float:
    """Return the mass of the whole tool, its spare tips not counted."""
    spare = [*tool.tips[1:], *([tool.ball] if tool.ball is not None and tool.ball_tip else [])]
    listed_g = sum(item.mass_g for item in bill(tool) if item.mass_g == item.mass_g)
    return listed_g - sum(part.mass_g for part in spare)


def off(tool: Tool, part: Part) -> int:
    """Return how many of a made part the tool has."""
    if part is tool.separator:
        return len(tool.springs) - 1
    return 2 if part is tool.abutment and second_plug_mm(tool.parameters) else 1


def _made(tool: Tool) -> Iterator[Item]:
    for part in tool.made_parts:
        quantity = off(tool, part)
        yield Item(
            name=part.title,
            quantity=quantity,
            made=True,
            designation=part.material,
            stock=stock_text(part, quantity),
            stock_mm=stock_mm(part),
            cut_length_mm=cut_length_mm(part, quantity),
            mass_g=quantity * part.mass_g,
        )


def _bought(tool: Tool) -> Iterator[Item]:
    p = tool.parameters
    if p.set_screw is not None and tool.crossing is not None:
        text = set_screw_text(tool, p.set_screw)
        yield Item("Set screw", 1, False, text, mass_g=tool.crossing.mass_g)
        jam = keeping.jam_screw(p)
        if p.set_screw.locking == "jam screw":
            mass_g = nan if jam is None else jam.mass_g
            yield Item("Jam screw", 1, False, _jam_screw_text(p.set_screw.thread), mass_g=mass_g)
    if tool.ball is not None:
        yield Item("Ball", 1, False, ball_text(tool.ball), mass_g=tool.ball.mass_g)
        yield Item("Retaining compound", 1, False, "for bonding, a drop under the ball")
    named = (("Inner spring" if one.inner else "Spring", one.spring) for one in tool.in_place)
    ordered = Counter((name, replace(spring, inner=None)) for name, spring in named)
    for (name, spring), quantity in ordered.items():
        mass_g = quantity * spring_mass_g(spring)
        yield Item(name, quantity, False, spring_text(spring), mass_g=mass_g)
    locked: dict[str, str] = {} if p.plug is None else {"plug": p.plug.locking}
    if p.bush is not None:
        locked = {**locked, "nose bush": p.bush.locking}
    if p.set_screw is not None:
        locked = {"set screw": p.set_screw.locking, **locked}
    glued = [name for name, locking in locked.items() if locking == "threadlocker"]
    if glued:
        places = " and the ".join(glued)
        yield Item("Threadlocker", 1, False, f"medium strength, a drop each on the {places}")
    if p.screwed_tips is not None and p.screwed_tips.locking == "threadlocker":
        yield Item("Threadlocker", 1, False, "low strength, a drop on the stud of the tip")
    if p.cross_pin is not None and p.cross_pin.locking == "retaining compound":
        yield Item("Retaining compound", 1, False, "for a slip fit, a drop on the cross pin")


def set_screw_text(tool: Tool, asked: RetainingScrew) -> str:
    """Return how the set screw is ordered, such as "set screw ISO 4028 M4 x 8, long dog".

    Source:
        Titles of ISO 4026 to ISO 4029; ASME B18.3 for inch screws.
    """
    row = {screw.name: screw for screw in SetScrew.rows()}.get(asked.thread)
    size = f"{asked.thread} x {_length_text(asked.thread, asked.length_mm)}"
    text = f"set screw {_standard(asked.thread, asked.point)} {size}"
    own = {"set_screw.tip_mm", "set_screw.tip_length_mm"}.isdisjoint(tool.derived)
    if own:
        text += f", tip turned to {_tip_text(asked.thread, asked.tip_mm, asked.tip_length_mm)}"
    elif not asked.thread.startswith("M") and asked.point.startswith("dog"):
        text += ", half dog"
    else:
        text += f", {WORDS_OF_POINT[asked.point]}"
    if row is not None and not _stocked(row, asked.point, asked.length_mm):
        text += ", cut to length"
    return text


def ball_text(ball: Part) -> str:
    """Return how a bearing ball is ordered, such as "bearing ball 4 mm, ISO 3290 G100".

    The grade is the coarsest of those sold for bearings; common practice, no source.
    """
    diameter_mm = ball.outline.diameter_mm
    row = Ball.of(diameter_mm)
    if row is None:
        return f"ball Ø{shown(diameter_mm, 'mm')}, no usual size"
    return f"bearing ball {row.name}, ISO 3290 G100"


def _standard(thread: str, point: str) -> str:
    return STANDARD_OF_POINT[point] if thread.startswith("M") else "ASME B18.3"


def _length_text(thread: str, length_mm: float) -> str:
    """Return the length of a screw: millimetres, or inches as a fraction for an inch thread."""
    inches = Fraction(length_mm / MM_PER_INCH).limit_denominator(32)
    if thread.startswith("M") or abs(float(inches) * MM_PER_INCH - length_mm) > 0.01:
        return number(length_mm) if thread.startswith("M") else shown(length_mm, "mm")
    return f"{inches} in"


def _tip_text(thread: str, tip_mm: float, length_mm: float) -> str:
    """Return the turned tip of a screw, in the unit of its thread."""
    if thread.startswith("M"):
        return f"Ø{number(tip_mm)} x {number(length_mm)} mm"
    inch = general("inch")
    return f"Ø{size_text(tip_mm, inch)} x {size_text(length_mm, inch)} in"


def _stocked(row: SetScrew, point: str, length_mm: float) -> bool:
    """Tell whether a length is in the series; one of a point that is not made is not judged."""
    try:
        lengths_mm = row.lengths_mm(point)
    except StandardError:
        return True
    return any(abs(length_mm - stocked_mm) < 0.01 for stocked_mm in lengths_mm)


def _jam_screw_text(thread: str) -> str:
    row = {screw.name: screw for screw in SetScrew.rows()}.get(thread)
    length = "" if row is None else f" x {_length_text(thread, row.flat_cone_cup_shortest_mm)}"
    return f"set screw {_standard(thread, 'flat')} {thread}{length}, flat point"


def spring_text(spring: CoilSpring) -> str:
    """Return how a spring is ordered, and to what length it is cut."""
    bought = spring.bought or spring
    hand = ", left-hand" if spring.hand == "left" else ""
    text = (
        f"wire {number(spring.wire_mm)}, outside {number(spring.outside_mm)}, "
        f"free {number(bought.free_mm)}, {number(bought.total_coils)} coils "
        f"({number(bought.active_coils)} active), ends {bought.ends}{hand}, {spring.grade}"
    )
    if spring.bought is not None:
        text += f", cut to {shown(spring.free_mm, 'mm')} ({number(spring.active_coils)} active)"
    measured = " measured" if spring.measured else ""
    return f"{text}, {shown(spring.rate_N_per_mm, 'N/mm')}{measured}"


def spring_mass_g(spring: CoilSpring) -> float:
    """Return the mass of the wire of a spring, its coils taken as rings."""
    wire_mm3 = pi * spring.wire_mm**2 / 4 * pi * spring.mean_mm * spring.total_coils
    return wire_mm3 * SpringWire.find(spring.grade).density_g_per_cm3 / 1000


def bill_tables(tool: Tool) -> tuple[Table, ...]:
    """Return the bill for readers: what is made from bar, and what is bought."""
    items = bill(tool)
    made = tuple(
        (
            item.name,
            str(item.quantity),
            item.designation,
            item.stock.rpartition(" x ")[0],
            number(item.mass_g, 1),
        )
        for item in items
        if item.made
    )
    bought = tuple(
        (
            item.name,
            str(item.quantity),
            item.designation,
            number(item.mass_g, 1) if item.mass_g == item.mass_g else "",
        )
        for item in items
        if not item.made
    )
    number_off = Column("off", "number")
    mass = Column("mass, g", "number")
    return (
        Table(
            "Made",
            (
                Column("part"),
                number_off,
                Column("material"),
                Column("bar, mm"),
                mass,
            ),
            made,
        ),
        Table("Bought", (Column("item"), number_off, Column("order as"), mass), bought),
    )


def bill_lines(tool: Tool) -> tuple[str, ...]:
    """Return what the reader must know of the bill."""
    return (f"Mass of the whole tool: {shown(total_mass_g(tool), 'g')}.",)
