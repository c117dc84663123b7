"""Checks of the springs, and of the small parts they bear on."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding
from generator.inputs.parameters import CountersinkTip, PointTip
from generator.model.tool import Tool
from generator.units import shown

SOLID_SHARE = 1.05
LEAST_MARGIN_MM = 1.0
LOOSEST_MM = 0.3


def _label(tool: Tool, place: int) -> str:
    return f"spring {place}" if len(tool.springs) > 1 else ""


def _key(place: int) -> str:
    return f"springs[{place}]"


def free_in_bore(tool: Tool) -> Iterator[Finding]:
    """Check each spring, at its largest and closed solid, against the bore."""
    limit = tool.limit("spring free in the bore")
    bore_mm = tool.parameters.bore.diameter_mm
    for place, spring in enumerate(tool.springs, 1):
        value_mm = bore_mm - spring.outside_greatest_mm
        yield Finding(
            limit,
            value_mm,
            f"take {_key(place)}.outside_mm of "
            f"{shown(spring.outside_mm - (limit.fail - value_mm), 'mm')} or less",
            subject=_label(tool, place),
        )


def solid_margins_mm(tool: Tool) -> tuple[float, ...]:
    """Return for each spring what is left over 1.05 solid lengths at full compression."""
    force_N = max((o.full_force_N for o in tool.orientations), default=float("nan"))
    if any(o.full_force_N != o.full_force_N for o in tool.orientations):
        force_N = float("nan")
    return tuple(
        spring.free_mm - force_N / spring.rate_N_per_mm - SOLID_SHARE * spring.solid_mm
        for spring in tool.springs
    )


def solid_margin(tool: Tool) -> Iterator[Finding]:
    """Check that the screw stops the plunger before any spring is solid."""
    for place, (spring, margin_mm) in enumerate(
        zip(tool.springs, solid_margins_mm(tool), strict=True), 1
    ):
        limit = tool.limit(
            "solid margin",
            warn=max(spring.least_gap_mm, LEAST_MARGIN_MM),
            fail=spring.least_gap_mm,
        )
        room_mm = (limit.warn - margin_mm) * spring.rate_N_per_mm / tool.rate_N_per_mm
        known = room_mm == room_mm
        sunk_mm = tool.parameters.plug.sunk_mm - room_mm
        advice = "give the springs more room: shorten the slot, or take shorter or fewer springs"
        if known:
            advice = (
                f"give the springs {shown(room_mm, 'mm')} more room: plug.sunk_mm of "
                f"{shown(sunk_mm, 'mm')}, or slot.length_mm shorter by as much"
            )
        yield Finding(limit, margin_mm, advice, subject=_label(tool, place))


def stress(tool: Tool) -> Iterator[Finding]:
    """Check the uncorrected stress of each spring at full compression and when solid."""
    force_N = max((o.full_force_N for o in tool.orientations), default=float("nan"))
    working, solid = tool.limit("stress at full compression"), tool.limit("stress when solid")
    for place, spring in enumerate(tool.springs, 1):
        share = spring.stress_MPa(force_N) / spring.strength_MPa
        yield Finding(
            working,
            share,
            f"take {_key(place)} with a thicker wire or more coils, or a travel shorter by "
            f"{shown(max(0.0, 1 - working.warn / share) * 100, '%')}",
            subject=_label(tool, place),
        )
        closed = spring.stress_MPa(spring.solid_force_N) / spring.strength_MPa
        free_mm = spring.solid_mm + (spring.free_mm - spring.solid_mm) * solid.fail / closed
        yield Finding(
            solid,
            closed,
            f"take {_key(place)}.free_mm of {shown(free_mm, 'mm')} or less",
            subject=_label(tool, place),
        )


def forces(tool: Tool) -> Iterator[Finding]:
    """Check preload, force ratio and the likeness of the two orientations."""
    p = tool.parameters
    least, ratio = tool.limit("preload"), tool.limit("force ratio")
    for o in tool.orientations:
        more_mm = (least.warn - o.preload_N) / tool.rate_N_per_mm
        yield Finding(
            least,
            o.preload_N,
            f"raise plug.sunk_mm to {shown(p.plug.sunk_mm + more_mm, 'mm')}, or take a longer "
            "spring",
            subject=o.name,
        )
        value = o.full_force_N / o.preload_N if o.preload_N > 0 else float("nan")
        need_N = o.full_force_N / ratio.warn
        yield Finding(
            ratio,
            value,
            f"take a longer, softer spring: a preload of {shown(need_N, 'N')} would do, or a "
            "shorter travel",
            subject=o.name,
        )
    if tool.reversible:
        one, other = (o.preload_N for o in tool.orientations)
        larger = max(one, other)
        yield Finding(
            tool.limit("difference of the preloads"),
            abs(one - other) / larger * 100 if larger > 0 else float("nan"),
            "put a flat [button] between plunger and springs, or make slot.front_mm "
            f"{shown((p.plunger.length_mm - p.slot.length_mm) / 2, 'mm')}",
        )


def seats(tool: Tool) -> Iterator[Finding]:
    """Check what the springs bear on: plunger, button, separators."""
    p = tool.parameters
    coned = [
        o
        for o in tool.orientations
        if p.button is None
        and (
            isinstance(o.inner.tip, PointTip)
            or (
                isinstance(o.inner.tip, CountersinkTip)
                and tool.springs[0].outside_mm < o.inner.tip.mouth_mm
            )
        )
    ]
    yield Finding(
        tool.limit("flat seat for the springs"),
        float(not coned),
        "add a [button] of 2 mm",
    )
    if len(tool.springs) > 1:
        yield Finding(
            tool.limit("separators"),
            float(0 if tool.separator is None else len(tool.springs) - 1) - (len(tool.springs) - 1),
            f"add a [separator] of 1 mm, {len(tool.springs) - 1} to be made",
        )


def button(tool: Tool) -> Iterator[Finding]:
    """Check the button for itself and against the plunger's ends."""
    p = tool.parameters
    if p.button is None:
        return
    thick = tool.limit("button thickness")
    yield Finding(
        thick, p.button.thickness_mm, f"raise button.thickness_mm to {shown(thick.warn, 'mm')}"
    )
    yield from _disc(
        tool, "button", p.button.diameter_mm, max(p.button.vent_mm, p.button.recess_mm)
    )
    if p.button.recess_mm <= p.button.vent_mm:
        return
    assert tool.button is not None
    floor = tool.limit("floor of the button's recess")
    depth_mm = tool.button.outline.surface("recess").length_mm
    yield Finding(
        floor,
        p.button.thickness_mm - depth_mm,
        f"raise button.thickness_mm to {shown(depth_mm + floor.warn, 'mm')}",
    )
    for o in tool.orientations:
        if isinstance(o.inner.tip, PointTip):
            yield Finding(
                tool.limit("working tip clear of the button"),
                p.button.vent_mm - o.inner.tip.flat_mm,
                f"raise button.vent_mm to {shown(o.inner.tip.flat_mm, 'mm')}",
            )


def _disc(tool: Tool, table: str, diameter_mm: float, hole_mm: float) -> Iterator[Finding]:
    bore_mm = tool.parameters.bore.diameter_mm
    for name in ("disc free in the bore, least", "disc free in the bore, greatest"):
        limit = tool.limit(name)
        yield Finding(
            limit,
            bore_mm - diameter_mm,
            f"set {table}.diameter_mm to {shown(bore_mm - LOOSEST_MM, 'mm')}",
            subject=table,
        )
    around = tool.limit("disc around its hole")
    yield Finding(
        around,
        (diameter_mm - hole_mm) / 2,
        f"keep its holes within {shown(diameter_mm - 2 * around.warn, 'mm')}",
        subject=table,
    )


def separator(tool: Tool) -> Iterator[Finding]:
    """Check the separators in the bore."""
    p = tool.parameters
    if tool.separator is not None and p.separator is not None:
        yield from _disc(tool, "separator", p.separator.diameter_mm, p.separator.hole_mm)
