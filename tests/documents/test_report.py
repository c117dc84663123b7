import json
import re
from dataclasses import fields
from math import atan, cos, degrees, pi, radians
from typing import Any

import pytest

from generator.checks.finding import Verdict
from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.cautions import FIRST, cautions
from generator.documents.equations import equation_tables
from generator.documents.given import changed_limits, parameter_table
from generator.documents.report import report_data
from generator.documents.study import Study, Subject
from generator.documents.subjects import study
from generator.documents.table import Section
from generator.documents.unverified import unverified
from generator.inputs.shop import Assumptions
from generator.model.tool import Tool
from generator.standards.limits import Limit
from generator.standards.rows import UNVERIFIED, Material, Tap
from tests.tools import BASE, REMOVED, tool

MANDATORY = {
    *("travel_mm", "projection_extended_mm", "projection_compressed_mm", "preload_N"),
    *("full_force_N", "guide_ratio", "spring_rate_N_per_mm", "solid_margin_mm"),
    *("clearance_least_um", "clearance_greatest_um", "wall_at_small_end_mm", "body_mass_g"),
}
PER_ORIENTATION = {
    *("travel_mm", "projection_extended_mm", "projection_compressed_mm", "preload_N"),
    *("full_force_N", "guide_ratio", "tilt_deg", "room_extended_mm", "room_compressed_mm"),
}
STRAIGHT = {"mount": {"kind": "straight", "diameter_mm": 18.0, "length_mm": 69.0}}
CRUSHED = {"plug.sunk_mm": 30.0}
FAILING = {"set_screw.locking": "none", "body.nose_diameter_mm": 9.5}


def data(made: Tool) -> dict[str, Any]:
    return report_data(made, run_checks(made))


def test_report_has_its_keys() -> None:
    found = data(tool())
    assert list(found) == [
        *("name", "title", "version", "verdict", "results", "findings", "bill_of_materials"),
        *("derived", "changed_limits", "unverified", "assumptions"),
    ]
    assert found["results"].keys() >= MANDATORY
    for key in PER_ORIENTATION:
        assert list(found["results"][key]) == ["as_drawn", "reversed"], key


def test_numbers_are_those_worked_by_hand() -> None:
    # The equations of the report with the sizes of the worked tool, on paper: S = 14.5 - 2.5,
    # P = 23.75 + 14.5 - 1.25 - 16, L1 = 70 - 41 - 2, k = 81500 x 0.8^4 / (8 x 6.2^3 x 12);
    # wall (14.583 - 8) / 2 with the small end of MT2 by ISO 296; H7 0/+15 and h8 -22/0 by ISO 286.
    found = data(tool())["results"]
    rate = 81500 * 0.8**4 / (8 * 6.2**3 * 12)
    by_hand = {
        "travel_mm": 12.0,
        "projection_extended_mm": 21.0,
        "projection_compressed_mm": 9.0,
        "inner_extended_mm": 41.0,
        "room_extended_mm": 27.0,
        "room_compressed_mm": 15.0,
        "preload_N": 7 * rate,
        "full_force_N": 19 * rate,
        "energy_extended_J": 7**2 * rate / 2000,
        "energy_compressed_J": 19**2 * rate / 2000,
    }
    for key, value in by_hand.items():
        assert found[key] == pytest.approx({"as_drawn": value, "reversed": value}, abs=1e-6), key
    assert found["spring_rate_N_per_mm"] == pytest.approx(rate)
    assert found["solid_margin_mm"] == pytest.approx(15 - 1.05 * 11.2)
    assert found["wall_at_small_end_mm"] == pytest.approx((14.583 - 8) / 2, abs=5e-4)
    assert (found["clearance_least_um"], found["clearance_greatest_um"]) == (0, 37)
    assert found["guide_mm"]["as_drawn"] == pytest.approx(41 - 0.3)
    assert found["land_mm"] == pytest.approx(16 - 12 - 1.25)
    assert found["slot_exposed_mm"] == 0
    assert found["tip_error_greatest_um"]["as_drawn"] == pytest.approx(37 * (0.5 + 21 / 40.7))
    assert found["body_mass_g"] == pytest.approx(tool().body.mass_g)
    assert found["taper_half_angle_deg"] == pytest.approx(1 + 25 / 60 + 50 / 3600, abs=1 / 3600)


def test_slot_that_shows_is_told_in_the_results() -> None:
    found = data(tool({"set_screw.position_mm": 11.0}))["results"]
    assert found["slot_exposed_mm"] == pytest.approx(2.25)
    assert found["land_mm"] == pytest.approx(-2.25)


def test_what_cannot_be_worked_out_is_null() -> None:
    found = data(tool(CRUSHED))["results"]
    assert found["full_force_N"] == {"as_drawn": None, "reversed": None}
    assert found["solid_margin_mm"] is None
    assert data(tool(STRAIGHT))["results"]["taper_half_angle_deg"] is None


