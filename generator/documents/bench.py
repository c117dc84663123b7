"""The one document of a tool, from cover to parameters."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, Literal

from generator.checks.finding import Finding, Verdict, worst
from generator.documents import picking_card, supporting_card
from generator.documents.assembly_figure import assembly_figure
from generator.documents.bill import bill_lines, bill_tables
from generator.documents.cautions import cautions
from generator.documents.check_papers import checks_section, summary, unverified_section
from generator.documents.cover import cover_section
from generator.documents.cut_list import cut_list_section
from generator.documents.document import Block, Chapter, Document
from generator.documents.drawing import Drawing, Figure
from generator.documents.equations import equation_lines, equation_tables
from generator.documents.given import changed_limits, parameter_table
from generator.documents.study import NOTHING, Study, Subject
from generator.documents.table import Section
from generator.documents.tip_card import tip_sections
from generator.documents.tool_sheets import parameters_hash
from generator.documents.use_card import use_card
from generator.documents.warned import WARNINGS
from generator.inputs.purposes import Purpose
from generator.model.tool import Tool
from generator.version import VERSION

CARDS: Final[dict[Purpose, Callable[[Tool], Section]]] = {
    "tap follower": use_card,
    "pick-up centre": picking_card.card,
    "support centre": supporting_card.card,
}
"""The card for using a tool, by what it is for."""

PAPERS: Final[dict[str, Literal["A4", "Letter"]]] = {"A": "A4", "US": "Letter"}
PICTURE_MM: Final = (175.0, 75.0)
"""Width, and most height, of the picture on the cover."""

PARAMETER_LINES: Final = (
    "Every key of the parameter file with the value used. A star marks a value that the file left "
    "out and that was derived; a dash, one that neither the file gave nor the tool needs.",
)


def bench(
    tool: Tool,
    findings: tuple[Finding, ...],
    study: Study = NOTHING,
    drawings: tuple[Drawing, ...] = (),
    picture: Figure | None = None,
) -> Document:
    """Return the document of a tool; a chapter that would be empty is left out.

    Args:
        tool: The tool.
        findings: What the checks found.
        study: What is told of how it is made, measured and used.
        drawings: Its sheets.
        picture: What the tool looks like; the section of the assembly if it is left out.
    """
    shown = assembly_figure(tool, *PICTURE_MM) if picture is None else picture
    chapters = (
        Chapter("Cover", (cover_section(tool, findings, shown),)),
        Chapter("Drawings", drawings),
        Chapter("Making", _told(study.making)),
        Chapter("Set-ups", _told(study.setups)),
        Chapter("Inspection", _told(study.inspection)),
        Chapter(
            "Use",
            (
                CARDS[tool.parameters.purpose](tool),
                *tip_sections(tool),
                *_told(study.setting_cards),
            ),
        ),
        Chapter("Materials and cautions", tuple(_materials(tool))),
        Chapter("Calculations", tuple(_calculations(tool, findings, study)), fine=True),
    )
    return Document(
        title=tool.parameters.title,
        name=tool.name,
        revision=tool.parameters.making.revision,
        parameters_hash=parameters_hash(tool),
        version=VERSION,
        verdict=worst(findings),
        summary=summary(findings),
        banner=tuple(_banner(tool, findings)),
        paper=PAPERS[tool.parameters.making.sheets],
        chapters=tuple(chapter for chapter in chapters if chapter.blocks),
        warning=WARNINGS.get(tool.parameters.purpose, ""),
    )


def _banner(tool: Tool, findings: tuple[Finding, ...]) -> Iterator[str]:
    """Yield what must be seen first: failed checks and changed limits, each a line."""
    failed = [f.check for f in findings if f.verdict is Verdict.FAIL]
    if failed:
        yield f"FAILED CHECKS: {'; '.join(failed)}"
    yield from (change.text for change in changed_limits(tool))


def _told(subject: Subject | None) -> tuple[Block, ...]:
    return () if subject is None else subject.blocks


def _materials(tool: Tool) -> Iterator[Section]:
    yield Section("Bill of materials", bill_lines(tool), bill_tables(tool))
    yield cut_list_section(tool)
    yield Section(
        "Cautions",
        cautions(tool),
        listed=True,
        large=True,
    )


def _calculations(tool: Tool, findings: tuple[Finding, ...], study: Study) -> Iterator[Block]:
    yield checks_section(findings)
    yield Section("Results", equation_lines(tool), equation_tables(tool))
    of_taps = study.force_window, study.lean
    for subject in (study.springs, *of_taps, study.pick_up, study.support, study.motion):
        yield from _told(subject)
    yield unverified_section(tool, findings)
    yield Section("Parameters", PARAMETER_LINES, (parameter_table(tool),))
