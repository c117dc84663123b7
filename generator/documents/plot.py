"""Plots: scales at round numbers, curves, bars and a key, as marks of true size on paper.

One style for all: frames, scales and letters thin, curves thick, everything black but three tones
and the lines of a scale, which stay apart on a grey print.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor, isfinite, log10
from typing import Final, Literal

from generator.documents.clip import visible
from generator.documents.drawing import Anchor, Figure, Fill, Line, Mark, Point, Text
from generator.documents.layout import bounds, moved
from generator.documents.text import text_box, width_mm
from generator.units import number

HEIGHT_MM: Final = 2.5
"""Height of the letters, of the series of ISO 3098-1; from memory, unverified."""

WIDEST_MM: Final = 175.0
"""Width of the page between its margins."""

TICK_MM: Final = 1.0
GAP_MM: Final = 1.2
"""From a tick to its number, and from a sign of the key to its words."""

ROW_MM: Final = 4.4
"""From one line of letters to the next."""

TAIL_MM: Final = 0.6
"""How far a letter such as p reaches below its line."""

APART_MM: Final = 3.0
"""Between the numbers of a level scale."""

EDGE_MM: Final = 0.6
SWATCH_MM: Final = 7.0
AROUND_MM: Final = 0.6
"""The lines of a scale stop so far from letters."""

Sign = Literal["line", "tone"]


def nice_step(span: float, most: int) -> float:
    """Return the least step of 1, 2 or 5 times a power of ten that parts a span at most so often.

    Args:
        span: What is to be parted.
        most: The most parts.

    Raises:
        ValueError: If there is nothing to part.

    Example:
        >>> nice_step(29.5, 6), nice_step(0.0011, 6), nice_step(12, 6)
        (5.0, 0.0002, 2.0)
    """
    if not (0 < span < float("inf") and most >= 1):
        raise ValueError(f"{span=}, {most=}")
    power = floor(log10(span / most))
    steps = (float(f"{factor}e{power}") for factor in (1, 2, 5, 10, 20))
    return next(step for step in steps if step * most >= span * (1 - 1e-9))


@dataclass(frozen=True, slots=True)
class Axis:
    """A scale.

    Attributes:
        label: What it counts, with the unit: "force, N".
        low: Value at its beginning.
        high: Value at its end.
        step: From one tick to the next; ticks stand at whole multiples.
    """

    label: str
    low: float
    high: float
    step: float

    @property
    def ticks(self) -> tuple[float, ...]:
        """The values that are marked."""
        first = -floor(-self.low / self.step + 1e-6)
        last = floor(self.high / self.step + 1e-6)
        return tuple(n * self.step for n in range(first, last + 1))

    def text(self, value: float) -> str:
        """Return a tick's number, with the decimals of the step."""
        return number(value, max(0, -floor(log10(self.step) + 1e-9)))


def axis(
    label: str,
    low: float,
    high: float,
    *,
    most: int = 6,
    rounded: bool = True,
    room_mm: float = float("inf"),
) -> Axis:
    """Return a scale for values from low to high.

    Args:
        label: What it counts, with the unit.
        low: The least value.
        high: The greatest value; if it is not above the least, the scale spans as much as it is.
        most: The most steps.
        rounded: Whether the scale goes on to the next round number at either end.
        room_mm: Its length, if it lies level: so many numbers as have room side by side.

    Raises:
        ValueError: If a value is not finite.

    Example:
        >>> axis("force, N", 0, 31.5).ticks
        (0.0, 10.0, 20.0, 30.0, 40.0)
    """
    if not (isfinite(low) and isfinite(high)):
        raise ValueError(f"{label}: {low=}, {high=}")
    if high <= low:
        high = low + (abs(low) or 1.0)
    step = nice_step(high - low, most)
    first, last = low, high
    if rounded:
        first = floor(low / step + 1e-6) * step
        last = -floor(-high / step + 1e-6) * step
    made = Axis(label, first, last, step)
    pitch = room_mm * step / (last - first)
    widest = max((width_mm(made.text(tick), HEIGHT_MM) for tick in made.ticks), default=0.0)
    if widest + APART_MM > pitch and most > 1:
        return axis(label, low, high, most=most - 1, rounded=rounded, room_mm=room_mm)
    return made


