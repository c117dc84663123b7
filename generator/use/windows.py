"""The force each tap wants, from a floor to a ceiling, and which part of the stroke gives it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, inf, isfinite, nan
from typing import Final

from generator.formulas import column, tapping
from generator.inputs.quantities import is_derived
from generator.inputs.shop import FollowedTap
from generator.model.tool import Orientation, Tool
from generator.standards.rows import Thread, WorkMaterial
from generator.units import number, shown
from generator.use.seats import Seat, seats

GRAVITY_M_PER_S2: Final = 9.80665
TAP_MODULUS_MPA: Final = 206e3
"""Modulus of elasticity of a tap, as for plain steel; high-speed steel is a little stiffer."""

RESTS: Final = 1.0
"""Share of the pull that pushes sideways where the wrench rests on one arm: all of it."""

TINY_MM: Final = 0.05
"""A piece of the stroke that no verdict speaks of."""


@dataclass(frozen=True, slots=True)
class Window:
    """What one tap wants and what the tool gives.

    Travel counts from the plunger forward. While the tap advances from the plunger pushed home, the
    stroke is run through backward.

    Attributes:
        seat: How its end sits; of several forms it may have, the one with the lowest ceiling.
        torque_Nm: Tapping torque.
        rests: Whether the wrench rests and the work is turned.
        one_hand_N: Floor with one hand on the wrench; with the work turned, the only floor.
        two_hands_N: Floor with two hands on the wrench, or that same floor.
        weight_floor_N: What of both floors the weight of the wrench makes.
        feel_N: Ceiling from the drag of the cone; infinite where the cone does not rub.
        column_N: Ceiling from the tap as a column.
        preload_N: Force of the tool, plunger forward.
        full_force_N: Force of the tool, plunger pushed home; NaN if the springs would be crushed.
        travel_mm: The stroke.
        advised_N: Least and greatest force that is advised for the size; judgement.
        bending: Moment at the mouth of the hole with the follower, over that without.
    """

    seat: Seat
    torque_Nm: float
    rests: bool
    one_hand_N: float
    two_hands_N: float
    weight_floor_N: float
    feel_N: float
    column_N: float
    preload_N: float
    full_force_N: float
    travel_mm: float
    advised_N: tuple[float, float]
    bending: float

    @property
    def tap(self) -> FollowedTap:
        """The tap."""
        return self.seat.tap

    @property
    def orientation(self) -> Orientation:
        """Which end of the plunger is at work."""
        assert self.seat.orientation is not None
        return self.seat.orientation

    @property
    def name(self) -> str:
        """The name of the tap."""
        return self.seat.name

    @property
    def ceiling_N(self) -> float:
        """The most that the tap takes."""
        return min(self.feel_N, self.column_N)

    @property
    def ceiling_of(self) -> str:
        """What sets the ceiling."""
        return "feel" if self.by_feel else "column"

    @property
    def by_feel(self) -> bool:
        """Whether the drag of the cone sets the ceiling, not the tap as a column."""
        return self.feel_N <= self.column_N

    def reach_mm(self, floor_N: float) -> tuple[float, float]:
        """Return the travel between which the force lies from a floor to the ceiling.

        The second is not above the first where no part of the stroke does.
        """
        if not (isfinite(self.preload_N) and isfinite(self.full_force_N)):
            return nan, nan
        return self._travel_of(floor_N), self._travel_of(self.ceiling_N)

    def inside_mm(self, floor_N: float) -> float:
        """Return how much of the stroke lies from a floor to the ceiling; NaN if unknown."""
        first_mm, last_mm = self.reach_mm(floor_N)
        if first_mm != first_mm:
            return nan
        out = self.full_force_N < floor_N or self.preload_N > self.ceiling_N
        return 0.0 if out else max(0.0, last_mm - first_mm)

    @property
    def two_hands_mm(self) -> float:
        """Stroke inside the window for two hands."""
        return self.inside_mm(self.two_hands_N)

    @property
    def one_hand_mm(self) -> float:
        """Stroke inside the window for one hand."""
        return self.inside_mm(self.one_hand_N)

    @property
    def served(self) -> bool:
        """Whether the whole stroke serves, by two hands at least."""
        return self.travel_mm > TINY_MM and self.two_hands_mm >= self.travel_mm - 1e-6

    def _travel_of(self, force_N: float) -> float:
        """Return the travel at which the tool reaches a force, within the stroke."""
        return self.orientation.pushed_mm(force_N)

    @property
    def verdict(self) -> str:
        """What the tool does for the tap, in words.

        "Pushed in" counts from the plunger forward.
        """
        if self.two_hands_mm != self.two_hands_mm:
            return "the springs have no room"
        if self.two_hands_mm < TINY_MM:
            return self._refusal
        first_mm, last_mm = self.reach_mm(self.two_hands_N)
        low, high = first_mm > TINY_MM, self.travel_mm - last_mm > TINY_MM
        least, most = number(first_mm, 1), number(last_mm, 1)
        if low and high:
            return f"pushed in {least} to {most} mm: {self._hands}"
        if low or high:
            part = f"{most} mm at most" if high else f"{least} mm at least"
            return f"pushed in {part}: {self._hands}"
        return self._hands

    @property
    def _refusal(self) -> str:
        if self.two_hands_N > self.ceiling_N:
            return self._narrow
        if self.travel_mm < TINY_MM:
            return "no stroke"
        if self.reach_mm(self.two_hands_N)[1] < self.travel_mm:
            return f"too stiff: at most {shown(self.ceiling_N, 'N')} would do"
        return f"too weak: {shown(self.two_hands_N, 'N')} would do"

    @property
    def _narrow(self) -> str:
        """Say what forbids any force: a wrench too short for the cone, or one too heavy for it."""
        why = f"no force both holds it and {'leaves the feel' if self.by_feel else 'spares it'}"
        pull_N = self.two_hands_N - self.weight_floor_N
        spare_N = self.ceiling_N - self.weight_floor_N
        if spare_N <= 0:
            return f"{why}: the wrench is too heavy"
        arm_mm = ceil(self.tap.wrench_arm_mm * pull_N / spare_N)
        return f"{why}: the wrench's arm must be over {arm_mm} mm"

    @property
    def _hands(self) -> str:
        one_mm = self.one_hand_mm
        if self.rests:
            return "holds, the wrench at rest"
        if one_mm < TINY_MM:
            return "two hands only"
        if self.two_hands_mm - one_mm < TINY_MM:
            return "one hand will do"
        from_mm, to_mm = self.reach_mm(self.one_hand_N)
        above, below = from_mm > TINY_MM, self.travel_mm - to_mm > TINY_MM
        if above and not below:
            return f"one hand if pushed in over {number(from_mm, 1)} mm, else two"
        return f"one hand if pushed in {number(from_mm, 1)} to {number(to_mm, 1)} mm, else two"


def windows(tool: Tool) -> tuple[Window, ...]:
    """Return the window of every tap that an end of the plunger serves, each tap once.

    Where the file does not say what the tap's end looks like, the form with the lowest ceiling
    stands for all that seat.
    """
    lowest: dict[FollowedTap, Window] = {}
    for window in _every(tool):
        former = lowest.get(window.tap)
        if former is None or window.ceiling_N < former.ceiling_N:
            lowest[window.tap] = window
    return tuple(lowest.values())


def _every(tool: Tool) -> Iterator[Window]:
    """Yield the window of every form of every tap's end."""
    named: dict[FollowedTap, str] = {}
    for seat in seats(tool):
        if seat.serves and named.setdefault(seat.tap, seat.name) == seat.name:
            yield _window(tool, seat)


