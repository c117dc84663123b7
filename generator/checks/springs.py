"""Checks of the springs, and of the small parts they bear on."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.finding import Finding, down_to, up_to
from generator.formulas.coils import front_end, rear_end
from generator.formulas.spring import LEAST_OUTSIDE_MM
from generator.model import parts
from generator.model.completion import LOOSE_DISC_MM
from generator.model.springs import LEAST_MARGIN_MM, CoilSpring, outside_greatest_mm
from generator.model.tool import Limiting, Orientation, Tool
from generator.standards.limits import NONE, Limit
from generator.units import shown

LIGHT_N = 1.0
"""Preload that does for a pick-up centre, which must not mark the work; engineering judgement."""


def free_in_bore(tool: Tool) -> Iterator[Finding]:
    """Check each spring, at its largest and closed solid, against the bore."""
    limit = tool.limit("spring free in the bore")
    bore_mm = parts.pocket_mm(tool.parameters)
    for one in tool.in_place:
        if one.inner:
            continue
        spring = one.spring
        outside_mm = fitting_mm(spring, bore_mm - limit.passes)
        yield Finding(
            limit,
            bore_mm - spring.outside_greatest_mm,
            f"take {one.key}.outside_mm of {down_to(outside_mm)} or less"
            if outside_mm > 2 * spring.wire_mm + 0.001
            else f"take a thinner {one.key}.wire_mm, or a larger {pocket_key(tool)}",
            subject=one.subject,
        )


def pocket_key(tool: Tool) -> str:
    """Return the key of the bore in which the springs lie."""
    return "bore.diameter_mm" if tool.parameters.shoulder is None else "shoulder.pocket_mm"


def fitting_mm(spring: CoilSpring, most_mm: float) -> float:
    """Return the outside diameter with which a spring stays within a size at its largest.

    A smaller coil grows a little more, so a few steps are needed; 0 if none fits.
    """
    outside_mm = spring.outside_mm
    for _ in range(50):
        outside_mm = float(down_to(outside_mm).split()[0])
        if outside_mm <= 2 * spring.wire_mm or outside_mm < LEAST_OUTSIDE_MM:
            return 0.0
        greatest_mm = outside_greatest_mm(
            wire_mm=spring.wire_mm,
            outside_mm=outside_mm,
            active_coils=spring.active_coils,
            free_mm=spring.free_mm,
            ends=spring.ends,
        )
        if greatest_mm <= most_mm + 1e-9:
            return outside_mm
        outside_mm -= max(greatest_mm - most_mm, 0.001)
    return 0.0


def room_advice(tool: Tool, o: Orientation, need_mm: float, *, or_less: bool = False) -> str:
    """Return how the springs get a room, plunger forward: by the plug, or by a longer body."""
    p = tool.parameters
    more_mm = need_mm - o.room_extended_mm
    if p.disc is not None:
        bottom_mm = p.disc.bottom_mm + more_mm
        change = "raise" if more_mm > 0 else "lower"
        return f"{change} disc.bottom_mm to {(down_to if or_less else up_to)(bottom_mm)}"
    assert p.plug is not None
    sunk_mm, nose_mm = p.plug.sunk_mm - more_mm, p.body.nose_length_mm + more_mm
    sunk, nose = (
        (up_to(sunk_mm), down_to(nose_mm)) if or_less else (down_to(sunk_mm), up_to(nose_mm))
    )
    if more_mm < 0:
        return f"raise plug.sunk_mm to {sunk}"
    lower = f"lower plug.sunk_mm to {sunk}, or " if sunk_mm >= 0 else ""
    return f"{lower}raise body.nose_length_mm to {nose}"


def preload_key(tool: Tool) -> str:
    """Return the key that sets the preload: the depth of the plug, or the disc's thickness."""
    return "plug.sunk_mm" if tool.parameters.disc is None else "disc.thickness_mm"


