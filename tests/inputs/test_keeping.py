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
        "body.assembly: the head does not pass the narrow bore",
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
        {"slot.form": "flat", "slot.width_mm": REMOVED},
    ],
)
def test_each_way_alone_is_read(changes: dict[str, Any]) -> None:
    p = parameters_from(changed(BASE, changes), "worked.toml")
    assert sum(way is not None for way in (p.set_screw, p.cross_pin, p.shoulder)) == 1
