"""Advice: it names a real parameter, and a number it gives clears the finding."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.checks.finding import Finding, Verdict, down_to, up_to, worst
from generator.checks.run import run_checks
from generator.errors import ProfileError
from generator.inputs.profile import parameters_from
from generator.inputs.quantities import LONGEST_MM
from generator.model.tool import design
from tests.advice import alternatives, in_schema, named
from tests.checks.limit_cases import PICK_UP, SLIDES, SUPPORT, SWITCHES, Slide, Switch
from tests.strategies import silly_changes
from tests.tools import BASE, changed, finding, tool

WIDEST_MM = 50.0
"""The tables of fits end here; a plunger over it needs limits_um."""

NOT_OF_OTHERS = ("taps", "machine.spindle", "plunger.front", "plunger.rear")
"""What a tool for another purpose has otherwise."""

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))


def look(table: Mapping[str, Any]) -> tuple[Finding, ...]:
    return run_checks(design(parameters_from({"name": "case", **table}, "case")))


def same(found: tuple[Finding, ...], one: Finding) -> Verdict:
    """Return the verdict of the same check in other findings; pass where it no longer applies."""
    return worst(tuple(other for other in found if other.check == one.check))


def assert_sound(table: Mapping[str, Any], found: Finding) -> None:
    """Check one finding that does not pass: its keys exist, its numbers clear it."""
    keys = named(found.advice)
    assert keys, found
    for key in keys:
        assert in_schema(key), (key, found)
    for numbers in alternatives(found.advice):
        if max(numbers.values()) > LONGEST_MM or numbers.get("plunger.diameter_mm", 0) > WIDEST_MM:
            continue
        after = changed(table, numbers)
        assert same(look(after), found) is Verdict.PASS, (numbers, found)


@pytest.mark.parametrize("slide", SLIDES, ids=str)
def test_advice_of_every_limit_is_sound(slide: Slide) -> None:
    for share in (1.0, 0.7):
        table = slide.table(slide.good + share * (slide.bad - slide.good))
        found = finding(design(parameters_from(table, "case")), slide.limit, slide.subject)
        if found.verdict is Verdict.PASS:
            assert found.advice == ""
        else:
            assert_sound(table, found)


@pytest.mark.parametrize("switch", SWITCHES, ids=str)
def test_advice_of_every_choice_is_sound(switch: Switch) -> None:
    found = finding(tool(switch.bad), switch.limit)
    assert_sound(changed(BASE, switch.bad), found)


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_advice_on_the_shipped_profiles_is_sound(path: Path) -> None:
    table = tomllib.loads(path.read_text("utf-8"))
    for found in look(table):
        if found.verdict is Verdict.PASS:
            assert found.advice == ""
        else:
            assert_sound(table, found)


@given(silly_changes())
def test_advice_on_any_tool_is_sound(changes: dict[str, Any]) -> None:
    table = changed(BASE, changes)
    try:
        findings = look(table)
    except ProfileError:
        return
    for found in findings:
        if found.verdict is not Verdict.PASS:
            assert_sound(table, found)


@pytest.mark.parametrize("base", [PICK_UP, SUPPORT], ids=["pick-up", "support"])
@settings(max_examples=40)
@given(st.data())
def test_advice_on_any_tool_for_another_purpose_is_sound(
    base: Mapping[str, Any], data: st.DataObject
) -> None:
    drawn = data.draw(silly_changes(most=4))
    own = {key: value for key, value in drawn.items() if not key.startswith(NOT_OF_OTHERS)}
    table = changed(BASE, {**base, **own})
    try:
        findings = look(table)
    except ProfileError:
        return
    for found in findings:
        if found.verdict is not Verdict.PASS:
            assert_sound(table, found)


@given(silly_changes())
def test_every_finding_says_what_it_found(changes: dict[str, Any]) -> None:
    try:
        findings = look(changed(BASE, changes))
    except ProfileError:
        return
    assert len({found.check for found in findings}) == len(findings)
    for found in findings:
        assert "nan" not in found.advice
        assert "inf" not in found.advice
        assert len(found.advice.splitlines()) <= 1
        if found.value != found.value:
            assert found.verdict is Verdict.FAIL
            assert found.value_text == "cannot be worked out"


@given(st.floats(-2000, 2000))
def test_numbers_to_reach_are_rounded_past_the_limit(value: float) -> None:
    up, down = (float(text(value).split()[0]) for text in (up_to, down_to))
    assert value - 1e-8 <= up <= value + 0.0011
    assert value - 0.0011 <= down <= value + 1e-8
