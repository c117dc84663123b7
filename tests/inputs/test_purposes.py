"""Each purpose has its own table and place: what makes no sense is refused once, with a reason."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.errors import ProfileError
from generator.inputs.drawer_file import read_shop
from generator.inputs.profile import parameters_from
from tests.checks.limit_cases import PICK_UP, SUPPORT
from tests.tools import BASE, REMOVED, changed

WORKSHOPS = Path(__file__).parents[2] / "profiles" / "workshops"

REFUSED: dict[str, tuple[dict[str, Any], str]] = {
    "follower without taps": ({"taps": REMOVED}, "taps: missing; A tap that"),
    "follower with a place to find": (
        {"pick_up": PICK_UP["pick_up"]},
        "pick_up: belongs to a pick-up centre; this is a tap follower",
    ),
    "pick-up centre without a place": (
        {**PICK_UP, "pick_up": REMOVED},
        "pick_up: missing; What a pick-up centre finds",
    ),
    "pick-up centre with taps": (
        {**PICK_UP, "taps": BASE["taps"]},
        "taps: belongs to a tap follower; this is a pick-up centre",
    ),
    "support centre without work": (
        {**SUPPORT, "support": REMOVED},
        "support: missing; The work that a support centre steadies",
    ),
    "support centre with a place to find": (
        {**SUPPORT, "pick_up": PICK_UP["pick_up"]},
        "pick_up: belongs to a pick-up centre; this is a support centre",
    ),
    "pick-up centre on a lathe": (
        {**PICK_UP, "machine.spindle": "horizontal"},
        'machine.spindle: must be "vertical", since a pick-up centre works under the quill, '
        'got "horizontal"',
    ),
    "support centre on a mill": (
        {**SUPPORT, "machine.spindle": "vertical"},
        'machine.spindle: must be "horizontal", since a support centre works in the tailstock of '
        'a lathe, got "vertical"',
    ),
    "support centre with a countersink": (
        {**SUPPORT, "plunger.rear": {"style": "countersink"}},
        'plunger.rear.style: must be "point" or "plain", since a support centre works with a '
        'point alone, got "countersink"',
    ),
    "unknown purpose": ({"purpose": "live centre"}, "purpose: expected "),
    "unknown centre hole": ({**SUPPORT, "support.centre": "B2"}, "support.centre: unknown"),
    "unknown target": ({**PICK_UP, "pick_up.target": "edge"}, "pick_up.target: expected "),
    "place without a width": (
        {**PICK_UP, "pick_up": {"target": "hole"}},
        "pick_up.width_mm: missing; ",
    ),
}


@pytest.mark.parametrize(("changes", "told"), REFUSED.values(), ids=REFUSED.keys())
def test_what_makes_no_sense_is_refused_once(changes: dict[str, Any], told: str) -> None:
    with pytest.raises(ProfileError) as caught:
        parameters_from(changed(BASE, changes), "case")
    (problem,) = caught.value.problems
    assert problem.startswith(told)


def test_a_style_that_nobody_knows_is_told_once() -> None:
    with pytest.raises(ProfileError) as caught:
        parameters_from(changed(BASE, {**SUPPORT, "plunger.rear": {"style": "sharp"}}), "case")
    (problem,) = caught.value.problems
    assert problem.startswith("plunger.rear.style: expected one of")


def test_a_wrong_purpose_is_told_with_every_other_problem() -> None:
    wrong = {
        "taps": BASE["taps"],
        "slot.length_mm": -1,
        "machine.spindle": "vertical",
        "plunger.front": {"style": "countersink"},
        "plunger.rear": {"style": "countersink"},
    }
    with pytest.raises(ProfileError) as caught:
        parameters_from(changed(BASE, {**SUPPORT, **wrong}), "case")
    assert {line.split(":")[0] for line in caught.value.problems} == {
        *("taps", "slot.length_mm", "machine.spindle"),
        *("plunger.front.style", "plunger.rear.style"),
    }


@pytest.mark.parametrize("changes", [PICK_UP, SUPPORT], ids=["pick-up", "support"])
def test_a_tool_for_another_purpose_follows_no_tap(changes: dict[str, Any]) -> None:
    assert parameters_from(changed(BASE, changes), "case").taps == ()


@pytest.mark.parametrize(
    ("first", "last", "named"),
    [
        ('purpose = "support centre"\n', '[support]\ncentre = "A2"\n', "purpose, support"),
        ("", '[pick_up]\ntarget = "hole"\n', "pick_up"),
    ],
)
def test_a_workshop_is_searched_for_followers_alone(
    tmp_path: Path, first: str, last: str, named: str
) -> None:
    text = (WORKSHOPS / "lathe-corner.toml").read_text("utf-8")
    path = tmp_path / "shop.toml"
    for table in WORKSHOPS.glob("*.csv"):
        (tmp_path / table.name).write_bytes(table.read_bytes())
    path.write_text(f"{first}{text}\n{last}", "utf-8")
    with pytest.raises(ProfileError) as caught:
        read_shop(path)
    (problem,) = caught.value.problems
    assert problem.startswith(f"{named}: a workshop is searched for tap followers alone")
