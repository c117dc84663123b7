"""Checks of the wire of each spring: stress, coil index and number of coils.

Two rules judge the stress, and each has a stress of its own. Handbooks hold the stress at the
inside of the coil, corrected for curvature, against a share of the strength that depends on the
kind of wire. EN 13906-1 holds the uncorrected stress of the solid spring against another share.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding, down_to, up_to
from generator.checks.springs import full_force_N
from generator.formulas import coils, spring
from generator.inputs.tables import InnerSpring
from generator.model.springs import CoilSpring, bought_pitch_mm
from generator.model.tool import Limiting, Tool
from generator.standards.bands import SpringWire
from generator.standards.limits import NONE, Limit


def corrected_limit(tool: Limiting, each: CoilSpring) -> Limit:
    """Return the share of the strength that the corrected stress of a spring may reach."""
    row = SpringWire.find(each.grade)
    return tool.limit(
        "corrected stress at full compression",
        warn=row.corrected_share,
        fail=NONE if row.elastic_share is None else row.elastic_share,
    )


def corrected_stress(tool: Tool) -> Iterator[Finding]:
    """Check the corrected stress of each spring at full compression."""
    full_N = full_force_N(tool)
    for one in tool.in_place:
        each, limit = one.spring, corrected_limit(tool, one.spring)
        force_N = one.bears_N(full_N)
        share = float("nan")
        if force_N == force_N:
            share = each.corrected_stress_MPa(force_N) / each.strength_MPa
        most_N = limit.passes * each.strength_MPa / each.corrected_stress_MPa(1.0)
        yield Finding(
            limit,
            share,
            f"take {one.key} with a thicker wire_mm, or one that bears no more than "
            f"{down_to(most_N, 'N')} at full compression",
            subject=one.subject,
        )


def uncorrected_stress(tool: Tool) -> Iterator[Finding]:
    """Check the uncorrected stress of each spring when it is solid."""
    limit = tool.limit("uncorrected stress when solid")
    for one in tool.in_place:
        each, key = one.spring, one.key
        share = each.stress_MPa(each.solid_force_N) / each.strength_MPa
        free_mm = each.solid_mm + (each.free_mm - each.solid_mm) * limit.passes / share
        advice = f"take {key}.free_mm of {down_to(free_mm)} or less"
        if each.bought is not None:
            advice = f"take {key} wound with a smaller pitch: a shorter free_mm for its coils"
        yield Finding(limit, share, advice, subject=one.subject)


def index(tool: Tool) -> Iterator[Finding]:
    """Check the coil index of each spring."""
    least, most = tool.limit("coil index, least"), tool.limit("coil index, greatest")
    for one in tool.in_place:
        each, key = one.spring, one.key
        small_mm, large_mm = ((limit.passes + 1) * each.wire_mm for limit in (least, most))
        thinner = f"take a thinner {key}.wire_mm"
        yield Finding(
            least,
            each.index,
            f"take {key}.outside_mm of {up_to(small_mm)} or more"
            if _stocked(small_mm, each)
            else thinner,
            subject=one.subject,
        )
        yield Finding(
            most,
            each.index,
            f"take {key}.outside_mm of {down_to(large_mm)} or less"
            if _stocked(large_mm, each)
            else f"take a thicker {key}.wire_mm",
            subject=one.subject,
        )


def _stocked(outside_mm: float, each: CoilSpring) -> bool:
    """Tell whether an outside diameter can be wound and is in the range of stocked springs."""
    try:
        spring.outside_tolerance_mm(outside_mm=outside_mm)
        spring.outside_tolerance_mm(outside_mm=outside_mm + 0.001)
    except ValueError:
        return False
    return outside_mm > 2 * each.wire_mm + 0.001


def active_coils(tool: Tool) -> Iterator[Finding]:
    """Check that each spring has coils enough for its rate to be known."""
    limit = tool.limit("active coils")
    asked = [one for outer in tool.parameters.springs for one in (outer, outer.inner) if one]
    for one, told in zip(tool.in_place, asked, strict=True):
        advice = _more_coils(
            one.key, told, limit, told_total=f"{one.key}.active_coils" in tool.derived
        )
        yield Finding(limit, one.spring.active_coils, advice, subject=one.subject)


def _more_coils(key: str, asked: InnerSpring, limit: Limit, *, told_total: bool) -> str:
    """Return the advice for more active coils: more bought, or a longer piece cut off."""
    longer = f"take a longer {key}.free_mm, with more coils"
    if asked.cut_to_mm is not None:
        sizes = {"wire_mm": asked.wire_mm, "pitch_mm": bought_pitch_mm(asked)}
        cut_mm, whole_mm = (
            coils.cut_length_mm(**sizes, active_coils=active, ends=asked.ends)
            for active in (limit.passes, asked.active_coils)
        )
        fits = cut_mm + 0.002 < min(asked.free_mm, whole_mm)
        return f"raise {key}.cut_to_mm to {up_to(cut_mm)}" if fits else longer
    total = coils.total_coils(active_coils=limit.passes, ends=asked.ends)
    solid_mm = coils.solid_length_mm(wire_mm=asked.wire_mm, total_coils=total, ends=asked.ends)
    if solid_mm + 0.1 * asked.wire_mm > asked.free_mm:
        return longer
    if told_total:
        return f"take {key}.total_coils of {up_to(total, '')} or more"
    return f"take {key}.active_coils of {up_to(limit.passes, '')} or more"