def torque_Nm(tool: Tool, tap: FollowedTap, thread: Thread) -> float:
    """Return the torque of a tap in the work it is for, worn as the file says."""
    given = tool.parameters.assumptions
    work = WorkMaterial.find(tap.work)
    factor = given.tap_factor
    if is_derived(factor):
        factor = work.tap_factor(thread, lead_threads=tap.lead_threads)
    return tapping.torque_Nm(
        cutting_pressure_MPa=work.cutting_pressure_MPa,
        factor=factor * given.worn_factor,
        major_mm=thread.major_mm,
        drill_mm=thread.tapping_drill_mm,
    )


def _window(tool: Tool, seat: Seat) -> Window:
    rests = tool.parameters.machine.turned == "work"
    thread, o = Thread.find(seat.row.thread), seat.orientation
    assert o is not None
    stroke_mm = max(0.0, o.travel_mm)
    torque = torque_Nm(tool, seat.tap, thread)
    one_N, two_N = floors_N(tool, seat)
    return Window(
        seat=seat,
        torque_Nm=torque,
        rests=rests,
        one_hand_N=one_N,
        two_hands_N=two_N,
        weight_floor_N=tapping.floor_force_N(side_N=_weight_N(tool, seat), angle_deg=seat.angle_deg)
        / seat.hold_share,
        feel_N=inf if rests else _feel_N(tool, seat, torque),
        column_N=_column_N(tool, seat, thread),
        preload_N=o.preload_N,
        full_force_N=o.full_force_N,
        travel_mm=stroke_mm,
        advised_N=(seat.tap.advised_least_N, seat.tap.advised_greatest_N),
        bending=_bending(seat),
    )


