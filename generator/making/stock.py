"""The bar that each part is cut from, and how much of it goes."""

from __future__ import annotations

from math import ceil
from typing import Final

from generator.model.part import Part

STOCK_MM: Final = (
    *(3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 30, 32, 35, 40, 45, 50, 55, 60, 65, 70),
    *(75, 80, 90, 100),
)
"""Diameters of round bar that dealers keep; common practice, no source."""

SKIN_MM: Final = 1.0
"""Least that the bar is larger than the part; common practice, no source."""

FACING_MM: Final = 2.0
"""One millimetre at each end; common practice, no source."""

KERF_MM: Final = 2.5
"""Width of the saw cut or parting tool; common practice, no source."""

STUB_MM: Final = 15.0
"""What stays in the chuck; common practice, no source."""


def finished_bar(part: Part) -> bool:
    """Tell whether a part is made of finished bar: a plain plunger, and a pin."""
    return part.name == "cross-pin" or (part.name == "plunger" and not part.outline.has("head"))


def stock_mm(part: Part) -> float:
    """Return the diameter of the bar: the next in the trade over the part and its skin.

    What is made of finished bar keeps its outside.
    """
    if finished_bar(part):
        return part.outline.diameter_mm
    need_mm = part.outline.diameter_mm + SKIN_MM
    return float(next((s for s in STOCK_MM if s >= need_mm - 1e-9), 10 * ceil(need_mm / 10)))


def cut_length_mm(part: Part, quantity: int = 1) -> float:
    """Return the bar that the pieces take: each faced and sawn off, and one stub for the chuck."""
    return quantity * (part.outline.length_mm + FACING_MM + KERF_MM) + STUB_MM
