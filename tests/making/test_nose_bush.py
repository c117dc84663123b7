"""A nose bush: what agrees is cut in one setting, and nothing flies when it comes off."""

from __future__ import annotations

from typing import Any

import pytest

from generator.documents.bill import bill
from generator.documents.cautions import cautions
from generator.documents.exploded_pieces import assembly_order
from generator.documents.parts_list import items
from generator.documents.unverified import unverified
from generator.making.inspection import inspection
from generator.making.measured import actual, without
from generator.making.operation import Operation
from generator.making.plan import plan
from generator.model.tool import Tool
from tests.checks.limit_cases import BUSHED
from tests.making.plans import designed
from tests.making.test_actual import measured
from tests.tools import finding, tool

NAME = "nose-bush-25"


def of_part(made: Tool, part: str) -> list[Operation]:
    return [each for each in plan(made).operations if each.part == part]


def bushed(changes: dict[str, Any] | None = None) -> Tool:
    return tool({**BUSHED, **(changes or {})})


def test_bore_and_spigot_are_cut_before_the_bush_is_let_go() -> None:
    outside, bore, flange, flats = of_part(designed(NAME), "nose-bush")
    assert {"spigot", "flange seat", "M14x1 thread"} <= set(outside.features)
    assert "bore" in bore.features
    assert (outside.holding, outside.grips) == (bore.holding, bore.grips)
    assert flange.features == ("front face", "front chamfer", "front bevel")
    assert flats.features == ("spanner flats",)


def test_register_thread_and_bevel_are_cut_in_the_holding_of_the_nose_face() -> None:
    made = designed(NAME)
    where = {feature: each for each in of_part(made, "body") for feature in each.features}
    assert where["register"] is where["M14x1 thread"] is where["front bevel"]
    assert where["register"].holding == where["spring pocket"].holding
    assert where["register"].holding == where["front face"].holding
    assert "step" not in where


def test_the_plunger_is_made_after_the_bush_it_is_tried_in() -> None:
    found = [each.part for each in plan(designed(NAME)).operations]
    assert found.index("nose-bush") < found.index("plunger")


def test_plug_first_bush_last() -> None:
    made = designed(NAME)
    (each,) = (
        each
        for each in of_part(made, "assembly")
        if each.title == "Plug, springs and plunger, from the nose"
    )
    do = [step.do for step in each.steps]
    assert do[0].startswith("Plug first")
    assert next(n for n, line in enumerate(do) if "plunger in from the nose" in line) < next(
        n for n, line in enumerate(do) if line.startswith("Bush over the stem")
    )
    names = {str(item.number): item.name for item in items(made, made.orientations[0])}
    order = [names[number] for number in assembly_order(made)]
    assert order == ["Plug", "Spring", "Plunger", "Nose bush"]


def test_an_unlocked_bush_is_marked_and_takes_no_threadlocker() -> None:
    locked, loose = bushed(), bushed({"bush.locking": "none"})

    def told(made: Tool) -> str:
        steps = [step.do for each in of_part(made, "assembly") for step in each.steps]
        return "\n".join((*steps, *(item.designation for item in bill(made))))

    assert "threadlocker on the bush's thread" in told(locked)
    assert "the nose bush" in told(locked)
    assert "Bush not locked" in told(loose)
    assert "nose bush" not in "\n".join(item.designation for item in bill(loose))


@pytest.mark.parametrize(
    ("free_mm", "phrase"),
    [(38.0, "by then the spring is slack"), (60.0, "still pushes then")],
)
def test_cautions_say_whether_the_spring_is_slack_when_the_thread_lets_go(
    free_mm: float, phrase: str
) -> None:
    made = bushed({"springs.0.free_mm": free_mm})
    text = "\n".join(cautions(made))
    assert phrase in text
    assert "A right-hand tap drags the plunger the way that unscrews the nose bush" in text
    slack = finding(made, "bush thread left when the springs are slack").value
    assert (slack >= 0) is (phrase == "by then the spring is slack")


def test_force_let_go_is_what_is_left_of_the_preload() -> None:
    """The thread holds while more than two turns of 1 mm are in."""
    made = bushed({"springs.0.free_mm": 60.0})
    o = made.orientations[0]
    left_N = finding(made, "force let go at the nose").value
    assert 0 < left_N < o.preload_N
    held_mm = (o.preload_N - left_N) / made.rate_N_per_mm
    turns = finding(made, "thread of the nose bush").value
    assert held_mm == pytest.approx(turns - 2)


def test_what_is_measured_on_the_bush_stands_on_its_own_sheet() -> None:
    sheets = {
        sheet.part: [line.what for line in sheet.lines] for sheet in inspection(designed(NAME))
    }
    assert {"bore", "spigot", "seat of the flange to the rear end"} <= set(sheets["nose-bush"])
    assert "bore" not in sheets["body"]
    assert {"register for the bush", "run-out of the register"} <= set(sheets["body"])
    assert "nose bush home" in sheets["assembly"]


def test_a_register_bored_too_large_gets_a_spigot_to_suit() -> None:
    made = designed(NAME)
    told = actual(made, measured(made, register_mm=15.04))
    assert "Turn the spigot to the register as it is: 15.023 to 15.034 mm." in told.notes
    late = actual(made, measured(made, register_mm=15.04, spigot_mm=14.99))
    assert any(note.startswith("The spigot plays 0.05 mm") for note in late.notes)
    assert not actual(made, measured(made, register_mm=15.01)).notes


def test_a_bush_made_anew_takes_its_bore_with_it() -> None:
    sizes = measured(designed(NAME), bore_mm=8.1, register_mm=15.01, guide_length_mm=18.5)
    rest = without(sizes, "nose bush", bushed=True)
    assert (rest.bore_mm, rest.guide_length_mm, rest.register_mm) == (None, None, 15.01)
    rest = without(sizes, "body", bushed=True)
    assert (rest.bore_mm, rest.register_mm) == (8.1, None)


def test_proportions_of_the_groove_are_told_as_unverified() -> None:
    made = bushed({"bush": {"thread": "M12x1"}})
    told = {each.subject: each.text for each in unverified(made, ())}
    (groove,) = (text for subject, text in told.items() if subject.startswith("groove behind"))
    assert groove == "width 2.5 mm; diameter 10.4 mm"
    assert not any("groove" in each.subject for each in unverified(tool(), ()))
