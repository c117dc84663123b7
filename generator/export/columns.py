"""How wide the columns of a printed table are, so that no word leaves its cell."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from generator.documents.table import Table
from generator.documents.text import em_mm, width_mm

POINT_MM: Final = 25.4 / 72
BREAK: Final = "\N{ZERO WIDTH SPACE}"
WIDEST_EM: Final = 1.2
"""Room for a letter that the typeface lacks and another face lends."""

SPARE_MM: Final = 0.2


def letters_mm(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Return the width of a line of text at a size; letters the typeface lacks count as wide."""
    size_mm = size_pt * POINT_MM
    try:
        return width_mm(text, size_mm / em_mm(1.0, bold=bold), bold=bold)
    except ValueError:
        if len(text) == 1:
            return WIDEST_EM * size_mm
        return sum(letters_mm(letter, size_pt, bold=bold) for letter in text)


def widest_word_mm(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Return the width of the widest word, which no line break shortens."""
    return max((letters_mm(word, size_pt, bold=bold) for word in text.split()), default=0.0)


def column_widths_mm(table: Table, room_mm: float, size_pt: float) -> tuple[float, ...]:
    """Return the width of what each column holds; together they fill the room.

    Every column gets its widest word; what is left goes where the longest lines are. Where not
    even the words have room, all columns shrink alike and `broken` cuts the words.
    """
    words, lines = [], []
    for place, column in enumerate(table.columns):
        bold = column.kind == "verdict"
        cells = [row[place] for row in table.rows]
        words.append(
            max(
                widest_word_mm(column.heading, size_pt, bold=True),
                *(widest_word_mm(cell, size_pt, bold=bold) for cell in cells),
                0.0,
            )
            + SPARE_MM
        )
        lines.append(
            max(
                letters_mm(column.heading, size_pt, bold=True),
                *(letters_mm(cell, size_pt, bold=bold) for cell in cells),
                0.0,
            )
            + SPARE_MM
        )
    if sum(words) > room_mm:
        return tuple(word * room_mm / sum(words) for word in words)
    if sum(lines) <= room_mm:
        return _stretched(table, lines, room_mm)
    share = (room_mm - sum(words)) / (sum(lines) - sum(words))
    return tuple(word + share * (line - word) for word, line in zip(words, lines, strict=True))


def _stretched(table: Table, lines: Sequence[float], room_mm: float) -> tuple[float, ...]:
    """Return the widths with what is over given to the columns of text."""
    wordy = [column.kind in ("text", "symbol") and bool(column.heading) for column in table.columns]
    over = (room_mm - sum(lines)) / max(1, sum(wordy))
    return tuple(line + (over if text else 0.0) for line, text in zip(lines, wordy, strict=True))


def broken(text: str, room_mm: float, size_pt: float, *, bold: bool = False) -> str:
    """Return text in which words wider than the room may break between any two letters."""
    return " ".join(
        BREAK.join(word) if letters_mm(word, size_pt, bold=bold) > room_mm else word
        for word in text.split(" ")
    )