@pytest.mark.parametrize("changes", [{}, STRAIGHT, CRUSHED, FAILING], ids=str)
def test_data_is_strict_json(changes: dict[str, Any]) -> None:
    found = data(tool(changes))
    text = json.dumps(found, allow_nan=False)
    assert json.loads(text, parse_constant=pytest.fail) == found


def test_numbers_carry_nine_decimals_at_most() -> None:
    text = json.dumps(data(tool()))
    longest = max(len(decimals) for decimals in re.findall(r"\d\.(\d+)", text))
    assert longest <= 9


def test_data_is_the_same_each_time() -> None:
    assert json.dumps(data(tool())) == json.dumps(data(tool()))


def test_findings_are_those_of_the_checks() -> None:
    made = tool(FAILING)
    findings = run_checks(made)
    found = report_data(made, findings)
    assert found["verdict"] == "fail"
    assert [f["check"] for f in found["findings"]] == [f.limit.name for f in findings]
    assert [f["verdict"] for f in found["findings"]] == [str(f.verdict) for f in findings]
    assert all(bool(f["advice"]) == (f["verdict"] != "pass") for f in found["findings"])


def test_what_was_studied_stands_in_its_chapter() -> None:
    made = tool()
    findings = run_checks(made)
    studied = Study(
        motion=Subject((Section("Proof of motion"),), {"steps": 20, "gap_mm": float("nan")}),
        springs=Subject((Section("Springs"),), [1.00000000049]),
        force_window=Subject((Section("Force window"),), {"M6": {"floor_N": 14.0}}),
        lean=Subject((Section("Lean of the thread"),), {"lean_deg": 0.1}),
        setting_cards=Subject((Section("Setting cards"),), []),
    )
    chapters = bench(made, findings, studied).chapters
    assert {chapter.title: [block.title for block in chapter.blocks] for chapter in chapters} == {
        "Cover": ["At a glance"],
        "Use": ["Card for using it", "Setting cards"],
        "Materials and cautions": ["Bill of materials", "Cut list", "Cautions"],
        "Calculations": [
            *("Checks", "Results", "Springs", "Force window", "Lean of the thread"),
            *("Proof of motion", "Unverified values", "Parameters"),
        ],
    }
    bare, full = report_data(made, findings), report_data(made, findings, studied)
    assert {key: full[key] for key in bare} == bare
    assert {key: full[key] for key in full if key not in bare} == {
        "springs": [1.0],
        "force_window": {"M6": {"floor_N": 14.0}},
        "lean": {"lean_deg": 0.1},
        "setting_cards": [],
        "motion": {"steps": 20, "gap_mm": None},
    }


def test_every_assumption_is_told_and_the_changed_ones_are_marked() -> None:
    made = tool({"assumptions": {"one_hand": 0.8, "plug_mm": 0.25}})
    found = {each["key"]: each for each in data(made)["assumptions"]}
    assert [key.partition(".")[2] for key in found] == [f.name for f in fields(Assumptions)]
    assert {key for key, each in found.items() if each["changed"]} == {"assumptions.one_hand"}
    assert found["assumptions.one_hand"]["value"] == 0.8
    assert all(each["explanation"].endswith(".") for each in found.values())
    assert {each["source"] for each in found.values()} == {"engineering judgement"}
    (section,) = [
        s for s in bench(made, run_checks(made)).sections if s.title == "Unverified values"
    ]
    table = section.tables[-1]
    assert table.title == "Assumptions"
    rows = {row[0]: row[1:] for row in table.rows}
    assert rows["assumptions.one_hand"][0] == "0.8"
    assert [key for key, row in rows.items() if row[-1] == "yours"] == ["assumptions.one_hand"]
    assert {row[1] for row in rows.values()} == {each["explanation"] for each in found.values()}


def test_one_plain_end_leaves_one_orientation() -> None:
    made = tool({"plunger.rear": {"style": "plain"}})
    assert list(data(made)["results"]["travel_mm"]) == ["as_drawn"]
    results, taken = equation_tables(made)
    assert [c.heading for c in results.columns][3:] == ["point out", "unit"]
    assert [c.heading for c in taken.columns][2:] == ["point out", "unit"]


def test_changed_limit_is_told_everywhere() -> None:
    name = "wall over the rear thread"
    table = Limit.find(name).warn
    made = tool({"limits": {name: {"warn": 1.2}}})
    found = data(made)
    assert found["changed_limits"] == [
        {"limit": name, "level": "warn", "value": 1.2, "replaced": table, "unit": "mm"}
    ]
    text = f"{name} (warn): limit changed in the file: 1.2 mm in place of {table} mm"
    assert changed_limits(made)[0].text == text
    shown = bench(made, run_checks(made))
    assert shown.banner == (text,)
    (checks,) = [section for section in shown.sections if section.title == "Checks"]
    limits = [row[3] for row in checks.tables[0].rows if row[1] == name]
    assert limits == ["at least 1.2 mm (your limit)"]


