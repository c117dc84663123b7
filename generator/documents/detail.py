"""Detail views: what is too small for the call-outs of a view, drawn again at a larger scale.

A detail shows the surfaces at one end of a part that have call-outs of their own, in a circle. In
the main view a circle and a letter mark it (ISO 128-3).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from math import degrees, hypot, radians, sqrt
from typing import Final

import numpy as np

from generator.documents.annotate import extension_runs
from generator.documents.asks import Ask
from generator.documents.callouts import CHAMFERS, ENDS, End
from generator.documents.drawing import Arc, Fill, Line, Mark, Point, Text
from generator.documents.layout import as_rows, grown, near, runs, spans, touching
from generator.documents.part_notes import PartNotes, surface
from generator.documents.room import ROOM_MM, TIGHT_MM
from generator.documents.symbols import HEIGHT_MM
from generator.documents.text import Box, text_box
from generator.documents.view import View
from generator.model.outline import Segment

SCALES: Final = (10.0, 5.0, 2.0, 1.0)
"""Scales of details (ISO 5455), and no more than five times that of the sheet."""

KINDS: Final = ("recess", "bevel", "countersink", "point")
MOST_TIMES: Final = 5.0
MOST_RADIUS_MM: Final = 15.0
MARGIN: Final = 1.25
LEAST_RADIUS_MM: Final = 2.5
LETTERS: Final[dict[End, str]] = {"rear": "X", "front": "Y"}
NEAR_MM: Final = (1.0, 2.0, 3.5)
FAR_MM: Final = (6.0, 9.0)


def _letter_places(reaches: tuple[float, ...]) -> list[tuple[float, float]]:
    return sorted(
        ((away, radians(angle)) for away in reaches for angle in range(-75, 80, 5)),
        key=lambda place: 10 * place[0] + abs(degrees(place[1]) - 50),
    )


LETTER_PLACES: Final = (*_letter_places(NEAR_MM), *_letter_places(FAR_MM))
"""Where its letter may stand off a circle, best first: how far, and at what angle, counted from
the way out of the part."""
LEAST_RECESS_MM: Final = 1.0
LEAST_EDGE_MM: Final = 0.5
"""A recess shallower than this on paper, or a chamfer or flat smaller, is too small to point at."""


@dataclass(frozen=True, slots=True)
class Detail:
    """What is shown again larger.

    Attributes:
        end: The end of the part.
        surfaces: Names of the surfaces whose call-outs it carries.
        middle_mm: Middle of the circle: distance from the working end, radius of the part.
        radius_mm: Radius of the circle, in true length.
        scale: Scale of the detail.
    """

    end: End
    surfaces: tuple[str, ...]
    middle_mm: tuple[float, float]
    radius_mm: float
    scale: float

    @property
    def box(self) -> Box:
        """Left, bottom, right and top of its circle, on paper about the origin of the part."""
        (x, y), radius = _on_paper(self, self.scale), self.radius_mm * self.scale
        return x - radius, y - radius, x + radius, y + radius

    @property
    def letter(self) -> str:
        """The letter that marks it."""
        return LETTERS[self.end]


def details(notes: PartNotes, scale: float) -> tuple[Detail, ...]:
    """Return the details that a part needs in a view of this scale, that of the rear end first."""
    found = (_detail(notes, end, scale) for end in reversed(ENDS))
    return tuple(detail for detail in found if detail is not None)


def _detail(notes: PartNotes, end: End, scale: float) -> Detail | None:
    """Return the detail of one end, None where it needs none."""
    mouth = [s for s in (surface(notes.part, f"{end} {kind}") for kind in KINDS) if s is not None]
    chamfers = [s for s in (surface(notes.part, name) for name in CHAMFERS[end]) if s is not None]
    shown = [*mouth, *chamfers]
    asked = len(shown) + sum(s.surface.endswith("point") for s in mouth)
    if asked < 2 or not any(_too_small(s, scale) for s in shown):
        return None
    for larger in SCALES:
        for chosen in (shown, mouth):
            if chosen and scale < larger <= MOST_TIMES * scale:
                middle, radius = _circle(chosen, scale)
                if radius * larger <= MOST_RADIUS_MM:
                    return Detail(end, tuple(s.surface for s in chosen), middle, radius, larger)
    return None


def _too_small(s: Segment, scale: float) -> bool:
    """Tell whether a feature is too small in a view to point at."""
    if s.surface.endswith(" recess"):
        return s.length_mm * scale < LEAST_RECESS_MM
    if s.surface.endswith("chamfer"):
        return s.length_mm * scale < LEAST_EDGE_MM
    if s.surface.endswith("point"):
        return 0 < s.small_diameter_mm * scale < LEAST_EDGE_MM
    return False


def _circle(chosen: list[Segment], scale: float) -> tuple[tuple[float, float], float]:
    """Return middle and radius of the circle about some surfaces; of a point, its tip alone."""
    corners = []
    for s in chosen:
        ends = (s.start, s.end)
        near = min(ends, key=lambda c: c.r_mm)
        if s.surface.endswith("point"):
            corners += [(near.z_mm, near.r_mm), (near.z_mm, -near.r_mm)]
        elif s.surface.endswith("countersink"):
            far = max(ends, key=lambda c: c.r_mm)
            corners += [(far.z_mm, far.r_mm), (far.z_mm + (near.z_mm - far.z_mm) / 4, far.r_mm)]
        else:
            corners += [(c.z_mm, c.r_mm) for c in ends]
    (z1, z2), (r1, r2) = ((min(xs), max(xs)) for xs in zip(*corners, strict=True))
    radius = max(MARGIN * hypot(z2 - z1, r2 - r1) / 2, LEAST_RADIUS_MM / scale)
    return ((z1 + z2) / 2, (r1 + r2) / 2), radius


def detail_view(whole: View, detail: Detail) -> View:
    """Return the view of a detail, cut out of a view of the whole part at the detail's scale."""
    centre, radius = _on_paper(detail, whole.scale), detail.radius_mm * whole.scale
    kept = tuple(_within(whole.marks, centre, radius))
    return View(whole.scale, (*kept, Arc(centre, radius, style="thin")), detail.box)


