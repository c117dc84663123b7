"""The tool: its parts, its springs, and how it stands and moves in each orientation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import copysign, nan, radians, sqrt, tan
from typing import Literal, Protocol

from generator.formulas import cone, fit, slot, stack
from generator.inputs.parameters import Parameters
from generator.inputs.profile import derived_keys
from generator.inputs.quantities import is_derived
from generator.inputs.shop import LimitChange
from generator.inputs.tables import Button, ConeTip, NoseBush
from generator.model import keeping, mouths, parts, screwed
from generator.model.bush import (
    BUSH_RUNOUT_MM,
    REGISTER_FIT,
    flange_mm,
    nose_bush,
    play_um,
)
from generator.model.completion import complete, down, up
from generator.model.fits import Limits, limits_of
from generator.model.part import Part
from generator.model.springs import CoilSpring, InPlace, coil_spring, extreme_curves, in_place
from generator.model.tips import End
from generator.standards.limits import NONE, Limit
from generator.standards.rows import Thread

Which = Literal["as drawn", "reversed"]

TAPPED_STEP_MM = 0.5
RUNOUT_STEP_MM = 0.001
LEAST_RUNOUT_MM = 0.01
"""Least run-out that is asked of a register; engineering judgement."""


class Limiting(Protocol):
    """Whatever knows the levels of the limits: a tool, or what it is chosen by."""

    def limit(self, name: str, *, warn: float = NONE, fail: float = NONE) -> Limit:
        """Return a limit; see `limit_of`."""
        ...


@dataclass(frozen=True, slots=True)
class Orientation:
    """The tool with one end of the plunger at work.

    Lengths along the axis count from the nose face; projections count out of it, positions into it.

    Attributes:
        which: "as drawn" with the front end at work, "reversed" with the rear end.
        outer: The end at work.
        inner: The end inside.
        slot_mm: From the outer tip to the slot; NaN where there is none.
        projection_extended_mm: Outer tip out of the nose face, plunger forward.
        projection_compressed_mm: The same, plunger pushed home.
        inner_extended_mm: Position of the innermost point of the plunger, plunger forward.
        wide_extended_mm: Position of the rear end of what slides in the bore, plunger forward: of
            the head of a shouldered plunger, else the innermost point.
        seat_mm: What is added to the room for the springs by the way they sit; negative for a
            button.
        room_extended_mm: Length left for springs and separators, plunger forward.
        room_compressed_mm: The same, plunger pushed home.
        preload_N: Force of the springs, plunger forward.
        full_force_N: Force of the springs, plunger pushed home; NaN if they would be crushed.
        guide_mm: Length of plunger that the bore guides, plunger forward.
        before_mm: How far before the nose face that bore begins: the flange of a nose bush, else 0.
        curve: Force against length of all springs and separators.
        tip: Which of the tool's screwed tips is at work, from 0; 0 too where there are none.
    """

    which: Which
    outer: End
    inner: End
    slot_mm: float
    projection_extended_mm: float
    projection_compressed_mm: float
    inner_extended_mm: float
    wide_extended_mm: float
    seat_mm: float
    room_extended_mm: float
    room_compressed_mm: float
    preload_N: float
    full_force_N: float
    guide_mm: float
    before_mm: float
    curve: stack.Curve
    tip: int = 0

    @property
    def name(self) -> str:
        """What it is called: "point out", "rear point out" of like ends, "tip 2, point out"."""
        if self.tip:
            return f"tip {self.tip + 1}, {self.outer.tip.style} out"
        style, end = self.outer.tip.style, "front" if self.which == "as drawn" else "rear"
        return f"{end} {style} out" if self.inner.tip.style == style else f"{style} out"

    @property
    def key(self) -> str:
        """Its key in the report."""
        return f"tip_{self.tip + 1}" if self.tip else self.which.replace(" ", "_")

    @property
    def table(self) -> str:
        """The table of the end at work in the parameter file."""
        return "plunger.rear" if self.which == "reversed" else screwed.tip_table(self.tip)

    @property
    def travel_mm(self) -> float:
        """The travel of the plunger."""
        return self.projection_extended_mm - self.projection_compressed_mm

    def force_N(self, pushed_mm: float) -> float:
        """Return the force with the plunger pushed in so far; NaN if the springs are crushed."""
        return _force_N(self.curve, self.room_extended_mm - pushed_mm)

    def pushed_mm(self, force_N: float) -> float:
        """Return how far the plunger is pushed in, within the stroke, when a force is reached.

        0 for a force at or below the preload, the whole stroke for one that is not reached.
        """
        if force_N <= self.preload_N:
            return 0.0
        pushed_mm = self.room_extended_mm - self.curve.length_mm(force_N)
        return min(max(pushed_mm, 0.0), max(self.travel_mm, 0.0))

    @property
    def rate_N_per_mm(self) -> float:
        """Mean rate over the stroke; NaN if there is none or the springs would be crushed."""
        if not self.travel_mm > 0:
            return nan
        return (self.full_force_N - self.preload_N) / self.travel_mm

    @property
    def inner_compressed_mm(self) -> float:
        """Position of the innermost point of the plunger, pushed home."""
        return self.inner_extended_mm + self.travel_mm

    @property
    def wide_compressed_mm(self) -> float:
        """Position of the rear end of what slides in the bore, pushed home."""
        return self.wide_extended_mm + self.travel_mm

    @property
    def guide_ratio(self) -> float:
        """Guided length over the plunger's diameter, plunger forward."""
        bar = self.outer if self.which == "reversed" else self.inner
        return self.guide_mm / bar.diameter_mm


