"""The one document of a tool, as plain values: chapters of sheets, sections and operations.

The PDF and the page for a tablet render the same document.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from generator.checks.finding import Verdict
from generator.documents.drawing import Drawing, Figure
from generator.documents.table import Column, Section, Table

STEP_COLUMNS: Final = ("no.", "do this", "tool", "speed", "dial", "target")
"""What stands in the cells of a step."""


@dataclass(frozen=True, slots=True)
class OperationSheet:
    """One operation for the bench: a page of its own, in large figures.

    Attributes:
        number: Number of the operation.
        title: What it does.
        part: Title of the part.
        station: Where it is done.
        holding: How the work is held.
        sketch: The part as it is afterwards, headstock left; None at the saw.
        steps: Its lines, with a cell for each of `STEP_COLUMNS`; the writer adds an empty column
            for the actual size and a box to tick. A line of one cell, which begins with "STOP",
            stands alone in a box before the step that it warns of.
        notes: Cautions, then what can be done instead.
    """

    number: str
    title: str
    part: str
    station: str
    holding: str
    sketch: Figure | None
    steps: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...] = ()

    @property
    def section(self) -> Section:
        """The same without its sketch, for a reader that has tables only."""
        width = len(STEP_COLUMNS)
        rows = tuple(
            step if len(step) == width else ("", " ".join(step), *("",) * (width - 2))
            for step in self.steps
        )
        told = f"{self.part}, {self.station}. {self.holding}"
        table = Table("", tuple(map(Column, STEP_COLUMNS)), rows)
        return Section(f"Operation {self.number}: {self.title}", (told, *self.notes), (table,))


Block = Drawing | Section | OperationSheet


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter of the document.

    Attributes:
        title: Its heading.
        blocks: What stands in it, in order.
        fine: Whether it is set in small type: to be looked up, not read at the machine.
    """

    title: str
    blocks: tuple[Block, ...]
    fine: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """The document.

    Attributes:
        title: What the tool is.
        name: Name of the pack.
        revision: Revision of the parameter file.
        parameters_hash: Twelve hexadecimal digits of the parameters.
        version: Version of this program.
        verdict: The worst verdict.
        summary: How many checks passed, warned and failed.
        banner: Failed checks and changed limits.
        paper: Paper of the pages that are no drawings.
        chapters: Its chapters, the cover first.
        warning: What every page must say of the tool; "" for nothing.
    """

    title: str
    name: str
    revision: str
    parameters_hash: str
    version: str
    verdict: Verdict
    summary: str
    banner: tuple[str, ...]
    paper: Literal["A4", "Letter"]
    chapters: tuple[Chapter, ...]
    warning: str = ""

    @property
    def first(self) -> tuple[str, ...]:
        """What must be seen first: the warning, then the banner."""
        return (self.warning, *self.banner) if self.warning else self.banner

    @property
    def sections(self) -> tuple[Section, ...]:
        """All sections and operations in order, for a reader without drawings."""
        blocks = (block for chapter in self.chapters for block in chapter.blocks)
        return tuple(
            block.section if isinstance(block, OperationSheet) else block
            for block in blocks
            if not isinstance(block, Drawing)
        )
