"""The nose bush: where spigot, thread and head come to lie, and what is derived."""

from __future__ import annotations

import math
from dataclasses import replace
from math import pi
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from generator.checks.finding import Verdict, worst
from generator.checks.run import run_checks
from generator.errors import ProfileError
from generator.inputs.profile import read_profile
from generator.model import bush as bushes
from generator.model.instances import instances
from generator.model.outline import Corner, Outline
from generator.model.part import Part, SideFlat
from generator.model.tool import Tool, design, left_runout_mm, trued_mm
from tests.checks.limit_cases import BUSHED
from tests.model.test_outlines import assert_sound
from tests.tools import tool

PROFILE = Path(__file__).parents[2] / "profiles" / "nose-bush-25.toml"


def bushed(changes: dict[str, Any] | None = None) -> Tool:
    return tool({**BUSHED, **(changes or {})})


def test_the_head_rests_on_the_bush_and_the_flange_on_the_nose_face() -> None:
    made = design(read_profile(PROFILE))
    o = made.orientations[0]
    placed = {each.name: each for each in instances(made, o, compressed=False)}
    bush, plunger = placed["nose bush"], placed["plunger"]
    assert made.bush is not None
    seat_mm = made.bush.outline.surface("flange").rear_mm
    assert bush.origin_mm[2] + seat_mm == pytest.approx(0)
    head_mm = made.plunger.outline.surface("head chamfer").front_mm
    assert plunger.origin_mm[2] + head_mm == pytest.approx(
        bush.origin_mm[2] + made.bush.outline.length_mm
    )


def test_the_guide_counts_from_the_flange_and_leaves_both_bevels_out() -> None:
    made = bushed({"shoulder.guide_mm": 16.0})
    # 16 behind the nose face and 4 of flange; bevels of 60 degrees, a quarter of a millimetre on
    # the radius, take 0.25 / tan 30 degrees = 0.433 each.
    assert made.orientations[0].guide_mm == pytest.approx(20 - 2 * 0.4330127)
    assert made.orientations[0].before_mm == 4


def test_the_register_is_deeper_than_the_spigot_so_that_the_flange_bears() -> None:
    made = bushed()
    assert made.bush is not None
    spigot = made.bush.outline.surface("spigot chamfer").rear_mm - 4.0
    assert made.body.outline.surface("register").rear_mm > spigot
    inside, outside = made.body.outline.surface("register"), made.bush.outline.surface("spigot")
    assert inside.diameter_mm == outside.diameter_mm


def test_the_nose_is_threaded_further_than_the_bush_goes() -> None:
    made = bushed({"shoulder.guide_mm": 16.0})
    nose, rear = made.body.threads
    assert (nose.opens, rear.opens) == ("front", "rear")
    front_mm, end_mm = nose.full_span_mm(made.body.outline)
    assert end_mm == pytest.approx(17.0)  # one turn of 1 mm past the end of the bush
    assert front_mm < 16.0
    assert made.body.outline.surface("nose thread").rear_mm == pytest.approx(20.0)  # run-out 3 P


@pytest.mark.parametrize(
    ("pocket_mm", "thread", "drilled"),
    [
        (10.0, "M12x1", True),  # minor diameter 10.917 to 11.153: drilled to 11
        (11.0, "M12x1", False),
        (13.0, "M14x1", False),  # 12.917 to 13.153
    ],
)
def test_the_thread_is_the_smallest_that_the_head_passes(
    pocket_mm: float, thread: str, drilled: bool
) -> None:
    made = bushed({"shoulder.pocket_mm": pocket_mm, "plug.thread": "M16"})
    assert made.parameters.bush is not None
    assert made.parameters.bush.thread == thread
    assert made.body.outline.has("front drill point") is drilled
    head_mm = made.plunger.outline.surface("head").diameter_mm
    for name in ("nose thread", "register", "spring pocket"):
        assert made.body.outline.surface(name).diameter_mm > head_mm


