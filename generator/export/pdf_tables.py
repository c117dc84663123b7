"""Tables of the PDF: the lines of every cell and the height of every row, settled beforehand."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate
from typing import Any, Final

from generator.documents.table import TICK, WRITE_HERE, Table
from generator.export.columns import (
    POINT_MM,
    SHORT_MM,
    SPARE_MM,
    column_widths_mm,
    letters_mm,
    lines_of,
)

ROOM_MM: Final = 175.0
"""Width of a page between its margins."""

PITCH_EM: Final = 1.2
"""From one line of a cell to the next."""

INSET_MM: Final = 1.2
INSET_EM: Final = 0.42
"""Beside the letters of a cell: so much, but no less than that many millimetres."""

ABOVE_EM: Final = 0.21
BY_HAND: Final = (WRITE_HERE, TICK)
BY_HAND_WIDE_MM: Final = (24.0, 9.0)
"""Cells that are filled in by hand, and how wide their columns are."""

BESIDE_HAND_MM: Final = 16.0
"""Beside such columns a column of short cells is no wider than this."""

BY_HAND_MM: Final = 7.5
"""Least height of a row that is filled in by hand."""

GUTTER_MM: Final = 7.0
Cells = Sequence[Sequence[str]]


def plain(text: str) -> str:
    """Return text on one line, without control characters."""
    if not text.isprintable():
        text = "".join(c if c.isprintable() else " " for c in text)
    return " ".join(text.split())


def joined(row: Cells) -> list[str]:
    """Return the text of each cell, its lines parted."""
    return ["\n".join(lines) for lines in row]


def height_mm(row: Cells, size_pt: float) -> float:
    """Return the height of a row by its longest cell."""
    count = max(len(lines) for lines in row)
    return (1 + PITCH_EM * (count - 1) + 2 * ABOVE_EM) * size_pt * POINT_MM


def table_data(
    table: Table,
    size_pt: float,
    *,
    strip_mm: float,
    whole_mm: float,
    room_mm: float = ROOM_MM,
) -> dict[str, Any]:
    """Return a table with the widths of its columns, its rows in strips side by side.

    Args:
        table: The table.
        size_pt: Size of its letters.
        strip_mm: Height that a page has for strips side by side.
        whole_mm: A table no higher than this stands on one page.
        room_mm: Its width.
    """
    gutters_mm = GUTTER_MM * (table.abreast - 1)
    inset_mm = inset_of_mm(size_pt)
    widths_mm = _widths_mm(table, (room_mm - gutters_mm) / table.abreast, size_pt)
    heading = [
        lines_of(column.heading, width_mm, size_pt, bold=True)
        for column, width_mm in zip(table.columns, widths_mm, strict=True)
    ]
    rows = [
        [
            ("",) if cell in BY_HAND else lines_of(plain(cell), width_mm, size_pt, bold=bold)
            for cell, width_mm, bold in zip(row, widths_mm, _bold(table), strict=True)
        ]
        for row in table.rows
    ]
    least_mm = BY_HAND_MM if filled_by_hand(table) else 0.0
    tall_mm = height_mm(heading, size_pt) + sum(
        max(height_mm(row, size_pt), least_mm) for row in rows
    )
    return {
        "title": table.title,
        "size": size_pt,
        "tall": tall_mm,
        "headings": joined(heading),
        "whole": table.abreast == 1 and tall_mm <= whole_mm,
        "kinds": [column.kind for column in table.columns],
        "inset": inset_mm,
        "widths": [width_mm + 2 * inset_mm for width_mm in widths_mm],
        "by-hand": [_marked(row) for row in table.rows] if least_mm else [],
        "bands": [
            [
                {
                    "rows": [joined(row) for row in strip],
                    "heights": [
                        height_mm(heading, size_pt),
                        *(max(height_mm(row, size_pt), least_mm) for row in strip),
                    ],
                }
                for strip in band
            ]
            for band in _bands(rows, table.abreast, size_pt, strip_mm)
        ],
    }


def inset_of_mm(size_pt: float) -> float:
    """Return what stands free on either side of the letters of a cell."""
    return max(INSET_MM, INSET_EM * size_pt * POINT_MM)


def fits_beside(table: Table, size_pt: float, room_mm: float) -> bool:
    """Tell whether a table in less than the width of a page breaks no word and few lines."""
    if table.abreast > 1 or filled_by_hand(table):
        return False
    cells_mm = [
        max(
            *(letters_mm(word, size_pt, bold=True) for word in column.heading.split()),
            *(letters_mm(row[place], size_pt) for row in table.rows),
            0.0,
        )
        for place, column in enumerate(table.columns)
    ]
    return sum(cells_mm) + 2 * (inset_of_mm(size_pt) + SPARE_MM) * len(cells_mm) <= room_mm


def _bold(table: Table) -> list[bool]:
    return [column.kind == "verdict" for column in table.columns]


def _marked(row: Sequence[str]) -> list[int]:
    """Return which cells of a row are filled in by hand: 0 none, 1 written, 2 ticked."""
    return [BY_HAND.index(cell) + 1 if cell in BY_HAND else 0 for cell in row]


def filled_by_hand(table: Table) -> dict[int, float]:
    """Return the columns that are filled in by hand, and the width of each."""
    found: dict[int, float] = {}
    for row in table.rows:
        for place, cell in enumerate(row):
            if cell in BY_HAND:
                found[place] = BY_HAND_WIDE_MM[BY_HAND.index(cell)]
    return found


def _widths_mm(table: Table, room_mm: float, size_pt: float) -> tuple[float, ...]:
    """Return the widths between the insets; columns filled in by hand have their own."""
    fixed_mm = filled_by_hand(table)
    left = [n for n in range(len(table.columns)) if n not in fixed_mm]
    words = Table(
        table.title,
        tuple(table.columns[n] for n in left),
        tuple(tuple(row[n] for n in left) for row in table.rows),
    )
    insets_mm = 2 * inset_of_mm(size_pt)
    found = column_widths_mm(
        words,
        room_mm - sum(fixed_mm.values()) - insets_mm * len(left),
        size_pt,
        short_mm=BESIDE_HAND_MM if fixed_mm else SHORT_MM,
    )
    widths_mm = {n: wide - insets_mm for n, wide in fixed_mm.items()}
    widths_mm.update(zip(left, found, strict=True))
    return tuple(widths_mm[n] for n in range(len(table.columns)))


def _bands(
    rows: Sequence[Cells], abreast: int, size_pt: float, strip_mm: float
) -> list[list[list[Cells]]]:
    """Return the rows as strips, and the strips in bands of so many side by side.

    One strip alone holds all and breaks where a page ends. Strips side by side share the rows
    evenly, as far as a page goes.
    """
    if abreast == 1:
        return [[list(rows)]]
    bands: list[list[list[Cells]]] = []
    rest = list(rows)
    while rest:
        heights_mm = [height_mm(row, size_pt) for row in rest]
        most_mm = min(strip_mm, sum(heights_mm) / abreast + max(heights_mm))
        band: list[list[Cells]] = []
        for _ in range(abreast):
            count = max(1, sum(filled <= most_mm for filled in accumulate(heights_mm)))
            band.append(rest[:count])
            rest, heights_mm = rest[count:], heights_mm[count:]
        bands.append([strip for strip in band if strip])
    return bands
