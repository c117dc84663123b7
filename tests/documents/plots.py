"""Plots of plain values as the tests use them: usual ones and extreme ones.

The forces of the taps are of the size that hand taps need; engineering judgement.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import exp, sqrt
from typing import Final

from generator.documents.drawing import Drawing, Figure
from generator.documents.force_plot import ForceBand, ForceLine
from generator.documents.layout import collisions
from generator.documents.lean_plot import LeanRange, lean_figure
from generator.documents.stroke_plot import Limits, Stroke

TAPS: Final = {
    "M2": (1.4, 12.0),
    "M3": (2.8, 25.0),
    "M4": (6.0, 52.0),
    "M6": (14.0, 100.0),
    "M8": (20.0, 155.0),
    "M10": (30.0, 240.0),
    "M12": (43.0, 460.0),
    "1/4-20": (13.0, float("inf")),
}
"""Least force with one hand, and ceiling."""


def touches(figure: Figure) -> tuple[str, ...]:
    """Return what touches what in a figure."""
    size = (figure.width_mm, figure.height_mm)
    return collisions(Drawing(figure.name, figure.title, *size, 1.0, figure.marks, ()))


def force_line(name: str, *points: tuple[float, float], tolerance: float = 0.1) -> ForceLine:
    """Return a line of force through points of travel and force."""
    travel, force = zip(*points, strict=True)
    return ForceLine(
        name=name,
        travel_mm=travel,
        force_N=force,
        least_N=tuple(each * (1 - tolerance) for each in force),
        most_N=tuple(each * (1 + tolerance) for each in force),
    )


def bands(*names: str) -> list[ForceBand]:
    """Return the windows of taps."""
    return [
        ForceBand(
            name=n,
            two_hands_N=TAPS[n][0] / 5,
            one_hand_N=TAPS[n][0],
            ceiling_N=TAPS[n][1],
            gives_N=(12, 29.5),
        )
        for n in names
    ]


def lean(
    scale_deg: float,
    limit_deg: float = 0.25,
    causes: Sequence[tuple[str, float]] = (("tailstock height", 0.7), ("seat", 0.3)),
    others: Sequence[str] = (),
    classes: int = 50,
) -> Figure:
    """Return the figure of a lean spread as the length of a vector of two equal normal parts.

    Source: the quantiles of the Rayleigh distribution, sqrt(-2 ln(1 - p)) times its scale.
    """
    edges = [5 * scale_deg * n / classes for n in range(classes + 1)]
    below = [1 - exp(-((edge / scale_deg) ** 2) / 2) for edge in edges]
    shares = [b - a for a, b in pairwise(below)]
    of = LeanRange(
        name="M6",
        median_deg=1.17741 * scale_deg,
        most_deg=2.44775 * scale_deg,
        nearly_all_deg=3.40863 * scale_deg,
    )
    more = [
        LeanRange(
            name=name,
            median_deg=of.median_deg * sqrt(n / 4),
            most_deg=of.most_deg * sqrt(n / 4),
            nearly_all_deg=of.nearly_all_deg * sqrt(n / 4),
        )
        for n, name in enumerate(others, 1)
    ]
    return lean_figure(
        edges,
        shares,
        of=of,
        limit_deg=limit_deg,
        limit_name="general",
        contributors=causes,
        others=more,
    )


def strokes(needed_mm: float, limits: Limits) -> tuple[list[Stroke], list[Stroke]]:
    """Return the settings for a depth, as long as the reserves allow, and those of the way back."""
    low = limits.compressed_mm + limits.rear_reserve_mm
    high = limits.extended_mm - limits.front_reserve_mm
    cutting: list[Stroke] = []
    depth = 0.0
    while depth < needed_mm - 1e-9:
        run = min(high - low, needed_mm - depth)
        reading = f"{depth + high - low:g} mm"
        cutting.append(_stroke(reading, depth, low, depth + run, low + run))
        depth += run
    backing: list[Stroke] = []
    out = cutting[-1].end_mm
    while depth > 1e-9:
        run = min(out - low, depth)
        backing.append(_stroke(f"{depth:g} mm", depth, out, depth - run, out - run))
        depth -= run
        out = min(high, low + depth)
    return cutting, backing


def _stroke(reading: str, *ends: float) -> Stroke:
    start_depth_mm, start_mm, end_depth_mm, end_mm = ends
    return Stroke(
        reading=reading,
        start_depth_mm=start_depth_mm,
        start_mm=start_mm,
        end_depth_mm=end_depth_mm,
        end_mm=end_mm,
    )
