"""Hatch lines at 45 degrees, clipped here so that they are the same on every run."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor, sqrt
from typing import Final

from generator.documents.drawing import Line, Point

SLIVER_MM: Final = 0.25
ROOT: Final = sqrt(2)


def hatched(
    polygon: Sequence[Point],
    *,
    spacing_mm: float = 2.0,
    without: Sequence[tuple[float, float]] = (),
    rising: bool = True,
) -> tuple[Line, ...]:
    """Return hatch lines within a closed polygon, on one grid through the origin.

    Args:
        polygon: Its corners, in order; it need not be convex.
        spacing_mm: Distance from line to line.
        without: Strips left bare, each from one x to another.
        rising: Whether the lines rise to the right.
    """
    flip = 1.0 if rising else -1.0
    turned = [((y + flip * x) / ROOT, (y - flip * x) / ROOT) for x, y in polygon]
    first = ceil(min(v for _, v in turned) / spacing_mm)
    last = floor(max(v for _, v in turned) / spacing_mm)
    lines = []
    for number in range(first, last + 1):
        v = number * spacing_mm
        for start, end in _inside(turned, v, [(flip, strip) for strip in without]):
            if end - start > SLIVER_MM:
                lines.append(
                    Line(
                        (flip * (start - v) / ROOT, (start + v) / ROOT),
                        (flip * (end - v) / ROOT, (end + v) / ROOT),
                        "hatch",
                    )
                )
    return tuple(lines)


def _inside(
    turned: Sequence[Point], v: float, strips: Sequence[tuple[float, tuple[float, float]]]
) -> list[tuple[float, float]]:
    """Return the stretches of one hatch line within the polygon and outside the strips."""
    cuts = []
    for (u1, v1), (u2, v2) in zip(turned, (*turned[1:], turned[0]), strict=True):
        if (v1 <= v) != (v2 <= v):
            cuts.append(u1 + (u2 - u1) * (v - v1) / (v2 - v1))
    cuts.sort()
    stretches = list(zip(cuts[::2], cuts[1::2], strict=True))
    for flip, (left, right) in strips:
        low, high = sorted((flip * left * ROOT + v, flip * right * ROOT + v))
        kept = []
        for start, end in stretches:
            kept += [(start, min(end, low)), (max(start, high), end)]
        stretches = [(start, end) for start, end in kept if end > start]
    return stretches
