"""How far the thread may lean, as a distribution, and what most of it comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from generator.documents.drawing import Figure, Fill, Line, Mark, Text
from generator.documents.layout import bounds
from generator.documents.plot import (
    EDGE_MM,
    GAP_MM,
    HEIGHT_MM,
    ROW_MM,
    WIDEST_MM,
    Axes,
    axis,
    figure,
    spread,
)
from generator.documents.text import width_mm, wrapped
from generator.units import number

HEIGHT_OF_PLOT_MM: Final = 50.0
WIDE_MM: Final = 78.0
WIDE_LEAST_MM: Final = 50.0
NAMES_OF_TAPS_MM: Final = 20.0
"""Names of taps longer than this take from the width of the plot."""

RANGES_MM: Final = 110.0
"""The most height of the ranges of all taps."""

BAR_ROW_MM: Final = 5.0
LINE_MM: Final = 4.1
"""From one line of a name in two lines to the next."""

NAMES_MM: Final = 40.0
BARS_LEAST_MM: Final = 18.0
BETWEEN_MM: Final = 8.0
RISER_MM: Final = 2.5
SEEN: Final = 2.0
"""A limit so many times beyond the distribution is shown by an arrow, not by the scale."""

UNSEEN: Final = 0.004
"""A class so low beside the highest is thinner than its line on paper."""

LEAST_DEG: Final = 0.00095
"""Below this three decimals of a degree say nothing."""

SHADE: Final = 0.5
"""Height of the thick part of a tap's range over that of its row."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeanRange:
    """The lean of the thread cut with one tap.

    Attributes:
        name: The tap.
        median_deg: Half of all assemblies lean less.
        most_deg: 95 % lean less.
        nearly_all_deg: 99.7 % lean less.
    """

    name: str
    median_deg: float
    most_deg: float
    nearly_all_deg: float


def lean_figure(
    edges_deg: Sequence[float],
    shares: Sequence[float],
    *,
    of: LeanRange,
    limit_deg: float,
    limit_name: str,
    contributors: Sequence[tuple[str, float]],
    others: Sequence[LeanRange] = (),
    assemblies: int = 1_000_000,
    name: str = "lean",
    title: str = "Lean of the thread",
) -> Figure:
    """Return the histogram of the lean of one tap, and beside it what contributes.

    Args:
        edges_deg: Edges of the classes of the histogram, rising.
        shares: Share of all assemblies in each class, one fewer than edges; any other measure in
            proportion to it serves too.
        of: The tap, with its quantiles.
        limit_deg: The most that the class allows.
        limit_name: Its name, such as "general".
        contributors: Name of each cause and its share of the mean square, 0 to 1; ranked here.
        others: Further taps, shown below as ranges on the same scale.
        assemblies: How many were tried.
        name: Names it among the figures.
        title: What stands over it.

    Raises:
        ValueError: If edges and shares do not fit each other, or all shares are 0.
    """
    if len(edges_deg) != len(shares) + 1 or not sum(shares) > 0:
        raise ValueError(f"{len(edges_deg)} edges, {len(shares)} shares of {sum(shares)}")
    edges, kept = _trimmed(edges_deg, shares)
    last = max([edges[-1], *(each.nearly_all_deg for each in (of, *others))])
    seen = limit_deg <= SEEN * last
    end = max(last, 1.04 * limit_deg) if seen else last
    longest = max(width_mm(tap.name, HEIGHT_MM) for tap in (of, *others)) if others else 0.0
    wide = max(WIDE_MM - max(0.0, longest - NAMES_OF_TAPS_MM), WIDE_LEAST_MM)
    percents = [100 * share / sum(shares) for share in kept]
    axes = Axes(
        x=axis("lean, °", 0.0, end, room_mm=wide),
        y=axis("share of assemblies, %", 0.0, 1.05 * max(percents), most=5),
        width_mm=wide,
        height_mm=HEIGHT_OF_PLOT_MM,
    )
    behind = list(axes.scale_lines())
    marks: list[Mark] = [*_histogram(axes, edges, percents), *axes.frame()]
    marks += _flags(axes, of, limit_deg if seen else None)
    if not seen:
        marks += _beyond(axes, limit_name, limit_deg)
    if others:
        marks += _ranges(axes, (of, *others), limit_deg if seen else None)
    right = axes.right_mm + BETWEEN_MM
    room = WIDEST_MM - 2 * EDGE_MM + bounds(marks)[0] - right
    marks += _contributors(contributors, right, axes.top_mm, room)
    return figure(name, title, _caption(of, limit_deg, limit_name, assemblies), marks, behind)


def _trimmed(
    edges: Sequence[float], shares: Sequence[float]
) -> tuple[Sequence[float], Sequence[float]]:
    """Return a histogram without the last classes that are too low to be seen."""
    least = UNSEEN * max(shares)
    count = max(n for n, share in enumerate(shares) if share > least) + 1
    return edges[: count + 1], shares[:count]


def _caption(of: LeanRange, limit_deg: float, limit_name: str, assemblies: int) -> str:
    return (
        f"How far a thread cut with {of.name} leans in {assemblies:,} assemblies within the "
        f"tolerances, against the {number(limit_deg, 3)}° of the class {limit_name}, and how much "
        "of the mean square each error brings."
    )


def _degrees(value: float) -> str:
    """Return degrees with the three decimals of the tables, more where those would say nothing."""
    return f"{value:.3f}°" if value >= LEAST_DEG else f"{number(value, 5)}°"


def _histogram(axes: Axes, edges: Sequence[float], percents: Sequence[float]) -> Iterator[Mark]:
    """Yield the steps of a histogram over its tone."""
    steps = [(edges[0], 0.0)]
    for low, high, percent in zip(edges, edges[1:], percents, strict=False):
        steps += [(low, percent), (high, percent)]
    steps.append((edges[-1], 0.0))
    yield axes.tone(steps, "light")
    yield from axes.line(steps, "outline")


