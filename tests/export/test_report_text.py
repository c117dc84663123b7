import re
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from rich.cells import cell_len

from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.document import Document
from generator.documents.drawing import Figure
from generator.documents.subjects import study
from generator.documents.table import Column, Section, Table
from generator.export.report_text import report_text, sections_named
from generator.inputs.profile import read_profile
from generator.model.tool import design
from tests.tools import tool

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
each_profile = pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)
CODE = "\x1b["


@cache
def of_profile(path: Path) -> Document:
    made = design(read_profile(path))
    return bench(made, run_checks(made), study(made))


@cache
def plain() -> Document:
    made = tool()
    return bench(made, run_checks(made))


def letters(text: str) -> Counter[str]:
    return Counter(letter for letter in text if not letter.isspace())


def contents(one: Document) -> Counter[str]:
    """Return how often each letter stands in a report, each heading of a table once."""
    said = [one.title, one.name, one.revision, one.version, one.verdict, one.summary]
    said += [f"! {line}" for line in one.first]
    said += ["revision ; springcentre Verdict: . ,", "."]
    for section in one.sections:
        said += [section.title, *section.lines]
        said += [f"[Figure: {f.title}. {f.caption} See bench.pdf.]" for f in section.figures]
        if section.listed:
            said += [f"{number}." for number, _ in enumerate(section.lines, 1)]
        for table in section.tables:
            said += [table.title, *(column.heading for column in table.columns)]
            said += [cell for row in table.rows for cell in row]
    return letters("".join(said))


@each_profile
@pytest.mark.parametrize("width", [60, 120])
def test_no_line_is_too_long_and_no_letter_is_lost(path: Path, width: int) -> None:
    one = of_profile(path)
    text = report_text(one, one.sections, width=width)
    assert CODE not in text
    assert max(cell_len(line) for line in text.splitlines()) <= width
    found, wanted = letters(text), contents(one)
    for rule in "─=":
        del found[rule], wanted[rule]
    assert found == wanted


@each_profile
def test_words_of_the_tables_at_work_stay_whole(path: Path) -> None:
    """At the width of a usual terminal; dotted keys are longer than some columns."""
    one = of_profile(path)
    wanted = ("Force", "Setting", "Springs", "Finding", "Supporting")
    titles = [t for t in wanted if any(each.title.startswith(t) for each in one.sections)]
    assert len(titles) >= 2
    for title in titles:
        sections = sections_named(one, (title,))
        found = set(report_text(one, sections, width=90).split())
        for table in sections[0].tables:
            for row in table.rows:
                assert {word for cell in row for word in cell.split()} <= found


@each_profile
def test_every_row_of_every_table_begins_a_line(path: Path) -> None:
    one = of_profile(path)
    lines = [
        " ".join(line.split()) for line in report_text(one, one.sections, width=600).splitlines()
    ]
    for section in one.sections:
        for table in section.tables:
            for row in table.rows:
                assert " ".join(" ".join(row).split()) in lines


def test_numbers_stand_to_the_right_and_words_to_the_left() -> None:
    table = Table("", (Column("what"), Column("mm", "number")), (("bore", "8"), ("nose", "22.5")))
    text = report_text(plain(), (Section("Sizes", tables=(table,)),), width=80)
    rows = text.splitlines()[-2:]
    assert [row.index(word) for row, word in zip(rows, ("bore", "nose"), strict=True)] == [0, 0]
    assert len(rows[0]) == len(rows[1])
    assert rows[0].endswith("   8")


def test_figures_are_named_and_told_of() -> None:
    one = Figure("force", "Force", "It rises.", 100, 50, ())
    text = report_text(plain(), (Section("Plots", figures=(one,)),), width=80)
    assert "[Figure: Force. It rises. See bench.pdf.]" in text


def test_colour_is_for_a_terminal_alone() -> None:
    sections = plain().sections[:1]
    coloured = report_text(plain(), sections, width=100, colour=True)
    assert CODE in coloured
    bare = re.sub(r"\x1b\[[0-9;]*m", "", coloured)
    assert letters(bare) == letters(report_text(plain(), sections, width=100))


@pytest.mark.parametrize("title", ["[bold]x[/bold]", "[/]", ":smile:", "a[red]b", "\\[x]"])
def test_text_of_the_user_is_never_markup(title: str) -> None:
    one = replace(plain(), title=title)
    section = Section(title, (title,), (Table(title, (Column(title),), ((title,),)),))
    text = report_text(one, (section,), width=80)
    assert text.count(title) == 6


@pytest.mark.parametrize(
    ("names", "titles"),
    [
        (["bill"], ["Bill of materials"]),
        (["PARAM", "check"], ["Checks", "Parameters"]),
        (["c"], ["Card for using it", "Cut list", "Cautions", "Checks"]),
        ([" Results "], ["Results"]),
    ],
)
def test_sections_are_named_by_their_beginning(names: list[str], titles: list[str]) -> None:
    assert [section.title for section in sections_named(plain(), names)] == titles


@pytest.mark.parametrize("name", ["zzz", "materials", ""])
def test_an_unknown_section_lists_the_titles(name: str) -> None:
    with pytest.raises(LookupError) as error:
        sections_named(plain(), ["bill", name])
    said = str(error.value.args[0])
    assert repr(name) in said
    assert all(section.title in said for section in plain().sections)