@dataclass(frozen=True, slots=True)
class Tool:
    """A designed tool.

    Attributes:
        parameters: Every parameter, derived ones filled in.
        derived: Keys of the parameters that were derived.
        body: The body.
        plunger: The plunger.
        abutment: What the springs stand on: the plug, or the disc of a blind bore.
        bush: The nose bush that guides and keeps a shouldered plunger, if there is one.
        button: The button, if there is one.
        separator: The washer between two springs, if there is one.
        crossing: The set screw, or the cross pin; None for a shouldered plunger.
        ball: The ball in an end of the plunger, bought, if there is one.
        springs: The springs in a row, first the one at the plunger; each may have one inside it.
        curve: Force against length of all springs and separators.
        orientations: One for each end of the plunger that follows a tap.
        with_spare: The first of them again with each spare tip in place of the fitted one.
        tips: The tips that screw into the plunger, the fitted one first.
        bore_limits: Limits of size of the bore.
        plunger_limits: Limits of size of the plunger.
        across_mm: Diameter of the screw, or of the pin, that meets the ends of the slot; NaN for
            neither.
        plug_face_mm: Position of the face on which the last spring bears, from the nose face.
    """

    parameters: Parameters
    derived: tuple[str, ...]
    body: Part
    plunger: Part
    abutment: Part
    bush: Part | None
    button: Part | None
    separator: Part | None
    crossing: Part | None
    ball: Part | None
    springs: tuple[CoilSpring, ...]
    curve: stack.Curve
    orientations: tuple[Orientation, ...]
    with_spare: tuple[Orientation, ...]
    tips: tuple[Part, ...]
    bore_limits: Limits
    plunger_limits: Limits
    across_mm: float
    plug_face_mm: float

    @property
    def name(self) -> str:
        """The name of its pack."""
        return self.parameters.name

    @property
    def bought_parts(self) -> tuple[Part, ...]:
        """The parts that are bought and are solid, springs are not."""
        screw = self.crossing if self.parameters.set_screw is not None else None
        found = (screw, keeping.jam_screw(self.parameters), self.ball)
        return tuple(part for part in found if part is not None)

    @property
    def made_parts(self) -> tuple[Part, ...]:
        """The parts that are made, in the order of the papers."""
        pin = self.crossing if self.parameters.cross_pin is not None else None
        small = (self.bush, self.button, self.separator, pin)
        return (
            self.body,
            self.plunger,
            self.abutment,
            *(part for part in small if part is not None),
            *self.tips,
        )

    @property
    def ways(self) -> tuple[Orientation, ...]:
        """Every way in which it may meet a tap: each end at work, each tip screwed in."""
        return (*self.orientations, *self.with_spare)

    @property
    def ball_tip(self) -> int:
        """Which of the screwed tips holds the ball, from 0; 0 too where none does."""
        found = (n for n, end in enumerate(screwed.tip_ends(self.parameters)) if end.ball_mm)
        return next(found, 0)

    @property
    def solid_parts(self) -> tuple[Part, ...]:
        """Every part but the springs: those that are made, then those that are bought."""
        return (*self.made_parts, *self.bought_parts)

    @property
    def in_place(self) -> tuple[InPlace, ...]:
        """Every spring, each in the row followed by the one inside it."""
        return tuple(in_place(self.springs))

    @property
    def rate_N_per_mm(self) -> float:
        """The mean rate of all springs over the stroke of the first orientation.

        Where there is no stroke, or it would crush the springs, it is the rate at rest.
        """
        rate_N_per_mm = self.orientations[0].rate_N_per_mm
        if rate_N_per_mm == rate_N_per_mm:
            return rate_N_per_mm
        return self.curve.rate_N_per_mm(self.curve.free_mm)

    def bent(self, orientation: Orientation) -> bool:
        """Tell whether the curve has a corner between rest and full compression."""
        room_mm = orientation.room_compressed_mm
        return any(room_mm < length_mm for length_mm, _ in self.curve.points[1:])

    @property
    def separators_mm(self) -> float:
        """The length that separators take in the stack."""
        return separators_mm(self.parameters)

    @property
    def least_clearance_um(self) -> float:
        """Clearance between the smallest bore and the largest plunger."""
        return fit.least_clearance_um(
            hole_lower_um=self.bore_limits.lower_um,
            shaft_upper_um=self.plunger_limits.upper_um,
            nominal_difference_mm=self.bore_limits.nominal_mm - self.plunger_limits.nominal_mm,
        )

    @property
    def greatest_clearance_um(self) -> float:
        """Clearance between the largest bore and the smallest plunger."""
        return fit.greatest_clearance_um(
            hole_upper_um=self.bore_limits.upper_um,
            shaft_lower_um=self.plunger_limits.lower_um,
            nominal_difference_mm=self.bore_limits.nominal_mm - self.plunger_limits.nominal_mm,
        )

    @property
    def reversible(self) -> bool:
        """Whether both ends of the plunger follow a tap."""
        return len(self.orientations) == 2

    def length_mm(self, force_N: float) -> float:
        """Return the length of the springs and separators under a force; all solid for NaN."""
        return self.curve.end_mm if force_N != force_N else self.curve.length_mm(force_N)

    def energy_J(self, force_N: float) -> float:
        """Return the energy that the springs hold at a force; NaN for NaN."""
        if force_N != force_N:
            return nan
        return self.curve.energy_J(self.curve.free_mm, self.curve.length_mm(force_N))

    def limit(self, name: str, *, warn: float = NONE, fail: float = NONE) -> Limit:
        """Return a limit: the user's value first, then a worked-out one, then the table's."""
        return limit_of(self.parameters.limits, name, warn=warn, fail=fail)


