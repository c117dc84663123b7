"""Measured sizes: what they make of a tool; every advice is put in and checked again."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.checks.finding import Verdict
from generator.checks.run import run_checks
from generator.documents.actual_papers import actual_data, actual_report, rows, verdict
from generator.inputs.measured import Measured, measured_from
from generator.inputs.profile import read_profile
from generator.making.as_measured import as_measured, asked
from generator.making.cuts import cuts
from generator.making.measured import Actual, actual, without
from generator.making.remedy import PRELOAD_SHARE, Search, goal, preload_restored
from generator.making.sizes import NAMES, sizes, spring_sizes, value_at, with_value
from generator.model.tool import Tool, design
from tests.tools import plug_of, tool

FOLDER = Path(__file__).parents[2] / "profiles"
PROFILES = sorted(FOLDER.glob("*.toml"))
SOUND = [path for path in PROFILES if not path.stem.startswith("refused")]
sound = pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)


def demo(name: str = "mt2-drawbar-8") -> Tool:
    return design(read_profile(FOLDER / f"{name}.toml"))


def measured(made: Tool, **table: Any) -> Measured:
    return measured_from(table, made.parameters, "measured.toml")


def found(made: Tool, **table: Any) -> Actual:
    return actual(made, measured(made, **table))


def failing(made: Tool) -> set[str]:
    return {f.check for f in run_checks(made) if f.verdict is Verdict.FAIL}


def put_in(made: Tool, told: Actual, table: dict[str, Any]) -> Tool:
    """Return the tool that the measured sizes and the printed advice make, and nothing else.

    From the drawn parameters, by the numbers of the answer alone: a size measured with metal on is
    cut to where the answer says; a part that is scrap is as drawn again.
    """
    p = asked(made)
    reworked = {each.size.key: each.to_mm for each in told.reworks}
    for key, value in table.items():
        part, _, path, _ = NAMES.get(key, ("", "", "", "none"))
        if not path or part in told.scrap:
            continue
        p = with_value(p, path, reworked.get(key, value))
        if key in ("bore_mm", "plunger_mm"):
            name = path.split(".")[0]
            p = with_value(with_value(p, f"{name}.tolerance", ""), f"{name}.limits_um", (0.0, 0.0))
    for place, spring in enumerate(table.get("springs", ()), 1):
        if "springs" not in told.scrap:
            for name, value in spring.items():
                p = with_value(p, f"springs[{place}].{name}", value)
    for change in told.changes:
        p = with_value(p, change.path, change.asked_mm)
        if change.limits is not None:
            ends = (change.limits.least, change.limits.greatest)
            limits_um = tuple(round((each - change.asked_mm) * 1000, 3) for each in ends)
            name = change.path.split(".")[0]
            p = with_value(with_value(p, f"{name}.tolerance", ""), f"{name}.limits_um", limits_um)
    return design(p)


def proved(made: Tool, **table: Any) -> Actual:
    """Return the answer after its advice was put in and passed."""
    told = found(made, **table)
    after = put_in(made, told, table)
    assert failing(after) <= failing(made), failing(after)
    for mine, its in zip(after.orientations, told.after.orientations, strict=True):
        assert mine.preload_N == pytest.approx(its.preload_N)
        assert mine.travel_mm == pytest.approx(its.travel_mm)
    return told


@sound
def test_nothing_measured_changes_nothing(path: Path) -> None:
    made = design(read_profile(path))
    told = actual(made, Measured())
    assert (told.entries, told.changes, told.scrap, told.notes) == ((), (), (), ())
    assert verdict(told) is Verdict.PASS
    assert repr(told.after.parameters) == repr(made.parameters)


@sound
def test_everything_nominal_changes_nothing(path: Path) -> None:
    made = design(read_profile(path))
    table: dict[str, Any] = {}
    for size in sizes(made):
        table[size.key] = min(max(size.limits.nominal, size.limits.least), size.limits.greatest)
    springs: dict[str, float] = {
        size.key.rsplit(".", 1)[1]: size.limits.nominal
        for size in spring_sizes(made)
        if size.key.startswith("springs[1].") and ".inner" not in size.key
    }
    table["springs"] = [springs]
    told = actual(made, Measured(**{k: v for k, v in table.items() if k != "springs"}))
    assert {entry.verdict for entry in told.entries} == {"in"}
    assert told.changes == ()
    assert told.scrap == ()
    with_springs = found(made, **table)
    assert with_springs.changes == ()
    assert with_springs.scrap == ()


@settings(deadline=None, derandomize=True, max_examples=8)
@given(st.data())
def test_sizes_within_their_limits_are_in_and_scrap_nothing(data: st.DataObject) -> None:
    made = demo()
    known = sizes(made)
    chosen = data.draw(st.lists(st.sampled_from(known), unique_by=lambda s: s.key, max_size=5))
    table = {
        s.key: data.draw(st.floats(max(s.limits.least, 0.001), s.limits.greatest)) for s in chosen
    }
    told = found(made, **table)
    assert all(entry.verdict == "in" for entry in told.entries)
    assert told.scrap == ()
    assert failing(told.after) == set()


def test_a_bore_over_size_gets_a_bar_to_suit() -> None:
    told = proved(demo(), bore_mm=8.03)
    (change,) = told.changes
    assert change.path == "plunger.diameter_mm"
    assert change.limits is not None
    # the drawn clearance, 0 to 37 um, within the bar's own zone, 7.978 to 8
    assert (change.limits.least, change.limits.greatest) == pytest.approx((7.993, 8.0))
    assert told.after.greatest_clearance_um == pytest.approx(37)
    assert told.so_far.greatest_clearance_um == pytest.approx(52)
    assert told.entries[0].verdict == "over: keep with these changes"


def test_a_bore_and_a_bar_that_do_not_go_together() -> None:
    told = proved(demo(), bore_mm=8.005, plunger_mm=8.012)
    (change,) = told.changes
    assert change.path == "bore.diameter_mm"
    assert change.limits is not None
    assert change.limits.least == pytest.approx(8.012)
    assert told.after.least_clearance_um >= 0
    assert "clearance, least" in {f.limit.name for f in told.failing}


def test_a_slot_too_long_gives_new_travel_and_the_plug_brings_the_preload_back() -> None:
    made = demo("straight-16")
    told = proved(made, slot_length_mm=12.9)
    by_path = {change.path: change for change in told.changes}
    # one orientation keeps its room, the other loses 0.4: the plug goes halfway
    assert by_path["plug.sunk_mm"].becomes_mm == pytest.approx(0.7)
    assert told.after.orientations[0].travel_mm == pytest.approx(10.9)
    assert told.after.orientations[0].projection_extended_mm == pytest.approx(17.65)
    off = [
        o.preload_N / d.preload_N - 1
        for o, d in zip(told.after.orientations, made.orientations, strict=True)
    ]
    assert max(off) == pytest.approx(-min(off), abs=0.01)


def test_a_slot_too_short_is_cut_on() -> None:
    told = proved(demo(), slot_length_mm=14.1)
    (rework,) = told.reworks
    assert (rework.value_mm, rework.to_mm) == (14.1, 14.5)
    assert told.entries[0].verdict == "rework"
    assert told.changes == ()
    assert verdict(told) is Verdict.WARN


def test_a_weak_spring_is_brought_back_by_the_plug_on_the_curve() -> None:
    made = demo("straight-16")
    rate = 0.88 * made.springs[0].rate_N_per_mm
    told = proved(made, springs=[{"rate_N_per_mm": rate}])
    (change,) = told.changes
    o = made.orientations[0]
    # k x = F: the deflection grows by 1 / 0.88
    more_mm = (made.curve.free_mm - o.room_extended_mm) * (1 / 0.88 - 1)
    assert change.becomes_mm - change.was_mm == pytest.approx(more_mm, abs=0.06)
    assert told.after.orientations[0].preload_N == pytest.approx(o.preload_N, rel=0.01)
    assert told.after.orientations[0].full_force_N < o.full_force_N


def test_a_preload_that_cannot_come_back_says_why() -> None:
    told = proved(demo(), springs=[{"rate_N_per_mm": 1.28}])
    assert any("stands in the way" in note and "solid margin" in note for note in told.notes)


def test_a_taper_that_sinks_too_far_is_left_or_faced() -> None:
    told = found(demo(), stand_out_mm=4.4)
    assert told.entries[0].verdict.startswith("over: keep")
    assert "still clears the socket by 4.4 mm" in told.notes[0]
    roomy = tool({"body.nose_length_mm": 30.0, "plug.sunk_mm": 21.0, "workshop.tap_reach_mm": 60.0})
    faced = found(roomy, stand_out_mm=4.4)
    assert "Face the shoulder by 0.6 mm" in faced.notes[0]
    assert faced.after.parameters.body.nose_length_mm == pytest.approx(29.4)
    assert failing(faced.after) <= failing(roomy)


def test_a_taper_that_stands_out_too_far_is_turned_down() -> None:
    told = found(demo(), stand_out_mm=5.9)
    (rework,) = told.reworks
    # 0.9 sunk takes 0.9 x 0.59941 / 12 / 2 off the radius
    assert "22 um off the radius" in rework.note


def test_a_shoulder_on_its_socket_cannot_be_left() -> None:
    told = found(demo(), stand_out_mm=0.5)
    assert not any("Leave the shoulder" in note for note in told.notes)


def test_a_plunger_too_short_is_taken_up_by_the_plug() -> None:
    told = proved(demo(), plunger_length_mm=60.0)
    (change,) = told.changes
    assert change.path == "plug.sunk_mm"
    assert change.becomes_mm == pytest.approx(14.25)


def test_a_slot_too_deep_moves_the_screw() -> None:
    told = proved(demo(), slot_depth_mm=1.9)
    assert told.scrap == ()
    below = {name: (was, now) for name, _, was, now, _ in rows(told)}
    was, now = below["set screw below the nose"]
    assert now - was == pytest.approx(0.3)
    scrapped = proved(demo(), slot_depth_mm=3.1)
    assert scrapped.scrap == ("plunger",)
    assert "screw thread outside the bore" in {f.limit.name for f in scrapped.failing}
    assert scrapped.entries[0].verdict == "scrap"


def test_two_uncut_sizes_may_have_to_change() -> None:
    told = proved(demo("mt1-tailstock-5"), screw_position_mm=12.0)
    assert {change.path for change in told.changes} == {"plug.sunk_mm", "slot.length_mm"}
    assert told.left == ()


def test_a_short_body_brings_the_plug_nearer_its_rear_end() -> None:
    made = demo()
    told = found(made, body_length_mm=made.body.outline.length_mm + 0.5)
    assert told.rear_short_mm == pytest.approx(-0.5)
    # nothing in front has changed: the plug lies that much deeper from the real rear end
    (change,) = told.changes
    assert change.becomes_mm == pytest.approx(14.5)
    assert change.asked_mm == pytest.approx(14.0)
    assert told.after.orientations[0].preload_N == pytest.approx(made.orientations[0].preload_N)
    straight = demo("straight-16")
    shorter = found(straight, body_length_mm=72.8)
    assert shorter.rear_short_mm == 0
    assert shorter.after.body.outline.length_mm == pytest.approx(72.8)


def test_hopeless_parts_are_scrap_the_cheapest_way() -> None:
    told = found(demo(), bore_mm=10.5, plunger_mm=8.0)
    assert told.scrap == ("body",)
    assert not told.usable
    assert verdict(told) is Verdict.FAIL
    report = actual_report(told)
    assert "SCRAP" in report.banner[0]
    assert failing(told.after) == set()


def test_the_scale_tells_the_rate_and_the_length() -> None:
    made = demo()
    o = made.orientations[0]

    def scale(share: float, shorter_mm: float) -> list[dict[str, Any]]:
        return [
            {
                "projection_mm": o.projection_extended_mm - pushed,
                "scale_g": share * o.force_N(pushed - shorter_mm) / 9.80665 * 1000,
            }
            for pushed in (1.0, 11.0)
        ]

    so_far = design(as_measured(made, measured(made, scale=scale(0.9, 0.5))).parameters)
    assert so_far.springs[0].rate_N_per_mm == pytest.approx(0.9 * made.springs[0].rate_N_per_mm)
    assert so_far.springs[0].free_mm == pytest.approx(made.springs[0].free_mm - 0.5)
    one = as_measured(made, measured(made, scale=scale(0.8, 0.0)[:1]))
    assert design(one.parameters).springs[0].rate_N_per_mm == pytest.approx(
        0.8 * made.springs[0].rate_N_per_mm
    )
    exact = found(made, scale=scale(1.0, 0.0))
    assert exact.changes == ()
    assert {entry.verdict for entry in exact.entries} == {"in"}


def test_run_out_goes_into_the_lean() -> None:
    made = demo()
    told = found(made, runout_nose_mm=0.06, runout_50_mm=0.10)
    p = told.so_far.parameters
    assert p.making.runout_mm == 0.06
    assert p.alignment.bore_mm == pytest.approx(0.03)
    # 0.02 on the radius in 50 mm, at 20.75 out
    assert p.alignment.bore_slope_mm == pytest.approx(0.02 * 20.75 / 50)
    lean = [(was, now) for name, _, was, now, _ in rows(told) if name.startswith("lean")]
    assert all(now > was for was, now in lean)


def test_a_solid_length_beyond_the_standard_takes_margin_and_not_rate() -> None:
    made = demo()
    usual = as_measured(made, measured(made, springs=[{"solid_mm": 11.5}]))
    assert design(usual.parameters).springs == made.springs
    longer = design(as_measured(made, measured(made, springs=[{"solid_mm": 13.0}])).parameters)
    assert longer.springs[0].solid_mm == pytest.approx(13.0)
    assert longer.springs[0].rate_N_per_mm == pytest.approx(made.springs[0].rate_N_per_mm)


def test_what_is_measured_is_not_changed_any_more() -> None:
    made = demo()
    table = {"slot_length_mm": 14.5, "plug_sunk_mm": 14.0, "screw_length_mm": 8.0}
    paths = {cut.path for cut in cuts(made.parameters, measured(made, **table))}
    assert not any(path.startswith("slot.") for path in paths)
    assert "plug.sunk_mm" not in paths
    assert "set_screw.length_mm" not in paths
    assert "plunger.length_mm" in paths
    costs = [cut.cost for cut in cuts(made.parameters, Measured())]
    assert costs == sorted(costs)


def test_a_plug_that_is_locked_stays() -> None:
    told = found(demo("straight-16"), plunger_length_mm=50.0, plug_sunk_mm=0.5)
    assert "plug.sunk_mm" not in {change.path for change in told.changes}
    assert any("the plug is locked" in note for note in told.notes)


def test_a_search_is_bounded() -> None:
    made = demo()
    search = Search(goal(made, strict=True), as_measured(made, Measured()), left=0)
    assert search.passes(made.parameters)
    assert search.left == -1


def test_the_preload_comes_back_exactly() -> None:
    made = demo()
    p = with_value(asked(made), "plug.sunk_mm", 12.0)
    assert plug_of(preload_restored(made, p)).sunk_mm == pytest.approx(14.0)
    near = with_value(asked(made), "plug.sunk_mm", 14.0 + 0.5 * PRELOAD_SHARE * 7)
    assert preload_restored(made, near) == near


def test_without_takes_out_one_part() -> None:
    made = demo()
    all_of_it = measured(made, bore_mm=8, slot_length_mm=14.5, springs=[{"free_mm": 33}])
    assert without(all_of_it, "plunger").slot_length_mm is None
    assert without(all_of_it, "plunger").bore_mm == 8
    assert without(all_of_it, "springs").springs == ()


@pytest.mark.parametrize(
    ("name", "key", "off_mm"),
    [
        ("mt2-drawbar-8", "slot_length_mm", 0.8),
        ("mt2-drawbar-8", "slot_front_mm", -1.5),
        ("mt3-nested-9", "slot_front_mm", 1.5),
        ("mt2-drawbar-8", "screw_position_mm", 0.6),
        ("mt2-drawbar-8", "plunger_length_mm", -2.0),
        ("mt3-nested-9", "nose_length_mm", -3.0),
        ("mt3-nested-9", "slot_depth_mm", 0.6),
        ("mt2-drawbar-8", "button_thickness_mm", -0.5),
        ("mt4-three-springs-12", "plug_length_mm", -1.0),
    ],
)
def test_every_advice_passes_or_names_scrap(name: str, key: str, off_mm: float) -> None:
    made = demo(name)
    value = value_at(made.parameters, NAMES[key][2]) + off_mm
    told = proved(made, **{key: round(value, 3)})
    assert told.usable or told.scrap


def _numbers(data: Any) -> Iterator[Any]:
    for inner in data.values() if isinstance(data, dict) else data:
        if isinstance(inner, dict | list):
            yield from _numbers(inner)
        else:
            yield inner


def test_the_data_are_plain() -> None:
    data = actual_data(found(demo(), bore_mm=8.03, slot_length_mm=14.1))
    assert data["usable"] is True
    assert [each["key"] for each in data["measured"]] == ["bore_mm", "slot_length_mm"]
    assert data["changes"][0]["least_mm"] == pytest.approx(7.993)
    assert data["rework"] == [{"key": "slot_length_mm", "from_mm": 14.1, "to_mm": 14.5}]
    assert all(isinstance(each, str | int | float | bool | None) for each in _numbers(data))
