"""A workshop file: what its owner has, the taps he has, and what matters to him.

From it the program chooses a tool; the file describes no tool itself.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from generator.inputs import rules
from generator.inputs.names import (
    ONE_LINE,
    LimitName,
    Limits_um,
    MaterialName,
    ThreadName,
    WireGrade,
    ZoneName,
)
from generator.inputs.quantities import (
    DERIVED,
    DERIVED_TEXT,
    Checked,
    Count,
    Depth,
    Entries,
    Force,
    Quantity,
    Rate,
    Size,
    Slope,
    Told,
    Words,
)
from generator.inputs.shop import (
    Alignment,
    Assumptions,
    FollowedTap,
    LimitChange,
    Machine,
    Making,
)
from generator.inputs.tables import Mount, ScrewPoint, Spring, SpringEnds
from generator.inputs.workshop import Bench

Matter = Literal["taps", "travel", "preload", "length", "lean", "parts"]
Pieces = Annotated[float, Quantity(least=1, most=1000, whole=True)]
Label = Annotated[str, Words(most=60, pattern=ONE_LINE)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What matters, and how many designs are wanted."""

    matters: Annotated[
        tuple[Matter, ...],
        Entries(1, 3),
        Told(
            'What matters, most first, three things at most: "taps" (most taps served), '
            '"travel" (most travel), "preload" (lightest preload that still holds), "length" '
            '(least length in front of the spindle), "lean" (least lean of the threads), '
            '"parts" (fewest bought parts).'
        ),
    ] = ("taps", "length", "travel")
    designs: Annotated[
        float, Quantity(least=1, most=12, whole=True), Told("How many designs are wanted, at most.")
    ] = 5.0
    accept_warnings: Annotated[
        tuple[LimitName, ...],
        Entries(0, 100),
        Told(
            "Checks whose warnings you accept, by their names; every other check must pass "
            "without one."
        ),
    ] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Demands:
    """Hard limits: a design that breaks one is no answer. Leave out what does not matter."""

    taps: Annotated[Pieces, Told("Taps to be served, at least. Derived: one.")] = DERIVED
    travel_mm: Annotated[Size, Told("Travel, at least. Derived: no limit.")] = DERIVED
    preload_N: Annotated[Force, Told("Preload, at most. Derived: no limit.")] = DERIVED
    length_mm: Annotated[
        Size,
        Told("Length from the spindle face to the tip, pushed home, at most. Derived: no limit."),
    ] = DERIVED
    lean_deg: Annotated[
        Slope, Told("Lean of every thread, for 95 % of all, at most. Derived: no limit.")
    ] = DERIVED
    parts: Annotated[
        Pieces, Told("Bought parts (springs and screws), at most. Derived: no limit.")
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class StockBar:
    """A bar in stock, for the body, for the plunger or for small parts."""

    material: Annotated[MaterialName, Told("Its material.")]
    diameter_mm: Annotated[Size, Told("Nominal diameter.")]
    length_mm: Annotated[Size, Told("Length that is left of it.")]
    tolerance: Annotated[
        ZoneName,
        Told(
            'ISO 286 zone of its diameter, such as "h8" of ground bar. Derived: not ground; it '
            "makes no plunger."
        ),
    ] = DERIVED_TEXT
    limits_um: Annotated[
        Limits_um | None,
        Told("Lower and upper deviation in micrometres, in place of the ISO 286 zone."),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class StockReamer:
    """A reamer, and the drill that goes before it."""

    diameter_mm: Annotated[Size, Told("Nominal diameter.")]
    length_mm: Annotated[Size, Told("Overall length.")]
    drill_reach_mm: Annotated[
        Size, Told("Depth that your longest drill of about that size reaches.")
    ]
    grip_mm: Annotated[Depth, Told("Length of its shank in the chuck.")] = 25.0
    tolerance: Annotated[
        ZoneName, Told('ISO 286 zone of the hole that it makes, such as "H7". Derived: H7.')
    ] = DERIVED_TEXT
    limits_um: Annotated[
        Limits_um | None,
        Told("Lower and upper deviation of the hole in micrometres, in place of the ISO 286 zone."),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadTap:
    """A tap with which threads are cut in the body: for the rear thread and for the set screw."""

    thread: Annotated[ThreadName, Told("Its thread.")]
    reach_mm: Annotated[
        Size,
        Told(
            "Depth that it reaches. Derived: from an ISO 529 tap of that thread; its thread "
            "length, or all but 25 mm if its shank passes the hole."
        ),
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class StockScrew:
    """Set screws (grub screws) of one thread and point."""

    thread: Annotated[ThreadName, Told("Thread.")]
    point: Annotated[
        ScrewPoint, Told('"dog long", "dog short", "cup", "flat" or "cone": the point.')
    ] = "dog long"
    lengths_mm: Annotated[
        tuple[Size, ...], Entries(0, 40), Told("Lengths. Leave it out for every stocked one.")
    ] = ()
    tip_mm: Annotated[
        Size, Told("Diameter of the tip, if you turn it yourself. Derived: from the standard.")
    ] = DERIVED
    tip_length_mm: Annotated[
        Size, Told("Length of the tip, if you turn it yourself. Derived: from the standard.")
    ] = DERIVED


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSpring:
    """A kind of compression spring in the drawer; a boxed assortment is best typed as a table."""

    label: Annotated[Label, Told("What is written on its compartment. Derived: its sizes.")] = (
        DERIVED_TEXT
    )
    wire_mm: Annotated[Size, Told("Diameter of the wire.")]
    outside_mm: Annotated[Size, Told("Outside diameter of the coils.")]
    free_mm: Annotated[Size, Told("Free length.")]
    total_coils: Annotated[
        Count, Told("All coils, end coils too. Derived: from active_coils and the ends.")
    ] = DERIVED
    active_coils: Annotated[
        Count, Told("Coils that give. Derived: from total_coils and the ends.")
    ] = DERIVED
    ends: Annotated[
        SpringEnds,
        Told('"closed and ground", "closed", "open" or "open and ground": the end coils.'),
    ] = "closed and ground"
    hand: Annotated[Literal["right", "left"], Told('"right" or "left": which way it is wound.')] = (
        "right"
    )
    wire: Annotated[WireGrade, Told("Grade of the wire.")] = "EN 10270-1 SM"
    rate_N_per_mm: Annotated[
        Rate, Told("Its rate in N/mm, if you measured it. Derived: from wire and coils.")
    ] = DERIVED
    count: Annotated[Pieces, Told("How many there are.")] = 1.0

    def spring(
        self, *, cut_to_mm: float | None = None, rate_N_per_mm: float | None = None
    ) -> Spring:
        """Return it as a parameter file has it.

        Args:
            cut_to_mm: Free length that it is cut down to; None for as bought.
            rate_N_per_mm: Its rate then; None for that as bought.
        """
        return Spring(
            wire_mm=self.wire_mm,
            outside_mm=self.outside_mm,
            free_mm=self.free_mm,
            total_coils=self.total_coils,
            active_coils=self.active_coils,
            ends=self.ends,
            cut_to_mm=cut_to_mm,
            hand=self.hand,
            wire=self.wire,
            rate_N_per_mm=self.rate_N_per_mm if rate_N_per_mm is None else rate_N_per_mm,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """A workshop, as its owner describes it."""

    title: Annotated[
        str, Words(least=1, most=40, pattern=ONE_LINE), Told("Whose workshop, or which corner.")
    ]
    wishes: Wishes = field(default_factory=Wishes)
    demands: Demands = field(default_factory=Demands)
    mounts: Annotated[tuple[Annotated[Mount, Checked(rules.chosen_mount)], ...], Entries(1, 12)]
    machine: Machine
    bench: Bench
    bars: Annotated[tuple[Annotated[StockBar, Checked(rules.ground_bar)], ...], Entries(1, 100)]
    reamers: Annotated[tuple[Annotated[StockReamer, Checked(rules.fit)], ...], Entries(1, 100)]
    thread_taps: Annotated[tuple[ThreadTap, ...], Entries(1, 100)]
    set_screws: Annotated[
        tuple[Annotated[StockScrew, Checked(rules.screw_point)], ...], Entries(1, 100)
    ]
    spring_files: Annotated[
        tuple[str, ...],
        Entries(0, 20),
        Told("Tables of springs beside this file, such as a boxed assortment typed from its lid."),
    ] = ()
    springs: Annotated[
        tuple[Annotated[StockSpring, Checked(rules.stock_spring)], ...], Entries(0, 500)
    ] = ()
    taps: Annotated[tuple[Annotated[FollowedTap, Checked(rules.tap_size)], ...], Entries(1, 30)]
    making: Making = field(default_factory=Making)
    alignment: Alignment = field(default_factory=Alignment)
    assumptions: Assumptions = field(default_factory=Assumptions)
    limits: dict[LimitName, LimitChange] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class SpringTable:
    """A table of springs beside a workshop file."""

    springs: Annotated[
        tuple[Annotated[StockSpring, Checked(rules.stock_spring)], ...], Entries(1, 500)
    ]
