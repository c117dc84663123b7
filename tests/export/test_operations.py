"""Sheets of operations as an outside reader of the PDF finds them."""

from collections import Counter
from dataclasses import replace
from functools import cache
from io import BytesIO
from typing import Any

import pdfplumber
import pytest

from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.document import STEP_COLUMNS, OperationSheet
from generator.documents.study import Study, Subject
from generator.export.pdf import pdf_bytes
from generator.export.pdf_operation import MEASURES, operation_pages
from tests.documents.operations import SHEET, SKETCH, long_sheet
from tests.export.printed import Page, overlaps, pages
from tests.tools import tool

MM = 25.4 / 72
PAPERS = ("A4", "Letter")


@cache
def told(sheet: OperationSheet, paper: Any = "A4") -> bytes:
    """Return a document of a cover and one operation."""
    one = tool()
    document = bench(one, run_checks(one), Study(making=Subject((sheet,), None)))
    return pdf_bytes(replace(document, chapters=document.chapters[:2], paper=paper))


def sheets(sheet: OperationSheet, paper: Any = "A4") -> tuple[Page, ...]:
    """Return the pages of an operation."""
    return pages(told(sheet, paper))[1:]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_word_of_an_operation_is_printed_once(paper: str) -> None:
    words = [word.text for page in sheets(SHEET, paper) for word in page.words]
    for step in SHEET.steps:
        for cell in step:
            assert all(word in words for word in cell.split()), cell
    for text in (SHEET.title, SHEET.holding, *SHEET.notes):
        assert all(word in words for word in text.split()), text
    for heading in (*STEP_COLUMNS[2:5], "ACTUAL", "target", "done"):
        assert any(word.strip(",") == heading for word in words), heading


def test_steps_are_in_letters_of_14_points() -> None:
    with pdfplumber.open(BytesIO(told(SHEET))) as pdf:
        large = Counter(
            word["text"]
            for page in pdf.pages[1:]
            for word in page.extract_words(extra_attrs=["size"])
            if word["size"] == pytest.approx(14.0, abs=0.01)
        )
    assert large == Counter(word for step in SHEET.steps for cell in step for word in cell.split())


def boxes(page: Any, side_mm: float) -> int:
    """Count the empty squares of a size."""
    return sum(
        abs((r["x1"] - r["x0"]) * MM - side_mm) < 0.1
        and abs((r["y1"] - r["y0"]) * MM - side_mm) < 0.1
        for r in page.rects
    )


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("count", [1, 4, 7, 8, 9, 12, 30])
def test_no_step_is_cut_off_however_many_there_are(count: int, paper: str) -> None:
    sheet = long_sheet(count)
    read = sheets(sheet, paper)
    text = " ".join(page.text for page in read)
    for n in range(1, count + 1):
        assert text.count(f"Step number {n}.") == 1
    assert min(word.bottom for page in read for word in page.body) > 20
    assert not any(overlaps(page) for page in read)
    assert all("continued" in page.text for page in read[1:])
    with pdfplumber.open(BytesIO(told(sheet, paper))) as pdf:
        assert sum(boxes(page, 6.0) for page in pdf.pages[1:]) == count


@pytest.mark.parametrize("count", range(8, 32, 3))
def test_a_warning_stands_on_the_page_of_the_step_it_warns_of(count: int) -> None:
    for page in sheets(long_sheet(count)):
        for n in range(4, count + 1, 4):
            assert (f"think before step {n}." in page.text) == (f"Step number {n}." in page.text)


def test_a_warning_is_framed() -> None:
    (page, *_) = sheets(SHEET)
    stop = next(word for word in page.words if word.text == "STOP:")
    with pdfplumber.open(BytesIO(told(SHEET))) as pdf:
        frames = [
            r
            for r in pdf.pages[1].rects
            if r["x0"] * MM < stop.left < r["x1"] * MM and r["y0"] * MM < stop.bottom < r["y1"] * MM
        ]
        (frame,) = [r for r in frames if r["linewidth"] * MM == pytest.approx(0.9, abs=0.01)]
        inside = [
            word.text
            for word in page.words
            if frame["y0"] * MM < word.bottom and word.top < frame["y1"] * MM
        ]
    assert " ".join(inside) == SHEET.steps[4][0]


def test_notes_go_to_a_further_page_with_the_last_step() -> None:
    long = replace(long_sheet(9), notes=tuple(f"Note {n} of many words to fill." for n in range(9)))
    assert len(sheets(replace(long, notes=()))) == 1
    read = sheets(long)
    assert len(read) == 2
    assert "Note 8 of" in read[1].text
    assert "Step number 8." in read[0].text
    assert "Step number 9." in read[1].text


