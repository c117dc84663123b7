"""One line of an inspection sheet: a size with its limits, and what the gauge should read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from math import nan

from generator.inputs.parameters import Parameters
from generator.making.sizes import Size
from generator.model.limit_sizes import off_mm
from generator.use.bands import Span

YES = Span(nan, nan, nan)
"""The limits of what is right or wrong and has no size."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line of an inspection sheet.

    Attributes:
        what: What is measured.
        limits: Its nominal, least and greatest; NaN where there is but right or wrong.
        how: How it is measured, with the sizes of pins, rollers and balls.
        reading: What the gauge should read, at nominal, least and greatest; that of the size itself
            where the gauge shows it.
        key: Its key in the file of measured sizes; "" for none.
        unit: Unit of the size.
        reading_unit: Unit of the reading.
        at: Of a force: which end of the plunger is at work, and how far it stands out.
    """

    what: str
    limits: Span
    how: str
    reading: Span | None = None
    key: str = ""
    unit: str = "mm"
    reading_unit: str = "mm"
    at: tuple[str, float] | None = None

    @property
    def reads(self) -> Span:
        """What the gauge should read."""
        return self.limits if self.reading is None else self.reading

    @property
    def judged(self) -> bool:
        """Whether it is right or wrong without a size."""
        return self.limits.nominal != self.limits.nominal

    @classmethod
    def of(
        cls,
        size: Size,
        how: str,
        reading: Span | None = None,
        *,
        unit: str = "mm",
        reading_unit: str = "mm",
    ) -> Line:
        """Return the line of a size that has a key."""
        return cls(size.what, size.limits, how, reading, size.key, unit, reading_unit)


def truth(what: str, how: str) -> Line:
    """Return a line that is right or wrong."""
    return Line(what, YES, how)


def general(p: Parameters, size_mm: float) -> Span:
    """Return a size with the general tolerance of the sheets; none is tabulated for 0."""
    off = off_mm(p, size_mm) if size_mm > 0 else 0.0
    return Span(max(0.0, size_mm - off), size_mm, size_mm + off)


def reading(gauge: Callable[..., float], **spans: Span) -> Span:
    """Return what a gauge reads at nominal sizes, and its least and greatest over all limits.

    Args:
        gauge: Returns the reading; it rises or falls steadily with each size.
        spans: The sizes, by the names of its arguments.

    Raises:
        ValueError: If the gauge cannot read at some limit of the sizes.
    """
    nominal = gauge(**{name: span.nominal for name, span in spans.items()})
    ends = [
        gauge(**dict(zip(spans, corner, strict=True)))
        for corner in product(*((span.least, span.greatest) for span in spans.values()))
    ]
    return Span(min(ends), nominal, max(ends))
