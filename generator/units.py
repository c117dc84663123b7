"""Units, and the one place where a number becomes text."""

from __future__ import annotations

from typing import Final

MM_PER_INCH: Final = 25.4
N_PER_LBF: Final = 4.4482216152605

FLAG: Final = "flag"

DECIMALS: Final = {
    "mm": 3,
    "mm3": 3,
    "um": 1,
    "deg": 3,
    "turns": 3,
    "N": 1,
    "N/mm": 3,
    "MPa": 0,
    "J": 3,
    "g": 1,
    "%": 1,
    "": 2,
}


def shown(value: float, unit: str = "") -> str:
    """Return a value as the papers print it: fixed decimals of its unit, no trailing zeros.

    The unit "flag" stands for a yes, 1, or a no, 0.

    Example:
        >>> shown(12.0, "mm"), shown(0.12345, "mm"), shown(-0.0001, "mm"), shown(1, "flag")
        ('12 mm', '0.123 mm', '0 mm', 'yes')
    """
    if unit == FLAG:
        return "yes" if value >= 1 else "no"
    return f"{number(value, DECIMALS.get(unit, 3))} {unit}".rstrip()


def number(value: float, decimals: int = 3) -> str:
    """Return a bare number with at most so many decimals and no trailing zeros.

    Example:
        >>> number(14.580), number(8.0), number(-0.0004)
        ('14.58', '8', '0')
    """
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def fixed(value: float, decimals: int) -> str:
    """Return a bare number with just so many decimals, for a column of like numbers.

    Example:
        >>> fixed(14.58, 3), fixed(-0.0004, 3)
        ('14.580', '0.000')
    """
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if not float(text) else text
