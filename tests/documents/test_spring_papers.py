"""What the papers say of the springs: every figure is that of the tool, worked by hand."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

import pytest
from hypothesis import given

from generator.documents.bill import bill, spring_mass_g
from generator.documents.cautions import cautions
from generator.documents.parts_list import items
from generator.documents.results import results
from generator.documents.spring_papers import springs_data, springs_section
from generator.documents.table import Table
from generator.errors import ProfileError
from generator.export.columns import column_widths_mm, letters_mm
from generator.inputs.profile import read_profile
from generator.model.tool import Tool, design
from tests.strategies import silly_changes
from tests.tools import finding, tool

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
NESTED: Final[dict[str, Any]] = {
    "springs.0.rate_N_per_mm": 1.5,
    "springs.0.inner": {
        "wire_mm": 0.5,
        "outside_mm": 4.0,
        "free_mm": 24.0,
        "active_coils": 15.0,
        "hand": "left",
        "rate_N_per_mm": 0.8,
    },
}


def table(made: Tool, title: str) -> Table:
    (found,) = (one for one in springs_section(made).tables if one.title == title)
    return found


def cells(made: Tool, title: str, heading: str) -> list[str]:
    one = table(made, title)
    (place,) = (n for n, column in enumerate(one.columns) if column.heading == heading)
    return [row[place] for row in one.rows]


def test_each_spring_has_its_row() -> None:
    made = tool(NESTED)
    for title in ("Coils", "Solid", "Stress"):
        assert [row[0] for row in table(made, title).rows] == ["spring 1", "spring 1 inner"]
    assert cells(made, "Coils", "rate, N/mm") == ["1.5 measured", "0.8 measured"]
    assert cells(made, "Coils", "index") == ["7.75", "7"]
    assert cells(made, "Coils", "ends") == ["closed and ground", "closed and ground, left-hand"]


def test_both_solid_lengths_are_shown() -> None:
    """14 x 0.8 and 14 x 0.815; 17 x 0.5 and 17 x 0.508. A stainless wire has no tolerance here."""
    made = tool(NESTED)
    assert cells(made, "Solid", "handbook, mm") == ["11.2", "8.5"]
    assert cells(made, "Solid", "EN 13906-1, mm") == ["11.41", "8.64"]
    stainless = tool({"springs.0.wire": "ASTM A313 302"})
    assert cells(stainless, "Solid", "EN 13906-1, mm") == ["\N{EN DASH}"]


def test_curve_says_what_happens_at_its_corners() -> None:
    """1.5 N/mm from 34; from 24 on 2.3 N/mm, to 11.2 where the outer spring is solid."""
    made = tool(NESTED)
    assert table(made, "Force against length").rows == (
        ("34", "0", "at rest"),
        ("24", "15", "spring 1 inner begins to bear"),
        ("11.2", "44.4", "spring 1 solid"),
    )
    assert any("First solid is spring 1, at 44.4 N" in line for line in springs_section(made).lines)


def test_stresses_are_those_of_the_checks() -> None:
    made = tool(NESTED)
    for n, subject in enumerate(("spring 1", "spring 1 inner")):
        for name, heading in (
            ("corrected stress at full compression", "corrected, full"),
            ("uncorrected stress when solid", "uncorrected, solid"),
        ):
            found = finding(made, name, subject)
            assert float(cells(made, "Stress", heading)[n]) == pytest.approx(found.value, abs=5e-4)
    assert cells(made, "Stress", "limit") == ["0.45", "0.45"]
    music = tool({"springs.0.wire": "ASTM A228"})
    assert cells(music, "Stress", "limit") == ["0.45, 0.6"]
    assert any("Table 10-5" in line for line in springs_section(music).lines)


def test_plug_depths_say_what_thread_and_room_allow() -> None:
    (first, *_) = table(tool({"plug.tapped_mm": 23.0}), "Plug depths for the nominal preload").rows
    assert first[3].startswith("cut it ")
    assert first[5] == "enough"
    (first, *_) = table(tool({"plug.sunk_mm": 13.0}), "Plug depths for the nominal preload").rows
    assert first[5].endswith(" mm short")


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_tables_fit_the_page(path: Path) -> None:
    """On 175 mm at 7.5 pt every word stands whole in its column, with 2 mm between columns."""
    for one in springs_section(design(read_profile(path))).tables:
        room_mm = 175.0 - 2.0 * len(one.columns)
        widths_mm = column_widths_mm(one, room_mm, 7.5)
        heads = [column.heading for column in one.columns]
        for row, bold in ((heads, True), *((row, False) for row in one.rows)):
            assert len(row) == len(widths_mm)
            for cell, width_mm in zip(row, widths_mm, strict=True):
                for word in cell.split():
                    assert letters_mm(word, 7.5, bold=bold) <= width_mm + 1e-6


@given(silly_changes())
def test_any_tool_has_its_papers(changes: dict[str, Any]) -> None:
    try:
        made = tool(changes)
    except ProfileError:
        return
    text = json.dumps(springs_data(made), allow_nan=False)
    assert json.loads(text)["curve"][0] == {"length_mm": made.curve.free_mm, "force_N": 0.0}
    for one in springs_section(made).tables:
        assert not any(cell in ("nan", "inf", "-inf") for row in one.rows for cell in row)


def test_data_names_every_spring_and_its_sources() -> None:
    data = springs_data(tool(NESTED))
    assert [spring["name"] for spring in data["springs"]] == ["spring 1", "spring 1 inner"]
    outer, inner = data["springs"]
    assert outer["solid_force_on_all_N"] == pytest.approx(1.5 * 22.8 + 0.8 * 12.8)
    assert inner["solid_force_on_all_N"] is None
    assert inner["hand"] == "left"
    assert "Table 10-6" in outer["corrected_source"]
    assert set(data["bands"]) == {"as_drawn", "reversed"}


def test_bill_and_parts_list_order_the_inner_spring() -> None:
    made = tool(NESTED)
    bought = {item.name: item for item in bill(made)}
    assert "left-hand" in bought["Inner spring"].designation
    assert bought["Inner spring"].mass_g == pytest.approx(spring_mass_g(made.in_place[1].spring))
    listed = {item.name: item for item in items(made, made.orientations[0])}
    assert listed["Inner spring"].designation.startswith("0.5 x 4 x 24, 17 coils, left-hand")
    assert set(results(made)["masses_g"]) >= {"spring 1", "spring 1 inner"}


def test_bill_tells_the_cut() -> None:
    (text,) = (
        i.designation for i in bill(tool({"springs.0.cut_to_mm": 28.0})) if i.name == "Spring"
    )
    assert "free 34, 14 coils (12 active), ends closed and ground" in text
    assert "cut to 28 mm (9.926 active)" in text
    made = tool({"springs.0.cut_to_mm": 28.0})
    (item,) = (i for i in items(made, made.orientations[0]) if i.name == "Spring")
    assert item.designation.endswith("cut to 28")


def test_cautions_say_which_way_a_cut_spring_goes_in() -> None:
    assert any("cut end" in line for line in cautions(tool({"springs.0.cut_to_mm": 28.0})))
    assert not any("cut end" in line for line in cautions(tool()))
