"""The PDF: every sheet on a page of its own size at true scale, then the report on A4."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import accumulate
from math import cos, radians, sin
from pathlib import Path
from typing import Any, Final

import typst

from generator.documents.drawing import Drawing, Figure, Line, Mark, Text
from generator.documents.report import Report
from generator.documents.table import Section, Table
from generator.documents.text import em_mm, font_folder
from generator.errors import ExportError
from generator.export.columns import POINT_MM, column_widths_mm, letters_mm, lines_of
from generator.export.linework import all_marks, linework_svg
from generator.export.pdf_template import TEMPLATE

PAGE_ROOM_MM: Final = 175.0
"""Width of an A4 page between its margins, 20 left and 15 right."""

HEADER_MM: Final = 84.0
"""Room for either side of the head of a page."""

SMALL_PT: Final = 7.5
PITCH_EM: Final = 1.2
"""From one line of a cell to the next."""

INSET_MM: Final = 1.2
ABOVE_MM: Final = 0.55
GUTTER_MM: Final = 7.0
WHOLE_MM: Final = 120.0
"""A table no higher than this stands on one page."""

STRIP_MM: Final = 210.0
"""Height of a page for a strip of a table beside others, below the heading of its section."""

BAR_MM: Final = 100.0
BAR_LEFT_MM, BAR_UP_MM, BAR_TEXT_UP_MM = 20.0, 8.0, 4.6
BAR_TEXT: Final = "this bar measures 100 mm when printed at true scale"

Cells = Sequence[Sequence[str]]


def write_pdf(drawings: Sequence[Drawing], report: Report, path: Path) -> None:
    """Write sheets and report as one PDF; the same bytes each time.

    Raises:
        ExportError: If it cannot be laid out or written.
    """
    content = pdf_bytes(drawings, report)
    try:
        path.write_bytes(content)
    except OSError as error:
        raise ExportError(f"{path}: {error.strerror or error}") from error


def pdf_bytes(drawings: Sequence[Drawing], report: Report) -> bytes:
    """Return the PDF.

    Raises:
        ExportError: If it cannot be laid out.
    """
    data = json.dumps(_data(drawings, report), ensure_ascii=False, allow_nan=False)
    try:
        made = typst.compile(
            TEMPLATE.encode(),
            font_paths=_fonts(),
            ignore_system_fonts=True,
            sys_inputs={"data": data},
        )
    except typst.TypstError as error:
        raise ExportError(f"the PDF cannot be laid out: {error}") from error
    if not isinstance(made, bytes):
        raise ExportError("the PDF cannot be laid out: not one file")
    return made


@cache
def _fonts() -> typst.Fonts:
    """Return the faces of the papers and no others; they are looked through once a process."""
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(font_folder())],
    )


def _data(drawings: Sequence[Drawing], report: Report) -> dict[str, Any]:
    """Return all that the layout needs; every text is data in it."""
    title, named = _plain(report.title), _plain(f"{report.name}, revision {report.revision}")
    return {
        "title": title,
        "headline": "\n".join(lines_of(title, PAGE_ROOM_MM, 15, bold=True)),
        "running": "\n".join(lines_of(title, HEADER_MM, SMALL_PT)),
        "named": "\n".join(lines_of(named, HEADER_MM, SMALL_PT)),
        "origin": f"springcentre, version {report.version}",
        "verdict": str(report.verdict),
        "summary": report.summary,
        "banner": [_plain(line) for line in report.banner],
        "sections": [_section(section) for section in report.sections],
        "sheets": [_sheet(drawing) for drawing in drawings],
        "small": SMALL_PT,
        "pitch": PITCH_EM,
        "above": ABOVE_MM,
        "inset": INSET_MM,
        "gutter": GUTTER_MM,
    }


def _plain(text: str) -> str:
    """Return text on one line, without control characters."""
    if not text.isprintable():
        text = "".join(c if c.isprintable() else " " for c in text)
    return " ".join(text.split())


def _section(section: Section) -> dict[str, Any]:
    return {
        "title": section.title,
        "lines": [_plain(line) for line in section.lines],
        "listed": section.listed,
        "fresh": any(table.abreast > 1 for table in section.tables),
        "figures": [_figure(figure) for figure in section.figures],
        "tables": [_table(table) for table in section.tables],
    }


def _table(table: Table) -> dict[str, Any]:
    """Return a table with the widths of its columns, its rows in strips side by side."""
    gutters_mm = GUTTER_MM * (table.abreast - 1)
    insets_mm = 2 * INSET_MM * len(table.columns)
    room_mm = (PAGE_ROOM_MM - gutters_mm) / table.abreast - insets_mm
    widths_mm = column_widths_mm(table, room_mm, SMALL_PT)
    heading = [
        lines_of(column.heading, width_mm, SMALL_PT, bold=True)
        for column, width_mm in zip(table.columns, widths_mm, strict=True)
    ]
    rows = [
        [
            lines_of(_plain(cell), width_mm, SMALL_PT, bold=column.kind == "verdict")
            for cell, width_mm, column in zip(row, widths_mm, table.columns, strict=True)
        ]
        for row in table.rows
    ]
    return {
        "title": table.title,
        "headings": _joined(heading),
        "whole": table.abreast == 1 and _tall_mm([heading, *rows]) <= WHOLE_MM,
        "kinds": [column.kind for column in table.columns],
        "widths": [width_mm + 2 * INSET_MM for width_mm in widths_mm],
        "bands": [
            [
                {
                    "rows": [_joined(row) for row in strip],
                    "heights": [_height_mm(row) for row in (heading, *strip)],
                }
                for strip in band
            ]
            for band in _bands(rows, table.abreast)
        ],
    }


def _tall_mm(rows: Sequence[Cells]) -> float:
    """Return the height of rows one below the other."""
    return sum(_height_mm(row) for row in rows)


def _bands(rows: Sequence[Cells], abreast: int) -> list[list[list[Cells]]]:
    """Return the rows as strips, and the strips in bands of so many side by side.

    One strip alone holds all and breaks where a page ends. Strips side by side share the rows
    evenly, as far as a page goes.
    """
    if abreast == 1:
        return [[list(rows)]]
    bands: list[list[list[Cells]]] = []
    rest = list(rows)
    while rest:
        heights_mm = [_height_mm(row) for row in rest]
        most_mm = min(STRIP_MM, sum(heights_mm) / abreast + max(heights_mm))
        band: list[list[Cells]] = []
        for _ in range(abreast):
            count = max(1, sum(filled <= most_mm for filled in accumulate(heights_mm)))
            band.append(rest[:count])
            rest, heights_mm = rest[count:], heights_mm[count:]
        bands.append([strip for strip in band if strip])
    return bands


def _joined(row: Cells) -> list[str]:
    return ["\n".join(lines) for lines in row]


def _height_mm(row: Cells) -> float:
    """Return the height of a row by its longest cell."""
    count = max(len(lines) for lines in row)
    return (1 + PITCH_EM * (count - 1)) * SMALL_PT * POINT_MM + 2 * ABOVE_MM


def scale_bar() -> Iterator[Mark]:
    """Yield the bar below the frame by which a print is proved, and what it says."""
    left, right, up = BAR_LEFT_MM, BAR_LEFT_MM + BAR_MM, BAR_UP_MM
    yield Line((left, up), (right, up), "thin")
    for tenth in range(11):
        x = left + tenth * BAR_MM / 10
        high = 0.8 if tenth in (0, 5, 10) else 0.4
        yield Line((x, up - high), (x, up + high), "thin")
    yield Text((left, BAR_TEXT_UP_MM), BAR_TEXT, 1.8)


def _sheet(drawing: Drawing) -> dict[str, Any]:
    marks = (*all_marks(drawing), *scale_bar())
    return _picture(drawing.title, marks, drawing.width_mm, drawing.height_mm)


def _figure(figure: Figure) -> dict[str, Any]:
    """Return a figure with its caption.

    Raises:
        ExportError: If it is wider than the page has room.
    """
    if figure.width_mm > PAGE_ROOM_MM:
        raise ExportError(f"figure {figure.name}: {figure.width_mm:g} mm is wider than the page")
    picture = _picture(figure.title, figure.marks, figure.width_mm, figure.height_mm)
    return {**picture, "caption": _plain(figure.caption)}


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
