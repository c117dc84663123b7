"""A spring that would serve more of the taps in the room there is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import floor, sqrt
from typing import Final

from generator.errors import StandardError
from generator.formulas import coils, spring
from generator.inputs.quantities import DERIVED
from generator.inputs.tables import Spring
from generator.model.springs import LEAST_MARGIN_MM, SOLID_SHARE, outside_greatest_mm
from generator.model.tool import Tool, design
from generator.standards.bands import SpringWire
from generator.use.sharing import TWO_HANDS, ForceRange, ranges
from generator.use.windows import windows

WIRES_MM: Final = (
    *(0.2, 0.22, 0.25, 0.28, 0.32, 0.36, 0.4, 0.45, 0.5, 0.56, 0.63, 0.7, 0.8, 0.9),
    *(1.0, 1.1, 1.25, 1.4, 1.6, 1.8, 2.0, 2.25, 2.5),
)
"""Wires of the preferred series R20, ISO 3, rounded as wire is sold."""

ENDS: Final = "closed and ground"
FEWEST_COILS: Final = 3.0
INDEX: Final = (4.0, 20.0)
"""Coil over wire that can be wound; EN 13906-1."""

BOUNDS: Final = (
    "no wire of the series winds to a coil that fits the bore",
    "the room pushed home is too short for three coils",
    "the softest spring that fits gains more over the stroke than the range is wide",
    "the wire would be stressed too high at full compression",
    "the wire would be stressed too high when solid",
)


@dataclass(frozen=True, slots=True)
class Proposal:
    """What another spring could do.

    Attributes:
        target: The range of force that serves the most taps by two hands.
        now: The taps that the present springs serve over the whole stroke.
        tool: The tool with the proposed spring in place of all it has; None if there is none.
        served: The taps that it would serve over the whole stroke.
        refusal: What forbids such a spring; "" if there is one.
    """

    target: ForceRange
    now: tuple[str, ...]
    tool: Tool | None
    served: tuple[str, ...]
    refusal: str

    @property
    def spring(self) -> Spring | None:
        """The proposed spring as a parameter file would give it."""
        return None if self.tool is None else self.tool.parameters.springs[0]


@dataclass(frozen=True, slots=True)
class _Room:
    """The room for the spring over both orientations: longest forward, shortest pushed home."""

    extended_mm: float
    compressed_mm: float

    @property
    def stroke_mm(self) -> float:
        return self.extended_mm - self.compressed_mm


def served(tool: Tool) -> tuple[str, ...]:
    """Return the taps whose window holds the whole stroke."""
    return tuple(w.name for w in windows(tool) if w.served)


def serving_spring(tool: Tool) -> Proposal | None:
    """Return a spring that serves more taps, or what forbids it; None if nothing is to be gained.

    The ranges of force that hold the most windows are tried first, narrowed by the tolerance of a
    spring's rate. One spring takes the place of all. Wires of the preferred series are wound to the
    present outside diameter or to the largest that the bore lets through, with as many coils as the
    solid margin leaves room for, since that is the softest; the preload is put low in what range
    and stress leave, at the geometric mean. Of all that pass, the one whose force changes least is
    taken.
    """
    now = served(tool)
    targets = [r for r in ranges(windows(tool), TWO_HANDS) if len(r.taps) > len(now)]
    if not targets:
        return None
    furthest = 0
    for target in targets:
        passed, best = _best(tool, target, len(now))
        if best is not None:
            return Proposal(target, now, best, served(best), "")
        if target is targets[0]:
            furthest = passed
    return Proposal(targets[0], now, None, (), BOUNDS[furthest])


def _best(tool: Tool, target: ForceRange, more_than: int) -> tuple[int, Tool | None]:
    """Return the first bound that no coil passes, and the tool with the best spring if any does."""
    room = _Room(
        extended_mm=max(o.room_extended_mm for o in tool.orientations),
        compressed_mm=min(o.room_compressed_mm for o in tool.orientations),
    )
    furthest = 0
    passing = []
    for coil in _coils(tool):
        bound, found = _wound(tool, coil, room, target)
        furthest = max(furthest, min(bound, len(BOUNDS) - 1))
        if found is None:
            continue
        other = _with(tool, found)
        if len(served(other)) > more_than and _clear_of_solid(other):
            passing.append(other)
    return furthest, min(passing, key=_steepness, default=None)


def _steepness(tool: Tool) -> float:
    """Return the greatest ratio of the force pushed home to the preload."""
    return max(o.full_force_N / o.preload_N for o in tool.orientations)


def _clear_of_solid(tool: Tool) -> bool:
    """Return whether the one spring keeps its solid margin pushed home, in the room it has now."""
    coil = tool.springs[0]
    need_mm = coil.longest_solid_mm + max(coil.least_gap_mm, LEAST_MARGIN_MM)
    return all(o.room_compressed_mm >= need_mm - 1e-6 for o in tool.orientations)


def _with(tool: Tool, asked: Spring) -> Tool:
    """Return the tool with one spring in place of all, everything else as it is."""
    return design(replace(tool.parameters, springs=(asked,), separator=None))


def _coils(tool: Tool) -> Iterator[tuple[float, float, str]]:
    """Yield wire, outside diameter and grade of what can be wound and goes into the bore."""
    p = tool.parameters
    grade, present_mm = p.springs[0].wire, p.springs[0].outside_mm
    most_mm = p.bore.diameter_mm - tool.limit("spring free in the bore").passes
    for wire_mm in WIRES_MM:
        try:
            SpringWire.strength_MPa(grade, wire_mm)
            SpringWire.shear_modulus_MPa(grade, wire_mm)
        except StandardError:
            continue
        for outside_mm in dict.fromkeys((present_mm, floor(10 * most_mm) / 10)):
            while outside_mm > 0 and _too_wide(wire_mm, outside_mm, most_mm):
                outside_mm = round(outside_mm - 0.1, 3)
            if INDEX[0] <= (outside_mm - wire_mm) / wire_mm <= INDEX[1]:
                yield wire_mm, outside_mm, grade


def _too_wide(wire_mm: float, outside_mm: float, most_mm: float) -> bool:
    """Return whether a coil, at its tolerance, does not go into the bore; growth comes later."""
    try:
        return outside_mm + spring.outside_tolerance_mm(outside_mm=outside_mm) > most_mm
    except ValueError:
        return True


def _wound(
    tool: Tool, coil: tuple[float, float, str], room: _Room, target: ForceRange
) -> tuple[int, Spring | None]:
    """Return how many bounds a coil passes, and the spring if it passes all."""
    wire_mm, outside_mm, grade = coil
    mean_mm = outside_mm - wire_mm
    active = _most_coils(wire_mm, mean_mm, room.compressed_mm)
    if active < FEWEST_COILS:
        return 1, None
    rate = spring.rate_N_per_mm(
        wire_mm=wire_mm,
        mean_mm=mean_mm,
        active_coils=active,
        shear_modulus_MPa=SpringWire.shear_modulus_MPa(grade, wire_mm),
    )
    spread = tool.parameters.assumptions.rate_percent / 100
    least_N = max(target.least_N / (1 - spread), tool.limit("preload").passes)
    most_N = target.greatest_N / (1 + spread) - rate * room.stroke_mm
    if most_N < least_N:
        return 2, None
    unit_MPa = spring.shear_stress_MPa(force_N=1.0, wire_mm=wire_mm, mean_mm=mean_mm)
    strength_MPa = SpringWire.strength_MPa(grade, wire_mm)
    curved = spring.bergstraesser_factor(index=mean_mm / wire_mm)
    share = SpringWire.find(grade).corrected_share
    limit = tool.limit("corrected stress at full compression", warn=share)
    bears_N = limit.passes * strength_MPa / (unit_MPa * curved)
    most_N = min(most_N, bears_N - rate * room.stroke_mm)
    if most_N < least_N:
        return 3, None
    solid_mm = coils.solid_length_mm(
        wire_mm=wire_mm,
        total_coils=coils.total_coils(active_coils=active, ends=ENDS),
        ends=ENDS,
    )
    closes_N = tool.limit("uncorrected stress when solid").passes * strength_MPa / unit_MPa
    most_N = min(most_N, closes_N - rate * (room.extended_mm - solid_mm))
    if most_N < least_N:
        return 4, None
    free_mm = _free_mm(room, rate, least_N, most_N)
    if free_mm <= room.extended_mm:
        return 2, None
    fits_mm = tool.parameters.bore.diameter_mm - tool.limit("spring free in the bore").passes
    widest_mm = outside_greatest_mm(
        wire_mm=wire_mm, outside_mm=outside_mm, active_coils=active, free_mm=free_mm, ends=ENDS
    )
    if widest_mm > fits_mm:
        return 0, None
    return len(BOUNDS), Spring(
        wire_mm=wire_mm,
        outside_mm=outside_mm,
        free_mm=free_mm,
        active_coils=active,
        wire=grade,
        ends=ENDS,
        rate_N_per_mm=DERIVED,
    )


def _most_coils(wire_mm: float, mean_mm: float, compressed_mm: float) -> float:
    """Return the most active coils, in halves, that leave the solid margin pushed home."""
    gap_mm = spring.least_gap_mm(wire_mm=wire_mm, mean_mm=mean_mm, active_coils=1.0)
    dead_mm = SOLID_SHARE * wire_mm * (coils.total_coils(active_coils=1.0, ends=ENDS) - 1.0)
    left_mm = compressed_mm - dead_mm
    most = min(
        left_mm / (SOLID_SHARE * wire_mm + gap_mm),
        (left_mm - LEAST_MARGIN_MM) / (SOLID_SHARE * wire_mm),
    )
    return floor(2 * most) / 2


def _free_mm(room: _Room, rate: float, least_N: float, most_N: float) -> float:
    """Return the free length, to half a millimetre where the range allows, for a low preload."""
    exact_mm = room.extended_mm + sqrt(least_N * most_N) / rate
    for step_mm in (0.5, 0.1):
        free_mm = round(round(exact_mm / step_mm) * step_mm, 3)
        if least_N <= rate * (free_mm - room.extended_mm) <= most_N:
            return free_mm
    return 0.0