def limit_of(
    changes: Mapping[str, LimitChange], name: str, *, warn: float = NONE, fail: float = NONE
) -> Limit:
    """Return a limit: the user's value first, then a worked-out one, then the table's.

    Args:
        changes: The user's own values, by the names of the limits.
        name: The name of the limit.
        warn: The level at which it warns, worked out; NONE for none.
        fail: The level at which it fails, likewise.
    """
    row, change = Limit.find(name), changes.get(name)
    own_warn, own_fail = (NONE, NONE) if change is None else (change.warn, change.fail)
    return replace(
        row,
        warn=_first(own_warn, warn, row.warn),
        fail=_first(own_fail, fail, row.fail),
        changed=not (is_derived(own_warn) and is_derived(own_fail)),
    )


def _first(*levels: float) -> float:
    """Return the first level that judges, NONE if none does."""
    return next((level for level in levels if not is_derived(level)), NONE)


def separators_mm(p: Parameters) -> float:
    """Return the length that separators take in the stack."""
    return 0.0 if p.separator is None else p.separator.thickness_mm * (len(p.springs) - 1)


def seat_mm(p: Parameters, inner: End, first: CoilSpring) -> float:
    """Return what the seat adds to the room for the springs, counted from the innermost point.

    The springs of a shouldered plunger bear on its head, its tail inside them. A button takes its
    thickness; its recess, or the mouth of its vent, lets a point or a ball in. Without a button the
    spring slides down a cone, or a ball, until its inside rests on it, or into a countersink until
    its outside does.
    """
    if p.shoulder is not None:
        return p.shoulder.tail_length_mm
    if p.button is not None:
        sunk_mm = _sunk_mm(p.button, inner.point) if inner.point else 0.0
        return sunk_mm + _ball_sunk_mm(p.button, inner) - p.button.thickness_mm
    if inner.point is not None:
        circle_mm = min(first.inside_mm, p.plunger.diameter_mm)
        if circle_mm <= inner.point.flat_mm:
            return 0.0
        return cone.overlap_mm(
            circle_mm=circle_mm, flat_mm=inner.point.flat_mm, angle_deg=inner.point.angle_deg
        )
    if inner.ball_mm > first.inside_mm:
        rise_mm = sqrt(inner.ball_mm**2 - first.inside_mm**2) / 2
        return min(0.0, inner.ball_mm / 2 - inner.stands_mm - rise_mm)
    if inner.sink is not None and first.outside_mm < inner.sink.mouth_mm:
        rise_mm = (inner.sink.mouth_mm - first.outside_mm) / 2
        return rise_mm / tan(radians(inner.sink.angle_deg / 2))
    return 0.0


