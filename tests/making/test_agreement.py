"""Operations, set-ups, inspection and sawn lengths give one figure for one thing."""

from __future__ import annotations

import re
from math import isnan

import pytest
from hypothesis import given, settings

from generator.making.inspection import inspection
from generator.making.lengths import lengths
from generator.making.operation import Operation, Step, measured
from generator.making.plan import plan
from generator.making.setups import rises, taper_setup
from generator.making.slot_setups import hole_setup, slot_setup
from generator.making.stock import FACING_MM, cut_length_mm, stock_mm
from generator.making.taper_methods import methods, proposed
from generator.making.taper_ways import set_over
from generator.model import keeping
from generator.model.tool import Tool
from generator.units import MM_PER_INCH
from generator.use.bands import Span
from tests.making.plans import PROFILES, designed, tools, with_workshop
from tests.tools import slot_of

every_profile = pytest.mark.parametrize("name", PROFILES)

SAME = {
    "body": {
        "Face to length": "length over all",
        "Turn the nose,": "nose diameter",
        "Finish cycle as G70: nose": "nose diameter",
        "Face the shoulder": "nose length",
        "Ream ": "bore",
        "Pass the reamer": "bore",
        "Finish by the set-up": "stand-out of the taper",
        "Offset X by the rest": "stand-out of the taper",
        "Turn the shank": "shank diameter",
        "Turn the end behind": "extension diameter",
        "Spot where the screw": "screw hole from the nose face",
        "Open for the thread": "hole for the rear thread",
        "Tap to the full depth": "full thread at the rear",
        "Bore the register": "register for the bush",
        "Depth of the register": "depth of the register",
        "Screw-cut, or tap": "full thread in the nose",
    },
    "nose-bush": {
        "Turn the spigot": "spigot",
        "Ream,": "bore",
        "Face the flange": "thickness of the flange",
        "Turn half round": "across the flats",
    },
    "plunger": {
        "Look along the bar": "diameter of the bar",
        "Face to length": "length over all",
        "Open the ends": "slot length",
        "Pass by pass": "slot depth",
    },
    "plug": {"Face to length": "length", "Cut the slot across": "depth of the drive"},
    "button": {"Turn the outside": "diameter", "Rub flat": "thickness"},
    "separator": {"Turn the outside": "diameter", "Rub flat": "thickness"},
    "assembly": {
        "Back it off": "gap under the screw tip",
        "Plug in, its rear": "depth below the rear end",
    },
}
"""For each part: how a step begins, and the line of the inspection that it must agree with."""


def limits(made: Tool) -> dict[tuple[str, str], Span]:
    return {(s.part, line.what): line.limits for s in inspection(made) for line in s.lines}


def agrees(step: Step, span: Span) -> bool:
    """Tell whether a step allows what the inspection allows; its aim may lie within a zone."""
    return abs(step.low_mm - span.least) < 1e-6 and abs(step.high_mm - span.greatest) < 1e-6


def title(made: Tool, words: str) -> Operation:
    return next(each for each in plan(made).operations if each.title.startswith(words))


@every_profile
@pytest.mark.parametrize("machines", ["lathe", "lathe and mill", "cnc lathe"])
def test_a_target_is_the_size_that_is_inspected(name: str, machines: str) -> None:
    made = with_workshop(designed(name), machines=machines)
    spans, found = limits(made), 0
    for each in plan(made).operations:
        for step in each.steps:
            for begins, what in SAME.get(each.part, {}).items():
                if step.do.startswith(begins) and measured(step):
                    span = spans[each.part, what]
                    assert agrees(step, span), (step, span)
                    found += 1
    p = made.parameters
    assert found >= (14 if p.slot is not None else 11) - 2 * (p.plug is None)


