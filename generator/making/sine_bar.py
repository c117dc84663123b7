"""The sine bar: which gauge blocks stand under it for the taper of a tool."""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, degrees, nan, radians, tan
from typing import Final

from generator.formulas import blocks, taper
from generator.making.setups import TaperSetup
from generator.model.tool import Tool
from generator.standards.gauge_blocks import PARTS, GaugeBlockSet

WITHIN: Final = 150
"""How far a stack may be from the height of the sine bar, in the parts of its unit."""


@dataclass(frozen=True, slots=True)
class SineBar:
    """Gauge blocks under a sine bar.

    Attributes:
        angle_deg: Angle of the bar.
        height_mm: Height that is wanted.
        set_name: Name of the set.
        unit: Its unit.
        stack: The blocks in that unit, the largest first; empty if none come near.
        stack_mm: Their height.
        wrong_mm: What the difference of height is worth on the diameter over the taper.
    """

    angle_deg: float
    height_mm: float
    set_name: str
    unit: str
    stack: tuple[float, ...]
    stack_mm: float
    wrong_mm: float


def sine_bars(tool: Tool, setup: TaperSetup, *, inch: bool) -> tuple[SineBar, ...]:
    """Return the blocks for the half and for the included angle, of each set in his unit."""
    bar_mm = tool.parameters.workshop.sine_bar_mm
    unit = "in" if inch else "mm"
    return tuple(
        _sine_bar(setup, bar_mm, angle_deg, kind)
        for angle_deg in (setup.half_deg, 2 * setup.half_deg)
        for kind in GaugeBlockSet.rows()
        if kind.unit == unit
    )


def _sine_bar(setup: TaperSetup, bar_mm: float, angle_deg: float, kind: GaugeBlockSet) -> SineBar:
    height_mm = taper.sine_bar_mm(length_mm=bar_mm, angle_deg=angle_deg)
    part_mm = kind.mm_per_unit / PARTS
    found = blocks.nearest_stack(height_mm / part_mm, kind.blocks, within=WITHIN)
    stack_mm = sum(found) * part_mm if found else nan
    half_deg = degrees(asin(stack_mm / bar_mm)) * setup.half_deg / angle_deg
    return SineBar(
        angle_deg=angle_deg,
        height_mm=height_mm,
        set_name=kind.name,
        unit=kind.unit,
        stack=tuple(block / PARTS for block in found),
        stack_mm=stack_mm,
        wrong_mm=setup.whole_mm * (2 * tan(radians(half_deg)) - setup.rate),
    )
