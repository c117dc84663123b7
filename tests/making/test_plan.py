"""The plan over good tools and random workshops: every surface once, nothing grows back."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import isnan

import pytest
from hypothesis import given, settings

from generator.making.bench import bench
from generator.making.body import ORDERS, body
from generator.making.operation import Operation, lacks, measured
from generator.making.plan import plan
from generator.making.routes import routes
from generator.making.small import turned_tip
from generator.making.states import holds
from generator.making.stock import finished_bar
from generator.model.outline import Outline
from generator.model.part import Part
from generator.model.tool import Tool
from tests.making.plans import PROFILES, designed, tools, with_workshop
from tests.tools import tool

MOST_LETTERS = 70
MOST_STEPS = 8

every_profile = pytest.mark.parametrize("name", PROFILES)


def cut_features(part: Part) -> set[str]:
    """Return what is cut of a part: not its axis, nor finished bar, nor what is bought."""
    bought = {"set-screw": {"thread", "rear face"}}.get(part.name, set())
    bar = {"guide"} if finished_bar(part) else set()
    surfaces = {s.surface for s in part.outline.segments()} - {"", "axis"} - bar - bought
    cuts = set() if part.name == "set-screw" else {cut.name for cut in part.cuts}
    return surfaces | cuts | {f"{thread.designation} thread" for thread in part.threads}


def same(first: Outline, second: Outline) -> bool:
    return len(first.corners) == len(second.corners) and all(
        a.surface == b.surface and abs(a.z_mm - b.z_mm) + abs(a.r_mm - b.r_mm) < 1e-6
        for a, b in zip(first.corners, second.corners, strict=True)
    )


def check_part(part: Part, operations: list[Operation]) -> None:
    """Assert that the operations make the part: all of it, once, and only by taking off."""
    done = [feature for each in operations for feature in each.features]
    assert len(done) == len(set(done)), sorted(done)
    assert set(done) == cut_features(part)
    shaped = [each for each in operations if each.after is not None]
    for each in shaped:
        assert each.before is not None
        assert each.after is not None
        assert holds(each.before, each.after), (each.part, each.title)
    for earlier, later in pairwise(shaped):
        assert earlier.after == later.before
    last = shaped[-1].after
    assert last is not None
    assert same(last.outline, part.outline), (last.outline, part.outline)
    assert last.cuts == part.cuts
    assert last.threads == part.threads


def check_lines(made: Tool, operations: tuple[Operation, ...]) -> None:
    """Assert that every line can be followed with what he has."""
    shop = made.parameters.workshop
    for each in operations:
        lacking = [ask for ask in each.asks if lacks(ask, shop)]
        assert not lacking or each.instead, (each.title, lacking)
        assert 0 < len(each.steps) <= MOST_STEPS, each.title
        for step in each.steps:
            assert len(step.do) <= MOST_LETTERS, step.do
            assert isnan(step.rpm) or step.rpm in (*shop.lathe_rpm, *shop.mill_rpm), step
            if not isnan(step.rpm) and step.rpm > step.wanted_rpm + 1e-9:
                assert any("above the" in line for line in each.cautions), each.title
            if measured(step):
                assert step.low_mm - 1e-9 <= step.set_mm <= step.high_mm + 1e-9, step


def parts_made(made: Tool) -> tuple[Part, ...]:
    return (*made.made_parts, *([made.crossing] if made.crossing and turned_tip(made) else []))


@given(tools())
@settings(max_examples=60, deadline=None)
def test_every_workshop_makes_every_surface_once_and_only_takes_off(made: Tool) -> None:
    found = plan(made).operations
    assert [each.number for each in found] == [10 * n for n in range(1, len(found) + 1)]
    for part in parts_made(made):
        check_part(part, [each for each in found if each.part == part.name])
    check_lines(made, found)


@every_profile
def test_every_way_makes_the_whole_body(name: str) -> None:
    made = with_workshop(designed(name), machines="cnc lathe")
    for route in routes(made):
        check_part(made.body, list(body(made, bench(made), route)))


def test_there_is_an_order_for_every_way() -> None:
    made = with_workshop(designed("straight-16"), machines="cnc lathe", kit=())
    assert {route.key for route in routes(made)} | {"socket"} == set(ORDERS)


@every_profile
def test_diameters_fall_while_the_mount_is_roughed(name: str) -> None:
    made = designed(name)
    for each in plan(made).operations:
        if each.title == "Rough the mount":
            found = [step.set_mm for step in each.steps if step.kind == "diameter"]
            assert found == sorted(found, reverse=True)


def test_a_state_that_grows_back_is_found() -> None:
    found = plan(designed("mt2-drawbar-8")).operations
    faced = next(each for each in found if each.title == "Face the rear end to length")
    assert faced.before is not None
    assert faced.after is not None
    assert holds(faced.before, faced.after)
    assert not holds(faced.after, faced.before)


def test_bevels_are_cut_with_the_bore_and_the_rear_thread_after_the_taper() -> None:
    made = designed("mt2-drawbar-8")
    where = {
        feature: each
        for each in plan(made).operations
        if each.part == "body"
        for feature in each.features
    }
    assert where["bore"] is where["front bevel"]
    assert where["rear bevel"].number < where["nose"].number < where["taper"].number
    assert where["taper"].number < where["M10 thread"].number < where["screw hole"].number
    last = [each for each in plan(made).operations if each.part == "body"][-1]
    assert any("reamer by hand" in step.do for step in last.steps)


def test_a_missing_mill_offers_the_slide_or_the_tool_post() -> None:
    made = designed("mt2-drawbar-8")
    kit = made.parameters.workshop.kit

    def slot(one: Tool) -> Operation:
        return next(each for each in plan(one).operations if "slot" in each.features)

    assert slot(made).station == "mill"
    slide = slot(with_workshop(made, machines="lathe", kit=(*kit, "vertical slide")))
    assert (slide.station, slide.instead) == ("lathe", ())
    packed = slot(with_workshop(made, machines="lathe"))
    assert "plane" in packed.instead[0]
    assert packed.holding.startswith("In the tool-post")


def test_a_missing_collet_costs_what_his_chuck_is_off() -> None:
    made = designed("mt2-drawbar-8")
    only = with_workshop(made, kit=("3-jaw chuck",), three_jaw_mm=0.13)
    end = next(each for each in plan(only).operations if each.title == "First end: point")
    assert "0.13" in end.instead[0]


@pytest.mark.parametrize(
    ("drills", "size_mm", "told"),
    [((), 7.8, False), ((7.8,), 7.8, False), ((7.7, 7.0), 7.7, False), ((7.0,), 7.0, True)],
)
def test_the_drill_before_the_reamer_is_one_he_has(
    drills: tuple[float, ...], size_mm: float, told: bool
) -> None:
    own = bench(with_workshop(designed("mt2-drawbar-8"), drills_mm=drills))
    chosen = own.before_reaming(8.0)
    assert chosen.size_mm == size_mm
    assert bool(chosen.instead) is told
    assert not lacks(chosen.ask, own.shop)


def test_no_drill_at_all_is_asked_for() -> None:
    own = bench(with_workshop(designed("mt2-drawbar-8"), drills_mm=(12.0,)))
    chosen = own.before_reaming(8.0)
    assert lacks(chosen.ask, own.shop)
    assert chosen.instead


def test_a_turned_tip_has_an_operation_of_its_own() -> None:
    plain = plan(tool()).operations
    own = tool({"set_screw.tip_mm": 2.4, "set_screw.tip_length_mm": 2.2})
    assert not any(each.part == "set-screw" for each in plain)
    (only,) = (each for each in plan(own).operations if each.part == "set-screw")
    assert own.crossing is not None
    check_part(own.crossing, [only])
    assert any(step.set_mm == 2.4 and step.high_mm == 2.4 for step in only.steps)


def test_a_spring_that_is_cut_down_is_cut_and_ground() -> None:
    found = plan(designed("straight-16")).operations
    (cut,) = (each for each in found if each.title.startswith("Cut the spring"))
    free_mm = designed("straight-16").springs[0].free_mm
    assert any(step.set_mm == free_mm for step in cut.steps)
    assert not any("Cut the" in each.title for each in plan(tool()).operations)


def test_front_loaded_tools_get_their_plug_first_and_their_screw_last() -> None:
    def order(name: str) -> list[str]:
        (each,) = (
            each
            for each in plan(designed(name)).operations
            if each.title.endswith(("from the rear", "from the nose")) and each.part == "assembly"
        )
        return [step.do for step in each.steps]

    rear, front = order("mt2-drawbar-8"), order("front-loaded-9")
    assert front[0].startswith("Plug first")
    assert any(line.startswith("Screw in") for line in front[-2:])
    assert [line for line in rear if "Plug" in line] == [rear[3]]


def test_a_second_plug_and_several_separators_are_told_as_so_many() -> None:
    second = plan(tool({"plug.locking": "second plug"})).operations
    assert any(each.title.endswith("2 off") and each.part == "plug" for each in second)
    three = plan(designed("mt4-three-springs-12")).operations
    assert any(each.title.endswith("2 off") and each.part == "separator" for each in three)


def test_inch_tools_are_told_in_inches() -> None:
    made = designed("inch-516")
    own = bench(
        replace(
            made,
            parameters=replace(
                made.parameters, making=replace(made.parameters.making, units="inch")
            ),
        )
    )
    assert own.size(25.4) == '1"'
    assert own.size(7.9375, 3) == '0.3125"'
    assert own.feed("rough turning") == "0.0039 in/rev"


@pytest.mark.parametrize(
    ("dial", "told"),
    [("diameter", "0 at Ø23; in 1 = 50 div"), ("radius", "0 at Ø23; in 0.5 = 25 div")],
)
def test_the_dial_is_his(dial: str, told: str) -> None:
    own = bench(with_workshop(tool(), dial=dial))
    assert own.cross_dial(23, 22) == told


def test_a_plain_plunger_end_needs_no_countersink() -> None:
    made = tool({"plunger.rear": {"style": "plain"}})
    check_part(made.plunger, [e for e in plan(made).operations if e.part == "plunger"])
