"""Any design that passes its checks gives valid solids, clean sheets and closed profiles."""

from __future__ import annotations

import tomllib
from functools import reduce
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, reject, settings
from hypothesis import strategies as st

from generator.checks.finding import Verdict, worst
from generator.checks.run import run_checks
from generator.documents.layout import collisions
from generator.documents.profiles import slot_profile, turning_profile
from generator.documents.tool_sheets import tool_sheets
from generator.errors import ProfileError
from generator.inputs.parameters import Parameters
from generator.inputs.profile import parameters_from
from generator.kernel.load import prove
from generator.kernel.shapes import measured, solid
from generator.model.instances import instances
from generator.model.tool import Tool, design

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
VARIED = (
    "body.nose_diameter_mm",
    "body.nose_length_mm",
    "body.bevel_mm",
    "body.edge_mm",
    "plunger.length_mm",
    "slot.length_mm",
    "slot.depth_mm",
    "slot.front_mm",
    "set_screw.position_mm",
    "plug.length_mm",
    "plug.sunk_mm",
    "plug.vent_mm",
    "button.thickness_mm",
    "plunger.rear.mouth_mm",
    "plunger.rear.pilot_depth_mm",
)
"""Lengths that a user would play with."""

CHOSEN: dict[str, tuple[Any, ...]] = {
    "body.recess_mm": (0.0, 0.5),
    "body.bevel_mm": (0.0,),
    "body.edge_mm": (0.0, 0.5),
    "plunger.front": ({"style": "plain"}, {"style": "countersink"}, {"style": "point"}),
    "plunger.rear": ({"style": "plain"}, {"style": "countersink"}, {"style": "point"}),
    "plug.drive": ("hexagon",),
    "making.projection": ("first", "third"),
    "making.sheets": ("A", "US"),
    "making.units": ("mm", "inch"),
}
"""Forms and papers that a user would choose among."""


def at(parameters: Parameters, key: str) -> Any:
    """Return what stands at a dotted key; None where the tool has no such table or form."""
    here: Any = parameters
    for step in key.split("."):
        here = getattr(here, step, None)
    return here


@st.composite
def varied(draw: st.DrawFn) -> Tool:
    """Draw a shipped tool, a few lengths changed by up to a fifth, a few forms exchanged."""
    path = draw(st.sampled_from([p for p in PROFILES if not p.stem.startswith("refused")]))
    table: dict[str, Any] = tomllib.loads(path.read_text("utf-8"))
    settled = design(parameters_from(table, path.name)).parameters
    for key in draw(st.lists(st.sampled_from(VARIED), max_size=4, unique=True)):
        *tables, last = key.split(".")
        length_mm = at(settled, key)
        if isinstance(length_mm, float):
            inner = reduce(lambda here, step: here.setdefault(step, {}), tables, table)
            inner[last] = round(length_mm * draw(st.floats(0.8, 1.2)), 2)
    for key in draw(st.lists(st.sampled_from(sorted(CHOSEN)), max_size=3, unique=True)):
        step, last = key.split(".")
        table.setdefault(step, {})[last] = draw(st.sampled_from(CHOSEN[key]))
    assume(not all(table["plunger"][end].get("style") == "plain" for end in ("front", "rear")))
    try:
        tool = design(parameters_from({**table, "name": path.stem}, path.name))
    except ProfileError:
        reject()
    assume(worst(run_checks(tool)) is not Verdict.FAIL)
    return tool


@pytest.mark.solid
@settings(max_examples=20, suppress_health_check=list(HealthCheck))
@given(varied())
def test_a_design_that_passes_gives_valid_solids(tool: Tool) -> None:
    for placed in instances(tool, tool.orientations[0], compressed=False):
        made = solid(placed.part)
        assert made.isValid()
        assert measured(made).volume_mm3 == pytest.approx(placed.part.volume_mm3, rel=1e-6)


@pytest.mark.solid
@settings(max_examples=8, suppress_health_check=list(HealthCheck))
@given(varied())
def test_a_design_that_passes_moves_without_collision(tool: Tool) -> None:
    assert not prove(tool).collisions


@settings(max_examples=40, suppress_health_check=list(HealthCheck))
@given(varied())
def test_a_design_that_passes_gives_clean_sheets_and_closed_profiles(tool: Tool) -> None:
    for sheet in tool_sheets(tool, run_checks(tool)):
        assert not collisions(sheet), sheet.name
    for part in tool.made_parts:
        profile = turning_profile(part, part.name)
        assert len(set(profile.vertices)) == len(profile.vertices) >= 3
    slot = tool.parameters.slot
    if slot is not None:
        assert len(slot_profile(tool.plunger, "slot").vertices) == 4
