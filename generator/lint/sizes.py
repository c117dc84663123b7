"""The sizes that a part's sheet has to give: unknowns, where they are drawn, and their ties.

Ties are what the drawing says by being drawn: cylinders have one radius, faces one place, what is
drawn symmetrical is so, and a slope ties the corners at its ends.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from generator.lint.equations import Equation, Form, Unknown, combined
from generator.lint.features import (
    Feature,
    Flats,
    Hole,
    Side,
    SideFlat,
    Slot,
    Threaded,
    features_of,
    sides_of,
)
from generator.lint.page import Page
from generator.lint.profile import Run, Section
from generator.lint.sheet import Point
from generator.lint.views import EndView, MainView

ON_MM: Final = 0.05
FIRST, SECOND, THIRD, LAST = range(4)
"""Which of several tied sizes is asked for first."""


@dataclass(frozen=True, slots=True)
class Place:
    """Something drawn at a position along the axis, between two distances from it."""

    z: float
    low_r: float
    high_r: float
    form: Form


@dataclass(frozen=True, slots=True)
class Level:
    """Something drawn at a distance from the axis, between two positions along it."""

    r: float
    low_z: float
    high_z: float
    form: Form


@dataclass(frozen=True, slots=True)
class Cut:
    """A hole, thread, slot or side flat with the unknowns that belong to it, by what they are."""

    feature: Feature
    unknowns: dict[str, Unknown]


@dataclass(frozen=True, slots=True)
class Sizes:
    """All sizes of a part.

    Attributes:
        view: Its main view.
        details: Its detail views.
        ends: Its end views, each with the sides drawn in it and their forms.
        z: Form of the place of each corner.
        r: Form of the radius of each corner.
        slopes: The slope of each sloping run, by the number of its first corner.
        places: Everything that a length may be measured from.
        levels: Everything that a diameter may be measured from.
        cuts: Holes, threads and slots.
        unknowns: All unknowns.
        ties: What the drawing says by being drawn.
    """

    view: MainView
    details: tuple[MainView, ...]
    ends: tuple[tuple[EndView, tuple[tuple[Side, Form], ...]], ...]
    z: tuple[Form, ...]
    r: tuple[Form, ...]
    slopes: dict[int, Unknown]
    places: tuple[Place, ...]
    levels: tuple[Level, ...]
    cuts: tuple[Cut, ...]
    unknowns: tuple[Unknown, ...]
    ties: tuple[Equation, ...]


def sizes_of(
    page: Page, view: MainView, details: Sequence[MainView], ends: Sequence[EndView]
) -> Sizes:
    """Return the sizes that have to be given for a part."""
    section = view.section
    z = _forms(section, view, along=0)
    r = _forms(section, view, along=1)
    slopes = {
        run.start: Unknown(("slope", run.start, 0.0), _slope_told(section, run), _at(view, run), 2)
        for run in section.runs
        if run.kind == "slope"
    }
    places = [Place(c[0], c[1], c[1], z[n]) for n, c in enumerate(section.corners)]
    levels: list[Level] = []
    for run in section.runs:
        a, b = section.corners[run.start], section.corners[run.end]
        if run.kind == "face":
            places.append(Place(a[0], min(a[1], b[1]), max(a[1], b[1]), z[run.start]))
        elif run.kind == "cylinder":
            levels.append(Level(a[1], min(a[0], b[0]), max(a[0], b[0]), r[run.start]))
    levels += [Level(c[1], c[0], c[0], r[n]) for n, c in enumerate(section.corners)]
    cuts = tuple(_cuts(page, view))
    for cut in cuts:
        places += _places_of(cut)
        levels += _levels_of(cut)
    edges = list(_edges(page, view, cuts))
    places += edges
    ties = [
        _tie(section, run, z, r, slopes[run.start]) for run in section.runs if run.kind == "slope"
    ]
    sided = []
    for number, end in enumerate(ends):
        sides = tuple(_sides(page, end, number))
        sided.append((end, sides))
        ties += _ties_of_sides(end, sides, cuts, levels)
    forms = [*z, *r, *(each.form for each in places), *(each.form for each in levels)]
    forms += [form for _, sides in sided for _, form in sides]
    forms += [{u: 1.0} for cut in cuts for u in cut.unknowns.values()]
    forms += [{u: 1.0} for u in slopes.values()]
    unknowns = tuple(dict.fromkeys(unknown for form in forms for unknown in form))
    return Sizes(
        view,
        tuple(details),
        tuple(sided),
        z,
        r,
        slopes,
        tuple(places),
        tuple(levels),
        cuts,
        unknowns,
        tuple(ties),
    )


def _forms(section: Section, view: MainView, *, along: int) -> tuple[Form, ...]:
    """Return the form of one coordinate of each corner; faces and cylinders tie corners.

    The front end of the part is the zero of all lengths, the axis that of all radii.
    """
    joined = "face" if along == 0 else "cylinder"
    group = list(range(len(section.corners)))
    for run in section.runs:
        if run.kind == joined:
            one, other = group[run.start], group[run.end]
            group = [one if each == other else each for each in group]
    forms: list[Form] = []
    for n in range(len(section.corners)):
        of = [section.corners[m] for m in range(len(group)) if group[m] == group[n]]
        value = of[0][along]
        if (along == 0 and value == section.front_mm) or (along == 1 and value < 1e-9):
            forms.append({})
            continue
        told = _place_told(of) if along == 0 else _radius_told(of)
        middle = sum(c[0] for c in of) / len(of), sum(c[1] for c in of) / len(of)
        name = ("z" if along == 0 else "r", group[n], value)
        forms.append({Unknown(name, told, view.on_paper(*middle), along): 1.0})
    return tuple(forms)


def _place_told(corners: Sequence[Point]) -> str:
    low, high = (pick(2 * r for _, r in corners) for pick in (min, max))
    about = f"the face from Ø{low:.4g} to Ø{high:.4g}" if high > low else f"the edge Ø{low:.4g}"
    return f"the place of {about}, {corners[0][0]:.4g} mm from the front end"


def _radius_told(corners: Sequence[Point]) -> str:
    low, high = (pick(z for z, _ in corners) for pick in (min, max))
    about = f"from {low:.4g} to {high:.4g}" if high > low else f"of the edge {low:.4g}"
    return f"the diameter Ø{2 * corners[0][1]:.4g} {about} mm from the front end"


def _slope_told(section: Section, run: Run) -> str:
    a, b = section.corners[run.start], section.corners[run.end]
    low, high = sorted((2 * a[1], 2 * b[1]))
    return f"the angle of the slope from Ø{low:.4g} to Ø{high:.4g}"


def _at(view: MainView, run: Run) -> Point:
    (az, ar), (bz, br) = (view.section.corners[n] for n in (run.start, run.end))
    return view.on_paper((az + bz) / 2, (ar + br) / 2)


def slope_of(section: Section, run: Run) -> float:
    """Return the slope of a run: r over z."""
    a, b = section.corners[run.start], section.corners[run.end]
    return (b[1] - a[1]) / (b[0] - a[0])


def _tie(
    section: Section, run: Run, z: Sequence[Form], r: Sequence[Form], slope: Unknown
) -> Equation:
    """Return how the corners at the ends of a slope hang together, to first order."""
    steep = slope_of(section, run)
    long = section.corners[run.end][0] - section.corners[run.start][0]
    form = combined(
        (r[run.end], 1.0),
        (r[run.start], -1.0),
        (z[run.end], -steep),
        (z[run.start], steep),
        ({slope: 1.0}, -long),
    )
    return Equation((form,))


def _cuts(page: Page, view: MainView) -> Iterator[Cut]:
    """Yield the holes, threads and slots of the main view with their unknowns."""
    for number, feature in enumerate(features_of(page, view)):
        match feature:
            case Hole():
                at = view.on_paper(feature.z, feature.r)
                what = f"of the hole {feature.z:.4g} mm from the front end"
                wanted = {"place": FIRST, "diameter": FIRST, "depth": SECOND}
                if feature.is_threaded:
                    wanted["thread"] = FIRST
                if feature.narrow:
                    wanted |= {"narrow": FIRST, "ledge": FIRST}
            case Slot():
                at = view.on_paper(feature.front, feature.half)
                what = "of the slot"
                wanted = {"front": FIRST, "rear": SECOND, "depth": FIRST}
                if not feature.flat:
                    wanted["half width"] = FIRST
            case SideFlat():
                at = view.on_paper(feature.wall, feature.half)
                what = "of the side flat"
                wanted = {"wall": FIRST, "distance from the axis": FIRST}
            case Flats():
                at = view.on_paper((feature.low + feature.high) / 2, feature.off)
                what = f"of the flats seen on edge, {2 * feature.off:.4g} across"
                wanted = {"distance from the axis": FIRST}
            case Threaded():
                at = view.on_paper((feature.low + feature.high) / 2, feature.r)
                what = f"for the thread about the axis, Ø{2 * feature.r:.4g}"
                wanted = {"thread": FIRST}
                if feature.inside:
                    wanted["hole"] = SECOND
                if feature.end is not None:
                    wanted["end"] = FIRST
        told = {
            "thread": "the designation",
            "narrow": "the diameter below the ledge",
            "end": "the full length",
            "hole": "the hole to tap",
        }
        yield Cut(
            feature,
            {
                each: Unknown(
                    (f"{type(feature).__name__} {each}", number, 0.0),
                    f"{told.get(each, f'the {each}')} {what}",
                    at,
                    rank,
                )
                for each, rank in wanted.items()
            },
        )


def _places_of(cut: Cut) -> Iterator[Place]:
    feature, of = cut.feature, cut.unknowns
    match feature:
        case Hole():
            yield Place(feature.z, 0.0, feature.r, {of["place"]: 1.0})
        case Threaded() if feature.end is not None:
            yield Place(feature.end, 0.0, feature.r, {of["end"]: 1.0})
        case SideFlat():
            yield Place(feature.wall, 0.0, feature.half, {of["wall"]: 1.0})
        case Slot():
            half = feature.half
            front: Form = {of["front"]: 1.0}
            rear: Form = {of["rear"]: 1.0}
            yield Place(feature.front, 0.0, half, front)
            yield Place(feature.rear, 0.0, half, rear)
            if feature.flat:
                return
            width: Form = {of["half width"]: 1.0}
            yield Place(feature.front + half, 0.0, half, combined((front, 1.0), (width, 1.0)))
            yield Place(feature.rear - half, 0.0, half, combined((rear, 1.0), (width, -1.0)))


def _levels_of(cut: Cut) -> Iterator[Level]:
    if isinstance(cut.feature, Flats):
        flats = cut.feature
        off: Form = {cut.unknowns["distance from the axis"]: 1.0}
        yield Level(flats.off, flats.low, flats.high, off)
    if isinstance(cut.feature, Slot) and not cut.feature.flat:
        slot = cut.feature
        yield Level(slot.half, slot.front, slot.rear, {cut.unknowns["half width"]: 1.0})


def _edges(page: Page, view: MainView, cuts: Sequence[Cut]) -> Iterator[Place]:
    """Yield edges across the view that are no corner of the section, such as floors of slots."""
    known = [corner[0] for corner in view.section.corners]
    for cut in cuts:
        match cut.feature:
            case Hole() as hole:
                known += [hole.z + side * half for side in (-1, 1) for half in hole.halves]
            case Threaded() as thread if thread.end is not None:
                known.append(thread.end)
            case SideFlat() as flat:
                known.append(flat.wall)
            case Slot() as milled if milled.flat:
                known += [milled.front, milled.rear]
    for stroke in page.sheet.strokes:
        upright = abs(stroke.start[0] - stroke.end[0]) < 1e-6
        if stroke.layer != "OUTLINE" or not upright or not view.holds(stroke.start, 0.1):
            continue
        z, r = view.of_part(stroke.start)
        if all(abs(z - each) * view.scale > ON_MM for each in known):
            known.append(z)
            told = f"the place of the edge {z:.4g} mm from the front end"
            unknown = Unknown(("edge", 0, round(z, 4)), told, stroke.start, FIRST)
            yield Place(z, 0.0, abs(r), {unknown: 1.0})


def _sides(page: Page, end: EndView, number: int) -> Iterator[tuple[Side, Form]]:
    """Yield the sides drawn in an end view; two that are alike on both sides are one size."""
    for side in sides_of(page, end):
        told = f"the {'width' if side.both else 'place'} of the sides {abs(side.at):.4g} mm off"
        told += " the axis in the end view"
        name = (f"side {side.axis}", number, round(side.at, 4))
        yield side, {Unknown(name, told, end.centre, FIRST): 1.0}


def _ties_of_sides(
    end: EndView,
    sides: Sequence[tuple[Side, Form]],
    cuts: Sequence[Cut],
    levels: Sequence[Level],
) -> Iterator[Equation]:
    """Yield how a cross-section hangs together with the slot of the main view."""
    for cut in cuts:
        if not isinstance(cut.feature, Slot):
            continue
        depth: Form = {cut.unknowns["depth"]: 1.0}
        if sides and all(side.both for side, _ in sides):
            yield Equation((depth,))  # no floor is drawn: it goes right through
        for side, form in sides:
            wide = not cut.feature.flat and side.both
            if wide and abs(side.at - cut.feature.half) * end.scale < ON_MM:
                yield Equation((combined((form, 1.0), ({cut.unknowns["half width"]: 1.0}, -1.0)),))
            elif not side.both:
                outer = max(levels, key=lambda level: level.r).form
                sign = 1.0 if side.at > 0 else -1.0
                yield Equation((combined((depth, 1.0), (outer, -1.0), (form, sign)),))