def _sunk_mm(button: Button, point: ConeTip) -> float:
    """Return how deep a point stands in a button: on the mouth of its recess or of its vent."""
    mouth_mm = max(button.recess_mm, button.vent_mm)
    if mouth_mm <= point.flat_mm:
        return 0.0
    hole_mm = max(button.vent_mm, point.flat_mm)
    on_mouth_mm, on_hole_mm = (
        cone.overlap_mm(circle_mm=circle_mm, flat_mm=point.flat_mm, angle_deg=point.angle_deg)
        for circle_mm in (mouth_mm, hole_mm)
    )
    recess_mm = cone.countersink_depth_mm(
        mouth_mm=mouth_mm, pilot_mm=hole_mm, angle_deg=mouths.BEVEL_DEG
    )
    return min(on_mouth_mm, recess_mm + on_hole_mm)


def _ball_sunk_mm(button: Button, end: End) -> float:
    """Return how deep an end with a ball stands in a button; below 0, it stands off by the ball."""
    if not end.ball_mm:
        return 0.0
    hole_mm = min(button.vent_mm, end.ball_mm / 2)
    _, height_mm = cone.ball_rest_mm(
        ball_mm=end.ball_mm,
        mouth_mm=max(button.recess_mm, hole_mm),
        pilot_mm=hole_mm,
        angle_deg=mouths.BEVEL_DEG,
    )
    return end.ball_mm - height_mm - end.stands_mm


def deeper_mm(o: Orientation, curve: stack.Curve) -> float:
    """Return how much deeper the plug goes for other springs to give the nominal preload.

    NaN if they never do, or there is no preload.

    Args:
        o: The orientation.
        curve: Force against length of the other springs.
    """
    if not 0 < o.preload_N <= curve.end_force_N:
        return nan
    return o.room_extended_mm - curve.length_mm(o.preload_N)


