"""The usual sets of gauge blocks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar, Final

from generator.standards.rows import Row
from generator.units import MM_PER_INCH

PARTS: Final = 10_000
"""Blocks are counted in ten-thousandths of a millimetre or inch."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeBlockSet(Row):
    """A set of gauge blocks.

    Attributes:
        unit: "mm" or "in".
        series: Its blocks: single sizes, and runs such as "1.01 to 1.19 by 0.01".
    """

    FILE: ClassVar = "gauge_block_sets.csv"

    unit: str
    series: str

    @property
    def blocks(self) -> tuple[int, ...]:
        """Its blocks, each in ten-thousandths of its unit.

        Example:
            >>> len(GaugeBlockSet.find("88-piece").blocks)
            88
        """
        return tuple(block for run in self.series.split(";") for block in _run(run))

    @property
    def mm_per_unit(self) -> float:
        """What one of its units is in millimetres."""
        return MM_PER_INCH if self.unit == "in" else 1.0


def _run(text: str) -> Iterator[int]:
    """Yield the blocks of a single size or of a run."""
    first, _, rest = text.strip().partition(" to ")
    start = int(Decimal(first) * PARTS)
    if not rest:
        yield start
        return
    last, _, step = rest.partition(" by ")
    yield from range(start, int(Decimal(last) * PARTS) + 1, int(Decimal(step) * PARTS))
