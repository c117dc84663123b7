"""The check of the force that each tap gets over the stroke."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, floor, isfinite
from typing import Final

from generator.checks.finding import Finding, up_to
from generator.checks.springs import preload_key
from generator.inputs.quantities import LONGEST_MM
from generator.model.tool import Tool
from generator.standards.limits import Limit
from generator.units import number, shown
from generator.use.windows import Window, windows

NAME: Final = "stroke inside the force window"
STIFFEST_N_PER_MM: Final = 1000.0


def force_window(tool: Tool) -> Iterator[Finding]:
    """Check for each tap how much of the stroke holds it, by two hands, and leaves the feel."""
    for window in windows(tool):
        fail_mm = min(Limit.find(NAME).fail, window.travel_mm)
        yield Finding(
            tool.limit(NAME, warn=window.travel_mm, fail=fail_mm),
            window.two_hands_mm,
            _advice(tool, window),
            subject=window.name,
        )


def _advice(tool: Tool, window: Window) -> str:
    """Return the way to the window: other rates where they suffice, else what force is wanted."""
    key, least_N, most_N = window.seat.key, window.two_hands_N, window.ceiling_N
    if window.full_force_N != window.full_force_N:
        return f"first give the springs room ({preload_key(tool)})"
    if window.weight_floor_N >= most_N:
        return f"a lighter {key}.wrench_g lowers the least force"
    if least_N >= most_N:
        return f"a longer {key}.wrench_arm_mm lowers the least force"
    if window.served:
        return "the force is right over the whole stroke: lengthen slot.length_mm"
    wanted = f"{shown(least_N, 'N')} and more"
    if isfinite(most_N):
        wanted = f"{number(least_N, 1)} to {shown(most_N, 'N')}"
    ways = [_rates(tool, window), _arm(window)]
    told = ", or ".join(way for way in ways if way)
    told = told or f"change the preload ({preload_key(tool)}), or take other [[springs]] for {key}"
    return f"a force of {wanted} over the stroke would do: {told}"


def _rates(tool: Tool, window: Window) -> str:
    """Return rates of the springs that put both ends of the stroke in the window; "" if none do."""
    if not (window.preload_N > 0 and window.full_force_N > 0):
        return ""
    least = window.two_hands_N / window.preload_N
    most = window.ceiling_N / window.full_force_N
    stiffer = least > 1
    step = ceil if stiffer else floor
    share = least if stiffer else most
    present = [one.spring.rate_N_per_mm for one in tool.in_place]
    rates = [step(rate * share * 1000 + (-1e-6 if stiffer else 1e-6)) / 1000 for rate in present]
    shares = [rate / former for rate, former in zip(rates, present, strict=True)]
    fitting = least - 1e-9 <= min(shares) and max(shares) <= most + 1e-9
    if not fitting or min(rates) <= 0 or max(rates) > STIFFEST_N_PER_MM:
        return ""
    verb = "raise" if stiffer else "lower"
    parts = [
        f"{one.key}.rate_N_per_mm to {shown(rate, 'N/mm')}"
        for one, rate in zip(tool.in_place, rates, strict=True)
    ]
    return f"{verb} {' and '.join(parts)} by springs of the same lengths"


def _arm(window: Window) -> str:
    """Return the wrench with which the preload holds the tap; "" where that is not the matter."""
    weight_N = window.weight_floor_N
    spare_N = window.preload_N - weight_N
    if not (
        0 < spare_N < window.two_hands_N - weight_N and window.full_force_N <= window.ceiling_N
    ):
        return ""
    arm_mm = window.tap.wrench_arm_mm * (window.two_hands_N - weight_N) / spare_N
    if arm_mm > LONGEST_MM / 4:
        return ""
    return f"take a wrench with a {window.seat.key}.wrench_arm_mm of {up_to(arm_mm)}"
