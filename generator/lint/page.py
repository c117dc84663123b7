"""A sheet with what is recognised on it: its frame, its tables, and its call-outs on leaders."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot
from typing import Final

from generator.lint.sheet import LOOSE, Box, Letters, Patch, Point, Sheet, Stroke, ratio_in
from generator.lint.touch import encloses

TOUCH_MM: Final = 0.02
LARGE_SHARE: Final = 0.75
"""Lines of the frame span more of the sheet than this (engineering judgement)."""
EDGE_MM: Final = 2.0
"""Lines so near the edge of the paper are the edge (engineering judgement)."""
TABLE_MM: Final = (20.0, 4.0)
"""What is smaller than this is no table (engineering judgement)."""
SHELF_MM: Final = 2.5
"""How far above the shelf of a leader its text may stand (engineering judgement)."""
PITCH_MM: Final = 3.0
"""Greatest gap between two rows of a call-out (engineering judgement)."""

ALIGNED: Final = 0.999
"""Cosine of the greatest angle between a leader and its arrowhead (engineering judgement)."""


@dataclass(frozen=True, slots=True)
class Leader:
    """A leader: its arrow, its elbow, and the rows of its call-out, the upper one first."""

    tip: Point
    elbow: Point
    rows: tuple[Letters, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """A sheet and what is recognised on it.

    Attributes:
        sheet: The sheet.
        inner: The drawing space within the frame; None where there is no frame.
        tables: The title block and other tables.
        leaders: All leaders that have letters.
        detail_scales: Scales told outside the tables: those of detail views.
    """

    sheet: Sheet
    inner: Box | None
    tables: tuple[Box, ...]
    leaders: tuple[Leader, ...]
    detail_scales: tuple[float, ...]

    def is_on_leader(self, letters: Letters) -> bool:
        """Tell whether a text belongs to a call-out."""
        return any(letters in leader.rows for leader in self.leaders)

    def is_in_table(self, box: Box) -> bool:
        """Tell whether a box lies in a table."""
        return any(encloses(table, box, 0.5) for table in self.tables)


def page_of(sheet: Sheet) -> Page:
    """Return a sheet with what is recognised on it."""
    lines = [stroke for stroke in sheet.strokes if stroke.layer == "FRAME"]
    inner = _inner(lines, sheet.size_mm)
    tables = _tables(lines, inner) if inner else ()
    told = [e for e in sheet.letters if not any(encloses(t, e.box, 0.5) for t in tables)]
    scales = [ratio for each in told if (ratio := ratio_in(each.text)) is not None]
    return Page(sheet, inner, tables, tuple(_leaders(sheet)), tuple(dict.fromkeys(scales)))


def _inner(lines: list[Stroke], size: Point) -> Box | None:
    """Return the frame: the outermost lines that span most of the sheet, its edge left out."""
    level = [s.start[1] for s in lines if _is_level(s) and _long(s) > LARGE_SHARE * size[0]]
    upright = [s.start[0] for s in lines if _is_upright(s) and _long(s) > LARGE_SHARE * size[1]]
    inside = [
        [at for at in places if EDGE_MM < at < whole - EDGE_MM]
        for places, whole in ((upright, size[0]), (level, size[1]))
    ]
    if any(len(places) < 2 for places in inside):
        return None
    return min(inside[0]), min(inside[1]), max(inside[0]), max(inside[1])


def _long(stroke: Stroke) -> float:
    return hypot(stroke.end[0] - stroke.start[0], stroke.end[1] - stroke.start[1])


def _is_level(stroke: Stroke) -> bool:
    return abs(stroke.start[1] - stroke.end[1]) < TOUCH_MM


def _is_upright(stroke: Stroke) -> bool:
    return abs(stroke.start[0] - stroke.end[0]) < TOUCH_MM


def stroke_box(stroke: Stroke) -> Box:
    """Return left, bottom, right and top of a line."""
    (ax, ay), (bx, by) = stroke.start, stroke.end
    return min(ax, bx), min(ay, by), max(ax, bx), max(ay, by)


def _tables(lines: list[Stroke], inner: Box) -> tuple[Box, ...]:
    """Return the boxes of connected lines within the frame that are not the frame itself."""
    grouped: list[Box] = []
    for stroke in lines:
        box = stroke_box(stroke)
        if not encloses(inner, box, TOUCH_MM) or _on_border(box, inner):
            continue
        while met := [other for other in grouped if _meet(box, other)]:
            grouped = [other for other in grouped if other not in met]
            for other in met:
                box = (
                    min(box[0], other[0]),
                    min(box[1], other[1]),
                    max(box[2], other[2]),
                    max(box[3], other[3]),
                )
        grouped.append(box)
    wide, tall = TABLE_MM
    return tuple(box for box in grouped if box[2] - box[0] > wide and box[3] - box[1] > tall)


def _on_border(box: Box, inner: Box) -> bool:
    return any(
        box[n + 2] - box[n] < TOUCH_MM
        and min(abs(box[n] - inner[n]), abs(box[n] - inner[n + 2])) < TOUCH_MM
        for n in (0, 1)
    )


def _meet(a: Box, b: Box) -> bool:
    return all(a[n] <= b[n + 2] + TOUCH_MM and b[n] <= a[n + 2] + TOUCH_MM for n in (0, 1))


def arrow_tip(patch: Patch) -> Point | None:
    """Return the tip of an arrowhead: where its two equal sides meet; None for other fills."""
    if len(patch.points) != 3:
        return None
    best = None
    for n in range(3):
        tip, a, b = (patch.points[(n + k) % 3] for k in range(3))
        legs = hypot(a[0] - tip[0], a[1] - tip[1]), hypot(b[0] - tip[0], b[1] - tip[1])
        base = hypot(a[0] - b[0], a[1] - b[1])
        if abs(legs[0] - legs[1]) < TOUCH_MM and base < 0.6 * legs[0]:
            best = tip
    return best


def _leaders(sheet: Sheet) -> Iterator[Leader]:
    """Yield the leaders: an arrowhead, a line from its tip, a shelf, and rows on and below it."""
    loose = [s for s in sheet.strokes if s.layer == "DIMENSION" and s.owner == LOOSE]
    letters = [e for e in sheet.letters if e.owner == LOOSE and not e.upright]
    level = [s for s in loose if _is_level(s) and _long(s) > TOUCH_MM]
    for patch in sheet.patches:
        tip = arrow_tip(patch) if patch.owner == LOOSE and patch.layer == "DIMENSION" else None
        if tip is None:
            continue
        elbows = [
            elbow
            for s in loose
            if _ends_at(s, tip) and _behind(patch, tip, elbow := _other_end(s, tip))
        ]
        for elbow in elbows:
            shelves = [s for s in level if _ends_at(s, elbow)]
            rows = _rows(shelves, letters, level)
            if rows:
                yield Leader(tip, elbow, rows)
                break


def _ends_at(stroke: Stroke, point: Point) -> bool:
    return any(hypot(x - point[0], y - point[1]) < TOUCH_MM for x, y in (stroke.start, stroke.end))


def _other_end(stroke: Stroke, point: Point) -> Point:
    near = hypot(stroke.start[0] - point[0], stroke.start[1] - point[1]) < TOUCH_MM
    return stroke.end if near else stroke.start


def _behind(patch: Patch, tip: Point, elbow: Point) -> bool:
    """Tell whether the line of a leader lies in its arrowhead."""
    mx, my = (sum(point[n] for point in patch.points) / 3 - tip[n] for n in (0, 1))
    dx, dy = elbow[0] - tip[0], elbow[1] - tip[1]
    return mx * dx + my * dy > ALIGNED * hypot(mx, my) * hypot(dx, dy)


def _rows(
    shelves: list[Stroke], letters: list[Letters], level: list[Stroke]
) -> tuple[Letters, ...]:
    """Return the text upon a shelf and the rows below it, as far as they follow closely."""
    for shelf in shelves:
        left, y, right, _ = stroke_box(shelf)
        first = [
            each
            for each in letters
            if 0 < each.foot - y < SHELF_MM and each.box[0] < right and left < each.box[2]
        ]
        if not first:
            continue
        found = [min(first, key=lambda each: each.foot)]
        floor = y
        while below := [
            each
            for each in letters
            if each not in found
            and -TOUCH_MM < floor - each.box[3] < PITCH_MM
            and each.box[0] < right
            and left < each.box[2]
            and not _on_shelf(each, level)
        ]:
            found.append(max(below, key=lambda each: each.foot))
            floor = found[-1].box[1]
        return tuple(found)
    return ()


def _on_shelf(letters: Letters, level: list[Stroke]) -> bool:
    """Tell whether a text stands on a shelf of its own."""
    return any(
        0 < letters.foot - s.start[1] < SHELF_MM
        and min(s.start[0], s.end[0]) < letters.middle[0] < max(s.start[0], s.end[0])
        for s in level
    )
