"""A tool with what was measured in place of what was drawn."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, TypeVar

from generator.inputs.measured import Measured, MeasuredInner, MeasuredSpring, Weighed
from generator.inputs.parameters import Parameters
from generator.inputs.quantities import DERIVED, DERIVED_TEXT, is_derived
from generator.inputs.tables import InnerSpring, Spring
from generator.making.sizes import Size, sizes, with_value
from generator.model import parts
from generator.model.shank import shank_of
from generator.model.springs import CoilSpring
from generator.model.tool import Orientation, Tool, design

GRAVITY_N_PER_KG: Final = 9.80665
FAR_MM: Final = 50.0
"""Where the second run-out is read, out of the nose."""

SHIFT_MM: Final = 5.0
"""Springs that seem shorter or longer than this by the scale are no such springs."""

STEPS: Final = 60

Wound = TypeVar("Wound", bound=InnerSpring)


@dataclass(frozen=True, slots=True)
class Made:
    """The parameters of a tool as it is made so far.

    Attributes:
        parameters: Measured sizes in the place of drawn ones; what is still to be cut, as drawn.
        rear_short_mm: How much shorter the body is behind the nose than these parameters say. The
            depths of plug and thread count from the rear end of the parameters, so that their front
            ends are in the right place; from the real end they are so much less.
    """

    parameters: Parameters
    rear_short_mm: float = 0.0


def asked(tool: Tool) -> Parameters:
    """Return the completed parameters, with what nobody measured left to be derived.

    That is the rates of the springs, how deep the rear thread goes, and the travel that a tail
    ends.

    To design with them gives the same tool again.
    """
    p = tool.parameters

    def own(spring: Wound, key: str) -> Wound:
        if f"{key}.rate_N_per_mm" in tool.derived:
            spring = replace(spring, rate_N_per_mm=DERIVED)
        if isinstance(spring, Spring) and spring.inner is not None:
            spring = replace(spring, inner=own(spring.inner, f"{key}.inner"))
        return spring

    springs = tuple(own(each, f"springs[{place}]") for place, each in enumerate(p.springs, 1))
    plug, shoulder = p.plug, p.shoulder
    if plug is not None and "plug.tapped_mm" in tool.derived:
        plug = replace(plug, tapped_mm=DERIVED)
    if shoulder is not None:
        shoulder = replace(shoulder, travel_mm=DERIVED)
    return replace(p, springs=springs, plug=plug, shoulder=shoulder)


def as_measured(tool: Tool, measured: Measured) -> Made:
    """Return a tool as it is made so far.

    A size with metal still on outside its limits counts as cut to its nominal: that is still to be
    done. The limits of a measured size close up to it.
    """
    p = asked(tool)
    for size in sizes(tool):
        value = getattr(measured, size.key)
        if value is not None and size.path:
            p = _with_size(p, size, float(value))
    made = _length(_run_out(_springs(tool, p, measured), measured), measured)
    if measured.scale:
        made = replace(made, parameters=_weighed(tool, made.parameters, measured.scale))
    return made


def _with_size(p: Parameters, size: Size, value_mm: float) -> Parameters:
    if size.verdict(value_mm) == "rework":
        return p
    p = with_value(p, size.path, value_mm)
    if size.key == "bore_mm":
        return replace(p, bore=replace(p.bore, tolerance=DERIVED_TEXT, limits_um=(0.0, 0.0)))
    if size.key == "plunger_mm":
        plunger = replace(p.plunger, tolerance=DERIVED_TEXT, limits_um=(0.0, 0.0))
        return replace(p, plunger=plunger)
    return p


def _run_out(p: Parameters, measured: Measured) -> Parameters:
    """Put measured run-out in the chain of errors; both swings are taken to point the same way."""
    near_mm, far_mm = measured.runout_nose_mm, measured.runout_50_mm
    if near_mm is not None:
        p = replace(
            p,
            making=replace(p.making, runout_mm=max(near_mm, 0.001)),
            alignment=replace(p.alignment, bore_mm=near_mm / 2),
        )
    if far_mm is not None:
        first_mm = p.making.runout_mm if near_mm is None else near_mm
        out_mm = max((o.projection_extended_mm for o in design(p).orientations), default=0.0)
        slope_mm = abs(far_mm - first_mm) / 2 * max(out_mm, 0.0) / FAR_MM
        p = replace(p, alignment=replace(p.alignment, bore_slope_mm=slope_mm))
    return p


def _length(p: Parameters, measured: Measured) -> Made:
    """Put the measured length of the body into the mount, or tell what it lacks at the rear."""
    if measured.body_length_mm is None:
        return Made(p)
    short_mm = parts.body_length_mm(p) - measured.body_length_mm
    cylinder = shank_of(p.mount).cylinder
    if cylinder is not None and cylinder.keys[1] and cylinder.length_mm - short_mm > 0:
        return Made(with_value(p, cylinder.keys[1], cylinder.length_mm - short_mm))
    return behind(p, short_mm, short_mm)


def behind(p: Parameters, short_mm: float, more_mm: float) -> Made:
    """Return a tool whose real rear end lies elsewhere than that of its parameters.

    Args:
        p: The parameters; a thread that has been cut is as deep as it was with the rear end before.
        short_mm: How much shorter the body is than the parameters say.
        more_mm: How much of that is new.
    """
    if p.plug is None:
        return Made(p)
    plug = replace(p.plug, tapped_mm=p.plug.tapped_mm + more_mm)
    return Made(replace(p, plug=plug), short_mm)


def _springs(tool: Tool, p: Parameters, measured: Measured) -> Parameters:
    found = list(p.springs)
    for place, told in enumerate(measured.springs):
        found[place] = _spring(found[place], told, tool.springs[place])
    return replace(p, springs=tuple(found))


def _spring(spring: Wound, told: MeasuredInner, drawn: CoilSpring) -> Wound:
    """Return a spring with what was measured on it."""
    if told.outside_mm is not None:
        spring = replace(spring, outside_mm=told.outside_mm)
    if told.rate_N_per_mm is not None:
        spring = replace(spring, rate_N_per_mm=told.rate_N_per_mm)
    if told.free_mm is not None and spring.cut_to_mm is not None:
        spring = replace(spring, cut_to_mm=told.free_mm)
    elif told.free_mm is not None:
        spring = replace(spring, free_mm=told.free_mm)
    if told.solid_mm is not None and told.solid_mm > drawn.longest_solid_mm:
        spring = _solid(spring, told.solid_mm, drawn)
    if isinstance(spring, Spring) and isinstance(told, MeasuredSpring) and told.inner is not None:
        assert spring.inner is not None
        assert drawn.inner is not None
        spring = replace(spring, inner=_spring(spring.inner, told.inner, drawn.inner))
    return spring


def _solid(spring: Wound, solid_mm: float, drawn: CoilSpring) -> Wound:
    """Return a spring whose coils close to a measured length; its rate is not changed by that.

    Only a length beyond what the checks count with anyway makes a difference.
    """
    more = (solid_mm - drawn.solid_mm) / spring.wire_mm
    rate = drawn.rate_N_per_mm if is_derived(spring.rate_N_per_mm) else spring.rate_N_per_mm
    return replace(
        spring,
        total_coils=spring.total_coils + more,
        active_coils=spring.active_coils + more,
        rate_N_per_mm=rate,
    )


def _weighed(tool: Tool, p: Parameters, scale: tuple[Weighed, ...]) -> Parameters:
    """Return the parameters with springs that give what the scale showed."""
    now = design(p)
    ends = {o.which: o for o in now.orientations}
    rows = [
        (ends[one.end], one.projection_mm, one.scale_g / 1000 * GRAVITY_N_PER_KG) for one in scale
    ]
    lengths = [o.room_extended_mm - (o.projection_extended_mm - out_mm) for o, out_mm, _ in rows]
    forces_N = [force_N for *_, force_N in rows]
    longest, shortest = lengths.index(max(lengths)), lengths.index(min(lengths))
    shift_mm = 0.0
    if lengths[longest] - lengths[shortest] > 1.0:
        shift_mm = _shift_mm(
            now,
            (lengths[longest], lengths[shortest]),
            (forces_N[longest], forces_N[shortest]),
        )
    shares = [
        force_N / expected_N
        for force_N, length_mm in zip(forces_N, lengths, strict=True)
        if (expected_N := _force_N(now.orientations[0], length_mm + shift_mm)) > 0
    ]
    share = sum(shares) / len(shares) if shares else 1.0
    return _calibrated(now, p, share, shift_mm)


def _shift_mm(tool: Tool, lengths: tuple[float, float], forces_N: tuple[float, float]) -> float:
    """Return by how much the springs seem shorter, from the ratio of two readings; by bisection."""
    o, wanted = tool.orientations[0], forces_N[0] / forces_N[1]

    def ratio(shift_mm: float) -> float:
        most_N = _force_N(o, lengths[1] + shift_mm)
        return _force_N(o, lengths[0] + shift_mm) / most_N if most_N > 0 else 0.0

    low_mm, high_mm = -SHIFT_MM, SHIFT_MM
    if not ratio(high_mm) <= wanted <= ratio(low_mm):
        return 0.0
    for _ in range(STEPS):
        middle_mm = (low_mm + high_mm) / 2
        if ratio(middle_mm) > wanted:
            low_mm = middle_mm
        else:
            high_mm = middle_mm
    return (low_mm + high_mm) / 2


def _force_N(o: Orientation, length_mm: float) -> float:
    try:
        return o.curve.force_N(length_mm)
    except ValueError:
        return o.curve.end_force_N


def _calibrated(tool: Tool, p: Parameters, share: float, shift_mm: float) -> Parameters:
    """Return springs of another rate, the first of them shorter by a shift."""
    for one in tool.in_place:
        rate = one.spring.rate_N_per_mm * share
        p = with_value(p, f"{one.key}.rate_N_per_mm", rate)
        if one.place is tool.springs[0]:
            name = "cut_to_mm" if one.spring.bought else "free_mm"
            p = with_value(p, f"{one.key}.{name}", one.spring.free_mm - shift_mm)
    return p
