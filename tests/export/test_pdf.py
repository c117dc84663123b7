import hashlib
import os
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from functools import cache
from io import BytesIO
from math import pi
from pathlib import Path
from types import MappingProxyType
from typing import Any

import numpy as np
import pdfplumber
import pypdfium2
import pytest

from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.document import Chapter, Document
from generator.documents.drawing import Arc, Drawing, Line, Text
from generator.documents.layout import collisions
from generator.documents.study import NOTHING
from generator.documents.subjects import study
from generator.documents.text import text_box
from generator.documents.tool_sheets import tool_sheets
from generator.errors import ExportError
from generator.export.pdf import pdf_bytes, write_pdf
from generator.export.pdf_marks import BAR_TEXT, foot, scale_bar
from tests.documents.operations import SHEET, long_sheet
from tests.export.printed import pages
from tests.tools import tool

MM = 25.4 / 72
A4, LETTER = (210.0, 297.0), (215.9, 279.4)
"""Width and height, ISO 216 and ASME Y14.1."""

EMPTY: Mapping[str, Any] = MappingProxyType({})
US = {"making.sheets": "US"}

THREE_SPRINGS = {
    "springs": [{"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 11.0, "active_coils": 4.0}] * 3,
    "separator": {},
}
TAPS = [
    {"standard": standard, "size": size}
    for standard, size in (
        *(("ISO 529", size) for size in ("M3", "M4", "M5", "M6", "M8", "M10", "M12")),
        ("ASME B94.9", "1/4-20"),
    )
]
FAILING = {
    "set_screw.locking": "none",
    "body.nose_diameter_mm": 9.5,
    "plug.length_mm": 2.0,
    "limits": {"wall over the rear thread": {"warn": 1.2}},
}
STRAIGHT = {"mount": {"kind": "straight", "diameter_mm": 18.0, "length_mm": 69.0}}
CASES: dict[str, dict[str, Any]] = {
    "worked": {},
    "three springs": THREE_SPRINGS,
    "many taps": {"taps": TAPS},
    "failing": FAILING,
    "straight": STRAIGHT,
    "wide title": {"title": "W" * 60, "name": "W" * 64},
    "letter": US,
    "changed": {"limits": {"wall over the rear thread": {"warn": 1.2}}},
}
each_case = pytest.mark.parametrize("case", CASES)


@contextmanager
def read(content: bytes) -> Iterator[Any]:
    with pdfplumber.open(BytesIO(content)) as pdf:
        yield pdf


def told(changes: Mapping[str, Any] = EMPTY, *, drawings: bool = False) -> Document:
    """Return the document of a tool."""
    one = tool(changes)
    findings = run_checks(one)
    return bench(one, findings, NOTHING, tool_sheets(one, findings) if drawings else ())


@cache
def made(case: str) -> bytes:
    """Return the PDF of a case, without its drawings."""
    return pdf_bytes(told(CASES[case]))


@cache
def laid_out(case: str) -> list[tuple[list[dict[str, Any]], list[dict[str, Any]]]]:
    """Return the words and the lines of each page of a case."""
    with read(made(case)) as pdf:
        return [(page.extract_words(extra_attrs=["size"]), page.lines) for page in pdf.pages]


def blank(*marks: Line | Text, width_mm: float = 297.0, height_mm: float = 210.0) -> Drawing:
    return Drawing("sheet", "Sheet", width_mm, height_mm, 1.0, marks, ())


def headed(title: str = "Worked tool") -> Document:
    """Return the cover of a document alone."""
    one = told()
    return replace(one, title=title, chapters=one.chapters[:1])


def drawn(*drawings: Drawing) -> bytes:
    """Return drawings behind a cover."""
    one = headed()
    return pdf_bytes(replace(one, chapters=(*one.chapters, Chapter("Drawings", drawings))))


def test_line_of_100_mm_measures_100_mm_where_it_was_drawn() -> None:
    lines = (Line((40, 60), (140, 60)), Line((40, 60), (40, 160), "thin"))
    with read(drawn(blank(*lines))) as pdf:
        found = [
            tuple(line[key] * MM for key in ("x0", "y0", "x1", "y1", "linewidth"))
            for line in pdf.pages[1].lines
        ]
    for expected in ((40, 60, 140, 60, 0.5), (40, 60, 40, 160, 0.25)):
        assert any(line == pytest.approx(expected, abs=0.01) for line in found), expected


@pytest.mark.parametrize(("paper", "long_mm"), [("A4", 100.0), ("Letter", 101.6)])
def test_proving_bar_is_as_long_as_it_says_on_every_drawing(paper: Any, long_mm: float) -> None:
    one = replace(told(drawings=True), paper=paper)
    count = len(one.chapters[1].blocks)
    with read(pdf_bytes(one)) as pdf:
        for page in pdf.pages[1 : 1 + count]:
            low = [line for line in page.lines if abs(line["y0"] * MM - 8.0) < 0.01]
            longest = max((line["x1"] - line["x0"]) * MM for line in low)
            assert longest == pytest.approx(long_mm, abs=0.01)
            assert BAR_TEXT[paper] in page.extract_text()
        assert BAR_TEXT[paper] not in pdf.pages[-1].extract_text()


DOTS = 600 / 25.4


def printed(content: bytes, page: int) -> np.ndarray[Any, Any]:
    """Return where a page is dark, in dots of 600 to the inch, rows from the top."""
    drawn = pypdfium2.PdfDocument(content)[page].render(scale=600 / 72, grayscale=True)
    return np.asarray(drawn.to_numpy().squeeze() < 128)


def runs_mm(row: np.ndarray[Any, Any]) -> list[float]:
    """Return the lengths of all dark runs along a row of dots."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], row, [False])).astype(np.int8)))
    return [float(length) / DOTS for length in edges[1::2] - edges[::2]]


@pytest.mark.parametrize("size", [(297.0, 210.0), (279.4, 215.9)], ids=["A4", "Letter"])
def test_print_at_600_dpi_measures_true(size: tuple[float, float]) -> None:
    width_mm, height_mm = size
    lines = (Line((40, 60), (140, 60)), Line((40, 60), (40, 160)))
    dark = printed(drawn(blank(*lines, width_mm=width_mm, height_mm=height_mm)), 1)
    bar, across = (dark[round((height_mm - up) * DOTS)] for up in (8.0, 60.0))
    up = dark[:, round(40 * DOTS)]
    # Round ends add half of the line's width at either end.
    assert max(runs_mm(bar)) - 0.25 == pytest.approx(100.0, abs=0.05)
    assert max(runs_mm(across)) - 0.5 == pytest.approx(100.0, abs=0.05)
    assert max(runs_mm(up)) - 0.5 == pytest.approx(100.0, abs=0.05)


def test_a_dimension_of_the_print_measures_what_it_says() -> None:
    """The longest dimension of the body, arrow to arrow, against the number beside it."""
    one = told(drawings=True)
    drawings = [each for each in one.chapters[1].blocks if isinstance(each, Drawing)]
    sheet, body = next((n, each) for n, each in enumerate(drawings, 1) if each.name == "body")
    level = [each for each in body.dimensions if each.kind == "horizontal"]
    longest = max(level, key=lambda each: abs(each.points[1][0] - each.points[0][0]))
    says_mm = float(longest.text.text) * body.scale
    dark = printed(pdf_bytes(one), sheet)
    row = dark[round((body.height_mm - longest.points[2][1]) * DOTS)]
    found = [run - 0.25 for run in runs_mm(row)]  # half an extension line at either end
    nearest = min(found, key=lambda run: abs(run - says_mm))
    assert says_mm > 80
    assert nearest == pytest.approx(says_mm, abs=0.05 * says_mm / 100 + 1 / DOTS)


@each_case
def test_margin_of_a_drawing_touches_nothing(case: str) -> None:
    one = told(CASES[case], drawings=True)
    for drawing in one.chapters[1].blocks:
        assert isinstance(drawing, Drawing)
        line = foot(one, drawing)
        added = (*scale_bar(one.paper), replace(line, text=f"{line.text}88 of 88"))
        marked = replace(drawing, marks=(*drawing.marks, *added))
        assert len(collisions(marked)) == len(collisions(drawing))
        boxes = [text_box(mark) for mark in added if isinstance(mark, Text)]
        assert min(box[1] for box in boxes) > 4.0  # most printers leave about 4 mm blank
        assert max(box[2] for box in boxes) < drawing.width_mm - 9.9
        assert boxes[1][0] > boxes[0][2]


@pytest.mark.parametrize(("changes", "size"), [({}, A4), (US, LETTER)], ids=["A4", "Letter"])
def test_pages_have_the_sizes_of_their_paper(
    changes: dict[str, Any], size: tuple[float, float]
) -> None:
    one = told(changes)
    sheet = blank(width_mm=420, height_mm=297)
    cover, *rest = one.chapters
    with read(pdf_bytes(replace(one, chapters=(cover, Chapter("D", (sheet,)), *rest)))) as pdf:
        sizes = [(float(page.width) * MM, float(page.height) * MM) for page in pdf.pages]
    assert sizes.pop(1) == pytest.approx((420, 297), abs=0.01)
    assert len(sizes) > 2
    for each in sizes:
        assert each == pytest.approx(size, abs=0.01)


def test_every_page_says_what_it_belongs_to_and_which_of_how_many_it_is() -> None:
    one = replace(told(drawings=True), revision="K7")
    making = Chapter("Making", (SHEET, long_sheet(24)))
    one = replace(one, chapters=(*one.chapters[:2], making, *one.chapters[2:]))
    read = pages(pdf_bytes(one))
    for number, page in enumerate(read, 1):
        assert f"page {number} of {len(read)}" in page.text
        for told_of in (one.name, "revision K7", f"parameters {one.parameters_hash}"):
            assert told_of in page.text, number


def test_contents_name_the_page_on_which_each_heading_stands() -> None:
    one = told(drawings=True)
    one = replace(one, chapters=(*one.chapters[:2], Chapter("Making", (SHEET,)), *one.chapters[2:]))
    texts = [page.text for page in pages(pdf_bytes(one))]
    listed = re.findall(r"([A-Z0-9][^.]*?) (?:\. )+(\d+)", texts[0].partition("Contents")[2])
    found = {title.strip(): int(page) for title, page in listed}
    wanted = [c.title for c in one.chapters[1:]]
    wanted += [
        b.title for c in one.chapters[1:] for b in c.blocks if not b.title.startswith("Drill")
    ]
    operations = f"{SHEET.number} {SHEET.part}"
    assert set(found) == {*wanted, operations}
    assert f"{SHEET.number} {SHEET.title}" in texts[found[operations] - 1]
    for title, page in found.items():
        if title not in ("Drawings", "Making", operations):
            assert title in texts[page - 1]
    assert found["Drawings"] == found["Assembly"] == 2
    assert found["Making"] == 2 + len(one.chapters[1].blocks)


@pytest.mark.parametrize(
    ("anchor", "x0", "x1"), [("left", 100, None), ("right", None, 100), ("centre", None, None)]
)
def test_text_stands_where_its_anchor_says(anchor: Any, x0: Any, x1: Any) -> None:
    with read(drawn(blank(Text((100, 50), "HHHHHH", 3.5, anchor)))) as pdf:
        (word,) = [w for w in pdf.pages[1].extract_words() if w["text"] == "HHHHHH"]
        letter = next(c for c in pdf.pages[1].chars if c["text"] == "H")
    left, right = word["x0"] * MM, word["x1"] * MM
    if x0 is not None:
        assert left == pytest.approx(x0, abs=0.05)
    elif x1 is not None:
        assert right == pytest.approx(x1, abs=0.05)
    else:
        assert (left + right) / 2 == pytest.approx(100, abs=0.05)
    # DejaVu Sans: 2048 units to the em, capitals 1493 high, by its own tables.
    assert letter["size"] * MM == pytest.approx(3.5 * 2048 / 1493, abs=0.01)
    assert letter["matrix"][5] * MM == pytest.approx(50, abs=0.01)


def test_turned_text_reads_from_the_right() -> None:
    text = Text((100, 50), "HHHHHH", 3.5, "right", rotation_deg=90.0)
    with read(drawn(blank(text))) as pdf:
        letters = [c for c in pdf.pages[1].chars if c["text"] == "H"]
    assert len(letters) == 6
    a, b, c, d, e, _ = letters[0]["matrix"]
    assert (a, d) == pytest.approx((0, 0), abs=1e-6)
    assert b > 0 > c
    assert e * MM == pytest.approx(100, abs=0.01)
    assert max(letter["y1"] for letter in letters) * MM == pytest.approx(50, abs=0.05)


def test_bold_is_bold_and_no_other_face_is_used() -> None:
    with read(drawn(blank(Text((50, 50), "plain"), Text((50, 80), "heavy", bold=True)))) as pdf:
        chars = [c for page in pdf.pages for c in page.chars]
        first = {c["text"]: c["fontname"] for c in reversed(pdf.pages[1].chars)}
    assert first["v"].endswith("DejaVuSans-Bold")
    assert first["p"].endswith("DejaVuSans")
    assert {c["fontname"].partition("+")[2] for c in chars} == {"DejaVuSans", "DejaVuSans-Bold"}


def test_sheet_text_can_be_searched() -> None:
    one = told(drawings=True)
    with read(pdf_bytes(one)) as pdf:
        for drawing, page in zip(one.chapters[1].blocks, pdf.pages[1:], strict=False):
            assert isinstance(drawing, Drawing)
            found = page.extract_text()
            level = [m.text for m in drawing.marks if isinstance(m, Text) and m.rotation_deg == 0]
            assert drawing.title in found
            assert sum(text in found for text in level) > 0.8 * len(level)


def test_document_says_what_the_tool_does() -> None:
    with read(made("worked")) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
    for words in (
        *("Worked tool", "Checks", "Bill of materials", "Unverified values", "Parameters"),
        *("Cautions", "set screw ISO 4028 M4 x 8, long dog", "silver steel 115CrV3"),
        *("slot.length_mm", "countersink out", "37 µm", "FAILED CHECKS")[:3],
    ):
        assert words in text, words
    assert "FAILED CHECKS" not in text


def test_failed_checks_and_changed_limits_stand_on_the_first_page() -> None:
    with read(made("failing")) as pdf:
        text = pdf.pages[0].extract_text()
    assert "FAILED CHECKS: " in text
    assert "limit changed in the file: 1.2 mm in place of 1.5 mm" in " ".join(text.split())


@pytest.mark.parametrize(
    ("case", "mark"),
    [
        ("failing", "FAILED CHECKS: see page 1"),
        ("changed", "LIMITS CHANGED: see page 1"),
        ("worked", ""),
    ],
)
def test_every_page_of_a_doubtful_tool_says_so(case: str, mark: str) -> None:
    for page in pages(made(case)):
        assert ("see page 1" in page.text) == bool(mark)
        assert mark in page.text


def test_verdicts_are_words_with_a_colour_of_their_own() -> None:
    with read(made("failing")) as pdf:
        words = [
            word
            for page in pdf.pages
            for word in page.extract_words(extra_attrs=["non_stroking_color", "fontname"])
            if word["x0"] * MM < 25
        ]
    colours = {
        verdict: {w["non_stroking_color"] for w in words if w["text"] == verdict}
        for verdict in ("pass", "warn", "fail")
    }
    assert all(len(found) == 1 for found in colours.values()), colours
    assert len(set().union(*colours.values())) == 3


@pytest.mark.parametrize("case", ["worked", "wide title", "letter"])
def test_no_rule_of_a_table_runs_through_a_word(case: str) -> None:
    ruled = 0
    for words, lines in laid_out(case):
        rules = np.array([(line["x0"], line["x1"], line["top"]) for line in lines]).reshape(-1, 3)
        ruled += len(rules)
        for word in words:
            middle = (word["top"] + word["bottom"]) / 2
            beside = (rules[:, 0] < word["x1"]) & (word["x0"] < rules[:, 1])
            near = np.abs(rules[:, 2] - middle) < 0.3 * word["size"]
            assert not (beside & near).any(), word["text"]
    assert ruled > 100


HOSTILE = (
    '#panic("no")',
    "#{1/0} $x^2$ *b* _i_ ~",
    'say "8 mm" and \'9\' \\ #"x"',
    "[a] {b} <c> @d // e /* f",
    "= head - list + enum / term: x",
    "`raw` ```rust x```",
    "#import sys: *; sys.inputs.data",
    "100 % & <svg/> ]]> </text>",
    "\\u{41} \\n \\",
    "--- ... fi ffi",
)


@pytest.mark.parametrize("title", HOSTILE)
def test_title_is_text_and_never_markup(title: str) -> None:
    assert told({"title": title}).title == title
    with read(pdf_bytes(headed(title))) as pdf:
        lines = pdf.pages[0].extract_text().splitlines()
        named = pdf.metadata["Title"]
    assert lines[0].startswith(title)
    assert lines[1] == title
    assert named == title


@pytest.mark.parametrize("title", ["a\nb", "a\tb", "a\x00b", "a\x1b[31mb", "a\u2028b", "a\u202eb"])
def test_control_characters_do_no_harm(title: str) -> None:
    with read(pdf_bytes(headed(title))) as pdf:
        assert pdf.pages[0].extract_text().splitlines()[1].startswith("a ")


def test_letters_of_other_scripts_do_no_harm() -> None:
    with read(pdf_bytes(headed("工具 инструмент Werkzeug"))) as pdf:
        assert "инструмент Werkzeug" in pdf.pages[0].extract_text()


def test_hostile_text_on_a_sheet_is_text() -> None:
    with read(drawn(blank(Text((50, 50), '#x $y$ *z* "q" \\ <a> & fi')))) as pdf:
        assert '#x $y$ *z* "q" \\ <a> & fi' in pdf.pages[1].extract_text()


PRINT_HASH = """
import hashlib
from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.subjects import study
from generator.documents.tool_sheets import tool_sheets
from generator.export.pdf import pdf_bytes
from tests.documents.operations import SHEET
from tests.tools import tool
one = tool()
findings = run_checks(one)
told = bench(one, findings, study(one), tool_sheets(one, findings))
print(hashlib.sha256(pdf_bytes(told)).hexdigest())
"""


def test_bytes_are_the_same_in_every_process() -> None:
    one = tool()
    findings = run_checks(one)
    whole = bench(one, findings, study(one), tool_sheets(one, findings))
    here = [pdf_bytes(whole) for _ in range(2)]
    assert here[0] == here[1]
    assert b"CreationDate" not in here[0]
    assert b"ModDate" not in here[0]
    strange = {"PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "SOURCE_DATE_EPOCH": "86400"}
    there = subprocess.run(
        [sys.executable, "-c", PRINT_HASH],
        env={**os.environ, **strange},
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        check=True,
    )
    assert there.stdout.strip() == hashlib.sha256(here[0]).hexdigest()


def test_place_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    with pytest.raises(ExportError, match=r"bench\.pdf"):
        write_pdf(headed(), tmp_path / "missing" / "bench.pdf")


def test_file_holds_the_bytes(tmp_path: Path) -> None:
    path = tmp_path / "bench.pdf"
    write_pdf(told(), path)
    assert path.read_bytes() == made("worked")


def test_circle_keeps_its_size() -> None:
    drawing = Drawing("sheet", "Sheet", 297, 210, 1.0, (Arc((150, 100), 25.0),), ())
    with read(drawn(drawing)) as pdf:
        (curve,) = [c for c in pdf.pages[1].curves if (c["x1"] - c["x0"]) * MM > 20]
    sides = [(curve[b] - curve[a]) * MM for a, b in (("x0", "x1"), ("y0", "y1"))]
    assert sides == pytest.approx([50, 50], abs=0.02)
    assert pi * sides[0] == pytest.approx(pi * sides[1], abs=0.1)
