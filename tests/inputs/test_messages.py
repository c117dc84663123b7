"""Every kind of bad input: one line with the key, the value, and what would be right."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.errors import ProfileError
from generator.inputs.profile import parameters_from, read_profile
from generator.standards.rows import Material, MorseTaper, Tap, Thread
from tests.inputs.toml import written
from tests.tools import BASE, REMOVED, changed, parameters, profile, slot_of

NAN, INF = float("nan"), float("inf")
INNER = {"wire_mm": 0.5, "outside_mm": 4, "free_mm": 30, "active_coils": 9, "hand": "left"}


def problems(changes: dict[str, Any]) -> tuple[str, ...]:
    with pytest.raises(ProfileError) as caught:
        parameters(changes)
    return caught.value.problems


def problem(changes: dict[str, Any]) -> str:
    (only,) = problems(changes)
    assert len(only.splitlines()) == 1
    return only


STRAIGHT = {"kind": "straight", "diameter_mm": 20.0, "length_mm": 60.0}

CASES: dict[str, tuple[dict[str, Any], str, tuple[str, ...]]] = {
    "unknown key with a near name": (
        {"plunger.diametre_mm": 8},
        "plunger.diametre_mm",
        ("unknown key", "did you mean diameter_mm?"),
    ),
    "unknown key with no near name": ({"slot.zzz": 1}, "slot.zzz", ("unknown key", "width_mm")),
    "unknown table": ({"bores": {}}, "bores", ("unknown key", "did you mean bore?")),
    "odd key": ({"slot.a b\nc": 1}, 'slot."a b\\nc"', ("unknown key",)),
    "key of another form": (
        {"mount.extension_length_mm": 3},
        "mount.extension_length_mm",
        ("unknown key", "drawbar_engagement_mm"),
    ),
    "missing key": ({"slot.length_mm": REMOVED}, "slot.length_mm", ("missing", "over the ends")),
    "missing table": ({"machine": REMOVED}, "machine", ("missing", "machine")),
    "missing kind": ({"mount.kind": REMOVED}, "mount.kind", ("missing", '"straight"')),
    "missing style": ({"plunger.rear.style": REMOVED}, "plunger.rear.style", ('"countersink"',)),
    "true for a number": ({"slot.length_mm": True}, "slot.length_mm", ("a number", "true")),
    "text for a number": ({"springs.0.active_coils": "12"}, "springs[1].active_coils", ('"12"',)),
    "list for a number": ({"slot.length_mm": [1]}, "slot.length_mm", ("a number", "a list")),
    "table for a number": ({"slot.length_mm": {}}, "slot.length_mm", ("a number", "a table")),
    "number for a text": ({"title": 3}, "title", ("text", "got 3")),
    "number for a size": ({"mount.size": 2}, "mount.size", ("text", "got 2")),
    "number for a table": ({"slot": 3}, "slot", ("a table", "got 3")),
    "list for a table": ({"button": []}, "button", ("a table", "a list")),
    "table for a list": ({"springs": {}}, "springs", ("a list", "a table")),
    "text for limits": ({"limits": "none"}, "limits", ("a table", '"none"')),
    "number for a limit": ({"limits": {"travel": 3}}, "limits.travel", ("a table", "got 3")),
    "zero": ({"slot.length_mm": 0}, "slot.length_mm", ("above 0", "got 0")),
    "negative": ({"slot.length_mm": -3.5}, "slot.length_mm", ("above 0", "got -3.5")),
    "negative depth": ({"plug.sunk_mm": -1}, "plug.sunk_mm", ("at least 0", "got -1")),
    "tiny": ({"slot.length_mm": 1e-7}, "slot.length_mm", ("0.001 mm", "1e-07")),
    "nan": ({"slot.length_mm": NAN}, "slot.length_mm", ("finite", "nan")),
    "inf": ({"slot.length_mm": INF}, "slot.length_mm", ("finite", "inf")),
    "huge": ({"slot.length_mm": 1e9}, "slot.length_mm", ("at most 2000",)),
    "whole number beyond all floats": (
        {"slot.length_mm": 10**400},
        "slot.length_mm",
        ("number", "20 digits"),
    ),
    "angle": ({"plunger.rear.angle_deg": 5}, "plunger.rear.angle_deg", ("at least 30", "got 5")),
    "unknown taper": ({"mount.size": "MT9"}, "mount.size", ('"MT9"', *MorseTaper.sizes())),
    "unknown thread": (
        {"set_screw.thread": "M4.1"},
        "set_screw.thread",
        ('did you mean "M4"?', *(row.name for row in Thread.rows())),
    ),
    "unknown material": (
        {"body.material": "unobtainium"},
        "body.material",
        tuple(row.name for row in Material.rows()),
    ),
    "unknown tap standard": (
        {"taps.0.standard": "ISO 530"},
        "taps[1].standard",
        ('"ISO 530"', "ISO 529", "DIN 352"),
    ),
    "unknown tap size": (
        {"taps.0.size": "M9"},
        "taps[1].size",
        ('"M9"', *(row.size for row in Tap.rows() if row.standard == "ISO 529")),
    ),
    "unknown limit": ({"limits": {"travle": {}}}, "limits.travle", ('did you mean "travel"?',)),
    "unknown zone": ({"bore.tolerance": "H5"}, "bore.tolerance", ('"H5"', "H7")),
    "unknown wire": ({"springs.0.wire": "piano"}, "springs[1].wire", ('"piano"', "ASTM A228")),
    "unknown kind": ({"mount.kind": "R9"}, "mount.kind", ('"straight"', 'got "R9"')),
    "flat past the axis": (
        {"mount": {**STRAIGHT, "flats": "one", "flat_depth_mm": 10.0}},
        "mount.flat_depth_mm",
        ("below half of diameter_mm, 10", "got 10"),
    ),
    "size of flats without flats": (
        {"mount": {**STRAIGHT, "flat_length_mm": 12.0}},
        "mount.flat_length_mm",
        ("no flats", '"one" or "two"'),
    ),
    "unknown holder": (
        {"mount": {**STRAIGHT, "holder": "ER33"}},
        "mount.holder",
        ('did you mean "ER32"?', '"ER33"'),
    ),
    "zone of a hole on a shank": (
        {"mount": {**STRAIGHT, "tolerance": "H7"}},
        "mount.tolerance",
        ("zone of a shaft", '"h8"'),
    ),
    "zone not tabulated for so thick a shank": (
        {"mount": {**STRAIGHT, "diameter_mm": 60.0, "tolerance": "h8"}},
        "mount.tolerance",
        ("h8", "leave it out"),
    ),
    "disc behind the thread of an R8 draw-bar": (
        {"mount": {"kind": "r8"}, "plug": REMOVED, "disc": {}},
        "disc",
        ("draw-bar", "[plug]"),
    ),
    "kind that is a number": ({"mount.kind": 8}, "mount.kind", ('"straight"', "got 8")),
    "kind that is a list": ({"mount.kind": []}, "mount.kind", ('"straight"', "got a list")),
    "unknown style": ({"plunger.front.style": "hook"}, "plunger.front.style", ('"plain"',)),
    "unknown choice": ({"plug.drive": "torx"}, "plug.drive", ('"slot"', 'got "torx"')),
    "unknown end of a tap": ({"taps.0.end": "sharp"}, "taps[1].end", ('"bevel"', '"sharp"')),
    "both counts of coils": (
        {"springs.0.total_coils": 14},
        "springs[1]",
        ("either total_coils or active_coils",),
    ),
    "no count of coils": (
        {"springs.0.active_coils": REMOVED},
        "springs[1]",
        ("either total_coils or active_coils",),
    ),
    "no coil left to give": (
        {"springs.0.active_coils": REMOVED, "springs.0.total_coils": 2},
        "springs[1].total_coils",
        ("more than the 2", "closed and ground", "got 2"),
    ),
    "spring longer solid than free": (
        {"springs.0.free_mm": 11},
        "springs[1].free_mm",
        ("must be above", "11.2", "got 11"),
    ),
    "wire thicker than the coil": (
        {"springs.0.outside_mm": 1.5},
        "springs[1].outside_mm",
        ("must exceed twice wire_mm, 1.6, got 1.5",),
    ),
    "inner spring that is solid": (
        {
            "springs.0.inner": {
                "wire_mm": 0.5,
                "outside_mm": 4,
                "free_mm": 9,
                "active_coils": 20,
            }
        },
        "springs[1].inner.free_mm",
        ("solid length, 11, got 9",),
    ),
    "inner spring in an inner spring": (
        {"springs.0.inner": {"wire_mm": 0.5, "outside_mm": 4, "free_mm": 9, "inner": {}}},
        "springs[1].inner.inner",
        ("unknown key",),
    ),
    "cut that takes nothing off": (
        {"springs.0.cut_to_mm": 34},
        "springs[1].cut_to_mm",
        ("must be from", "got 34"),
    ),
    "cut longer than the spring": (
        {"springs.0.cut_to_mm": 40},
        "springs[1].cut_to_mm",
        ("must be from", "got 40"),
    ),
    "cut that leaves nothing": (
        {"springs.0.cut_to_mm": 1},
        "springs[1].cut_to_mm",
        ("0.25", "got 1"),
    ),
    "inner spring wider than the outer one's hole": (
        {
            "springs.0.inner": {
                "wire_mm": 0.5,
                "outside_mm": "1/4 in",
                "free_mm": 30,
                "active_coils": 9,
            }
        },
        "springs[1].inner.outside_mm",
        ("must be below", "5.4, got 6.35"),
    ),
    "second inner spring of several": (
        {
            "separator": {},
            "springs": [
                {**BASE["springs"][0], "inner": INNER},
                {**BASE["springs"][0], "inner": {**INNER, "hand": "both"}},
            ],
        },
        "springs[2].inner.hand",
        ('"right"', '"left"', '"both"'),
    ),
    "blind hole shallower than its thread": (
        {"taps.0.hole": "blind", "taps.0.depth_mm": 12, "taps.0.drilled_mm": "3/8 in"},
        "taps[1].drilled_mm",
        ("depth of the thread, 12", "got 9.525"),
    ),
    "thread deeper than its tap is long": (
        {"taps.0.depth_mm": 66},
        "taps[1].depth_mm",
        ("whole length, 66", "got 66"),
    ),
    "end wider than the shank": (
        {"taps.0.end_mm": 6.5},
        "taps[1].end_mm",
        ("shank, 6.3", "got 6.5"),
    ),
    "blind depth of a through hole": (
        {"taps.0.drilled_mm": 12},
        "taps[1].drilled_mm",
        ('set hole to "blind"', "got 12"),
    ),
    "opening over nothing": (
        {"taps.0.opening_mm": 9},
        "taps[1].opening_mm",
        ("give hidden_mm", "got 9"),
    ),
    "too long a lead": ({"taps.0.lead_threads": 21}, "taps[1].lead_threads", ("at most 20",)),
    "threads with a unit": (
        {"taps.0.lead_threads": "1/4 in"},
        "taps[1].lead_threads",
        ("a number", '"1/4 in"'),
    ),
    "unknown work": (
        {"taps.0.work": "steel, alloy"},
        "taps[1].work",
        ('"steel, alloy"', '"alloy steel, annealed", '),
    ),
    "unknown hole": ({"taps.0.hole": "deep"}, "taps[1].hole", ('"through" or "blind"', '"deep"')),
    "mass below nothing": ({"taps.0.wrench_g": -1}, "taps[1].wrench_g", ("at least 0", "-1")),
    "unknown spindle": ({"machine.spindle": "up"}, "machine.spindle", ('"horizontal"', '"up"')),
    "unknown drilled": ({"machine.drilled": True}, "machine.drilled", ('"elsewhere"', "true")),
    "unknown turned": ({"machine.turned": "both"}, "machine.turned", ('"tap" or "work"',)),
    "division of nothing": (
        {"machine.quill_division_mm": 0},
        "machine.quill_division_mm",
        ("above 0", "got 0"),
    ),
    "unknown kit": ({"workshop.kit": ["3-jaw"]}, "workshop.kit[1]", ('"collets"', '"3-jaw"')),
    "no kit": ({"workshop.kit": []}, "workshop.kit", ("1 to 9 entries", "got 0")),
    "one for a list": ({"workshop.kit": "collets"}, "workshop.kit", ("a list", '"collets"')),
    "speed of nothing": ({"workshop.lathe_rpm": [0]}, "workshop.lathe_rpm[1]", ("above 0",)),
    "no speeds": ({"workshop.mill_rpm": []}, "workshop.mill_rpm", ("1 to 40 entries",)),
    "drill that is no number": ({"workshop.drills_mm": [True]}, "workshop.drills_mm[1]", ("true",)),
    "unknown machines": ({"workshop.machines": "mill"}, "workshop.machines", ('"cnc lathe"',)),
    "unknown dial": ({"workshop.dial": "axis"}, "workshop.dial", ('"radius"', '"axis"')),
    "unknown sheets": ({"making.sheets": "A3"}, "making.sheets", ('"A" or "US"', '"A3"')),
    "unknown units": ({"making.units": "cm"}, "making.units", ('"mm" or "inch"', '"cm"')),
    "error of the size of the tool": (
        {"alignment.seat_mm": "1/2 in"},
        "alignment.seat_mm",
        ("at most 5", "got 12.7"),
    ),
    "unknown class": ({"alignment.accept": "best"}, "alignment.accept", ('"fine"', '"best"')),
    "misspelt alignment": ({"aligment": {}}, "aligment", ("did you mean alignment?",)),
    "more than the whole core": (
        {"assumptions.core_share": 1.5},
        "assumptions.core_share",
        ("at most 1", "got 1.5"),
    ),
    "no safety": (
        {"assumptions.column_factor": 0.5},
        "assumptions.column_factor",
        ("at least 1", "got 0.5"),
    ),
    "unknown hand": ({"springs.0.hand": "both"}, "springs[1].hand", ('"right"', '"left"')),
    "wire that is not drawn": (
        {"springs.0.wire_mm": 0.05},
        "springs[1].wire_mm",
        ("0.05", "0.28"),
    ),
    "spring that is not stocked": (
        {"springs.0.outside_mm": 60, "springs.0.wire_mm": 2, "springs.0.free_mm": 99},
        "springs[1].outside_mm",
        ("42.85", "got 60"),
    ),
    "tolerance and limits": (
        {"bore.tolerance": "H7", "bore.limits_um": [0, 9]},
        "bore",
        ("either tolerance or limits_um",),
    ),
    "limits upside down": (
        {"plunger.limits_um": [9, 0]},
        "plunger",
        ("lower deviation comes first",),
    ),
    "limits of three": (
        {"plunger.limits_um": [1, 2, 3]},
        "plunger.limits_um",
        ("2 numbers", "a list"),
    ),
    "limits of one": ({"plunger.limits_um": [1]}, "plunger.limits_um", ("2 numbers", "got 1")),
    "limits that are a number": ({"plunger.limits_um": 1}, "plunger.limits_um", ("a list",)),
    "fit that is not tabulated": (
        {"plunger.diameter_mm": 99},
        "plunger.tolerance",
        ("h8", "limits_um"),
    ),
    "both ends plain": (
        {"plunger.front": {"style": "plain"}, "plunger.rear": {"style": "plain"}},
        "plunger",
        ("point or a countersink",),
    ),
    "no ejection depth": (
        {"mount": {"kind": "morse ejected", "size": "MT2"}},
        "machine.ejection_depth_mm",
        ("missing", "quill"),
    ),
    "taper without a draw-bar": (
        {"mount": {"kind": "morse draw-bar", "size": "MT0"}},
        "mount",
        ("MT0 has no draw-bar thread", "give drawbar_thread"),
    ),
    "screw that is not tabulated": (
        {"set_screw.thread": "M8x1"},
        "set_screw",
        ("M8x1", "tip_mm, tip_length_mm"),
    ),
    "inch screw with a long dog": (
        {"set_screw.thread": "#8-32 UNC"},
        "set_screw.point",
        ("dog long", "dog short", "tip_mm"),
    ),
    "tip wider than its thread": (
        {"set_screw.tip_mm": 5},
        "set_screw.tip_mm",
        ("must be at most", "4", "got 5"),
    ),
    "length without a unit": ({"slot.length_mm": "12"}, "slot.length_mm", ('"12 mm"', 'got "12"')),
    "length of no unit known": ({"slot.length_mm": "1 ft"}, "slot.length_mm", ('"3/8 in"',)),
    "division by zero": ({"slot.length_mm": "1/0 in"}, "slot.length_mm", ('"1/0 in"',)),
    "length over two lines": ({"slot.length_mm": "1\nmm"}, "slot.length_mm", ('"1\\nmm"',)),
    "length of endless digits": (
        {"slot.length_mm": "9" * 500 + "/1 in"},
        "slot.length_mm",
        ("expected a length", "..."),
    ),
    "length below zero": ({"slot.length_mm": "-3 mm"}, "slot.length_mm", ("above 0", "-3")),
    "length of foreign digits": ({"slot.length_mm": "٣ mm"}, "slot.length_mm", ("length",)),
    "no spring": ({"springs": []}, "springs", ("1 to 6", "got 0")),
    "seven springs": ({"springs": BASE["springs"] * 7}, "springs", ("1 to 6", "got 7")),
    "no tap": ({"taps": []}, "taps", ("1 to 30", "got 0")),
    "empty title": ({"title": ""}, "title", ("some text",)),
    "long title": ({"title": "x" * 61}, "title", ("at most 60",)),
    "title of two lines": ({"title": "a\nb"}, "title", ("one line", '"a\\nb"')),
    "long revision": ({"making.revision": "revised"}, "making.revision", ("at most 6",)),
    "name that leaves the folder": ({"name": "../x"}, "name", ('"../x"', "folder")),
    "name with a slash": ({"name": "a/b"}, "name", ('"a/b"', "folder")),
    "name with a back-slash": ({"name": "a\\b"}, "name", ("folder",)),
    "hidden name": ({"name": ".hidden"}, "name", ('".hidden"',)),
    "empty name": ({"name": ""}, "name", ("folder",)),
    "long name": ({"name": "n" * 65}, "name", ("folder",)),
    "name with a line end": ({"name": "a\n"}, "name", ("folder",)),
}


@pytest.mark.parametrize(("changes", "key", "told"), CASES.values(), ids=CASES.keys())
def test_bad_input_is_told_in_one_line(
    changes: dict[str, Any], key: str, told: tuple[str, ...]
) -> None:
    line = problem(changes)
    assert line.startswith(f"{key}: ")
    for words in told:
        assert words in line


def test_all_problems_come_at_once() -> None:
    lines = problems(
        {
            "slot.length_mm": -1,
            "slot.zzz": 1,
            "springs.0.wire": "piano",
            "mount": {"kind": "morse ejected", "size": "MT9"},
            "machine.headroom_mm": REMOVED,
            "title": "",
        }
    )
    keys = [line.split(":")[0] for line in lines]
    assert sorted(keys) == sorted(
        [
            "slot.length_mm",
            "slot.zzz",
            "springs[1].wire",
            "mount.size",
            "machine.headroom_mm",
            "machine.ejection_depth_mm",
            "title",
        ]
    )


def test_message_opens_with_the_file_and_the_number_of_problems() -> None:
    with pytest.raises(ProfileError) as caught:
        parameters_from(changed(BASE, {"slot.length_mm": -1, "title": ""}), "mine.toml")
    first, *rest = str(caught.value).splitlines()
    assert first == "mine.toml: 2 problems"
    assert len(rest) == 2
    assert all(line.startswith("  ") for line in rest)


def refused(path: Path) -> str:
    with pytest.raises(ProfileError) as caught:
        read_profile(path)
    assert caught.value.path == str(path)
    (line,) = caught.value.problems
    assert len(line.splitlines()) == 1
    return line


def test_file_that_is_not_there(tmp_path: Path) -> None:
    assert "cannot be read" in refused(tmp_path / "none.toml")


def test_folder_is_no_file(tmp_path: Path) -> None:
    assert "is no file" in refused(tmp_path)


def test_name_of_a_file_that_no_system_takes() -> None:
    assert "cannot be read" in refused(Path("a\0b.toml"))


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"\xff\xfe\x00t", "UTF-8"),
        (b"title = ", "is not TOML"),
        (b"title = 'a'\ntitle = 'b'\n", "is not TOML"),
        (b"a = " + b"[" * 20_000, "is not TOML"),
        (b"a = " + b"9" * 5000, "is not TOML"),
        (b"#" * 1_000_001, "too large"),
    ],
    ids=["not text", "broken", "key twice", "deep", "endless number", "large"],
)
def test_file_that_is_no_parameter_file(tmp_path: Path, content: bytes, told: str) -> None:
    path = tmp_path / "bad.toml"
    path.write_bytes(content)
    assert told in refused(path)


def test_empty_file_misses_every_table(tmp_path: Path) -> None:
    path = tmp_path / "empty.toml"
    path.write_text("")
    with pytest.raises(ProfileError) as caught:
        read_profile(path)
    missing = {line.split(":")[0] for line in caught.value.problems}
    assert missing == {
        *("title", "mount", "body", "plunger", "set_screw", "springs", "taps", "machine"),
        "workshop",
    }
    assert all("missing" in line for line in caught.value.problems)


def test_name_is_that_of_the_file_where_none_is_given(tmp_path: Path) -> None:
    path = tmp_path / "my-tool.toml"
    path.write_text(written({k: v for k, v in profile().items() if k != "name"}), "utf-8")
    assert read_profile(path).name == "my-tool"
    path.write_text(written(profile()), "utf-8")
    assert read_profile(path).name == "worked-tool"


@pytest.mark.parametrize("stem", [".hidden", "two words", "n" * 65])
def test_file_whose_name_does_not_serve(tmp_path: Path, stem: str) -> None:
    path = tmp_path / f"{stem}.toml"
    path.write_text(written({k: v for k, v in profile().items() if k != "name"}), "utf-8")
    assert "does not serve as a folder" in refused(path)


def test_file_with_a_mark_of_byte_order_is_read(tmp_path: Path) -> None:
    path = tmp_path / "marked.toml"
    path.write_bytes(b"\xef\xbb\xbf" + written(profile()).encode())
    assert read_profile(path).title == "Worked tool"


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("3/8 in", 9.525),
        ("1 1/4 in", 31.75),
        ("0.375 in", 9.525),
        ("12 mm", 12.0),
        ("12mm", 12.0),
        ('1/2"', 12.7),
        (" 5/16 inch ", 7.9375),
        (".5 in", 12.7),
    ],
)
def test_length_may_be_text_with_its_unit(text: str, mm: float) -> None:
    """An inch is 25.4 mm by the international agreement of 1959."""
    assert slot_of(parameters({"slot.length_mm": text})).length_mm == pytest.approx(mm, abs=1e-9)


def test_whole_number_is_a_number() -> None:
    length_mm = slot_of(parameters({"slot.length_mm": 14})).length_mm
    assert isinstance(length_mm, float)
    assert length_mm == 14.0
