"""Figures of the report as an outside reader of the PDF finds them."""

from dataclasses import replace
from functools import cache
from io import BytesIO
from typing import Any

import pdfplumber
import pytest

from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.document import Chapter, Document
from generator.documents.drawing import Figure, Line, Text
from generator.documents.force_plot import force_figure
from generator.documents.plot import Axes, Axis, figure
from generator.documents.stroke_plot import Limits, stroke_figure
from generator.documents.table import Column, Section, Table
from generator.errors import ExportError
from generator.export.pdf import pdf_bytes
from tests.documents.plots import bands, force_line, lean, strokes
from tests.tools import tool

MM = 25.4 / 72
LEFT_MM, RIGHT_MM = 20.0, 195.0
LIMITS = Limits(extended_mm=20.75, compressed_mm=8.75, front_reserve_mm=1.0, rear_reserve_mm=1.0)


def ruler() -> Figure:
    """Return a plot whose scale runs over 100 mm."""
    axes = Axes(x=Axis("length, mm", 0, 100, 20), y=Axis("b", 0, 1, 1), width_mm=100, height_mm=40)
    return figure("ruler", "A ruler", "A scale of 100 mm.", axes.frame(), axes.scale_lines())


def figures() -> tuple[Figure, ...]:
    cutting, backing = strokes(16, LIMITS)
    forces = ((20.75, 12.0), (8.75, 29.5))
    return (
        ruler(),
        force_figure([force_line("point out", (0, 12), (12, 29.5))], bands("M4", "M6", "M8")),
        lean(0.04, others=("M4", "M8")),
        stroke_figure(cutting, backing, limits=LIMITS, forces=forces, of="M6, 12 mm deep"),
    )


def holding(*sections: Section) -> Document:
    """Return a document of a cover and sections."""
    one = tool()
    told = bench(one, run_checks(one))
    return replace(told, chapters=(told.chapters[0], Chapter("Plots", sections, fine=True)))


def with_figures(*shown: Figure) -> Document:
    return holding(Section("Plots", ("Before them.",), figures=shown))


@cache
def made() -> bytes:
    return pdf_bytes(with_figures(*figures()))


@cache
def pages() -> list[dict[str, Any]]:
    with pdfplumber.open(BytesIO(made())) as pdf:
        return [
            {
                "text": page.extract_text(),
                "words": page.extract_words(),
                "lines": page.lines,
                "chars": page.chars,
                "images": page.images,
            }
            for page in pdf.pages[1:]
        ]


def test_a_scale_of_100_mm_measures_100_mm() -> None:
    lengths = [(line["x1"] - line["x0"]) * MM for page in pages() for line in page["lines"]]
    assert any(length == pytest.approx(100.0, abs=0.01) for length in lengths)


def test_numbers_stand_under_their_ticks() -> None:
    words = pages()[0]["words"]
    twenty = next(word for word in words if word["text"] == "20")
    row = {w["text"]: w for w in words if w["top"] == pytest.approx(twenty["top"], abs=0.1)}
    middles = [(row[text]["x0"] + row[text]["x1"]) / 2 * MM for text in ("0", "100")]
    assert middles[1] - middles[0] == pytest.approx(100.0, abs=0.1)


def test_figures_are_lines_and_letters_that_can_be_searched() -> None:
    text = " ".join(page["text"] for page in pages())
    assert not any(page["images"] for page in pages())
    for each in figures():
        level = [m.text for m in each.marks if isinstance(m, Text) and m.rotation_deg == 0]
        assert sum(words in text for words in level) > 0.8 * len(level), each.name


def test_title_figure_and_caption_stand_on_one_page() -> None:
    for each in figures():
        (home,) = [page for page in pages() if each.title in page["text"]]
        flat = " ".join(home["text"].split())
        assert each.caption in flat
        level = [m.text for m in each.marks if isinstance(m, Text) and m.rotation_deg == 0]
        assert sum(words in home["text"] for words in level) > 0.8 * len(level)
    assert 2 <= len(pages()) <= 4


def test_all_lies_between_the_margins() -> None:
    for page in pages():
        assert min(word["x0"] for word in page["words"]) * MM >= LEFT_MM - 0.3
        assert max(word["x1"] for word in page["words"]) * MM <= RIGHT_MM + 0.3
        assert max(word["bottom"] for word in page["words"]) * MM <= 292
        for line in page["lines"]:
            assert line["x0"] * MM >= LEFT_MM - 0.3
            assert line["x1"] * MM <= RIGHT_MM + 0.3
            assert 10 < line["top"] * MM < 280


def test_capitals_are_2_5_mm_high() -> None:
    # DejaVu Sans: 2048 units to the em, capitals 1493 high, by its own tables.
    ten = next(c for c in pages()[0]["chars"] if c["size"] * MM == pytest.approx(3.43, abs=0.01))
    assert ten["size"] * MM == pytest.approx(2.5 * 2048 / 1493, abs=0.01)
    assert ten["fontname"].endswith("DejaVuSans")


def test_bytes_are_the_same_each_time() -> None:
    assert pdf_bytes(with_figures(*figures())) == made()


def test_a_figure_wider_than_the_page_is_refused() -> None:
    wide = Figure("wide", "Wide", "Too wide.", 176.0, 10.0, (Line((0, 5), (176, 5)),))
    with pytest.raises(ExportError, match="wide"):
        pdf_bytes(with_figures(wide))


def test_text_of_a_figure_is_never_markup() -> None:
    words = '#panic("no") $x$ *b* <a> \\ &'
    one = Figure(words, words, words, 100.0, 20.0, (Text((2, 8), words, 2.5),))
    with pdfplumber.open(BytesIO(pdf_bytes(with_figures(one)))) as pdf:
        assert pdf.pages[1].extract_text().count(words) == 3


def table(title: str, rows: int) -> Table:
    cells = tuple((f"{title} {n}", "a word") for n in range(1, rows + 1))
    return Table(title, (Column("first"), Column("second")), cells)


def texts_of(*sections: Section) -> list[str]:
    with pdfplumber.open(BytesIO(pdf_bytes(holding(*sections)))) as pdf:
        return [page.extract_text() for page in pdf.pages[1:]]


@pytest.mark.parametrize("filler", range(30, 52))
def test_a_short_table_stands_on_one_page_with_its_heading(filler: int) -> None:
    found = texts_of(Section("Plots", tables=(table("Long", filler), table("Short", 6))))
    (home,) = [text for text in found if "Short 1" in text]
    assert "Short\n" in home
    assert "Short 6" in home


def test_what_follows_a_figure_fills_the_page_before_it() -> None:
    tall = replace(figures()[1], height_mm=150.0)
    before = tuple(f"Line {n}." for n in range(22))
    found = texts_of(Section("Plots", before, (table("Short", 6),), figures=(tall,)))
    assert "Short 6" in found[0]
    assert tall.caption not in " ".join(found[0].split())
    assert tall.caption in " ".join(found[1].split())
