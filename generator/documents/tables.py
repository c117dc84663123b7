"""Tables on a sheet: the parts list above the title block, and figures beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from generator.documents.asks import Cluster
from generator.documents.drawing import Anchor, Line, Mark, Text
from generator.documents.text import width_mm
from generator.documents.title_block import rectangle

PAD_MM: Final = 1.5
LEADING: Final = 1.5
"""From line to line of a heading, in heights of its letters."""
SHRINKS: Final = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5)


@dataclass(frozen=True, slots=True)
class Column:
    """A column.

    Attributes:
        heading: Its heading; lines are parted by line feeds.
        width_mm: Its width on paper.
        anchor: Where its cells stand.
    """

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
    headings = [column.heading for column in columns]
    head = tall + LEADING * height_mm * max(heading.count("\n") for heading in headings)
    top = bottom + head + tall * len(rows)
    marks: list[Mark] = [*rectangle(left, bottom, left + width, top, "frame")]
    floor, lines = bottom, [headings, *rows]
    for n, cells in enumerate(lines if upward else lines[::-1]):
        heading = cells is headings
        if n:
            parting = n == 1 if upward else heading
            style = "frame" if parting else "grid"
            marks.append(Line((left, floor), (left + width, floor), style))
        high = head if heading else tall
        marks += _row(columns, cells, left, floor, high, height_mm)
        floor += high
    return Cluster(tuple(marks), (), (left, bottom, left + width, top))


def fitted(
    cells: Sequence[Sequence[str]], room_mm: float, height_mm: float
) -> tuple[float, tuple[float, ...]]:
    """Return the height of letters, and widths of columns as their longest cells need them.

    Args:
        cells: The lines of the table, its headings among them; one with fewer cells than columns
            spreads its last one and is not looked at.
        room_mm: How wide the table may be.
        height_mm: Height that the letters have at the most.
    """
    count = max(map(len, cells))
    whole = [row for row in cells if len(row) == count]
    needs = [
        max(width_mm(line, 1.0) for row in whole for line in row[n].split("\n"))
        for n in range(count)
    ]
    pads = 2 * PAD_MM * len(needs)
    height = min(height_mm, (room_mm - pads) * (1 - 1e-9) / sum(needs))
    spare = (room_mm - pads - height * sum(needs)) / len(needs)
    return height, tuple(height * need + 2 * PAD_MM + spare for need in needs)


def _row(
    columns: Sequence[Column],
    cells: Sequence[str],
    left: float,
    floor: float,
    tall: float,
    height_mm: float,
) -> Iterator[Mark]:
    """Yield the cells of a row and the lines between them."""
    x = left
    for n, cell in enumerate(cells):
        last = n == len(cells) - 1
        width = sum(c.width_mm for c in columns[n:]) if last else columns[n].width_mm
        if n:
            yield Line((x, floor), (x, floor + tall), "grid")
        lines = cell.split("\n")
        height = min(_height(line, width, height_mm) for line in lines)
        spread = last and len(cells) < len(columns)
        anchor: Anchor = "centre" if spread else columns[n].anchor
        at = {"left": x + PAD_MM, "centre": x + width / 2, "right": x + width - PAD_MM}[anchor]
        step = LEADING * height_mm
        level = floor + (tall - height + step * (len(lines) - 1)) / 2
        for line in filter(None, lines):
            yield Text((at, level), line, height, anchor)
            level -= step
        x += width


def _height(text: str, cell_mm: float, height_mm: float) -> float:
    """Return the height at which a text fits a cell, not below half the height asked."""
    for share in SHRINKS:
        if width_mm(text, share * height_mm) <= cell_mm - 2 * PAD_MM:
            return share * height_mm
    return SHRINKS[-1] * height_mm
