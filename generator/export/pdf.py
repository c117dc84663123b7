"""The PDF of the one document: drawings at true scale, sheets for the bench, calculations."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from itertools import groupby
from pathlib import Path
from typing import Any, Final

import typst

from generator.checks.finding import Verdict
from generator.documents.document import Chapter, Document, OperationSheet
from generator.documents.drawing import Drawing
from generator.documents.table import Section
from generator.documents.text import font_folder
from generator.errors import ExportError
from generator.export.columns import POINT_MM, letters_mm, lines_of, shortened
from generator.export.pdf_marks import figure_data, sheet_data
from generator.export.pdf_operation import (
    APART_MM,
    GAP_MM,
    HEADING_PT,
    operation_pages,
)
from generator.export.pdf_operation import (
    TITLE_PT as OPERATION_PT,
)
from generator.export.pdf_steps import STEP_PT
from generator.export.pdf_tables import (
    ABOVE_EM,
    GUTTER_MM,
    INSET_MM,
    PITCH_EM,
    ROOM_MM,
    filled_by_hand,
    fits_beside,
    plain,
    table_data,
)
from generator.export.pdf_template import TEMPLATE

PAGES_MM: Final = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height by ISO 216 and ASME Y14.1."""

MARGINS_MM: Final = {"left": 20.0, "top": 24.0, "bottom": 20.0}
TITLE_MM, NAMED_MM = 68.0, 101.0
"""Room for either side of the head of a page."""

HEAD_PT: Final = 7.5
TITLE_PT: Final = 20.0
SIZES_PT: Final = {False: (10.0, 10.0), True: (8.5, 7.5)}
"""Size of the text and of the tables, in a chapter to be read at the machine and in a fine one."""

BY_HAND_PT: Final = 9.0
"""Of a table that is filled in by hand, where cells to write in take the room."""

COVER_PT: Final = (9.5, 8.5)
"""The same on the cover."""

WHOLE_MM: Final = {False: 120.0, True: 90.0}
"""Height up to which a table is kept on one page, likewise."""

PAIRED_MM: Final = 50.0
"""Least width of words and a table beside a figure."""

COVER_WHOLE_MM: Final = 60.0
"""The same on the cover, where what failed begins at once."""

CONTENTS: Final = ((44, 8.0, 1.1), (10_000, 7.5, 0.95))
"""Up to so many entries the contents have letters of this size, and this between the lines."""

LARGE_PT: Final = (16.0, 15.0, 14.0, 13.0, 12.0, 11.0, 10.0, 9.0)
"""Sizes that are tried until a section in large letters stands on one page."""

LARGE_HEAD_MM: Final = 25.0
"""Heading of the chapter and of the section."""

LARGE_GAP_MM, LARGE_TITLE_MM = 5.0, 4.0
"""Around a table or figure, and around its title besides."""

LINE_EM, SPACE_EM = 1.36, 0.36
"""From line to line of a paragraph, and what parts two paragraphs besides."""

LISTED_MM: Final = 15.0
"""Room for the number of a paragraph in the largest letters."""

STRIP_SHARE: Final = 0.83
"""How much of a page strips of a table side by side take, below the heading of their section."""


def write_pdf(document: Document, path: Path) -> None:
    """Write a document as PDF; the same bytes each time.

    Raises:
        ExportError: If it cannot be laid out or written.
    """
    content = pdf_bytes(document)
    try:
        path.write_bytes(content)
    except OSError as error:
        raise ExportError(f"{path}: {error.strerror or error}") from error


def pdf_bytes(document: Document) -> bytes:
    """Return the PDF.

    Raises:
        ExportError: If it cannot be laid out.
    """
    data = json.dumps(_data(document), ensure_ascii=False, allow_nan=False)
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


def _data(document: Document) -> dict[str, Any]:
    """Return all that the layout needs; every text is data in it."""
    width_mm, height_mm = PAGES_MM[document.paper]
    title = plain(document.title)
    rest = f", revision {document.revision}, parameters {document.parameters_hash}"
    rest_mm = letters_mm(rest, HEAD_PT)
    named = shortened(plain(document.name), NAMED_MM - rest_mm, HEAD_PT) + plain(rest)
    return {
        "title": title,
        "headline": "\n".join(lines_of(title, ROOM_MM, TITLE_PT, bold=True)),
        "running": shortened(title, TITLE_MM, HEAD_PT),
        "named": named,
        "origin": f"springcentre, version {document.version}",
        "verdict": str(document.verdict),
        "summary": document.summary,
        "banner": [plain(line) for line in document.first],
        "page": {
            "width": width_mm,
            "height": height_mm,
            "right": width_mm - MARGINS_MM["left"] - ROOM_MM,
            **MARGINS_MM,
        },
        "contents": _contents(document),
        "mark": _mark(document),
        "chapters": [_chapter(chapter, document) for chapter in document.chapters],
        "sizes": {
            "head": HEAD_PT,
            "title": TITLE_PT,
            "step": STEP_PT,
            "heads": OPERATION_PT,
            "heading": HEADING_PT,
        },
        "pitch": PITCH_EM,
        "above": ABOVE_EM,
        "inset": INSET_MM,
        "gutter": GUTTER_MM,
        "gap": GAP_MM,
        "parted": APART_MM,
    }