def full_force_N(tool: Tool) -> float:
    """Return the greatest full force of all orientations; NaN if one would crush the springs."""
    forces_N = [o.full_force_N for o in tool.orientations]
    return float("nan") if any(force_N != force_N for force_N in forces_N) else max(forces_N)


def solid_margins_mm(tool: Tool) -> tuple[float, ...]:
    """Return for each spring what is left over its longest solid length at full compression.

    In the order of `Tool.in_place`; a spring inside another one has the length of its place.
    """
    force_N = full_force_N(tool)
    return tuple(one.room_mm(force_N) - one.spring.longest_solid_mm for one in tool.in_place)


def least_margin(tool: Limiting, each: CoilSpring) -> Limit:
    """Return what a spring must keep over its longest solid length."""
    return tool.limit(
        "solid margin",
        warn=max(each.least_gap_mm, LEAST_MARGIN_MM),
        fail=each.least_gap_mm,
    )


def solid_margin(tool: Tool) -> Iterator[Finding]:
    """Check that the screw stops the plunger before any spring is solid."""
    for one, margin_mm in zip(tool.in_place, solid_margins_mm(tool), strict=True):
        limit = least_margin(tool, one.spring)
        length_mm, curve = one.spring.longest_solid_mm + limit.passes, one.place.curve
        advice = f"take {one.key} with a longer free_mm, or with fewer coils"
        if tool.orientations and curve.end_mm <= length_mm < curve.free_mm:
            tightest = min(tool.orientations, key=lambda o: o.room_compressed_mm)
            need_mm = tool.curve.length_mm(curve.force_N(length_mm))
            advice = room_advice(tool, tightest, need_mm + tightest.travel_mm)
        yield Finding(limit, margin_mm, advice, subject=one.subject)


def forces(tool: Tool) -> Iterator[Finding]:
    """Check preload, force ratio and the likeness of the two orientations."""
    light = LIGHT_N if tool.parameters.pick_up is not None else NONE
    least, ratio = tool.limit("preload", warn=light), tool.limit("force ratio")
    for o in tool.orientations:
        need_mm = tool.curve.length_mm(max(0.0, least.passes))
        advice = "take stiffer [[springs]]"
        if least.passes < tool.curve.end_force_N:
            advice = room_advice(tool, o, need_mm, or_less=True)
        yield Finding(least, o.preload_N, advice, subject=o.name)
        value = o.full_force_N / o.preload_N if o.preload_N > 0 else float("nan")
        softer = "take longer, softer [[springs]]"
        if ratio.passes > 0 and o.full_force_N > 0:
            softer += f": a preload of {up_to(o.full_force_N / ratio.passes, 'N')} would do"
        shorter = "slot.length_mm" if tool.parameters.slot is not None else "shoulder.travel_mm"
        yield Finding(ratio, value, f"{softer}, or shorten {shorter}", subject=o.name)
    if tool.reversible:
        one, other = (o.preload_N for o in tool.orientations)
        larger = max(one, other)
        yield Finding(
            tool.limit("difference of the preloads"),
            abs(one - other) / larger * 100 if larger > 0 else float("nan"),
            _alike(tool, larger),
        )


def _alike(tool: Tool, larger_N: float) -> str:
    """Return the advice for two preloads that differ: a button, or the slot moved along."""
    p, slot = tool.parameters, tool.parameters.slot
    assert slot is not None  # a shouldered plunger has one working end
    one, other = tool.orientations
    room_mm = (one.room_extended_mm + other.room_extended_mm) / 2
    front_mm = slot.front_mm - (one.room_extended_mm - other.room_extended_mm) / 2
    if not larger_N > 0 or not tool.curve.end_mm < room_mm < tool.curve.free_mm:
        return f"first give the springs a preload ({preload_key(tool)})"
    if one.seat_mm != other.seat_mm and p.button is None:
        return "put a flat [button] between plunger and springs"
    if front_mm < 0.001:
        return "raise plunger.length_mm: the slot is longer"
    moved = f"set slot.front_mm to {shown(front_mm, 'mm')}"
    if "plunger.length_mm" in tool.derived:
        moved = f"set plunger.length_mm to {shown(p.plunger.length_mm, 'mm')} and {moved}"
    return moved


