"""The stroke of the plunger while one hole is tapped and while the tap is backed out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from math import atan2, ceil, degrees, hypot
from typing import Final

from generator.documents.drawing import Figure, Line, Mark, Point, Text
from generator.documents.plot import (
    GAP_MM,
    HEIGHT_MM,
    ROW_MM,
    Axes,
    Sign,
    axis,
    dot,
    figure,
    key,
    side_scale,
)
from generator.documents.plot_labels import Label, placed_labels
from generator.documents.symbols import ARROW_MM, arrowhead
from generator.documents.text import width_mm
from generator.units import shown

HEIGHT_OF_PLOT_MM: Final = 66.0
WIDE_MM: Final = 68.0
BETWEEN_MM: Final = 6.0
DOWN_MM: Final = 16.0
"""From the plot down to the first line of readings."""

BEYOND: Final = 0.16
"""Room beyond either end of the stroke, as a share of it, for its words."""

NUMBERS_APART_MM: Final = 8.0
SHORTEST_ARROWED: Final = 2.0
"""A run shorter than this many arrowheads carries none."""

CAPTION: Final = (
    "How far the tip stands out over the depth of the tap, {of}: the plunger follows the tap at "
    "each setting of the {moved}; below, the reading of its scale at each."
)
STEP_WAYS_DEG: Final = (0, 315, 45, 270, 340, 20, 225, 135, 180, 90)


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Between what the plunger moves.

    Attributes:
        extended_mm: How far the tip stands out with the plunger against its stop.
        compressed_mm: The same with the plunger pushed home.
        front_reserve_mm: Kept before the stop.
        rear_reserve_mm: Kept before the plunger is home.
    """

    extended_mm: float
    compressed_mm: float
    front_reserve_mm: float
    rear_reserve_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """What the plunger does at one setting of the quill.

    Attributes:
        reading: What the quill's scale is set to: "11 mm".
        start_depth_mm: Depth of the tap when the quill is locked.
        start_mm: How far the tip then stands out.
        end_depth_mm: Depth of the tap when the setting is used up.
        end_mm: How far the tip then stands out.
    """

    reading: str
    start_depth_mm: float
    start_mm: float
    end_depth_mm: float
    end_mm: float


def stroke_figure(
    cutting: Sequence[Stroke],
    backing: Sequence[Stroke],
    *,
    limits: Limits,
    forces: Sequence[tuple[float, float]],
    of: str,
    moved: str = "quill",
    turned: str = "tap",
    name: str = "stroke",
    title: str = "Stroke of the plunger",
) -> Figure:
    """Return depth against projection: tapping on the left, backing out on the right.

    Args:
        cutting: The settings in their order, down to the full depth.
        backing: The settings while the tap comes out, from the full depth.
        limits: Between what the plunger moves.
        forces: Projection and force, enough pairs to draw straight lines between; the right scale.
        of: What is tapped: "M6, 12 mm deep".
        moved: What carries the tool: "quill" or "barrel".
        turned: What is turned by hand: "tap" or "chuck".
        name: Names it among the figures.
        title: What stands over it.

    Raises:
        ValueError: If there is no setting or the plunger has no travel.
    """
    low, high = limits.compressed_mm, limits.extended_mm
    if not cutting or high <= low:
        raise ValueError(f"{len(cutting)} settings, {limits=}")
    beyond = BEYOND * (high - low)
    most = max(stroke.end_depth_mm for stroke in cutting)
    axes = Axes(
        x=axis("depth of the tap, mm", 0.0, most, rounded=False, room_mm=WIDE_MM),
        y=axis("tip stands out, mm", low - beyond, high + beyond, most=8, rounded=False),
        width_mm=WIDE_MM,
        height_mm=HEIGHT_OF_PLOT_MM,
    )
    behind = list(axes.scale_lines())
    marks = [*axes.frame(), *_names(axes, limits)]
    marks += _panel(axes, "tapping", cutting, 1, limits, marks)
    if backing:
        axes = replace(axes, left_mm=axes.right_mm + BETWEEN_MM)
        behind += axes.scale_lines()
        marks += axes.frame(left=False)
        marks += _panel(axes, "backing out", backing, 1 + len(cutting), limits, marks)
    if len(forces) > 1:
        marks += _force_ticks(axes, forces)
    marks += key(
        _key(moved, turned),
        left_mm=0.0,
        bottom_mm=axes.top_mm + 2 * GAP_MM + HEIGHT_MM + 1.5,
        room_mm=axes.right_mm,
    )
    return figure(name, title, CAPTION.format(of=of, moved=moved), marks, behind)


def _key(moved: str, turned: str) -> tuple[tuple[Sign, str, str], ...]:
    """Return what tones and lines stand for."""
    return (
        ("tone", "warm", "reserve"),
        ("line", "outline", f"{moved} locked, the {turned} turns"),
        ("line", "hidden", f"{moved} moved"),
    )


