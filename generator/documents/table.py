"""Tables as plain values, for readers; writers render them and decide nothing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:  # a mere check does without drawings
    from generator.documents.drawing import Figure

Kind = Literal["text", "number", "verdict", "symbol"]

WRITE_HERE: Final = "_" * 9
"""A cell of this is room to write a figure in by hand."""

TICK: Final = "\N{BALLOT BOX}"
"""A cell of this sign is a box to tick."""


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table.

    Attributes:
        heading: What stands over it.
        kind: "text", "number" (set to the right), "verdict" (pass, warn or fail) or "symbol",
            in which an underscore sets what follows it low: "L_1", "P_ext = a + L_s".
    """

    heading: str
    kind: Kind = "text"


@dataclass(frozen=True, slots=True)
class Table:
    """A table.

    Attributes:
        title: What it shows; "" for none.
        columns: Its columns.
        rows: The text of each cell.
        abreast: How many strips of it stand side by side on a page.
    """

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    abreast: int = 1


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the report under its own heading.

    Attributes:
        title: Its heading.
        lines: Sentences before the tables, each a paragraph.
        tables: Its tables.
        listed: Whether the lines are numbered.
        figures: Its figures, between the lines and the tables.
        large: Whether it has pages of its own in large letters, to be read at arm's length.
    """

    title: str
    lines: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    listed: bool = False
    figures: tuple[Figure, ...] = ()
    large: bool = False
