"""What a view shows beyond the turned section: holes across, threads, slots, sides of an end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt
from typing import Final

from generator.lint.page import Page
from generator.lint.profile import Run
from generator.lint.sheet import Stroke
from generator.lint.views import EndView, MainView

ON_MM: Final = 0.05


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole across the axis.

    Attributes:
        z: Its place.
        half: Half its width, above a ledge if it has one.
        r: How far from the axis it opens.
        is_threaded: Whether a thread is drawn in it.
        narrow: Half its width below the ledge; 0 without one.
        ledge: Thickness of the ledge.
    """

    z: float
    half: float
    r: float
    is_threaded: bool
    narrow: float = 0.0
    ledge: float = 0.0

    @property
    def halves(self) -> tuple[float, ...]:
        """Half of each of its widths."""
        return (self.half, self.narrow) if self.narrow else (self.half,)


@dataclass(frozen=True, slots=True)
class Threaded:
    """A thread about the axis.

    Attributes:
        r: Radius of its thin line.
        low: Where that begins.
        high: Where it ends.
        end: Where full thread ends; None where that is a corner of the section.
        inside: Whether it is cut in a hole: its thin line lies within the material about it.
    """

    r: float
    low: float
    high: float
    end: float | None
    inside: bool


@dataclass(frozen=True, slots=True)
class Slot:
    """A slot with round ends along the axis, seen from above, or a flat with square ones.

    Attributes:
        front: Where it begins.
        rear: Where it ends.
        half: Half its width.
        flat: Whether its ends are square: then its width follows from its depth.
    """

    front: float
    rear: float
    half: float
    flat: bool = False


@dataclass(frozen=True, slots=True)
class SideFlat:
    """A flat along the axis, seen from above: where its wall stands, and half its width there.

    Attributes:
        wall: Where it ends on the full diameter.
        half: Half its width there.
        off: How far from the axis it then lies.
        front: Whether it reaches to the front end, not to the rear.
    """

    wall: float
    half: float
    off: float
    front: bool


@dataclass(frozen=True, slots=True)
class Flats:
    """Two flats along the axis, alike on both sides and seen on edge.

    Attributes:
        off: How far from the axis they lie.
        low: Where they begin.
        high: Where they end.
    """

    off: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Side:
    """A straight side in an end view.

    Attributes:
        axis: 0 where it stands upright, at an x; 1 where it lies level, at a y.
        at: Its distance from the axis of the part, true millimetres; negative to the left or below.
        both: Whether one like it lies on the other side; then the distance is positive.
    """

    axis: int
    at: float
    both: bool


Feature = Hole | Threaded | Slot | SideFlat | Flats


def features_of(page: Page, view: MainView) -> Iterator[Feature]:
    """Yield the holes, threads, slots, side flats and pairs of flats that a main view shows."""
    inside = [s for s in page.sheet.strokes if view.holds(_middle(s), 4.0)]
    outlines = [s for s in inside if s.layer in ("OUTLINE", "HIDDEN") and view.holds(_middle(s))]
    walls = [(view.of_part(s.start), view.of_part(s.end)) for s in outlines if _is_upright(s)]
    thin = [s for s in inside if s.layer == "THREAD"]
    yield from _holes(page, view, inside, walls, thin)
    yield from _threads(view, walls, thin)
    yield from _slots(page, view)
    yield from _side_flats(view, outlines, walls)
    yield from _flats_on_edge(view, outlines, walls)


def _middle(stroke: Stroke) -> tuple[float, float]:
    return (stroke.start[0] + stroke.end[0]) / 2, (stroke.start[1] + stroke.end[1]) / 2


def _is_upright(stroke: Stroke) -> bool:
    return abs(stroke.start[0] - stroke.end[0]) < 1e-6


Wall = tuple[tuple[float, float], tuple[float, float]]


