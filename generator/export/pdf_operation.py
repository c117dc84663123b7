"""The sheets of the operations in the PDF: as many to a page as stand on it, in large figures.

Operations of one part share pages, in order and each whole, and a page nearly empty is joined to
the next or the last of another part; an operation longer than a page is
parted between two steps, so that none is cut and no warning stands apart from the step that it
warns of.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from typing import Any, Final

from generator.documents.document import STEP_COLUMNS, OperationSheet
from generator.export.columns import POINT_MM
from generator.export.pdf_marks import figure_data
from generator.export.pdf_steps import (
    ACTUAL_MM,
    NUMBER_MM,
    TICK_MM,
    Lower,
    Row,
    groups,
    lines_at,
    lines_mm,
    lower_storey,
    target_width_mm,
)
from generator.export.pdf_tables import ABOVE_EM, ROOM_MM

TITLE_PT, HEADING_PT = 16.0, 9.0
DASH: Final = "\N{EN DASH}"
GAP_MM: Final = 2.5
APART_MM: Final = 6.0
"""Between two operations on a page, a rule in its middle."""

THIN: Final = 0.36
"""A page less filled than this is nearly empty."""

BESIDE_MM: Final = 45.0
"""Least width of words beside a sketch."""

GUTTER_MM: Final = 6.0
NOTE_GAP_MM, BULLET_MM = 1.5, 6.0
HEADING_MM: Final = (1 + 2 * ABOVE_EM) * HEADING_PT * POINT_MM + 1.0
SLACK_MM: Final = 1.0
"""Of a page, for what rounding adds."""


@dataclass(frozen=True, slots=True)
class Measure:
    """How large sketch and words are; the smaller ones are tried where a page does not do.

    Attributes:
        share: Of the sketch's own size; its letters, of 5 mm, keep 3.2.
        told_pt: Letters of how the work is held.
        note_pt: Letters of the notes.
    """

    share: float
    told_pt: float
    note_pt: float


MEASURES: Final = (
    Measure(1.0, 12.0, 11.0),
    Measure(0.85, 12.0, 11.0),
    Measure(0.75, 11.0, 10.0),
    Measure(0.65, 11.0, 10.0),
)


@dataclass(frozen=True, slots=True)
class Piece:
    """An operation, or what a page holds of one that is longer.

    Attributes:
        sheet: The operation.
        rows: Its rows that stand here, in groups that stay together.
        lower: What the lower storey of its steps shows.
        target_mm: Width of its column of targets.
        first: Whether it begins here.
        last: Whether it ends here, with its notes.
    """

    sheet: OperationSheet
    rows: tuple[tuple[Row, ...], ...]
    lower: Lower
    target_mm: float
    first: bool = True
    last: bool = True

    @property
    def title(self) -> tuple[str, ...]:
        """Its heading as lines."""
        ending = "" if self.first else ", continued"
        return lines_at(f"{self.sheet.number} {self.sheet.title}{ending}", TITLE_PT, bold=True)

    @property
    def notes(self) -> tuple[str, ...]:
        """The notes that stand here."""
        return self.sheet.notes if self.last else ()

    @property
    def rows_mm(self) -> float:
        """Height of its rows below their heading."""
        return sum((float(row["tall"]) for group in self.rows for row in group), 0.0)


def operation_pages(sheets: Sequence[OperationSheet], page_mm: float) -> list[dict[str, Any]]:
    """Return operations as pages.

    Args:
        sheets: The operations in order.
        page_mm: Height of a page between its margins.
    """
    room_mm = page_mm - SLACK_MM
    pages: list[tuple[Piece, ...]] = []
    firsts: dict[str, str] = {}
    for part, each in groupby(sheets, key=lambda sheet: sheet.part):
        own = list(each)
        ends = dict.fromkeys((own[0].number, own[-1].number))
        firsts[own[0].number] = f"{DASH.join(ends)} {part}"
        pages += _shared([piece for sheet in own for piece in _pieces(sheet, room_mm)], room_mm)
    return [
        {
            **_page_data(page, _fitting(page, room_mm) or MEASURES[-1]),
            "parts": [
                firsts[piece.sheet.number]
                for piece in page
                if piece.first and piece.sheet.number in firsts
            ],
        }
        for page in _filled(pages, room_mm)
    ]


def _filled(pages: Sequence[tuple[Piece, ...]], page_mm: float) -> list[tuple[Piece, ...]]:
    """Return the pages, nearly empty ones joined to a neighbour of another part."""
    found: list[tuple[Piece, ...]] = []
    for page in pages:
        if found:
            thin_mm = min(_tall_mm(each, MEASURES[0]) for each in (found[-1], page))
            both = (*found[-1], *page)
            if thin_mm < THIN * page_mm and _fitting(both, page_mm) is not None:
                found[-1] = both
                continue
        found.append(page)
    return found


def _pieces(sheet: OperationSheet, page_mm: float) -> list[Piece]:
    """Return an operation in as few pieces as pages need."""
    lower, target_mm = lower_storey(sheet), target_width_mm(sheet)
    rows = tuple(tuple(group) for group in groups(sheet, lower, target_mm))
    whole = Piece(sheet, rows, lower, target_mm)
    if _fitting((whole,), page_mm) is not None:
        return [whole]
    found: list[list[tuple[Row, ...]]] = [[]]
    for group in rows:
        longer = Piece(sheet, (*found[-1], group), lower, target_mm, len(found) == 1, last=False)
        if found[-1] and _fitting((longer,), page_mm) is None:
            found.append([])
        found[-1].append(group)
    ending = Piece(sheet, tuple(found[-1]), lower, target_mm, len(found) == 1)
    if len(found[-1]) > 1 and _fitting((ending,), page_mm) is None:
        found.append([found[-1].pop()])
    return [
        Piece(sheet, tuple(each), lower, target_mm, n == 0, n == len(found) - 1)
        for n, each in enumerate(found)
    ]


def _shared(pieces: Sequence[Piece], page_mm: float) -> list[tuple[Piece, ...]]:
    """Return the pieces of each page: the fewest pages, of those the most evenly filled."""
    best: list[tuple[int, float, list[tuple[Piece, ...]]]] = [(0, 0.0, [])]
    for end in range(1, len(pieces) + 1):
        tried = []
        for start in range(end - 1, -1, -1):
            page = tuple(pieces[start:end])
            measure = _fitting(page, page_mm)
            if measure is None and start < end - 1:
                break
            blank_mm = page_mm - _tall_mm(page, measure or MEASURES[-1])
            count, uneven, before = best[start]
            tried.append((count + 1, uneven + blank_mm**2, [*before, page]))
        best.append(min(tried, key=lambda each: each[:2]))
    return best[-1][2]


def _fitting(page: tuple[Piece, ...], page_mm: float) -> Measure | None:
    """Return the largest measure in which the pieces stand on one page; None for none."""
    if sum(piece.rows_mm for piece in page) > page_mm:
        return None
    return next((m for m in MEASURES if _tall_mm(page, m) <= page_mm), None)


def _tall_mm(page: tuple[Piece, ...], measure: Measure) -> float:
    common = _common(page)
    tall_mm = sum(_piece_mm(piece, common, measure) for piece in page)
    return tall_mm + APART_MM * (len(page) - 1) + _foot_mm(common, measure)


def _common(page: tuple[Piece, ...]) -> tuple[str, ...]:
    """Return the notes that more than one operation of a page has; they stand at its foot."""
    counts = Counter(note for piece in page for note in dict.fromkeys(piece.notes))
    return tuple(note for note, count in counts.items() if count > 1)


def _foot_mm(common: tuple[str, ...], measure: Measure) -> float:
    if not common:
        return 0.0
    return 2 * GAP_MM + _notes_mm(common, measure.note_pt, ROOM_MM)


def _piece_mm(piece: Piece, common: tuple[str, ...], measure: Measure) -> float:
    head = _head(piece, common, measure)
    tall_mm = lines_mm(piece.title, TITLE_PT) + GAP_MM + float(head["tall"])
    if piece.rows:
        tall_mm += HEADING_MM + piece.rows_mm
    if head["below"]:
        tall_mm += GAP_MM + _notes_mm(tuple(head["below"]), measure.note_pt, ROOM_MM)
    return tall_mm


def _head(piece: Piece, common: tuple[str, ...], measure: Measure) -> dict[str, Any]:
    """Return what stands between the title and the steps, its height, and the notes left over.

    Words stand beside the sketch where it leaves room, the notes too if they are no taller.
    """
    notes = tuple(note for note in piece.notes if note not in common)
    if not piece.first:
        return {"told": (), "beside": [], "below": notes, "room": ROOM_MM, "tall": 0.0}
    sheet, share = piece.sheet, measure.share
    text = f"{sheet.part}, {sheet.station}. {sheet.holding}"
    wide_mm, high_mm = (
        (0.0, 0.0)
        if sheet.sketch is None
        else (share * sheet.sketch.width_mm, share * sheet.sketch.height_mm)
    )
    room_mm = ROOM_MM - wide_mm - GUTTER_MM if wide_mm else ROOM_MM
    if room_mm < BESIDE_MM:
        told = lines_at(text, measure.told_pt)
        tall_mm = lines_mm(told, measure.told_pt) + 2 * GAP_MM + high_mm
        return {"told": told, "beside": [], "below": notes, "room": ROOM_MM, "tall": tall_mm}
    told = lines_at(text, measure.told_pt, room_mm=room_mm)
    told_mm = lines_mm(told, measure.told_pt)
    both_mm = told_mm + GAP_MM + _notes_mm(notes, measure.note_pt, room_mm)
    beside = notes if both_mm <= high_mm else ()
    return {
        "told": told,
        "beside": beside,
        "below": () if beside else notes,
        "room": room_mm,
        "tall": max(told_mm, high_mm) + GAP_MM,
    }


@cache
def _note(text: str, size_pt: float, room_mm: float) -> tuple[str, ...]:
    return lines_at(text, size_pt, room_mm=room_mm - BULLET_MM)


def _notes_mm(notes: tuple[str, ...], size_pt: float, room_mm: float) -> float:
    """Return the height of all notes; 0 for none."""
    return sum(lines_mm(_note(each, size_pt, room_mm), size_pt) + NOTE_GAP_MM for each in notes)


def _page_data(page: tuple[Piece, ...], measure: Measure) -> dict[str, Any]:
    common = _common(page)
    return {
        "kind": "operations",
        "pieces": [_piece_data(piece, common, measure) for piece in page],
        "common": list(_joined(common, measure, ROOM_MM)),
        "told": measure.told_pt,
        "small": measure.note_pt,
    }


def _piece_data(piece: Piece, common: tuple[str, ...], measure: Measure) -> dict[str, Any]:
    sheet, head = piece.sheet, _head(piece, common, measure)
    shown = sheet.sketch if piece.first else None
    return {
        "title": f"{sheet.number} {sheet.title}" if piece.first else None,
        "headline": "\n".join(piece.title),
        "told": "\n".join(head["told"]),
        "beside": list(_joined(head["beside"], measure, head["room"])),
        "below": list(_joined(head["below"], measure, ROOM_MM)),
        "room": head["room"],
        "tall": head["tall"],
        "sketch": None if shown is None else {**figure_data(shown), "share": measure.share},
        "heads": [NUMBER_MM, piece.target_mm, ACTUAL_MM, TICK_MM],
        "heading": HEADING_MM,
        "lower": [width for _, width in piece.lower],
        "used": [STEP_COLUMNS[place] for place, _ in piece.lower],
        "rows": [row for group in piece.rows for row in group],
    }


def _joined(notes: Sequence[str], measure: Measure, room_mm: float) -> Iterator[str]:
    return ("\n".join(_note(each, measure.note_pt, room_mm)) for each in notes)
