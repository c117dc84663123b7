"""The sheet around the views: frame, title block, notes, banner, and how the views are packed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from generator.documents.asks import Cluster
from generator.documents.drawing import Arc, Dimension, Drawing, Line, Mark, Point, Text
from generator.documents.layout import bounds, moved, moved_dimension
from generator.documents.text import Box, width_mm, wrapped
from generator.units import number

SHEETS: Final = {"A4": (297.0, 210.0), "A3": (420.0, 297.0)}
"""ISO 216, long side across."""

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

FILING_MM: Final = 20.0
BORDER_MM: Final = 10.0
BLOCK_MM: Final = (180.0, 40.0)
"""Size of the title block; its width is that of ISO 7200."""

NOTE_MM: Final = 3.5
LINE_MM: Final = 5.5
SPACE_MM: Final = 5.0


@dataclass(frozen=True, slots=True)
class Header:
    """What the title block says of the tool.

    Attributes:
        tool: Name of the tool.
        title: What the sheet shows.
        revision: Revision of the parameter file.
        parameters_hash: Twelve hexadecimal digits of the parameters.
        failed: Names of checks that failed.
        changed: Limits of checks that were changed, each as a phrase.
        projection: How end views lie to the main view.
        general_tolerance: What holds where no tolerance is given.
    """

    tool: str
    title: str
    revision: str = "A"
    parameters_hash: str = ""
    failed: tuple[str, ...] = ()
    changed: tuple[str, ...] = ()
    projection: Literal["first", "third"] = "first"
    general_tolerance: str = "ISO 2768-m"


@dataclass(frozen=True, slots=True)
class Legend:
    """What the title block says of the part."""

    material: str
    stock: str
    mass: str
    quantity: str


def scale_text(scale: float) -> str:
    """Return a scale as ISO 5455 writes it.

    Example:
        >>> scale_text(2.0), scale_text(0.5)
        ('2:1', '1:2')
    """
    return f"{number(scale)}:1" if scale >= 1 else f"1:{number(1 / scale)}"


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
        *_title_block(header, legend, size, scale, right - BLOCK_MM[0], bottom),
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
    width, height = SHEETS[size]
    return Drawing(name, header.title, width, height, scale, tuple(marks), tuple(dimensions))


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


def beside(first: Cluster, second: Cluster, gap_mm: float) -> Cluster:
    """Return two views as one, the second to the right of the first on the same axis."""
    dx = first.box[2] + gap_mm - second.box[0]
    return Cluster(
        (*first.marks, *(moved(mark, dx, 0.0) for mark in second.marks)),
        (*first.dimensions, *(moved_dimension(each, dx, 0.0) for each in second.dimensions)),
        (
            first.box[0],
            min(first.box[1], second.box[1]),
            second.box[2] + dx,
            max(first.box[3], second.box[3]),
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


def rectangle(left: float, bottom: float, right: float, top: float, style: str) -> Iterator[Line]:
    """Yield the four sides of a rectangle."""
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        yield Line(a, b, style)


def _banner(header: Header, frame: Box) -> tuple[list[Mark], float]:
    """Return the banner across the top of the sheet, and where the space below it begins."""
    left, _, right, top = frame
    phrases = []
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


def _title_block(
    header: Header, legend: Legend, size: str, scale: float, x: float, y: float
) -> Iterator[Mark]:
    """Yield the title block with its lower left corner at x, y."""
    table = (
        (("title", header.title, 100.0), ("tool", header.tool, 80.0)),
        (
            ("material", legend.material, 62.0),
            ("stock", legend.stock, 70.0),
            ("mass", legend.mass, 28.0),
            ("number off", legend.quantity, 20.0),
        ),
        (
            ("scale", scale_text(scale), 20.0),
            ("sheet", size, 16.0),
            ("rev", header.revision, 16.0),
            ("projection", "", 40.0),
            ("parameters", header.parameters_hash, 44.0),
            ("dimensions", "mm, NOMINAL", 44.0),
        ),
        (
            ("tolerances unless stated", header.general_tolerance, 60.0),
            ("edges unless stated", "broken 0.2 to 0.4", 60.0),
            ("surfaces unless stated", "Ra 3.2", 60.0),
        ),
    )
    width, height = BLOCK_MM
    yield Line((x, y), (x, y + height), "frame")
    yield Line((x, y + height), (x + width, y + height), "frame")
    tall = height / len(table)
    for n, cells in enumerate(table):
        floor = y + height - tall * (n + 1)
        if n < len(table) - 1:
            yield Line((x, floor), (x + width, floor), "grid")
        start = x
        for label, value, room in cells:
            if start > x:
                yield Line((start, floor), (start, floor + tall), "grid")
            yield Text((start + 1.5, floor + tall - 3.4), label, 1.8)
            if label == "projection":
                yield from projection_symbol(
                    header.projection, (start + room / 2 + 7.0, floor + tall / 2)
                )
            else:
                yield from _cell(value, start, floor, room, bold=label == "title")
            start += room


def _cell(value: str, start: float, floor: float, room: float, *, bold: bool) -> Iterator[Text]:
    """Yield the value of a cell: smaller, then in two lines, where it is long."""
    for height in (3.5, 3.0, 2.5):
        if width_mm(value, height, bold=bold) <= room - 3.0:
            yield Text((start + 1.5, floor + 1.8), value, height, bold=bold)
            return
    lines = wrapped(value, room - 3.0, 1.9, bold=bold)[:2]
    for n, line in enumerate(reversed(lines)):
        yield Text((start + 1.5, floor + 1.0 + 2.7 * n), line, 1.9, bold=bold)


def projection_symbol(projection: Literal["first", "third"], centre: Point) -> Iterator[Line | Arc]:
    """Yield the truncated cone of ISO 5456-2: the small end always looks to the left."""
    x, y = centre
    cone, ring = (x - 6.0, x + 5.0) if projection == "first" else (x + 5.0, x - 6.0)
    narrow, wide = 1.6, 3.2
    for sign in (1, -1):
        yield Line((cone - 3.5, y + sign * narrow), (cone + 3.5, y + sign * wide), "grid")
    yield Line((cone - 3.5, y - narrow), (cone - 3.5, y + narrow), "grid")
    yield Line((cone + 3.5, y - wide), (cone + 3.5, y + wide), "grid")
    yield Arc((ring, y), narrow, style="grid")
    yield Arc((ring, y), wide, style="grid")
    yield Line((cone - 4.5, y), (cone + 4.5, y), "centre")
    yield Line((ring - 4.2, y), (ring + 4.2, y), "centre")
    yield Line((ring, y - 4.2), (ring, y + 4.2), "centre")


def first_that_fits(tries: Iterable[Drawing | None]) -> Drawing | None:
    """Return the first sheet on which everything fits."""
    return next((drawing for drawing in tries if drawing is not None), None)
