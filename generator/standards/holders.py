"""Tabulated holders that grip a straight shank: ER collets and drill chucks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from generator.standards.bands import Band
from generator.standards.rows import Row


@dataclass(frozen=True, slots=True, kw_only=True)
class ErCollet(Row):
    """A size of ER collets, with what of its holder lies round the shank.

    Attributes:
        clamp_least_mm: Smallest shank that any collet of the size grips.
        clamp_greatest_mm: Largest shank.
        seat_mm: Diameter of the large end of the holder's seat, which names the size.
        bore_mm: Least diameter of the holder behind the seat; None where it is not known.
        nut_thread: Thread of the nut, outside on the holder.
    """

    FILE: ClassVar = "er_collets.csv"
    SEAT_ANGLE_DEG: ClassVar = 16.0
    """Included angle of the seat; from memory, unverified: ISO 15488."""

    clamp_least_mm: float
    clamp_greatest_mm: float
    seat_mm: float
    bore_mm: float | None
    nut_thread: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ColletRunout(Band):
    """What may be expected of an ER collet for a range of nominal diameters.

    Attributes:
        standard: "ISO 15488", the one there is.
        closes_mm: How much less than its nominal diameter a collet grips.
        overhang_mm: How far in front of it the run-out is measured.
        class_1_mm: Total run-out there of a collet that is sold as class 1.
        class_2_mm: The same of an ordinary one, class 2.
    """

    FILE: ClassVar = "collet_runouts.csv"
    KEY: ClassVar = "standard"

    standard: str
    closes_mm: float
    overhang_mm: float
    class_1_mm: float
    class_2_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DrillChuck(Row):
    """A drill chuck with three jaws, named by its capacity.

    Attributes:
        clamp_greatest_mm: Largest shank.
        bar_mm: Length of the bar that it is tested with, as thick as that shank.
    """

    FILE: ClassVar = "drill_chucks.csv"
    RUNOUT_MM: ClassVar = (0.05, 0.13)
    """Total run-out of a keyless chuck, good and ordinary: an article on drill chucks, 0.002 and
    0.005 in."""
    WORN_RUNOUT_MM: ClassVar = (0.13, 0.38)
    """The same of a worn one, 0.005 and 0.015 in."""

    clamp_greatest_mm: float
    bar_mm: float


NO_HOLDER = "none"
CHUCK = "drill chuck"


def holder_names() -> tuple[str, ...]:
    """Return what a parameter file may call a holder.

    Example:
        >>> holder_names()[:3], holder_names()[-1]
        (('none', 'ER8', 'ER11'), 'drill chuck 16 mm')
    """
    chucks = (f"{CHUCK} {row.name}" for row in DrillChuck.rows())
    return (NO_HOLDER, *(row.name for row in ErCollet.rows()), *chucks)
