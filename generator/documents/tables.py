"""Tables on a sheet: the parts list above the title block, and figures beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from generator.documents.asks import Cluster
from generator.documents.drawing import Anchor, Line, Mark, Text
from generator.documents.sheet import rectangle
from generator.documents.text import width_mm

PAD_MM: Final = 1.5
SHRINKS: Final = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)


@dataclass(frozen=True, slots=True)
class Column:
    """A column.

    Attributes:
        heading: Its heading.
        width_mm: Its width on paper.
        anchor: Where its cells stand.
        even: Whether all its cells are as small as the longest needs.
    """

    heading: str
    width_mm: float
    anchor: Anchor = "left"
    even: bool = False


def table(
    columns: Sequence[Column],
    rows: Sequence[Sequence[str]],
    corner: tuple[float, float],
    height_mm: float,
    *,
    upward: bool,
) -> Cluster:
    """Return a table whose lower left corner stands at a point of the sheet.

    Args:
        columns: The columns.
        rows: The cells; a row with fewer cells than columns spreads its last one.
        corner: The lower left corner.
        height_mm: Height of its letters; the rows are twice as high.
        upward: Whether it reads upward from a heading at its foot, as a parts list does above a
            title block.
    """
    tall = 2 * height_mm
    left, bottom = corner
    width = sum(column.width_mm for column in columns)
    heights = [
        min(_height(row[n], column.width_mm, height_mm) for row in rows if n < len(row))
        if column.even
        else height_mm
        for n, column in enumerate(columns)
    ]
    lines = [[column.heading for column in columns], *rows]
    marks: list[Mark] = [
        *rectangle(left, bottom, left + width, bottom + tall * len(lines), "frame")
    ]
    for n, cells in enumerate(lines if upward else lines[::-1]):
        floor = bottom + tall * n
        heading = cells is lines[0]
        if n:
            parting = n == 1 if upward else heading
            style = "frame" if parting else "grid"
            marks.append(Line((left, floor), (left + width, floor), style))
        asked = [height_mm] * len(columns) if heading else heights
        marks += _row(columns, cells, left, floor, tall, asked)
    return Cluster(tuple(marks), (), (left, bottom, left + width, bottom + tall * len(lines)))


def _row(
    columns: Sequence[Column],
    cells: Sequence[str],
    left: float,
    floor: float,
    tall: float,
    heights: Sequence[float],
) -> Iterator[Mark]:
    """Yield the cells of a row and the lines between them."""
    x = left
    for n, cell in enumerate(cells):
        last = n == len(cells) - 1
        width = sum(c.width_mm for c in columns[n:]) if last else columns[n].width_mm
        if n:
            yield Line((x, floor), (x, floor + tall), "grid")
        height = _height(cell, width, heights[n])
        spread = last and len(cells) < len(columns)
        anchor: Anchor = "centre" if spread else columns[n].anchor
        at = {"left": x + PAD_MM, "centre": x + width / 2, "right": x + width - PAD_MM}[anchor]
        if cell:
            yield Text((at, floor + (tall - height) / 2), cell, height, anchor)
        x += width


def _height(text: str, cell_mm: float, height_mm: float) -> float:
    """Return the height at which a text fits a cell, not below half the height asked."""
    for share in SHRINKS:
        if width_mm(text, share * height_mm) <= cell_mm - 2 * PAD_MM:
            return share * height_mm
    return SHRINKS[-1] * height_mm