def test_limit_that_a_check_works_out_says_so() -> None:
    made = tool({"limits": {"solid margin": {"fail": 0.5}}})
    assert changed_limits(made)[0].text.endswith("0.5 mm in place of what the check works out")
    assert data(made)["changed_limits"][0]["replaced"] is None


def test_failed_checks_stand_in_the_banner() -> None:
    made = tool(FAILING)
    findings = run_checks(made)
    shown = bench(made, findings)
    assert shown.verdict is Verdict.FAIL
    failed = [f.check for f in findings if f.verdict is Verdict.FAIL]
    assert failed
    assert shown.banner[0] == f"FAILED CHECKS: {'; '.join(failed)}"
    table = shown.sections[0].tables[-1]
    assert table.title == "To be looked at"
    assert [row[1] for row in table.rows if row[0] == "fail"] == failed


def test_every_row_of_every_table_fills_its_columns() -> None:
    for changes in ({}, STRAIGHT, CRUSHED, FAILING):
        made = tool(changes)
        for section in bench(made, run_checks(made)).sections:
            for table in section.tables:
                assert all(len(row) == len(table.columns) for row in table.rows), table.title


def evaluated(equation: str, sizes: dict[str, float]) -> float:
    """Return a printed equation worked out with the sizes printed beside it."""
    text = equation.replace("\N{MINUS SIGN}", "-").replace("²", "**2")
    text = text.replace("cos h", "cos(h)").replace("(2k)", "(2*k)")
    text = re.sub(r"(?<=[\w)]) (?=[\w(])", " * ", text)
    known = {"atan": lambda x: degrees(atan(x)), "cos": lambda x: cos(radians(x))}
    return float(eval(text, {"__builtins__": {}}, {**known, **sizes}))


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"set_screw.position_mm": 11.0},
        {"button": REMOVED},
        {"slot.front_mm": 20.0},
        {
            "springs": [
                {"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 19.0, "active_coils": 6.0},
                {"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 17.0, "active_coils": 5.0},
            ],
            "separator": {},
        },
    ],
    ids=str,
)
def test_every_printed_equation_gives_the_printed_number(changes: dict[str, Any]) -> None:
    made = tool(changes)
    found, taken = equation_tables(made)
    worked = 0
    for column, _ in enumerate(made.orientations):
        sizes = {row[0]: float(row[2 + column]) for row in taken.rows}
        for place, spring in enumerate(made.springs, 1):
            sizes[f"L_0{place}"] = spring.free_mm
        for symbol, text, equation, *figures, unit in found.rows:
            value = float(figures[column])
            scale = {"µm": 1000, "J": 1 / 1000}.get(unit, 1)
            result = value / scale
            if not equation.startswith("by "):
                result = evaluated(equation, sizes)
                tolerance = {"J": 1e-3, "N": 0.06, "µm": 0.06, "": 0.006}.get(unit, 6e-3)
                assert result * scale == pytest.approx(value, abs=tolerance), (text, equation)
                worked += 1
            if symbol:
                sizes[symbol] = result
    assert worked >= 18 * len(made.orientations)


def test_every_symbol_of_an_equation_is_explained() -> None:
    found, taken = equation_tables(tool())
    known = {row[0] for row in (*found.rows, *taken.rows)} | {"atan", "cos"}
    for row in found.rows:
        if not row[2].startswith("by "):
            assert set(re.findall(r"[A-Za-z]+(?:_[A-Za-z0-9]+)?", row[2])) <= known, row


def test_parameters_are_all_listed_and_derived_ones_marked() -> None:
    made = tool({"slot.depth_mm": REMOVED})
    rows = {row[0]: row[1:] for row in parameter_table(made).rows}
    assert rows["slot.depth_mm"][1] == "*"
    assert rows["slot.length_mm"] == ("14.5", "")
    assert {key for key, (_, mark) in rows.items() if mark} == set(made.derived)
    given = {f"slot.{key}" for key in BASE["slot"]} | {"springs[1].wire_mm", "taps[1].size"}
    assert given <= rows.keys()