@dataclass(frozen=True, slots=True, kw_only=True)
class Axes:
    """A rectangle of paper on which x and y stand for values.

    Attributes:
        x: Scale along the bottom.
        y: Scale up the left side.
        width_mm: Its width.
        height_mm: Its height.
        left_mm: Where it begins on the figure.
        bottom_mm: Where its lower edge lies.
    """

    x: Axis
    y: Axis
    width_mm: float
    height_mm: float
    left_mm: float = 0.0
    bottom_mm: float = 0.0

    @property
    def right_mm(self) -> float:
        """Where it ends."""
        return self.left_mm + self.width_mm

    @property
    def top_mm(self) -> float:
        """Where its upper edge lies."""
        return self.bottom_mm + self.height_mm

    def x_mm(self, value: float) -> float:
        """Return where a value of x lies on paper."""
        return self.left_mm + self.width_mm * (value - self.x.low) / (self.x.high - self.x.low)

    def y_mm(self, value: float) -> float:
        """Return where a value of y lies on paper."""
        return self.bottom_mm + self.height_mm * (value - self.y.low) / (self.y.high - self.y.low)

    def at(self, x: float, y: float) -> Point:
        """Return where a pair of values lies on paper."""
        return self.x_mm(x), self.y_mm(y)

    def line(self, points: Iterable[Point], style: str = "outline") -> Iterator[Line]:
        """Yield a line through pairs of values."""
        for start, end in pairwise([self.at(*point) for point in points]):
            if start != end:
                yield Line(start, end, style)

    def tone(self, points: Iterable[Point], style: str) -> Fill:
        """Return an area whose corners are pairs of values."""
        return Fill(tuple(self.at(*point) for point in points), style)

    def bar(self, x: Point, y: Point, style: str) -> Fill:
        """Return an upright rectangle from x to x and from y to y."""
        return self.tone(((x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])), style)

    def scale_lines(self, *, across: bool = True, up: bool = True) -> Iterator[Line]:
        """Yield the lines of the scales, across for y and up for x, those of the frame left out."""
        if across:
            for value in self.y.ticks:
                y = self.y_mm(value)
                if self.bottom_mm + 0.01 < y < self.top_mm - 0.01:
                    yield Line((self.left_mm, y), (self.right_mm, y), "scale")
        if up:
            for value in self.x.ticks:
                x = self.x_mm(value)
                if self.left_mm + 0.01 < x < self.right_mm - 0.01:
                    yield Line((x, self.bottom_mm), (x, self.top_mm), "scale")

    def frame(self, *, bottom: bool = True, left: bool = True) -> Iterator[Mark]:
        """Yield the frame, and ticks, numbers and name of each scale that is to be shown."""
        corners = (
            (self.left_mm, self.bottom_mm),
            (self.right_mm, self.bottom_mm),
            (self.right_mm, self.top_mm),
            (self.left_mm, self.top_mm),
        )
        for n, corner in enumerate(corners):
            yield Line(corner, corners[(n + 1) % 4], "thin")
        if bottom:
            yield from self._bottom()
        if left:
            at = [(value, self.y_mm(value)) for value in self.y.ticks]
            yield from side_scale(self, self.y, at, "left")

    def _bottom(self) -> Iterator[Mark]:
        under = self.bottom_mm - TICK_MM - GAP_MM - HEIGHT_MM
        for value in self.x.ticks:
            x = self.x_mm(value)
            yield Line((x, self.bottom_mm), (x, self.bottom_mm - TICK_MM), "thin")
            yield Text((x, under), self.x.text(value), HEIGHT_MM, "centre")
        middle = (self.left_mm + self.right_mm) / 2
        yield Text((middle, under - ROW_MM), self.x.label, HEIGHT_MM, "centre")


def side_scale(
    axes: Axes, scale: Axis, at: Sequence[tuple[float, float]], side: Literal["left", "right"]
) -> Iterator[Mark]:
    """Yield ticks, numbers and name of a scale at a side of a plot.

    Args:
        axes: The plot.
        scale: The scale.
        at: Each value that is marked and where it lies, in millimetres up the paper.
        side: Which side.
    """
    way = -1.0 if side == "left" else 1.0
    edge = axes.left_mm if side == "left" else axes.right_mm
    anchor: Anchor = "right" if side == "left" else "left"
    widest = 0.0
    for value, y in at:
        text = scale.text(value)
        widest = max(widest, width_mm(text, HEIGHT_MM))
        yield Line((edge, y), (edge + way * TICK_MM, y), "thin")
        x = edge + way * (TICK_MM + GAP_MM / 2)
        yield Text((x, y - HEIGHT_MM / 2), text, HEIGHT_MM, anchor)
    x = edge + way * (TICK_MM + GAP_MM / 2 + widest + GAP_MM)
    middle = (axes.bottom_mm + axes.top_mm) / 2
    base = x - TAIL_MM if side == "left" else x + HEIGHT_MM
    yield Text((base, middle), scale.label, HEIGHT_MM, "centre", rotation_deg=90.0)