def _holes(
    page: Page, view: MainView, inside: list[Stroke], walls: list[Wall], thin: list[Stroke]
) -> Iterator[Hole]:
    """Yield holes: an upright centre line between two walls as far from it, or a circle."""
    near = ON_MM / view.scale
    for stroke in inside:
        if stroke.layer != "CENTRE" or not _is_upright(stroke):
            continue
        z = view.of_part(stroke.start)[0]
        reach = max(abs(view.of_part(end)[1]) for end in (stroke.start, stroke.end))
        offsets = [wall[0][0] - z for wall in walls]
        paired = [
            (each, max(abs(wall[0][1]), abs(wall[1][1])))
            for each, wall in zip(offsets, walls, strict=True)
            if each > near and any(abs(each + other) < near for other in offsets)
        ]
        if not paired:
            continue
        half, r = min(paired)
        narrow, ledge = 0.0, 0.0
        wider = [each for each, _ in paired if each > half + near]
        step = _step(view, inside, walls, (z, half), wider)
        if step is not None:
            narrow, (half, ledge) = half, step
            r = max(reached for each, reached in paired if abs(each - half) < near)
        threaded = any(
            _is_upright(s) and half < abs(view.of_part(s.start)[0] - z) < 2 * half for s in thin
        )
        yield Hole(z, half, min(r, reach), threaded, narrow, ledge)
    for bow in page.sheet.bows:
        whole = bow.end_deg - bow.start_deg == 360.0
        if bow.layer == "OUTLINE" and whole and view.holds(bow.centre):
            z, r = view.of_part(bow.centre)
            yield Hole(z, bow.radius_mm / view.scale, abs(r), False)


def _step(
    view: MainView,
    inside: list[Stroke],
    walls: list[Wall],
    narrow: tuple[float, float],
    wider: list[float],
) -> tuple[float, float] | None:
    """Return how wide a hole is above a ledge, and how thick the ledge is; None without one.

    Args:
        view: The view.
        inside: What is drawn in it.
        walls: What stands upright in it.
        narrow: Place of the hole, and half its width at the bore.
        wider: Half of what else stands in pairs about its axis.
    """
    near, (z, half) = ON_MM / view.scale, narrow
    for stroke in inside:
        (az, ar), (bz, br) = view.of_part(stroke.start), view.of_part(stroke.end)
        low, high = sorted((az - z, bz - z))
        level = stroke.layer == "OUTLINE" and abs(ar - br) < near
        if level and abs(low - half) < near and any(abs(high - each) < near for each in wider):
            feet = [
                min(abs(wall[0][1]), abs(wall[1][1]))
                for wall in walls
                if abs(wall[0][0] - z - half) < near
            ]
            return high, abs(ar) - min(feet)
    return None


def _threads(view: MainView, walls: list[Wall], thin: list[Stroke]) -> Iterator[Threaded]:
    """Yield threads about the axis: thin lines along it, alike above and below."""
    near = ON_MM / view.scale
    corners = [z for z, _ in view.section.corners]
    seen: set[tuple[float, float, float]] = set()
    for stroke in thin:
        (az, ar), (bz, br) = view.of_part(stroke.start), view.of_part(stroke.end)
        if abs(ar - br) > near or abs(az - bz) < near or ar < 0:
            continue
        low, high = sorted((az, bz))
        key = round(ar, 3), round(low, 3), round(high, 3)
        if key in seen:
            continue
        seen.add(key)
        stops = [
            end
            for end in (low, high)
            if any(abs(wall[0][0] - end) < near for wall in walls)
            and all(abs(z - end) > near for z in corners)
        ]
        middle = (low + high) / 2
        walled = [
            view.section.corners[run.start][1]
            for run in view.section.runs
            if run.kind == "cylinder" and _spans(view, run, middle)
        ]
        apart = [wall - ar for wall in walled]
        inside = bool(apart) and min(apart, key=abs) < 0
        yield Threaded(ar, low, high, stops[0] if stops else None, inside)


def _spans(view: MainView, run: Run, z: float) -> bool:
    ends = [view.section.corners[n][0] for n in (run.start, run.end)]
    return min(ends) <= z <= max(ends)


def _slots(page: Page, view: MainView) -> Iterator[Slot]:
    """Yield slots: two half circles on the axis, of one radius, back to back."""
    bows = [
        (view.of_part(bow.centre)[0], bow.radius_mm / view.scale)
        for bow in page.sheet.bows
        if bow.layer == "OUTLINE"
        and view.holds(bow.centre)
        and abs(view.of_part(bow.centre)[1]) * view.scale < ON_MM
        and abs((bow.end_deg - bow.start_deg) % 360 - 180) < 1e-3
    ]
    bows.sort()
    for (z, half), (other, same) in zip(bows[::2], bows[1::2], strict=False):
        if abs(half - same) * view.scale < ON_MM:
            yield Slot(z - half, other + half, half)


