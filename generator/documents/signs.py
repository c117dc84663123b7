"""Units as the papers for readers print them: their signs in place of letters."""

from __future__ import annotations

import re
from typing import Final

from generator.units import fixed, number, shown

SIGNS: Final = {"um": "\N{MICRO SIGN}m", "deg": "°", "mm3": "mm³", "g/cm3": "g/cm³"}
"""Units with another sign on paper; the others stand as they are."""

DASH: Final = "\N{EN DASH}"
_AFTER_NUMBER: Final = re.compile(r"(?<=\d) (um|deg|mm3|g/cm3)(?![\w/])")


def signed(text: str) -> str:
    """Return text with the signs of the units that follow a number; degrees stand close to it.

    Example:
        >>> signed("lower alignment.hole_deg to 0.076 deg; 37 um, 7.85 g/cm3")
        'lower alignment.hole_deg to 0.076°; 37 µm, 7.85 g/cm³'
    """
    return _AFTER_NUMBER.sub(_sign, text)


def _sign(found: re.Match[str]) -> str:
    unit = found[1]
    return SIGNS[unit] if unit == "deg" else f" {SIGNS[unit]}"


def amount(value: float, unit: str) -> str:
    """Return a value with its unit; a dash where it cannot be worked out."""
    return shown(value, unit) if value == value else DASH


def digits(value: float, decimals: int = 3) -> str:
    """Return a bare number; a dash where it cannot be worked out."""
    return number(value, decimals) if value == value else DASH


def places(value: float, decimals: int) -> str:
    """Return a bare number with just so many decimals; a dash where it cannot be worked out."""
    return fixed(value, decimals) if value == value else DASH
