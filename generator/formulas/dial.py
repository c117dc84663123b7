"""The dials of the slides: what they read for a cut, and in which unit they count."""

from __future__ import annotations

from math import isclose

_INCH_MM = 25.4
_TEN_THOUSANDTH_MM = _INCH_MM / 10_000
_ROUND_MM = 0.005


def reading_mm(*, radial_mm: float, reads_diameter: bool) -> float:
    """Return what the dial of the cross-slide turns by for a movement across the axis.

    Args:
        radial_mm: How far the tool moves; what comes off the radius.
        reads_diameter: Whether the dial counts what comes off the diameter.

    Returns:
        Movement of the dial, of the same sign.

    Raises:
        ValueError: If the movement is not a number.

    Source:
        By the definition of the two dials; example: US Navy training manual 14345, engine lathe: a
        cut of 0.100 in takes 0.200 in off the diameter; from memory, unverified.

    Example:
        >>> reading_mm(radial_mm=0.1, reads_diameter=True)
        0.2
    """
    if radial_mm != radial_mm:
        raise ValueError(f"{radial_mm=}")
    return 2 * radial_mm if reads_diameter else radial_mm


def divisions(*, reading_mm: float, division_mm: float) -> float:
    """Return how many divisions of a dial a movement of it is.

    Args:
        reading_mm: Movement of the dial.
        division_mm: What one division is worth.

    Returns:
        Divisions, with their fraction.

    Raises:
        ValueError: If a division is not worth anything.

    Source:
        Arithmetic. The example is worked by hand.

    Example:
        >>> round(divisions(reading_mm=0.3, division_mm=0.02), 9)
        15.0
    """
    if not division_mm > 0:
        raise ValueError(f"{division_mm=}")
    return reading_mm / division_mm


def is_inch(*, division_mm: float) -> bool:
    """Tell whether a division is one of an inch dial.

    It is whole ten-thousandths of an inch and not a round number of millimetres, a multiple of
    0.005.

    Args:
        division_mm: What one division is worth.

    Raises:
        ValueError: If it is not worth anything.

    Source:
        Engineering judgement: dials are divided in 0.0005, 0.001 or 0.002 in, or in 0.005, 0.01,
        0.02, 0.025 or 0.05 mm.

    Example:
        >>> is_inch(division_mm=0.0254), is_inch(division_mm=0.025), is_inch(division_mm=0.02)
        (True, False, False)
    """
    if not division_mm > 0:
        raise ValueError(f"{division_mm=}")
    return _is_multiple(division_mm, _TEN_THOUSANDTH_MM) and not _is_multiple(
        division_mm, _ROUND_MM
    )


def _is_multiple(value_mm: float, unit_mm: float) -> bool:
    count = round(value_mm / unit_mm)
    return count >= 1 and isclose(value_mm, count * unit_mm, rel_tol=1e-6)
