"""The sheet around the views: frame, title block, notes, banner, and how the views are packed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from generator.documents.asks import Cluster
from generator.documents.drawing import (
    Dimension,
    Drawing,
    Line,
    Mark,
    Text,
)
from generator.documents.layout import bounds, moved, moved_dimension
from generator.documents.text import Box, wrapped
from generator.documents.title_block import BLOCK_MM, UNITS, Header, Legend, rectangle, title_block

SHEETS: Final = {
    "A4": (297.0, 210.0),
    "A3": (420.0, 297.0),
    "Letter": (279.4, 215.9),
    "Tabloid": (431.8, 279.4),
}
"""Long side across: ISO 216, and the sizes A and B of ASME Y14.1."""

CHOICES: Final = (
    ("A4", 5.0),
    ("A4", 2.0),
    ("A4", 1.0),
    ("A3", 2.0),
    ("A3", 1.0),
    ("A4", 0.5),
    ("A3", 0.5),
)
"""Sheets and scales (ISO 5455) in the order they are tried."""

US_SIZES: Final = {"A4": "Letter", "A3": "Tabloid"}

FILING_MM: Final = 20.0
BORDER_MM: Final = 10.0
NOTE_MM: Final = 3.5
LINE_MM: Final = 5.5
SPACE_MM: Final = 5.0


def choices(
    header: Header, last: Sequence[tuple[str, float]] = ()
) -> tuple[tuple[str, float], ...]:
    """Return the sheets and scales in the order they are tried, on the paper the shop has.

    Args:
        header: Says which paper.
        last: What is tried when all else has failed.
    """
    tried = (*CHOICES, *last)
    if header.sheets == "A":
        return tried
    return tuple((US_SIZES[size], scale) for size, scale in tried)


def inner_frame(size: str) -> Box:
    """Return left, bottom, right and top of the drawing space (ISO 5457)."""
    width, height = SHEETS[size]
    return FILING_MM, BORDER_MM, width - BORDER_MM, height - BORDER_MM


def composed(
    name: str,
    header: Header,
    legend: Legend,
    notes: Sequence[str],
    size: str,
    scale: float,
    rows: Sequence[Sequence[Cluster]],
    tables: Sequence[Cluster] = (),
) -> Drawing | None:
    """Return the sheet with the views in rows from the top, None where they do not fit.

    Args:
        name: Name of the file.
        header: Title block and banner.
        legend: The part in the title block.
        notes: Lines for the space beside the title block.
        size: Name of the sheet.
        scale: Scale of the views.
        rows: The views; those of one row stand with their axes level.
        tables: What already has its place at the foot of the sheet; the views stay above.
    """
    left, bottom, right, _ = inner_frame(size)
    space = _space(header, notes, size, tables)
    heights = _heights_mm(space, rows)
    if heights is None:
        return None
    spare = space.height_mm - sum(heights) - SPACE_MM * (len(rows) - 1)
    marks: list[Mark] = [
        *_frame(size),
        *space.marks,
        *(mark for table in tables for mark in table.marks),
    ]
    dimensions: list[Dimension] = []
    level = space.ceiling_mm - SPACE_MM
    for row, tall in zip(rows, heights, strict=True):
        level -= spare / (len(rows) + 1)
        axis = level - max(c.box[3] for c in row)
        loose = space.width_mm - sum(c.box[2] - c.box[0] for c in row)
        step = loose / (len(row) + 1)
        x = left + SPACE_MM
        for cluster in row:
            x += step
            shift = (x - cluster.box[0], axis)
            marks += [moved(mark, *shift) for mark in cluster.marks]
            dimensions += [moved_dimension(each, *shift) for each in cluster.dimensions]
            x += cluster.box[2] - cluster.box[0]
        level -= tall + SPACE_MM
    told = f"{UNITS[header.unit]}, NOMINAL" if dimensions else "none"
    marks += title_block(header, legend, size, scale, told, (right - BLOCK_MM[0], bottom))
    return Drawing(
        name,
        header.title,
        *SHEETS[size],
        scale,
        tuple(marks),
        tuple(dimensions),
        header.unit,
    )


def open_frame(header: Header, size: str) -> Box:
    """Return left, bottom, right and top of the drawing space below the banner."""
    left, bottom, right, _ = frame = inner_frame(size)
    return left, bottom, right, _banner(header, frame)[1]


@dataclass(frozen=True, slots=True)
class _Space:
    """What banner and notes leave for the views, and their marks."""

    width_mm: float
    height_mm: float
    ceiling_mm: float
    marks: tuple[Mark, ...]


def _space(
    header: Header, notes: Sequence[str], size: str, tables: Sequence[Cluster] = ()
) -> _Space:
    frame = inner_frame(size)
    banner, ceiling = _banner(header, frame)
    written, floor = _notes(notes, frame)
    floor = max([floor, *(table.box[3] for table in tables)])
    return _Space(
        frame[2] - frame[0] - 2 * SPACE_MM,
        ceiling - floor - 2 * SPACE_MM,
        ceiling,
        (*banner, *written),
    )


def _heights_mm(space: _Space, rows: Sequence[Sequence[Cluster]]) -> list[float] | None:
    """Return the heights of the rows of views, None where they do not fit."""
    heights = []
    for row in rows:
        wide = sum(c.box[2] - c.box[0] for c in row) + 2 * SPACE_MM * (len(row) - 1)
        if wide > space.width_mm:
            return None
        heights.append(max(c.box[3] for c in row) - min(c.box[1] for c in row))
    spare = space.height_mm - sum(heights) - SPACE_MM * (len(rows) - 1)
    return heights if spare >= 0 else None


def fits(
    header: Header, notes: Sequence[str], size: str, ways: Iterable[Sequence[Sequence[Cluster]]]
) -> bool:
    """Tell whether views fit a sheet in any of some ways to set them in rows."""
    space = _space(header, notes, size)
    return any(_heights_mm(space, rows) is not None for rows in ways)


def shifted(cluster: Cluster, dx: float, dy: float) -> Cluster:
    """Return a view with its annotations, moved."""
    left, bottom, right, top = cluster.box
    return Cluster(
        tuple(moved(mark, dx, dy) for mark in cluster.marks),
        tuple(moved_dimension(each, dx, dy) for each in cluster.dimensions),
        (left + dx, bottom + dy, right + dx, top + dy),
    )


def beside(first: Cluster, second: Cluster, gap_mm: float) -> Cluster:
    """Return two views as one, the second to the right of the first on the same axis."""
    other = shifted(second, first.box[2] + gap_mm - second.box[0], 0.0)
    return Cluster(
        (*first.marks, *other.marks),
        (*first.dimensions, *other.dimensions),
        (
            first.box[0],
            min(first.box[1], other.box[1]),
            other.box[2],
            max(first.box[3], other.box[3]),
        ),
    )


def headed(cluster: Cluster, lines: Sequence[str]) -> Cluster:
    """Return a view with lines of heading above it, the first one bold."""
    left, bottom, right, top = cluster.box
    middle = (left + right) / 2
    heading = tuple(
        Text(
            (middle, top + 3.0 + LINE_MM * (len(lines) - 1 - n)),
            line,
            NOTE_MM,
            "centre",
            bold=n == 0,
        )
        for n, line in enumerate(lines)
    )
    low = bounds(heading)
    return Cluster(
        (*cluster.marks, *heading),
        cluster.dimensions,
        (min(left, low[0]), bottom, max(right, low[2]), low[3]),
    )


def _frame(size: str) -> Iterator[Line]:
    """Yield the frame and the four centring marks."""
    width, height = SHEETS[size]
    left, bottom, right, top = inner_frame(size)
    yield from rectangle(left, bottom, right, top, "frame")
    middle_x, middle_y = width / 2, height / 2
    yield Line((middle_x, 5.0), (middle_x, bottom), "frame")
    yield Line((middle_x, height - 5.0), (middle_x, top), "frame")
    yield Line((FILING_MM - 5.0, middle_y), (left, middle_y), "frame")
    yield Line((width - 5.0, middle_y), (right, middle_y), "frame")


def _banner(header: Header, frame: Box) -> tuple[list[Mark], float]:
    """Return the banner across the top of the sheet, and where the space below it begins."""
    left, _, right, top = frame
    phrases = [header.warning] if header.warning else []
    if header.failed:
        phrases.append("FAILED CHECKS: " + "; ".join(header.failed))
    if header.changed:
        phrases.append("LIMITS CHANGED: " + "; ".join(header.changed))
    lines = [
        line for phrase in phrases for line in wrapped(phrase, right - left - 8, 3.5, bold=True)
    ]
    if not lines:
        return [], top
    floor = top - LINE_MM * len(lines) - 3.0
    marks: list[Mark] = [Line((left, floor), (right, floor), "frame")]
    for n, line in enumerate(lines):
        marks.append(Text((left + 4.0, top - 5.5 - LINE_MM * n), line, 3.5, bold=True))
    return marks, floor


def _notes(notes: Sequence[str], frame: Box) -> tuple[list[Mark], float]:
    """Return the notes left of the title block, and the height they and the block take."""
    left, bottom, right, _ = frame
    room = right - left - BLOCK_MM[0] - 2 * SPACE_MM
    height = NOTE_MM
    lines = [line for note in notes for line in wrapped(note, room, height)]
    if len(lines) * LINE_MM > BLOCK_MM[1] + 12.0:
        height = 2.5
        lines = [line for note in notes for line in wrapped(note, room, height)]
    step = LINE_MM * height / NOTE_MM
    start = bottom + 4.0 + step * (len(lines) - 1)
    marks: list[Mark] = [
        Text((left + SPACE_MM, start - step * n), line, height) for n, line in enumerate(lines)
    ]
    return marks, max(bottom + BLOCK_MM[1], start + height + 2.0 if lines else bottom)


def first_that_fits(tries: Iterable[Drawing | None]) -> Drawing | None:
    """Return the first sheet on which everything fits."""
    return next((drawing for drawing in tries if drawing is not None), None)
