"""Checks of springs inside one another, and of what tolerances make of the forces."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding, down_to
from generator.checks.springs import fitting_mm, preload_key, room_advice
from generator.model import parts
from generator.model.springs import CoilSpring
from generator.model.tool import Tool
from generator.use.bands import extreme_curves, force_bands, least_margin_mm, margin_curves

LEAST_HOLE_MM = 0.5


def nested(tool: Tool) -> Iterator[Finding]:
    """Check each spring inside another one: gap, hand, and what it stands on."""
    gap = tool.limit("gap between nested coils")
    for one in tool.in_place:
        if not one.inner:
            continue
        outer, inner = one.place, one.spring
        smaller_mm = fitting_mm(inner, outer.inside_least_mm - 2 * gap.passes)
        yield Finding(
            gap,
            gap_mm(outer, inner),
            f"take {one.key}.outside_mm of {down_to(smaller_mm)} or less"
            if smaller_mm > 2 * inner.wire_mm + 0.001
            else f"take a thinner {one.key}.wire_mm",
            subject=one.subject,
        )
        other = "left" if outer.hand == "right" else "right"
        yield Finding(
            tool.limit("hands of nested springs"),
            float(outer.hand != inner.hand),
            f'set {one.key}.hand to "{other}"',
            subject=one.subject,
        )
    yield from _seats(tool)


def gap_mm(outer: CoilSpring, inner: CoilSpring) -> float:
    """Return the radial gap of two coils, the outer smallest and the inner largest."""
    return (outer.inside_least_mm - inner.outside_greatest_mm) / 2


def _seats(tool: Tool) -> Iterator[Finding]:
    """Check that no edge of an inner spring gets over a hole, wherever it lies in the outer one."""
    limit = tool.limit("seat of the inner spring")
    for one in tool.in_place:
        if not one.inner:
            continue
        inner, loose_mm = one.spring, max(0.0, one.place.inside_mm - one.spring.outside_mm) / 2
        most_mm = inner.outside_mm - 2 * (loose_mm + limit.passes)
        holes = _holes_mm(tool, one.place)
        smaller = [
            f"lower {key} to {down_to(most_mm)}"
            for key, hole_mm in holes.items()
            if hole_mm > most_mm
        ]
        advice = f"take a wider {one.key}.outside_mm, or add a flat [button]"
        if smaller and most_mm >= LEAST_HOLE_MM and not any("tip" in way for way in smaller):
            advice = " and ".join(smaller)
        yield Finding(
            limit,
            (inner.outside_mm - max(holes.values())) / 2 - loose_mm,
            advice,
            subject=one.subject,
        )


def _holes_mm(tool: Tool, place: CoilSpring) -> dict[str, float]:
    """Return the holes in the two faces that a place of the row stands on, by parameter key."""
    p = tool.parameters
    first, last = (place is tool.springs[n] for n in (0, -1))
    holes: dict[str, float] = {}
    if first and p.button is not None:
        holes["button.vent_mm"] = p.button.vent_mm
    elif first:
        holes["tip"] = max(_mouth_mm(tool), 0.0)
    if last:
        holes |= parts.way_out_mm(p)
    if p.separator is not None and not (first and last):
        holes["separator.hole_mm"] = p.separator.hole_mm
    return holes or {"none": 0.0}


def _mouth_mm(tool: Tool) -> float:
    """Return the widest opening in the plunger's inner end; of a cone, the whole plunger."""
    widths = [
        o.inner.sink.mouth_mm
        if o.inner.sink
        else tool.parameters.plunger.diameter_mm
        if o.inner.point
        else 0.0
        for o in tool.orientations
    ]
    return max(widths, default=0.0)


def tolerances(tool: Tool) -> Iterator[Finding]:
    """Check preload and solid margin with springs at the ends of their tolerances."""
    curves, plug_mm = extreme_curves(tool), tool.parameters.assumptions.plug_mm
    least = tool.limit("preload with tolerances", warn=tool.limit("preload").fail)
    for band in force_bands(tool):
        advice = "take stiffer [[springs]]"
        if curves is not None and least.passes < curves[0].end_force_N:
            need_mm = curves[0].length_mm(max(0.0, least.passes)) - plug_mm
            advice = room_advice(tool, band.orientation, need_mm, or_less=True)
            advice += f", or set the plug ({preload_key(tool)}) by the force, not by its depth"
        yield Finding(least, band.preload_N.least, advice, subject=band.orientation.name)
    limit = tool.limit("solid margin with tolerances")
    place = -1
    for one in tool.in_place:
        place += not one.inner
        solid_mm = one.spring.longest_solid_mm
        yield Finding(
            limit,
            least_margin_mm(tool, place, solid_mm),
            _more_room(tool, place, solid_mm + limit.passes)
            or f"take {one.key} with a longer free_mm, or with fewer coils",
            subject=one.subject,
        )


def _more_room(tool: Tool, place: int, length_mm: float) -> str:
    """Return the advice that leaves one place of the row a length; "" if no room does."""
    curves = margin_curves(tool, place)
    if curves is None or not tool.orientations:
        return ""
    own, row = curves
    if not own.end_mm <= length_mm < own.free_mm:
        return ""
    need_mm = row.length_mm(own.force_N(length_mm)) + tool.parameters.assumptions.plug_mm
    tightest = min(tool.orientations, key=lambda o: o.room_compressed_mm)
    return room_advice(tool, tightest, need_mm + tightest.travel_mm)