def test_figures_from_memory_are_listed_with_their_source() -> None:
    made = tool({"taps": [{"standard": "ISO 529", "size": "M6"}], "set_screw.length_mm": REMOVED})
    found = {each.subject: each for each in unverified(made, run_checks(made))}
    tap = Tap.find("ISO 529 M6")
    assert tap.confidence_of("overall_mm") in UNVERIFIED
    listed = found["tap ISO 529 M6"]
    assert dict(listed.values) == {
        "overall_mm": tap.overall_mm,
        "thread_length_mm": tap.thread_length_mm,
        "shank_mm": tap.shank_mm,
        "shank_end": tap.shank_end,
    }
    assert listed.source == tap.source
    words = set(listed.text.split("; "))
    assert words == {
        *("overall 66 mm", "thread length 19 mm", "shank 6.3 mm"),
        "shank end point or bevel",
    }
    steel = Material.find(BASE["body"]["material"])
    assert found[f"density of {steel.name}"].source == steel.source
    assert dict(found["taper MT2"].values) == {"drawbar_thread": "M10"}
    assert "limit: solid margin" in found
    assert "length of the set screw M4" in found
    assert "ends of taps not measured" in found


def test_what_the_user_measured_is_not_listed() -> None:
    made = tool(
        {
            "taps": [{"standard": "ISO 529", "size": "M6", "end": "point", "end_mm": 6.0}],
            "mount.drawbar_thread": "M10",
            "limits": {"solid margin": {"warn": 1.0, "fail": 0.5}},
        }
    )
    found = {each.subject: dict(each.values) for each in unverified(made, run_checks(made))}
    assert "shank_end" not in found["tap ISO 529 M6"]
    assert not {"taper MT2", "limit: solid margin", "ends of taps not measured"} & found.keys()


def test_nothing_confirmed_is_listed() -> None:
    made = tool()
    subjects = [each.subject for each in unverified(made, run_checks(made))]
    assert len(subjects) == len(set(subjects))
    assert not [s for s in subjects if s.startswith(("thread M10", "zone of", "set screw M4"))]


def test_cautions_name_force_energy_and_depth_of_this_tool() -> None:
    text = "\n".join(cautions(tool()))
    assert text.startswith(FIRST)
    # 7 mm of deflection at 1.459 N/mm: 10.2 N, 0.036 J; sunk 15, so 14 leaves a millimetre.
    assert "10.2 N over 7 mm, 0.036 J" in text
    assert "no further than 14 mm, for at 15 mm it bottoms on the plug" in text
    for word in ("eye protection", "never tap under power", "work-holding", "glass-hard"):
        assert word in text
    assert "plug first" in text
    assert "drop" in text


@pytest.mark.parametrize(
    ("changes", "phrase"),
    [
        ({"body.assembly": "front-loaded"}, "thumb on the plunger while the set screw"),
        ({"set_screw.position_mm": 11.0}, "2.25 mm of the slot shows beyond the nose"),
        # Plug face at 83, plunger to 41, button 2: 40 of room, 17 of slack, 10 of thread; the
        # 7 left over at 1.459 N/mm still push.
        (
            {"plug.sunk_mm": 2.0, "springs.0.free_mm": 57.0},
            "leaves its thread after 10 mm, and 10.2 N still push",
        ),
        (STRAIGHT, "Grip at least 54 mm of the shank"),
        (
            {
                "mount": {"kind": "morse ejected", "size": "MT2"},
                "machine.ejection_depth_mm": 60.0,
            },
            "Nothing but its taper holds the tool",
        ),
    ],
    ids=["front-loaded", "slot shows", "thread ends early", "straight", "ejected"],
)
def test_cautions_follow_the_tool(changes: dict[str, Any], phrase: str) -> None:
    assert phrase in "\n".join(cautions(tool(changes)))
    assert phrase not in "\n".join(cautions(tool()))


def test_masses_are_all_there() -> None:
    found = data(tool())["results"]
    assert set(found["masses_g"]) == {"body", "plunger", "plug", "button", "set screw", "spring 1"}
    assert sum(found["masses_g"].values()) == pytest.approx(found["total_mass_g"], abs=1e-6)
    bar_g = pi * 8**2 / 4 * 62 * 7.85e-3
    assert 0.8 * bar_g < found["masses_g"]["plunger"] < bar_g


def test_papers_carry_the_signs_of_units() -> None:
    one = tool({"alignment.accept": "fine", "alignment.hole_deg": 0.5})
    told = bench(one, run_checks(one), study(one))
    cells = [
        cell
        for section in told.sections
        for cell in (
            *section.lines,
            *(cell for table in section.tables for row in table.rows for cell in row),
        )
    ]
    assert any("alignment.hole_deg to 0." in cell and "°" in cell for cell in cells)
    assert not [cell for cell in cells if re.search(r"\d (deg|um|mm3|g/cm3)\b", cell)]


def test_one_spring_is_not_told_in_the_plural() -> None:
    text = "\n".join(cautions(tool()))
    assert "Then button, spring, and the plug" in text
    assert "the spring pushes with" in text
