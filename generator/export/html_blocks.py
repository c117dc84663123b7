"""Sections, tables, pictures and operations as HTML."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from html import escape
from typing import Final

from generator.documents.document import STEP_COLUMNS, OperationSheet
from generator.documents.drawing import Drawing, Figure, Mark
from generator.documents.table import TICK, Column, Section, Table
from generator.export.columns import POINT_MM, letters_mm
from generator.export.linework import all_marks, paths, texts

ROOM_PX: Final = 350.0
"""Width of a table on a telephone."""

LETTER_PX, SMALL_PX = 17.1, 15.3
CELL_PX: Final = 16.0
"""Beside the letters of a cell."""

FOLDED_COLUMNS: Final = 3
"""A table of no more columns may break its cells between words on a telephone."""

DENSE_COLUMNS: Final = 7
PX_PER_PT: Final = 96 / 72

LOW: Final = re.compile(r"([A-Za-z]+)_([A-Za-z0-9]+)")
LONG: Final = re.compile(r"[\w./\[\]]{14,}")
"""A word that no narrow column has room for, such as a key of the parameter file."""

WRITTEN: Final = re.compile(r"_{3,}")
"""A cell of such a line is one to write in."""

ACTUAL, DONE = "actual", "done"
"""What is added to the columns of an operation."""


def plain(text: str) -> str:
    """Return text on one line with nothing in it that HTML would take for its own.

    Example:
        >>> plain("wall < 1.5  mm")
        'wall &lt; 1.5 mm'
    """
    return escape(" ".join(text.split()))


def picture(title: str, marks: Sequence[Mark], width_mm: float, height_mm: float) -> str:
    """Return a picture with its texts as text."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm:g}mm" height="{height_mm:g}mm" '
        f'viewBox="0 0 {width_mm:g} {height_mm:g}" role="img" aria-label="{plain(title)}">'
        f"{paths(marks, height_mm)}{texts(marks, height_mm)}</svg>"
    )


def drawing_html(drawing: Drawing) -> str:
    """Return a sheet."""
    made = picture(drawing.title, all_marks(drawing), drawing.width_mm, drawing.height_mm)
    return _framed("sheet", made, plain(f"Sheet {drawing.name}; to scale in the PDF, not here"))


def figure_html(figure: Figure, under: str = "") -> str:
    """Return a figure with its caption, and its title unless it stands under that already."""
    made = picture(figure.title, figure.marks, figure.width_mm, figure.height_mm)
    title = f"<h4>{plain(figure.title)}</h4>" if figure.title not in ("", under) else ""
    return title + _framed("small", made, plain(figure.caption))


def _framed(kind: str, made: str, caption: str) -> str:
    return (
        f'<figure class="{kind}"><div>{made}</div><figcaption><span>{caption}</span>'
        '<button type="button" class="enlarge">Enlarge</button></figcaption></figure>'
    )


def section_html(section: Section, field: str) -> str:
    """Return what stands under the heading of a section.

    Args:
        section: The section.
        field: What the names of its fields begin with.
    """
    lines = [plain(line) for line in section.lines]
    if section.listed:
        told = "<ol>" + "".join(f"<li>{line}</li>" for line in lines) + "</ol>"
    else:
        told = "".join(f"<p>{line}</p>" for line in lines)
    figures = "".join(figure_html(figure) for figure in section.figures)
    tables = (table_html(table, f"{field}.{n}") for n, table in enumerate(section.tables))
    return told + figures + "".join(tables)