def seats(tool: Tool) -> Iterator[Finding]:
    """Check what the springs bear on: plunger, button, separators."""
    p = tool.parameters
    coned = [
        o
        for o in tool.orientations
        if p.button is None
        and p.shoulder is None
        and (
            o.inner.point is not None
            or o.inner.ball_mm > tool.springs[0].inside_mm
            or (o.inner.sink is not None and tool.springs[0].outside_mm < o.inner.sink.mouth_mm)
        )
    ]
    yield Finding(
        tool.limit("flat seat for the springs"),
        float(not coned),
        "add a [button] of 2 mm",
    )
    if any(
        not end(one.spring.ends).endswith("ground")
        for one in tool.in_place
        for end in (front_end, rear_end)
    ):
        yield Finding(
            tool.limit("unground ends on a disc"),
            float(p.button is not None or p.shoulder is not None),
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
        thick, p.button.thickness_mm, f"raise button.thickness_mm to {up_to(thick.passes)}"
    )
    for o in tool.orientations:
        if o.inner.ball_mm:
            over = tool.limit("ball wider than the button's hole")
            vent_mm = o.inner.ball_mm - over.passes
            yield Finding(
                over,
                o.inner.ball_mm - p.button.vent_mm,
                f"lower button.vent_mm to {down_to(vent_mm)}"
                if vent_mm >= 0
                else "take a larger ball",
                subject=o.name,
            )
    holes = {"button.vent_mm": p.button.vent_mm, "button.recess_mm": p.button.recess_mm}
    yield from _disc(tool, "button", p.button.diameter_mm, holes)
    if p.button.recess_mm <= p.button.vent_mm:
        return
    assert tool.button is not None
    floor = tool.limit("floor of the button's recess")
    depth_mm = tool.button.outline.surface("recess").length_mm
    yield Finding(
        floor,
        p.button.thickness_mm - depth_mm,
        f"raise button.thickness_mm to {up_to(depth_mm + floor.passes)}",
    )
    for o in tool.orientations:
        if o.inner.point is not None:
            clear = tool.limit("working tip clear of the button")
            yield Finding(
                clear,
                p.button.vent_mm - o.inner.point.flat_mm,
                f"raise button.vent_mm to {up_to(o.inner.point.flat_mm + clear.passes)}",
                subject=o.name,
            )


def _disc(tool: Tool, table: str, diameter_mm: float, holes: dict[str, float]) -> Iterator[Finding]:
    bore_mm = parts.pocket_mm(tool.parameters)
    free, loose = (tool.limit(f"disc free in the bore, {one}") for one in ("least", "greatest"))
    right_mm = bore_mm - max(free.passes, min(loose.passes, LOOSE_DISC_MM))
    for limit in (free, loose):
        yield Finding(
            limit,
            bore_mm - diameter_mm,
            f"set {table}.diameter_mm to {shown(right_mm, 'mm')}"
            if right_mm >= 0.001
            else f"take a larger {pocket_key(tool)}",
            subject=table,
        )
    around = tool.limit("disc around its hole")
    most_mm = diameter_mm - 2 * around.passes
    smaller = (
        f"lower {key} to {down_to(most_mm)}" for key, hole_mm in holes.items() if hole_mm > most_mm
    )
    yield Finding(
        around,
        (diameter_mm - max(holes.values())) / 2,
        " and ".join(smaller) if most_mm >= 0.5 else f"take a larger {pocket_key(tool)}",
        subject=table,
    )


def separator(tool: Tool) -> Iterator[Finding]:
    """Check the separators in the bore."""
    p = tool.parameters
    if tool.separator is not None and p.separator is not None:
        holes = {"separator.hole_mm": p.separator.hole_mm}
        yield from _disc(tool, "separator", p.separator.diameter_mm, holes)