@every_profile
def test_ends_and_stroke_are_told_as_they_are_inspected(name: str) -> None:
    made = designed(name)
    spans = limits(made)
    ends = [("First end", "front", "plunger"), ("Second end", "rear", "plunger")]
    if made.parameters.shoulder is not None:
        ends = [("Head, stem and tip", "front", "plunger")]
    if made.tips:
        ends = [(f"{tip.title}: its working end", "front", tip.name) for tip in made.tips]
    for word, side, part in ends:
        steps = {
            "Turn" if step.do.startswith("Turn the point") else step.do.split(" ")[0]: step
            for step in title(made, word).steps
            if not step.do.startswith("Turn") or step.do.startswith("Turn the point")
        }
        for begins, what in (
            ("Countersink", f"mouth of the {side} end"),
            ("Turn", f"flat of the {side} point"),
            ("Pilot,", f"depth of the {side} pilot"),
        ):
            if begins in steps:
                assert agrees(steps[begins], spans[part, what]), what
    o = made.orientations[0]
    dry = [step for step in title(made, "Dry fit").steps if step.tool == "depth gauge"]
    for step, what in zip(
        dry, ("stands out, forward", "stands out, pushed home", "travel"), strict=True
    ):
        assert agrees(step, spans["assembly", f"{o.name}: {what}"])


def test_the_joint_of_a_tip_is_made_as_it_is_inspected() -> None:
    made = designed("screwed-tips-25")
    spans = limits(made)
    wanted = {
        ("Hole for the tips", "Counterbore", "plunger"): "register",
        ("Hole for the tips", "Depth of the register", "plunger"): "depth of the register",
        ("Hole for the tips", "Tap", "plunger"): "full thread in the stem",
        ("Tip 2, point: its joint", "Finish spigot", "tip-2"): "spigot",
        ("Tip 2, point: its joint", "Length of the spigot", "tip-2"): "length of the spigot",
        ("Tip 2, point: its working end", "Face the end", "tip-2"): "tip to shoulder",
    }
    for (words, begins, part), what in wanted.items():
        (step,) = (each for each in title(made, words).steps if each.do.startswith(begins))
        assert agrees(step, spans[part, what]), what


@every_profile
@pytest.mark.parametrize("machines", ["lathe", "lathe and mill"])
def test_slot_and_screw_hole_are_where_their_set_ups_say(name: str, machines: str) -> None:
    made = with_workshop(designed(name), machines=machines)
    slot, hole = slot_setup(made, inch=False), hole_setup(made)
    if made.parameters.shoulder is not None:
        assert slot is None
        assert hole is None
        return
    assert slot is not None
    cut = title(made, "Flat for the" if slot.form == "flat" else "Slot for the")
    assert f"{slot.datum} against the end stop" in cut.holding
    places = [step.set_mm for step in cut.steps if step.dial == f"0 = {slot.datum}"]
    assert places[:2] == pytest.approx([slot.first_mm, slot.last_mm])
    drawn = sorted(size.size_mm for size in cut.sizes if size.kind == "length")
    assert drawn == pytest.approx(sorted([slot.near_mm, slot.far_mm]))
    assert slot.last_mm - slot.first_mm == pytest.approx(
        slot_of(made.parameters).length_mm - slot.cutter_mm
    )
    if made.parameters.cross_pin is not None:
        assert hole is None
        return
    assert hole is not None
    if keeping.ledge_mm(made.parameters):
        return
    drilled = next(s for s in title(made, "Hole for the set").steps if s.tool.startswith("drill"))
    wanted = hole.set_mm, hole.least_mm, hole.most_mm
    assert (drilled.set_mm, drilled.low_mm, drilled.high_mm) == pytest.approx(wanted)
    # the tip of the drill stays clear of the far wall of the bore
    assert drilled.high_mm < (hole.outside_mm + hole.bore_mm) / 2