def _on_paper(detail: Detail, scale: float) -> Point:
    z, r = detail.middle_mm
    return -scale * z, scale * r


def marked(detail: Detail, view: View, asks: Iterable[Ask]) -> tuple[Mark, ...]:
    """Return the circle and the letter of a detail in the main view.

    The letter stands in the first of some places beside the circle where it touches no line of the
    view and none that the dimensions will need.
    """
    (x, y), radius = _on_paper(detail, view.scale), detail.radius_mm * view.scale
    way = 1.0 if detail.end == "front" else -1.0
    reach, angle = np.array(LETTER_PLACES).T
    across = x + way * (radius + reach) * np.cos(angle)
    up = y + (radius + reach) * np.sin(angle) - HEIGHT_MM * (1 - np.sin(angle)) / 2
    letter = Text((0.0, 0.0), detail.letter, HEIGHT_MM, "left" if way > 0 else "right", bold=True)
    boxes = np.array(text_box(letter)) + np.column_stack([across, up, across, up])
    drawn = [run for mark in view.marks for run in runs(mark)]
    lines = as_rows([*drawn, *(run for ask in asks for run in extension_runs(ask))])
    lines = lines[near(spans(lines), boxes)]
    taken = touching(grown(boxes, ROOM_MM), lines).any(axis=1)
    if taken.all():
        taken = touching(grown(boxes, TIGHT_MM), lines).any(axis=1)
    best = int(taken.argmin())
    return (
        Arc((x, y), radius, style="thin"),
        replace(letter, at=(float(across[best]), float(up[best]))),
    )


def _within(marks: Iterable[Mark], centre: Point, radius: float) -> Iterator[Line]:
    """Yield what of lines and arcs lies within a circle."""
    x, y = centre
    for mark in marks:
        if isinstance(mark, Fill | Text):
            continue
        for x1, y1, x2, y2 in runs(mark):
            dx, dy = x2 - x1, y2 - y1
            length = hypot(dx, dy)
            if length < 1e-9:
                continue
            along = ((x - x1) * dx + (y - y1) * dy) / length
            off = ((x - x1) * dy - (y - y1) * dx) / length
            if abs(off) >= radius:
                continue
            half = sqrt(radius**2 - off**2)
            low, high = max(0.0, along - half), min(length, along + half)
            if high - low > 1e-6:
                ux, uy = dx / length, dy / length
                yield Line(
                    (x1 + low * ux, y1 + low * uy), (x1 + high * ux, y1 + high * uy), mark.style
                )
