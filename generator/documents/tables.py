"""Tables on a sheet: the parts list above the title block, and figures beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from generator.documents.annotate import Cluster
from generator.documents.drawing import Anchor, Line, Mark, Text
from generator.documents.sheet import rectangle
from generator.documents.text import width_mm

PAD_MM: Final = 1.5
SHRINKS: Final = (1.0, 0.9, 0.8, 0.7, 0.6)


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its heading, its width on paper, and where its cells stand."""

    heading: str
    width_mm: float
    anchor: Anchor = "left"


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
    lines = [[column.heading for column in columns], *rows]
    marks: list[Mark] = [
        *rectangle(left, bottom, left + width, bottom + tall * len(lines), "frame")
    ]
    for n, cells in enumerate(lines if upward else lines[::-1]):
        floor = bottom + tall * n
        if n:
            marks.append(Line((left, floor), (left + width, floor), "grid"))
        heading = cells is lines[0]
        marks += _row(columns, cells, left, floor, height_mm, bold=heading)
    return Cluster(tuple(marks), (), (left, bottom, left + width, bottom + tall * len(lines)))


def _row(
    columns: Sequence[Column],
    cells: Sequence[str],
    left: float,
    floor: float,
    height_mm: float,
    *,
    bold: bool,
) -> Iterator[Mark]:
    """Yield the cells of a row and the lines between them."""
    x = left
    for n, cell in enumerate(cells):
        last = n == len(cells) - 1
        width = sum(c.width_mm for c in columns[n:]) if last else columns[n].width_mm
        if n:
            yield Line((x, floor), (x, floor + 2 * height_mm), "grid")
        height = _height(cell, width - 2 * PAD_MM, height_mm, bold=bold)
        spread = last and len(cells) < len(columns)
        anchor: Anchor = "centre" if spread else columns[n].anchor
        at = {"left": x + PAD_MM, "centre": x + width / 2, "right": x + width - PAD_MM}[anchor]
        if cell:
            yield Text((at, floor + height_mm - height / 2), cell, height, anchor, bold=bold)
        x += width


def _height(text: str, room_mm: float, height_mm: float, *, bold: bool) -> float:
    """Return the height at which a text fits a cell, not below six tenths of the height asked."""
    for share in SHRINKS:
        if width_mm(text, share * height_mm, bold=bold) <= room_mm:
            return share * height_mm
    return SHRINKS[-1] * height_mm
