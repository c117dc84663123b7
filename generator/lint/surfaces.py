"""What a row of a call-out says of the surface that its leader points at."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import atan, degrees
from typing import Final

from generator.lint.equations import Form, combined
from generator.lint.features import SideFlat, Threaded
from generator.lint.grammar import Statement, thread_major_mm
from generator.lint.profile import Run
from generator.lint.sheet import Point
from generator.lint.sizes import Sizes, slope_of
from generator.lint.views import MainView

AIM_MM: Final = 1.0
"""How near to its surface the tip of a leader lies on paper (engineering judgement)."""
NEIGHBOUR_MM: Final = 8.0
"""How far off a surface may lie that a call-out is about besides the one its tip rests on."""
SHORT_CHAMFER_DEG: Final = 1.0
"""General tolerance on the angle of a short chamfer: ISO 2768-1, class m, up to 10 mm."""
DEPTH_SLACK_MM: Final = 0.05
"""What rounding a depth may take: half of the tolerance of ISO 2768-1, class m, up to 6 mm."""
MOST_SLACK_MM: Final = 0.0128
"""What rounding any other size may take: half a thousandth of an inch (engineering judgement)."""
LEAST_SLACK: Final = 0.0005


@dataclass(frozen=True, slots=True)
class Told:
    """One number of a row: what it says of the sizes, and what is drawn."""

    form: Form
    number: float
    drawn: float
    slack: float


def slack_of(statement: Statement, n: int, least: float = LEAST_SLACK) -> float:
    """Return how far a number may be off: half its last digit, within reason."""
    return 1.001 * max(min(statement.half_digits[n], MOST_SLACK_MM), least)


def _nearest(
    sizes: Sizes, view: MainView, point: Point, wanted: Callable[[Run], bool]
) -> Run | None:
    """Return the run of a kind that lies nearest to a tip."""
    section = sizes.view.section
    runs = [run for run in section.runs if wanted(run)]
    if not runs:
        return None
    best = min(runs, key=lambda run: section.distance_mm(run, *point))
    close = section.distance_mm(best, *point) * view.scale <= NEIGHBOUR_MM
    return best if close else None


def _is_outer_slope(run: Run) -> bool:
    return run.kind == "slope" and not run.inside


def _is_inner_slope(run: Run) -> bool:
    return run.kind == "slope" and run.inside


def _is_hole(run: Run) -> bool:
    return run.kind == "cylinder" and run.inside


def _half_angle_deg(sizes: Sizes, run: Run) -> float:
    return degrees(atan(abs(slope_of(sizes.view.section, run))))


def _length_of(sizes: Sizes, run: Run) -> tuple[Form, float]:
    """Return the form of a run's length along the axis, and the length drawn."""
    one, other = run.start, run.end
    corners = sizes.view.section.corners
    if corners[one][0] > corners[other][0]:
        one, other = other, one
    return combined((sizes.z[other], 1.0), (sizes.z[one], -1.0)), abs(
        corners[other][0] - corners[one][0]
    )


