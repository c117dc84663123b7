"""Rows of springs sorted so that a stroke finds at once whether any of them can serve it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from generator.choice.preloads import TINY, Rules, longest_travel_mm
from generator.choice.rows import MOST_IN_A_ROW, Floats, Places, Rows

CLASSES: Final = 48
"""Into how many classes of compliance rows are sorted."""

LONGEST_MM: Final = 64
"""Travel from which on rows are in one class."""


@dataclass(frozen=True, slots=True)
class Group:
    """Rows of one number of springs that enter one bore, the one for the longest travel first.

    Attributes:
        count: How many springs.
        rows: The rows.
        too_long_mm: Longest travel of each, whatever the stroke it stands in, with its sign turned
            so that it rises.
        most_N: What any of them bears at most.
        kind: Its class of compliance.
        softest: Greatest compliance of each class.
        least_mm: By class and by whole millimetres of travel, the least of the shortest lengths of
            the rows with that travel or more.
    """

    count: int
    rows: Rows
    too_long_mm: Floats
    most_N: float
    kind: Places
    softest: Floats
    least_mm: Floats

    def enough(self, travel_mm: float) -> int:
        """Return how many rows have travel enough."""
        return int(np.searchsorted(self.too_long_mm, TINY - travel_mm, side="right"))

    def short_of_travel(self, travel_mm: float) -> dict[str, int]:
        """Return how many rows have too little travel, by the rule that leaves them no more."""
        rest = self.rows.by_tolerance[self.enough(travel_mm) :]
        tight = int(np.count_nonzero(rest))
        return {"solid margin with tolerances": tight, "solid margin": len(rest) - tight}

    def shortest_for_mm(self, travel_mm: float) -> Floats:
        """Return for each class the least length of rows with travel enough; infinite for none."""
        return np.asarray(self.least_mm[:, min(int(travel_mm), LONGEST_MM)])


@dataclass(frozen=True, slots=True)
class Bore:
    """The rows that enter one bore.

    Attributes:
        groups: They by the number of their springs.
        rests: The best of each group and of those after it, without their rows.
    """

    groups: tuple[Group, ...]
    rests: tuple[Group, ...]

    def rest(self, place: int) -> Group:
        """Return the best of a group and of those after it."""
        return self.rests[place]


def groups(r: Rules, rows: Rows, bores_mm: Iterable[float]) -> dict[float, Bore]:
    """Return the rows for each bore.

    Args:
        r: The rules of springs.
        rows: Every row.
        bores_mm: The bores.
    """
    travel_mm = longest_travel_mm(r, rows)
    order = np.argsort(-travel_mm, kind="stable")
    rows, travel_mm = rows.at(order), travel_mm[order]
    found = {}
    for bore_mm in set(bores_mm):
        enters = rows.outside_mm <= bore_mm - r.free_mm + TINY
        which = [np.flatnonzero(enters & (rows.count == n + 1)) for n in range(MOST_IN_A_ROW)]
        give = rows.nominal.give_mm_per_N[enters]
        edges = (
            np.geomspace(give.min(), give.max() * (1 + TINY), CLASSES + 1) if len(give) else None
        )
        made = tuple(
            _group(n, rows.at(some), travel_mm[some], edges) for n, some in enumerate(which, 1)
        )
        found[bore_mm] = Bore(made, tuple(_rest(made[n:]) for n in range(len(made))))
    return found


def _rest(some: tuple[Group, ...]) -> Group:
    """Return the best of several groups of one bore."""
    return replace(
        some[0],
        rows=some[0].rows.at(np.zeros(0, np.intp)),
        least_mm=np.min([one.least_mm for one in some], axis=0),
        most_N=max(one.most_N for one in some),
    )


def _group(count: int, rows: Rows, travel_mm: Floats, edges: Floats | None) -> Group:
    """Return rows of one number of springs, classed by the edges of compliance of their bore."""
    bounds = np.ones(CLASSES + 1) if edges is None else edges
    give = rows.nominal.give_mm_per_N
    kind = np.clip(np.searchsorted(bounds, give, side="right") - 1, 0, CLASSES - 1)
    whole = np.clip(travel_mm, 0, LONGEST_MM).astype(np.int64)
    least_mm = np.full((CLASSES, LONGEST_MM + 1), np.inf)
    np.minimum.at(least_mm, (kind, whole), rows.shortest_mm)
    least_mm = np.minimum.accumulate(least_mm[:, ::-1], axis=1)[:, ::-1]
    most_N = rows.nominal.force_N(rows.shortest_mm).max(initial=0.0)
    return Group(
        count, rows, -travel_mm, float(most_N), kind.astype(np.int16), bounds[1:], least_mm
    )
