import hashlib
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import cache
from io import BytesIO
from math import pi
from pathlib import Path
from typing import Any

import numpy as np
import pdfplumber
import pytest

from generator.checks.run import run_checks
from generator.documents.drawing import Arc, Drawing, Line, Text
from generator.documents.layout import collisions
from generator.documents.report import Report, report
from generator.documents.text import text_box
from generator.documents.tool_sheets import tool_sheets
from generator.errors import ExportError
from generator.export.pdf import BAR_TEXT, pdf_bytes, scale_bar, write_pdf
from tests.tools import tool

MM = 25.4 / 72
A4 = (210.0, 297.0)
"""Width and height, ISO 216."""

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
}
each_case = pytest.mark.parametrize("case", CASES)


@contextmanager
def read(content: bytes) -> Iterator[Any]:
    with pdfplumber.open(BytesIO(content)) as pdf:
        yield pdf


@cache
def made(case: str) -> bytes:
    """Return the PDF of a case, its report alone."""
    one = tool(CASES[case])
    return pdf_bytes((), report(one, run_checks(one)))


@cache
def laid_out(case: str) -> list[tuple[list[dict[str, Any]], list[dict[str, Any]]]]:
    """Return the words and the lines of each page of a case."""
    with read(made(case)) as pdf:
        return [(page.extract_words(extra_attrs=["size"]), page.lines) for page in pdf.pages]


def blank(*marks: Line | Text, width_mm: float = 297.0, height_mm: float = 210.0) -> Drawing:
    return Drawing("sheet", "Sheet", width_mm, height_mm, 1.0, marks, ())


def headed(title: str = "Worked tool") -> Report:
    """Return the head of a report, without its sections."""
    one = tool()
    return replace(report(one, run_checks(one)), title=title, sections=())


def drawn(drawing: Drawing) -> bytes:
    """Return a sheet with the head of a report behind it."""
    return pdf_bytes((drawing,), headed())


def test_line_of_100_mm_measures_100_mm_where_it_was_drawn() -> None:
    lines = (Line((40, 60), (140, 60)), Line((40, 60), (40, 160), "thin"))
    with read(drawn(blank(*lines))) as pdf:
        found = [
            tuple(line[key] * MM for key in ("x0", "y0", "x1", "y1", "linewidth"))
            for line in pdf.pages[0].lines
        ]
    for expected in ((40, 60, 140, 60, 0.5), (40, 60, 40, 160, 0.25)):
        assert any(line == pytest.approx(expected, abs=0.01) for line in found), expected


def test_scale_bar_measures_100_mm_on_every_sheet() -> None:
    one = tool()
    findings = run_checks(one)
    drawings = tool_sheets(one, findings)
    with read(pdf_bytes(drawings, report(one, findings))) as pdf:
        for page in pdf.pages[: len(drawings)]:
            low = [line for line in page.lines if abs(line["y0"] * MM - 8.0) < 0.01]
            longest = max((line["x1"] - line["x0"]) * MM for line in low)
            assert longest == pytest.approx(100.0, abs=0.01)
            assert BAR_TEXT in page.extract_text()
        assert BAR_TEXT not in pdf.pages[-1].extract_text()


@each_case
def test_scale_bar_touches_nothing_on_the_sheets(case: str) -> None:
    one = tool(CASES[case])
    for drawing in tool_sheets(one, run_checks(one)):
        marked = replace(drawing, marks=(*drawing.marks, *scale_bar()))
        own = {line for line in collisions(marked) if BAR_TEXT in line}
        assert not own
        lowest = min(text_box(m)[1] for m in scale_bar() if isinstance(m, Text))
        assert lowest > 4.0  # most printers leave about 4 mm blank; common practice, no source


def test_pages_have_the_sizes_of_their_sheets() -> None:
    one = tool()
    sheet = blank(width_mm=420, height_mm=297)
    with read(pdf_bytes((sheet,), report(one, run_checks(one)))) as pdf:
        sizes = [(float(page.width) * MM, float(page.height) * MM) for page in pdf.pages]
    assert sizes[0] == pytest.approx((420, 297), abs=0.01)
    assert len(sizes) > 2
    for size in sizes[1:]:
        assert size == pytest.approx(A4, abs=0.01)


@pytest.mark.parametrize(
    ("anchor", "x0", "x1"), [("left", 100, None), ("right", None, 100), ("centre", None, None)]
)
def test_text_stands_where_its_anchor_says(anchor: Any, x0: Any, x1: Any) -> None:
    with read(drawn(blank(Text((100, 50), "HHHHHH", 3.5, anchor)))) as pdf:
        (word,) = [w for w in pdf.pages[0].extract_words() if w["text"] == "HHHHHH"]
        letter = next(c for c in pdf.pages[0].chars if c["text"] == "H")
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
        letters = [c for c in pdf.pages[0].chars if c["text"] == "H"]
    assert len(letters) == 6
    a, b, c, d, e, _ = letters[0]["matrix"]
    assert (a, d) == pytest.approx((0, 0), abs=1e-6)
    assert b > 0 > c
    assert e * MM == pytest.approx(100, abs=0.01)
    assert max(letter["y1"] for letter in letters) * MM == pytest.approx(50, abs=0.05)


