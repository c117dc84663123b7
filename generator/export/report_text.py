"""The document as plain text for a terminal. The only module that makes tables with rich."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from io import StringIO

from rich.box import SIMPLE_HEAD
from rich.console import Console, RenderableType
from rich.rule import Rule
from rich.table import Table as Grid
from rich.text import Text

from generator.documents.document import Document
from generator.documents.table import Column, Section, Table

COLOURS = {"pass": "green", "warn": "yellow", "fail": "bold red"}
GAP = 2
"""Letters between two columns."""

NARROWEST = 40
"""Letters of a line below which no table is readable."""


def report_text(
    document: Document, sections: Sequence[Section], *, width: int, colour: bool = False
) -> str:
    """Return the head of a document and sections of it as text.

    Args:
        document: The document.
        sections: The sections to show.
        width: Letters in a line.
        colour: Whether verdicts and headings carry the colour codes of a terminal.
    """
    return _text(_head(document), sections, width=width, colour=colour)


def sections_text(sections: Sequence[Section], *, width: int, colour: bool = False) -> str:
    """Return sections as text, without a head.

    Args:
        sections: The sections to show.
        width: Letters in a line.
        colour: Whether verdicts and headings carry the colour codes of a terminal.
    """
    return _text((), sections, width=width, colour=colour)


def _text(
    head: Iterable[RenderableType], sections: Sequence[Section], *, width: int, colour: bool
) -> str:
    stream = StringIO()
    console = Console(
        file=stream,
        width=max(width, NARROWEST),
        force_terminal=colour,
        color_system="standard" if colour else None,
        markup=False,
        emoji=False,
        highlight=False,
        legacy_windows=False,
        _environ={},
    )
    for part in head:
        console.print(part)
    for section in sections:
        for part in _section(section, console.width):
            console.print(part)
    return "\n".join(line.rstrip() for line in stream.getvalue().splitlines()) + "\n"


def sections_named(document: Document, names: Sequence[str]) -> tuple[Section, ...]:
    """Return the sections whose titles begin so, in the order of the document.

    Args:
        document: The document.
        names: Beginnings of titles; capitals do not matter.

    Raises:
        LookupError: If one of them begins no title; the message lists the titles.
    """
    titles = [section.title for section in document.sections]
    wanted = [name.strip().casefold() for name in names]
    for name, folded in zip(names, wanted, strict=True):
        if not folded or not any(title.casefold().startswith(folded) for title in titles):
            known = ", ".join(titles)
            raise LookupError(f"--section: no section begins {name!r}; there are {known}")
    return tuple(
        section
        for section in document.sections
        if any(section.title.casefold().startswith(name) for name in wanted)
    )


def _head(document: Document) -> Iterator[RenderableType]:
    """Yield title, verdict and what must be seen first."""
    yield Text(document.title, style="bold")
    yield Text(f"{document.name}, revision {document.revision}; springcentre {document.version}")
    verdict = Text(str(document.verdict), style=COLOURS[str(document.verdict)])
    yield Text.assemble("Verdict: ", verdict, f". {document.summary}.")
    for line in document.first:
        yield Text(f"! {line}", style="bold red")


def _section(section: Section, width: int) -> Iterator[RenderableType]:
    yield Text()
    yield Rule(Text(section.title, style="bold"), characters="=", style="none", align="left")
    for number, line in enumerate(section.lines, 1):
        if section.listed:
            mark = f"{number}. "
            yield _hanging(mark, line)
        else:
            yield Text(line)
    for figure in section.figures:
        yield Text(f"[Figure: {figure.title}. {figure.caption} See bench.pdf.]")
    for table in section.tables:
        yield Text()
        if table.title:
            yield Text(table.title, style="bold")
        yield _grid(table, width)


def _hanging(mark: str, line: str) -> RenderableType:
    """Return a paragraph whose further lines begin under its first word."""
    grid = Grid.grid(padding=0)
    grid.add_column(width=len(mark), no_wrap=True)
    grid.add_column(overflow="fold")
    grid.add_row(Text(mark), Text(line))
    return grid


def _grid(table: Table, width: int) -> Grid:
    """Return a table whose cells wrap between words and are never cut off.

    Where the longest words of all columns have no room beside each other, words are broken.
    """
    grid = Grid(
        box=SIMPLE_HEAD,
        pad_edge=False,
        padding=(0, 1, 0, 0),
        show_edge=False,
        show_header=any(column.heading for column in table.columns),
    )
    for column, letters in zip(table.columns, _letters(table, width), strict=True):
        grid.add_column(
            Text(column.heading),
            justify="right" if column.kind == "number" else "left",
            overflow="fold",
            width=letters,
        )
    for row in table.rows:
        cells = zip(row, table.columns, strict=True)
        grid.add_row(*(_cell(text, column) for text, column in cells))
    return grid


def _letters(table: Table, width: int) -> list[int]:
    """Return the letters of a line that each column takes.

    Every column has its longest word, as far as there is room; what is left goes to the columns
    that lack most, a letter at a time.
    """
    cells = [
        [column.heading, *(row[place] for row in table.rows)]
        for place, column in enumerate(table.columns)
    ]
    whole = [max(len(cell) for cell in column) or 1 for column in cells]
    words = [max(len(w) for cell in column for w in cell.split() or [""]) or 1 for column in cells]
    room = width - GAP * (len(cells) - 1)
    taken = words if sum(words) <= room else [1] * len(cells)
    while sum(taken) < min(room, sum(whole)):
        lacks = [most - has for most, has in zip(whole, taken, strict=True)]
        taken[lacks.index(max(lacks))] += 1
    return taken


def _cell(text: str, column: Column) -> Text:
    return Text(text, style=COLOURS[text] if column.kind == "verdict" else "")
