"""What hides what from an eye far away: turned parts with their cuts, met by straight rays.

A part is taken in its own axes, z along its axis; the eye lies in one direction from everywhere. A
point is hidden where the straight line from it to the eye runs through metal. A line is parted by
every surface that it may meet, and the middle of each piece tells whether the piece lies in metal:
within the half section, and in none of the cuts.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, inf, pi, sin
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.documents.layout import Array
from generator.model.outline import Outline
from generator.model.part import (
    CrossHole,
    Cut,
    DriverSlot,
    HexSocket,
    Part,
    SideFlat,
    Slot,
)

Flags = NDArray[np.bool_]

START: Final = 1e-5
"""Where along a ray one begins to look, in lengths of the direction."""
THIN: Final = 2e-3
"""Metal that a ray meets on no more than this is grazed and hides nothing; likewise."""
FLAT: Final = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Solid:
    """A part as it stands before an eye.

    Attributes:
        part: The part; threads are smooth.
        eye: Direction toward the eye in the part's axes; any length.
    """

    part: Part
    eye: Array

    def hides(self, points_mm: Array) -> Flags:
        """Tell which points it hides; a point on its own surface is not hidden by that alone.

        Args:
            points_mm: Points in the part's axes, shape (n, 3).

        Example:
            >>> from generator.model.outline import Corner
            >>> pin = Outline((Corner(0.0, 0.0), Corner(0.0, 2.0), Corner(9.0, 2.0)))
            >>> solid = Solid(Part("pin", "Pin", pin, "steel", 7.85), np.array([1.0, 0.0, 0.0]))
            >>> solid.hides(np.array([[-5.0, 0.0, 3.0], [5.0, 0.0, 3.0], [-5.0, 0.0, 12.0]]))
            array([ True, False, False])
        """
        cuts = np.concatenate(
            [
                _turned_cuts(self.part.outline, points_mm, self.eye),
                *(_cut_cuts(cut, self.part.outline, points_mm, self.eye) for cut in self.part.cuts),
            ],
            axis=1,
        )
        cuts = np.sort(np.maximum(cuts, START), axis=1)
        lengths = np.diff(cuts, axis=1)
        rows, columns = np.nonzero(lengths > THIN)
        middles = (cuts[rows, columns] + cuts[rows, columns + 1]) / 2
        metal = self.holds(points_mm[rows] + middles[:, None] * self.eye)
        return np.asarray(np.bincount(rows[metal], minlength=len(points_mm)) > 0)

    def holds(self, points_mm: Array) -> Flags:
        """Tell which points lie in its metal."""
        return _within(self.part.outline, points_mm) & ~self.lacks(points_mm)

    def lacks(self, points_mm: Array) -> Flags:
        """Tell which points lie in one of its cuts."""
        gone = np.zeros(len(points_mm), dtype=bool)
        for cut in self.part.cuts:
            gone |= _in_cut(cut, self.part.outline, points_mm)
        return gone


def _within(outline: Outline, points: Array) -> Flags:
    """Tell which points lie within a turned outline, by counting the runs outside of them."""
    z, r = points[:, 2], np.hypot(points[:, 0], points[:, 1])
    within = np.zeros(len(points), dtype=bool)
    for s in outline.segments():
        if s.length_mm > FLAT:
            slope = (s.end.r_mm - s.start.r_mm) / (s.end.z_mm - s.start.z_mm)
            below = r < s.start.r_mm + slope * (z - s.start.z_mm)
            within ^= below & (s.front_mm <= z) & (z < s.rear_mm)
    return within


def _turned_cuts(outline: Outline, points: Array, eye: Array) -> Array:
    """Return where rays may meet cones, cylinders and faces of an outline; shape (points, cuts)."""
    surfaces = set()
    for s in outline.segments():
        if s.length_mm > FLAT and s.diameter_mm > FLAT:
            slope = (s.end.r_mm - s.start.r_mm) / (s.end.z_mm - s.start.z_mm)
            surfaces.add((slope, round(s.start.r_mm - slope * s.start.z_mm, 9)))
    slopes, radii = np.array(sorted(surfaces)).T
    x, y, z = points.T
    a, b, c = eye
    radius = radii + slopes * z[:, None]
    square = a * a + b * b - (slopes * c) ** 2
    half = (a * x + b * y)[:, None] - slopes * c * radius
    rest = (x * x + y * y)[:, None] - radius**2
    planes = np.array(sorted({corner.z_mm for corner in outline.corners}))
    return np.concatenate([*_roots(square, half, rest), _at(planes, z, c)], axis=1)


def _roots(square: Array, half: Array, rest: Array) -> tuple[Array, Array]:
    """Return both roots of s t^2 + 2 h t + r = 0; the turning point twice where there is none."""
    square = np.where(np.abs(square) < FLAT, FLAT, square)
    root = np.sqrt(np.maximum(half * half - square * rest, 0.0))
    return (-half - root) / square, (root - half) / square


def _at(planes: Array, places: Array, way: float) -> Array:
    """Return where rays reach planes square to one axis; shape (points, planes)."""
    if abs(way) < FLAT:
        return np.zeros((len(places), 0))
    return np.asarray((planes - places[:, None]) / way)


def hexagon(cut: HexSocket) -> tuple[tuple[float, float], ...]:
    """Return the normals of the walls of a socket; two of its corners lie on the x axis."""
    return tuple((cos(pi / 6 + n * pi / 3), sin(pi / 6 + n * pi / 3)) for n in range(6))


def slot_floor_mm(cut: Slot, outline: Outline) -> float:
    """Return how far from the axis the floor of a slot lies."""
    middle_mm = cut.front_mm + cut.length_mm / 2
    if cut.through(outline):
        return -outline.diameter_mm
    return outline.radius_at_mm(middle_mm, inside=False) - cut.depth_mm


def ledge_top_mm(cut: CrossHole, outline: Outline) -> float:
    """Return how far from the axis the ledge in a hole ends; the bore, where there is none."""
    at_mm = min(max(cut.z_mm, 0.0), outline.length_mm)
    return outline.radius_at_mm(at_mm, inside=True) + cut.ledge_mm


def slot_centres_mm(cut: Slot) -> tuple[float, float]:
    """Return where the round ends of a slot have their centres; of an open one, past its end."""
    half_mm = cut.width_mm / 2
    return cut.front_mm + half_mm, cut.rear_mm + (half_mm if cut.open else -half_mm)


def _cut_cuts(cut: Cut, outline: Outline, points: Array, eye: Array) -> Array:
    """Return where rays may enter and leave a cut; shape (points, cuts)."""
    x, y, z = points.T
    a, b, c = eye
    match cut:
        case CrossHole():
            wide = _round(x, z - cut.z_mm, a, c, cut.diameter_mm / 2)
            narrow = _round(x, z - cut.z_mm, a, c, cut.through_mm / 2) if cut.ledge_mm else ()
            levels = np.array([0.0, ledge_top_mm(cut, outline)])
            return np.concatenate([*wide, *narrow, _at(levels, y, b)], axis=1)
        case Slot() if cut.square:
            ends = np.array([cut.front_mm, cut.rear_mm])
            floor = slot_floor_mm(cut, outline) * np.array([1.0, -1.0][: cut.count])
            return np.concatenate([_at(ends, z, c), _at(floor, y, b)], axis=1)
        case Slot():
            half_mm, centres = cut.width_mm / 2, slot_centres_mm(cut)
            return np.concatenate(
                [
                    *_round(x, z - centres[0], a, c, half_mm),
                    *_round(x, z - centres[1], a, c, half_mm),
                    _at(np.array([-half_mm, half_mm]), x, a),
                    _at(np.array(centres), z, c),
                    _at(np.array([slot_floor_mm(cut, outline)]), y, b),
                ],
                axis=1,
            )
        case SideFlat():
            ends = _at(np.array([cut.front_mm, cut.rear_mm]), z, c)
            sides = _at(np.array([cut.off_mm]), y, b)
            if cut.both:
                sides = _at(np.array([cut.off_mm, -cut.off_mm]), x, a)
            return np.concatenate([sides, ends], axis=1)
        case DriverSlot():
            walls = np.array([-cut.width_mm / 2, cut.width_mm / 2])
            floor = np.array([outline.length_mm - cut.depth_mm])
            return np.concatenate([_at(walls, y, b), _at(floor, z, c)], axis=1)
        case HexSocket():
            flat = np.array([cut.across_flats_mm / 2])
            floor = np.array([outline.length_mm - cut.depth_mm])
            six = (_at(flat, u * x + v * y, u * a + v * b) for u, v in hexagon(cut))
            return np.concatenate([*six, _at(floor, z, c)], axis=1)


def _round(u: Array, v: Array, a: float, b: float, radius: float) -> tuple[Array, Array]:
    """Return where rays meet a cylinder about a point of the plane of u and v."""
    square, half, rest = a * a + b * b, a * u + b * v, u * u + v * v - radius**2
    return _roots(np.array([square]), half[:, None], rest[:, None])


def _in_cut(cut: Cut, outline: Outline, points: Array) -> Flags:
    """Tell which points lie within a cut, which is open where the tool comes in."""
    x, y, z = points.T
    match cut:
        case CrossHole():
            off = x**2 + (z - cut.z_mm) ** 2
            side = np.full(len(points), True) if cut.both else y > 0
            within = off < cut.diameter_mm**2 / 4
            if cut.ledge_mm:
                within &= (y > ledge_top_mm(cut, outline)) | (off < cut.through_mm**2 / 4)
            return np.asarray(side & within)
        case Slot() if cut.square:
            between = (z > cut.front_mm) & (z < cut.rear_mm)
            out = np.abs(y) if cut.both else y
            return np.asarray(between & (out > slot_floor_mm(cut, outline)))
        case Slot():
            front, rear = slot_centres_mm(cut)
            off = z - np.clip(z, front, rear)
            deep = y > slot_floor_mm(cut, outline)
            return np.asarray(deep & (x**2 + off**2 < cut.width_mm**2 / 4))
        case SideFlat():
            height = np.abs(x) if cut.both else y
            return np.asarray((height > cut.off_mm) & (z > cut.front_mm) & (z < cut.rear_mm))
        case DriverSlot():
            deep = z > outline.length_mm - cut.depth_mm
            return np.asarray(deep & (np.abs(y) < cut.width_mm / 2))
        case HexSocket():
            deep = z > outline.length_mm - cut.depth_mm
            far = np.full(len(points), -inf)
            for u, v in hexagon(cut):
                far = np.maximum(far, u * x + v * y)
            return np.asarray(deep & (far < cut.across_flats_mm / 2))
