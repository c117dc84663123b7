"""The set-ups with their numbers: for readers in sections, for programs as data."""

from __future__ import annotations

from typing import Any

from generator.documents.slot_papers import slot_data, slot_sections
from generator.documents.table import Section
from generator.documents.taper_papers import taper_data, taper_sections
from generator.documents.tip_papers import tip_data, tip_sections
from generator.making.dials import Dial, compound_slide, cross_slide
from generator.model.tool import Tool


def setup_sections(tool: Tool) -> tuple[Section, ...]:
    """Return the set-ups of mount, plunger's ends, slot and screw hole, in that order."""
    return (*taper_sections(tool), *tip_sections(tool), *slot_sections(tool))


def setup_data(tool: Tool) -> dict[str, Any]:
    """Return the same as plain data; what a tool has not is None."""
    workshop = tool.parameters.workshop
    return {
        "dials": {
            "cross_slide": _dial(cross_slide(workshop)),
            "compound": _dial(compound_slide(workshop)),
        },
        "taper": taper_data(tool),
        "ends": tip_data(tool),
        **slot_data(tool),
    }


def _dial(dial: Dial) -> dict[str, Any]:
    return {"division_mm": dial.division_mm, "reads": dial.reads, "unit": dial.unit}