def _chamfer(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    run = _nearest(sizes, view, point, _is_outer_slope)
    if run is None:
        return
    alike = [run]
    if statement.both:
        long, steep = _length_of(sizes, run)[1], _half_angle_deg(sizes, run)
        alike += [
            other
            for other in sizes.view.section.runs
            if _is_outer_slope(other)
            and other != run
            and abs(_length_of(sizes, other)[1] - long) < 0.01
            and abs(_half_angle_deg(sizes, other) - steep) < 2 * SHORT_CHAMFER_DEG
        ]
    for each in alike:
        form, drawn = _length_of(sizes, each)
        yield Told(form, statement.numbers[0], drawn, slack_of(statement, 0))
        angle = _half_angle_deg(sizes, each)
        slope: Form = {sizes.slopes[each.start]: 1.0}
        yield Told(slope, statement.numbers[1], angle, SHORT_CHAMFER_DEG)


def _depth(sizes: Sizes, run: Run) -> tuple[Form, float]:
    """Return the form of the depth of a hole from the face it opens to, and the depth drawn."""
    section = sizes.view.section
    deep, face = section.deep_end(run)
    at_face = next(n for n, (z, _) in enumerate(section.corners) if z == face)
    sign = 1.0 if section.corners[deep][0] > face else -1.0
    form = combined((sizes.z[deep], sign), (sizes.z[at_face], -sign))
    return form, abs(section.corners[deep][0] - face)


def _drilled_point(sizes: Sizes, run: Run) -> Iterator[Told]:
    """Yield that the slope at the bottom of a drilled hole is as the drill is ground."""
    deep, _ = sizes.view.section.deep_end(run)
    for other in sizes.view.section.runs:
        if _is_inner_slope(other) and deep in (other.start, other.end):
            yield Told(dict.fromkeys([sizes.slopes[other.start]], 1.0), 0.0, 0.0, 0.0)


def _hole_rows(
    sizes: Sizes, statement: Statement, run: Run | None, *, drilled: bool
) -> Iterator[Told]:
    """Yield diameter and depth of a hole."""
    if run is None:
        return
    r = sizes.view.section.corners[run.start][1]
    yield Told(
        combined((sizes.r[run.start], 2.0)), statement.numbers[0], 2 * r, slack_of(statement, 0)
    )
    if len(statement.numbers) > 1:
        form, drawn = _depth(sizes, run)
        rounded = min(statement.half_digits[1], DEPTH_SLACK_MM)
        yield Told(form, statement.numbers[1], drawn, 1.001 * max(rounded, LEAST_SLACK))
    if drilled:
        yield from _drilled_point(sizes, run)


def _recess(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    section = sizes.view.section
    faces = section.front_mm, section.rear_mm

    def opens(run: Run) -> bool:
        ends = (section.corners[n][0] for n in (run.start, run.end))
        return _is_hole(run) and any(z in faces for z in ends)

    run = _nearest(sizes, view, point, opens)
    yield from _hole_rows(sizes, statement, run, drilled=False)


def _drill(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    run = _nearest(sizes, view, point, _is_hole)
    yield from _hole_rows(sizes, statement, run, drilled=True)
    yield from _hole_to_tap(sizes, point)


def _pilot(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    section = sizes.view.section
    cone = _nearest(sizes, view, point, _is_inner_slope)
    if cone is None:
        return
    joined = [
        run
        for run in section.runs
        if _is_hole(run) and {run.start, run.end} & {cone.start, cone.end}
    ]
    run = min(joined, key=lambda each: section.corners[each.start][1]) if joined else None
    yield from _hole_rows(sizes, statement, run, drilled=True)


def _cone(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    """Yield included angle and largest diameter of a cone in a mouth."""
    run = _nearest(sizes, view, point, _is_inner_slope)
    if run is None:
        return
    corners = sizes.view.section.corners
    wide = max((run.start, run.end), key=lambda n: corners[n][1])
    angle = 2 * _half_angle_deg(sizes, run)
    slope: Form = {sizes.slopes[run.start]: 1.0}
    yield Told(slope, statement.numbers[0], angle, slack_of(statement, 0, 0.05))
    yield Told(
        combined((sizes.r[wide], 2.0)),
        statement.numbers[1],
        2 * corners[wide][1],
        slack_of(statement, 1),
    )


def _flat(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    corners = sizes.view.section.corners
    ends = (sizes.view.section.front_mm, sizes.view.section.rear_mm)
    run = _nearest(
        sizes, view, point, lambda run: run.kind == "face" and corners[run.start][0] in ends
    )
    if run is None:
        return
    wide = max((run.start, run.end), key=lambda n: corners[n][1])
    form = combined((sizes.r[wide], 2.0))
    yield Told(form, statement.numbers[0], 2 * corners[wide][1], slack_of(statement, 0))


def _side_flat(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    """Yield how far from the axis a side flat lies, and how far it reaches from the end."""
    section = sizes.view.section
    for cut in sizes.cuts:
        flat = cut.feature
        if isinstance(flat, SideFlat) and (point[0] < flat.wall) == flat.front:
            off: Form = {cut.unknowns["distance from the axis"]: 1.0}
            yield Told(off, statement.numbers[0], flat.off, slack_of(statement, 0))
            face = section.front_mm if flat.front else section.rear_mm
            sign = 1.0 if flat.front else -1.0
            wall: Form = {cut.unknowns["wall"]: 1.0}
            form = combined((wall, sign), (_place(sizes, face), -sign))
            yield Told(form, statement.numbers[1], abs(flat.wall - face), slack_of(statement, 1))


def _diameter(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    run = _nearest(sizes, view, point, lambda run: run.kind == "cylinder")
    if run is not None:
        drawn = 2 * sizes.view.section.corners[run.start][1]
        form = combined((sizes.r[run.start], 2.0))
        yield Told(form, statement.numbers[0], drawn, slack_of(statement, 0))


def _groove(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    """Yield the diameter at the floor of the nearest groove, and its width.

    The row stands with that of the thread, so its leader may point anywhere along that.
    """
    section = sizes.view.section
    corners = section.corners

    def is_groove(run: Run) -> bool:
        before, after = corners[run.start - 1], corners[(run.end + 1) % len(corners)]
        floor = corners[run.start][1]
        return run.kind == "cylinder" and not run.inside and min(before[1], after[1]) > floor

    grooves = [run for run in section.runs if is_groove(run)]
    if grooves:
        run = min(grooves, key=lambda each: section.distance_mm(each, *point))
        drawn = 2 * corners[run.start][1]
        form = combined((sizes.r[run.start], 2.0))
        yield Told(form, statement.numbers[0], drawn, slack_of(statement, 0))
        width, wide = _length_of(sizes, run)
        yield Told(width, statement.numbers[1], wide, slack_of(statement, 1))


def _taper(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    """Yield the slope of a taper by its rate on diameter, or by its angle to the axis."""
    run = _nearest(sizes, view, point, lambda run: run.kind == "slope")
    if run is None:
        return
    slope: Form = {sizes.slopes[run.start]: 1.0}
    steep = abs(slope_of(sizes.view.section, run))
    if statement.kind == "taper":
        yield Told(slope, statement.numbers[0], 0.5 / steep, slack_of(statement, 0))
        return
    whole, minutes, seconds = statement.numbers
    angle = whole + minutes / 60 + seconds / 3600
    yield Told(slope, angle, degrees(atan(steep)), 0.501 / 3600)


def _angle(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    run = _nearest(sizes, view, point, lambda run: run.kind == "slope")
    if run is not None:
        drawn = 2 * _half_angle_deg(sizes, run)
        slope: Form = {sizes.slopes[run.start]: 1.0}
        yield Told(slope, statement.numbers[0], drawn, slack_of(statement, 0, 0.05))


def _thread(sizes: Sizes, view: MainView, statement: Statement, point: Point) -> Iterator[Told]:
    """Yield a thread about the axis, its major diameter outside, its length where it ends early."""
    near = 1e-3 + AIM_MM / view.scale
    cuts = [
        (cut, thread)
        for cut in sizes.cuts
        if isinstance(thread := cut.feature, Threaded)
        and thread.low - near <= point[0] <= thread.high + near
    ]
    if not cuts:
        return
    cut, thread = min(cuts, key=lambda each: abs(each[1].r - point[1]))
    major = thread_major_mm(statement.thread)
    run = _nearest(sizes, view, (point[0], thread.r), lambda run: run.kind == "cylinder")
    outer = run is not None and not run.inside
    if run is not None and outer:
        drawn = 2 * sizes.view.section.corners[run.start][1]
        yield Told(combined((sizes.r[run.start], 2.0)), major, drawn, LEAST_SLACK)
    drawn = major if outer else 2 * thread.r
    yield Told({cut.unknowns["thread"]: 1.0}, major, drawn, LEAST_SLACK)
    if statement.numbers and run is not None:
        section = sizes.view.section
        nearer_rear = section.rear_mm - thread.high < thread.low - section.front_mm
        face = section.rear_mm if nearer_rear else section.front_mm
        sign = -1.0 if nearer_rear else 1.0
        at_face = next(n for n, (z, _) in enumerate(section.corners) if z == face)
        end = thread.end if thread.end is not None else (thread.low, thread.high)[not nearer_rear]
        last: Form = {cut.unknowns["end"]: 1.0} if "end" in cut.unknowns else _place(sizes, end)
        form = combined((last, sign), (sizes.z[at_face], -sign))
        yield Told(form, statement.numbers[0], abs(face - end), slack_of(statement, 0))


def _place(sizes: Sizes, z: float) -> Form:
    """Return the form of the corner at a place."""
    return min(sizes.places, key=lambda each: abs(each.z - z)).form


def _tapped_bore(
    sizes: Sizes, view: MainView, statement: Statement, point: Point
) -> Iterator[Told]:
    """Yield that the bore itself is the hole for a thread."""
    yield from _hole_to_tap(sizes, point)


def _hole_to_tap(sizes: Sizes, point: Point) -> Iterator[Told]:
    """Yield the hole of the inner thread that a tip lies on."""
    for cut in sizes.cuts:
        thread = cut.feature
        if (
            isinstance(thread, Threaded)
            and "hole" in cut.unknowns
            and thread.low - AIM_MM <= point[0] <= thread.high + AIM_MM
        ):
            yield Told({cut.unknowns["hole"]: 1.0}, 0.0, 0.0, 0.0)


HANDLERS: Final[dict[str, Callable[[Sizes, MainView, Statement, Point], Iterator[Told]]]] = {
    "chamfer": _chamfer,
    "recess": _recess,
    "bevel": _cone,
    "countersink": _cone,
    "pilot": _pilot,
    "flat": _flat,
    "side flat": _side_flat,
    "drill": _drill,
    "diameter": _diameter,
    "groove": _groove,
    "taper": _taper,
    "half angle": _taper,
    "angle": _angle,
    "thread": _thread,
    "tapped in the bore": _tapped_bore,
}
