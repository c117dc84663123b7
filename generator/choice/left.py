"""What the designs found so far leave to be bettered, so that the rest need not be looked at."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.choice.front import Steps
from generator.choice.groups import Group
from generator.choice.matters import MEASURES
from generator.choice.preloads import TINY, Cell, Rules
from generator.choice.rows import Floats, Rows
from generator.choice.strokes import STEP_MM
from generator.inputs.drawer import Matter

Flags = NDArray[np.bool_]
SCREWS: Final = 1
"""Bought parts beside the springs."""

CLOSE_N: Final = 1e-6
FAR: Final = 1 << 30


@dataclass(frozen=True, slots=True)
class Open:
    """A stroke that may hold a design.

    Attributes:
        cell: The stroke.
        short_mm: Room for the springs with the shortest nose, the flattest plug and button.
        floors_N: Floors of the taps that may be served.
        ceilings_N: Their ceilings.
        least_N: The preloads from which on more taps are held.
    """

    cell: Cell
    short_mm: float
    floors_N: Floats
    ceilings_N: Floats
    least_N: Floats

    @property
    def bore_mm(self) -> float:
        """The bore."""
        return self.cell.section.fit.reamer.diameter_mm

    def held(self, rise_N: Floats) -> NDArray[np.int64]:
        """Return how many taps can be held at most.

        Args:
            rise_N: Shape (n,): by how much the force rises over the stroke.

        Returns:
            Shape (n, m): by the rise and by the preload from which on.
        """
        first_N = self.least_N + CLOSE_N
        last_N = first_N + rise_N[:, None] - 2 * CLOSE_N
        low = self.floors_N <= first_N[:, None]
        return np.asarray((low & (self.ceilings_N >= last_N[:, :, None])).sum(2))


def opened(c: Cell, r: Rules) -> Open | None:
    """Return a stroke with what its taps want; None if too few of them can be served."""
    taps = [tap for tap in c.section.ended.taps if c.strokes.spare_mm[tap.place, c.place] >= 0]
    if len(taps) < r.taps:
        return None
    whole, rear = r.window_mm == inf, c.section.holder
    floors_N = np.array([max(r.preload_N, tap.floor_N * whole) for tap in taps])
    one = Open(
        cell=c,
        short_mm=c.body_mm - rear.plug_mm - c.inside_mm - rear.sunk_mm - r.button_mm,
        floors_N=floors_N,
        ceilings_N=np.array([tap.ceiling_N if whole else inf for tap in taps]),
        least_N=np.unique(floors_N),
    )
    enough = one.held(np.zeros(1))[0] >= r.taps
    if not enough.any():
        return None
    return Open(c, one.short_mm, floors_N, one.ceilings_N, one.least_N[enough])


@dataclass(frozen=True, slots=True)
class Left:
    """What is left for the rows of a group to better in one stroke, were all else at its best.

    Attributes:
        one: The stroke.
        group: The rows.
        reached: By the taps served, so many or more, and by the steps of the preload, so many or
            fewer: the least length reached, in steps.
        by_kind: How many taps a row of each class of compliance can hold at most.
        matters: What matters.
    """

    one: Open
    group: Group
    reached: Steps
    by_kind: NDArray[np.int64]
    matters: Sequence[Matter]

    @property
    def hopeless(self) -> bool:
        """Whether no row can better what was found."""
        shortest_mm = self.group.shortest_for_mm(self.one.cell.travel_mm)
        there = np.flatnonzero(shortest_mm < inf)
        return not self._better(there, shortest_mm[there]).any()

    def rows(self, rows: Rows, kind: NDArray[np.int16]) -> Flags:
        """Tell which rows can better what was found.

        A row that is pressed further makes a shorter tool, and passes the ceilings of more taps. So
        each is looked at pressed to each ceiling, with the taps whose ceilings are no lower.
        """
        line, wanted = rows.nominal, np.zeros(len(rows), bool)
        most = self.by_kind[kind]
        ceilings_N = np.unique(self.one.ceilings_N)
        within = int(np.searchsorted(ceilings_N, self.group.most_N)) + 1
        for ceiling_N in ceilings_N[:within]:
            count = np.minimum(most, self._under(np.array([ceiling_N]))[0])
            pressed_mm = np.maximum(rows.shortest_mm, line.free_mm - line.give_mm_per_N * ceiling_N)
            wanted |= self._shorter(pressed_mm) < self._lengths(count)
        return wanted

    def _better(self, kind: NDArray[np.integer], shortest_mm: Floats) -> Flags:
        return self._shorter(shortest_mm) < self._lengths(self.by_kind[kind])

    def _shorter(self, pressed_mm: Floats) -> Steps:
        """Return the length of the tool with springs that are so long when pressed home."""
        c = self.one.cell
        longer_mm = pressed_mm + c.travel_mm - c.near_mm - self.one.short_mm
        return self._length(STEP_MM * np.ceil(np.maximum(0.0, longer_mm) / STEP_MM - TINY))

    def _lengths(self, count: NDArray[np.int64]) -> Steps:
        """Return the least length reached with so many taps and any preload worth having."""
        lightest = self._preload(self.one.least_N[:1])[0]
        return np.asarray(self.reached[:, lightest][count])

    def _under(self, force_N: Floats) -> NDArray[np.int64]:
        """Return how many taps bear a force; 0 for all where their number does not matter."""
        order = np.sort(self.one.ceilings_N)
        under = len(order) - np.searchsorted(order, force_N - CLOSE_N)
        return np.asarray(under * self._counted)

    @property
    def _counted(self) -> bool:
        return "taps" in self.matters

    def holds(self, preload_N: Floats, full_N: Floats, longer_mm: Floats) -> Flags:
        """Tell which preloads could better what was found, with a nose at least so much longer."""
        floors_N = np.sort(self.one.floors_N)
        over = np.searchsorted(floors_N, preload_N + CLOSE_N, side="right") * self._counted
        count = np.minimum(np.minimum(over, self._under(full_N)), len(self.reached) - 1)
        enough = preload_N + CLOSE_N >= self.one.least_N[0]
        shorter = self._length(longer_mm) < self.reached[count, self._preload(preload_N)]
        return np.asarray(shorter & enough, np.bool_)

    def most_N(self, longer_mm: Floats) -> Floats:
        """Return for each length of nose the preload beyond which it cannot better them."""
        least = self.reached[self.by_kind.max()]
        reached = least <= self._length(longer_mm)[:, None]
        first = np.argmax(reached, axis=1)
        heavy = "preload" in self.matters
        most_N = (first - 1) * MEASURES["preload"].step + CLOSE_N if heavy else -inf
        return np.where(reached.any(1), most_N, inf)

    def _length(self, longer_mm: Floats) -> Steps:
        length_mm = self.one.cell.length_mm + longer_mm
        return MEASURES["length"].steps(length_mm) * ("length" in self.matters)

    def _preload(self, preload_N: Floats) -> Steps:
        steps = np.minimum(MEASURES["preload"].steps(preload_N), self.reached.shape[1] - 1)
        return np.asarray(steps * ("preload" in self.matters))


def left(
    one: Open, group: Group, matters: Sequence[Matter], found: Steps, *, lean: int = 0
) -> Left:
    """Return what is left for the rows of a group to better in a stroke.

    Args:
        one: The stroke.
        group: The rows.
        matters: What matters.
        found: The designs found, in whole steps.
        lean: The least lean of any thread, in whole steps, as far as it is known.
    """
    c = one.cell
    own = {
        "travel": MEASURES["travel"].told(c.travel_mm),
        "parts": MEASURES["parts"].told(SCREWS + group.count),
        "lean": lean,
    }
    columns = {matter: found[:, place] for place, matter in enumerate(matters)}
    none = np.zeros(len(found), np.int64)
    rivals = np.ones(len(found), bool)
    for matter, best in own.items():
        if matter in columns:
            rivals &= columns[matter] <= best
    taps, preloads, lengths = (
        columns.get(matter, none)[rivals] for matter in ("taps", "preload", "length")
    )
    counted = "taps" in columns
    held = one.held(c.travel_mm / group.softest) * counted
    most = int(max(held.max(), (-taps).max(initial=0)))
    reached = np.full((most + 1, int(preloads.max(initial=0)) + 1), FAR)
    np.minimum.at(reached, (-taps, preloads), lengths)
    reached = np.minimum.accumulate(reached, axis=1)
    reached = np.minimum.accumulate(reached[::-1], axis=0)[::-1]
    return Left(one, group, reached, held.max(1), matters)
