"""Rules of dimensions: each prints what it measures, of something drawn, in a row of its own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, degrees, hypot, isnan, radians, sin
from typing import Final

import numpy as np

from generator.lint.page import Page
from generator.lint.sheet import Fault, Measure, Point, Sheet, Stroke
from generator.lint.touch import Array, Flags, bow_points, distances, rows

STATED_WITHIN: Final = 1e-6
LEAST_ROUNDING: Final = {"mm": 0.0005, "inch": 0.0005, "deg": 0.0005}
MOST_ROUNDING: Final = {"mm": 0.005, "inch": 0.0005, "deg": 0.05}
"""What a printed number may be off: half its last digit, yet no more than the second, and the
first where trailing zeros are left out (engineering judgement)."""
ON_MM: Final = 0.05
"""How near on paper counts as there."""
EXTENSION_GAP_MM: Final = 1.6
"""Greatest gap between a feature and its extension line (engineering judgement)."""
VIRTUAL_MM: Final = 12.0
"""How far from both lines a theoretical corner may lie (engineering judgement)."""
LANE_MM: Final = 1.0
NUMBER: Final = r"\d*\.?\d+"
_NUMBER: Final = re.compile(NUMBER)
_LIMITS: Final = re.compile(rf"\(?([+-]?{NUMBER})/([+-]?{NUMBER})\)?")
_SHAPES: Final = frozenset(("OUTLINE", "THIN", "THREAD", "HIDDEN", "CENTRE", "PHANTOM"))


@dataclass(frozen=True, slots=True)
class Printed:
    """What stands at a dimension.

    Attributes:
        number: The number.
        half_digit: Half of its last digit.
        is_reference: Whether it stands in brackets.
        tail: What follows the number.
    """

    number: float
    half_digit: float
    is_reference: bool
    tail: str


def printed(measure: Measure) -> Printed | None:
    """Return the number printed at a dimension, None where there is none."""
    before = (measure.pattern or "<>").partition("<>")[0]
    shown = measure.text.strip()
    is_open = shown.startswith("(") and shown.endswith(")")
    plain = shown.removeprefix(before) if "<>" in measure.pattern else shown
    found = _NUMBER.search(plain)
    if found is None:
        return None
    digits = found[0].partition(".")[2]
    return Printed(
        float(found[0]), 0.5 * 10.0 ** -len(digits), is_open, plain[found.end() :].rstrip(")")
    )


def length_mm(measure: Measure) -> float:
    """Return what a dimension measures, in millimetres of paper, or degrees."""
    line, a, b, c = measure.points[:4]
    match measure.kind:
        case "linear":
            turn = radians(measure.turn_deg)
            return abs((b[0] - a[0]) * cos(turn) + (b[1] - a[1]) * sin(turn))
        case "aligned":
            return hypot(b[0] - a[0], b[1] - a[1])
        case "angular":
            u, v = (b[0] - a[0], b[1] - a[1]), (line[0] - c[0], line[1] - c[1])
            return degrees(abs(atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])))
        case "angular by points":
            u, v = (a[0] - c[0], a[1] - c[1]), (b[0] - c[0], b[1] - c[1])
            return degrees(abs(atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])))
        case "diameter" | "radius":
            return hypot(c[0] - line[0], c[1] - line[1])
        case _:
            return abs(a[0] - line[0]) if measure.along_x else abs(a[1] - line[1])


def is_angle(measure: Measure) -> bool:
    """Tell whether a dimension measures an angle."""
    return measure.kind.startswith("angular")


def is_upright(measure: Measure) -> bool:
    """Tell whether a linear dimension measures along y."""
    return abs((measure.turn_deg % 180) - 90) < 1.0


def in_inches(page: Page) -> bool:
    """Tell whether the title block says that dimensions are in inches."""
    return any(
        each.text.lower().startswith("inch") and page.is_in_table(each.box)
        for each in page.sheet.letters
    )


def wanted(page: Page, measure: Measure) -> list[float]:
    """Return what a dimension may print: one number, or one more in a view at another scale."""
    sheet, size = page.sheet, length_mm(measure)
    if is_angle(measure):
        return [size]
    true_mm = size / (1.0 if isnan(sheet.scale) else sheet.scale)
    unit_mm = 25.4 if in_inches(page) else 1.0
    views = [true_mm * sheet.scale / scale for scale in page.detail_scales]
    return [each / unit_mm for each in (true_mm, *(views if "<>" not in measure.pattern else ()))]


def numbers_true(page: Page) -> Iterator[Fault]:
    """Yield dimensions whose number is not what their points measure."""
    file, unit = page.sheet.file, "inch" if in_inches(page) else "mm"
    for measure in page.sheet.measures:
        shown, allowed = printed(measure), wanted(page, measure)
        if shown is None:
            what = f"a {measure.kind} dimension prints {measure.text!r}, no number"
            yield Fault(file, "number", measure.at, what, "print what it measures")
            continue
        kind = "deg" if is_angle(measure) else unit
        slack = 1.001 * max(min(shown.half_digit, MOST_ROUNDING[kind]), LEAST_ROUNDING[kind])
        if not any(abs(shown.number - each) <= slack for each in allowed):
            what = f"{measure.text!r} measures {allowed[0]:.6g}"
            yield Fault(file, "number", measure.at, what, "print what its points measure")
        own = _reader_number(page.sheet, measure)
        if "<>" in (measure.pattern or "<>") and abs(own - allowed[0]) > slack:
            what = f"{measure.text!r} is drawn anew by a reader as {own:.6g}"
            yield Fault(file, "number", measure.at, what, "let unit and factor give the number")
        stated = degrees(measure.stated) if is_angle(measure) else measure.stated * measure.factor
        if not isnan(stated) and abs(stated - own) > STATED_WITHIN * max(1.0, own):
            what = f"{measure.text!r} states a measure of {stated:.6g} in the file"
            yield Fault(file, "number", measure.at, what, f"its points measure {own:.6g}")
        found = _LIMITS.search(shown.tail)
        if found and not float(found[1]) > float(found[2]):
            what = f"{measure.text!r} has its upper limit at or below its lower one"
            yield Fault(file, "limits", measure.at, what, "print the upper limit first")


def _reader_number(sheet: Sheet, measure: Measure) -> float:
    """Return the number that a program prints which draws the dimension anew."""
    if is_angle(measure):
        return length_mm(measure)
    scale = 1.0 if isnan(sheet.scale) else sheet.scale
    unit_mm = 1.0 if isnan(sheet.unit_mm) else sheet.unit_mm
    return length_mm(measure) / scale / unit_mm * measure.factor


@dataclass(frozen=True, slots=True)
class Shapes:
    """What is drawn of parts, on paper.

    Attributes:
        runs: All straight runs, arcs as chords; shape (runs, 4).
        spots: Ends, middles and outermost points of lines and arcs; shape (spots, 2).
        lines: The runs that are straight in truth.
    """

    runs: Array
    spots: Array
    lines: Array


def shapes_of(sheet: Sheet) -> Shapes:
    """Return what is drawn of parts."""
    lines = [(*s.start, *s.end) for s in sheet.strokes if s.layer in _SHAPES]
    runs, spots = list(lines), [end for x1, y1, x2, y2 in lines for end in ((x1, y1), (x2, y2))]
    for bow in sheet.bows:
        if bow.layer in _SHAPES:
            points = bow_points(bow)
            runs += [(*a, *b) for a, b in pairwise(points)]
            (x, y), r = bow.centre, bow.radius_mm
            spots += [points[0], points[-1], bow.centre]
            spots += [(x + r, y), (x - r, y), (x, y + r), (x, y - r)]
    return Shapes(rows(runs), np.array(spots).reshape(-1, 2), rows(lines))


def points_drawn(page: Page) -> Iterator[Fault]:
    """Yield dimensions that measure from where nothing is drawn."""
    sheet, shapes = page.sheet, shapes_of(page.sheet)
    own: dict[int, list[Stroke]] = {}
    for stroke in sheet.strokes:
        own.setdefault(stroke.owner, []).append(stroke)
    if not len(shapes.runs):
        return
    for measure in sheet.measures:
        line, a, b, c = measure.points[:4]
        if measure.kind == "linear":
            ends = [_foot(measure, each, own.get(measure.number, [])) for each in (a, b)]
            along = 1 if is_upright(measure) else 0
            bad = [e for e in ends if not _is_feature(e, along, line, shapes)]
        else:
            known = {"aligned": (a, b), "angular": (a, b, c, line), "angular by points": (a, b, c)}
            ends = list(known.get(measure.kind, (line, c)))
            bad = [e for e in ends if distances(e, shapes.runs).min() > ON_MM]
        for end in bad[:1]:
            what = f"{measure.text!r} measures from where nothing is drawn"
            right = "let its points lie on the edges that it is about"
            yield Fault(sheet.file, "point", end, what, right)


def _foot(measure: Measure, point: Point, strokes: list[Stroke]) -> Point:
    """Return where an extension line begins at the part, or the point where it has none."""
    along = 1 if is_upright(measure) else 0
    level = measure.points[0][1 - along]
    ends = [
        end
        for stroke in strokes
        if abs(stroke.start[along] - stroke.end[along]) < ON_MM
        for end in (stroke.start, stroke.end)
        if abs(end[along] - point[along]) < ON_MM
    ]
    if not ends:
        return point
    far = max(ends, key=lambda end: abs(end[1 - along] - level))
    return far if abs(far[1 - along] - level) > ON_MM else point


def _is_feature(foot: Point, along: int, line: Point, shapes: Shapes) -> bool:
    """Tell whether something is drawn where an extension line points.

    An end or the side of an arc, an edge along the extension line, a point of a sloping edge, or
    the corner where two edges would meet.
    """
    away = 1.0 if foot[1 - along] >= line[1 - along] else -1.0
    at, across = foot[along], foot[1 - along]

    def near(spots: Array) -> Flags:
        beyond = away * (spots[:, 1 - along] - across)
        level = np.abs(spots[:, along] - at) < ON_MM
        return np.asarray(level & (np.abs(beyond) < EXTENSION_GAP_MM))

    if near(shapes.spots).any():
        return True
    runs = shapes.runs
    low, high = np.minimum(runs[:, :2], runs[:, 2:]), np.maximum(runs[:, :2], runs[:, 2:])
    way = runs[:, 2:] - runs[:, :2]
    spans = (low[:, along] - ON_MM < at) & (at < high[:, along] + ON_MM)
    level = np.abs(way[:, 1 - along]) < 1e-6
    thin = np.where(np.abs(way[:, along]) < 1e-9, 1.0, way[:, along])
    cut = runs[:, 1 - along] + (at - runs[:, along]) / thin * way[:, 1 - along]
    edge = np.abs(way[:, along]) < ON_MM
    passes = (low[:, 1 - along] - EXTENSION_GAP_MM < across) & (
        across < high[:, 1 - along] + EXTENSION_GAP_MM
    )
    sloping = np.abs(cut - across) < EXTENSION_GAP_MM
    if (spans & ~level & np.where(edge, passes, sloping)).any():
        return True
    return _is_virtual(foot, along, shapes.lines)


def _is_virtual(foot: Point, along: int, lines: Array) -> bool:
    """Tell whether two edges, made longer, meet where an extension line points."""
    close = lines[distances(foot, lines) < VIRTUAL_MM]
    start, way = close[:, :2], close[:, 2:] - close[:, :2]
    turn = way[:, None, 0] * way[None, :, 1] - way[:, None, 1] * way[None, :, 0]
    apart = start[None, :] - start[:, None]
    crossed = np.abs(turn) > 1e-3
    share = (apart[..., 0] * way[None, :, 1] - apart[..., 1] * way[None, :, 0]) / np.where(
        crossed, turn, 1.0
    )
    met = start[:, None] + share[..., None] * way[:, None]
    there = np.abs(met[..., along] - foot[along]) < ON_MM
    reached = np.abs(met[..., 1 - along] - foot[1 - along]) < EXTENSION_GAP_MM
    return bool((crossed & there & reached).any())


def rows_ordered(page: Page) -> Iterator[Fault]:
    """Yield dimensions farther out than a longer one about them, or upon another."""
    lanes = [lane for m in page.sheet.measures if m.kind == "linear" and (lane := _lane(m))]
    for n, one in enumerate(lanes):
        for other in lanes[n + 1 :]:
            if (
                one.side != other.side
                or min(one.high, other.high) - max(one.low, other.low) < ON_MM
            ):
                continue
            if abs(one.level - other.level) < LANE_MM:
                if abs(one.foot - other.foot) < 4 * max(1.0, abs(one.level - one.foot)):
                    what = f"{one.measure.text!r} runs upon {other.measure.text!r}"
                    right = "put each in a row of its own"
                    yield Fault(page.sheet.file, "rows", one.measure.at, what, right)
                continue
            inner, outer = sorted((one, other), key=lambda lane: lane.level)
            holds = inner.low <= outer.low + ON_MM and outer.high <= inner.high + ON_MM
            longer = inner.high - inner.low > outer.high - outer.low + ON_MM
            if holds and longer and inner.foot < outer.level and outer.foot < inner.level:
                what = f"{outer.measure.text!r} stands outside the longer {inner.measure.text!r}"
                right = "put the shorter one next to the part"
                yield Fault(page.sheet.file, "rows", outer.measure.at, what, right)


@dataclass(frozen=True, slots=True)
class Lane:
    """A row that a dimension line lies in; levels grow away from the part.

    Attributes:
        measure: The dimension.
        side: Along which axis it measures, and to which side of the part it lies.
        low: Where its span begins.
        high: Where it ends.
        level: How far out the dimension line lies.
        foot: How far out what it measures lies.
    """

    measure: Measure
    side: tuple[int, float]
    low: float
    high: float
    level: float
    foot: float


def _lane(measure: Measure) -> Lane | None:
    """Return the row of a linear dimension, None where its line lies between its points."""
    line, a, b = measure.points[:3]
    along = 1 if is_upright(measure) else 0
    feet = a[1 - along], b[1 - along]
    level = line[1 - along]
    if min(feet) - ON_MM <= level <= max(feet) + ON_MM:
        return None
    out = 1.0 if level > max(feet) else -1.0
    low, high = sorted((a[along], b[along]))
    foot = max(out * each for each in feet)
    return Lane(measure, (along, out), low, high, out * level, foot)
