"""All checks in the order in which the papers list them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from generator.checks import (
    lean,
    making,
    motion,
    rear,
    retention,
    setting,
    spring_sets,
    spring_stress,
    springs,
    taps,
    walls,
    windows,
)
from generator.checks.finding import Finding
from generator.model.tool import Tool

CHECKS: Final[tuple[Callable[[Tool], Iterator[Finding]], ...]] = (
    walls.bore_at_small_end,
    walls.rear_thread,
    walls.nose,
    walls.nose_rim,
    walls.bevel,
    walls.jaws,
    walls.screw_hole,
    rear.rear_hole,
    rear.drawbar,
    rear.plug,
    walls.plug_web,
    rear.ejection,
    retention.holding,
    retention.gap,
    retention.bearing,
    retention.dog,
    retention.play,
    retention.snap,
    walls.plunger_ends,
    motion.travel,
    motion.land,
    motion.reach,
    motion.guide,
    motion.clear_of_rear_hole,
    motion.clearance,
    motion.vent,
    springs.free_in_bore,
    springs.solid_margin,
    spring_stress.corrected_stress,
    spring_stress.uncorrected_stress,
    spring_stress.index,
    spring_stress.active_coils,
    springs.forces,
    spring_sets.tolerances,
    springs.seats,
    spring_sets.nested,
    springs.button,
    springs.separator,
    rear.taking_apart,
    making.drill,
    making.reamer,
    making.tap,
    making.compound,
    taps.seating,
    taps.headroom,
    taps.hidden_end,
    windows.force_window,
    setting.below,
    setting.tap_length,
    setting.travel,
    setting.resets,
    setting.quill,
    lean.lean,
)


def run_checks(tool: Tool) -> tuple[Finding, ...]:
    """Return the findings of every check that applies."""
    return tuple(finding for check in CHECKS for finding in check(tool))
