"""Setting cards for readers: the worked card in words, and every card within the page."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

from generator.documents.cautions import FIRST, cautions, still
from generator.documents.setting_papers import DASH, release, setting_data, setting_section
from generator.errors import ProfileError
from generator.export.columns import column_widths_mm, letters_mm
from generator.inputs.profile import read_profile
from generator.model.tool import Tool, design
from generator.use.windows import windows
from tests.strategies import silly_changes
from tests.tools import tool
from tests.use.test_settings import M6, TAILSTOCK, WORKED

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
ROOM_MM, SMALL_PT, INSET_MM = 175.0, 7.5, 1.2
"""An A4 page between its margins, the letters of its tables and the space beside them."""


def rows(made: Tool) -> tuple[tuple[str, ...], ...]:
    (table,) = setting_section(made).tables
    return table.rows


def test_worked_card_in_words() -> None:
    """The figures are those worked by hand in the test of the cards."""
    (table,) = setting_section(tool(WORKED)).tables
    assert table.title == "M6 ISO 529 with point, 12 mm of thread, through: countersink out"
    assert [row[0] for row in table.rows] == [str(n) for n in range(1, 11)]
    assert [row[2:] for row in table.rows[1:]] == [
        ("0", "21", "10.2", DASH),
        ("11", "10", "26.3", DASH),
        ("11", "20", "11.7", "one; two after 8.4 mm"),
        ("21", "10", "26.3", DASH),
        ("21", "16", "17.5", "one"),
        ("21", "10", "26.3", DASH),
        ("11", "20", "11.7", DASH),
        ("11", "10", "26.3", DASH),
        ("0", "21", "10.2", DASH),
    ]
    told = [row[1] for row in table.rows]
    assert "some 113 mm from the work; it must have 21 mm of travel left" in told[0]
    assert told[2] == "Lower the quill by 11 mm; lock it."
    assert told[3] == "Turn the tap to cut 10 mm, 10 turns."
    assert "6 turns at most" in told[5]
    assert "16 mm to come back" in told[6]
    assert "7 mm more: 9 mm at least" in told[6]
    assert told[4] == "Unlock with a hand on the lever. Lower the quill by 10 mm; lock it."
    assert told[7] == "Unlock with a hand on the lever. Raise the quill by 10 mm; lock it."


def test_lines_defer_to_the_manual_and_tell_how_the_tool_comes_out() -> None:
    made = tool(WORKED)
    lines = setting_section(made).lines
    assert lines[0] == FIRST
    assert "Isolate the power" in lines[1]
    assert lines[-1] == release(made)
    assert "half a turn" in release(made)
    assert "until less than 2 mm of it is out" in release(tool({**WORKED, **TAILSTOCK}))
    straight = {"kind": "straight", "diameter_mm": 20.0, "length_mm": 60.0}
    assert "open the chuck" in release(tool({**WORKED, "mount": straight}))


def test_lathe_has_a_barrel_and_its_work_may_turn() -> None:
    made = tool({**WORKED, **TAILSTOCK, "machine.spindle": "horizontal", "machine.turned": "work"})
    told = [row[1] for row in rows(made)]
    assert "it must be over 2 mm out and have 21 mm of travel left" in told[0]
    assert told[2] == "Wind the barrel out by 11 mm; lock it."
    assert told[3].startswith("Turn the chuck")
    assert rows(made)[3][5].startswith("at rest; hold its free end after")
    assert "out of gear" in setting_section(made).lines[1]
    still = tool({**WORKED, **TAILSTOCK, "machine.spindle": "horizontal"})
    assert "hold the chuck still" in setting_section(still).lines[1]


def test_blind_hole_is_marked_and_stopped_by_feel() -> None:
    made = tool({"taps": [{**M6, "hole": "blind", "drilled_mm": 18.0}]})
    told = [row[1] for row in rows(made)]
    assert told[0].startswith("Mark the tap 16 mm behind the front of its lead.")
    assert "2 mm are clear below" in told[0]
    assert "some 3 mm of that" in told[0]
    assert "Stop at the mark or where the torque rises" in told[6]


def test_force_too_low_for_two_hands_is_told() -> None:
    """M12 in steel takes 8.6 N with two hands; a tenth of the spring gives 2.6 N at most."""
    soft = {
        "taps": [{"standard": "ISO 529", "size": "M12", "end": "centre"}],
        "springs.0.rate_N_per_mm": 0.1459,
    }
    cut = [row for row in rows(tool(soft)) if row[1].startswith("Turn")]
    assert {row[5] for row in cut} == {"two; the cone can lift"}


def test_force_above_what_the_tap_takes_is_told() -> None:
    """M2 in steel loses its feel over some 13 N, as the window of the same tool says."""
    small = {"taps": [{"standard": "ISO 529", "size": "M2", "end": "point"}]}
    (window,) = windows(tool(small))
    (told,) = [row[1] for row in rows(tool(small)) if "hides how the tap cuts" in row[1]]
    assert f"Over {window.ceiling_N:.1f} N" in told
    assert f"pushed in over {window.reach_mm(0)[1]:.1f} mm" in told
    hard = rows(tool({**small, "springs.0.rate_N_per_mm": 30.0}))
    assert any("all the way" in row[1] for row in hard)
    assert not any("hides" in row[1] for row in rows(tool(WORKED)))


def test_cards_and_cautions_say_alike_what_stands_still() -> None:
    for changes in (
        {},
        {"machine.spindle": "horizontal"},
        {"machine.spindle": "horizontal", "machine.turned": "work"},
    ):
        made = tool({**WORKED, **changes})
        assert still(made) in cautions(made)
        assert still(made) in setting_section(made).lines
    assert "low gear" not in still(made)
    assert "turn the chuck by hand, the wrench at rest" in still(made)


def test_no_card_says_why() -> None:
    # 60 mm of thread and 4 of lead, in strokes of 4.5 less 1 of reserve at either end
    deep = rows(tool({"slot.length_mm": 7.0, "taps": [{**M6, "depth_mm": 60.0}]}))
    assert len(deep) == 1
    assert "some 26 settings" in deep[0][1]
    short = rows(tool({**WORKED, "slot.length_mm": 4.0}))
    assert "used up by the reserves" in short[0][1]
    assert not setting_section(tool({"taps": [{**M6, "end": "none"}]})).tables


def test_coarse_scale_is_told() -> None:
    told = rows(tool({**WORKED, "machine.quill_division_mm": 15.0}))
    assert "too coarse" in told[0][1]


def test_data_of_the_worked_card() -> None:
    (card,) = setting_data(tool(WORKED))
    assert card["tap"] == "M6 ISO 529"
    assert card["orientation"] == "reversed"
    assert card["settings_mm"] == [10, 6]
    assert (card["resets"], card["raise_mm"]) == (1, 9)
    assert card["clear_below_mm"] is None
    assert [step["reading_mm"] for step in card["steps"]] == [0, 11, 11, 21, 21, 21, 11, 11, 0]


def assert_readable(made: Tool) -> None:
    json.dumps(setting_data(made), allow_nan=False)
    for table in setting_section(made).tables:
        room_mm = ROOM_MM - 2 * INSET_MM * len(table.columns)
        widths = column_widths_mm(table, room_mm, SMALL_PT)
        assert math.fsum(widths) <= room_mm + 1e-6
        for row in table.rows:
            assert len(row) == len(table.columns)
            assert "nan" not in " ".join(row)
            assert "inf" not in " ".join(row)
            for cell, wide_mm in zip(row, widths, strict=True):
                for word in cell.split():
                    assert letters_mm(word, SMALL_PT) <= wide_mm


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_cards_of_the_shipped_profiles_fit_the_page(path: Path) -> None:
    made = design(read_profile(path))
    assert bool(setting_section(made).tables) == bool(made.parameters.taps)
    assert_readable(made)


@given(silly_changes())
def test_cards_of_silly_tools_are_readable(changes: dict[str, Any]) -> None:
    try:
        made = tool(changes)
    except ProfileError:
        return
    assert_readable(made)