def _flags(axes: Axes, of: LeanRange, limit: float | None) -> Iterator[Mark]:
    """Yield upright lines at quantiles and limit, each led to two lines of words over the plot."""
    labels = [("50 %", of.median_deg), ("95 %", of.most_deg), ("99.7 %", of.nearly_all_deg)]
    if limit is not None:
        labels.append(("limit", limit))
    ranked = sorted(labels, key=lambda label: label[1])
    texts = [
        (words, f"{number(value)}°" if words == "limit" else _degrees(value))
        for words, value in ranked
    ]
    widths = [max(width_mm(line, HEIGHT_MM) for line in lines) for lines in texts]
    wanted = [axes.x_mm(value) for _, value in ranked]
    reach = axes.right_mm + BETWEEN_MM / 2
    middles = spread(wanted, widths, axes.left_mm, reach, 1.6)
    top = axes.top_mm
    for (_, value), lines, x, middle in zip(ranked, texts, wanted, middles, strict=True):
        style = "outline" if value == limit else "hidden"
        yield Line((x, axes.bottom_mm), (x, top), style)
        yield Line((x, top), (middle, top + RISER_MM), "thin")
        low = top + RISER_MM + 0.8
        yield Text((middle, low), lines[1], HEIGHT_MM, "centre")
        yield Text((middle, low + LINE_MM), lines[0], HEIGHT_MM, "centre")


def _beyond(axes: Axes, limit_name: str, limit_deg: float) -> Iterator[Mark]:
    """Yield an arrow out of the plot towards a limit that lies far beyond it."""
    y = axes.top_mm + RISER_MM + 0.8 + 2 * LINE_MM + HEIGHT_MM / 2
    x = axes.right_mm
    yield Line((x - 6.0, y), (x - 2.4, y), "thin")
    yield Fill(((x, y), (x - 2.4, y + 0.8), (x - 2.4, y - 0.8)))
    words = f"limit, {limit_name}: {number(limit_deg)}°"
    yield Text((x - 6.0 - GAP_MM, y - HEIGHT_MM / 2), words, HEIGHT_MM, "right")


def _ranges(axes: Axes, taps: Sequence[LeanRange], limit: float | None) -> Iterator[Mark]:
    """Yield for each tap a thin line to 99.7 %, a bar from 50 to 95 %, below the histogram."""
    top = axes.bottom_mm - 14.0
    row = min(BAR_ROW_MM, RANGES_MM / len(taps))
    deep = row * len(taps) + 1.0
    corners = [
        (axes.left_mm, top),
        (axes.right_mm, top),
        (axes.right_mm, top - deep),
        (axes.left_mm, top - deep),
    ]
    for n, corner in enumerate(corners):
        yield Line(corner, corners[(n + 1) % 4], "thin")
    half = SHADE * row / 2
    for n, tap in enumerate(taps):
        y = top - 0.5 - row * (n + 0.5)
        x1, x2, x3 = (
            axes.x_mm(value) for value in (tap.median_deg, tap.most_deg, tap.nearly_all_deg)
        )
        yield Fill(((x1, y - half), (x2, y - half), (x2, y + half), (x1, y + half)), "middle")
        for x in (x1, x2, x3):
            yield Line((x, y - half), (x, y + half), "thin")
        yield Line((axes.left_mm, y), (x1, y), "thin")
        yield Line((x2, y), (x3, y), "thin")
        at = (axes.left_mm - GAP_MM, y - HEIGHT_MM / 2)
        yield Text(at, tap.name, HEIGHT_MM, "right")
    if limit is not None:
        x = axes.x_mm(limit)
        yield Line((x, top), (x, top - deep), "outline")
    words = "bar from 50 to 95 %, line to 99.7 %"
    yield Text(
        ((axes.left_mm + axes.right_mm) / 2, top - deep - ROW_MM), words, HEIGHT_MM, "centre"
    )


def _contributors(
    contributors: Sequence[tuple[str, float]], left: float, top: float, room: float
) -> Iterator[Mark]:
    """Yield ranked bars, their names before them, their shares behind."""
    yield Text((left, top + 2 * GAP_MM), "share of mean square, %", HEIGHT_MM)
    ranked = sorted(contributors, key=lambda each: -each[1])
    if not ranked:
        return
    names = [wrapped(cause, NAMES_MM, HEIGHT_MM) for cause, _ in ranked]
    widest = max(width_mm(line, HEIGHT_MM) for lines in names for line in lines)
    figures = [number(100 * share, 0) for _, share in ranked]
    start = left + widest + GAP_MM
    end = left + room - GAP_MM - max(width_mm(text, HEIGHT_MM) for text in figures)
    length = max(end - start, BARS_LEAST_MM)
    greatest = max(max(share for _, share in ranked), 1e-9)
    y = top
    for lines, (_, share), text in zip(names, ranked, figures, strict=True):
        high = BAR_ROW_MM + LINE_MM * (len(lines) - 1)
        middle = y - high / 2
        base = middle + LINE_MM * (len(lines) - 1) / 2 - HEIGHT_MM / 2
        for n, line in enumerate(lines):
            yield Text((start - GAP_MM, base - n * LINE_MM), line, HEIGHT_MM, "right")
        x = start + length * share / greatest
        corners = (
            (start, middle - 1.5),
            (x, middle - 1.5),
            (x, middle + 1.5),
            (start, middle + 1.5),
        )
        yield Fill(corners, "middle")
        yield Text((x + GAP_MM, middle - HEIGHT_MM / 2), text, HEIGHT_MM)
        y -= high
    yield Line((start, top), (start, y), "thin")
