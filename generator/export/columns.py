"""How wide the columns of a printed table are, and where the lines in its cells end.

Both are settled here by measuring the letters, so that no word leaves its cell and every row has
its height before the page is laid out.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from generator.documents.table import Table
from generator.documents.text import em_mm, width_mm

POINT_MM: Final = 25.4 / 72
WIDEST_EM: Final = 1.2
"""Room for a letter that the typeface lacks and another face lends."""

ELLIPSIS: Final = "\N{HORIZONTAL ELLIPSIS}"
SPARE_MM: Final = 0.2
SHORT_MM: Final = 28.0
"""A column in which most cells are no wider than this keeps them on one line."""

EMPTY: Final = 1e-6
"""Weight of a column without a letter in its cells: it gives way to all others, and is not nil."""

MOST: Final = 0.8


def letters_mm(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Return the width of a line of text at a size; letters the typeface lacks count as wide."""
    size_mm = size_pt * POINT_MM
    try:
        return width_mm(text, size_mm / em_mm(1.0, bold=bold), bold=bold)
    except ValueError:
        if len(text) == 1:
            return WIDEST_EM * size_mm
        return sum(letters_mm(letter, size_pt, bold=bold) for letter in text)


def lines_of(text: str, room_mm: float, size_pt: float, *, bold: bool = False) -> tuple[str, ...]:
    """Return text broken into lines that fit the room, between words as far as words fit.

    Example:
        >>> lines_of("wall over the bore", 18, 7.5)
        ('wall over the', 'bore')
        >>> lines_of("plunger.length_mm", 15, 7.5)
        ('plunger.le', 'ngth_mm')
    """
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if letters_mm(longer, size_pt, bold=bold) <= room_mm:
            lines[-1:] = [longer]
            continue
        pieces = [word]
        while letters_mm(pieces[-1], size_pt, bold=bold) > room_mm and len(pieces[-1]) > 1:
            pieces[-1:] = _cut(pieces[-1], room_mm, size_pt, bold=bold)
        lines += pieces
    return tuple(lines) or ("",)


def shortened(text: str, room_mm: float, size_pt: float) -> str:
    """Return a line of text, cut off with an ellipsis where its room ends.

    Example:
        >>> shortened("mt2-drawbar-8", 50, 7.5), shortened("mt2-drawbar-8", 14, 7.5)
        ('mt2-drawbar-8', 'mt2-dra…')
    """
    if letters_mm(text, size_pt) <= room_mm:
        return text
    while text and letters_mm(f"{text}{ELLIPSIS}", size_pt) > room_mm:
        text = text[:-1]
    return f"{text.rstrip()}{ELLIPSIS}"


def _cut(word: str, room_mm: float, size_pt: float, *, bold: bool) -> tuple[str, str]:
    """Return as much of a word as fits, one letter at least, and the rest."""
    count = 1
    while letters_mm(word[: count + 1], size_pt, bold=bold) <= room_mm:
        count += 1
    return word[:count], word[count:]


def column_widths_mm(
    table: Table, room_mm: float, size_pt: float, *, short_mm: float = SHORT_MM
) -> tuple[float, ...]:
    """Return the width of what each column holds; together they fill the room.

    Every column gets its widest word, and a column of short cells most of them on one line, the
    longest and a heading over figures on two; what is left goes where the text is. Where not even
    the words have room, the widest columns shrink.

    Args:
        table: The table.
        room_mm: What the columns share.
        size_pt: Size of the letters.
        short_mm: Cells no wider than this are short.
    """
    words, usual, whole, weights = [], [], [], []
    for place, column in enumerate(table.columns):
        bold = column.kind == "verdict"
        cells = [row[place] for row in table.rows]
        heading = _widest_word_mm(column.heading, size_pt, bold=True)
        widths = sorted(letters_mm(cell, size_pt, bold=bold) for cell in cells) or [0.0]
        word = max([heading, *(_widest_word_mm(cell, size_pt, bold=bold) for cell in cells)])
        head = letters_mm(column.heading, size_pt, bold=True)
        kept = _folded_mm(column.heading, size_pt) if column.kind == "number" else head
        full = max(head, widths[-1])
        most = max(kept, widths[int(MOST * (len(widths) - 1))])
        words.append(word + SPARE_MM)
        longest = max(cells, key=len, default="")
        twice = _folded_mm(longest, size_pt)
        usual.append(max(word, min(max(most, twice), short_mm)) + SPARE_MM)
        whole.append(full + SPARE_MM)
        weights.append(max(sum(w * w for w in widths) / len(widths), EMPTY) ** (1 / 3))
    if sum(words) > room_mm:
        return _shared([0.0] * len(words), words, [1.0] * len(words), room_mm)
    if sum(whole) <= room_mm:
        return _stretched(table, whole, room_mm)
    least = usual if sum(usual) <= room_mm else words
    return _shared(least, whole, weights, room_mm)


def _folded_mm(text: str, size_pt: float) -> float:
    """Return the least width in which text stands on two lines, in bold letters."""
    words = text.split()
    halves = ((" ".join(words[:n]), " ".join(words[n:])) for n in range(1, max(2, len(words))))
    return min(
        (max(letters_mm(each, size_pt, bold=True) for each in pair) for pair in halves),
        default=0.0,
    )


def _widest_word_mm(text: str, size_pt: float, *, bold: bool) -> float:
    return max((letters_mm(word, size_pt, bold=bold) for word in text.split()), default=0.0)


def _shared(
    least: Sequence[float], most: Sequence[float], weights: Sequence[float], room_mm: float
) -> tuple[float, ...]:
    """Return widths in proportion to the weights, each within its bounds, that fill the room."""

    def widths(factor: float) -> tuple[float, ...]:
        bounds = zip(least, most, weights, strict=True)
        return tuple(min(max(low, factor * weight), high) for low, high, weight in bounds)

    low, high = 0.0, 1.0
    while sum(widths(high)) < room_mm:
        high *= 2
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if sum(widths(middle)) < room_mm else (low, middle)
    return widths(low)


def _stretched(table: Table, whole: Sequence[float], room_mm: float) -> tuple[float, ...]:
    """Return the widths with what is over given to the columns of text, most to the widest."""
    shares = [
        wide**2 if column.kind in ("text", "symbol") and column.heading else 0.0
        for wide, column in zip(whole, table.columns, strict=True)
    ]
    over = (room_mm - sum(whole)) / (sum(shares) or 1.0)
    return tuple(wide + over * share for wide, share in zip(whole, shares, strict=True))
