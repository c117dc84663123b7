"""Drawings and figures of the PDF: lines as one picture, texts at their places, the proving bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, radians, sin
from typing import Any, Final

from generator.documents.document import Document
from generator.documents.drawing import Drawing, Figure, Line, Mark, Text
from generator.documents.text import em_mm, width_mm
from generator.errors import ExportError
from generator.export.columns import POINT_MM, letters_mm, shortened
from generator.export.linework import all_marks, linework_svg
from generator.export.pdf_tables import ROOM_MM, plain
from generator.units import MM_PER_INCH

BAR_MM: Final = {"A4": 100.0, "Letter": 4 * MM_PER_INCH}
BAR_PARTS: Final = {"A4": 10, "Letter": 8}
BAR_TEXT: Final = {
    "A4": "this bar measures 100 mm when printed at true scale",
    "Letter": "this bar measures 4 in when printed at true scale",
}
BAR_LEFT_MM, BAR_UP_MM, BAR_TEXT_UP_MM = 20.0, 8.0, 4.6

FOOT_RIGHT_MM: Final = 10.0
FOOT_UP_MM: Final = 6.0
FOOT_GAP_MM: Final = 3.0
FOOT_LETTERS_MM: Final = 1.8


def scale_bar(paper: str) -> Iterator[Mark]:
    """Yield the bar below the frame by which a print is proved, and what it says.

    Args:
        paper: "A4", or "Letter" for a bar in inches.
    """
    left, right, up = BAR_LEFT_MM, BAR_LEFT_MM + BAR_MM[paper], BAR_UP_MM
    yield Line((left, up), (right, up), "thin")
    parts = BAR_PARTS[paper]
    for part in range(parts + 1):
        x = left + part * BAR_MM[paper] / parts
        high = 0.8 if 2 * part % parts == 0 else 0.4
        yield Line((x, up - high), (x, up + high), "thin")
    yield Text((left, BAR_TEXT_UP_MM), BAR_TEXT[paper], 1.8)


def foot(document: Document, drawing: Drawing) -> Text:
    """Return the line in the margin beside the bar, to be ended by the page.

    It keeps to the right of the centring mark and above what most printers leave blank.
    """
    right = drawing.width_mm - FOOT_RIGHT_MM
    bar_mm = BAR_LEFT_MM + BAR_MM[document.paper]
    room = right - max(drawing.width_mm / 2, bar_mm) - FOOT_GAP_MM
    rest = f", revision {document.revision}, parameters {document.parameters_hash}, page "
    rest_mm = width_mm(f"{rest}888 of 888", FOOT_LETTERS_MM)
    size_pt = em_mm(FOOT_LETTERS_MM) / POINT_MM
    text = shortened(plain(document.name), room - rest_mm, size_pt) + rest
    return Text((right, FOOT_UP_MM), text, FOOT_LETTERS_MM, "right")


def sheet_data(drawing: Drawing, document: Document) -> dict[str, Any]:
    """Return a drawing with its bar, and what stands in its margin."""
    below = foot(document, drawing)
    marks = (*all_marks(drawing), *scale_bar(document.paper))
    picture = _picture(drawing.title, marks, drawing.width_mm, drawing.height_mm)
    placed = {
        "right": drawing.width_mm - below.at[0],
        "y": drawing.height_mm - below.at[1],
        "size": em_mm(below.height_mm),
        "text": below.text,
    }
    return {"kind": "sheet", **picture, "foot": placed}


def figure_data(figure: Figure) -> dict[str, Any]:
    """Return a figure with its caption.

    Raises:
        ExportError: If it is wider than the page has room.
    """
    if figure.width_mm > ROOM_MM:
        raise ExportError(f"figure {figure.name}: {figure.width_mm:g} mm is wider than the page")
    picture = _picture(figure.title, figure.marks, figure.width_mm, figure.height_mm)
    return {**picture, "caption": plain(figure.caption)}


def _picture(
    title: str, marks: Sequence[Mark], width_mm: float, height_mm: float
) -> dict[str, Any]:
    return {
        "title": title,
        "width": width_mm,
        "height": height_mm,
        "svg": linework_svg(marks, width_mm=width_mm, height_mm=height_mm),
        "texts": [
            _placed(mark, height_mm) for mark in marks if isinstance(mark, Text) and mark.text
        ],
    }


def _placed(text: Text, height_mm: float) -> dict[str, Any]:
    """Return a text with the left end of its base line, y downward from the top of the sheet."""
    size_mm = em_mm(text.height_mm, bold=text.bold)
    wide_mm = letters_mm(text.text, size_mm / POINT_MM, bold=text.bold)
    back_mm = {"left": 0.0, "centre": wide_mm / 2, "right": wide_mm}[text.anchor]
    turn = radians(text.rotation_deg)
    x, y = text.at
    return {
        "x": x - back_mm * cos(turn),
        "y": height_mm - (y - back_mm * sin(turn)),
        "turn": text.rotation_deg,
        "size": size_mm,
        "bold": text.bold,
        "text": text.text,
    }