def table_html(table: Table, field: str) -> str:
    """Return a table, its rows in as many strips as stand abreast on paper."""
    title = f"<h4>{plain(table.title)}</h4>" if table.title else ""
    kind = "narrow" if _fits_a_telephone(table) else "wide"
    names = "".join(
        f'<th scope="col"{_kind(column)}>{plain(column.heading)}</th>' for column in table.columns
    )
    named = any(column.heading for column in table.columns)
    head = f"<thead><tr>{names}</tr></thead>" if named else ""
    rows = [
        f"{_row(row)}{''.join(_cells(table.columns, row, f'{field}.{n}', kind))}</tr>"
        for n, row in enumerate(table.rows)
    ]
    if len(table.columns) > (FOLDED_COLUMNS if kind == "narrow" else DENSE_COLUMNS - 1):
        kind += " dense"
    most = -(-len(rows) // table.abreast) or 1
    strips = "".join(
        f'<table class="{kind}">{head}<tbody>{"".join(rows[start : start + most])}</tbody></table>'
        for start in range(0, max(1, len(rows)), most)
    )
    return title + (strips if table.abreast == 1 else f'<div class="strips">{strips}</div>')


def _row(row: Sequence[str]) -> str:
    """Return the beginning of a row; one whose first cell is empty goes on with the one before."""
    return "<tr>" if row[0] else '<tr class="more">'


def _fits_a_telephone(table: Table) -> bool:
    """Tell whether a table has room on a narrow page.

    Cells of few columns may be broken between words; those of more would make the rows too high.
    """
    folded = len(table.columns) <= FOLDED_COLUMNS
    size_pt = (LETTER_PX if folded else SMALL_PX) / PX_PER_PT
    wide_px = 0.0
    for place, column in enumerate(table.columns):
        pieces = [(word, True) for word in column.heading.split()]
        for row in table.rows:
            cell = [row[place]] if not folded or column.kind == "number" else row[place].split()
            pieces += ((piece, False) for piece in cell)
        widest_mm = max((letters_mm(text, size_pt, bold=bold) for text, bold in pieces), default=0)
        wide_px += CELL_PX + widest_mm / POINT_MM * PX_PER_PT
        if wide_px > ROOM_PX:
            return False
    return True


def _kind(column: Column) -> str:
    return ' class="number"' if column.kind == "number" else ""


def _cells(columns: Sequence[Column], row: Sequence[str], field: str, kind: str) -> Iterator[str]:
    for place, (column, cell) in enumerate(zip(columns, row, strict=True)):
        named = kind != "narrow" and column.heading
        heading = f' data-h="{plain(column.heading)}"' if named else ""
        if WRITTEN.fullmatch(cell):
            shown = write_in(f"{field}.{place}", f"{column.heading}, {row[0]}")
        elif cell == TICK:
            shown = _tick(f"{field}.{place}", f"{row[0]} {column.heading}")
        elif column.kind == "verdict" and cell in ("pass", "warn", "fail"):
            shown = f'<span class="{cell}">{cell}</span>'
        elif column.kind == "symbol":
            shown = LOW.sub(r"\1<sub>\2</sub>", plain(cell))
        else:
            shown = LONG.sub(_with_breaks, plain(cell))
        if "<" in shown:
            shown = f"<div>{shown}</div>"
        yield f"<td{_kind(column)}{heading}>{shown}</td>"


def _with_breaks(word: re.Match[str]) -> str:
    """Return a long word with places where it may be broken."""
    return re.sub(r"([._/])(?=\w)", r"\1<wbr>", word.group())


def write_in(field: str, label: str) -> str:
    """Return a field to write a size in."""
    return (
        f'<input type="text" inputmode="decimal" autocomplete="off" maxlength="24" '
        f'aria-label="{plain(label)}" data-field="{plain(field)}">'
    )


def operation_html(sheet: OperationSheet) -> str:
    """Return an operation: where, how it is held, its picture, and its lines to be ticked off."""
    told = [f"<p>{plain(f'{sheet.part}, {sheet.station}. {sheet.holding}')}</p>"]
    if sheet.sketch is not None:
        told.append(figure_html(sheet.sketch, under=sheet.title))
    head = "".join(f'<th scope="col">{name}</th>' for name in (*STEP_COLUMNS, ACTUAL, DONE))
    rows = "".join(_step(sheet.number, n, step) for n, step in enumerate(sheet.steps, 1))
    told.append(
        f'<table class="wide steps"><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>'
    )
    told += [f'<p class="note">{plain(note)}</p>' for note in sheet.notes]
    return "".join(told)


def _step(number: str, place: int, step: tuple[str, ...]) -> str:
    if len(step) == 1:
        span = len(STEP_COLUMNS) + 2
        return f'<tr class="stop"><td colspan="{span}">{plain(step[0])}</td></tr>'
    field = f"{number}/{place}"
    cells = "".join(
        f'<td class="{name.split()[0].rstrip(".")}" data-h="{name}">{plain(cell)}</td>'
        for name, cell in zip(STEP_COLUMNS, step, strict=True)
    )
    size = write_in(f"{field} size", f"actual size, step {step[0]}") if step[-1] else ""
    done = _tick(field, f"step {step[0]} done")
    return f'<tr>{cells}<td data-h="{ACTUAL}">{size}</td><td data-h="{DONE}">{done}</td></tr>'


def _tick(field: str, label: str) -> str:
    """Return a box to tick."""
    return (
        f'<label class="tick"><input type="checkbox" data-field="{plain(field)}" '
        f'aria-label="{plain(label)}"></label>'
    )
