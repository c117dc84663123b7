"""The items of the assembly: what the parts list says of each, and where each is pointed at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import Final

from generator.documents.bill import bill
from generator.documents.drawing import Spelling, Unit
from generator.documents.numerals import size_text
from generator.documents.spring_view import place_mm, upper_cut
from generator.model.assembly import Placed
from generator.model.instances import instances
from generator.model.part import DriverSlot, HexSocket, Part
from generator.model.parts import blind_end_mm
from generator.model.springs import CoilSpring
from generator.model.tool import Orientation, Tool
from generator.units import number

LISTED: Final[dict[Unit, int]] = {"mm": 2, "inch": 3}
"""Decimals of the sizes of springs."""


@dataclass(frozen=True, slots=True)
class Item:
    """A row of the parts list.

    Attributes:
        number: Its number in the list and on the view.
        quantity: How many there are.
        name: What it is.
        designation: Material of a made part; size and standard of a bought one.
        mass_g: Mass of one, of made parts only.
        z_mm: Where it is pointed at: from the nose face.
        r_mm: Likewise: above the axis.
        room_mm: How much of it is seen about that point.
    """

    number: int
    quantity: int
    name: str
    designation: str
    mass_g: float | None
    z_mm: float
    r_mm: float
    room_mm: float


def items(tool: Tool, orientation: Orientation) -> tuple[Item, ...]:
    """Return the items, numbered as they lie in the tool from its rear end to the nose."""
    placed = {each.name: each for each in instances(tool, orientation, compressed=False)}
    body, *rest = _items(tool, orientation, placed)
    rest.sort(key=lambda item: -item.z_mm)
    return tuple(replace(item, number=n) for n, item in enumerate([body, *rest], 1))


def _items(tool: Tool, orientation: Orientation, placed: dict[str, Placed]) -> Iterator[Item]:
    """Yield the items, the body first, all numbered 0."""
    billed = {item.name: item for item in bill(tool)}
    yield _body(tool)
    stop = tool.abutment
    item = _plug(placed["plug"]) if "plug" in placed else _disc(placed["disc"], 1)
    yield replace(item, quantity=billed[stop.title].quantity)
    if tool.bush is not None:
        yield _bush(tool.bush, placed["nose bush"])
    yield from _springs(tool, placed)
    separators = [each for name, each in placed.items() if name.startswith("separator")]
    if separators:
        yield _disc(separators[-1], len(separators))
    if tool.button is not None:
        yield _disc(placed["button"], 1)
    yield _plunger(tool, orientation)
    if "tip" in placed:
        yield _tip(tool, placed["tip"])
    if "ball" in placed:
        yield _ball(placed["ball"], billed["Ball"].designation)
    if "cross pin" in placed:
        yield _pin(placed["cross pin"])
    for name, aside in (("set screw", -0.25), ("jam screw", 0.25)):
        if name in placed:
            yield _screw(placed[name], billed[name.capitalize()].designation, aside)


def _made(part: Part, quantity: int, z_mm: float, r_mm: float, room_mm: float) -> Item:
    return Item(0, quantity, part.title, part.material, part.mass_g, z_mm, r_mm, room_mm)


def _body(tool: Tool) -> Item:
    """Return the body, pointed at in its wall beside the rear end."""
    outline = tool.body.outline
    plug, disc = tool.parameters.plug, tool.parameters.disc
    z_mm = outline.length_mm - max(plug.sunk_mm / 2 if plug else 0.0, 2.0)
    if disc is not None:
        z_mm = blind_end_mm(tool.parameters, disc) + 1.0
    outside_mm = outline.radius_at_mm(z_mm, inside=False)
    hollow_mm = outline.radius_at_mm(z_mm, inside=True)
    hole_mm = min(tool.body.threads[-1].major_mm / 2, outside_mm) if plug else hollow_mm
    wall_mm = outside_mm - hole_mm
    return _made(tool.body, 1, z_mm, hole_mm + wall_mm / 2, wall_mm)


def _plug(placed: Placed) -> Item:
    """Return the plug, pointed at between its vent and its thread, before slot or socket."""
    outline = placed.part.outline
    driver_mm = sum(
        cut.depth_mm for cut in placed.part.cuts if isinstance(cut, DriverSlot | HexSocket)
    )
    whole_mm = max(outline.length_mm - driver_mm, outline.length_mm / 4)
    outer_mm = placed.part.threads[0].minor_mm / 2
    vent_mm = min(corner.r_mm for corner in outline.corners)
    return _made(
        placed.part,
        1,
        placed.origin_mm[2] + whole_mm / 2,
        (outer_mm + vent_mm) / 2,
        min(whole_mm, outer_mm - vent_mm),
    )


def _bush(bush: Part, placed: Placed) -> Item:
    """Return the nose bush, pointed at in its flange."""
    flange, bore = bush.outline.surface("flange"), bush.outline.surface("bore")
    wall_mm = (flange.diameter_mm - bore.diameter_mm) / 2
    z_mm = placed.origin_mm[2] + flange.rear_mm / 2
    r_mm = bore.diameter_mm / 2 + wall_mm / 2
    return _made(bush, 1, z_mm, r_mm, min(wall_mm, flange.rear_mm))


def _disc(placed: Placed, quantity: int) -> Item:
    """Return a button or separator, pointed at in the upper half of its section."""
    outline = placed.part.outline
    holes = ("vent", "hole", "recess")
    hole_mm = max((c.r_mm for c in outline.corners if c.surface in holes), default=0.0)
    room_mm = min(outline.length_mm, outline.diameter_mm / 2 - hole_mm)
    z_mm = placed.origin_mm[2] + outline.length_mm / 2
    return _made(placed.part, quantity, z_mm, (outline.diameter_mm / 2 + hole_mm) / 2, room_mm)


def _plunger(tool: Tool, orientation: Orientation) -> Item:
    """Return the plunger, pointed at between the slot and its inner end, or in its head."""
    p = tool.parameters
    if p.shoulder is not None:
        s = p.shoulder
        z_mm = s.guide_mm + s.head_length_mm / 2
        return _made(tool.plunger, 1, z_mm, s.head_diameter_mm / 6, s.head_length_mm)
    assert p.slot is not None
    slot_rear_mm = orientation.slot_mm + p.slot.length_mm - orientation.projection_extended_mm
    inner_mm = orientation.inner_extended_mm - orientation.inner.outer_mm
    inner_mm -= orientation.inner.inner_mm
    room_mm = max(0.5, inner_mm - slot_rear_mm)
    z_mm = slot_rear_mm + room_mm / 2
    return _made(tool.plunger, 1, z_mm, tool.parameters.plunger.diameter_mm / 6, room_mm)


def _tip(tool: Tool, placed: Placed) -> Item:
    """Return the tip that is screwed in, pointed at above the axis before its flats."""
    head = placed.part.outline.surface("head")
    z_mm = placed.origin_mm[2] + head.front_mm + 0.4 * head.length_mm
    return _made(placed.part, 1, z_mm, head.diameter_mm / 4, head.diameter_mm / 2)


def _pin(placed: Placed) -> Item:
    """Return the cross pin, pointed at in its upper end."""
    outline = placed.part.outline
    r_mm = placed.origin_mm[1] + outline.length_mm - min(1.5, outline.length_mm / 4)
    return _made(placed.part, 1, placed.origin_mm[2], r_mm, outline.diameter_mm)


def _ball(placed: Placed, order_text: str) -> Item:
    """Return the ball, pointed at above its middle."""
    radius_mm = placed.part.outline.diameter_mm / 2
    return Item(
        0,
        1,
        placed.part.title,
        order_text.removeprefix("bearing "),
        None,
        placed.origin_mm[2] + radius_mm,
        radius_mm / 2,
        radius_mm,
    )


def _screw(placed: Placed, order_text: str, aside: float) -> Item:
    """Return a screw, pointed at in the upper part of its thread, so many diameters aside."""
    thread = placed.part.outline.surface("thread")
    return Item(
        0,
        1,
        placed.part.title,
        order_text.removeprefix("set screw "),
        None,
        placed.origin_mm[2] + aside * thread.diameter_mm,
        placed.origin_mm[1] + thread.rear_mm - min(1.5, thread.length_mm / 2),
        thread.diameter_mm,
    )


def _springs(tool: Tool, placed: dict[str, Placed]) -> Iterator[Item]:
    """Yield one item for each kind of spring, pointed at where the rearmost of them stands."""
    places: dict[tuple[str, CoilSpring], list[int]] = {}
    for n, outer in enumerate(tool.springs, 1):
        for each in outer.nested:
            title = "Spring" if each is outer else "Inner spring"
            places.setdefault((title, replace(each, inner=None)), []).append(n)
    for (title, spring), found in places.items():
        around = placed[f"spring {found[-1]}"]
        outer = tool.springs[found[-1] - 1]
        if title == "Spring":
            z_mm = _cut_mm(spring, around, upper_cut(spring))
        else:
            z_mm = _between_mm(spring, placed[f"spring {found[-1]} inner"], outer, around)
        designation = spring_designation(spring, tool.parameters.making.units)
        yield Item(0, len(found), title, designation, None, z_mm, spring.outside_mm / 2, 0.0)


def _cut_mm(spring: CoilSpring, placed: Placed, turn: float) -> float:
    return placed.origin_mm[2] + place_mm(spring, placed.part.outline.length_mm, turn)


def _between_mm(spring: CoilSpring, placed: Placed, outer: CoilSpring, around: Placed) -> float:
    """Return where a coil of an inner spring shows best between two coils of the outer one."""
    first = upper_cut(outer) % 1
    coils = [_cut_mm(outer, around, first + n) for n in range(ceil(outer.total_coils - first))]
    middle = upper_cut(spring)
    seen = [_cut_mm(spring, placed, max(0.0, middle + n)) for n in (0, 1, -1, 2, -2)]
    return max(seen, key=lambda z_mm: round(min(abs(z_mm - coil) for coil in coils), 6))


def mass_text(mass_g: float) -> str:
    """Return a mass as one weighs it: whole grams, tenths below ten.

    Example:
        >>> mass_text(136.72), mass_text(0.84)
        ('137', '0.8')
    """
    return number(mass_g, 0 if mass_g >= 10 else 1)


def spring_designation(spring: CoilSpring, unit: Unit) -> str:
    """Return wire, outside diameter, free length, coils and grade of a spring."""
    spelling = Spelling(unit, LISTED[unit])
    bought = spring.bought or spring
    sizes = (spring.wire_mm, spring.outside_mm, bought.free_mm)
    cut = f", cut to {size_text(spring.free_mm, spelling)}" if spring.bought else ""
    hand = ", left-hand" if spring.hand == "left" else ""
    return (
        f"{' x '.join(size_text(size, spelling) for size in sizes)}, "
        f"{number(bought.total_coils)} coils{hand}, {spring.grade}{cut}"
    )
