"""The kinds of value a parameter file may hold, and how a length is read from text.

The marks here stand in the annotations of the parameters; each turns the validator of a field into
a narrower one.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from math import isnan, nan
from typing import Annotated, Any, Final, cast

from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from generator.units import MM_PER_INCH

DERIVED: Final = nan
"""Stands for a number that the user left out and that follows from others."""

DERIVED_TEXT: Final = ""
"""Stands for a word that the user left out and that follows from others."""

LONGEST_MM: Final = 2000.0
SHORTEST_MM: Final = 0.001
"""A length below this is a slip of the pen; a chamfer of it would be a run of no length."""

LARGEST_ERROR_MM: Final = 5

_WHOLE: Final = r"([0-9]{1,6})"
_DECIMAL: Final = r"([+-]?(?:[0-9]{1,6}\.?[0-9]{0,18}|\.[0-9]{1,18}))"
LENGTH_TEXT: Final = rf'(?:(?:{_WHOLE} +)?{_WHOLE} */ *{_WHOLE}|{_DECIMAL}) *(mm|inch|in|")'


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
    found = re.fullmatch(LENGTH_TEXT, value.strip(" "))
    if found is None:
        raise PydanticCustomError("length_text", "")
    whole, over, under, number, unit = found.groups()
    if under is not None and int(under) == 0:
        raise PydanticCustomError("length_text", "")
    size = float(number) if number else int(whole or 0) + int(over) / int(under)
    return round(size if unit == "mm" else size * MM_PER_INCH, 9)


def _coarse(value: float) -> float:
    if 0 < value < SHORTEST_MM:
        raise PydanticCustomError("too_short_a_length", "")
    return float(value)


@dataclass(frozen=True, slots=True)
class Quantity:
    """What makes a number of a field: strict, finite and within a range.

    Attributes:
        over: The number must exceed this.
        least: The number must be at least this.
        most: The number must be at most this.
        length: Whether text with a unit serves too.
        whole: Whether it must be a whole number.
    """

    over: float | None = None
    least: float | None = None
    most: float | None = None
    length: bool = False
    whole: bool = False

    def schema(self, _inner: CoreSchema) -> CoreSchema:
        """Return the validator."""
        strict = core_schema.float_schema(
            strict=True,
            allow_inf_nan=False,
            gt=self.over,
            ge=self.least,
            le=self.most,
            multiple_of=1 if self.whole else None,
        )
        whole = _coarse if self.length else float
        number = core_schema.no_info_after_validator_function(whole, strict)
        if not self.length:
            return number
        text = core_schema.str_schema(pattern=rf"^\s*{LENGTH_TEXT}\s*$")
        return core_schema.no_info_before_validator_function(
            length_mm, number, json_schema_input_schema=core_schema.union_schema([strict, text])
        )


@dataclass(frozen=True, slots=True)
class OneOf:
    """What makes a text one of the names of a table.

    Attributes:
        names: Returns the names.
    """

    names: Callable[[], tuple[str, ...]]

    def schema(self, _inner: CoreSchema) -> CoreSchema:
        """Return the validator."""
        names = self.names()
        return core_schema.no_info_before_validator_function(
            lambda value: known(names, value) if isinstance(value, str) else value,
            core_schema.str_schema(strict=True),
            json_schema_input_schema=core_schema.literal_schema(list(names)),
        )


@dataclass(frozen=True, slots=True)
class Words:
    """What makes a text of a field: its length and form."""

    least: int | None = None
    most: int | None = None
    pattern: str | None = None

    def schema(self, _inner: CoreSchema) -> CoreSchema:
        """Return the validator."""
        return core_schema.str_schema(
            strict=True, min_length=self.least, max_length=self.most, pattern=self.pattern
        )


@dataclass(frozen=True, slots=True)
class Entries:
    """How many entries a list must have."""

    least: int
    most: int

    def schema(self, inner: CoreSchema) -> CoreSchema:
        """Return the validator; it counts what the file holds, good entries or bad."""
        return core_schema.no_info_before_validator_function(
            self._counted,
            inner,
            json_schema_input_schema=cast(
                "CoreSchema", {**inner, "min_length": self.least, "max_length": self.most}
            ),
        )

    def _counted(self, value: Any) -> Any:
        if isinstance(value, list) and not self.least <= len(value) <= self.most:
            raise PydanticCustomError(
                "count", "", {"least": self.least, "most": self.most, "count": len(value)}
            )
        return value


@dataclass(frozen=True, slots=True)
class Checked:
    """A rule between the keys of one table.

    Attributes:
        rule: Returns the value, or raises what is wrong with it.
    """

    rule: Callable[[Any], Any]

    def schema(self, inner: CoreSchema) -> CoreSchema:
        """Return the validator."""
        return core_schema.no_info_after_validator_function(self.rule, inner)


@dataclass(frozen=True, slots=True)
class Told:
    """The explanation of a key, for its comment and for the schema."""

    text: str

    def schema(self, inner: CoreSchema) -> CoreSchema:
        """Return the validator as it is."""
        return inner


def known(names: tuple[str, ...], value: str, *, key: str = "") -> str:
    """Return a text that is one of the names.

    Raises:
        PydanticCustomError: If it is none of them; the names there are go with it.
    """
    if value not in names:
        raise PydanticCustomError("unknown_size", "", {"names": names, "key": key, "value": value})
    return value


Size = Annotated[float, Quantity(over=0, most=LONGEST_MM, length=True)]
"""A length above zero, in millimetres or as text with its unit."""

Depth = Annotated[float, Quantity(least=0, most=LONGEST_MM, length=True)]
"""A length that may be zero."""

Count = Annotated[float, Quantity(over=0, most=200)]
"""A number of coils; halves are allowed."""

Rate = Annotated[float, Quantity(over=0, most=1000)]
"""A spring rate in N/mm."""

Angle = Annotated[float, Quantity(least=30, most=120)]
"""An included angle in degrees."""

Micrometres = Annotated[float, Quantity(least=-500, most=500)]
"""A deviation from the nominal size."""

Threads = Annotated[float, Quantity(over=0, most=20)]
"""A number of threads."""

Force = Annotated[float, Quantity(least=0, most=5000)]
"""A force in newtons."""

Grams = Annotated[float, Quantity(least=0, most=5000)]
"""A mass."""

Slope = Annotated[float, Quantity(least=0, most=5)]
"""A lean, in degrees or in millimetres over a stated length."""

Factor = Annotated[float, Quantity(over=0, most=1e6)]
"""A plain number above zero."""

Rpm = Annotated[float, Quantity(over=0, most=30000)]
"""A speed of a spindle."""

Weight = Annotated[float, Quantity(least=0, most=200_000)]
"""A mass of work."""

Speed = Annotated[float, Quantity(least=0, most=3000)]
"""A speed of work, in turns a minute; it may stand still."""

Warmth = Annotated[float, Quantity(least=0, most=300)]
"""A rise of temperature in kelvin."""

Error = Annotated[float, Quantity(least=0, most=LARGEST_ERROR_MM, length=True)]
"""How far a thing is out of its place."""

Share = Annotated[float, Quantity(over=0, most=1)]
"""A share of a whole."""

Safety = Annotated[float, Quantity(least=1, most=100)]
"""A factor of safety."""

Percent = Annotated[float, Quantity(least=0, most=50)]
"""A share in hundredths."""

Number = Annotated[float, Quantity()]
"""Any finite number."""
