"""How sizes are written on a sheet: in millimetres or in decimal inches, with decimals that matter.

Millimetres drop the zeros behind them. Inches have no zero before the point and a fixed number of
decimals, as many as their tolerance has (ASME Y14.5). General decimals go with the general
tolerance; a size with limits of its own has finer ones.
"""

from __future__ import annotations

import re
from typing import Final

from generator.documents.drawing import Spelling, Unit
from generator.model.fits import Limits
from generator.units import MM_PER_INCH, number

GENERAL: Final[dict[Unit, int]] = {"mm": 2, "inch": 3}
FINE: Final[dict[Unit, int]] = {"mm": 3, "inch": 4}
ANGLE_DECIMALS: Final = 1
COARSE_FROM_MM: Final = 3.0
HALF_UP: Final = 1e-9
"""Lifts a half that binary numbers put a hair too low, so that halves are rounded up."""

GENERAL_INCH: Final = {"ISO 2768-f": ".002", "ISO 2768-m": ".005", "ISO 2768-c": ".010"}
"""Plus or minus on a size with three decimals; common practice, no source. Each is no wider than
ISO 2768-1 allows over 6 mm in the same class, to a thousandth."""

ANGLES_DEG: Final = {"ISO 2768-f": "1°", "ISO 2768-m": "1°", "ISO 2768-c": "1°30'"}
"""ISO 2768-1, angles whose shorter side is up to 10 mm."""

MICROINCHES: Final = {0.2: 8, 0.4: 16, 0.8: 32, 1.6: 63, 3.2: 125, 6.3: 250}
"""Preferred values of Ra in ISO 1302 and ASME B46.1, micrometres and microinches."""


def general(unit: Unit) -> Spelling:
    """Return how a size without limits of its own is written."""
    return Spelling(unit, GENERAL[unit])


def fine(unit: Unit) -> Spelling:
    """Return how a size that is fitted or gauged is written."""
    return Spelling(unit, FINE[unit])


def toleranced(unit: Unit, tolerance: str) -> Spelling:
    """Return how a size is written that has this text of limits behind it.

    Example:
        >>> toleranced("inch", "H7 (+.0006/-.0000)").decimals, toleranced("inch", "±.004").decimals
        (4, 3)
    """
    found = [len(digits) for digits in re.findall(r"\.(\d+)", tolerance)]
    return Spelling(unit, max([GENERAL[unit], *found]))


def size_text(value_mm: float, spelling: Spelling) -> str:
    """Return a length as the sheet writes it, without its unit.

    Example:
        >>> size_text(14.5829, Spelling("mm", 2)), size_text(23.0, Spelling("mm", 2))
        ('14.58', '23')
        >>> size_text(25.4 / 2, Spelling("inch", 3)), size_text(7.9375, Spelling("inch", 4))
        ('.500', '.3125')
    """
    if spelling.unit == "mm":
        return number(value_mm * (1 + HALF_UP), spelling.decimals)
    text = f"{value_mm / MM_PER_INCH * (1 + HALF_UP):.{spelling.decimals}f}"
    return text.replace("0.", ".", 1) if text.lstrip("-").startswith("0.") else text


def depth_text(value_mm: float, unit: Unit) -> str:
    """Return a depth of a hole: in millimetres to a tenth from 3 mm on, else to a hundredth.

    ISO 2768-1 allows 0.2 or more from 6 mm on in its medium class.

    Example:
        >>> depth_text(6.33, "mm"), depth_text(34.75, "mm"), depth_text(0.25, "mm")
        ('6.3', '34.8', '0.25')
        >>> depth_text(6.35, "inch")
        '.250'
    """
    if unit == "mm" and value_mm >= COARSE_FROM_MM:
        return size_text(value_mm, Spelling(unit, 1))
    return size_text(value_mm, general(unit))


def angle_text(value_deg: float) -> str:
    """Return an angle in degrees, without the sign."""
    return number(value_deg * (1 + HALF_UP), ANGLE_DECIMALS)


def limits_text(limits: Limits, unit: Unit) -> str:
    """Return limits of size behind a nominal size.

    Example:
        >>> bore = Limits(8.0, 0.0, 15.0, "H7")
        >>> limits_text(bore, "mm"), limits_text(bore, "inch")
        ('H7 (+0.015/0)', 'H7 (+.0006/-.0000)')
        >>> limits_text(Limits(7.9375, -12.7, 12.7, ""), "inch")
        '±.0005'
    """
    if unit == "mm":
        return limits.text
    upper, lower = (value / 1000 / MM_PER_INCH for value in (limits.upper_um, limits.lower_um))
    if round(upper + lower, FINE[unit]) == 0 and upper > 0:
        return f"{limits.zone} ±{_deviation(upper, '+')[1:]}".strip()
    return f"{limits.zone} ({_deviation(upper, '+')}/{_deviation(lower, '-')})".strip()


def _deviation(value_inch: float, sign_of_zero: str) -> str:
    """Return a deviation with its sign; 0 has that of the limit it is (ASME Y14.5)."""
    text = f"{abs(value_inch):.{FINE['inch']}f}".removeprefix("0")
    sign = "+" if value_inch > 0 else "-"
    return (sign_of_zero if float(text) == 0 else sign) + text


def plus_minus(value_mm: float, unit: Unit) -> str:
    """Return an equal tolerance to both sides.

    Example:
        >>> plus_minus(0.1, "mm"), plus_minus(0.1, "inch")
        ('±0.1', '±.004')
    """
    return f"±{size_text(value_mm, Spelling(unit, 3))}"


def roughness_text(value_um: float, unit: Unit) -> str:
    """Return a roughness Ra, in micrometres or microinches.

    Example:
        >>> roughness_text(0.8, "mm"), roughness_text(0.8, "inch")
        ('Ra 0.8', 'Ra 32')
    """
    if unit == "mm":
        return f"Ra {number(value_um)}"
    return f"Ra {MICROINCHES.get(value_um, round(value_um / MM_PER_INCH * 1000))}"


def general_text(tolerance: str, unit: Unit) -> str:
    """Return what the title block says of sizes without limits of their own.

    Example:
        >>> general_text("ISO 2768-m", "mm"), general_text("ISO 2768-m", "inch")
        ('ISO 2768-m', '.XXX ±.005, angles ±1°')
    """
    if unit == "mm":
        return tolerance
    return f".XXX ±{GENERAL_INCH[tolerance]}, angles ±{ANGLES_DEG[tolerance]}"
