"""What would make a design possible where none is: the cheapest changed limit, and purchase.

Each way is tried by itself, the cheapest kind first, in a drawer with that one change; rows of more
than two springs are left out of it, so a way is never told that does not work.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product
from math import floor, pi
from typing import Final, Literal, cast

from generator.checks import taps
from generator.choice.candidate import parameters
from generator.choice.ground import ground
from generator.choice.matters import MEASURES
from generator.choice.search import search
from generator.choice.sections import cutters_mm
from generator.choice.taking import Found
from generator.errors import StandardError
from generator.formulas import coils
from generator.inputs.drawer import (
    Matter,
    Shop,
    StockBar,
    StockReamer,
    StockScrew,
    StockSpring,
    ThreadTap,
)
from generator.inputs.quantities import DERIVED, is_derived
from generator.inputs.tables import ScrewPoint
from generator.making.stock import STOCK_MM
from generator.model.completion import down, up
from generator.model.shank import drawbar_thread_of
from generator.model.tool import design
from generator.standards.bands import SpringWire
from generator.standards.limits import Limit
from generator.standards.rows import SetScrew, Thread
from generator.units import number, shown

DEMANDS: Final[dict[str, Matter]] = {
    "taps": "taps",
    "travel_mm": "travel",
    "preload_N": "preload",
    "length_mm": "length",
    "lean_deg": "lean",
    "parts": "parts",
}
"""The keys of the demands, and what each is about."""

TALL_MM: Final = 1000.0
MOST_WARNINGS: Final = 6
"""How many of the rules that exclude most are tried with their warnings accepted."""

WIRES_MM: Final = (0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.25)
COILS: Final = (6.0, 8.0, 11.0, 15.0, 20.0)
SOLID_SHARE: Final = 0.45
"""Stress of the solid spring over the strength of its wire, as stocked springs have it; common
practice, no source."""

LOOSE_MM: Final = 0.6
"""How much smaller than the bore a spring to be bought is; engineering judgement."""

ROWS: Final = 2
TO_BUY: Final = "to buy"
SCREWS: Final = ("M3", "M4", "M5", "M6")
CUTTERS_MM: Final = (2.0, 2.5, 3.0, 4.0, 5.0)
PLUNGER_BAR: Final = "silver steel 115CrV3"
BODY_BAR: Final = "steel 11SMn30"
LONG_MM: Final = 300.0
REAMER_MM: Final = (120.0, 6.0)
"""Length of a reamer: so much and so many diameters; common practice, no source."""

LONGER_MM: Final = 60.0
DRILL_SHARE: Final = 0.9
"""How much of a reamer's length its drill reaches beyond its shank; engineering judgement."""


@dataclass(frozen=True, slots=True)
class Way:
    """One change, and the workshop with it.

    Attributes:
        text: What to change or to buy.
        shop: The workshop then.
        about: What a changed demand is about; "" for none.
    """

    text: str
    shop: Shop
    about: Matter | Literal["headroom", ""] = ""


def changes(shop: Shop, excluded: Counter[str]) -> Iterator[Way]:
    """Yield the limits that could be changed, his own first."""
    for key in DEMANDS:
        if not is_derived(getattr(shop.demands, key)):
            demands = replace(shop.demands, **{key: DERIVED})
            yield Way(f"demands.{key}", replace(shop, demands=demands), DEMANDS[key])
    machine = replace(shop.machine, headroom_mm=TALL_MM)
    yield Way("machine.headroom_mm", replace(shop, machine=machine), "headroom")
    tried = 0
    for name, _ in excluded.most_common():
        accepted = shop.wishes.accept_warnings
        if name in accepted or not _warns(name) or tried == MOST_WARNINGS:
            continue
        tried += 1
        wishes = replace(shop.wishes, accept_warnings=(*accepted, name))
        yield Way(f'accept the warning of "{name}"', replace(shop, wishes=wishes))


