"""Checks of the pin across the nose that keeps the plunger in, in place of a set screw."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.checks.finding import Finding, down_to, up_to
from generator.checks.retention import blow_N
from generator.checks.springs import preload_key
from generator.formulas import pin as pins
from generator.model import keeping
from generator.model.tool import Tool

BENDING_MPA: Final = {"hardened": (1000.0, 1600.0), "soft": (400.0, 700.0)}
"""Where the pin is doubtful and where it is lost, by its temper; engineering judgement."""


def section(tool: Tool) -> Iterator[Finding]:
    """Check what the slot right through leaves of the plunger."""
    p = tool.parameters
    if p.pin_and_slot is None:
        return
    slot, limit = p.pin_and_slot[1], tool.limit("section left beside the slot")
    width_mm = min(slot.width_mm, p.plunger.diameter_mm)
    share = pins.net_section_share(diameter_mm=p.plunger.diameter_mm, width_mm=width_mm)
    most_mm = _widest_mm(p.plunger.diameter_mm, limit.passes)
    yield Finding(
        limit,
        share * 100,
        f"take a cross_pin.diameter_mm of {down_to(most_mm - 0.1)} and a slot.width_mm of "
        f"{down_to(most_mm)}"
        if most_mm > 1.0
        else "take a thicker plunger (plunger.diameter_mm)",
    )


def _widest_mm(diameter_mm: float, percent: float) -> float:
    """Return the widest slot that leaves so much of a bar, found by halving."""
    low, high = 0.0, diameter_mm
    for _ in range(60):
        middle = (low + high) / 2
        share = pins.net_section_share(diameter_mm=diameter_mm, width_mm=middle)
        low, high = (middle, high) if share * 100 >= percent else (low, middle)
    return low


def held(tool: Tool) -> Iterator[Finding]:
    """Check how the pin is held in the wall: its length there, its ends, and what keeps it in."""
    p = tool.parameters
    if p.cross_pin is None:
        return
    pin = p.cross_pin
    start_mm = keeping.crossing_start_mm(p)
    outside_mm, bore_mm = p.body.nose_diameter_mm / 2, p.bore.diameter_mm / 2
    upper_mm = min(start_mm + pin.length_mm, outside_mm) - bore_mm
    lower_mm = min(-start_mm, outside_mm) - bore_mm
    if pin.support == "one wall":
        lower_mm = upper_mm
    grip = tool.limit("pin in the wall")
    held_mm = min(upper_mm, lower_mm)
    nose_mm = p.body.nose_diameter_mm + 2 * (grip.passes * pin.diameter_mm - held_mm)
    yield Finding(
        grip,
        held_mm / pin.diameter_mm,
        f"raise body.nose_diameter_mm to {up_to(nose_mm)}, or take a thinner cross_pin.diameter_mm",
    )
    sunk = tool.limit("ends of the pin below the nose")
    ends_mm = [outside_mm - start_mm - pin.length_mm]
    if pin.support == "both walls":
        ends_mm.append(outside_mm + start_mm)
    below_mm = min(ends_mm)
    yield Finding(
        sunk,
        below_mm,
        f"shorten cross_pin.length_mm to {down_to(pin.length_mm - sunk.passes + below_mm)}",
    )
    yield Finding(
        tool.limit("pin locked"),
        float(pin.locking != "none"),
        'set cross_pin.locking to "pressed", "retaining compound" or "staked"',
    )


def blow(tool: Tool) -> Iterator[Finding]:
    """Check how the pin bends under the blow of the plunger that flies out."""
    p = tool.parameters
    if p.cross_pin is None:
        return
    pin = p.cross_pin
    warn_MPa, fail_MPa = BENDING_MPA[pin.temper]
    limit = tool.limit("bending of the pin", warn=warn_MPa, fail=fail_MPa)
    force_N, stress_MPa = blow_N(tool), float("nan")
    advice = f"first give the springs room ({preload_key(tool)}, slot.length_mm)"
    if force_N >= 0:
        stress_MPa = pins.bending_MPa(
            force_N=force_N,
            diameter_mm=pin.diameter_mm,
            span_mm=p.bore.diameter_mm,
            one_wall=pin.support == "one wall",
        )
        need_mm = pin.diameter_mm
        if limit.passes > 0:
            need_mm *= (stress_MPa / limit.passes) ** (1 / 3)
        both = "" if pin.support == "both walls" else 'cross_pin.support = "both walls", '
        hard = "" if pin.temper == "hardened" else 'cross_pin.temper = "hardened", '
        advice = (
            f"take {both}{hard}a cross_pin.diameter_mm of {up_to(need_mm)}, or softer [[springs]]"
        )
    yield Finding(limit, stress_MPa, advice)
