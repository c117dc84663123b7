"""Words within a plot, beside what they name, where they touch nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Final

import numpy as np

from generator.documents.drawing import Line, Mark, Point, Text
from generator.documents.layout import (
    CLEARANCE_MM,
    as_rows,
    grown,
    overlapping,
    runs,
    touching,
)
from generator.documents.plot import HEIGHT_MM
from generator.documents.text import Box, text_box, width_mm

DISTANCES_MM: Final = (1.0, 1.6, 2.4, 4.0, 6.0, 8.0, 11.0, 15.0, 20.0, 26.0)
NEAR_MM: Final = 3.0
"""Beyond this a line leads from the words to what they name."""

OFF_MM: Final = 0.5
"""Left between the words and the line that leads to them."""

MARGIN_MM: Final = 0.5


@dataclass(frozen=True, slots=True)
class Label:
    """Words for a point of a plot.

    Attributes:
        text: The words.
        at: What they name, on paper.
        ways_deg: In which directions from there they may stand, the best first.
        bold: Whether they are bold.
        needed: Whether they must stand even where there is no free place.
    """

    text: str
    at: Point
    ways_deg: tuple[float, ...] = (90, 45, 135, 0, 180, 315, 225, 270)
    bold: bool = False
    needed: bool = True


def placed_labels(labels: Iterable[Label], marks: Sequence[Mark], room: Box) -> tuple[Mark, ...]:
    """Return the words as texts, with lines that lead to what they name where that is not near.

    Each takes the nearest place where it touches neither a mark nor the words before it. Where
    there is none it is left out, or, if needed, takes the place where it touches least.

    Args:
        labels: The words, the most important first.
        marks: What is drawn; lines that give way to letters left out.
        room: Left, bottom, right and top of where words may stand.
    """
    added: list[Mark] = []
    lines = [run for mark in marks for run in runs(mark)]
    boxes = [text_box(mark) for mark in marks if isinstance(mark, Text)]
    for label in labels:
        tried = [place for place in _places(label) if _within(place[1], room)]
        if not tried:
            tried = list(_places(label))
        areas = grown(as_rows([place[1] for place in tried]), CLEARANCE_MM + MARGIN_MM / 2)
        touched = touching(areas, as_rows(lines)).sum(axis=1)
        touched += overlapping(areas, as_rows(boxes)).sum(axis=1)
        if boxes:
            leads = as_rows([(*place[2].start, *place[2].end) for place in tried])
            around = grown(as_rows(boxes), CLEARANCE_MM + MARGIN_MM / 2)
            far = np.array([place[3] for place in tried])
            touched += np.where(far, touching(around, leads).sum(axis=0), 0)
        best = int(np.argmin(touched))
        if touched[best] and not label.needed:
            continue
        text, box, lead, far_off = tried[best]
        added.append(text)
        boxes.append(box)
        if far_off:
            added.append(lead)
            lines.append((*lead.start, *lead.end))
    return tuple(added)


def _places(label: Label) -> Iterator[tuple[Text, Box, Line, bool]]:
    """Yield where words may stand, nearest first: text, box, line to it, whether it is needed."""
    wide = width_mm(label.text, HEIGHT_MM, bold=label.bold)
    x, y = label.at
    for distance in DISTANCES_MM:
        for way in label.ways_deg:
            across, up = cos(radians(way)), sin(radians(way))
            middle = (
                x + across * (distance + wide / 2),
                y + up * (distance + HEIGHT_MM / 2),
            )
            base = (middle[0], middle[1] - HEIGHT_MM / 2)
            text = Text(base, label.text, HEIGHT_MM, "centre", bold=label.bold)
            box = text_box(text)
            end = (
                min(max(x, box[0] - OFF_MM), box[2] + OFF_MM),
                min(max(y, box[1] - OFF_MM), box[3] + OFF_MM),
            )
            yield text, box, Line(label.at, end, "thin"), distance > NEAR_MM


def _within(box: Box, room: Box) -> bool:
    return (
        box[0] >= room[0] + MARGIN_MM
        and box[1] >= room[1] + MARGIN_MM
        and box[2] <= room[2] - MARGIN_MM
        and box[3] <= room[3] - MARGIN_MM
    )
