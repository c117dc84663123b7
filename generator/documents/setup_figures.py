"""The sketches of the set-ups, each with the numbers of the tool in it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.documents.drawing import Arc, Figure, Line, Mark, Point, Text
from generator.documents.hatch import hatched
from generator.documents.plot import figure, spread
from generator.documents.sketch import BESIDE_MM, HEIGHT_MM, box, extension, level, upright
from generator.formulas import cone
from generator.making.lengths import Lengths, degrees_text
from generator.making.setups import Rise, TaperSetup
from generator.making.slot_setups import HoleSetup, SlotSetup
from generator.making.tip_setups import CountersinkSetup, PointSetup
from generator.model.tips import DRILL_POINT_DEG

LONG_MM: Final = 110.0
"""Length of the plunger in its sketch."""

THICK_MM: Final = 30.0
DEEP_MM: Final = 50.0
"""Most that a plunger is thick, and an end long, in a sketch."""

ROUND_MM: Final = 38.0
"""Diameter of the body in its sketch."""

TIP_MM: Final = 24.0
"""Diameter of the plunger in the sketch of an end."""


def slide_figure(setup: TaperSetup, rise: Rise, say: Lengths) -> Figure:
    """Return the plan of the slide set by an indicator on a test bar; the angle exaggerated."""
    right, left, near, far = 92.0, 40.0, 16.0, 8.0
    marks: list[Mark] = [
        *box(0.0, 14.0, 14.0, 46.0, "outline"),
        *box(14.0, 24.0, 108.0, 36.0, "outline"),
        Line((-3.0, 30.0), (113.0, 30.0), "centre"),
        Text((16.0, 38.0), "parallel test bar, held true", HEIGHT_MM),
        *_indicator((right, 24.0), near, "thin"),
        *_indicator((left, 24.0), far, "thin"),
        Line((right + 14.0, near + 1.6), (left - 14.0, far - 1.6), "outline"),
        Line((right - 4.0, near), (left - 22.0, near), "hidden"),
        *upright(near, far, left - 20.0, "", side="left"),
        Text((left - 22.0, far - 8.0), f"change by {say.text(rise.rise_mm)}", HEIGHT_MM, "right"),
        extension((right, near - 2.0), (right, -4.0)),
        extension((left, far - 2.0), (left, -4.0)),
        *level(left, right, -4.0, f"wind {say.text(rise.travel_mm)} along the slide"),
        Text((right + 17.0, near), degrees_text(setup.half_deg), HEIGHT_MM),
    ]
    return figure(
        "slide",
        "The compound slide set by an indicator",
        "Seen from above, the angle exaggerated: wound toward the chuck, the slide leads the "
        "indicator away from the bar.",
        marks,
    )


def _indicator(touch: Point, foot: float, style: str) -> Iterator[Mark]:
    """Yield an indicator whose plunger touches at a point, mounted below."""
    x, y = touch
    yield Line((x, y), (x, foot + 2.0), style)
    yield Arc((x, foot), 2.0, style=style)


def stand_off_figure(setup: TaperSetup, say: Lengths) -> Figure:
    """Return the taper in its socket, still proud; not to scale."""
    face, shoulder, end, low, high = 70.0, 92.0, 118.0, 0.0, 32.0
    middle = (low + high) / 2
    large, small, nose = 10.0, 6.5, 12.0
    slope = (large - small) / (shoulder - 8.0)
    at_face = large - slope * (shoulder - face)
    upper: list[Point] = [(0, middle + at_face - slope * face), (face, middle + at_face)]
    socket = [*upper, (face, high), (0.0, high)]
    mirrored = [(x, 2 * middle - y) for x, y in socket]
    marks: list[Mark] = [
        *hatched(socket, spacing_mm=2.5),
        *hatched(mirrored, spacing_mm=2.5),
        *_polygon(socket),
        *_polygon(mirrored),
        *_polygon(
            [
                (8.0, middle - small),
                (8.0, middle + small),
                (shoulder, middle + large),
                (shoulder, middle - large),
            ]
        ),
        *box(shoulder, middle - nose, end, middle + nose, "outline"),
        Line((-4.0, middle), (end + 4.0, middle), "centre"),
        extension((face, high), (face, high + 6.0)),
        extension((shoulder, middle + nose), (shoulder, high + 6.0)),
        *level(
            face,
            shoulder,
            high + 6.0,
            f"now: measure; finished: {say.text(setup.stand_out_mm)}",
            beside="right",
        ),
        Text((20.0, middle + 1.4), "taper", HEIGHT_MM),
        Text((shoulder + 6.0, middle + 2.0), "body", HEIGHT_MM),
        extension((face, low), (face, low - 6.0)),
        Text(
            (face + 2.0, low - 7.0),
            f"socket's face: finished, Ø{say.text(setup.gauge_mm)} lies here",
            HEIGHT_MM,
        ),
    ]
    return figure(
        "stand-off",
        "The stand-off of the shoulder",
        "Seated by hand: what the shoulder stands too far from the socket's face is still to come "
        "off, by the table.",
        marks,
    )


def _polygon(points: list[Point], style: str = "outline") -> Iterator[Line]:
    for n, point in enumerate(points):
        following = points[(n + 1) % len(points)]
        if point != following:
            yield Line(point, following, style)


def _edges(wall: list[Point]) -> Iterator[Line]:
    """Yield the edges of a cut face that is broken off at its foot."""
    hidden = wall[3]
    for line in _polygon(wall):
        if hidden not in (line.start, line.end):
            yield line


def slot_figure(slot: SlotSetup, say: Lengths) -> Figure:
    """Return the plunger against its end stop, with the positions of the cutter."""
    scale = min(LONG_MM / slot.length_mm, THICK_MM / slot.diameter_mm)
    long = scale * slot.length_mm
    half = scale * slot.diameter_mm / 2
    radius = scale * slot.cutter_mm / 2
    edge = scale * slot.width_mm / 2
    first, last = scale * slot.first_mm, scale * slot.last_mm
    top, foot = half + 7.0, -half - 7.0
    at, what = ("axis", "flat") if slot.form == "flat" else ("hole", "slot")
    marks: list[Mark] = [
        *hatched([(-6.0, -half - 4), (0.0, -half - 4), (0.0, half + 4), (-6.0, half + 4)]),
        *box(-6.0, -half - 4.0, 0.0, half + 4.0, "outline"),
        *box(0.0, -half, long, half, "outline"),
        Line((-9.0, 0.0), (long + 4.0, 0.0), "centre"),
        *(
            box(first - radius, -edge, last + radius, edge, "outline")
            if slot.form == "flat"
            else (
                Line((first, radius), (last, radius), "outline"),
                Line((first, -radius), (last, -radius), "outline"),
                Arc((first, 0.0), radius, 90.0, 270.0, "outline"),
                Arc((last, 0.0), radius, 270.0, 90.0, "outline"),
            )
        ),
        *_crossed((first, radius), (last, radius)),
        extension((first, radius), (first, top)),
        extension((last, radius), (last, top + 7.0)),
        extension((0.0, half + 4.0), (0.0, top + 7.0)),
        *level(0.0, first, top, f"{at} 1: {say.text(slot.first_mm, 2)}"),
        *level(0.0, last, top + 7.0, f"{at} 2: {say.text(slot.last_mm, 2)}"),
        extension((first - radius, 0.0), (first - radius, foot)),
        extension((last + radius, 0.0), (last + radius, foot - 7.0)),
        extension((0.0, -half - 4.0), (0.0, foot - 7.0)),
        *level(0.0, first - radius, foot, f"{what} from {say.text(slot.near_mm, 2)}"),
        *level(0.0, last + radius, foot - 7.0, f"to {say.text(slot.far_mm, 2)}"),
        Text((-8.0, -half - 9.5), "stop", HEIGHT_MM, "right"),
        Text((long + 2.0, 3.0), f"{slot.datum} to the stop", HEIGHT_MM),
    ]
    return figure(
        "slot",
        "Positions along the plunger",
        f"Everything counts from the end stop, with the {slot.datum} of the plunger against it.",
        marks,
    )


def _crossed(*centres: Point) -> Iterator[Line]:
    """Yield a short upright centre line for each hole."""
    for x, reach in centres:
        yield Line((x, reach - 0.4), (x, -reach + 0.4), "thin")


def hole_figure(hole: HoleSetup, say: Lengths) -> Figure:
    """Return the body cut across at the screw hole, the drill at its depth."""
    scale = ROUND_MM / hole.outside_mm
    outer, bore, drill = ROUND_MM / 2, scale * hole.bore_mm / 2, scale * hole.drill_mm / 2
    tip = outer - scale * hole.set_mm
    point = scale * cone.drill_point_mm(diameter_mm=hole.drill_mm, angle_deg=DRILL_POINT_DEG)
    top = outer + 8.0
    marks: list[Mark] = [
        Arc((0.0, 0.0), outer),
        Arc((0.0, 0.0), bore),
        Line((-outer - 3.0, 0.0), (outer + 3.0, 0.0), "centre"),
        Line((0.0, -outer - 3.0), (0.0, top + 3.0), "centre"),
        Line((-drill, top), (-drill, tip + point), "outline"),
        Line((drill, top), (drill, tip + point), "outline"),
        Line((-drill, tip + point), (0.0, tip), "outline"),
        Line((drill, tip + point), (0.0, tip), "outline"),
    ]
    levels = [
        (outer, "drill touches: zero the depth stop"),
        (outer - scale * hole.least_mm, f"hole full through: {say.text(hole.least_mm, 2)}"),
        (tip, f"set the stop: {say.text(hole.set_mm, 2)}"),
        (outer - scale * hole.most_mm, f"no deeper: {say.text(hole.most_mm, 2)}"),
        (-bore, f"far wall: {say.text((hole.outside_mm + hole.bore_mm) / 2, 2)}"),
    ]
    marks += _depths(levels, outer + 6.0, drill)
    return figure(
        "screw-hole",
        "Depth of the drill in the screw hole",
        "Depths of the drill's tip from where it touches: between full through and no deeper the "
        "far wall stays whole.",
        marks,
    )


def _depths(levels: list[tuple[float, str]], x: float, drill: float) -> Iterator[Mark]:
    """Yield words at the right, each with a line to its level."""
    rising = levels[::-1]
    middles = spread([y for y, _ in rising], [HEIGHT_MM] * len(rising), -200.0, 200.0, 2.2)
    for (y, words), at in zip(rising, middles, strict=True):
        yield Line((drill + 0.8, y), (x, y), "dimension")
        yield Line((x, y), (x + 6.0, at), "dimension")
        yield Text((x + 6.0 + BESIDE_MM, at - HEIGHT_MM / 2), words, HEIGHT_MM)


def point_figure(point: PointSetup, say: Lengths) -> Figure:
    """Return a point in the plate with the reamed hole that proves it."""
    scale = min(TIP_MM / point.diameter_mm, DEEP_MM / point.length_mm)
    hole_mm, through_mm = point.gauges[0]
    half, flat = scale * point.diameter_mm / 2, scale * point.flat_mm / 2
    length, hole = scale * point.length_mm, scale * hole_mm / 2
    at = scale * through_mm
    back, thick = length + 14.0, 8.0
    plate = [(at - thick, hole), (at, hole), (at, half + 5.0), (at - thick, half + 5.0)]
    other = [(x, -y) for x, y in plate]
    marks: list[Mark] = [
        Line((0.0, -flat), (0.0, flat), "outline"),
        *_flanks(flat, length, half, back),
        Line((-4.0, 0.0), (back + 4.0, 0.0), "centre"),
        *hatched(plate, spacing_mm=2.0),
        *hatched(other, spacing_mm=2.0),
        *_polygon(plate),
        *_polygon(other),
        extension((0.0, -flat), (0.0, -half - 11.0)),
        extension((at, -half - 5.0), (at, -half - 11.0)),
        *level(
            0.0, at, -half - 11.0, f"stands through by {say.text(through_mm, 2)}", beside="right"
        ),
        Text((back + 6.0, half - 6.0), f"{degrees_text(point.angle_deg)} point", HEIGHT_MM),
        Text((at + 3.0, half + 3.0), f"reamed Ø{say.text(hole_mm)}", HEIGHT_MM),
        Text((-6.0, -1.2), f"flat Ø{say.text(point.flat_mm)}", HEIGHT_MM, "right"),
    ]
    return figure(
        f"{point.end}-point",
        f"Proving the {point.end} point with a reamed hole",
        "From the face on the plunger's side, whose edge bears, to the tip: it tells whether angle "
        "and flat are right.",
        marks,
    )


def _flanks(flat: float, length: float, half: float, back: float) -> Iterator[Line]:
    for way in (1.0, -1.0):
        yield Line((0.0, way * flat), (length, way * half), "outline")
        yield Line((length, way * half), (back, way * half), "outline")


def countersink_figure(sink: CountersinkSetup, size_mm: float, say: Lengths) -> Figure:
    """Return a countersink with the ball that proves it, the plunger upright."""
    scale = min(TIP_MM / size_mm, DEEP_MM / (sink.drill_tip_mm + sink.heights[1][1]))
    half = scale * size_mm / 2
    mouth, pilot = scale * sink.mouth_mm / 2, scale * sink.pilot_mm / 2
    deep, full = scale * sink.cone_mm, scale * sink.drill_mm
    tip = scale * sink.drill_tip_mm
    ball = scale * sink.ball_mm / 2
    stands = scale * sink.heights[1][1]
    foot = -tip - 8.0
    wall = [(mouth, 0.0), (half, 0.0), (half, foot), (0.0, foot), (0.0, -tip), (pilot, -full)]
    wall.append((pilot, -deep))
    other = [(-x, y) for x, y in wall]
    x = half + 10.0
    marks: list[Mark] = [
        *hatched(wall, spacing_mm=2.0),
        *hatched(other, spacing_mm=2.0),
        *_edges(wall),
        *_edges(other),
        Line((-mouth, 0.0), (mouth, 0.0), "thin"),
        Line((-pilot, -deep), (pilot, -deep), "outline"),
        Line((-pilot, -full), (pilot, -full), "outline"),
        Arc((0.0, stands - ball), ball, style="thin"),
        Line((0.0, foot - 3.0), (0.0, stands + 4.0), "centre"),
        extension((0.6, stands), (x, stands)),
        extension((half, 0.0), (x, 0.0)),
        *upright(0.0, stands, x, f"stands out by {say.text(sink.heights[1][1], 2)}"),
        Text((-half - 6.0, stands - 4.0), f"ball Ø{say.text(sink.ball_mm)}", HEIGHT_MM, "right"),
    ]
    return figure(
        f"{sink.end}-countersink",
        f"Proving the {sink.end} countersink with a ball",
        "Measure over ball and plunger, and the plunger alone: the difference is what the ball "
        "stands out, and tells the mouth.",
        marks,
    )
