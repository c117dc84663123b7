"""Every page of the document of every profile: nothing overlaps, nothing leaves the page."""

from functools import cache
from pathlib import Path
from typing import Any

import pytest

from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.document import Document, OperationSheet
from generator.documents.subjects import study
from generator.documents.table import WRITE_HERE
from generator.documents.tool_sheets import tool_sheets
from generator.export.pdf import pdf_bytes
from generator.export.pdf_tables import ROOM_MM, table_data
from generator.inputs.profile import read_profile
from generator.model.tool import Tool, design
from tests.export.printed import Page, Word, overlaps, pages
from tests.tools import tool

PROFILES = {p.stem: p for p in sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))}
TAPS = [
    {"standard": standard, "size": size}
    for standard, size in (
        *(("ISO 529", size) for size in ("M3", "M4", "M5", "M6", "M8", "M10", "M12")),
        ("ASME B94.9", "1/4-20"),
    )
]
CASES: dict[str, dict[str, Any]] = {
    "many taps on Letter": {"taps": TAPS, "making.sheets": "US"},
    "wide title": {"title": "W" * 60, "name": "W" * 64},
}
each = pytest.mark.parametrize("name", [*PROFILES, *CASES])


@cache
def made(name: str) -> tuple[Document, tuple[Page, ...]]:
    one: Tool = tool(CASES[name]) if name in CASES else design(read_profile(PROFILES[name]))
    findings = run_checks(one)
    told = bench(
        one,
        findings,
        study(one),
        tool_sheets(one, findings),
    )
    return told, pages(pdf_bytes(told))


def upright(name: str) -> list[Page]:
    return [page for page in made(name)[1] if page.height_mm > page.width_mm]


@each
def test_no_words_overlap(name: str) -> None:
    for number, page in enumerate(made(name)[1], 1):
        assert page.words, number
        assert not overlaps(page), number


@each
def test_nothing_stands_in_the_margins(name: str) -> None:
    for page in made(name)[1]:
        if page.height_mm < page.width_mm:  # a drawing, with its own frame
            continue
        assert min(word.left for word in page.words) >= 19.8
        assert max(word.right for word in page.words) <= 195.2
        assert min(word.bottom for word in page.words) >= 8
        assert max(word.top for word in page.words) <= page.height_mm - 8


@each
def test_no_heading_ends_a_page(name: str) -> None:
    """Neither the heading of a section nor the title or the head of a table."""
    told, read = made(name)
    headings = {section.title for section in told.sections}
    headings |= {table.title for section in told.sections for table in section.tables}
    headings |= {
        " ".join(column.heading for column in table.columns if column.heading)
        for section in told.sections
        for table in section.tables
    }
    for number, page in enumerate(read, 1):
        if page in upright(name) and page.body:
            lowest = page.body[-1]
            line = sorted((w for w in page.body if abs(w.bottom - lowest.bottom) < 1.5), key=_left)
            assert " ".join(word.text for word in line) not in headings, number


def _left(word: Word) -> float:
    return word.left


@each
def test_card_and_cautions_have_a_page_each(name: str) -> None:
    told, read = made(name)
    count = 0
    for section in told.sections:
        if section.large:
            (home,) = [p for p in read[1:] if f"{section.title} " in p.text and _starts(p, section)]
            words = home.text
            for table in section.tables:
                said = (cell for row in table.rows for cell in row if cell != WRITE_HERE)
                assert all(word in words for word in " ".join(said).split())
            assert all(word in words for line in section.lines for word in line.split())
            count += 1
    assert count == (3 if "Card for changing the tip" in {s.title for s in told.sections} else 2)


@each
def test_every_step_of_every_operation_is_printed_in_order(name: str) -> None:
    told, read = made(name)
    sheets = [b for c in told.chapters for b in c.blocks if isinstance(b, OperationSheet)]
    text = "".join("".join(w.text for w in page.words) for page in read)
    place = text.index(_bare(f"{sheets[0].number} {sheets[0].title}") + _bare(sheets[0].part))
    for sheet in sheets:
        place = text.index(_bare(f"{sheet.number} {sheet.title}"), place)
        for step in sheet.steps:
            told_step = step[0] if len(step) == 1 else step[1]
            assert _bare(told_step) in text[place:], (sheet.number, told_step)


def _bare(text: str) -> str:
    return "".join(text.split())


@each
def test_operations_take_few_pages_well_filled(name: str) -> None:
    told, read = made(name)
    sheets = [b for c in told.chapters for b in c.blocks if isinstance(b, OperationSheet)]
    used = [page for page in read if " done " in page.text and " ACTUAL " in page.text]
    used = [page for page in used if "do this; below it" in page.text]
    assert len(used) <= 0.85 * len(sheets)
    for page in used:
        assert page.body[-1].bottom < 0.75 * page.height_mm, page.text[:80]


@each
def test_rows_to_be_filled_in_have_a_cell_to_write_in_and_a_box(name: str) -> None:
    told, _ = made(name)
    tables = [t for s in told.sections if s.title.startswith("Inspection") for t in s.tables]
    assert tables
    assert not any(column.heading == "key" for table in tables for column in table.columns)
    for table in tables:
        data = table_data(table, 9.0, strip_mm=200.0, whole_mm=200.0)
        assert data["widths"][-2] >= 22
        assert sum(data["widths"]) == pytest.approx(ROOM_MM, abs=0.5)
        heights = data["bands"][0][0]["heights"][1:]
        assert min(heights) >= 7
    assert not any("_" * 3 in page.text for page in made(name)[1])


def _starts(page: Page, section: Any) -> bool:
    """Tell whether a section begins on a page, behind the heading of a chapter or alone."""
    return section.title in " ".join(word.text for word in page.body[:8])
