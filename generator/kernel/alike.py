"""Which of many looks at the set screw are the same look, so that the kernel takes it once.

The plunger slides past the screw at three sets of sizes and with either end out, and both ends of
its slot meet the screw: much of that is the same metal again, or its mirror image end for end, and
does the same to the screw.
"""

from __future__ import annotations

from math import inf
from typing import Final, NamedTuple

from generator.model.assembly import Placed
from generator.model.part import (
    CrossHole,
    Cut,
    DriverSlot,
    HexSocket,
    Part,
    SideFlat,
    Slot,
)

DIGITS: Final = 9
"""Decimals of a millimetre to which metal is alike, far within what counts as touching."""

End = tuple[float, float]
Sizes = tuple[float, ...]
CutAway = tuple[str, float, float, float, float, Sizes]
"""Kind, foremost and rearmost position, the way and the side to which it is open, its sizes."""


class View(NamedTuple):
    """The screw and a part beside it.

    Attributes:
        part: The part, as it stands at the first position of the stroke.
        screw: The screw.
        gap_mm: How far the screw is meant to stand off the floor of the slot.
        travel_mm: How far the part goes from the first position to the last.
        moved_mm: How far it has gone.
    """

    part: Placed
    screw: Placed
    gap_mm: float = 0.0
    travel_mm: float = 0.0
    moved_mm: float = 0.0


class Metal(NamedTuple):
    """A part near the screw: both ends of its lines, and its cuts; positions from the screw."""

    lines: tuple[tuple[End, End], ...]
    cuts: tuple[CutAway, ...]

    def mirrored(self) -> Metal:
        """Return it end for end."""
        lines = (_line((-z0, r0), (-z1, r1)) for (z0, r0), (z1, r1) in self.lines)
        cuts = (
            (kind, -rear, -front, -way, side, sizes)
            for kind, front, rear, way, side, sizes in self.cuts
        )
        return Metal(tuple(sorted(lines)), tuple(sorted(cuts)))


class Firsts:
    """The first view of each kind, which stands for all of its kind."""

    def __init__(self) -> None:
        """Begin with none."""
        self._views: dict[object, View] = {}

    def of(self, view: View, reach_mm: float, *, any_screw: bool = False) -> View:
        """Return the first view in which the metal about the screw is as in this one.

        Args:
            view: The view.
            reach_mm: How far along the axis, to both sides of the screw, metal matters.
            any_screw: Whether the screws may differ.
        """
        metal = metal_about(view, reach_mm)
        lengths = (view.screw.origin_mm[1], view.gap_mm, view.travel_mm)
        screw = view.screw.part.outline, *map(_rounded, lengths)
        key = None if any_screw else screw, _rounded(reach_mm), min(metal, metal.mirrored())
        return self._views.setdefault(key, view)


def metal_about(view: View, reach_mm: float) -> Metal:
    """Return what a part is within a reach of the screw along the axis."""
    place = view.part
    way = -1.0 if place.axis.startswith("front") else 1.0
    side = -1.0 if place.axis.endswith("rolled") else 1.0
    off_mm = place.origin_mm[2] + view.moved_mm - view.screw.origin_mm[2]
    lines = set()
    for s in place.part.outline.segments():
        first, last = sorted((way * c.z_mm + off_mm, c.r_mm) for c in (s.start, s.end))
        if first[0] <= reach_mm and last[0] >= -reach_mm:
            lines.add(_line(_kept(first, last, reach_mm), _kept(last, first, reach_mm)))
    cuts = set()
    for cut in place.part.cuts:
        kind, front, rear, open_to, end_mm, sizes = _cut_away(cut, place.part)
        front, rear = sorted((way * front + off_mm, way * rear + off_mm))
        if front <= reach_mm and rear >= -reach_mm:
            # an end beyond reach may be anywhere
            front = -inf if front + end_mm <= -reach_mm else _rounded(front)
            rear = inf if rear - end_mm >= reach_mm else _rounded(rear)
            cuts.add((kind, front, rear, way * open_to, side, sizes))
    return Metal(tuple(sorted(lines)), tuple(sorted(cuts)))


def _cut_away(cut: Cut, part: Part) -> tuple[str, float, float, float, float, Sizes]:
    """Return kind, ends, the way it is open, how much its ends differ from the rest, and sizes."""
    length_mm = part.outline.length_mm
    match cut:
        case Slot():
            rear = cut.front_mm + cut.length_mm
            radius = part.outline.radius_at_mm((cut.front_mm + rear) / 2, inside=False)
            form = float(cut.square), float(cut.both)
            sizes = cut.width_mm, _rounded(radius - cut.depth_mm), *form
            return "slot", cut.front_mm, rear, float(cut.open), cut.width_mm / 2, sizes
        case CrossHole():
            half = cut.diameter_mm / 2
            hole = cut.diameter_mm, float(cut.both), cut.ledge_mm, cut.through_mm
            return "hole", cut.z_mm - half, cut.z_mm + half, 0.0, inf, hole
        case SideFlat():
            return "side flat", cut.front_mm, cut.rear_mm, 0.0, 0.0, (cut.off_mm, float(cut.both))
        case DriverSlot():
            front = length_mm - cut.depth_mm
            return "driver slot", front, length_mm, 1.0, inf, (cut.width_mm,)
        case HexSocket():
            front = length_mm - cut.depth_mm
            return "socket", front, length_mm, 1.0, inf, (cut.across_flats_mm,)


def _kept(end: End, other: End, reach_mm: float) -> End:
    """Return the end of a line, or where the line leaves the reach."""
    (z, r), (z1, r1) = end, other
    at = min(max(z, -reach_mm), reach_mm)
    return (at, r + (r1 - r) * (at - z) / (z1 - z)) if at != z else end


def _line(one: End, other: End) -> tuple[End, End]:
    """Return a line told one way, whichever end came first."""
    first, last = sorted((_rounded(z), _rounded(r)) for z, r in (one, other))
    return first, last


def _rounded(length_mm: float) -> float:
    return round(length_mm, DIGITS) + 0.0
