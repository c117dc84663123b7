"""Findings on the proof of motion: their levels, and advice that clears them on the solids."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from generator.checks.finding import Finding, Verdict
from generator.checks.proof import LIMITS, run_proof
from generator.documents.motion_papers import motion_data, motion_section
from generator.inputs.profile import parameters_from
from generator.kernel.load import prove
from generator.model.contacts import Contact, Deep, Proof, Rolled
from generator.model.tool import Tool, design
from generator.standards.limits import Limit
from tests.advice import alternatives, in_schema, named
from tests.tools import BASE, changed, tool

SIZES = (("nominal", "as drawn"), ("tightest", "tight"), ("longest stroke", "long"))
SEAT = Contact("plunger", "button", "point out", "nominal", 0.0, 0.0)
GOOD = Proof(
    positions=25,
    sizes=SIZES,
    orientations=("point out",),
    nearest=(SEAT,),
    collisions=(),
    rolled=(Rolled("point out", 6.1, 1.3),),
    deep=(Deep("point out", 0.3, 0.3, 0.05, 0.2),),
    seats=(SEAT,),
)
BITE = Contact(
    "plunger", "set screw", "point out", "tightest", 11.8, 0.0, 0.25, across_mm=0.1, along_mm=2.0
)


def verdicts(proof: Proof) -> dict[str, Verdict]:
    return {each.limit.name: each.verdict for each in run_proof(tool(), proof)}


def rolled(kept_out_mm: float) -> Proof:
    return replace(GOOD, rolled=(Rolled("point out", 1.0, kept_out_mm),))


def deep(turns: float) -> Proof:
    free_mm = turns * 0.7  # pitch of M4
    return replace(GOOD, deep=(Deep("point out", free_mm, free_mm, 0.05, 0.2),))


def seat(clearance_mm: float) -> Proof:
    return replace(GOOD, seats=(replace(SEAT, clearance_mm=clearance_mm),))


def collision(volume_mm3: float) -> Proof:
    return replace(GOOD, collisions=(replace(BITE, volume_mm3=volume_mm3),))


def test_a_good_proof_passes_every_limit() -> None:
    assert verdicts(GOOD) == dict.fromkeys(LIMITS, Verdict.PASS)
    assert all(each.advice == "" for each in run_proof(tool(), GOOD))
    assert set(LIMITS) <= {limit.name for limit in Limit.rows()}


@pytest.mark.parametrize(
    ("limit", "proof", "verdict"),
    [
        (0, collision(2e-6), Verdict.FAIL),
        (0, collision(3.0), Verdict.FAIL),
        (1, rolled(0.5), Verdict.PASS),
        (1, rolled(0.49), Verdict.WARN),
        (1, rolled(0.1), Verdict.WARN),
        (1, rolled(0.09), Verdict.FAIL),
        (1, rolled(0.0), Verdict.FAIL),
        (2, deep(0.125), Verdict.PASS),
        (2, deep(0.12), Verdict.WARN),
        (2, deep(0.0), Verdict.WARN),
        (2, deep(-0.01), Verdict.FAIL),
        (2, deep(float("nan")), Verdict.FAIL),
        (3, seat(0.001), Verdict.PASS),
        (3, seat(0.002), Verdict.WARN),
    ],
)
def test_levels(limit: int, proof: Proof, verdict: Verdict) -> None:
    assert verdicts(proof) == {**verdicts(GOOD), LIMITS[limit]: verdict}
    for found in run_proof(tool(), proof):
        if found.verdict is not Verdict.PASS:
            keys = named(found.advice)
            assert keys
            assert all(in_schema(key) for key in keys)
            assert "nan" not in found.advice


def test_a_collision_tells_parts_place_and_volume() -> None:
    (found,) = (each for each in run_proof(tool(), collision(0.25)) if each.value == 0.25)
    assert found.check == "interference, plunger and set screw"
    assert found.value_text == "0.25 mm3"
    assert found.advice.startswith("at 11.8 mm of travel, point out, tightest sizes: ")


def test_a_tool_without_a_working_end_has_nothing_to_prove() -> None:
    empty = Proof(25, SIZES, (), (), (), (), (), ())
    assert run_proof(tool(), empty) == ()
    assert not motion_section(tool(), empty).tables


WRONG: Mapping[str, tuple[str, Mapping[str, Any]]] = {
    "bore": ("interference, body and plunger", {"bore.diameter_mm": 7.95}),
    "slot": ("interference, plunger and set screw", {"slot.width_mm": 2.55}),
    "short dog": ("interference, plunger and set screw", {"set_screw.tip_length_mm": 1.2}),
    "button": ("interference, body and button", {"button.diameter_mm": 7.9}),
    "spring": ("interference, body and spring 1", {"springs.0.outside_mm": 7.9}),
    "no room": ("interference, spring 1 and plug", {"plug.sunk_mm": 26.0}),
    "shallow": (f"{LIMITS[1]}, point out", {"slot.depth_mm": 0.7}),
    "close": (f"{LIMITS[2]}, point out", {"set_screw.gap_mm": 0.05}),
    "shoulder": (
        f"{LIMITS[2]}, point out",
        {"slot.depth_mm": 1.8, "set_screw.gap_mm": 0.5, "set_screw.tip_length_mm": 1.0},
    ),
    "seat": (f"{LIMITS[3]}, point out", {"button.diameter_mm": 6.5}),
}


def judged(made: Tool) -> tuple[Finding, ...]:
    return run_proof(made, prove(made))


@pytest.mark.solid
@pytest.mark.parametrize("name", WRONG)
def test_advice_clears_it_on_the_solids(name: str) -> None:
    check, changes = WRONG[name]
    (found,) = (each for each in judged(tool(changes)) if each.check == check)
    assert found.verdict is not Verdict.PASS
    ways = list(alternatives(found.advice))
    assert ways
    for numbers in ways:
        table = changed(changed(BASE, changes), numbers)
        after = judged(design(parameters_from(table, "case")))
        again = [each.verdict for each in after if each.check == check]
        assert again in ([], [Verdict.PASS]), (numbers, after)


@pytest.mark.solid
def test_papers_show_the_proof() -> None:
    made = tool({"slot.width_mm": 2.55})
    proof = prove(made)
    section = motion_section(made, proof)
    collisions, clearances, wrong = section.tables
    assert [row[0] for row in collisions.rows] == ["plunger and set screw"]
    assert collisions.rows[0][1].endswith(" mm³")
    rows = {row[0]: row[1:] for row in clearances.rows}
    assert rows["set screw and floor of the slot"][:3] == ("0.3", "0.212", "0.3")
    assert rows["plunger and set screw"][1] == "collide"
    assert rows["spring 1 and plug"][0] == "touch"
    assert len(wrong.rows) == 2  # both ends of the plunger fare alike
    assert any("stops 1.3 mm short" in row[2] for row in wrong.rows)
    assert any("0.3 mm, 0.43 turns" in row[2] for row in wrong.rows)
    assert "25 positions" in section.lines[0]
    assert "150 in all: pairs that collide: 1" in section.lines[0]
    data = motion_data(proof)
    assert data["positions"] == 25
    (one,) = data["collisions"]
    assert one["parts"] == ["plunger", "set screw"]
    assert one["sizes"] == "tightest"
    assert one["interference_mm3"] > 0
    assert {tuple(each["parts"]) for each in data["clearances"]} >= {("body", "plunger")}