def _panel(
    axes: Axes,
    words: str,
    strokes: Sequence[Stroke],
    first: int,
    limits: Limits,
    there: Sequence[Mark],
) -> Iterator[Mark]:
    """Yield a panel within its frame: zones, path, numbers and, below, the readings."""
    own = [*_zones(axes, limits), *_path(axes, strokes)]
    room = (axes.left_mm, axes.bottom_mm, axes.right_mm, axes.top_mm)
    yield from own
    yield from placed_labels(_labels(axes, strokes, first), [*there, *own], room)
    yield Text((axes.left_mm, axes.top_mm + GAP_MM), words, HEIGHT_MM, bold=True)
    yield from _readings(axes, strokes, first)


def _zones(axes: Axes, limits: Limits) -> Iterator[Mark]:
    """Yield the reserves at either end of the stroke, and the ends."""
    across = (axes.x.low, axes.x.high)
    low, high = limits.compressed_mm, limits.extended_mm
    if limits.front_reserve_mm > 0:
        yield axes.bar(across, (high - limits.front_reserve_mm, high), "warm")
    if limits.rear_reserve_mm > 0:
        yield axes.bar(across, (low, low + limits.rear_reserve_mm), "warm")
    for value in (low, high):
        yield Line(axes.at(axes.x.low, value), axes.at(axes.x.high, value), "thin")


def _names(axes: Axes, limits: Limits) -> Iterator[Mark]:
    """Yield what either end of the stroke is called."""
    x = axes.right_mm - 1.5
    above = axes.y_mm(limits.extended_mm) + 1.0
    below = axes.y_mm(limits.compressed_mm) - 1.2 - HEIGHT_MM
    stop = f"against the stop, {shown(limits.extended_mm, 'mm')}"
    home = f"pushed home, {shown(limits.compressed_mm, 'mm')}"
    yield Text((x, above), stop, HEIGHT_MM, "right")
    yield Text((x, below), home, HEIGHT_MM, "right")


def _path(axes: Axes, strokes: Sequence[Stroke]) -> Iterator[Mark]:
    """Yield the run at each setting, and dashed the moves of the quill between them."""
    for stroke in strokes:
        start = axes.at(stroke.start_depth_mm, stroke.start_mm)
        end = axes.at(stroke.end_depth_mm, stroke.end_mm)
        yield from _arrowed(start, end, "outline", 0.6)
        yield dot(start)
    for one, following in pairwise(strokes):
        end = axes.at(one.end_depth_mm, one.end_mm)
        yield from _arrowed(
            end, axes.at(following.start_depth_mm, following.start_mm), "hidden", 0.6
        )


def _arrowed(start: Point, end: Point, style: str, share: float) -> Iterator[Mark]:
    """Yield a line with an arrowhead on its way."""
    if start == end:
        return
    yield Line(start, end, style)
    dx, dy = end[0] - start[0], end[1] - start[1]
    if hypot(dx, dy) >= SHORTEST_ARROWED * ARROW_MM:
        tip = (start[0] + share * dx, start[1] + share * dy)
        yield arrowhead(tip, degrees(atan2(dy, dx)))


def _labels(axes: Axes, strokes: Sequence[Stroke], first: int) -> Iterator[Label]:
    """Yield the number of each setting where the quill is locked, as far as there is room."""
    every = max(1, ceil(NUMBERS_APART_MM * len(strokes) / axes.width_mm))
    for n, stroke in list(enumerate(strokes, first))[::every]:
        at = axes.at(stroke.start_depth_mm, stroke.start_mm)
        yield Label(str(n), at, STEP_WAYS_DEG, bold=True, needed=False)


def _readings(axes: Axes, strokes: Sequence[Stroke], first: int) -> Iterator[Mark]:
    """Yield the reading of each setting below the plot, in columns."""
    numbers = [f"{n}:" for n, _ in enumerate(strokes, first)]
    before = max(width_mm(number, HEIGHT_MM, bold=True) for number in numbers) + GAP_MM
    wide = before + max(width_mm(stroke.reading, HEIGHT_MM) for stroke in strokes) + 3 * GAP_MM
    columns = max(1, int((axes.width_mm + 3 * GAP_MM) // wide))
    for n, (count, stroke) in enumerate(zip(numbers, strokes, strict=True)):
        x = axes.left_mm + wide * (n % columns)
        y = axes.bottom_mm - DOWN_MM - ROW_MM * (n // columns)
        yield Text((x + before - GAP_MM, y), count, HEIGHT_MM, "right", bold=True)
        yield Text((x + before, y), stroke.reading, HEIGHT_MM)


def _force_ticks(axes: Axes, forces: Sequence[tuple[float, float]]) -> Iterator[Mark]:
    """Yield the scale of the force at the right; it need not be even."""
    newtons = [force for _, force in forces]
    scale = axis("force, N", min(newtons), max(newtons), rounded=False)
    at: list[tuple[float, float]] = []
    for force in scale.ticks:
        for (p1, f1), (p2, f2) in pairwise(forces):
            if min(f1, f2) <= force <= max(f1, f2) and f1 != f2:
                y = axes.y_mm(p1 + (p2 - p1) * (force - f1) / (f2 - f1))
                apart = not at or abs(y - at[-1][1]) >= ROW_MM
                if apart and axes.bottom_mm <= y <= axes.top_mm:
                    at.append((force, y))
                break
    yield from side_scale(axes, scale, at, "right")
