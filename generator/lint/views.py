"""Where the views of a part stand on its sheet: found by its half section, not told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final

import numpy as np

from generator.lint.page import Page, stroke_box
from generator.lint.profile import Section
from generator.lint.sheet import Box, Point, Stroke, ratio_in
from generator.lint.touch import Array, encloses

ON_MM: Final = 0.05
FOUND_SHARE: Final = 0.8
"""Share of the outer corners that a main view shows; holes, slots and flats may cut some off."""


@dataclass(frozen=True, slots=True)
class MainView:
    """A view that shows the half section of a part on both sides of its axis.

    Attributes:
        section: The half section.
        scale: Paper length over true length.
        origin: Where z = 0 lies on the axis.
        way: -1 where z grows to the left, else 1.
        box: The part on paper; of a detail view, what it shows of it.
    """

    section: Section
    scale: float
    origin: Point
    way: float
    box: Box

    def of_part(self, point: Point) -> Point:
        """Return z and signed r of a point of the paper."""
        z = self.way * (point[0] - self.origin[0]) / self.scale
        return z, (point[1] - self.origin[1]) / self.scale

    def on_paper(self, z: float, r: float) -> Point:
        """Return where a point of the part lies on paper."""
        return self.origin[0] + self.way * self.scale * z, self.origin[1] + self.scale * r

    def holds(self, point: Point, margin_mm: float = 0.6) -> bool:
        """Tell whether a point lies on the view."""
        return encloses(self.box, (*point, *point), margin_mm)


@dataclass(frozen=True, slots=True)
class EndView:
    """A view along the axis: an end, or a section across.

    Attributes:
        scale: Paper length over true length.
        centre: The axis.
        box: The part on paper.
    """

    scale: float
    centre: Point
    box: Box


def main_views(page: Page, section: Section, taken: Sequence[MainView]) -> Iterator[MainView]:
    """Yield the main view of a part, then its detail views.

    Args:
        page: The sheet.
        section: The half section of the part.
        taken: Views of other parts.
    """
    ends = _outline_ends(page)
    axes = _axes(page)
    wanted = _outer(section)
    best: MainView | None = None
    best_share = FOUND_SHARE
    for view in _candidates(page.sheet.scale, section, ends, axes):
        share = _share(view, wanted, ends)
        free = all(view.origin != other.origin for other in taken)
        if free and share > best_share - 1e-9 and (best is None or share > best_share + 1e-9):
            best, best_share = view, share
    if best is None:
        return
    yield best
    yield from _details(page, best)


def _outline_ends(page: Page) -> Array:
    """Return the ends of all outlines outside tables; shape (ends, 2)."""
    strokes = [s for s in page.sheet.strokes if s.layer == "OUTLINE"]
    return np.array([end for s in strokes for end in (s.start, s.end)]).reshape(-1, 2)


def _axes(page: Page) -> list[Stroke]:
    """Return the level centre lines outside tables."""
    return [
        s
        for s in page.sheet.strokes
        if s.layer == "CENTRE"
        and abs(s.start[1] - s.end[1]) < 1e-6
        and not page.is_in_table(stroke_box(s))
    ]


def _outer(section: Section) -> Array:
    """Return z and r of the corners that are seen from outside; shape (corners, 2)."""
    seen = [
        n
        for run in section.runs
        if run.kind != "face" and not run.inside
        for n in (run.start, run.end)
    ]
    return np.array([section.corners[n] for n in dict.fromkeys(seen)]).reshape(-1, 2)


def _candidates(
    scale: float, section: Section, ends: Array, axes: Sequence[Stroke]
) -> Iterator[MainView]:
    """Yield views whose first or last outer corner lies at the end of an outline."""
    corners = _outer(section)
    seen: set[tuple[float, float, float]] = set()
    for axis in axes:
        y = axis.start[1]
        for z, r in (corners[0], corners[-1]):
            level = ends[np.abs(ends[:, 1] - y - scale * r) < ON_MM]
            for x in level[:, 0]:
                for way in (-1.0, 1.0):
                    origin = float(x - way * scale * z), float(y)
                    key = round(origin[0], 2), round(origin[1], 2), way
                    if key not in seen:
                        seen.add(key)
                        yield _view(section, scale, origin, way)


def _view(section: Section, scale: float, origin: Point, way: float) -> MainView:
    xs = sorted(origin[0] + way * scale * z for z in (section.front_mm, section.rear_mm))
    tall = scale * section.radius_mm
    box = (xs[0], origin[1] - tall, xs[1], origin[1] + tall)
    return MainView(section, scale, origin, way, box)


def _share(view: MainView, corners: Array, ends: Array) -> float:
    """Return how many of some corners, above and below the axis, end an outline."""
    hit = _hits(view, corners, ends)
    return float(hit.mean()) if len(hit) else 0.0


def _hits(view: MainView, corners: Array, ends: Array) -> Array:
    both = np.concatenate([corners, corners * (1.0, -1.0)])
    there = np.array([view.on_paper(z, r) for z, r in both])
    apart = np.abs(there[:, None] - ends[None]).max(axis=2)
    return np.asarray(apart.min(axis=1) < ON_MM, dtype=np.float64)


def _details(page: Page, main: MainView) -> Iterator[MainView]:
    """Yield the detail views of a view: circles of one letter, here and at a larger scale."""
    circles = [
        bow
        for bow in page.sheet.bows
        if bow.layer == "THIN" and bow.end_deg - bow.start_deg == 360.0
    ]
    here = [bow for bow in circles if main.holds(bow.centre)]
    there = [bow for bow in circles if bow not in here]
    for heading in page.sheet.letters:
        letter, _, _ = heading.text.partition(" ")
        scale = ratio_in(heading.text)
        named = [each for each in page.sheet.letters if each.text == letter and len(letter) == 1]
        if scale is None or not (here and there and named):
            continue
        large = min(there, key=lambda bow: _apart(bow.centre, heading.middle))
        small = min(
            here,
            key=lambda bow: min(_apart(bow.centre, n.middle) for n in named) - bow.radius_mm,
        )
        times = scale / main.scale
        if abs(large.radius_mm - times * small.radius_mm) > ON_MM:
            continue
        x, y = (large.centre[n] - times * (small.centre[n] - main.origin[n]) for n in (0, 1))
        (cx, cy), r = large.centre, large.radius_mm
        box = (cx - r, cy - r, cx + r, cy + r)
        yield MainView(main.section, scale, (x, y), main.way, box)


def _apart(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def end_views(page: Page) -> Iterator[EndView]:
    """Yield the views along the axis: where two centre lines cross at their middles."""
    upright = [
        s
        for s in page.sheet.strokes
        if s.layer == "CENTRE"
        and abs(s.start[0] - s.end[0]) < 1e-6
        and not page.is_in_table(stroke_box(s))
    ]
    for axis in _axes(page):
        middle = (axis.start[0] + axis.end[0]) / 2, axis.start[1]
        for other in upright:
            crossing = other.start[0], (other.start[1] + other.end[1]) / 2
            if max(abs(middle[0] - crossing[0]), abs(middle[1] - crossing[1])) < ON_MM:
                half = abs(axis.end[0] - axis.start[0]) / 2
                box = (middle[0] - half, middle[1] - half, middle[0] + half, middle[1] + half)
                yield EndView(page.sheet.scale, middle, box)
