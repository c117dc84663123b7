"""Speeds, feeds and depths of cutting metal on a small lathe and mill."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi
from typing import Final

FIRST_PECK: Final = 3.0
PECK: Final = 1.0
DEEP_PECK: Final = 0.5
LAST_PECK: Final = 0.5
DEEP: Final = 8.0
"""Pecks in drill diameters, and the depth from which they are halved: common practice, no source.
Published rules agree on about 3 diameters without a peck and on 8 as the end of ordinary pecking.
"""


def spindle_rpm(*, speed_m_per_min: float, diameter_mm: float) -> float:
    """Return the speed of the spindle for a cutting speed, 1000 v / (pi D).

    Args:
        speed_m_per_min: Cutting speed v.
        diameter_mm: Diameter D of the work that is turned or of the cutter that turns.

    Returns:
        Turns in a minute.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        By the definition of cutting speed; example: a machinists' page of speeds and feeds, a half
        inch end mill at 100 ft/min, 764 rpm.

    Example:
        >>> round(spindle_rpm(speed_m_per_min=100 * 0.3048, diameter_mm=0.5 * 25.4))
        764
    """
    _check_positive(speed_m_per_min=speed_m_per_min, diameter_mm=diameter_mm)
    return 1000 * speed_m_per_min / (pi * diameter_mm)


def cutting_speed_m_per_min(*, rpm: float, diameter_mm: float) -> float:
    """Return the cutting speed of a spindle speed, pi D n / 1000.

    Args:
        rpm: Turns in a minute n.
        diameter_mm: Diameter D of the work or of the cutter.

    Returns:
        Cutting speed.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        As for `spindle_rpm`, the same example read backward.

    Example:
        >>> round(cutting_speed_m_per_min(rpm=764, diameter_mm=12.7) / 0.3048)
        100
    """
    _check_positive(rpm=rpm, diameter_mm=diameter_mm)
    return pi * diameter_mm * rpm / 1000


def feed_mm_per_min(*, rpm: float, feed_mm_per_tooth: float, teeth: int) -> float:
    """Return the feed of a table under a cutter, n f z.

    Args:
        rpm: Turns of the cutter in a minute n.
        feed_mm_per_tooth: Feed f for each tooth.
        teeth: Teeth of the cutter z.

    Returns:
        Feed in a minute.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        By the definition of feed; example: a machinists' page of speeds and feeds, two flutes,
        0.001 in a tooth, 800 rpm, 1.6 in/min.

    Example:
        >>> round(feed_mm_per_min(rpm=800, feed_mm_per_tooth=0.0254, teeth=2) / 25.4, 3)
        1.6
    """
    _check_positive(rpm=rpm, feed_mm_per_tooth=feed_mm_per_tooth, teeth=teeth)
    return rpm * feed_mm_per_tooth * teeth


def peck_depths_mm(*, depth_mm: float, diameter_mm: float) -> tuple[float, ...]:
    """Return the depths at which a drill is drawn out and cleared, the last the whole depth.

    The first bite is three diameters, then one each, below eight diameters half of one; a last
    bite of half a diameter or less goes with the one before.

    Args:
        depth_mm: Depth of the hole.
        diameter_mm: Diameter of the drill.

    Returns:
        Rising depths from the face; one alone for a shallow hole.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Common practice, no source; example worked by hand.

    Example:
        >>> peck_depths_mm(depth_mm=45, diameter_mm=5)
        (15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0)
        >>> peck_depths_mm(depth_mm=9, diameter_mm=5)
        (9.0,)
    """
    _check_positive(depth_mm=depth_mm, diameter_mm=diameter_mm)
    depths = []
    deep_mm = FIRST_PECK * diameter_mm
    while deep_mm < depth_mm - LAST_PECK * diameter_mm:
        depths.append(deep_mm)
        deep_mm += (PECK if deep_mm < DEEP * diameter_mm - 1e-9 else DEEP_PECK) * diameter_mm
    return (*depths, float(depth_mm))


def nearest_below(values: Sequence[float], most: float) -> float | None:
    """Return the greatest of the values that does not exceed a number; None if all do.

    Example:
        >>> nearest_below((60, 100, 160), 150), nearest_below((60, 100), 45)
        (100, None)
    """
    fitting = [value for value in values if value <= most * (1 + 1e-9)]
    return max(fitting) if fitting else None


def dial_divisions(*, distance_mm: float, division_mm: float) -> float:
    """Return the divisions of a dial that a slide moves by.

    Raises:
        ValueError: If the division is not positive.

    Source:
        By the definition of a dial; example: a thimble of 0.001 in divisions goes once round, 25
        divisions, for 0.025 in.

    Example:
        >>> round(dial_divisions(distance_mm=0.025 * 25.4, division_mm=0.0254), 6)
        25.0
    """
    _check_positive(division_mm=division_mm)
    return distance_mm / division_mm


def _check_positive(**values: float) -> None:
    for name, value in values.items():
        if not value > 0:
            raise ValueError(f"{name}={value}")