def _side_flats(
    view: MainView, outlines: list[Stroke], walls: list[Wall]
) -> Iterator[SideFlat | Slot]:
    """Yield side flats: a wall across the axis that stops short, a level edge from each end.

    Two such walls with the same edges between them are the ends of a flat milled across. A hexagon
    socket has edges half as far out, too.
    """
    near, radius = ON_MM / view.scale, view.section.radius_mm
    flats: dict[float, SideFlat] = {}
    corners = [z for z, _ in view.section.corners]
    level: list[tuple[float, float, float]] = []
    for stroke in outlines:
        (az, ar), (bz, br) = view.of_part(stroke.start), view.of_part(stroke.end)
        if abs(ar - br) < near < abs(az - bz):
            level += [(az, ar, bz), (bz, br, az)]
    for (z, low), (_, high) in walls:
        half = abs(high)
        short = near < half < radius - near and abs(low + high) < near
        if not short or any(abs(z - each) < near for each in corners):
            continue
        others = [to for at, r, to in level if abs(at - z) < near and abs(abs(r) - half) < near]
        hexagon = any(abs(at - z) + abs(abs(r) - half / 2) < near for at, r, _ in level)
        if len(others) == 2 and not hexagon:
            far = next((each for each in flats if abs(each - others[0]) < near), None)
            if far is None:
                flats[z] = SideFlat(z, half, sqrt(radius**2 - half**2), others[0] < z)
            else:
                del flats[far]
                yield Slot(min(z, far), max(z, far), half, flat=True)
    yield from flats.values()


def _flats_on_edge(view: MainView, outlines: list[Stroke], walls: list[Wall]) -> Iterator[Flats]:
    """Yield pairs of flats seen on edge: a level edge below the outside, to a wall up to it.

    From there it goes on to an end or a step. At a corner of the section a wall is none, but the
    rest of an edge that a side flat cuts.
    """
    near, section = ON_MM / view.scale, view.section
    edges = [(*view.of_part(stroke.start), *view.of_part(stroke.end)) for stroke in outlines]
    for az, ar, bz, br in edges:
        low, high = sorted((az, bz))
        if abs(ar - br) > near or high - low < near or ar < near:
            continue
        if all(abs(ar + r) > near or abs(low - min(z, to)) > near for z, r, to, _ in edges):
            continue  # nothing like it below the axis: a slot
        turned = [
            section.corners[run.start][1]
            for run in section.runs
            if run.kind == "cylinder" and _spans(view, run, (low + high) / 2)
        ]
        outer = max(turned, default=0.0)
        if any(abs(each - ar) < near for each in turned) or ar > outer:
            continue
        if any(
            _rises(view, walls, at, (ar, outer))
            and any(abs(to - cz) < near for cz, _ in section.corners)
            for at, to in ((low, high), (high, low))
        ):
            yield Flats(ar, low, high)


def _rises(view: MainView, walls: list[Wall], at: float, reach: tuple[float, float]) -> bool:
    """Tell whether a wall rises at a place from one radius to another that is no corner there."""
    near, (low_r, high_r) = ON_MM / view.scale, reach
    if any(abs(at - z) + abs(high_r - r) < near for z, r in view.section.corners):
        return False
    return any(
        abs(z - at) < near
        and abs(min(one, other) - low_r) < near
        and abs(max(one, other) - high_r) < near
        for (z, one), (_, other) in walls
    )


def sides_of(page: Page, end: EndView) -> Iterator[Side]:
    """Yield the straight sides of an end view that lie level or upright."""
    found: dict[tuple[int, float], float] = {}
    for stroke in page.sheet.strokes:
        if stroke.layer != "OUTLINE":
            continue
        left, bottom, right, top = end.box
        x, y = _middle(stroke)
        if not (left <= x <= right and bottom <= y <= top):
            continue
        for axis in (0, 1):
            if abs(stroke.start[axis] - stroke.end[axis]) < 1e-6:
                at = (stroke.start[axis] - end.centre[axis]) / end.scale
                found.setdefault((axis, round(at, 3)), at)
    for (axis, key), at in found.items():
        both = (axis, -key) in found
        if abs(key) > 1e-6 and (not both or at > 0):
            yield Side(axis, at, both)
