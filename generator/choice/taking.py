"""Settled rows as designs: which better those found, and how their threads lean."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from generator.choice.candidate import Candidate, Lengths
from generator.choice.front import Steps, bettered, distinct, unbettered
from generator.choice.ground import Ground
from generator.choice.groups import Group
from generator.choice.leaning import certainly_within, chains, leans_deg
from generator.choice.left import SCREWS, Open
from generator.choice.matters import MEASURES, in_steps
from generator.choice.preloads import (
    TINY,
    Cell,
    Settled,
)
from generator.choice.rows import NOTHING, Floats, Rows
from generator.inputs.drawer import Matter
from generator.standards.limits import SLACK


@dataclass(frozen=True, slots=True)
class Found:
    """A design that the search found, by what matters.

    Attributes:
        candidate: The design.
        values: What it reaches of everything that may matter.
        steps: The same of what does matter, in whole steps.
    """

    candidate: Candidate
    values: dict[Matter, float]
    steps: tuple[int, ...]


class Front:
    """The designs found so far that no other one betters."""

    def __init__(self, matters: tuple[Matter, ...]) -> None:
        """Begin with none."""
        self.matters = matters
        self.found: list[Found] = []
        self.steps: Steps = np.zeros((0, len(matters)), np.int64)

    def add(self, one: Found) -> None:
        """Take a design in, and leave out those it betters."""
        steps = np.array([one.steps], np.int64)
        if bettered(steps, self.steps)[0]:
            return
        stays = ~bettered(self.steps, steps)
        self.found = [each for each, kept in zip(self.found, stays, strict=True) if kept] + [one]
        self.steps = np.concatenate([self.steps[stays], steps])


def least_lean(g: Ground, one: Open, group: Group) -> int:
    """Return the least lean of any thread in a stroke, in whole steps: that with the shortest nose.

    Springs have no part in it; any row will do.
    """
    c, none = one.cell, np.zeros(1)
    any_row = Settled(
        row=np.zeros(1, np.int64),
        room_mm=none,
        longer_mm=none,
        sunk_mm=np.array([c.section.holder.sunk_mm]),
        button_mm=np.array([g.rules.button_mm]),
        preload_N=none,
        ratio=none,
        served=np.ones(1, np.int64),
    )
    found = leans_deg(chains(g.shop, candidate(g, c, group.rows, any_row, 0)))
    fitting = [
        found[tap.place]
        for tap in c.section.ended.taps
        if tap.place in found and c.strokes.spare_mm[tap.place, c.place] >= 0
    ]
    least_deg = min((value for value in fitting if value == value), default=0.0)
    return MEASURES["lean"].told(least_deg)


def take(g: Ground, c: Cell, rows: Rows, found: Settled, front: Front, lean: int) -> None:
    """Take the settled rows into the front that better what is in it.

    The lean takes longest to work out, so where it does not matter only that of a design that
    would be taken is looked at; should it not be accepted, all are.
    """
    if "lean" not in front.matters:
        better = _better(g, c, rows, found, front)
        if all(_leans_little(g, one.candidate) for one in better):
            for one in better:
                front.add(one)
            return
        least_deg = np.zeros(len(found))
    else:
        least_deg = np.full(len(found), lean * MEASURES["lean"].step)
    kinds, kind = distinct(_steps(c, rows, found, front, least_deg))
    found = found.at(np.flatnonzero(~bettered(kinds, front.steps)[kind]))
    if not len(found):
        return
    found, lean_deg = _leaning(g, c, rows, found)
    for one in _better(g, c, rows, found, front, lean_deg):
        front.add(one)


def _values(c: Cell, rows: Rows, found: Settled, lean_deg: Floats) -> dict[Matter, Floats]:
    """Return what settled rows reach of everything that may matter."""
    return {
        "taps": np.bitwise_count(found.served).astype(np.float64),
        "travel": np.full(len(found), c.travel_mm),
        "preload": found.preload_N,
        "length": c.length_mm + found.longer_mm,
        "lean": lean_deg,
        "parts": rows.count[found.row] + np.float64(SCREWS),
    }


def _steps(c: Cell, rows: Rows, found: Settled, front: Front, lean_deg: Floats) -> Steps:
    """Return the same of what matters, in whole steps."""
    values = _values(c, rows, found, lean_deg)
    return in_steps(front.matters, np.stack([values[one] for one in front.matters], axis=1))


def _better(
    g: Ground,
    c: Cell,
    rows: Rows,
    found: Settled,
    front: Front,
    lean_deg: Floats | None = None,
) -> list[Found]:
    """Return the settled rows that no other one betters, nor a design in the front.

    Of those alike in everything that matters it is the one with the shortest nose, and then the
    one whose force changes least.
    """
    if not len(found):
        return []
    lean_deg = np.zeros(len(found)) if lean_deg is None else lean_deg
    steps = _steps(c, rows, found, front, lean_deg)
    values = _values(c, rows, found, lean_deg)
    kinds, kind = distinct(steps)
    if front.found:
        better = np.flatnonzero(~bettered(kinds, front.steps))
        best = better[unbettered(kinds[better])]
    else:
        best = unbettered(kinds)
    chosen = []
    for place in best:
        alike = np.flatnonzero(kind == place)
        which = int(alike[np.lexsort((found.ratio[alike], found.longer_mm[alike]))[0]])
        chosen.append(
            Found(
                candidate(g, c, rows, found, which),
                {name: float(value[which]) for name, value in values.items()},
                tuple(int(step) for step in kinds[place]),
            )
        )
    return chosen


def _leans_little(g: Ground, one: Candidate) -> bool:
    """Tell whether the lean of every thread of a design is accepted."""
    chain = chains(g.shop, one)
    if all(certainly_within(chain[place], g.most_deg) for place in one.taps):
        return True
    leans = leans_deg({place: chain[place] for place in one.taps})
    return all(value_deg <= g.most_deg + SLACK for value_deg in leans.values())


def _leaning(g: Ground, c: Cell, rows: Rows, found: Settled) -> tuple[Settled, Floats]:
    """Return the settled rows with the taps whose lean is accepted, and the greatest lean of these.

    A longer nose leans no less. So where two noses lean alike to the step, all between them do.
    """
    served, lean_deg = found.served.copy(), np.zeros(len(found))
    noses_mm, nose = np.unique(found.longer_mm, return_inverse=True)
    first = np.unique(nose, return_index=True)[1]

    def leans(which: int) -> dict[int, float]:
        one = candidate(g, c, rows, found, int(first[which]))
        return leans_deg(chains(g.shop, one))

    told: dict[int, dict[int, float]] = {}

    def tell(low: int, high: int) -> None:
        alike = all(
            _lean_kind(g, value_deg) == _lean_kind(g, told[high][place])
            for place, value_deg in told[low].items()
        )
        if alike or high - low < 2:
            told.update({n: told[low] for n in range(low, high) if n not in told})
            return
        middle = (low + high) // 2
        told[middle] = leans(middle)
        tell(low, middle)
        tell(middle, high)

    for end in {0, len(noses_mm) - 1}:
        told[end] = leans(end)
    tell(0, len(noses_mm) - 1)
    for n, values_deg in told.items():
        these = np.flatnonzero(nose == n)
        for place, value_deg in values_deg.items():
            bit = np.int64(1) << np.int64(place)
            if not value_deg <= g.most_deg + SLACK:
                served[these] &= ~bit
            here = these[(served[these] & bit) > 0]
            lean_deg[here] = np.maximum(lean_deg[here], value_deg)
    keep = np.bitwise_count(served) >= g.rules.taps
    return replace(found, served=served).at(keep), lean_deg[keep]


def _lean_kind(g: Ground, lean_deg: float) -> tuple[bool, int]:
    """Return whether a lean is accepted, and its whole steps."""
    if lean_deg != lean_deg:
        return False, 0
    steps = MEASURES["lean"].steps(np.array([lean_deg]))
    return lean_deg <= g.most_deg + SLACK, int(steps[0])


def candidate(g: Ground, c: Cell, rows: Rows, found: Settled, which: int) -> Candidate:
    """Return one of the settled rows as a design."""
    s, place, whole = c.strokes, c.place, c.section
    longer_mm, served = float(found.longer_mm[which]), int(found.served[which])
    body_mm = c.body_mm + longer_mm
    spare_mm = max(bar.length_mm for bar in whole.bars) - whole.body_mm
    items = [g.springs.items[n] for n in rows.items[found.row[which]] if n != NOTHING]
    return Candidate(
        mount=whole.holder.mount,
        rear=whole.holder.rear,
        fit=whole.fit,
        style=whole.ended.style,
        retention=whole.slotted.retention,
        body=next(bar for bar in whole.bars if bar.length_mm - spare_mm >= body_mm - TINY),
        nose_diameter_mm=whole.nose_diameter_mm,
        lengths=Lengths(
            slot_mm=float(s.slot_mm[place]),
            position_mm=float(s.position_mm[place]),
            front_mm=float(s.front_mm[place]),
            plunger_mm=float(s.plunger_mm[place]),
            nose_mm=round(float(s.nose_mm[place]) + longer_mm, 6),
            sunk_mm=round(float(found.sunk_mm[which]), 6),
            button_mm=round(float(found.button_mm[which]), 6),
        ),
        row=tuple(item.piece for item in items),
        taps=tuple(n for n in range(len(g.shop.taps)) if served >> n & 1),
    )
