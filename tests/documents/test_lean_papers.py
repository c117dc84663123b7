"""What the papers say about the lean of the threads."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given

from generator.documents.lean_papers import lean_data, lean_section
from generator.errors import ProfileError
from generator.model.tool import design
from generator.use.alignment import leans
from generator.use.simulation import simulate
from tests.strategies import silly_changes
from tests.tools import parameters, tool

FEW = 20_000
TAPS = [
    {"standard": "ISO 529", "size": "M6", "end": "point"},
    {"standard": "ISO 529", "size": "M10", "end": "centre"},
    {"standard": "ISO 529", "size": "M3.5", "end": "point"},
]
PAPER_COLUMNS = 11
"""More do not read on the 175 mm of an A4 page."""


def section(changes: dict[str, Any]) -> Any:
    one = tool(changes)
    return lean_section(one, simulate(one, assemblies=FEW))


def test_every_tap_has_its_row_and_every_row_its_cells() -> None:
    found = section({"taps": TAPS})
    for table in found.tables:
        assert len(table.columns) <= PAPER_COLUMNS
        assert table.rows
        assert all(len(row) == len(table.columns) for row in table.rows)
    for title in ("Lean of the thread against its hole", "What is noticed when 95 % lean no more"):
        (table,) = (each for each in found.tables if each.title == title)
        assert [row[0] for row in table.rows] == [
            f"{tap['size']} {tap['standard']}" for tap in TAPS
        ]


def test_lean_is_printed_as_it_was_worked_out() -> None:
    one = tool()
    (lean,) = leans(one)
    (table,) = (each for each in section({}).tables if each.title.startswith("Lean of the thread"))
    headings = [column.heading for column in table.columns]
    row = dict(zip(headings, table.rows[0], strict=True))
    assert row["95 % exactly"] == f"{lean.most_deg():.3f}"
    assert row["worst, °"] == f"{lean.lean_deg.worst:.3f}"
    assert row["class"] == "fine"


def test_chain_names_every_error_once_with_its_reach() -> None:
    (table,) = (each for each in section({"taps": TAPS}).tables if "chain" in each.title)
    keys = [row[1] for row in table.rows]
    assert len(set(keys)) == len(keys)
    assert "alignment.hole_deg" in keys
    (hole,) = (row for row in table.rows if row[1] == "alignment.hole_deg")
    assert " to " in hole[3]
    assert hole[5] == "all"


def test_size_without_a_head_leaves_its_cells_empty() -> None:
    (table,) = (each for each in section({"taps": TAPS}).tables if "noticed" in each.title)
    assert table.rows[2][1:3] == ("", "")
    assert table.rows[0][2] == "passes a hole of 6.6 mm"


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "Quill of a mill"),
        ({"machine.spindle": "horizontal"}, "Tailstock of a lathe"),
        ({"machine.drilled": "elsewhere"}, "drilled elsewhere"),
        ({}, "drilled in the same setting, so hole and tap share"),
        ({"machine.turned": "work"}, "turned by hand and the wrench rests"),
        ({}, "A wrench turns the tap"),
    ],
)
def test_lines_speak_of_the_machine_and_the_setting(changes: dict[str, Any], words: str) -> None:
    assert any(words in line for line in section(changes).lines)


def test_no_tap_served_is_said() -> None:
    found = section({"taps.0.end": "none"})
    assert found.tables == ()
    assert "No end of the plunger serves a tap" in found.lines[-1]


def test_data_holds_every_tap_and_goes_through_json() -> None:
    one = tool({"taps": TAPS})
    data = lean_data(one, simulate(one, assemblies=FEW))
    assert [each["tap"] for each in data["taps"]] == ["M6 ISO 529", "M10 ISO 529", "M3.5 ISO 529"]
    first = data["taps"][0]
    assert first["lean_deg"]["exact_95"] == pytest.approx(
        first["lean_deg"]["simulated_95"], rel=0.02
    )
    bins = first["histogram"]
    assert len(bins["edges_deg"]) == len(bins["densities_per_deg"]) + 1
    assert json.loads(json.dumps(data))["taps"][0]["tap"] == "M6 ISO 529"


@given(silly_changes())
def test_any_tool_has_its_papers(changes: dict[str, Any]) -> None:
    try:
        asked = parameters(changes)
    except ProfileError:
        return
    one = design(asked)
    simulated = simulate(one, assemblies=500)
    found = lean_section(one, simulated)
    assert "nan" not in repr(found)
    assert len(lean_data(one, simulated)["taps"]) == len(simulated.taps)
