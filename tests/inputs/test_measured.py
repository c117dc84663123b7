"""The file of measured sizes: read by the same engine, with the same kind of messages."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.errors import ProfileError
from generator.inputs.measured import measurable, measured_from, read_measured
from generator.making.sizes import NAMES
from tests.formulas.quantities import steady
from tests.inputs.test_fuzz import KEYS, MACHINE_WORDS, VALUES
from tests.tools import REMOVED, tool

WORKED = tool()
NONE: Mapping[str, Any] = {}


def problems(table: dict[str, Any], changes: Mapping[str, Any] = NONE) -> tuple[str, ...]:
    with pytest.raises(ProfileError) as caught:
        measured_from(table, tool(changes).parameters, "measured.toml")
    return caught.value.problems


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ({"bor_mm": 8}, ("bor_mm", "unknown key", "did you mean bore_mm?")),
        ({"bore_mm": "8"}, ("bore_mm", "expected a length", '"8"')),
        ({"bore_mm": True}, ("bore_mm", "a number", "true")),
        ({"bore_mm": 0}, ("bore_mm", "above 0")),
        ({"runout_nose_mm": -0.01}, ("runout_nose_mm", "at least 0")),
        ({"springs": [{"rat": 1}]}, ("springs[1].rat", "unknown key", "rate_N_per_mm")),
        ({"springs": {}}, ("springs", "a list", "a table")),
        ({"scale": [{"scale_g": 900}]}, ("scale[1].projection_mm", "missing", "stands out")),
        (
            {"scale": [{"end": "front", "projection_mm": 9, "scale_g": 900}]},
            ("scale[1].end", '"as drawn"', '"front"'),
        ),
        ({"tool": "another"}, ("tool", '"another"', '"worked-tool"')),
        ({"shank_diameter_mm": 16}, ("shank_diameter_mm", "taper", "stand_out_mm")),
        ({"extension_diameter_mm": 14}, ("extension_diameter_mm", "no extension")),
        ({"front_mouth_mm": 7}, ("front_mouth_mm", "no countersink", "front_flat_mm")),
        ({"rear_flat_mm": 0.4}, ("rear_flat_mm", "no point", "rear_mouth_mm")),
        ({"separator_thickness_mm": 1}, ("separator_thickness_mm", "no separators")),
        ({"springs": [{}, {}]}, ("springs", "has 1", "2 entries")),
        ({"springs": [{"outside_mm": 60}]}, ("springs[1].outside_mm", "0.64 to 42.85", "got 60")),
        ({"springs": [{"free_mm": 9}]}, ("springs[1].free_mm", "solid length, 11.2", "got 9")),
        ({"screw_tip_mm": 4.5}, ("screw_tip_mm", "at most the thread's diameter, 4", "got 4.5")),
        ({"springs": [{"inner": {}}]}, ("springs[1].inner", "no spring")),
    ],
)
def test_each_problem_is_one_line(table: dict[str, Any], told: tuple[str, ...]) -> None:
    (line,) = problems(table)
    assert line.startswith(f"{told[0]}: ")
    assert all(part in line for part in told)


def test_all_problems_come_at_once() -> None:
    found = problems({"bore_mm": "x", "zzz": 1, "slot_depth_mm": -1})
    assert len(found) == 3
    strangers = problems({"shank_diameter_mm": 16, "front_mouth_mm": 7})
    assert len(strangers) == 2


def test_what_a_tool_lacks_depends_on_the_tool() -> None:
    assert problems({"button_thickness_mm": 2}, {"button": REMOVED}) == (
        "button_thickness_mm: the tool has no button",
    )
    ends = {"plunger.rear": {"style": "plain"}}
    scale = {"end": "reversed", "projection_mm": 9, "scale_g": 900}
    (line,) = problems({"scale": [scale]}, ends)
    assert "plain" in line
    straight = {"mount": {"kind": "straight", "diameter_mm": 16, "length_mm": 60}}
    (line,) = problems({"stand_out_mm": 5}, straight)
    assert "no socket" in line


def test_lengths_may_carry_a_unit() -> None:
    found = measured_from({"bore_mm": "0.3150 in"}, WORKED.parameters, "measured.toml")
    assert found.bore_mm == pytest.approx(8.001)


def test_every_key_has_a_name() -> None:
    assert set(measurable(WORKED.parameters)) <= set(NAMES)


def test_a_file_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    with pytest.raises(ProfileError, match="cannot be read"):
        read_measured(tmp_path / "none.toml", WORKED.parameters)
    broken = tmp_path / "broken.toml"
    broken.write_text("bore_mm = ")
    with pytest.raises(ProfileError, match="is not TOML"):
        read_measured(broken, WORKED.parameters)
    with pytest.raises(ProfileError, match="file of measured sizes"):
        read_measured(tmp_path, WORKED.parameters)


@steady
@given(st.dictionaries(st.sampled_from([*NAMES, "springs", "scale", "tool"]) | KEYS, VALUES))
def test_whatever_a_file_holds_it_is_read_or_refused_in_shop_words(table: dict[str, Any]) -> None:
    try:
        measured_from(table, WORKED.parameters, "file")
    except ProfileError as error:
        for line in error.problems:
            assert len(line.splitlines()) == 1
            assert not MACHINE_WORDS.search(line.split(", got ")[0].split(": ", 1)[-1]), line