def test_bold_is_bold_and_no_other_face_is_used() -> None:
    with read(drawn(blank(Text((50, 50), "plain"), Text((50, 80), "heavy", bold=True)))) as pdf:
        chars = [c for page in pdf.pages for c in page.chars]
        first = {c["text"]: c["fontname"] for c in pdf.pages[0].chars}
    assert first["v"].endswith("DejaVuSans-Bold")
    assert first["p"].endswith("DejaVuSans")
    assert {c["fontname"].partition("+")[2] for c in chars} == {"DejaVuSans", "DejaVuSans-Bold"}


def test_sheet_text_can_be_searched() -> None:
    one = tool()
    findings = run_checks(one)
    drawings = tool_sheets(one, findings)
    with read(pdf_bytes(drawings, report(one, findings))) as pdf:
        for drawing, page in zip(drawings, pdf.pages, strict=False):
            found = page.extract_text()
            level = [m.text for m in drawing.marks if isinstance(m, Text) and m.rotation_deg == 0]
            assert drawing.title in found
            assert sum(text in found for text in level) > 0.8 * len(level)


def test_report_says_what_the_tool_does() -> None:
    with read(made("worked")) as pdf:
        text = "\n".join(page.extract_text() for page in pdf.pages)
    for words in (
        *("Worked tool", "All checks", "Bill of materials", "Unverified values", "Parameters"),
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


@each_case
def test_no_words_overlap_and_none_leaves_the_page(case: str) -> None:
    for words, _ in laid_out(case):
        assert words
        x0, x1, top, bottom = (
            np.array([word[key] for word in words]) for key in ("x0", "x1", "top", "bottom")
        )
        wide = np.minimum(x1[:, None], x1) - np.maximum(x0[:, None], x0)
        high = np.minimum(bottom[:, None], bottom) - np.maximum(top[:, None], top)
        over = np.argwhere(np.triu((wide > 0.3) & (high > 2.0), 1))
        assert not [(words[a]["text"], words[b]["text"]) for a, b in over]
        assert x0.min() * MM >= 19.7
        assert x1.max() * MM <= 195.3
        assert bottom.max() * MM <= 292


@each_case
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
    one = tool({"title": title})
    assert report(one, run_checks(one)).title == title
    with read(pdf_bytes((), headed(title))) as pdf:
        lines = pdf.pages[0].extract_text().splitlines()
        named = pdf.metadata["Title"]
    assert lines[0].startswith(title)
    assert lines[1] == title
    assert named == title


@pytest.mark.parametrize("title", ["a\nb", "a\tb", "a\x00b", "a\x1b[31mb", "a\u2028b", "a\u202eb"])
def test_control_characters_do_no_harm(title: str) -> None:
    with read(pdf_bytes((), headed(title))) as pdf:
        assert pdf.pages[0].extract_text().splitlines()[1].startswith("a ")


def test_letters_of_other_scripts_do_no_harm() -> None:
    with read(pdf_bytes((), headed("工具 инструмент Werkzeug"))) as pdf:
        assert "инструмент Werkzeug" in pdf.pages[0].extract_text()


def test_hostile_text_on_a_sheet_is_text() -> None:
    with read(drawn(blank(Text((50, 50), '#x $y$ *z* "q" \\ <a> & fi')))) as pdf:
        assert '#x $y$ *z* "q" \\ <a> & fi' in pdf.pages[0].extract_text()


PRINT_HASH = """
import hashlib
from generator.checks.run import run_checks
from generator.documents.report import Report, report
from generator.documents.tool_sheets import tool_sheets
from generator.export.pdf import pdf_bytes
from tests.tools import tool
one = tool()
findings = run_checks(one)
print(hashlib.sha256(pdf_bytes(tool_sheets(one, findings), report(one, findings))).hexdigest())
"""


def test_bytes_are_the_same_in_every_process() -> None:
    one = tool()
    findings = run_checks(one)
    drawings = tool_sheets(one, findings)
    here = [pdf_bytes(drawings, report(one, findings)) for _ in range(2)]
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
    one = tool()
    with pytest.raises(ExportError, match=r"sheets\.pdf"):
        write_pdf((), report(one, run_checks(one)), tmp_path / "missing" / "sheets.pdf")


def test_file_holds_the_bytes(tmp_path: Path) -> None:
    one = tool()
    path = tmp_path / "sheets.pdf"
    write_pdf((), report(one, run_checks(one)), path)
    assert path.read_bytes() == made("worked")


def test_circle_keeps_its_size() -> None:
    drawing = Drawing("sheet", "Sheet", 297, 210, 1.0, (Arc((150, 100), 25.0),), ())
    with read(drawn(drawing)) as pdf:
        (curve,) = [c for c in pdf.pages[0].curves if (c["x1"] - c["x0"]) * MM > 20]
    sides = [(curve[b] - curve[a]) * MM for a, b in (("x0", "x1"), ("y0", "y1"))]
    assert sides == pytest.approx([50, 50], abs=0.02)
    assert pi * sides[0] == pytest.approx(pi * sides[1], abs=0.1)
