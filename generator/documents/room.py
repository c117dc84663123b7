"""The room about a view: what is there already, and what a new annotation would touch."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.documents.asks import Placed, Places
from generator.documents.drawing import Text
from generator.documents.layout import (
    Array,
    as_rows,
    crossing,
    grown,
    near,
    overlapping,
    runs,
    spans,
    touched,
    touching,
)
from generator.documents.text import Box, text_box

ROOM_MM: Final = 0.9
TIGHT_MM: Final = 0.3
OWN_ROOM_MM: Final = 0.3
CROSSING_COST: Final = 20.0
LEADER_COST: Final = 80.0
"""What a leader costs for each other one that it crosses, above what any line costs."""
ELBOW_MM: Final = 1.0
"""Closer to an edge of the part a leader does not bend: its shelf would seem to be an edge."""
OVER_PART_COST: Final = 15.0
NOTE_ROOM_MM: Final = 1.5


@dataclass(slots=True)
class Runs:
    """Straight runs, and the boxes about them."""

    lines: Array
    boxes: Array = field(init=False)

    def __post_init__(self) -> None:
        """Work out the boxes."""
        self.boxes = spans(self.lines)

    def add(self, lines: Array) -> None:
        """Take up more runs."""
        self.lines = np.concatenate([self.lines, lines])
        self.boxes = np.concatenate([self.boxes, spans(lines)])

    def close(self, boxes: Array) -> Array:
        """Return the runs that come near any of some boxes."""
        return self.lines[near(self.boxes, boxes)]


@dataclass(slots=True)
class Room:
    """What has been placed so far; lives only while one view is annotated."""

    part: Runs
    ink: Runs
    letters: Array
    drawn: Runs = field(default_factory=lambda: Runs(as_rows([])))
    leaders: Runs = field(default_factory=lambda: Runs(as_rows([])))
    lanes: Array = field(default_factory=lambda: as_rows([]))
    feet: Array = field(default_factory=lambda: as_rows([]))

    def add(self, placed: Placed) -> None:
        """Take up the room of an annotation."""
        lines = as_rows([run for mark in placed.marks for run in runs(mark)])
        self.ink.add(lines)
        self.drawn.add(lines)
        if placed.leader:
            self.leaders.add(as_rows([placed.leader]))
        self.letters = np.concatenate([self.letters, _boxes(placed)])
        if placed.lane:
            self.lanes = np.concatenate([self.lanes, as_rows([placed.lane])])
        if placed.foot:
            self.feet = np.concatenate([self.feet, as_rows([(*placed.foot, 0.0, 0.0)])])

    def box(self) -> Box:
        """Return left, bottom, right and top of all that is there."""
        ends = np.concatenate([self.ink.lines.reshape(-1, 2), self.letters.reshape(-1, 2)])
        (left, bottom), (right, top) = ends.min(axis=0), ends.max(axis=0)
        return float(left), float(bottom), float(right), float(top)

    def shared_cost(self, shared: Array, pending: Array, margin_mm: float) -> float:
        """Return what the lines cost that all places of a group draw; infinite if they touch."""
        if not len(shared):
            return 0.0
        if touching(grown(self.letters, margin_mm), shared).any():
            return np.inf
        return float(self._crossings(shared, pending).sum())

    def costs(
        self, places: Places, some: NDArray[np.intp], pending: Array, margin_mm: float
    ) -> Array:
        """Return the cost of some places without that of shared lines, infinite if they touch."""
        costs = np.full(len(some), np.inf)
        own, boxes = places.own[some], places.boxes[some]
        letters = grown(boxes[:, :1], OWN_ROOM_MM)
        taken = touched(letters, own).any(axis=1)
        taken |= touching(letters[:, 0], places.shared).any(axis=1)
        taken |= overlapping(_band(places.lanes[some]), _band(self.lanes)).any(axis=1)
        spread = grown(boxes.reshape(-1, 4), margin_mm)
        taken |= _each(overlapping(spread, self.letters), len(some))
        free = np.flatnonzero(~taken)
        if len(free):
            spread = grown(boxes[free].reshape(-1, 4), margin_mm)
            ink = np.concatenate([self.ink.close(spread), pending])
            lines = own[free].reshape(-1, 4)
            taken = _each(touching(spread, ink), len(free))
            letters = grown(self.letters, margin_mm)
            letters = letters[near(letters, spans(lines))]
            taken |= _each(touching(letters, lines).T, len(free))
            free = free[~taken]
        if len(free):
            crossings = self._crossings(own[free].reshape(-1, 4), pending)
            costs[free] = places.costs[some][free] + crossings.reshape(len(free), -1).sum(axis=1)
        return costs

    def _crossings(self, lines: Array, pending: Array) -> Array:
        """Return what each line costs for those it crosses."""
        drawn = CROSSING_COST * crossing(lines, self.drawn.close(spans(lines))).sum(axis=1)
        return np.asarray(drawn + CROSSING_COST / 2 * crossing(lines, pending).sum(axis=1))

    def clear_of_letters(self, boxes: Array, leaders: Array, part: Box) -> NDArray[np.bool_]:
        """Tell which places for a call-out keep off the letters and the part."""
        taken = overlapping(grown(boxes, NOTE_ROOM_MM), self.letters).any(axis=1)
        taken |= overlapping(boxes, as_rows([part]))[:, 0]
        free = np.flatnonzero(~taken)
        if len(free):
            letters = grown(self.letters, ROOM_MM)
            letters = letters[near(letters, spans(leaders[free]))]
            taken[free] = touching(letters, leaders[free]).any(axis=0)
        return np.asarray(~taken)

    def clear(self, boxes: Array) -> NDArray[np.bool_]:
        """Tell which boxes touch neither letters nor lines."""
        spread = grown(boxes, NOTE_ROOM_MM)
        taken = overlapping(spread, self.letters).any(axis=1)
        return np.asarray(~(taken | touching(spread, self.ink.close(spread)).any(axis=1)))

    def note_costs(self, boxes: Array, leaders: Array) -> Array:
        """Return the cost of each place for a call-out, infinite where it would touch a line."""
        costs = np.full(len(boxes), np.inf)
        spread = grown(boxes, NOTE_ROOM_MM)
        free = np.flatnonzero(~touching(spread, self.ink.close(spread)).any(axis=1))
        if len(free):
            lines = leaders[free]
            about = spans(lines)
            cost = CROSSING_COST * crossing(lines, self.drawn.close(about)).sum(axis=1)
            cost += LEADER_COST * crossing(lines, self.leaders.close(about)).sum(axis=1)
            cost += OVER_PART_COST * crossing(lines, self.part.close(about)).sum(axis=1)
            elbows = grown(np.tile(lines[:, 2:], 2), ELBOW_MM)
            cost += OVER_PART_COST * touching(elbows, self.part.close(elbows)).any(axis=1)
            costs[free] = cost
        return costs


def _each(hits: NDArray[np.bool_], count: int) -> NDArray[np.bool_]:
    """Tell which of so many places have a hit in any of their rows."""
    return np.asarray(hits.reshape(count, -1).any(axis=1))


def _band(lanes: Array) -> Array:
    """Return dimension lines as strips half a row wide to either side."""
    ordered = np.column_stack(
        [
            np.minimum(lanes[:, 0], lanes[:, 2]),
            np.minimum(lanes[:, 1], lanes[:, 3]),
            np.maximum(lanes[:, 0], lanes[:, 2]),
            np.maximum(lanes[:, 1], lanes[:, 3]),
        ]
    )
    flat = (ordered[:, 3] - ordered[:, 1] < 1e-9)[:, None]
    across = np.array([0.05, -1.5, -0.05, 1.5])
    upright = np.array([-1.5, 0.05, 1.5, -0.05])
    return ordered + np.where(flat, across, upright)


def _boxes(placed: Placed) -> Array:
    letters = [text_box(mark) for mark in placed.marks if isinstance(mark, Text)]
    return as_rows([*letters, *placed.solid])