def _tapped(
    p: Parameters, springs: tuple[CoilSpring, ...], orientations: tuple[Orientation, ...]
) -> Parameters:
    """Return the parameters with the rear thread deep enough for the weakest springs.

    Where the tap or the plunger, pushed home, leaves less room, it is as deep as that allows, but
    it always holds the plug as drawn.
    """
    plug = p.plug
    if plug is None or not is_derived(plug.tapped_mm):
        return p
    drawn_mm = plug.sunk_mm + plug.length_mm
    drawn = replace(p, plug=replace(plug, tapped_mm=drawn_mm))
    curves = extreme_curves(springs, p.assumptions, separators_mm(p))
    more_mm = [deeper_mm(o, curves[0]) for o in orientations] if curves else []
    need_mm = up(drawn_mm + max((mm for mm in more_mm if mm == mm), default=0.0), TAPPED_STEP_MM)
    clear_mm = Limit.find("plunger clear of the rear hole").warn
    free_mm = parts.rear_hole_start_mm(drawn) - clear_mm
    rooms_mm = [drawn_mm + free_mm - o.wide_compressed_mm for o in orientations]
    if not is_derived(p.workshop.tap_reach_mm):
        rooms_mm.append(p.workshop.tap_reach_mm - Thread.find(plug.thread).pitch_mm)
    least_mm = min(rooms_mm, default=need_mm)
    if least_mm < need_mm:
        need_mm = max(drawn_mm, down(least_mm, TAPPED_STEP_MM))
    return replace(p, plug=replace(plug, tapped_mm=need_mm))


def design(asked: Parameters) -> Tool:
    """Return the tool that the parameters describe, however poor it is.

    Raises:
        StandardError: If a size is not tabulated.
    """
    p = complete(asked)
    springs = tuple(
        coil_spring(spring, told) for spring, told in zip(p.springs, asked.springs, strict=True)
    )
    curve = stack.in_series([spring.curve for spring in springs], separators_mm(p))
    plug_face_mm = parts.plug_face_mm(p)
    orientations = _orientations(p, springs[0], curve, plug_face_mm)
    with_spare = tuple(_with_spare(p, orientations))
    p = _tapped(p, springs, orientations)
    return Tool(
        parameters=p,
        derived=derived_keys(asked, p),
        body=parts.body(p),
        plunger=parts.plunger(p),
        abutment=parts.abutment(p),
        bush=nose_bush(p),
        button=parts.button(p),
        separator=parts.separator(p),
        crossing=keeping.crossing(p),
        ball=_ball(p),
        springs=springs,
        curve=curve,
        orientations=orientations,
        with_spare=with_spare,
        tips=screwed.screwed_tips(p),
        bore_limits=limits_of(p.bore.diameter_mm, p.bore.tolerance, p.bore.limits_um),
        plunger_limits=limits_of(p.plunger.diameter_mm, p.plunger.tolerance, p.plunger.limits_um),
        across_mm=keeping.across_mm(p),
        plug_face_mm=plug_face_mm,
    )


def _ball(p: Parameters) -> Part | None:
    """Return the ball in an end of the plunger or in a screwed tip, if there is one."""
    ends = (*parts.plunger_ends(p), *screwed.tip_ends(p))
    return next((made for end in ends if (made := parts.ball(end))), None)


def _with_spare(p: Parameters, orientations: tuple[Orientation, ...]) -> Iterator[Orientation]:
    """Yield the first orientation with each spare tip: all are of one length, so all else stays."""
    for n, end in enumerate(screwed.tip_ends(p)[1:], 1):
        for fitted in orientations[:1]:
            yield replace(fitted, outer=end, tip=n)


def register_limits(bush: NoseBush) -> tuple[Limits, Limits]:
    """Return the limits of the register in the nose and of the spigot of the bush."""
    hole, spigot = (limits_of(bush.register_mm, zone, None) for zone in REGISTER_FIT)
    return hole, spigot