def several(*sheets: OperationSheet) -> tuple[Page, ...]:
    """Return the pages of operations, and of the same operations as a piece of data."""
    one = tool()
    document = bench(one, run_checks(one), Study(making=Subject(sheets, None)))
    return pages(pdf_bytes(replace(document, chapters=document.chapters[:2])))[1:]


def numbered(count: int, **changes: Any) -> list[OperationSheet]:
    """Return short operations 10, 20 and so on."""
    short = replace(SHEET, steps=SHEET.steps[:2], **changes)
    return [replace(short, number=f"{10 * n}", title=f"Short {n}.") for n in range(1, count + 1)]


def test_operations_of_a_part_share_pages_in_order() -> None:
    read = several(*numbered(4))
    assert len(read) == 2
    text = " ".join(page.text for page in read)
    found = [text.index(f"{10 * n} Short {n}.") for n in range(1, 5)]
    assert found == sorted(found)
    assert all("2 Centre drill." in page.text for page in read)
    assert "continued" not in text
    heights = [min(word.bottom for word in page.body) for page in read]
    assert abs(heights[0] - heights[1]) < 5  # as full the one as the other


def test_another_part_begins_a_page() -> None:
    first, second = numbered(2)
    read = several(first, replace(second, part="Plug"))
    assert ["Short 1." in page.text for page in read] == [True, False]
    assert ["Short 2." in page.text for page in read] == [False, True]


def test_a_page_nearly_empty_is_joined_to_another_part() -> None:
    (first,) = numbered(1)
    small = replace(SHEET, number="20", title="Wipe it.", part="Plug", sketch=None, notes=())
    (page,) = several(first, replace(small, steps=SHEET.steps[:1]))
    assert "Short 1." in page.text
    assert "Plug, lathe." in page.text


def test_notes_that_repeat_stand_once_at_the_foot() -> None:
    first, second = numbered(2, notes=("Common words here.",))
    second = replace(second, notes=("Common words here.", "Words of the second alone."))
    (page,) = several(first, second)
    assert page.text.count("Common words here.") == 1
    assert page.text.count("Words of the second alone.") == 1
    common = next(word for word in page.words if word.text == "Common")
    assert common.bottom < min(w.bottom for w in page.body if w.text in ("alone.", "Short"))


def test_sketches_shrink_before_a_second_page_is_taken() -> None:
    shares = []
    for count in range(1, 14):
        found = operation_pages([replace(long_sheet(count), notes=())], 253.0)
        if len(found) == 1:
            shares.append(found[0]["pieces"][0]["sketch"]["share"])
    assert shares[0] == 1.0
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] == MEASURES[-1].share
    assert len(shares) < 13  # beyond them a second page is taken
    assert MEASURES[-1].share * 5.0 >= 3.2  # what is left of the figures of a sketch


def test_a_line_of_the_contents_names_the_operations_of_a_part() -> None:
    one = tool()
    own = (*numbered(3), replace(numbered(4)[-1], part="Plug"))
    cover = pages(pdf_bytes(bench(one, run_checks(one), Study(making=Subject(own, None)))))[0]
    assert "10\N{EN DASH}30 Body" in cover.text
    assert "40 Plug" in cover.text
    assert "Short" not in cover.text


def test_what_no_step_has_takes_no_room() -> None:
    bare = replace(SHEET, steps=(("1", "Saw off.", "hacksaw", "", "", "91.5 to 92"),), sketch=None)
    (page,) = sheets(bare)
    assert "tool" in page.text
    assert "speed" not in page.text
    idle = replace(SHEET, steps=(("1", "Wipe.", "", "", "", ""),))
    assert len(sheets(idle)) == 1


def test_sketch_keeps_its_size() -> None:
    with pdfplumber.open(BytesIO(told(SHEET))) as pdf:
        long = [(line["x1"] - line["x0"]) * MM for line in pdf.pages[1].lines]
    assert SKETCH.width_mm == 175.0
    assert any(length == pytest.approx(135.0, abs=0.01) for length in long)


def test_operation_reads_as_a_section_too() -> None:
    section = SHEET.section
    assert section.title == "Operation 20: Drill and ream the bore, bevel its mouth"
    assert [column.heading for column in section.tables[0].columns] == list(STEP_COLUMNS)
    assert len(section.tables[0].rows) == len(SHEET.steps)
    assert section.tables[0].rows[4][1].startswith("STOP")
    assert section.lines[1:] == SHEET.notes