def key(
    entries: Sequence[tuple[Sign, str, str]], *, left_mm: float, bottom_mm: float, room_mm: float
) -> Iterator[Mark]:
    """Yield a key in rows that stand one on the other, the last at the bottom.

    Args:
        entries: For each sign "line" or "tone", its style, and what it means.
        left_mm: Where the rows begin.
        bottom_mm: Base line of the last row.
        room_mm: The most width of a row.
    """
    rows: list[list[tuple[float, tuple[Sign, str, str]]]] = [[]]
    x = 0.0
    for entry in entries:
        wide = SWATCH_MM + GAP_MM + width_mm(entry[2], HEIGHT_MM)
        if rows[-1] and x + wide > room_mm:
            rows.append([])
            x = 0.0
        rows[-1].append((x, entry))
        x += wide + 3 * GAP_MM
    for n, row in enumerate(reversed(rows)):
        y = bottom_mm + n * ROW_MM
        for start, (sign, style, words) in row:
            x = left_mm + start
            middle = y + HEIGHT_MM / 2
            if sign == "line":
                yield Line((x, middle), (x + SWATCH_MM, middle), style)
            else:
                yield from swatch(x, y, style)
            yield Text((x + SWATCH_MM + GAP_MM, y), words, HEIGHT_MM)


def swatch(x: float, y: float, style: str) -> Iterator[Mark]:
    """Yield a sample of a tone within a thin edge."""
    corners = (
        (x, y),
        (x + SWATCH_MM, y),
        (x + SWATCH_MM, y + HEIGHT_MM),
        (x, y + HEIGHT_MM),
    )
    yield Fill(corners, style)
    for n, corner in enumerate(corners):
        yield Line(corner, corners[(n + 1) % 4], "thin")


def dot(at: Point, radius_mm: float = 0.7) -> Fill:
    """Return a marker: a square upon its corner."""
    x, y = at
    r = radius_mm
    return Fill(((x - r, y), (x, y - r), (x + r, y), (x, y + r)))


def spread(
    wanted: Sequence[float], widths: Sequence[float], low: float, high: float, gap: float
) -> tuple[float, ...]:
    """Return the middles of intervals side by side, near where they are wanted, in their order.

    Args:
        wanted: Where each middle should be, in rising order.
        widths: The width of each.
        low: Where the first may begin.
        high: Where the last may end, room allowing.
        gap: The least distance between two.

    Example:
        >>> spread((10, 11, 40), (6, 6, 6), 0, 50, 2)
        (10, 18.0, 40)
    """
    middles: list[float] = []
    edge = low
    for want, width in zip(wanted, widths, strict=True):
        middles.append(max(want, edge + width / 2))
        edge = middles[-1] + width / 2 + gap
    edge = high
    for n in range(len(middles) - 1, -1, -1):
        middles[n] = min(middles[n], edge - widths[n] / 2)
        edge = middles[n] - widths[n] / 2 - gap
    return tuple(middles)


def figure(
    name: str, title: str, caption: str, marks: Iterable[Mark], behind: Iterable[Line] = ()
) -> Figure:
    """Return the marks as a figure, moved to its lower left corner.

    Args:
        name: Names it among the figures of a report.
        title: What stands over it.
        caption: One sentence that says what it shows.
        marks: What is drawn.
        behind: Lines that give way to letters.

    Raises:
        ValueError: If it is wider than the page has room.
    """
    shown = list(marks)
    boxes = [
        (x1 - AROUND_MM, y1 - AROUND_MM, x2 + AROUND_MM, y2 + AROUND_MM)
        for x1, y1, x2, y2 in (text_box(mark) for mark in shown if isinstance(mark, Text))
    ]
    corners = [((x1, y1), (x2, y1), (x2, y2), (x1, y2)) for x1, y1, x2, y2 in boxes]
    shown = [*visible(list(behind), corners), *shown]
    left, bottom, right, top = bounds(shown)
    width, height = right - left + 2 * EDGE_MM, top - bottom + 2 * EDGE_MM
    if width > WIDEST_MM:
        raise ValueError(f"figure {name}: {width:.1f} mm is wider than {WIDEST_MM:g} mm")
    placed = tuple(moved(mark, EDGE_MM - left, EDGE_MM - bottom) for mark in shown)
    return Figure(name, title, caption, width, height, placed)
