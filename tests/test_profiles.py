"""The shipped profiles: explained from the parameters, and each what its heading says."""

from __future__ import annotations

import tomllib
from dataclasses import fields
from pathlib import Path
from typing import get_args

import pytest

from generator.checks.finding import Finding, Verdict, worst
from generator.checks.run import run_checks
from generator.inputs.commented import commented, heading_of
from generator.inputs.parameters import Parameters
from generator.inputs.profile import explanation, read_profile
from generator.inputs.tables import Mount, OwnEjectedMount
from generator.model.tool import Tool, design
from tests.tools import slot_of

PROFILES = sorted((Path(__file__).parents[1] / "profiles").glob("*.toml"))
shipped = pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)


def loaded(name: str) -> tuple[Tool, tuple[Finding, ...]]:
    (path,) = (path for path in PROFILES if path.stem == name)
    tool = design(read_profile(path))
    return tool, run_checks(tool)


@shipped
def test_every_comment_is_the_explanation_of_its_key(path: Path) -> None:
    text = path.read_text("utf-8")
    assert commented(tomllib.loads(text), heading_of(text)) == text


@shipped
def test_every_key_is_explained(path: Path) -> None:
    text = " ".join(line.lstrip("# ") for line in path.read_text("utf-8").splitlines())
    for field in fields(Parameters):
        assert explanation(Parameters, field.name)
    p = read_profile(path)
    kept = [each for each in (p.slot, p.set_screw, p.cross_pin, p.shoulder) if each is not None]
    stands_on = p.disc or p.plug
    assert stands_on is not None
    for table in (p.mount, p.body, p.bore, *kept, stands_on, p.machine, p.making):
        for field in fields(table):
            assert f"{field.name} = " in text
            assert explanation(type(table), field.name) in text


@shipped
def test_only_the_refused_tool_fails(path: Path) -> None:
    verdict = worst(run_checks(design(read_profile(path))))
    assert (verdict is Verdict.FAIL) == path.stem.startswith("refused")


def test_every_mount_is_shipped() -> None:
    mounts = {type(read_profile(path).mount) for path in PROFILES}
    assert mounts >= set(get_args(Mount)) - {OwnEjectedMount}


def test_the_compact_tool_warns_of_its_slot_and_is_buildable() -> None:
    tool, findings = loaded("compact-long-travel-8")
    assert 4 <= tool.orientations[0].travel_mm / tool.parameters.plunger.diameter_mm <= 6
    assert worst(findings) is Verdict.WARN
    (land,) = (f for f in findings if f.limit.name == "land in front of the slot")
    assert land.verdict is Verdict.WARN
    assert "shows now" in land.advice
    assert len(tool.springs) > 1


def test_the_nose_bush_lets_go_of_nothing_and_passes_every_check() -> None:
    tool, findings = loaded("nose-bush-25")
    assert tool.bush is not None
    assert worst(findings) is Verdict.PASS


def test_the_front_loaded_tool_warns_of_force_and_energy_and_is_buildable() -> None:
    tool, findings = loaded("front-loaded-9")
    assert tool.parameters.body.assembly == "front-loaded"
    warned = {f.limit.name for f in findings if f.verdict is Verdict.WARN}
    assert {"force let go at the nose", "energy let go at the nose"} <= warned
    assert worst(findings) is Verdict.WARN


def test_the_inch_tool_is_the_size_it_says() -> None:
    tool, _ = loaded("inch-516")
    assert tool.parameters.plunger.diameter_mm == pytest.approx(5 / 16 * 25.4, abs=1e-6)
    assert slot_of(tool.parameters).width_mm == pytest.approx(3.175, abs=1e-6)


def test_the_nested_tool_has_an_inner_spring_that_begins_to_bear_within_the_stroke() -> None:
    tool, findings = loaded("mt3-nested-9")
    assert worst(findings) is Verdict.PASS
    (spring,) = tool.springs
    assert spring.inner is not None
    assert spring.hand != spring.inner.hand
    for o in tool.orientations:
        assert o.room_compressed_mm < spring.inner.free_mm < o.room_extended_mm
        assert tool.bent(o)


def test_the_demo_passes_every_check() -> None:
    _, findings = loaded("mt2-drawbar-8")
    assert worst(findings) is Verdict.PASS


def test_inner_springs_are_written_under_their_own_entry() -> None:
    """In TOML a table in a list belongs to the entry before it."""
    (path,) = (path for path in PROFILES if path.stem == "mt3-nested-9")
    table = tomllib.loads(path.read_text("utf-8"))
    table["springs"] = [{**table["springs"][0]} for _ in range(3)]
    del table["springs"][1]["inner"]
    text = commented(table, "Three springs, the first and the last nested.")
    assert tomllib.loads(text) == table
    del table["springs"][0]["inner"]
    text = commented(table, "Only the last is nested.")
    assert tomllib.loads(text) == table
    assert "# [springs.inner]" in text
