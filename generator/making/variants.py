"""The ways to go on from measured sizes that are no change of a single cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil
from typing import Final

from generator.inputs.measured import Measured
from generator.inputs.parameters import Parameters
from generator.inputs.quantities import DERIVED_TEXT
from generator.making.as_measured import Made, as_measured, behind
from generator.making.sizes import STAND_OUT_MM
from generator.model.shank import shank_of
from generator.model.tool import Tool
from generator.units import shown

CLEAR_OF_SOCKET_MM: Final = 1.0
"""What a shoulder must keep from the face of its socket; engineering judgement."""

LEAST_BAND_UM: Final = 3.0
"""Limits closer together than this are not to be met by picking; engineering judgement."""

REAMER_STEP_MM: Final = 0.5
"""Reamers and bar go up in such steps where no others are told; common practice, no source."""

REAMERS: Final = 2
"""How many larger reamers are looked at."""


@dataclass(frozen=True, slots=True)
class Variant:
    """A way to go on.

    Attributes:
        made: The tool so far, with what this way changes at once.
        notes: What it is, in sentences; none for the plain way.
    """

    made: Made
    notes: tuple[str, ...]


def variants(tool: Tool, measured: Measured) -> tuple[Variant, ...]:
    """Return the ways to go on, the cheapest first; there is at least one."""
    found = []
    for first in _stand_out(tool, measured, Variant(as_measured(tool, measured), ())):
        found += list(_fits(tool, measured, first))
    return tuple(found)


def _stand_out(tool: Tool, measured: Measured, plain: Variant) -> Iterator[Variant]:
    """Yield what is done about a taper that sinks too far: face the shoulder, or let it sink."""
    stands_mm = measured.stand_out_mm
    due_mm = shank_of(tool.parameters.mount).stand_out_mm
    if stands_mm is None or not stands_mm < due_mm - STAND_OUT_MM:
        yield plain
        return
    less_mm = due_mm - stands_mm
    p, short_mm = plain.made.parameters, plain.made.rear_short_mm
    if p.body.nose_length_mm > less_mm and shank_of(p.mount).taper:
        length_mm = round(p.body.nose_length_mm - less_mm, 6)
        faced = replace(p, body=replace(p.body, nose_length_mm=length_mm))
        yield Variant(
            behind(faced, short_mm - less_mm, -less_mm),
            (
                f"Face the shoulder by {shown(less_mm, 'mm')}: the taper stands out "
                f"{shown(due_mm, 'mm')} again, the nose is {shown(length_mm, 'mm')} long.",
            ),
        )
    if stands_mm >= CLEAR_OF_SOCKET_MM:
        machine = replace(
            p.machine,
            headroom_mm=p.machine.headroom_mm + less_mm,
            ejection_depth_mm=max(p.machine.ejection_depth_mm - less_mm, 0.001),
        )
        yield Variant(
            Made(replace(p, machine=machine), short_mm),
            (
                f"Leave the shoulder: it still clears the socket by {shown(stands_mm, 'mm')}, and "
                f"the tool sits {shown(less_mm, 'mm')} deeper in the machine.",
            ),
        )


def _fits(tool: Tool, measured: Measured, first: Variant) -> Iterator[Variant]:
    """Yield what is done about bore and bar: choose the other to suit, leave it, or go larger."""
    p = first.made.parameters
    off = _outside(tool, measured)
    if off:
        suited = _suited(tool, measured, p)
        if suited is not None:
            yield _with(first, *suited)
    yield first
    if off and measured.bore_mm is not None and measured.plunger_mm is None:
        for size_mm in _larger_mm(p, measured.bore_mm):
            yield _with(
                first,
                _reamed(p, size_mm),
                f"Ream the bore to {shown(size_mm, 'mm')} and take bar of that size.",
            )


def _with(first: Variant, p: Parameters, note: str) -> Variant:
    return Variant(replace(first.made, parameters=p), (*first.notes, note))


def _outside(tool: Tool, measured: Measured) -> bool:
    """Tell whether bore or bar is beyond its limits, or they do not go together."""
    for value_mm, limits in (
        (measured.bore_mm, tool.bore_limits),
        (measured.plunger_mm, tool.plunger_limits),
    ):
        if value_mm is not None:
            off_um = (value_mm - limits.nominal_mm) * 1000
            if not limits.lower_um - 1e-6 <= off_um <= limits.upper_um + 1e-6:
                return True
    both = measured.bore_mm is not None and measured.plunger_mm is not None
    return both and measured.plunger_mm > measured.bore_mm  # type: ignore[operator]  # both known


def _suited(tool: Tool, measured: Measured, p: Parameters) -> tuple[Parameters, str] | None:
    """Return a tool whose other size gives the drawn clearance; None where that cannot be had.

    A bar is picked within its own zone, a bore is reamed or lapped to suit.
    """
    least_um, most_um = max(tool.least_clearance_um, 0.0), tool.greatest_clearance_um
    if measured.plunger_mm is None:
        bore_um = (p.bore.diameter_mm - p.plunger.diameter_mm) * 1000
        own = tool.plunger_limits
        low_um = max(bore_um - most_um, own.lower_um)
        high_um = min(bore_um - least_um, own.upper_um)
        if high_um - low_um < LEAST_BAND_UM:
            return None
        limits_um = (round(low_um, 3), round(high_um, 3))
        plunger = replace(p.plunger, tolerance=DERIVED_TEXT, limits_um=limits_um)
        low_mm, high_mm = (p.plunger.diameter_mm + each / 1000 for each in limits_um)
        return (
            replace(p, plunger=plunger),
            f"Pick bar that measures {shown(low_mm, 'mm')} to {shown(high_mm, 'mm')}: it has the "
            "clearance of the drawing in this bore.",
        )
    if measured.bore_mm is not None and measured.plunger_mm <= measured.bore_mm:
        return None
    if measured.plunger_mm <= tool.plunger_limits.nominal_mm + tool.plunger_limits.upper_um / 1000:
        return None
    bar_mm = measured.plunger_mm
    limits_um = (round(least_um, 3), round(most_um, 3))
    bore = replace(p.bore, diameter_mm=bar_mm, tolerance=DERIVED_TEXT, limits_um=limits_um)
    low_mm, high_mm = (bar_mm + each / 1000 for each in limits_um)
    return (
        replace(p, bore=bore),
        f"Ream or lap the bore to suit the bar: {shown(low_mm, 'mm')} to {shown(high_mm, 'mm')}.",
    )


def _larger_mm(p: Parameters, bore_mm: float) -> tuple[float, ...]:
    """Return the next larger reamers: those of the workshop, else by steps."""
    told = sorted(each for each in p.workshop.reamers_mm if each > bore_mm)
    if told or p.workshop.reamers_mm:
        return tuple(told[:REAMERS])
    first = ceil((bore_mm + 1e-9) / REAMER_STEP_MM) * REAMER_STEP_MM
    return tuple(first + n * REAMER_STEP_MM for n in range(REAMERS))


def _reamed(p: Parameters, size_mm: float) -> Parameters:
    """Return a tool with bore and bar of another size, in their usual zones."""
    bore = replace(p.bore, diameter_mm=size_mm, tolerance="H7", limits_um=None)
    plunger = replace(p.plunger, diameter_mm=size_mm)
    if plunger.limits_um is None:
        plunger = replace(plunger, tolerance=plunger.tolerance or "h8")
    return replace(p, bore=bore, plunger=plunger)