def floors_N(tool: Tool, seat: Seat) -> tuple[float, float]:
    """Return the least force that holds the cone with one hand on the wrench, and with two.

    With the work turned the wrench rests, and both are the same.
    """
    given = tool.parameters.assumptions
    torque = torque_Nm(tool, seat.tap, Thread.find(seat.row.thread))
    shares = (given.one_hand, given.two_hands)
    if tool.parameters.machine.turned == "work":
        shares = (RESTS, RESTS)
    one_N, two_N = (_floor_N(tool, seat, torque, share) for share in shares)
    return one_N, two_N


def _floor_N(tool: Tool, seat: Seat, torque: float, share: float) -> float:
    """Return the force that holds the cone against the push of the wrench, and its weight.

    The push goes round with the wrench, so it meets the relieved side of a half centre.
    """
    side_N = tapping.side_push_N(torque_Nm=torque, arm_mm=seat.tap.wrench_arm_mm, share=share)
    whole_N = tapping.floor_force_N(side_N=side_N + _weight_N(tool, seat), angle_deg=seat.angle_deg)
    return whole_N / seat.hold_share


def _weight_N(tool: Tool, seat: Seat) -> float:
    """Return the weight of the wrench where it hangs on the tap across its axis."""
    if tool.parameters.machine.spindle == "vertical":
        return 0.0
    return seat.tap.wrench_g / 1000 * GRAVITY_M_PER_S2


def _feel_N(tool: Tool, seat: Seat, torque: float) -> float:
    given = tool.parameters.assumptions
    return tapping.force_of_drag_N(
        drag_Nm=given.feel_percent / 100 * torque,
        friction=given.cone_friction,
        circle_mm=seat.contact_mm,
        angle_deg=seat.angle_deg,
    )


def _column_N(tool: Tool, seat: Seat, thread: Thread) -> float:
    """Return what the tap bears as a column of its core over its whole length."""
    given = tool.parameters.assumptions
    critical_N = column.critical_load_N(
        second_moment_mm4=column.second_moment_mm4(diameter_mm=given.core_share * thread.major_mm),
        length_mm=seat.row.overall_mm + seat.tap.wrench_height_mm,
        modulus_MPa=TAP_MODULUS_MPA,
    )
    return critical_N / given.column_factor


def _bending(seat: Seat) -> float:
    """Return what the follower leaves of the moment at the mouth of the hole.

    The wrench pushes at the middle of the square, and the whole tap stands out.
    """
    prop_mm = seat.row.square_length_mm / 2 + seat.tap.wrench_height_mm
    free_mm = seat.row.overall_mm + seat.tap.wrench_height_mm
    fixed_mm = free_mm - prop_mm
    held_Nm = column.propped_moment_Nm(force_N=1, from_fixed_mm=fixed_mm, from_prop_mm=prop_mm)
    return held_Nm / (fixed_mm / 1000)