def trued_mm(tool: Tool) -> float:
    """Return the run-out that the body itself may have: of its bore, or of its register.

    See `left_runout_mm`; less than a lathe can hold is not asked of a register.
    """
    p = tool.parameters
    if p.bush is None:
        return p.making.runout_mm
    return max(down(left_runout_mm(p), RUNOUT_STEP_MM), LEAST_RUNOUT_MM)


def left_runout_mm(p: Parameters) -> float:
    """Return what of the run-out asked for is left to the register of a nose bush.

    The bore of the bush also runs out by what the spigot plays in the register, and by what it is
    off that spigot. The three have nothing to do with each other, so their squares add up. Below 0
    where those two alone run out further, by the root of what they exceed.
    """
    assert p.bush is not None
    squares = p.making.runout_mm**2 - (play_um(p.bush)[1] / 1000) ** 2 - BUSH_RUNOUT_MM**2
    return copysign(sqrt(abs(squares)), squares)


def _orientations(
    p: Parameters, first: CoilSpring, curve: stack.Curve, plug_face_mm: float
) -> tuple[Orientation, ...]:
    front, rear = parts.plunger_ends(p)
    ends: list[tuple[Which, End, End]] = [("as drawn", front, rear), ("reversed", rear, front)]
    return tuple(_orientation(p, first, curve, plug_face_mm, *one) for one in ends if one[1].works)


def _stops(p: Parameters, which: Which) -> tuple[float, float, float]:
    """Return where the slot starts from the outer tip, and the projections it or the step allows.

    First with the plunger forward, then pushed home.
    """
    if p.shoulder is not None:
        extended_mm = p.shoulder.stem_mm + screwed.front_mm(p) - p.shoulder.guide_mm
        return nan, extended_mm, extended_mm - p.shoulder.travel_mm
    assert p.slot is not None
    s, crossing_mm, across_mm = p.slot, keeping.position_mm(p), keeping.across_mm(p)
    behind_mm = p.plunger.length_mm - s.front_mm - s.length_mm
    slot_mm = s.front_mm if which == "as drawn" else behind_mm
    extended_mm = slot.projection_extended_mm(
        front_mm=slot_mm, slot_length_mm=s.length_mm, tip_mm=across_mm, screw_mm=crossing_mm
    )
    compressed_mm = slot.projection_compressed_mm(
        front_mm=slot_mm, tip_mm=across_mm, screw_mm=crossing_mm
    )
    return slot_mm, extended_mm, compressed_mm


def _orientation(
    p: Parameters,
    first: CoilSpring,
    curve: stack.Curve,
    plug_face_mm: float,
    which: Which,
    outer: End,
    inner: End,
) -> Orientation:
    slot_mm, extended_mm, compressed_mm = _stops(p, which)
    inner_mm = p.plunger.length_mm + screwed.front_mm(p) - extended_mm
    seat = seat_mm(p, inner, first)
    room_mm = plug_face_mm - inner_mm + seat
    travel_mm = extended_mm - compressed_mm
    wide_mm, guide_mm = inner_mm, inner_mm - inner.outer_mm
    if p.shoulder is not None:
        wide_mm = inner_mm - p.shoulder.tail_length_mm
        guide_mm = p.shoulder.guide_mm + flange_mm(p)
    return Orientation(
        which=which,
        outer=outer,
        inner=inner,
        slot_mm=slot_mm,
        projection_extended_mm=extended_mm,
        projection_compressed_mm=compressed_mm,
        inner_extended_mm=inner_mm,
        wide_extended_mm=wide_mm,
        seat_mm=seat,
        room_extended_mm=room_mm,
        room_compressed_mm=room_mm - travel_mm,
        preload_N=_force_N(curve, room_mm),
        full_force_N=_force_N(curve, room_mm - travel_mm),
        guide_mm=guide_mm - parts.front_bevel_mm(p),
        before_mm=flange_mm(p),
        curve=curve,
    )


def _force_N(curve: stack.Curve, length_mm: float) -> float:
    """Return the force of the springs at a length; NaN where they would have to be crushed."""
    try:
        return curve.force_N(length_mm)
    except ValueError:
        return nan