def _warns(name: str) -> bool:
    """Tell whether a rule is a limit of a check, so that its warning can be accepted."""
    return name in {row.name for row in Limit.rows()}


def purchases(shop: Shop) -> Iterator[Way]:
    """Yield what could be bought, one thing at a time, the cheapest kind first.

    The order of the kinds is engineering judgement: screw, spring, cutter, tap, bar, reamer.
    """
    for thread, point in product(SCREWS, ("dog long", "dog short")):
        screw = StockScrew(thread=thread, point=cast("ScrewPoint", point))
        if screw not in shop.set_screws and point in SetScrew.find(thread).points:
            more = replace(shop, set_screws=(*shop.set_screws, screw))
            yield Way(f"a set screw {thread}, {point}", more)
    wires = tuple(stocked_springs(shop, label=TO_BUY))
    yield Way("a spring", replace(shop, springs=(*shop.springs, *wires)))
    for width_mm in CUTTERS_MM:
        if width_mm not in cutters_mm(shop):
            bench = replace(shop.bench, end_mills_mm=(*shop.bench.end_mills_mm, width_mm))
            yield Way(f"an end mill of {shown(width_mm, 'mm')}", replace(shop, bench=bench))
    for thread in _threads(shop):
        tap = ThreadTap(thread=thread)
        yield Way(f"a tap {thread}", replace(shop, thread_taps=(*shop.thread_taps, tap)))
    for bar in _bars(shop):
        ground_bar = f" {bar.tolerance}" if bar.tolerance else ""
        yield Way(
            f"a bar {shown(bar.diameter_mm, 'mm')}{ground_bar}, {bar.material}",
            replace(shop, bars=(*shop.bars, bar)),
        )
    for reamer in _reamers(shop):
        yield Way(
            f"a reamer {shown(reamer.diameter_mm, 'mm')}, {shown(reamer.length_mm, 'mm')} long",
            replace(shop, reamers=(*shop.reamers, reamer)),
        )


def stocked_springs(shop: Shop, *, label: str) -> Iterator[StockSpring]:
    """Yield springs as boxes hold them, for each bore that the reamers make.

    Args:
        shop: The workshop.
        label: What they are called.
    """
    grade = "EN 10270-1 SM"
    for bore_mm, wire_mm, active in product(
        sorted({one.diameter_mm for one in shop.reamers}), WIRES_MM, COILS
    ):
        outside_mm = down(bore_mm - LOOSE_MM, 0.1)
        mean_mm = outside_mm - wire_mm
        if not 4 < mean_mm / wire_mm < 12:
            continue
        strength_MPa = SpringWire.strength_MPa(grade, wire_mm)
        give_mm = (
            SOLID_SHARE
            * strength_MPa
            * pi
            * mean_mm**2
            / (SpringWire.shear_modulus_MPa(grade, wire_mm) * wire_mm)
        )
        total = coils.total_coils(active_coils=active, ends="closed and ground")
        yield StockSpring(
            label=label,
            wire_mm=wire_mm,
            outside_mm=outside_mm,
            free_mm=float(floor(total * wire_mm + active * give_mm)),
            total_coils=total,
            wire=grade,
            count=2.0,
        )


def _threads(shop: Shop) -> Iterator[str]:
    """Yield threads that body or screw may want and that no tap of his cuts."""
    wanted = [one.thread for one in shop.set_screws]
    wanted += [drawbar_thread_of(mount) for mount in shop.mounts]
    wanted += [row.name for row in Thread.rows() if row.series == "coarse"]
    owned = {one.thread for one in shop.thread_taps}
    most_mm = 2 * max(one.diameter_mm for one in shop.reamers)
    for thread in dict.fromkeys(wanted):
        if thread and thread not in owned and Thread.find(thread).major_mm <= most_mm:
            yield thread