def _mark(document: Document) -> str:
    """Return what the foot of every page says: of what the tool is not, and whether it is sound."""
    said = [document.warning.split(":")[0]] if document.warning else []
    if document.verdict is Verdict.FAIL:
        said.append("FAILED CHECKS: see page 1")
    elif document.banner:
        said.append("LIMITS CHANGED: see page 1")
    return "; ".join(said)


def _contents(document: Document) -> dict[str, float]:
    """Return size and spacing of the contents: closer where they are long."""
    count = sum(1 + _entries(chapter) for chapter in document.chapters[1:])
    _, size_pt, apart_mm = next(each for each in CONTENTS if count <= each[0])
    return {"size": size_pt, "apart": apart_mm}


def _entries(chapter: Chapter) -> int:
    """Return how many entries of the contents a chapter has: one for the operations of a part."""
    parts = [b.part if isinstance(b, OperationSheet) else None for b in chapter.blocks]
    return sum(
        part is None or part != before
        for part, before in zip(parts, [None, *parts[:-1]], strict=True)
    )


def _page_mm(document: Document) -> float:
    """Return the height of a page between its margins."""
    return PAGES_MM[document.paper][1] - MARGINS_MM["top"] - MARGINS_MM["bottom"]


def _chapter(chapter: Chapter, document: Document) -> dict[str, Any]:
    cover = chapter is document.chapters[0]
    text_pt, table_pt = COVER_PT if cover else SIZES_PT[chapter.fine]
    whole_mm = COVER_WHOLE_MM if cover else WHOLE_MM[chapter.fine]
    return {
        "title": plain(chapter.title),
        "fine": chapter.fine,
        "size": text_pt,
        "blocks": list(_blocks(chapter, document, table_pt, whole_mm)),
    }


def _blocks(
    chapter: Chapter, document: Document, table_pt: float, whole_mm: float
) -> Iterator[dict[str, Any]]:
    """Yield what a chapter holds, operations that follow one another as pages."""
    for operations, run in groupby(chapter.blocks, key=lambda b: isinstance(b, OperationSheet)):
        if operations:
            sheets = [block for block in run if isinstance(block, OperationSheet)]
            yield from operation_pages(sheets, _page_mm(document))
            continue
        for block in run:
            if not isinstance(block, OperationSheet):
                yield _block(block, document, table_pt, whole_mm)


def _block(
    block: Drawing | Section, document: Document, table_pt: float, whole_mm: float
) -> dict[str, Any]:
    match block:
        case Drawing():
            return sheet_data(block, document)
        case Section() if block.large:
            return _large(block, _page_mm(document))
        case Section():
            return _section(block, table_pt, STRIP_SHARE * _page_mm(document), whole_mm)


def _section(section: Section, table_pt: float, strip_mm: float, whole_mm: float) -> dict[str, Any]:
    """Return a section; a narrow figure has its words and the first table beside it."""
    tables = list(section.tables)
    figures = []
    for figure in section.figures:
        room_mm = ROOM_MM - figure.width_mm - GUTTER_MM
        data = figure_data(figure)
        if len(section.figures) == 1 and room_mm >= PAIRED_MM:
            data["beside"] = None
            if tables and fits_beside(tables[0], table_pt, room_mm):
                data["beside"] = table_data(
                    tables.pop(0), table_pt, strip_mm=strip_mm, whole_mm=strip_mm, room_mm=room_mm
                )
        figures.append(data)
    return {
        "kind": "section",
        "title": plain(section.title),
        "lines": [plain(line) for line in section.lines],
        "listed": section.listed,
        "fresh": any(table.abreast > 1 for table in section.tables),
        "figures": figures,
        "tables": [
            table_data(
                table,
                BY_HAND_PT if filled_by_hand(table) else table_pt,
                strip_mm=strip_mm,
                whole_mm=whole_mm,
            )
            for table in tables
        ],
    }


def _large(section: Section, page_mm: float) -> dict[str, Any]:
    """Return a section in the largest letters that leave it on one page, or in the smallest."""
    room_mm = ROOM_MM - LISTED_MM if section.listed else ROOM_MM
    for size_pt in LARGE_PT:
        made = {**_section(section, size_pt, page_mm, page_mm), "kind": "large", "size": size_pt}
        em_mm = size_pt * POINT_MM
        lines = [lines_of(line, room_mm, size_pt) for line in made["lines"]]
        tall_mm = sum((len(each) * LINE_EM + SPACE_EM) * em_mm for each in lines)
        for each in made["tables"]:
            titled_mm = em_mm + LARGE_TITLE_MM if each["title"] else 0.0
            tall_mm += each["tall"] + LARGE_GAP_MM + titled_mm
        tall_mm += sum(each["height"] + LARGE_GAP_MM for each in made["figures"])
        if tall_mm + LARGE_HEAD_MM <= page_mm:
            break
    return made
