"""Dimensions as equations: which places, radii, slopes and sides of a part each is about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import atan2, hypot, pi
from typing import Final

from generator.lint.equations import Equation, Form, Unknown, combined
from generator.lint.measures import is_upright, printed
from generator.lint.page import Page
from generator.lint.profile import Run
from generator.lint.sheet import Measure, Point
from generator.lint.sizes import Sizes, slope_of
from generator.lint.touch import encloses
from generator.lint.views import EndView, MainView

ON_MM: Final = 0.05
REACH_MM: Final = 12.0
"""How far beyond its ends a slope may be measured, to a theoretical corner; true millimetres."""
PARALLEL_RAD: Final = 1e-3

Guess = tuple[float, Form]
"""How far off something lies, and its form."""


@dataclass(frozen=True, slots=True)
class Dimensioned:
    """What the dimensions of a part say.

    Attributes:
        said: Each dimension on a view of the part, and its equation; None where it is about nothing
            that is known.
        ties: How the gauge planes that they introduce hang together with their slopes.
    """

    said: tuple[tuple[Measure, Equation | None], ...]
    ties: tuple[Equation, ...]


def dimensioned(page: Page, sizes: Sizes) -> Dimensioned:
    """Return what the dimensions on the views of a part say."""
    said: list[tuple[Measure, Equation | None]] = []
    stations: dict[tuple[int, float], tuple[Unknown, Unknown]] = {}
    for measure in page.sheet.measures:
        points = [point for point in _points(measure) if point == point]
        for view in (sizes.view, *sizes.details):
            if all(view.holds(point) for point in points):
                forms = tuple(_in_main(measure, sizes, view, stations))
                said.append((measure, _equation(measure, forms)))
                break
        else:
            for end, _ in sizes.ends:
                if all(encloses(end.box, (*point, *point), 0.6) for point in points):
                    equation = _equation(measure, tuple(_in_end(measure, sizes, end)))
                    said.append((measure, equation))
                    break
    ties = [tie for (start, _), (z, r) in stations.items() for tie in _tied(sizes, start, z, r)]
    return Dimensioned(tuple(said), tuple(ties))


def _points(measure: Measure) -> Sequence[Point]:
    line, a, b, c, _ = measure.points
    match measure.kind:
        case "linear" | "aligned":
            return (a, b)
        case "angular":
            return (a, b, c, line)
        case "angular by points":
            return (a, b, c)
        case _:
            return (line, c)


def _equation(measure: Measure, forms: tuple[Form, ...]) -> Equation | None:
    if not forms:
        return None
    shown = printed(measure)
    return Equation(forms, measure.text, measure.at, bool(shown and shown.is_reference))


def _in_main(
    measure: Measure,
    sizes: Sizes,
    view: MainView,
    stations: dict[tuple[int, float], tuple[Unknown, Unknown]],
) -> Iterator[Form]:
    """Yield the forms that a dimension on a main view may mean, the likeliest first."""
    line, a, b, c, _ = measure.points
    if measure.kind == "angular":
        yield from _angle(sizes, view, (a, b), (c, line))
        return
    if measure.kind in ("linear", "aligned"):
        ends = a, b
    elif measure.kind == "diameter":
        ends = line, c
    else:
        return
    across = is_upright(measure) if measure.kind == "linear" else abs(ends[0][0] - ends[1][0]) < 1
    guess = _radii if across else _places
    guesses = [guess(sizes, view, *view.of_part(end), stations) for end in ends]
    pairs = sorted(product(*guesses), key=lambda pair: pair[0][0] + pair[1][0])
    seen: list[Form] = []
    for (_, one), (_, other) in pairs:
        form = combined((one, 1.0), (other, -1.0))
        if form and form not in seen:
            seen.append(form)
            yield form


def _places(
    sizes: Sizes,
    view: MainView,
    z: float,
    r: float,
    stations: dict[tuple[int, float], tuple[Unknown, Unknown]],
) -> list[Guess]:
    """Return the places along the axis that lie at z, those nearer to r first."""
    near = ON_MM / view.scale
    found = [
        (max(each.low_r - abs(r), abs(r) - each.high_r, 0.0), each.form)
        for each in sizes.places
        if abs(each.z - z) < near
    ]
    if not found:
        found = [
            (0.0, {_station(sizes, view, run, z, stations)[0]: 1.0})
            for run in _sloping(sizes, z, outside=True)
        ]
    return sorted(found, key=lambda guess: guess[0])


def _sloping(sizes: Sizes, z: float, *, outside: bool) -> Iterator[Run]:
    """Yield the slopes that pass a place."""
    for run in sizes.view.section.runs:
        ends = sorted(sizes.view.section.corners[n][0] for n in (run.start, run.end))
        if run.kind == "slope" and run.inside != outside and ends[0] < z < ends[1]:
            yield run


def _radii(
    sizes: Sizes,
    view: MainView,
    z: float,
    r: float,
    stations: dict[tuple[int, float], tuple[Unknown, Unknown]],
) -> list[Guess]:
    """Return the radii drawn at a point, negative below the axis, those nearer to z first."""
    near, sign = ON_MM / view.scale, 1.0 if r > 0 else -1.0
    if abs(r) < near:
        return [(0.0, {})]
    found = [
        (max(each.low_z - z, z - each.high_z, 0.0), combined((each.form, sign)))
        for each in sizes.levels
        if abs(each.r - abs(r)) < near
    ]
    here = [guess for guess in found if guess[0] < near]
    if not here:
        for run in sizes.view.section.runs:
            if run.kind == "slope" and _on_line(sizes, run, z, abs(r), near):
                station = _station(sizes, view, run, z, stations)[1]
                here.append((0.0, {station: sign}))
    return sorted(here or found, key=lambda guess: guess[0])


def _on_line(sizes: Sizes, run: Run, z: float, r: float, near: float) -> bool:
    """Tell whether a point lies on a slope or a little beyond its ends."""
    section = sizes.view.section
    (az, ar), (bz, br) = section.corners[run.start], section.corners[run.end]
    long = hypot(bz - az, br - ar)
    along = ((z - az) * (bz - az) + (r - ar) * (br - ar)) / long
    across = ((z - az) * (br - ar) - (r - ar) * (bz - az)) / long
    return abs(across) < near and -REACH_MM < along < long + REACH_MM


def _station(
    sizes: Sizes,
    view: MainView,
    run: Run,
    z: float,
    stations: dict[tuple[int, float], tuple[Unknown, Unknown]],
) -> tuple[Unknown, Unknown]:
    """Return place and radius of a point of a slope, the same two for the same point."""
    key = run.start, round(z, 3)
    if key not in stations:
        a = sizes.view.section.corners[run.start]
        r = a[1] + slope_of(sizes.view.section, run) * (z - a[0])
        at = view.on_paper(z, r)
        place = Unknown(("station z", *key), f"the place of the gauge plane {z:.4g} mm off", at, 3)
        radius = Unknown(("station r", *key), f"the diameter at the plane {z:.4g} mm off", at, 3)
        stations[key] = place, radius
    return stations[key]


def _tied(sizes: Sizes, start: int, z: Unknown, r: Unknown) -> Iterator[Equation]:
    """Yield how a station hangs together with its slope, and with a face that lies level."""
    section = sizes.view.section
    run = next(run for run in section.runs if run.start == start)
    steep, (from_z, _) = slope_of(section, run), section.corners[start]
    fixed_end = sizes.r[start], sizes.z[start]
    form = combined(
        ({r: 1.0}, 1.0),
        (fixed_end[0], -1.0),
        ({z: 1.0}, -steep),
        (fixed_end[1], steep),
        ({sizes.slopes[start]: 1.0}, -(z.name[2] - from_z)),
    )
    yield Equation((form,))
    level = next((each for each in sizes.places if abs(each.z - z.name[2]) < 1e-3), None)
    if level is not None:
        yield Equation((combined(({z: 1.0}, 1.0), (level.form, -1.0)),))


def _angle(
    sizes: Sizes, view: MainView, first: tuple[Point, Point], second: tuple[Point, Point]
) -> Iterator[Form]:
    """Yield the slope that an angle is about; the other side is its mirror image, or the axis."""
    section = sizes.view.section
    for ends in (first, second):
        (az, ar), (bz, br) = (view.of_part(end) for end in ends)
        for run in section.runs:
            if run.kind != "slope":
                continue
            c, d = section.corners[run.start], section.corners[run.end]
            turn = atan2(abs(br) - abs(ar), bz - az) - atan2(d[1] - c[1], d[0] - c[0])
            parallel = abs((turn + pi / 2) % pi - pi / 2) < PARALLEL_RAD
            middle = (az + bz) / 2, abs(ar + br) / 2
            if parallel and section.distance_mm(run, *middle) * view.scale < 1.0:
                yield {sizes.slopes[run.start]: 1.0}
                return


def _in_end(measure: Measure, sizes: Sizes, end: EndView) -> Iterator[Form]:
    """Yield the forms that a dimension in an end view may mean."""
    line, a, b, c, _ = measure.points
    if measure.kind not in ("linear", "aligned", "diameter"):
        return
    ends = (line, c) if measure.kind == "diameter" else (a, b)
    axis = 1 if is_upright(measure) and measure.kind == "linear" else 0
    if measure.kind == "diameter":
        for level in sizes.levels:
            if abs(2 * level.r * end.scale - hypot(c[0] - line[0], c[1] - line[1])) < ON_MM:
                yield combined((level.form, 2.0))
        return
    sided = next(sides for each, sides in sizes.ends if each == end)
    guesses: list[list[Form]] = []
    for point in ends:
        at = (point[axis] - end.centre[axis]) / end.scale
        near, sign = ON_MM / end.scale, 1.0 if at > 0 else -1.0
        forms: list[Form] = [{}] if abs(at) < near else []
        for side, form in sided:
            if side.axis == axis and abs(abs(side.at) - abs(at)) < near:
                if side.both:
                    forms.append(combined((form, sign)))
                elif side.at * at > 0:
                    forms.append(form)
        for level in sizes.levels:
            if abs(level.r - abs(at)) < near:
                forms.append(combined((level.form, sign)))
        guesses.append(forms)
    seen: list[Form] = []
    for one, other in product(*guesses):
        form = combined((one, 1.0), (other, -1.0))
        if form and form not in seen:
            seen.append(form)
            yield form
