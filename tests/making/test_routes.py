"""Ways of making the body: what each asks for, what it leaves over, which one is planned."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from generator.formulas import taper
from generator.making.operation import Route
from generator.making.plan import plan
from generator.making.routes import routes, tapering
from generator.model.shank import shank_of
from generator.model.tool import Tool
from tests.making.plans import PROFILES, designed, with_workshop

ALL = ("3-jaw chuck", "4-jaw chuck", "collets", "centres")


def way(made: Tool, key: str) -> Route:
    return next(route for route in routes(made) if route.key == key)


@pytest.mark.parametrize("name", PROFILES)
def test_ways_that_can_be_done_come_first(name: str) -> None:
    lacking = [bool(route.missing) for route in routes(designed(name))]
    assert lacking == sorted(lacking) or lacking[0]


def test_between_centres_is_the_best_for_the_usual_shop() -> None:
    first, second, *_ = routes(designed("mt2-drawbar-8"))
    assert (first.key, second.key) == ("centres", "socket")
    assert "3-jaw" not in {route.key for route in routes(designed("mt2-drawbar-8"))}


def test_the_rear_bevel_errs_at_the_tip_and_not_at_the_nose() -> None:
    made = designed("mt2-drawbar-8")
    before, after = way(made, "centres"), way(with_workshop(made, clocked_mm=0.05), "centres")
    assert after.error_mm == before.error_mm
    out_mm = made.orientations[0].projection_extended_mm
    length_mm = made.body.outline.length_mm
    assert after.tip_error_mm - before.tip_error_mm == pytest.approx(0.04 * out_mm / length_mm)


@pytest.mark.parametrize(
    ("key", "figure"), [("4-jaw", "clocked_mm"), ("collet", "collet_mm"), ("3-jaw", "three_jaw_mm")]
)
def test_his_figure_is_the_error(key: str, figure: str) -> None:
    bare = () if key == "3-jaw" else ALL
    made = with_workshop(designed("straight-16"), kit=bare)
    one = way(with_workshop(made, **{figure: 0.03}), key)
    more = way(with_workshop(made, **{figure: 0.05}), key)
    assert more.error_mm - one.error_mm == pytest.approx(0.02)
    assert any(term.source == f"workshop.{figure}" for term in more.terms)


def test_the_three_jaw_chuck_is_shown_only_if_nothing_else_is_left() -> None:
    made = designed("straight-16")
    assert routes(with_workshop(made, kit=("3-jaw chuck",)))[0].key == "3-jaw"
    for thing in ("4-jaw chuck", "collets", "centres"):
        kept = routes(with_workshop(made, kit=("3-jaw chuck", thing)))
        assert "3-jaw" not in {route.key for route in kept}


@pytest.mark.parametrize(("short_mm", "done"), [(0.0, True), (0.01, False)])
def test_compound_travel_decides_at_its_limit(short_mm: float, done: bool) -> None:
    made = designed("mt2-drawbar-8")
    cone = shank_of(made.parameters.mount).taper
    assert cone is not None
    need_mm = 6.0 + taper.slide_travel_mm(length_mm=cone.whole_mm, taper=cone.rate)
    short = with_workshop(made, compound_travel_mm=need_mm - short_mm)
    assert bool(tapering(short)) is done
    assert (routes(short)[0].key == "centres") is done


@pytest.mark.parametrize(
    ("changes", "ways"),
    [
        ({"kit": (*ALL, "taper attachment")}, ("taper attachment",)),
        ({"kit": (*ALL, "tailstock set-over"), "set_over_mm": 3.0}, ("set-over",)),
        ({"kit": (*ALL, "tailstock set-over"), "set_over_mm": 1.0}, ()),
        ({"kit": ("tailstock set-over",), "set_over_mm": 3.0}, ()),
        ({"machines": "cnc lathe"}, ("profile",)),
    ],
)
def test_a_short_compound_leaves_other_ways(changes: dict[str, Any], ways: tuple[str, ...]) -> None:
    made = with_workshop(designed("mt2-drawbar-8"), compound_travel_mm=40.0, **changes)
    assert tapering(made) == ways


def test_without_any_way_to_turn_the_taper_an_arbor_is_bought() -> None:
    made = with_workshop(designed("mt2-drawbar-8"), compound_travel_mm=40.0)
    first = routes(made)[0]
    assert first.key == "socket"
    assert first.missing == ("a blank-end arbor MT2 with a soft head, bought",)
    assert plan(made).operations[0].title == "Choose and check the bought arbor"


def test_a_collet_wants_the_shank_through_the_spindle() -> None:
    straight = designed("straight-16")
    assert way(straight, "collet").missing == ("collets",)
    made = with_workshop(straight, kit=("collets",))
    assert way(made, "collet").missing == ()
    assert way(with_workshop(made, spindle_bore_mm=15.9), "collet").missing
    assert not way(with_workshop(made, spindle_bore_mm=16.0), "collet").missing


def test_the_profile_turner_takes_the_mandrel() -> None:
    made = with_workshop(designed("mt2-drawbar-8"), machines="cnc lathe", kit=(*ALL, "mandrel"))
    assert routes(made)[0].key == "mandrel"
    assert way(with_workshop(made, kit=ALL), "mandrel").missing == ("mandrel",)
    told = [step.dial for each in plan(made).operations for step in each.steps]
    assert "body-turning.dxf, layer PROFILE_HALF" in told


def test_a_short_drill_is_no_hindrance_where_the_outside_follows_the_bore() -> None:
    made = designed("mt2-drawbar-8")
    half = with_workshop(made, drill_reach_mm=40.0)
    assert way(half, "centres").missing == ()
    assert way(half, "4-jaw").missing
    assert way(with_workshop(made, drill_reach_mm=20.0), "centres").missing
    drilled = next(each for each in plan(half).operations if each.title == "Drill the bore")
    assert "costs no coaxiality" in drilled.instead[0]


@pytest.mark.parametrize(("runout_mm", "good"), [(0.02, True), (0.0199, False), (0.04, True)])
def test_the_plan_says_whether_the_run_out_is_reached(runout_mm: float, good: bool) -> None:
    made = designed("mt2-drawbar-8")
    alignment = replace(made.parameters.alignment, bore_mm=runout_mm / 2, bore_slope_mm=runout_mm)
    told = replace(made, parameters=replace(made.parameters, alignment=alignment))
    assert plan(told).good_enough is good
