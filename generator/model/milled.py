"""What is milled into a shank, as it lies in the body, and its limits of size."""

from __future__ import annotations

from typing import Final

from generator.model.fits import Limits
from generator.model.part import Slot
from generator.model.shank import shank_of
from generator.model.tool import Tool
from generator.standards.bands import ToleranceGrade

GRADED_MM: Final = 50.0
"""Up to here standard tolerances are tabulated."""

KEY_PLAY_UM: Final = 100.0
"""How much wider than its key a slot may be; common practice, no source."""


def milled(tool: Tool) -> Slot | None:
    """Return the flats or the key slot in the body, as one cut; None where there is none."""
    cut = shank_of(tool.parameters.mount).milled
    names = [] if cut is None else [cut.name]
    slots = (each for each in tool.body.cuts if isinstance(each, Slot) and each.name in names)
    return next(slots, None)


def over_flat(tool: Tool) -> Limits | None:
    """Return what is measured from a flat to the far side, or to the other flat.

    Source:
        h11 of DIN 6535 HB; above the sizes of ISO 286 that are tabulated here, as for the largest.
    """
    cut = milled(tool)
    if cut is None or not cut.square:
        return None
    floor_mm = cut.floor_mm(tool.body.outline)
    over_mm = round(2 * floor_mm + (0.0 if cut.both else cut.depth_mm), 6)
    width_um = ToleranceGrade.at("IT11", min(over_mm, GRADED_MM)).width_um
    return Limits(over_mm, -width_um, 0.0, "")


def key_width(tool: Tool) -> Limits | None:
    """Return the width of the slot for the spindle's key; None where there is none."""
    cut = milled(tool)
    return None if cut is None or cut.square else Limits(cut.width_mm, 0.0, KEY_PLAY_UM, "")
