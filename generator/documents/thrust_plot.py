"""The force of the tool along its stroke, with the forces that it should keep to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import isfinite
from typing import Final

from generator.documents.drawing import Figure, Fill
from generator.documents.force_plot import CURVES, ForceLine
from generator.documents.plot import Axes, Sign, axis, dot, figure, key

SIZE_MM: Final = (150.0, 60.0)
KEY_ABOVE_MM: Final = 4.0
TONE: Final = "light"


def thrust_figure(
    lines: Sequence[ForceLine],
    levels: Mapping[str, float],
    points: Sequence[tuple[float, float]],
    caption: str,
) -> Figure:
    """Return force against travel, each end of the plunger a curve with its band of tolerance.

    Args:
        lines: The curves; at least one.
        levels: Forces that are marked right across, by what they are.
        points: Places on the curves that are marked, travel and force.
        caption: One sentence that says what it shows.
    """
    width_mm, height_mm = SIZE_MM
    known = [f for line in lines for f in (*line.force_N, *line.most_N) if isfinite(f)]
    axes = Axes(
        x=axis("pushed in, mm", 0.0, max(line.travel_mm[-1] for line in lines), room_mm=width_mm),
        y=axis("force, N", 0.0, 1.05 * max(*known, *levels.values())),
        width_mm=width_mm,
        height_mm=height_mm,
    )
    bands: list[Fill] = []
    marks = list(axes.frame())
    entries: list[tuple[Sign, str, str]] = []
    for line, style in zip(lines, CURVES, strict=False):
        up = list(zip(line.travel_mm, line.most_N, strict=True))
        down = list(zip(line.travel_mm, line.least_N, strict=True))
        if all(isfinite(force) for _, force in (*up, *down)):
            bands.append(axes.tone((*up, *reversed(down)), TONE))
        marks += axes.line(list(zip(line.travel_mm, line.force_N, strict=True)), style)
        entries.append(("line", style, line.name))
    if bands:
        entries.append(("tone", TONE, "with the tolerances of springs and plug"))
    for (name, force_N), style in zip(levels.items(), CURVES[len(lines) :], strict=False):
        marks += axes.line([(axes.x.low, force_N), (axes.x.high, force_N)], style)
        entries.append(("line", style, name))
    marks += [dot(axes.at(*place)) for place in points]
    above = axes.top_mm + KEY_ABOVE_MM
    marks += key(entries, left_mm=0.0, bottom_mm=above, room_mm=width_mm)
    return figure("thrust", "Force over the stroke", caption, [*bands, *marks], axes.scale_lines())
