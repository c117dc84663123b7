"""The force of the tool along its travel, and the window of force that each tap leaves it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, isfinite
from typing import Final

from generator.documents.drawing import Figure, Fill, Line, Mark, Point, Text
from generator.documents.plot import (
    GAP_MM,
    HEIGHT_MM,
    ROW_MM,
    TICK_MM,
    Axes,
    Axis,
    Sign,
    axis,
    dot,
    figure,
    key,
)
from generator.documents.plot_labels import Label, placed_labels
from generator.documents.text import width_mm
from generator.units import number, shown

HEIGHT_OF_PLOT_MM: Final = 62.0
BOTH_MM: Final = 150.0
"""Width of both panels."""

BETWEEN_MM: Final = 7.0
KEY_MM: Final = 155.0
"""Width of the key in one row."""

LEFT_MOST_MM: Final = 110.0
COLUMNS_MOST_MM: Final = 84.0
COLUMN_MOST_MM: Final = 16.0
BAR_SHARE: Final = 0.62
GIVEN_SHARE: Final = 0.35
SAME_SHARE: Final = 0.004
"""Curves no further apart than this share of the scale are one line on paper."""

FAR_FLOOR: Final = 2.5
"""A floor so many times above the greatest force does not stretch the scale."""

ABOVE: Final = 1.12
CURVES: Final = ("outline", "hidden", "centre", "phantom")
NAME_SHARE: Final = 0.75
EITHER: Final = "either end out"
"""For orientations that share a line and whose names are too long to stand beside it."""

TITLE: Final = "Force and the windows of the taps"
MOST_TAPS: Final = 9
"""Taps whose columns have room for their figures."""

HANDS: Final = ("two hands from, N", "one hand from, N", "at most, N")
RESTING: Final = ("at least, N", "at most, N")
"""What stands beside the figures of each tap; with the wrench at rest hands do not matter."""

DOWN_DEG: Final = (300.0, 315.0, 285.0, 330.0)
UP_DEG: Final = (60.0, 45.0, 75.0, 30.0)
"""Ways from the first point of a curve to its figure; mirrored at the last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ForceLine:
    """The force in one orientation.

    Attributes:
        name: Its name, such as "point out".
        travel_mm: Travel from the plunger's stop, rising.
        force_N: Force at each.
        least_N: The least it may be, with the tolerances.
        most_N: The most.
    """

    name: str
    travel_mm: tuple[float, ...]
    force_N: tuple[float, ...]
    least_N: tuple[float, ...]
    most_N: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ForceBand:
    """The window of force of a tap.

    Attributes:
        name: The tap, such as "M6".
        two_hands_N: Least force with two hands on the wrench.
        one_hand_N: Least force with one.
        ceiling_N: The most force; infinite for none.
        gives_N: Least and greatest force of the tool with the end that this tap takes.
        rests: Whether the wrench rests, so that both floors are one.
    """

    name: str
    two_hands_N: float
    one_hand_N: float
    ceiling_N: float
    gives_N: tuple[float, float]
    rests: bool = False