def test_engaged_thread_is_what_both_have_full() -> None:
    made = bushed({"shoulder.guide_mm": 16.0, "bush.register_length_mm": 5.0})
    bush = made.parameters.bush
    assert bush is not None
    # 5 of spigot, a groove of 2.5 P, then thread as far as the chamfer of 0.65 P, 0.7 with M12x1.
    assert bushes.engaged_mm(made.parameters, bush) == pytest.approx(16 - 7.5 - 0.7)


def test_the_play_of_the_register_is_that_of_the_fit() -> None:
    """ISO 286-2: 13 H7 +0.018/0, 13 g6 -0.006/-0.017."""
    bush = bushed().parameters.bush
    assert bush is not None
    assert bush.register_mm == 13
    assert bushes.play_um(bush) == (6, 35)


def test_run_out_is_shared_by_squares() -> None:
    made = bushed({"making.runout_mm": 0.05})
    assert left_runout_mm(made.parameters) == pytest.approx(math.sqrt(0.05**2 - 0.035**2 - 0.01**2))
    assert trued_mm(made) == pytest.approx(0.034)
    tight = bushed({"making.runout_mm": 0.02})
    assert left_runout_mm(tight.parameters) < 0
    assert trued_mm(tight) == 0.01


def test_flats_take_two_segments_off_a_flange() -> None:
    corners = (Corner(0.0, 10.0), Corner(4.0, 10.0), Corner(4.0, 5.0), Corner(9.0, 5.0))
    flange = Outline((*corners, Corner(9.0, 3.0), Corner(0.0, 3.0)))
    flats = SideFlat("spanner flats", 0.0, 4.0, 8.0, both=True)
    # Area of a segment of a circle of 10 beyond a chord 8 from the middle.
    segment_mm2 = 100 * math.acos(0.8) - 8 * 6
    assert flats.volume_mm3(flange) == pytest.approx(2 * 4 * segment_mm2)
    part = Part("bush", "Bush", flange, "bronze", 8.8, cuts=(flats,))
    whole = replace(part, cuts=())
    assert whole.volume_mm3 == pytest.approx(pi * (4 * 91 + 5 * 16))
    assert part.volume_mm3 == pytest.approx(whole.volume_mm3 - 8 * segment_mm2)


SILLY: dict[str, st.SearchStrategy[Any]] = {
    "shoulder.guide_mm": st.floats(0.5, 40),
    "shoulder.pocket_mm": st.floats(6.2, 30),
    "shoulder.travel_mm": st.floats(0.5, 30),
    "bore.diameter_mm": st.floats(5, 14),
    "body.bevel_mm": st.floats(0, 6),
    "body.recess_mm": st.floats(0, 2),
    "body.nose_diameter_mm": st.floats(8, 40),
    "body.nose_length_mm": st.floats(2, 40),
    "bush.thread": st.sampled_from(["M12x1", "M14x1.5", "M16", "M8", "1/2-20 UNF"]),
    "bush.register_mm": st.floats(6, 30),
    "bush.register_length_mm": st.floats(0.1, 20),
    "bush.flange_diameter_mm": st.floats(6, 40),
    "bush.flange_mm": st.floats(0.1, 12),
    "bush.flats_mm": st.floats(4, 40),
    "bush.locking": st.sampled_from(["threadlocker", "none"]),
}


@settings(max_examples=300)
@given(
    st.lists(st.sampled_from(sorted(SILLY)), max_size=4, unique=True).flatmap(
        lambda keys: st.fixed_dictionaries({key: SILLY[key] for key in keys})
    )
)
def test_any_bush_is_designed_and_one_that_passes_is_sound(changes: dict[str, Any]) -> None:
    try:
        made = bushed(changes)
    except ProfileError:
        reject()
    findings = run_checks(made)
    if worst(findings) is not Verdict.FAIL:
        for part in made.made_parts:
            assert_sound(part)
            assert part.volume_mm3 > 0
