"""The papers on force: what they tell, and that they fit a page."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

from generator.documents.force_papers import force_data, force_section
from generator.errors import ProfileError
from generator.export.columns import column_widths_mm, lines_of
from generator.inputs.profile import read_profile
from generator.model.tool import design
from tests.strategies import silly_changes
from tests.tools import tool
from tests.use.test_windows import TAPS

ROOM_MM, SIZE_PT, PAD_MM = 175.0, 7.5, 2.5
PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))


def test_every_tap_has_its_row() -> None:
    section = force_section(tool({"taps": TAPS}))
    first = section.tables[0]
    assert [row[0].split()[0] for row in first.rows] == [tap["size"] for tap in TAPS]
    assert first.rows[4][-1] == "one hand if pushed in over 2.5 mm, else two"
    assert [t.title for t in section.tables] == [
        "What each tap wants and gets",
        "How each end sits",
        "Taps that no one force serves",
        "The range that serves the most taps",
        "A spring that serves more taps",
    ]
    assert any("judgement" in line for line in section.lines)


def test_the_wrench_at_rest_has_one_floor() -> None:
    section = force_section(tool({"taps": TAPS, "machine.turned": "work"}))
    headings = [column.heading for column in section.tables[0].columns]
    assert "at least, N" in headings
    assert "one hand from, N" not in headings
    assert {row[0] for row in section.tables[2].rows} == {"the wrench at rest"}


def test_a_tool_that_takes_no_tap_says_so() -> None:
    section = force_section(tool({"taps.0.end": "none"}))
    assert section.lines == ("No end of the plunger serves a tap.",)
    assert section.tables == ()


def test_a_refused_spring_says_why() -> None:
    section = force_section(tool({"taps": TAPS, "machine.turned": "work"}))
    assert any(line.endswith("full compression.") for line in section.lines)


def test_side_effects_of_a_spring_are_told() -> None:
    section = force_section(tool({"taps": TAPS}))
    assert any("M12 ISO 529 (warn)" in line for line in section.lines)


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_tables_fit_the_page_without_cutting_words(path: Path) -> None:
    for table in force_section(design(read_profile(path))).tables:
        room_mm = ROOM_MM - PAD_MM * len(table.columns)
        widths = column_widths_mm(table, room_mm, SIZE_PT)
        assert sum(widths) <= room_mm + 0.01
        for row in (tuple(c.heading for c in table.columns), *table.rows):
            for cell, width_mm in zip(row, widths, strict=True):
                shown = [w for line in lines_of(cell, width_mm, SIZE_PT) for w in line.split()]
                assert shown == cell.split(), (table.title, cell)


@given(silly_changes())
def test_data_is_plain_whatever_the_tool(changes: dict[str, Any]) -> None:
    try:
        asked = tool(changes)
    except ProfileError:
        return
    text = json.dumps(force_data(asked), allow_nan=False)
    assert json.loads(text)["taps"] is not None
    section = force_section(asked)
    printed = " ".join(cell for t in section.tables for row in t.rows for cell in row)
    assert "nan" not in printed
    assert "inf" not in printed
