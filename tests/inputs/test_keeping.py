"""One thing keeps the plunger in: what makes no sense is refused once, with a reason."""

from __future__ import annotations

from typing import Any

import pytest

from generator.errors import ProfileError
from generator.inputs.profile import parameters_from
from tests.tools import BASE, REMOVED, changed

PIN: dict[str, Any] = {"set_screw": REMOVED, "slot.depth_mm": REMOVED, "cross_pin": {}}
HEADED: dict[str, Any] = {
    "set_screw": REMOVED,
    "slot": REMOVED,
    "button": REMOVED,
    "plunger.length_mm": REMOVED,
    "plunger.rear": {"style": "plain"},
    "shoulder": {"pocket_mm": 11.0, "travel_mm": 10.0},
}

BUSHED: dict[str, Any] = {**HEADED, "body.assembly": "front-loaded", "bush": {}}

REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "nothing": ({"set_screw": REMOVED}, "set_screw: missing; what keeps the plunger in"),
    "a screw without a slot": ({"slot": REMOVED}, "slot: missing; "),
    "screw and pin": ({"cross_pin": {"diameter_mm": 2.0}}, "got [set_screw] and [cross_pin]"),
    "screw and head": ({"shoulder": HEADED["shoulder"]}, "got [set_screw] and [shoulder]"),
    "a head and a slot": (
        {**HEADED, "slot": {"length_mm": 14.5}},
        "slot: a shouldered plunger has no slot",
    ),
    "a head with two ends": (
        {**HEADED, "plunger.rear": {"style": "point"}},
        "plunger.rear.style: a head cannot be turned end for end",
    ),
    "a head that turns and a half centre": (
        {**HEADED, "plunger.front": {"style": "half centre", "relief_mm": 1.0}},
        "plunger.front.style: a shouldered plunger turns freely",
    ),
    "a head with a button": ({**HEADED, "button": {}}, "button: the head of a shouldered"),
    "a head of a given length": (
        {**HEADED, "plunger.length_mm": 62.0},
        "plunger.length_mm: follows from stem, head and tail",
    ),
    "no step": (
        {**HEADED, "shoulder.pocket_mm": 8.0},
        "shoulder.pocket_mm: must be wider than the stem, 8",
    ),
    "a head through the narrow bore": (
        {**HEADED, "body.assembly": "front-loaded"},
        "body.assembly: the head does not pass the narrow bore in front of it; give [bush]",
    ),
    "a bush before a head that goes in from the rear": (
        {**BUSHED, "body.assembly": "rear-loaded"},
        "body.assembly: the head goes in from the nose before the bush",
    ),
    "a bush without a head": ({"bush": {}}, "bush: a nose bush keeps the head of a shouldered"),
    "a thread that the pocket cuts away": (
        {**BUSHED, "bush": {"thread": "M10x1"}},
        'bush.thread: must be larger than the pocket, 11, which is bored through it, got "M10x1"',
    ),
    "a thread that does not pass the register": (
        {**BUSHED, "bush": {"thread": "M14x1", "register_mm": 14.0}},
        "bush.register_mm: must exceed the thread, 14",
    ),
    "a flange that nothing stops": (
        {**BUSHED, "bush": {"register_mm": 15.0, "flange_diameter_mm": 15.0}},
        "bush.flange_diameter_mm: must exceed the register, 15",
    ),
    "flats that take nothing off": (
        {**BUSHED, "bush": {"flange_diameter_mm": 20.0, "flats_mm": 20.0}},
        "bush.flats_mm: must be below the flange, 20",
    ),
    "tips without a head": (
        {"screwed_tips": {"thread": "M4"}},
        "screwed_tips: tips screw into the stem of a shouldered plunger: give [shoulder]",
    ),
    "tips of a pick-up centre": (
        {
            **HEADED,
            "purpose": "pick-up centre",
            "taps": REMOVED,
            "pick_up": {"target": "hole", "width_mm": 4.0},
            "screwed_tips": {"thread": "M4"},
        },
        "screwed_tips: a pick-up centre works with a point alone",
    ),
    "a thread as thick as the stem": (
        {**HEADED, "screwed_tips": {"thread": "M8"}},
        "screwed_tips.thread: stem or tip, 8, is too thin for it and a register round it",
    ),
    "a thread that leaves no register": (
        {**HEADED, "screwed_tips": {"thread": "M5", "diameter_mm": 6.0}},
        "screwed_tips.thread: stem or tip, 6, is too thin for it and a register round it",
    ),
    "a register that the stud does not pass": (
        {**HEADED, "screwed_tips": {"thread": "M4", "register_mm": 4.0}},
        "screwed_tips.register_mm: must be above the thread's diameter, 4, which passes",
    ),
    "a register as wide as the stem": (
        {**HEADED, "screwed_tips": {"thread": "M4", "register_mm": 8.0}},
        "screwed_tips.register_mm: must be below stem and tip, 8, or no face is left",
    ),
    "flats beside the tip": (
        {**HEADED, "screwed_tips": {"thread": "M4", "diameter_mm": 7.0, "flats_mm": 7.0}},
        "screwed_tips.flats_mm: must be below stem and tip, 7, or nothing is cut, got 7",
    ),
    "flats longer than the tip": (
        {**HEADED, "screwed_tips": {"thread": "M4", "length_mm": 4.0, "flats_length_mm": 4.0}},
        "screwed_tips.flats_length_mm: must be below the length of the tip, 4, got 4",
    ),
    "a spare half centre": (
        {**HEADED, "screwed_tips": {"thread": "M4", "spare": [{"style": "half centre"}]}},
        'screwed_tips.spare[1].style: a screwed tip is a "point"',
    ),
    "a spare tip that follows nothing": (
        {**HEADED, "screwed_tips": {"thread": "M4", "spare": [{"style": "plain"}]}},
        'blank", got "plain"',
    ),
    "two tips with a ball": (
        {
            **HEADED,
            "screwed_tips": {"thread": "M4", "spare": [{"style": "ball"}, {"style": "ball"}]},
        },
        "screwed_tips.spare[2].style: one tip with a ball is enough",
    ),
    "two blank tips": (
        {
            **HEADED,
            "plunger.front": {"style": "blank"},
            "screwed_tips": {"thread": "M4", "spare": [{"style": "blank"}]},
        },
        "screwed_tips.spare[1].style: one blank tip is enough",
    ),
    "a pin in a blind slot": (
        {**PIN, "cross_pin": {"diameter_mm": 2.0}, "slot.form": "slot"},
        'slot.form: a cross pin runs in a slot right "through"; got "slot"',
    ),
    "a pin's slot with a depth": (
        {**PIN, "cross_pin": {"diameter_mm": 2.0}, "slot.depth_mm": 1.6},
        "slot.depth_mm: a cross pin's slot goes right through",
    ),
    "a screw in a slot right through": ({"slot.form": "through"}, "slot.form: a set screw runs"),
    "a flat with a width": ({"slot.form": "flat"}, "slot.width_mm: a flat is as wide as"),
}


@pytest.mark.parametrize(("changes", "told"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_keep_it_in_is_refused_in_one_line(changes: dict[str, Any], told: str) -> None:
    with pytest.raises(ProfileError) as caught:
        parameters_from(changed(BASE, changes), "worked.toml")
    (line,) = caught.value.problems
    assert told in line


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {**PIN, "cross_pin": {"diameter_mm": 2.0}},
        HEADED,
        {**HEADED, "screwed_tips": {"thread": "M4", "spare": [{"style": "countersink"}]}},
        BUSHED,
        {"slot.form": "flat", "slot.width_mm": REMOVED},
    ],
)
def test_each_way_alone_is_read(changes: dict[str, Any]) -> None:
    p = parameters_from(changed(BASE, changes), "worked.toml")
    assert sum(way is not None for way in (p.set_screw, p.cross_pin, p.shoulder)) == 1
