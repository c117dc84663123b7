"""The kinds of value a parameter file may hold, and how a length is read from text."""

from __future__ import annotations

import re
from math import isnan, nan
from typing import Annotated, Any, Final

from pydantic import AfterValidator, BeforeValidator, Field, Strict, WithJsonSchema
from pydantic_core import PydanticCustomError

from generator.units import MM_PER_INCH

DERIVED: Final = nan
"""Stands for a number that the user left out and that follows from others."""

DERIVED_TEXT: Final = ""
"""Stands for a word that the user left out and that follows from others."""

LONGEST_MM: Final = 2000.0

LENGTH_TEXT: Final = r"""(?:(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)|([+-]?(?:\d+\.?\d*|\.\d+)))\s*(mm|inch|in|")"""


def is_derived(value: object) -> bool:
    """Tell whether a value is the mark of a key that the user left out."""
    return value == DERIVED_TEXT or (isinstance(value, float) and isnan(value))


def length_mm(value: Any) -> Any:
    """Return text such as "3/8 in", "1 1/4 in", "0.375 in" or "12 mm" as millimetres.

    Anything but text is returned as it came, for the next stage to judge.

    Raises:
        PydanticCustomError: If the text is no length with a unit.

    Example:
        >>> length_mm("3/8 in"), length_mm("1 1/4 in"), length_mm("12 mm"), length_mm(8)
        (9.525, 31.75, 12.0, 8)
    """
    if not isinstance(value, str):
        return value
    found = re.fullmatch(LENGTH_TEXT, value.strip(), re.ASCII)
    if found is None:
        raise PydanticCustomError("length_text", "")
    whole, over, under, number, unit = found.groups()
    if under is not None and int(under) == 0:
        raise PydanticCustomError("length_text", "")
    size = float(number) if number else int(whole or 0) + int(over) / int(under)
    return round(size if unit == "mm" else size * MM_PER_INCH, 9)


def _plain(value: float) -> float:
    return float(value)


def _length(least: dict[str, float]) -> Any:
    """Return the schema of a length: a number of millimetres, or text with its unit."""
    return WithJsonSchema(
        {
            "anyOf": [
                {"type": "number", **least, "maximum": LONGEST_MM},
                {"type": "string", "pattern": rf"^\s*{LENGTH_TEXT}\s*$"},
            ]
        }
    )


_Number = Annotated[float, Strict(), Field(allow_inf_nan=False), AfterValidator(float)]
_Length = Annotated[_Number, BeforeValidator(length_mm)]

Size = Annotated[
    _Length, Field(gt=0, le=LONGEST_MM), _length({"exclusiveMinimum": 0})
]
"""A length above zero, in millimetres or as text with its unit."""

Depth = Annotated[_Length, Field(ge=0, le=LONGEST_MM), _length({"minimum": 0})]
"""A length that may be zero."""

Count = Annotated[_Number, Field(gt=0, le=200)]
"""A number of coils; halves are allowed."""

Rate = Annotated[_Number, Field(gt=0, le=1000)]
"""A spring rate in N/mm."""

Angle = Annotated[_Number, Field(ge=30, le=120)]
"""An included angle in degrees."""

Micrometres = Annotated[_Number, Field(ge=-500, le=500)]
"""A deviation from the nominal size."""

Number = _Number
"""Any finite number."""
