"""A worked tool as the tests change it: an 8 mm plunger in an MT2 body with a draw-bar."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from typing import Any, Final

from generator.checks.finding import Finding
from generator.checks.run import CHECKS
from generator.inputs.parameters import Parameters
from generator.inputs.profile import parameters_from
from generator.inputs.tables import Plug, RetainingScrew, RetainingSlot
from generator.model.tool import Tool, design


class _Removed:
    """A mark that reads the same in every process."""

    def __repr__(self) -> str:
        return "REMOVED"


REMOVED: Final = _Removed()
"""Stands for a key that a change takes out."""

BASE: Final[dict[str, Any]] = {
    "title": "Worked tool",
    "name": "worked-tool",
    "mount": {"kind": "morse draw-bar", "size": "MT2", "drawbar_engagement_mm": 12.0},
    "body": {
        "material": "steel 11SMn30",
        "nose_diameter_mm": 20.0,
        "nose_length_mm": 24.0,
        "bevel_mm": 0.0,
        "recess_mm": 0.0,
    },
    "bore": {"diameter_mm": 8.0},
    "plunger": {
        "diameter_mm": 8.0,
        "length_mm": 62.0,
        "material": "silver steel 115CrV3",
        "front": {"style": "point", "flat_mm": 0.0},
        "rear": {
            "style": "countersink",
            "mouth_mm": 7.0,
            "pilot_mm": 2.0,
            "pilot_depth_mm": 2.0,
            "chamfer_mm": 0.3,
        },
    },
    "slot": {"length_mm": 14.5, "width_mm": 3.0, "depth_mm": 1.6, "front_mm": 23.75},
    "set_screw": {"thread": "M4", "position_mm": 16.0, "length_mm": 8.0},
    "springs": [{"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 34.0, "active_coils": 12.0}],
    "button": {"vent_mm": 0.0},
    "plug": {"length_mm": 8.0, "sunk_mm": 15.0},
    "taps": [{"standard": "ISO 529", "size": "M6", "end": "point"}],
    "machine": {
        "headroom_mm": 220.0,
    },
    "workshop": {
        "compound_travel_mm": 80.0,
        "drill_reach_mm": 100.0,
        "reamer_length_mm": 165.0,
        "tap_reach_mm": 40.0,
    },
}
"""A table that is accepted; it breaches no limit but that the screw stands 0.7 mm proud."""


def profile(**tables: Any) -> dict[str, Any]:
    """Return the table of the worked tool, whole tables exchanged by name."""
    return {**deepcopy(BASE), **tables}


def changed(base: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """Return a copy of a table with changes by dotted key.

    A step that is a number is a place in a list, from 0; a missing table is made; `REMOVED` takes
    the key out.
    """
    copy: dict[str, Any] = deepcopy(dict(base))
    for key, value in changes.items():
        here: Any = copy
        *steps, last = key.split(".")
        for step in steps:
            here = here[int(step)] if isinstance(here, list) else here.setdefault(step, {})
        if isinstance(here, list):
            here[int(last)] = value
        elif value is REMOVED:
            here.pop(last, None)
        else:
            here[last] = deepcopy(value)
    return copy


def parameters(changes: Mapping[str, Any] = {}) -> Parameters:
    """Return the parameters of the worked tool with changes."""
    return parameters_from(changed(BASE, changes), "worked-tool.toml")


def tool(changes: Mapping[str, Any] = {}) -> Tool:
    """Return the worked tool with changes."""
    return design(parameters(changes))


def finding(tool: Tool, name: str, subject: str = "") -> Finding:
    """Return the finding about a limit; with a subject given, the one whose subject it is.

    Raises:
        LookupError: If there is none, or, without a subject, more than one.
    """
    found = [
        one
        for check in CHECKS
        for one in check(tool)
        if one.limit.name == name and subject in ("", one.subject)
    ]
    if len(found) != 1:
        raise LookupError(f"{name}, {subject}: {[one.check for one in found]}")
    return found[0]


def screw_of(p: Parameters) -> RetainingScrew:
    """Return the set screw of a tool that has one."""
    assert p.set_screw is not None
    return p.set_screw


def plug_of(p: Parameters) -> Plug:
    """Return the plug of a tool that has one."""
    assert p.plug is not None
    return p.plug


def slot_of(p: Parameters) -> RetainingSlot:
    """Return the slot of a plunger that has one."""
    assert p.slot is not None
    return p.slot
