"""Balls that can be bought, and the one that rests on the flank of a conical hole."""

from __future__ import annotations

from typing import Final

from generator.formulas import cone
from generator.units import MM_PER_INCH

BALLS_MM: Final = (*range(2, 21), 22, 24, 25, 28, 30)
BALLS_IN: Final = tuple(n / 16 for n in range(1, 21))
"""Whole millimetres and sixteenths of an inch are what ball bearings are sold with; common
practice, no source."""


def resting_balls(
    low_mm: float, high_mm: float, angle_deg: float, *, inch: bool
) -> tuple[tuple[float, float], ...]:
    """Return the balls that rest on a circle between two diameters, the smallest first.

    Args:
        low_mm: Least diameter of the circle.
        high_mm: Greatest diameter of the circle.
        angle_deg: Included angle of the hole.
        inch: Whether inch balls are wanted.

    Returns:
        Diameter of each ball and of its circle.

    Example:
        >>> [ball for ball, circle in resting_balls(8.0, 9.5, 60.0, inch=False)]
        [10.0]
    """
    sizes = [n * MM_PER_INCH for n in BALLS_IN] if inch else [float(n) for n in BALLS_MM]
    found = [(size, cone.ball_circle_mm(ball_mm=size, angle_deg=angle_deg)) for size in sizes]
    return tuple(each for each in found if low_mm <= each[1] <= high_mm)
