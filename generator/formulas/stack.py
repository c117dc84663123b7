"""Force against length of springs: one coil, coils side by side, and springs in a row.

A spring gives until it is solid, and is rigid from there on. Springs in a row bear the same force;
springs side by side, as one inside the other, have the same length. Either way the force grows in
straight pieces as the length falls, and a curve of corners carries all that is to be known.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import fsum
from typing import Final

ROUNDING: Final = 1e-10
"""Corners nearer to each other than this share of length or force are one."""


@dataclass(frozen=True, slots=True)
class Curve:
    """Force against length of a spring or a set of springs, in straight pieces.

    Attributes:
        points: Corners (length_mm, force_N) from the free length, where the force is 0, to the
            shortest length that can be reached. Lengths fall and forces rise from each to the next.
    """

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        """Check that the corners are in order and begin at rest."""
        falls = all(a[0] > b[0] and a[1] < b[1] for a, b in pairwise(self.points))
        if not (len(self.points) > 1 and falls and self.points[0][1] == 0 < self.points[-1][0]):
            raise ValueError(f"{self}")

    @property
    def free_mm(self) -> float:
        """The length at rest."""
        return self.points[0][0]

    @property
    def end_mm(self) -> float:
        """The shortest length: nothing gives any more."""
        return self.points[-1][0]

    @property
    def end_force_N(self) -> float:
        """The force that presses it to its shortest length."""
        return self.points[-1][1]

    def force_N(self, length_mm: float) -> float:
        """Return the force at a length.

        Args:
            length_mm: The length.

        Returns:
            The force; 0 at the free length and above it.

        Raises:
            ValueError: If it cannot be so short.

        Source:
            By the definition of springs in series; no printed example with springs that close was
            found. The example is worked by hand: to 10 N both give, 1/1 and 1/2 mm a newton; then
            the second is solid.

        Example:
            >>> soft = coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
            >>> stiff = coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)
            >>> row = in_series([soft, stiff])
            >>> [row.force_N(length_mm) for length_mm in (41, 40, 32.5, 25, 23, 22)]
            [0.0, 0.0, 5.0, 10.0, 12.0, 13.0]
        """
        if not length_mm >= self.end_mm:
            raise ValueError(f"{length_mm=} is less than {self.end_mm=}")
        if length_mm >= self.free_mm:
            return 0.0
        (long_mm, low_N), (short_mm, high_N) = self._piece(length_mm)
        if length_mm == short_mm:
            return high_N
        return low_N + (high_N - low_N) * (long_mm - length_mm) / (long_mm - short_mm)

    def length_mm(self, force_N: float) -> float:
        """Return the length under a force; the inverse of `force_N`.

        Args:
            force_N: The force.

        Returns:
            The length; the shortest one under any force that is enough for it.

        Raises:
            ValueError: If the force is negative.

        Source:
            By the definition of springs in series; example as for `force_N`.

        Example:
            >>> soft = coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
            >>> stiff = coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)
            >>> row = in_series([soft, stiff])
            >>> [row.length_mm(force_N) for force_N in (0, 5, 10, 12, 13, 20)]
            [40.0, 32.5, 25.0, 23.0, 22.0, 22.0]
        """
        if not force_N >= 0:
            raise ValueError(f"{force_N=}")
        place = bisect_left(self.points, force_N, key=lambda point: point[1])
        if place == 0:
            return self.free_mm
        if place == len(self.points) or force_N == self.points[place][1]:
            return self.points[min(place, len(self.points) - 1)][0]
        (long_mm, low_N), (short_mm, high_N) = self.points[place - 1 : place + 1]
        return long_mm - (long_mm - short_mm) * (force_N - low_N) / (high_N - low_N)

    def rate_N_per_mm(self, length_mm: float) -> float:
        """Return the rate at a length: how steeply the force grows on being pressed further.

        Args:
            length_mm: The length.

        Returns:
            The slope of the piece that begins there; 0 above the free length, and at the shortest
            length the slope of the last piece.

        Raises:
            ValueError: If it cannot be so short.

        Source:
            By the definition of springs in series; example: a textbook problem, springs of 1 200
            and 1 800 N/m in series, effective constant 720 N/m (Serway and Jewett, Physics for
            Scientists and Engineers; the book from memory, unverified).

        Example:
            >>> pair = [coil(free_mm=50, solid_mm=20, rate_N_per_mm=k) for k in (1.2, 1.8)]
            >>> round(in_series(pair).rate_N_per_mm(90), 3)
            0.72
        """
        if not length_mm >= self.end_mm:
            raise ValueError(f"{length_mm=} is less than {self.end_mm=}")
        if length_mm > self.free_mm:
            return 0.0
        place = sum(point[0] >= length_mm for point in self.points[:-1])
        (long_mm, low_N), (short_mm, high_N) = self.points[place - 1 : place + 1]
        return (high_N - low_N) / (long_mm - short_mm)

    def energy_J(self, from_mm: float, to_mm: float) -> float:
        """Return the work that presses it from one length to another: the area under the curve.

        Args:
            from_mm: The length before.
            to_mm: The length after.

        Returns:
            The energy taken up; negative where it is let go.

        Raises:
            ValueError: If it cannot be so short.

        Source:
            By the definition of work; the example is F^2/(2k), a spring of 2 N/mm pressed by 10 mm.

        Example:
            >>> coil(free_mm=30, solid_mm=15, rate_N_per_mm=2).energy_J(30, 20)
            0.1
        """
        if to_mm > from_mm:
            return -self.energy_J(to_mm, from_mm)
        corners = [point[0] for point in self.points if to_mm < point[0] < from_mm]
        pieces = pairwise([from_mm, *corners, to_mm])
        return fsum((a - b) * (self.force_N(a) + self.force_N(b)) / 2 for a, b in pieces) / 1000

    def _piece(self, length_mm: float) -> tuple[tuple[float, float], tuple[float, float]]:
        """Return the piece in which a length between free and shortest lies."""
        place = bisect_left(self.points, -length_mm, key=lambda point: -point[0])
        return self.points[place - 1], self.points[place]


def coil(*, free_mm: float, solid_mm: float, rate_N_per_mm: float) -> Curve:
    """Return the curve of one spring.

    Args:
        free_mm: Free length.
        solid_mm: Length with all coils touching.
        rate_N_per_mm: Spring rate.

    Returns:
        One straight piece, from the free length to the solid length.

    Raises:
        ValueError: If the spring has no travel, or a number is not positive.

    Source:
        Machinery's Handbook, 31st ed., p. 319: a spring of free length 2.5 in and solid height
        1.0 in deflects 1.5 in.

    Example:
        >>> spring = coil(free_mm=2.5, solid_mm=1.0, rate_N_per_mm=1)
        >>> spring.free_mm - spring.length_mm(99)
        1.5
    """
    if not (0 < solid_mm < free_mm and rate_N_per_mm > 0):
        raise ValueError(f"{free_mm=}, {solid_mm=}, {rate_N_per_mm=}")
    force_N = rate_N_per_mm * (free_mm - solid_mm)
    return Curve(((float(free_mm), 0.0), (float(solid_mm), float(force_N))))


def in_series(curves: Sequence[Curve], separators_mm: float = 0.0) -> Curve:
    """Return the curve of springs in a row, which all bear the same force.

    Args:
        curves: The springs, in any order.
        separators_mm: Length that all rigid separators take together.

    Returns:
        The lengths added at each force. It ends where the last of them has ended.

    Raises:
        ValueError: If there is no spring, or the separators are negative.

    Source:
        By the definition of springs in series; example as for `Curve.force_N`.

    Example:
        >>> soft = coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
        >>> stiff = coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)
        >>> in_series([soft, stiff]).points
        ((40.0, 0.0), (25.0, 10.0), (22.0, 13.0))
    """
    if not (curves and separators_mm >= 0):
        raise ValueError(f"{len(curves)} springs, {separators_mm=}")
    forces = sorted({force_N for curve in curves for _, force_N in curve.points})
    return _joined(
        (fsum([separators_mm, *(curve.length_mm(force_N) for curve in curves)]), force_N)
        for force_N in forces
    )


def side_by_side(curves: Sequence[Curve]) -> Curve:
    """Return the curve of springs that have the same length, such as one inside the other.

    Args:
        curves: The springs, in any order.

    Returns:
        The forces added at each length. It begins at the longest free length and ends where the
        first of them has ended: at the longest of their solid lengths.

    Raises:
        ValueError: If there is no spring.

    Source:
        By the definition of springs in parallel; example: a strength of materials textbook
        (India), problem 8.8, p. 212: a spring of 3 N/mm, in it one 10 mm shorter of 4 N/mm; 100 N
        press the outer one by 20 mm.

    Example:
        >>> outer = coil(free_mm=60, solid_mm=30, rate_N_per_mm=3)
        >>> inner = coil(free_mm=50, solid_mm=16, rate_N_per_mm=4)
        >>> side_by_side([outer, inner]).force_N(60 - 20)
        100.0
    """
    if not curves:
        raise ValueError("no springs")
    end_mm = max(curve.end_mm for curve in curves)
    lengths = {length_mm for curve in curves for length_mm, _ in curve.points}
    return _joined(
        (length_mm, fsum(curve.force_N(length_mm) for curve in curves))
        for length_mm in sorted(lengths, reverse=True)
        if length_mm >= end_mm
    )


def first_to_end(curves: Sequence[Curve]) -> int:
    """Return the place, from 0, of the spring in a row that closes first as the force grows.

    It is the one that the lowest force closes, which need not be the softest. Of two that close
    together, the first in the row is named.

    Args:
        curves: The springs.

    Returns:
        Index into `curves`.

    Raises:
        ValueError: If there is no spring.

    Source:
        By the definition of springs in series; example as for `Curve.force_N`.

    Example:
        >>> soft = coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
        >>> stiff = coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)
        >>> first_to_end([soft, stiff])
        1
    """
    if not curves:
        raise ValueError("no springs")
    return min(range(len(curves)), key=lambda place: curves[place].end_force_N)


def _joined(corners: Iterable[tuple[float, float]]) -> Curve:
    """Return the curve through corners; of those that only rounding sets apart, the last counts."""
    points: list[tuple[float, float]] = []
    for length_mm, force_N in corners:
        if points and _alike(points[-1], (length_mm, force_N)):
            points[1:] = [*points[1:-1], (length_mm, force_N)] if len(points) > 1 else []
        else:
            points.append((length_mm, force_N))
    return Curve(tuple(points))


def _alike(one: tuple[float, float], other: tuple[float, float]) -> bool:
    """Tell whether the second corner is beyond the first by no more than rounding."""
    shorter, more = one[0] - other[0], other[1] - one[1]
    return not (shorter > ROUNDING * one[0] and more > ROUNDING * other[1])
