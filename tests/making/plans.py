"""Workshops and tools for the tests of the plan."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any, Final, get_args

from hypothesis import strategies as st

from generator.inputs.profile import read_profile
from generator.inputs.workshop import Kit, Workshop
from generator.model.tool import Tool, design

PROFILES: Final = sorted(
    path.stem
    for path in (Path(__file__).parents[2] / "profiles").glob("*.toml")
    if not path.stem.startswith("refused")
)
KITS: Final = get_args(Kit)
SIZES: Final = st.lists(
    st.sampled_from([1.0, 1.5, 2.0, 2.5, 2.9, 3.0, 3.3, 4.2, 5.0, 6.0, 7.8, 8.0, 8.5, 10.2, 12.0]),
    max_size=8,
    unique=True,
).map(tuple)
SPEEDS: Final = st.lists(
    st.sampled_from([30.0, 60.0, 120.0, 300.0, 640.0, 1300.0, 2500.0]), min_size=1, unique=True
).map(lambda speeds: tuple(sorted(speeds)))


@cache
def designed(name: str) -> Tool:
    """Return the tool of a shipped profile."""
    return design(read_profile(Path(__file__).parents[2] / "profiles" / f"{name}.toml"))


def with_workshop(tool: Tool, **changes: Any) -> Tool:
    """Return a tool made in a workshop with changes."""
    p = tool.parameters
    return replace(tool, parameters=replace(p, workshop=replace(p.workshop, **changes)))


@st.composite
def tools(draw: st.DrawFn) -> Tool:
    """Return a good tool in a random workshop."""
    tool = designed(draw(st.sampled_from(PROFILES)))
    p, shop = tool.parameters, tool.parameters.workshop
    made: Workshop = replace(
        shop,
        machines=draw(st.sampled_from(["lathe", "lathe and mill", "cnc lathe"])),
        kit=tuple(draw(st.lists(st.sampled_from(KITS), unique=True))),
        compound_travel_mm=draw(st.sampled_from([30.0, 60.0, 150.0])),
        drill_reach_mm=draw(st.sampled_from([30.0, 60.0, 200.0])),
        reamer_length_mm=draw(st.sampled_from([60.0, 120.0, 250.0])),
        tap_reach_mm=draw(st.sampled_from([5.0, 20.0, 80.0])),
        set_over_mm=draw(st.sampled_from([0.5, 10.0])),
        spindle_bore_mm=draw(st.sampled_from([5.0, 20.0, 40.0])),
        dial=draw(st.sampled_from(["diameter", "radius"])),
        lathe_rpm=draw(SPEEDS),
        mill_rpm=draw(SPEEDS),
        turning_tool=draw(st.sampled_from(["HSS", "carbide"])),
        drills_mm=draw(SIZES),
        reamers_mm=draw(SIZES),
        end_mills_mm=draw(SIZES),
    )
    body = replace(p.body, assembly=draw(st.sampled_from(["rear-loaded", "front-loaded"])))
    making = replace(p.making, units=draw(st.sampled_from(["mm", "inch"])))
    return replace(tool, parameters=replace(p, workshop=made, body=body, making=making))