def force_figures(curves: Sequence[ForceLine], bands: Sequence[ForceBand]) -> tuple[Figure, ...]:
    """Return as many figures of force and windows as the taps need, the taps shared evenly.

    Raises:
        ValueError: If there is no curve, or a curve holds no finite force.
    """
    count = max(1, ceil(len(bands) / MOST_TAPS))
    if count == 1:
        return (force_figure(curves, bands),)
    ends = [len(bands) * n // count for n in range(count + 1)]
    return tuple(
        force_figure(curves, bands[low:high], name=f"force {n}", title=f"{TITLE} ({n} of {count})")
        for n, (low, high) in enumerate(pairwise(ends), 1)
    )


def force_figure(
    curves: Sequence[ForceLine],
    bands: Sequence[ForceBand],
    *,
    name: str = "force",
    title: str = TITLE,
) -> Figure:
    """Return force against travel, and beside it, on the same scale, a column for each tap.

    Args:
        curves: One for each orientation; those that coincide share a line.
        bands: One for each tap, nine at most.
        name: Names it among the figures.
        title: What stands over it.

    Raises:
        ValueError: If there is no curve, a curve holds no finite force, or the taps are too many.
    """
    if not curves or len(bands) > MOST_TAPS:
        raise ValueError(f"{len(curves)} curves, {len(bands)} taps")
    if not all(isfinite(force) for each in curves for force in (*each.least_N, *each.most_N)):
        raise ValueError("a force that is not finite")
    merged = _merged(curves)
    columns_mm = min(COLUMN_MOST_MM * len(bands), COLUMNS_MOST_MM)
    wide = min(LEFT_MOST_MM, BOTH_MM - columns_mm)
    last = max(curve.travel_mm[-1] for curve in curves)
    words = "travel, mm (0: plunger out)"
    along = axis(words, 0.0, last, most=7, rounded=False, room_mm=wide)
    up = _force_axis(curves, bands)
    axes = Axes(x=along, y=up, width_mm=wide, height_mm=HEIGHT_OF_PLOT_MM)
    behind = list(axes.scale_lines())
    marks: list[Mark] = [*_curves(axes, merged), *axes.frame()]
    entries = [("warm", "tolerance of the force")]
    if bands:
        beside = _columns_axes(axes, len(bands), columns_mm)
        behind += beside.scale_lines(up=False)
        marks += _columns(beside, bands)
        marks += beside.frame(bottom=False, left=False)
        entries += _kinds(bands)
    room = (axes.left_mm, axes.bottom_mm, axes.right_mm, axes.top_mm)
    marks += placed_labels(_labels(axes, merged), marks, room)
    signs: list[tuple[Sign, str, str]] = [("tone", style, words) for style, words in entries]
    if bands:
        signs.append(("line", "outline", "force of the tool"))
    marks += key(
        signs,
        left_mm=0.0,
        bottom_mm=axes.top_mm + 2 * GAP_MM + 1.5,
        room_mm=max(KEY_MM, wide),
    )
    return figure(name, title, _caption(merged, bands), marks, behind)


def _kinds(bands: Sequence[ForceBand]) -> list[tuple[str, str]]:
    """Return the tones of the windows and what each says."""
    if _at_rest(bands):
        return [("middle", "held, the wrench at rest")]
    return [("light", "held with two hands"), ("middle", "held with one hand too")]


def _at_rest(bands: Sequence[ForceBand]) -> bool:
    return all(band.rests for band in bands)


def _columns_axes(axes: Axes, taps: int, width_mm: float) -> Axes:
    """Return where the columns stand: to the right, on the same scale of force."""
    return Axes(
        x=Axis("", 0.0, float(taps), 1.0),
        y=axes.y,
        width_mm=width_mm,
        height_mm=axes.height_mm,
        left_mm=axes.right_mm + BETWEEN_MM,
    )


def _caption(merged: Sequence[ForceLine], bands: Sequence[ForceBand]) -> str:
    ends = "; ".join(
        f"{curve.name}: {shown(curve.force_N[0], 'N')} to {shown(curve.force_N[-1], 'N')}"
        for curve in merged
    )
    if not bands:
        return f"The force over the travel, with its tolerance ({ends})."
    return (
        f"The force over the travel, with its tolerance ({ends}), and on the same scale the forces "
        "between which each tap may be held, and in its column the force that it gets from the end "
        "it takes. An arrow says that the window goes on."
    )


def _force_axis(curves: Sequence[ForceLine], bands: Sequence[ForceBand]) -> Axis:
    given = [force for band in bands for force in band.gives_N]
    most = max([*given, *(max(*curve.most_N, *curve.force_N) for curve in curves)])
    floors = [
        floor
        for band in bands
        for floor in (band.two_hands_N, band.one_hand_N)
        if floor <= FAR_FLOOR * most
    ]
    return axis("force, N", 0.0, ABOVE * max([most, *floors]), most=7)


def _merged(curves: Sequence[ForceLine]) -> tuple[ForceLine, ...]:
    """Return the curves, those that coincide as one with all their names."""
    near = SAME_SHARE * max(max(curve.most_N) for curve in curves)
    kept: list[ForceLine] = []
    for curve in curves:
        for n, other in enumerate(kept):
            if _alike(curve, other, near):
                kept[n] = ForceLine(
                    name=f"{other.name} and {curve.name}",
                    travel_mm=other.travel_mm,
                    force_N=other.force_N,
                    least_N=tuple(map(min, other.least_N, curve.least_N)),
                    most_N=tuple(map(max, other.most_N, curve.most_N)),
                )
                break
        else:
            kept.append(curve)
    return tuple(kept)


def _alike(one: ForceLine, other: ForceLine, near: float) -> bool:
    if len(one.travel_mm) != len(other.travel_mm):
        return False
    pairs = [
        *zip(one.travel_mm, other.travel_mm, strict=True),
        *zip(one.force_N, other.force_N, strict=True),
    ]
    return all(abs(a - b) <= near for a, b in pairs)


def _curves(axes: Axes, merged: Sequence[ForceLine]) -> Iterator[Mark]:
    for curve in merged:
        under = list(zip(curve.travel_mm, curve.least_N, strict=True))
        over = list(zip(curve.travel_mm, curve.most_N, strict=True))
        yield axes.tone([*under, *reversed(over)], "warm")
    for curve, style in zip(merged, CURVES, strict=False):
        points = list(zip(curve.travel_mm, curve.force_N, strict=True))
        yield from axes.line(points, style)
        yield dot(axes.at(*points[0]))
        yield dot(axes.at(*points[-1]))


def _labels(axes: Axes, merged: Sequence[ForceLine]) -> Iterator[Label]:
    ranked = sorted(merged, key=lambda each: -each.force_N[0])
    for curve in ranked:
        ways = _ways(curve is ranked[0], len(ranked))
        first = axes.at(curve.travel_mm[0], curve.force_N[0])
        yield Label(shown(curve.force_N[0], "N"), first, ways)
    ranked = sorted(merged, key=lambda each: -each.force_N[-1])
    for curve in ranked:
        ways = tuple(180 - way for way in _ways(curve is ranked[0], len(ranked)))
        last = axes.at(curve.travel_mm[-1], curve.force_N[-1])
        yield Label(shown(curve.force_N[-1], "N"), last, ways)
    highest = max(merged, key=lambda each: sum(each.force_N))
    for n, curve in enumerate(merged):
        share = 0.5 if len(merged) == 1 else (0.35 + 0.3 * n / (len(merged) - 1))
        fits = width_mm(curve.name, HEIGHT_MM) <= NAME_SHARE * axes.width_mm
        words = curve.name if fits or len(merged) > 1 else EITHER
        ways = (110.0, 135.0, 90.0) if curve is highest else (290.0, 315.0, 270.0)
        if len(merged) == 1:
            ways = (110.0, 290.0, 135.0, 315.0, 90.0, 270.0)
        yield Label(words, axes.at(*_along(curve, share)), ways)


def _ways(highest: bool, curves: int) -> tuple[float, ...]:
    """Return where the figure at the first point of a curve may stand, clear of other curves."""
    if curves == 1:
        return (*UP_DEG, *DOWN_DEG)
    return UP_DEG if highest else DOWN_DEG


def _along(curve: ForceLine, share: float) -> Point:
    """Return the point of a curve at a share of its travel."""
    x = curve.travel_mm[0] + share * (curve.travel_mm[-1] - curve.travel_mm[0])
    for n in range(1, len(curve.travel_mm)):
        x1, x2 = curve.travel_mm[n - 1], curve.travel_mm[n]
        if x1 <= x <= x2 and x2 > x1:
            y1, y2 = curve.force_N[n - 1], curve.force_N[n]
            return x, y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return curve.travel_mm[-1], curve.force_N[-1]


def _columns(axes: Axes, bands: Sequence[ForceBand]) -> Iterator[Mark]:
    """Yield the window of each tap and, under it, its figures."""
    slot = axes.width_mm / len(bands)
    turned = any(width_mm(band.name, HEIGHT_MM) > slot - GAP_MM for band in bands)
    deep = max(width_mm(band.name, HEIGHT_MM) for band in bands) if turned else HEIGHT_MM
    names = axes.bottom_mm - TICK_MM - GAP_MM
    first = names - max(deep + 2.0, 2 * ROW_MM) - HEIGHT_MM
    told = RESTING if _at_rest(bands) else HANDS
    rows = [first - n * ROW_MM for n in range(len(told))]
    for words, y in zip(told, rows, strict=True):
        yield Text((axes.left_mm - GAP_MM, y), words, HEIGHT_MM, "right")
    rule = first + HEIGHT_MM + 1.0
    yield Line((axes.left_mm, rule), (axes.right_mm, rule), "thin")
    for n, band in enumerate(bands):
        middle = axes.left_mm + slot * (n + 0.5)
        if turned:
            x = middle + HEIGHT_MM / 2
            yield Text((x, names), band.name, HEIGHT_MM, "right", rotation_deg=90.0)
        else:
            yield Text((middle, names - HEIGHT_MM), band.name, HEIGHT_MM, "centre")
        floors = (band.two_hands_N, band.one_hand_N)[: len(told) - 1]
        for value, y in zip((*floors, band.ceiling_N), rows, strict=True):
            yield Text((middle, y), _short(value), HEIGHT_MM, "centre")
        half = BAR_SHARE * slot / 2
        yield from _window(axes, band, middle, half)
        yield from _given(axes, band, middle, GIVEN_SHARE * half)


def _given(axes: Axes, band: ForceBand, middle: float, half: float) -> Iterator[Mark]:
    """Yield the force that the tool gives a tap, from the preload to the full force."""
    low, high = (axes.y_mm(force) for force in band.gives_N)
    yield Line((middle, low), (middle, high), "outline")
    for y in (low, high):
        yield Line((middle - half, y), (middle + half, y), "outline")


def _short(value: float) -> str:
    if not isfinite(value):
        return "\N{EN DASH}"
    return number(value, 0 if abs(value) >= 10 else 1)


def _window(axes: Axes, band: ForceBand, middle: float, half: float) -> Iterator[Mark]:
    """Yield the window of a tap as far as the scale shows it."""
    top = axes.y.high
    end = min(band.ceiling_N, top)
    sides = (middle - half, middle + half)

    def area(low: float, style: str) -> Fill:
        y1, y2 = axes.y_mm(low), axes.y_mm(end)
        return Fill(((sides[0], y1), (sides[1], y1), (sides[1], y2), (sides[0], y2)), style)

    def edge(force: float, style: str) -> Line:
        y = axes.y_mm(force)
        return Line((sides[0], y), (sides[1], y), style)

    if band.two_hands_N >= band.ceiling_N:
        if band.ceiling_N < top:
            y1, y2 = axes.y_mm(band.ceiling_N), axes.y_mm(min(band.two_hands_N, top))
            yield Line((sides[0], y1), (sides[1], y2), "thin")
            yield Line((sides[0], y2), (sides[1], y1), "thin")
        return
    if band.two_hands_N < end:
        yield area(band.two_hands_N, "light")
        yield edge(band.two_hands_N, "outline")
    if band.one_hand_N < end:
        yield area(band.one_hand_N, "middle")
        yield edge(band.one_hand_N, "outline")
    if band.ceiling_N < top:
        yield edge(band.ceiling_N, "outline")
    else:
        y = axes.top_mm
        yield Fill(((middle - 1.0, y), (middle + 1.0, y), (middle, y + 2.4)))