def _bars(shop: Shop) -> Iterator[StockBar]:
    """Yield ground bar for the reamers that have none, and bar for a larger body."""
    for bore_mm in sorted({one.diameter_mm for one in shop.reamers}):
        yield StockBar(material=PLUNGER_BAR, diameter_mm=bore_mm, length_mm=LONG_MM, tolerance="h8")
    largest_mm = max(one.diameter_mm for one in shop.bars)
    larger = [size for size in STOCK_MM if size > largest_mm and size <= largest_mm + 20]
    for size in (largest_mm, *larger[:3]):
        yield StockBar(material=BODY_BAR, diameter_mm=float(size), length_mm=LONG_MM)


def _reamers(shop: Shop) -> Iterator[StockReamer]:
    """Yield reamers for the ground bars that have none, and longer ones."""
    ground = {one.diameter_mm for one in shop.bars if one.tolerance or one.limits_um}
    for size_mm in sorted(ground | {one.diameter_mm for one in shop.reamers}):
        yield usual_reamer(size_mm)
        yield usual_reamer(size_mm, longer_mm=LONGER_MM)


def usual_reamer(diameter_mm: float, *, longer_mm: float = 0.0) -> StockReamer:
    """Return a reamer of the usual length, or a longer one, with a drill to go before it."""
    usual_mm, diameters = REAMER_MM
    length_mm = up(usual_mm + diameters * diameter_mm, 5.0) + longer_mm
    return StockReamer(
        diameter_mm=diameter_mm, length_mm=length_mm, drill_reach_mm=DRILL_SHARE * length_mm
    )


def lacking(shop: Shop, excluded: Counter[str]) -> tuple[str, ...]:
    """Return the cheapest changed limit and the cheapest purchase that make a design possible.

    Args:
        shop: A workshop that has none.
        excluded: How many combinations each rule excludes.

    Returns:
        A sentence for each; none where no single change helps.
    """
    told = []
    way, found = _first(changes(shop, excluded))
    if way and found:
        told.append(_change(way, shop))
    way, found = _first(purchases(shop))
    if way and found:
        told.append(f"Buy {_purchase(way, found)}: with it there is a design.")
    return tuple(told)


def _first(ways: Iterator[Way]) -> tuple[Way | None, Found | None]:
    """Return the first way that makes a design possible, and the design."""
    for way in ways:
        try:
            found = search(ground(way.shop, ROWS), first=True).found
        except StandardError:
            continue
        if found:
            return way, found[0]
    return None, None


def _purchase(way: Way, found: Found) -> str:
    """Return what to buy; of springs the ones that the design takes."""
    new = [piece.stock for piece in found.candidate.row if piece.stock.label == TO_BUY]
    if way.text != "a spring" or not new:
        return way.text
    sizes = [
        f"a spring {number(s.wire_mm)} x {number(s.outside_mm)} x {number(s.free_mm)} mm of "
        f"{number(s.total_coils)} coils, closed and ground"
        for s in dict.fromkeys(new)
    ]
    return " and ".join(sizes) + (", two of it" if len(new) > len(sizes) else "")


def _change(way: Way, shop: Shop) -> str:
    """Return the change with the value that would do."""
    if not way.about:
        return f"In wishes.accept_warnings {way.text}: then there is a design."
    matter: Matter = "length" if way.about == "headroom" else way.about
    wishes = replace(way.shop.wishes, matters=(matter,))
    (best, *_) = search(ground(replace(way.shop, wishes=wishes), ROWS)).found
    if way.about == "headroom":
        return f"Set {way.text} to {shown(_headroom_mm(way.shop, best), 'mm')} or more."
    bound = "at most" if MEASURES[matter].most else "at least"
    return (
        f"Set {way.text} to {bound} {MEASURES[matter].shown(best.values[matter])}: the best that "
        "can be had."
    )


def _headroom_mm(shop: Shop, found: Found) -> float:
    """Return the headroom that a design wants."""
    tool = design(parameters(shop, found.candidate))
    spare = [finding.value - finding.limit.passes for finding in taps.headroom(tool)]
    return up(shop.machine.headroom_mm - min(spare), 1.0)
