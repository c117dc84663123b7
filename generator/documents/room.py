"""The room about a view: what is there already, and what a new annotation would touch."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import numpy as np

from generator.documents.asks import Placed
from generator.documents.drawing import Text
from generator.documents.layout import Array, as_rows, crossing, grown, overlapping, runs, touching
from generator.documents.text import Box, text_box

ROOM_MM: Final = 0.9
TIGHT_MM: Final = 0.3
OWN_ROOM_MM: Final = 0.3
CROSSING_COST: Final = 20.0
OVER_PART_COST: Final = 4.0
NOTE_ROOM_MM: Final = 1.5


@dataclass(slots=True)
class Room:
    """What has been placed so far; lives only while one view is annotated."""

    part: Array
    ink: Array
    letters: Array
    drawn: Array = field(default_factory=lambda: as_rows([]))
    lanes: Array = field(default_factory=lambda: as_rows([]))
    feet: Array = field(default_factory=lambda: as_rows([]))

    def add(self, placed: Placed) -> None:
        """Take up the room of an annotation."""
        lines = as_rows([run for mark in placed.marks for run in runs(mark)])
        self.ink = np.concatenate([self.ink, lines])
        self.drawn = np.concatenate([self.drawn, lines])
        self.letters = np.concatenate([self.letters, _boxes(placed)])
        if placed.lane:
            self.lanes = np.concatenate([self.lanes, as_rows([placed.lane])])
        if placed.foot:
            self.feet = np.concatenate([self.feet, as_rows([(*placed.foot, 0.0, 0.0)])])

    def cost(self, placed: Placed, pending: Array, margin_mm: float) -> float | None:
        """Return the cost of a place, None where it would touch."""
        boxes = grown(_boxes(placed), margin_mm)
        lines = as_rows([run for mark in placed.marks for run in runs(mark)])
        if touching(grown(_letters(placed), OWN_ROOM_MM), lines).any():
            return None
        if overlapping(boxes, self.letters).any():
            return None
        if touching(boxes, np.concatenate([self.ink, pending])).any():
            return None
        if touching(grown(self.letters, margin_mm), lines).any():
            return None
        lane = as_rows([placed.lane] if placed.lane else [])
        if overlapping(_band(lane), _band(self.lanes)).any():
            return None
        cost = placed.cost
        cost += CROSSING_COST * float(crossing(lines, self.drawn).sum())
        cost += CROSSING_COST / 2 * float(crossing(lines, pending).sum())
        return cost

    def note_costs(self, boxes: Array, leaders: Array, part: Box) -> Array:
        """Return the cost of each place for a call-out, infinite where it would touch."""
        taken = touching(grown(boxes, NOTE_ROOM_MM), self.ink).any(axis=1)
        taken |= overlapping(grown(boxes, NOTE_ROOM_MM), self.letters).any(axis=1)
        taken |= overlapping(boxes, as_rows([part]))[:, 0]
        taken |= touching(grown(self.letters, ROOM_MM), leaders).any(axis=0)
        cost = CROSSING_COST * crossing(leaders, self.drawn).sum(axis=1)
        cost += OVER_PART_COST * crossing(leaders, self.part).sum(axis=1)
        return np.where(taken, np.inf, cost)


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


def _letters(placed: Placed) -> Array:
    return as_rows([text_box(mark) for mark in placed.marks if isinstance(mark, Text)])


def _boxes(placed: Placed) -> Array:
    return np.concatenate([_letters(placed), as_rows(placed.solid)])