@given(tools())
@settings(max_examples=40, deadline=None)
def test_plan_and_set_up_turn_the_taper_the_same_way(made: Tool) -> None:
    setup = taper_setup(made)
    told = [each for each in plan(made).operations if each.title == "Finish the taper"]
    if setup is None or not told:
        return
    say = lengths(made.parameters)
    over = set_over(made, setup, inch=say.inch)
    way = proposed(methods(made.parameters.workshop, setup, over, say)).name
    first = told[0].steps[0]
    words = {
        "profile on the CNC lathe": "Load profile",
        "taper attachment": "Set the guide bar",
        "compound slide, one pass": "Set the slide",
        "tailstock set over": "Set the tailstock over",
        "compound slide, two passes": "Set the slide",
        "blank-end arbor, bought": "Set the slide",
    }
    assert first.do.startswith(words[way])
    if way == "tailstock set over":
        assert over is not None
        assert first.set_mm == pytest.approx(over.over_mm)
    if way.startswith("compound"):
        most = rises(setup, inch=say.inch)[0]
        assert say.cell(most.rise_mm, 3).rstrip("0") in first.dial


def told_mm(text: str) -> float:
    """Return a length that is printed in millimetres or, with a mark, in inches."""
    return float(text.rstrip('"')) * (MM_PER_INCH if text.endswith('"') else 1.0)


@every_profile
def test_roughing_never_goes_below_the_taper(name: str) -> None:
    made = with_workshop(designed(name), machines="lathe and mill")
    setup = taper_setup(made)
    if setup is None:
        return
    outline, length_mm = made.body.outline, made.body.outline.length_mm
    rough = [s for s in title(made, "Rough the mount").steps if s.do.startswith("Rough ")]
    assert len(rough) >= 4
    for step in rough:
        long_mm = told_mm(re.findall(r"Rough ([\d.]+\"?) long", step.do)[0])
        at_mm = max(length_mm - long_mm, made.parameters.body.nose_length_mm)
        finish_mm = 2 * outline.radius_at_mm(at_mm + 1e-6, inside=False)
        assert step.set_mm >= finish_mm + 0.5 - 0.01, step


@every_profile
@pytest.mark.parametrize("dial", ["diameter", "radius"])
def test_the_first_cut_of_the_taper_leaves_metal_on(name: str, dial: str) -> None:
    made = with_workshop(designed(name), machines="lathe and mill", dial=dial)
    setup = taper_setup(made)
    if setup is None:
        return
    clean = title(made, "Finish the taper").steps[1]
    said = re.findall(r"0 at Ø([\d.]+\"?) by the shoulder; in ([\d.]+\"?)", clean.dial)[0]
    start_mm, moved_mm = map(told_mm, said)
    left_mm = start_mm - moved_mm * (1 if dial == "diameter" else 2) - setup.large_mm
    assert left_mm == pytest.approx(0.2, abs=0.03)
    blued = title(made, "Finish the taper").steps[2]
    assert blued.set_mm - setup.stand_out_mm == pytest.approx(0.2 / setup.rate)


@every_profile
def test_what_is_clocked_was_turned_with_the_bore(name: str) -> None:
    made = designed(name)
    for each in plan(made).operations:
        if each.title.startswith("Face the rear") and "turned with the bore" in each.holding:
            assert each.before is not None
            skin_mm = stock_mm(made.body) - 2 * each.before.outline.radius_at_mm(1.0, inside=False)
            assert skin_mm >= 0.5 - 1e-9


@every_profile
def test_a_recess_is_sunk_before_its_bevel(name: str) -> None:
    made, found = designed(name), 0
    for each in plan(made).operations:
        do = [step.do.split(" ")[0] for step in each.steps]
        if "Sink" in do:
            assert do.index("Sink") < do.index("Bevel")
            found += 1
    mouths = 2 if made.parameters.plug is not None else 1
    assert found == mouths * (made.parameters.body.recess_mm > 0)


@every_profile
def test_bar_is_sawn_as_it_is_bought(name: str) -> None:
    made = designed(name)
    for part in (made.body, made.plunger):
        sawn = title(made, f"Saw off: {part.title.lower()}").steps[1]
        assert sawn.set_mm == pytest.approx(part.outline.length_mm + FACING_MM)
        assert sawn.high_mm < cut_length_mm(part)


@given(tools())
@settings(max_examples=40, deadline=None)
def test_nobody_measures_a_chamfer_and_every_aim_is_within_its_limits(made: Tool) -> None:
    for each in plan(made).operations:
        for step in each.steps:
            if step.do.startswith("Chamfer"):
                assert isnan(step.set_mm), step
