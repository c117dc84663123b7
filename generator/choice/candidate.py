"""A design as the search holds it: what is taken from the drawer, and the sizes that are settled.

Sizes that nobody would choose otherwise are not settled here but derived by the model, as in any
parameter file.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final

from generator.inputs.drawer import Shop, StockBar, StockReamer, StockScrew, StockSpring, ThreadTap
from generator.inputs.parameters import Parameters
from generator.inputs.quantities import is_derived
from generator.inputs.tables import (
    Body,
    Bore,
    Button,
    CountersinkTip,
    Mount,
    PlainTip,
    Plug,
    Plunger,
    PointTip,
    RetainingScrew,
    RetainingSlot,
    Separator,
    Spring,
    Tip,
)
from generator.inputs.workshop import Bench, Workshop
from generator.making.stock import SKIN_MM
from generator.model.completion import down, with_coils
from generator.model.springs import used
from generator.standards.limits import Limit
from generator.standards.rows import Thread

THIN_MM: Final = 7.0
"""A plunger below this takes a finer chamfer round its countersink; engineering judgement."""

Style = tuple[str, str]
STYLES: Final[tuple[Style, ...]] = (
    ("point", "countersink"),
    ("point", "plain"),
    ("countersink", "plain"),
)
"""Front and rear end of the plunger."""

LAYOUTS: Final[tuple[tuple[Style, bool], ...]] = (
    (STYLES[0], True),
    (STYLES[0], False),
    (STYLES[1], True),
    (STYLES[2], True),
)
"""Ends of the plunger, and whether the slot lies just as far from both."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A spring of the drawer as it goes in.

    Attributes:
        stock: The spring in the drawer.
        cut_to_mm: Free length it is cut down to; None as bought.
    """

    stock: StockSpring
    cut_to_mm: float | None = None

    @property
    def spring(self) -> Spring:
        """Its table in a parameter file; a rate that was measured grows as coils go."""
        if self.cut_to_mm is None or is_derived(self.stock.rate_N_per_mm):
            return self.stock.spring(cut_to_mm=self.cut_to_mm)
        whole, cut = (
            used(with_coils(self.stock.spring(cut_to_mm=length_mm))).active_coils
            for length_mm in (None, self.cut_to_mm)
        )
        return self.stock.spring(
            cut_to_mm=self.cut_to_mm, rate_N_per_mm=self.stock.rate_N_per_mm * whole / cut
        )


@dataclass(frozen=True, slots=True)
class Fit:
    """A reamer, and a bar that may run in its bore."""

    reamer: StockReamer
    bar: StockBar


@dataclass(frozen=True, slots=True)
class Retention:
    """A set screw, the cutter for its slot, and the nose that holds it.

    Attributes:
        screw: The screw.
        width_mm: The cutter, and so the slot.
        length_mm: Length of the screw.
        nose_mm: Least diameter of the nose.
    """

    screw: StockScrew
    width_mm: float
    length_mm: float
    nose_mm: float


@dataclass(frozen=True, slots=True)
class Lengths:
    """The sizes along the axis that are settled.

    Attributes:
        slot_mm: Overall length of the slot.
        position_mm: Set screw, from the nose face.
        front_mm: Front tip to slot.
        plunger_mm: Plunger.
        nose_mm: Nose.
        sunk_mm: Plug, below the rear end.
        button_mm: Thickness of the button.
    """

    slot_mm: float
    position_mm: float
    front_mm: float
    plunger_mm: float
    nose_mm: float
    sunk_mm: float
    button_mm: float


@dataclass(frozen=True, slots=True)
class Candidate:
    """A design.

    Attributes:
        mount: How the machine holds it.
        rear: The tap for the rear thread.
        fit: Reamer and bar.
        style: The plunger's ends.
        retention: Screw and slot.
        body: The bar for the body.
        nose_diameter_mm: Diameter of the nose.
        lengths: Its lengths.
        row: Its springs, first the one at the plunger.
        taps: Places, from 0, of the taps that it serves.
    """

    mount: Mount
    rear: ThreadTap
    fit: Fit
    style: Style
    retention: Retention
    body: StockBar
    nose_diameter_mm: float
    lengths: Lengths
    row: tuple[Piece, ...]
    taps: tuple[int, ...]


def tip(style: str, diameter_mm: float) -> Tip:
    """Return an end of the plunger: the widest countersink that leaves a sound rim."""
    if style == "point":
        return PointTip(style="point")
    if style == "plain":
        return PlainTip(style="plain")
    chamfer_mm = 0.15 if diameter_mm < THIN_MM else 0.3
    rim_mm = Limit.find("rim of the countersink").warn
    mouth_mm = down(diameter_mm - 2 * (rim_mm + chamfer_mm), 0.1)
    return CountersinkTip(style="countersink", mouth_mm=max(mouth_mm, 0.1), chamfer_mm=chamfer_mm)


def small_parts_bar(shop: Shop, c: Candidate) -> StockBar:
    """Return the bar for plug, button and separators: the thinnest of brass or bronze, else steel.

    Where no such bar is wide enough, the body's is.
    """
    thread_mm = Thread.find(c.rear.thread).major_mm if c.rear.thread else 0.0
    wide_mm = thread_mm + SKIN_MM
    fitting = [bar for bar in shop.bars if bar.diameter_mm >= wide_mm - 1e-9]
    soft = [bar for bar in fitting if bar.material.startswith(("brass", "bronze"))]
    return min(soft, key=lambda bar: bar.diameter_mm, default=c.body)


def parameters(shop: Shop, c: Candidate, *, title: str = "", name: str = "") -> Parameters:
    """Return a design as a parameter file has it.

    Args:
        shop: The workshop.
        c: The design.
        title: Its title.
        name: Name of its pack.
    """
    bar, reamer, screw, lengths = c.fit.bar, c.fit.reamer, c.retention.screw, c.lengths
    small = small_parts_bar(shop, c).material
    bench = {field.name: getattr(shop.bench, field.name) for field in fields(Bench)}
    return Parameters(
        title=title or "Chosen design",
        name=name,
        mount=c.mount,
        body=Body(
            material=c.body.material,
            nose_diameter_mm=c.nose_diameter_mm,
            nose_length_mm=lengths.nose_mm,
        ),
        bore=Bore(
            diameter_mm=reamer.diameter_mm,
            tolerance=reamer.tolerance,
            limits_um=reamer.limits_um,
        ),
        plunger=Plunger(
            diameter_mm=bar.diameter_mm,
            material=bar.material,
            front=tip(c.style[0], bar.diameter_mm),
            rear=tip(c.style[1], bar.diameter_mm),
            length_mm=lengths.plunger_mm,
            tolerance=bar.tolerance,
            limits_um=bar.limits_um,
        ),
        slot=RetainingSlot(
            length_mm=lengths.slot_mm, width_mm=c.retention.width_mm, front_mm=lengths.front_mm
        ),
        set_screw=RetainingScrew(
            thread=screw.thread,
            point=screw.point,
            position_mm=lengths.position_mm,
            length_mm=c.retention.length_mm,
            tip_mm=screw.tip_mm,
            tip_length_mm=screw.tip_length_mm,
        ),
        springs=tuple(piece.spring for piece in c.row),
        separator=Separator(material=small) if len(c.row) > 1 else None,
        button=Button(thickness_mm=lengths.button_mm, material=small),
        plug=Plug(thread=c.rear.thread, sunk_mm=lengths.sunk_mm, material=small),
        taps=tuple(shop.taps[place] for place in c.taps),
        machine=shop.machine,
        workshop=Workshop(
            **bench,
            drill_reach_mm=reamer.drill_reach_mm,
            reamer_length_mm=reamer.length_mm,
            reamer_grip_mm=reamer.grip_mm,
            tap_reach_mm=c.rear.reach_mm,
            reamers_mm=tuple(sorted({one.diameter_mm for one in shop.reamers})),
        ),
        making=shop.making,
        alignment=shop.alignment,
        assumptions=shop.assumptions,
        limits=shop.limits,
    )
