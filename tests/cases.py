"""Published figures, typed as printed into `reference/*.csv`, read as test cases."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path

REFERENCE = Path(__file__).parent / "reference"


class Printed(float):
    """A printed figure, equal to every number within half of its last digit.

    The digits decide: `1.314` allows 0.0005, `25400` allows 0.5, `2.54e4` allows 50.

    Example:
        >>> Printed("1.314") == 1.3144, Printed("1.314") == 1.3146, 0.3004 == Printed("0.300")
        (True, False, True)
    """

    text: str
    half_digit: float

    def __new__(cls, text: str) -> Printed:
        """Read the figure and the place of its last digit."""
        figure = super().__new__(cls, text)
        exponent = Decimal(text).as_tuple().exponent
        if not isinstance(exponent, int):
            raise ValueError(f"{text!r} is not a printed figure")
        figure.text = text
        figure.half_digit = 0.5 * 10.0**exponent
        return figure

    def __eq__(self, other: object) -> bool:
        """Compare within half of the last digit, and 1e-9 of the figure for rounding."""
        if not isinstance(other, (int, float)):
            return NotImplemented
        return abs(float(other) - float(self)) <= self.half_digit + 1e-9 * abs(float(self))

    def __ne__(self, other: object) -> bool:
        """Return the opposite of equal; a float would compare exactly."""
        equal = self.__eq__(other)
        return equal if equal is NotImplemented else not equal

    __hash__ = None  # type: ignore[assignment]  # an approximation has no hash

    def __repr__(self) -> str:
        """Return the figure with its allowance, as a failing test shows it."""
        return f"{self.text} within {self.half_digit:g}"


@dataclass(frozen=True, slots=True)
class Case:
    """One published example.

    Attributes:
        inputs: The arguments, by name: a number where the cell is one, else text.
        published: The published answer, an approximation within half of its last digit.
        source: Edition, page, example.
    """

    inputs: dict[str, float | str]
    published: Printed
    source: str

    @property
    def numbers(self) -> dict[str, float]:
        """The inputs, all of which are numbers; for a function that takes only such."""
        return {name: float(value) for name, value in self.inputs.items()}

    def __str__(self) -> str:
        """Return a short name for the test."""
        return "-".join(str(value) for value in [*self.inputs.values(), self.published.text])


def cases(name: str) -> list[Case]:
    """Return the published examples of `reference/<name>.csv`.

    Its columns are the names of the arguments, then `published`, then `source`.
    """
    with (REFERENCE / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file, strict=True))
    if not lines:
        raise ValueError(f"{name}.csv holds no case")
    found = []
    for line in lines:
        published, source = Printed(line.pop("published")), line.pop("source")
        if not source:
            raise ValueError(f"{name}.csv: {line} has no source")
        found.append(Case({key: _value(cell) for key, cell in line.items()}, published, source))
    return found


def _value(cell: str) -> float | str:
    try:
        Decimal(cell)
    except InvalidOperation:
        return cell
    return float(cell)
