"""Lengths and dial readings in the units of the user's rules, micrometers and dials."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor
from typing import Literal

from generator.inputs.parameters import Parameters
from generator.making.dials import Dial
from generator.units import MM_PER_INCH, fixed, number

DASH = "\N{EN DASH}"


@dataclass(frozen=True, slots=True)
class Lengths:
    """What the user measures with.

    Attributes:
        unit: "mm" or "in".
    """

    unit: Literal["mm", "in"]

    @property
    def inch(self) -> bool:
        """Whether he measures in inches."""
        return self.unit == "in"

    def cell(self, value_mm: float, decimals: int = 3) -> str:
        """Return a length as a bare number; inches have one decimal more than millimetres.

        Example:
            >>> Lengths("mm").cell(12.7), Lengths("in").cell(12.7)
            ('12.7', '0.5')
        """
        if value_mm != value_mm:
            return DASH
        if self.inch:
            return number(value_mm / MM_PER_INCH, decimals + 1)
        return number(value_mm, decimals)

    def column(self, value_mm: float, decimals: int = 3) -> str:
        """Return a length for a column of a table: as `cell`, but with all its decimals.

        Example:
            >>> Lengths("mm").column(17.78), Lengths("in").column(17.78, 2)
            ('17.780', '0.700')
        """
        if value_mm != value_mm:
            return DASH
        if self.inch:
            return fixed(value_mm / MM_PER_INCH, decimals + 1)
        return fixed(value_mm, decimals)

    def text(self, value_mm: float, decimals: int = 3) -> str:
        """Return a length with its unit.

        Example:
            >>> Lengths("in").text(25.4), Lengths("mm").text(1.23456, 2)
            ('1 in', '1.23 mm')
        """
        return f"{self.cell(value_mm, decimals)} {self.unit}"

    def both(self, value_mm: float) -> str:
        """Return a round number of millimetres in his unit, with the millimetres behind inches.

        Example:
            >>> Lengths("in").both(0.01), Lengths("mm").both(0.01)
            ('0.0004 in (0.01 mm)', '0.01 mm')
        """
        if self.inch:
            return f"{self.text(value_mm)} ({number(value_mm)} mm)"
        return self.text(value_mm)


def lengths(p: Parameters) -> Lengths:
    """Return the unit of the user's sheets, which is that of what he measures with."""
    return Lengths("in" if p.making.units == "inch" else "mm")


def dial_cell(dial: Dial, moved_mm: float) -> str:
    """Return what a dial turns by, for a column, in its own unit."""
    decimals = 4 if dial.unit == "in" else 3
    return fixed(dial.reading_mm(moved_mm) / dial.mm_per_unit, decimals)


def divisions_cell(dial: Dial, moved_mm: float) -> str:
    """Return the divisions of a movement for a column, to a tenth."""
    return fixed(dial.divisions(moved_mm), 1)


def dial_text(dial: Dial, moved_mm: float) -> str:
    """Return what a dial turns by in words: in its own unit, and in divisions.

    Example:
        >>> dial_text(Dial("cross-slide", 0.02, "diameter"), 0.15)
        '0.3 mm (15 divisions)'
    """
    decimals = 4 if dial.unit == "in" else 3
    reading = number(dial.reading_mm(moved_mm) / dial.mm_per_unit, decimals)
    count = number(dial.divisions(moved_mm), 1)
    noun = "division" if count == "1" else "divisions"
    return f"{reading} {dial.unit} ({count} {noun})"


def division_text(dial: Dial) -> str:
    """Return what one division of a dial is.

    Example:
        >>> division_text(Dial("compound", 0.0254))
        '0.001 in (0.0254 mm)'
    """
    if dial.unit == "in":
        inches = number(dial.division_mm / MM_PER_INCH, 4)
        return f"{inches} in ({number(dial.division_mm, 4)} mm)"
    return f"{number(dial.division_mm, 3)} mm"


def degrees_text(angle_deg: float) -> str:
    """Return an angle to the second, then in decimals.

    Example:
        >>> degrees_text(30.0), degrees_text(59.99999), degrees_text(1.43069)[-10:]
        ('30°', '60°', ' (1.4307°)')
    """
    seconds = floor(angle_deg * 3600 + 0.5)
    whole, rest = divmod(seconds, 3600)
    if not rest:
        return f"{whole}°"
    minutes, left = divmod(rest, 60)
    return f"{whole}° {minutes}\N{PRIME} {left}\N{DOUBLE PRIME} ({number(angle_deg, 4)}°)"
