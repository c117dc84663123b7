"""Sixty degree screw threads: basic sizes, and how much of the thread a hole leaves.

H is the height of the sharp triangle, half the square root of 3 times the pitch P.
"""

from __future__ import annotations

from math import sqrt
from typing import Final

_SHARP_HEIGHT: Final = sqrt(3) / 2
_PITCH_DIAMETER_PART: Final = 0.75 * _SHARP_HEIGHT  # 0.649519
_BASIC_PART: Final = 1.25 * _SHARP_HEIGHT  # 1.082532
_HANDBOOK_PART: Final = 1.5 * _SHARP_HEIGHT  # 1.299038


def basic_minor_mm(*, major_mm: float, pitch_mm: float) -> float:
    """Return the basic minor diameter, D1 = D - 1.082532 P.

    Args:
        major_mm: Major diameter D.
        pitch_mm: Pitch P.

    Returns:
        Diameter at the crests of the internal thread.

    Raises:
        ValueError: If the pitch is not positive, or the major diameter too small for it.

    Source:
        ISO 68-1 and ISO 724; example: M6.

    Example:
        >>> round(basic_minor_mm(major_mm=6, pitch_mm=1), 3)
        4.917
    """
    _check(major_mm, pitch_mm)
    return major_mm - _BASIC_PART * pitch_mm


def basic_pitch_diameter_mm(*, major_mm: float, pitch_mm: float) -> float:
    """Return the basic pitch diameter, D2 = D - 0.649519 P.

    Args:
        major_mm: Major diameter D.
        pitch_mm: Pitch P.

    Returns:
        Diameter at which thread and groove are equally wide.

    Raises:
        ValueError: If the pitch is not positive, or the major diameter too small for it.

    Source:
        ISO 68-1 and ISO 724; example: M10.

    Example:
        >>> round(basic_pitch_diameter_mm(major_mm=10, pitch_mm=1.5), 3)
        9.026
    """
    _check(major_mm, pitch_mm)
    return major_mm - _PITCH_DIAMETER_PART * pitch_mm


def height_percent(*, major_mm: float, hole_mm: float, pitch_mm: float) -> float:
    """Return the height of an internal thread against the basic one, (D - hole) / (1.0825 P).

    100 is a hole at the basic minor diameter. Tapping drill charts count otherwise; they print
    `percent_of_thread`, five sixths of this.

    Args:
        major_mm: Major diameter D.
        hole_mm: Diameter of the hole before tapping.
        pitch_mm: Pitch P.

    Returns:
        Height in percent; 0 or less if the hole is no smaller than the thread.

    Raises:
        ValueError: If the hole or the pitch is not positive, or the major diameter too small for
            the pitch.

    Source:
        By ISO 68-1, basic height 5/8 H; example: M6, whose minor diameter is printed as 4.917 mm.

    Example:
        >>> round(height_percent(major_mm=6, hole_mm=4.917, pitch_mm=1))
        100
    """
    return _percent(major_mm, hole_mm, pitch_mm, _BASIC_PART)


def percent_of_thread(*, major_mm: float, hole_mm: float, pitch_mm: float) -> float:
    """Return the percent of thread as tapping drill charts print it, (D - hole) / (1.299 P).

    100 is a depth of 3/4 H, deeper than any internal thread is cut. `height_percent` counts from
    the basic minor diameter instead and reads a fifth more.

    Args:
        major_mm: Major diameter D.
        hole_mm: Diameter of the hole before tapping.
        pitch_mm: Pitch P.

    Returns:
        Percent of thread; 0 or less if the hole is no smaller than the thread.

    Raises:
        ValueError: If the hole or the pitch is not positive, or the major diameter too small for
            the pitch.

    Source:
        Machinery's Handbook, tapping, from memory, unverified; example: a gunsmith's tapping drill
        chart, tap 8-40, drill 0.1396 in, 75 percent.

    Example:
        >>> round(percent_of_thread(major_mm=0.164 * 25.4, hole_mm=0.1396 * 25.4, pitch_mm=0.635))
        75
    """
    return _percent(major_mm, hole_mm, pitch_mm, _HANDBOOK_PART)


def turns(*, length_mm: float, pitch_mm: float) -> float:
    """Return the turns that carry a single-start screw over a length.

    Args:
        length_mm: Length along the axis.
        pitch_mm: Pitch.

    Returns:
        Turns.

    Raises:
        ValueError: If the length is negative, or the pitch not positive.

    Source:
        By the definition of pitch; example: a micrometer screw of 40 threads in the inch moves
        0.025 in a turn.

    Example:
        >>> round(turns(length_mm=0.025 * 25.4, pitch_mm=25.4 / 40), 9)
        1.0
    """
    if not (length_mm >= 0 and pitch_mm > 0):
        raise ValueError(f"{length_mm=}, {pitch_mm=}")
    return length_mm / pitch_mm


def _percent(major_mm: float, hole_mm: float, pitch_mm: float, part: float) -> float:
    _check(major_mm, pitch_mm)
    if not hole_mm > 0:
        raise ValueError(f"{hole_mm=}")
    return 100 * (major_mm - hole_mm) / (part * pitch_mm)


def _check(major_mm: float, pitch_mm: float) -> None:
    if not 0 < _BASIC_PART * pitch_mm < major_mm:
        raise ValueError(f"{major_mm=}, {pitch_mm=}")
