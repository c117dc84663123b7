"""What the tolerances of springs and plug make of the forces: least, nominal and greatest.

The extremes are those of the force-length curve itself. Force at a length rises with every rate and
every free length, and falls with the room; so one curve with all springs weak and short, and one
with all stiff and long, bound it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import nan

from generator.formulas import stack
from generator.inputs.tables import Plug
from generator.model import parts, springs
from generator.model.shank import shank_of
from generator.model.tool import Orientation, Tool, deeper_mm


@dataclass(frozen=True, slots=True)
class Span:
    """A value with its extremes; NaN where it cannot be worked out.

    Attributes:
        least: The least.
        nominal: With every size as given.
        greatest: The greatest.
    """

    least: float
    nominal: float
    greatest: float


@dataclass(frozen=True, slots=True)
class ForceBand:
    """The forces of one orientation, and the plug depths that bring the preload back to nominal.

    Attributes:
        orientation: Which end is at work.
        preload_N: Force, plunger forward.
        full_force_N: Force, plunger pushed home; NaN if the springs would be crushed.
        sunk_weakest_mm: How deep the plug's rear face then lies with the weakest springs, or how
            thick the disc is; NaN if nothing does it.
        sunk_stiffest_mm: Likewise with the stiffest springs.
    """

    orientation: Orientation
    preload_N: Span
    full_force_N: Span
    sunk_weakest_mm: float
    sunk_stiffest_mm: float


@dataclass(frozen=True, slots=True)
class PlugRange:
    """How far the plug may be screwed.

    Attributes:
        least_mm: Least depth of its rear face: room for what lies behind it.
        greatest_mm: Greatest depth: its front face at the end of the full thread.
    """

    least_mm: float
    greatest_mm: float


def extreme_curves(tool: Tool) -> tuple[stack.Curve, stack.Curve] | None:
    """Return the curves of all springs at their weakest and at their stiffest.

    None if a spring would be solid at rest with its shortest free length.
    """
    return springs.extreme_curves(tool.springs, tool.parameters.assumptions, tool.separators_mm)


def force_bands(tool: Tool) -> tuple[ForceBand, ...]:
    """Return the forces of each orientation with the tolerances of springs and plug.

    Source:
        Rate within 10 %: two makers' notes on stocked springs. Free length and plug depth are
        assumptions of the parameter file, engineering judgement.
    """
    curves = extreme_curves(tool)
    if curves is None:
        return tuple(
            ForceBand(o, Span(nan, o.preload_N, nan), Span(nan, o.full_force_N, nan), nan, nan)
            for o in tool.orientations
        )
    weak, stiff = curves
    plug_mm = tool.parameters.assumptions.plug_mm

    def span(room_mm: float, nominal_N: float) -> Span:
        least_N = _or_nan(weak.force_N, room_mm + plug_mm)
        return Span(least_N, nominal_N, _or_nan(stiff.force_N, room_mm - plug_mm))

    return tuple(
        ForceBand(
            o,
            span(o.room_extended_mm, o.preload_N),
            span(o.room_compressed_mm, o.full_force_N),
            _sunk_mm(tool, o, weak),
            _sunk_mm(tool, o, stiff),
        )
        for o in tool.orientations
    )


def _or_nan(work_out: Callable[[float], float], value: float) -> float:
    try:
        return work_out(value)
    except ValueError:
        return nan


def _sunk_mm(tool: Tool, o: Orientation, curve: stack.Curve) -> float:
    """Return the plug's depth, or the disc's thickness, that gives the nominal preload then."""
    p = tool.parameters
    if p.disc is not None:
        return p.disc.thickness_mm + deeper_mm(o, curve)
    assert p.plug is not None
    return p.plug.sunk_mm + deeper_mm(o, curve)


def plug_range(tool: Tool, plug: Plug) -> PlugRange:
    """Return between which depths the plug may be screwed as the body is drawn."""
    p = tool.parameters
    behind_mm = parts.second_plug_mm(p)
    bar = shank_of(p.mount).draw_bar
    if bar is not None:
        room = tool.limit("room between draw-bar and plug")
        behind_mm += bar.engaged_mm + max(room.fail, 0.0)
    return PlugRange(behind_mm, parts.rear_full_thread_mm(p) - plug.length_mm)


def margin_curves(tool: Tool, place: int) -> tuple[stack.Curve, stack.Curve] | None:
    """Return the curves that press one place of the row hardest: its own, and that of all springs.

    The springs of the place are at their weakest, all others at their stiffest. None if a spring
    would be solid at rest with its shortest free length.

    Args:
        tool: The tool.
        place: Which of `Tool.springs`, from 0.
    """
    pairs = springs.toleranced_row(tool.springs, tool.parameters.assumptions)
    if pairs is None:
        return None
    row = [pair[0 if n == place else 1] for n, pair in enumerate(pairs)]
    return row[place], stack.in_series(row, tool.separators_mm)


def least_margin_mm(tool: Tool, place: int, longest_solid_mm: float) -> float:
    """Return what is left over a solid length in one place of the row, at the very worst.

    NaN if the springs would be crushed.

    Args:
        tool: The tool.
        place: Which of `Tool.springs`, from 0.
        longest_solid_mm: The solid length to keep clear of.
    """
    curves = margin_curves(tool, place)
    if curves is None or not tool.orientations:
        return nan
    own, row = curves
    room_mm = min(o.room_compressed_mm for o in tool.orientations)
    force_N = _or_nan(row.force_N, room_mm - tool.parameters.assumptions.plug_mm)
    return nan if force_N != force_N else own.length_mm(force_N) - longest_solid_mm
