"""The tool run through its stroke, as plain values for a page with a slider.

Everything that moves does so evenly between the corners of the curve of force against length, so a
table of the corners tells every position between them exactly.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.documents.spring_view import knots
from generator.model.assembly import X_AND_Z_OF, Axis, Placed
from generator.model.instances import COLOURS, kind_of, standing
from generator.model.springs import InPlace
from generator.model.tool import Orientation, Tool
from generator.use.windows import Window, windows

Colour = tuple[float, float, float]

SAME_MM = 1e-9
"""Positions closer than this are one."""


@dataclass(frozen=True, slots=True)
class Position:
    """The tool at one corner of its curve.

    Attributes:
        pushed_mm: How far the plunger is pushed in from where it stands at preload.
        projection_mm: How far its tip stands out of the nose.
        force_N: Force of the springs; NaN where they would have to be crushed.
        places_mm: Where z = 0 of each body of the view stands, from the nose face.
        lengths_mm: Length of each spring.
        left_mm: What each spring has left to the longest length that it may have when solid.
    """

    pushed_mm: float
    projection_mm: float
    force_N: float
    places_mm: tuple[float, ...]
    lengths_mm: tuple[float, ...]
    left_mm: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """The stroke with one end of the plunger at work.

    Attributes:
        key: Its key in the report.
        name: What it is called.
        axes: Where x, y and z of each body point in the tool, nine numbers.
        positions: Its corners, the plunger forward first, home last.
    """

    key: str
    name: str
    axes: tuple[tuple[float, ...], ...]
    positions: tuple[Position, ...]


@dataclass(frozen=True, slots=True)
class Body:
    """A part in its place.

    Attributes:
        name: Its name, such as "plug 2".
        part: Name of the part.
        title: What the reader calls the part.
        across_mm: How far its z = 0 lies off the axis, upward.
        colour: Its colour.
    """

    name: str
    part: str
    title: str
    across_mm: float
    colour: Colour


@dataclass(frozen=True, slots=True)
class Coil:
    """A spring as it is wound.

    Attributes:
        name: Its name, that of a body.
        label: What the papers call it.
        wire_mm: Diameter of its wire.
        mean_mm: Mean diameter of its coils.
        turns: All its coils.
        upper: 1 where the wire begins above the axis, a right-hand spring; -1 for a left-hand one.
        ground: Whether its front end, and its rear end, are ground flat.
        knots: Turn, distance and share of the length where the wire changes its slope.
    """

    name: str
    label: str
    wire_mm: float
    mean_mm: float
    turns: float
    upper: int
    ground: tuple[bool, bool]
    knots: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """The forces that a tap wants, and the end of the plunger that takes it.

    Attributes:
        tap: Name of the tap.
        work: What it cuts.
        way: Place of the orientation, from 0.
        two_hands_N: Floor with two hands on the wrench.
        one_hand_N: Floor with one hand on the wrench.
        ceiling_N: The most that it takes.
        ceiling_of: What sets the ceiling.
        rests: Whether the wrench rests and the work is turned; both floors are then the same.
        verdict: What the tool does for it over the whole stroke.
    """

    tap: str
    work: str
    way: int
    two_hands_N: float
    one_hand_N: float
    ceiling_N: float
    ceiling_of: str
    rests: bool
    verdict: str


@dataclass(frozen=True, slots=True)
class StrokeView:
    """All that a page shows of the tool at work.

    Attributes:
        bodies: Every part in its place, springs too.
        coils: The springs, in the order of the lengths.
        ways: The orientations.
        taps: The taps that an end of the plunger takes.
    """

    bodies: tuple[Body, ...]
    coils: tuple[Coil, ...]
    ways: tuple[Way, ...]
    taps: tuple[Wanted, ...]


def stroke_view(tool: Tool) -> StrokeView | None:
    """Return the tool over its stroke; None where no end of the plunger has a stroke.

    Orientations without a stroke are left out, and so are the taps that they take.
    """
    ways = [o for o in tool.orientations if o.travel_mm > SAME_MM]
    if not ways:
        return None
    placed = standing(tool, ways[0], travel_mm=0.0)
    keys = [(o.which, o.tip) for o in ways]
    springs = [one.name for one in placed if one.part.name.startswith("spring")]
    return StrokeView(
        bodies=tuple(_body(one) for one in placed),
        coils=tuple(_coil(*each) for each in zip(springs, tool.in_place, strict=True)),
        ways=tuple(_way(tool, o) for o in ways),
        taps=tuple(
            _wanted(w, keys.index((w.orientation.which, 0)))
            for w in windows(tool)
            if w.travel_mm > 0
        ),
    )


def _body(placed: Placed) -> Body:
    kind = kind_of(placed.part)
    title = "Spring" if kind == "spring" else placed.part.title
    return Body(placed.name, kind, title, placed.origin_mm[1], COLOURS[kind])


def _coil(name: str, one: InPlace) -> Coil:
    spring = one.spring
    front, *_, rear = knots(spring)
    return Coil(
        name=name,
        label=one.label,
        wire_mm=spring.wire_mm,
        mean_mm=spring.mean_mm,
        turns=spring.total_coils,
        upper=1 if spring.hand == "right" else -1,
        ground=(front[1] == 0, rear[1] == 0),
        knots=knots(spring),
    )


def _way(tool: Tool, o: Orientation) -> Way:
    placed = standing(tool, o, travel_mm=0.0)
    return Way(
        key=o.key,
        name=o.name,
        axes=tuple(_axes(one.axis) for one in placed),
        positions=tuple(_position(tool, o, pushed_mm) for pushed_mm in corners_mm(o)),
    )


def corners_mm(o: Orientation) -> tuple[float, ...]:
    """Return how far the plunger is pushed in at both ends of its stroke and at each corner."""
    inner = sorted(
        pushed_mm
        for length_mm, _ in o.curve.points
        if SAME_MM < (pushed_mm := o.room_extended_mm - length_mm) < o.travel_mm - SAME_MM
    )
    return (0.0, *inner, o.travel_mm)


def _position(tool: Tool, o: Orientation, pushed_mm: float) -> Position:
    placed = standing(tool, o, travel_mm=pushed_mm)
    springs = [one for one in placed if one.part.name.startswith("spring")]
    lengths_mm = tuple(one.part.outline.length_mm for one in springs)
    force_N = _force_N(o, pushed_mm)
    rooms_mm = (each.room_mm(force_N) for each in tool.in_place)
    return Position(
        pushed_mm=pushed_mm,
        projection_mm=o.projection_extended_mm - pushed_mm,
        force_N=force_N,
        places_mm=tuple(one.origin_mm[2] for one in placed),
        lengths_mm=lengths_mm,
        left_mm=tuple(
            room_mm - each.spring.longest_solid_mm
            for room_mm, each in zip(rooms_mm, tool.in_place, strict=True)
        ),
    )


def _force_N(o: Orientation, pushed_mm: float) -> float:
    """Return the force; at the corner where all is solid, whichever way its length is rounded."""
    if abs(o.room_extended_mm - pushed_mm - o.curve.end_mm) < SAME_MM:
        return o.curve.end_force_N
    return o.force_N(pushed_mm)


def _axes(axis: Axis) -> tuple[float, ...]:
    (ax, ay, az), (cx, cy, cz) = X_AND_Z_OF[axis]
    return (ax, ay, az, cy * az - cz * ay, cz * ax - cx * az, cx * ay - cy * ax, cx, cy, cz)


def _wanted(window: Window, way: int) -> Wanted:
    return Wanted(
        tap=window.name,
        work=window.tap.work,
        way=way,
        two_hands_N=window.two_hands_N,
        one_hand_N=window.one_hand_N,
        ceiling_N=window.ceiling_N,
        ceiling_of=window.ceiling_of,
        rests=window.rests,
        verdict=window.verdict,
    )


def legend(view: StrokeView) -> Iterator[tuple[str, str, Colour]]:
    """Yield name, title and colour of each part, each once."""
    seen: dict[str, Body] = {}
    for body in view.bodies:
        seen.setdefault(body.part, body)
    for part, body in seen.items():
        yield part, body.title, body.colour
