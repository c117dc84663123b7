"""A calculation for readers: symbol, meaning, formula, numbers, result and source in a row."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import astuple, dataclass
from typing import Final

from generator.documents.signs import signed
from generator.documents.table import Column, Table

COLUMNS: Final = (
    Column("symbol", "symbol"),
    Column("what it is"),
    Column("formula", "symbol"),
    Column("in numbers"),
    Column("result", "number"),
    Column("source"),
)


@dataclass(frozen=True, slots=True)
class Calculation:
    """One row.

    Attributes:
        symbol: The symbol.
        meaning: What it stands for.
        formula: The formula, in symbols.
        numbers: The same in numbers.
        result: What comes out, with its unit.
        source: Where the formula comes from.
    """

    symbol: str
    meaning: str
    formula: str
    numbers: str
    result: str
    source: str


def calculation_table(found: Sequence[Calculation], title: str) -> Table:
    """Return calculations as a table."""
    return Table(title, COLUMNS, tuple(tuple(map(signed, astuple(each))) for each in found))
