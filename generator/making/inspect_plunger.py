"""What is measured on the plunger: its bar, its two ends, its slot."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, cos, floor, radians
from typing import Final

from generator.formulas import cone, gauging
from generator.inputs.tables import ConeTip, HalfCentreTip, RetainingSlot, SunkTip
from generator.making.line import Line, general, reading, truth
from generator.making.sizes import Size
from generator.model import parts
from generator.model.tips import End
from generator.model.tool import Tool
from generator.units import number
from generator.use.bands import Span

BALLS_MM: Final = (
    *(1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 6.0, 6.5, 7.0, 7.5, 8.0, 8.5, 9.0, 9.5),
    *(10.0, 11.0, 12.0, 13.0, 14.0, 15.0, 16.0, 17.0, 18.0, 20.0),
)
"""Loose bearing balls as sold; common practice, no source."""

ANGLE_OFF_DEG: Final = 1.0
"""General tolerance of an angle with a leg up to 10 mm in the classes f and m: ISO 2768-1:1989,
Table 3, as printed on several public pages."""

COARSE_OFF_DEG: Final = 1.5
"""The same in the class c."""

EDGE_MM: Final = 0.3
"""What a ball keeps from the edges of a countersink, on the diameter; engineering judgement."""

PIN_STEP_MM: Final = 0.1


def angle(tool: Tool, angle_deg: float) -> Span:
    """Return an angle with the general tolerance of the sheets."""
    coarse = tool.parameters.making.general_tolerance == "ISO 2768-c"
    off_deg = COARSE_OFF_DEG if coarse else ANGLE_OFF_DEG
    return Span(angle_deg - off_deg, angle_deg, angle_deg + off_deg)


def plunger_lines(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on the plunger."""
    yield Line.of(
        known["plunger_mm"],
        "micrometer at both ends and the middle, each in three directions; a ring or the bore "
        "finds what is not round",
    )
    if "plunger_length_mm" in known:
        yield Line.of(known["plunger_length_mm"], "calipers or micrometer over both ends")
    front, rear = parts.plunger_ends(tool.parameters)
    if not tool.tips:
        yield from end_lines(tool, known, "front", front)
    yield from end_lines(tool, known, "rear", rear)
    if tool.parameters.slot is not None:
        yield from _slot(tool, tool.parameters.slot, known)
    if tool.parameters.shoulder is not None:
        rest = "step" if tool.bush is None else "rear end of the nose bush"
        yield from _head(known, "front face" if tool.tips else "tip", rest)


def end_lines(tool: Tool, known: dict[str, Size], side: str, end: End) -> Iterator[Line]:
    """Yield what is measured on a working end; nothing of one without a cone."""
    if isinstance(end.tip, ConeTip):
        yield from _point(tool, known, side, end.tip, end.diameter_mm)
    elif isinstance(end.tip, SunkTip):
        yield from _countersink(tool, known, side, end.tip, end)


def _head(known: dict[str, Size], front: str, rest: str) -> Iterator[Line]:
    """Yield what is measured on the head, which comes to rest, and the tail behind a stem."""
    yield Line.of(known["stem_mm"], f"depth gauge or calipers, {front} to the front of the head")
    yield Line.of(known["head_diameter_mm"], "micrometer")
    yield Line.of(known["head_length_mm"], "calipers over the head")
    yield Line.of(known["tail_diameter_mm"], "micrometer")
    yield Line.of(known["tail_length_mm"], "depth gauge from the head's rear to the tail's end")
    yield truth("head square to the stem", f"blued against the {rest} and turned: blue all round")


def holes_for_mm(diameter_mm: float, flat_mm: float) -> tuple[float, float]:
    """Return two reamed holes in which a point is stood, as far apart as half millimetres allow.

    Example:
        >>> holes_for_mm(8, 0.4), holes_for_mm(1.2, 0.4)
        ((7.0, 2.0), (1.0, 0.6))
    """
    large_mm = floor((diameter_mm - 1.0) * 2) / 2
    small_mm = max(2.0, ceil((flat_mm + 0.5) * 2) / 2)
    if large_mm - small_mm >= 1.0:
        return large_mm, small_mm
    band_mm = diameter_mm - flat_mm
    return round(flat_mm + 0.75 * band_mm, 6), round(flat_mm + 0.25 * band_mm, 6)


def _point(
    tool: Tool, known: dict[str, Size], side: str, tip: ConeTip, diameter_mm: float
) -> Iterator[Line]:
    """Yield the flat, and the angle by two holes: in their difference the flat drops out."""
    yield Line.of(known[f"{side}_flat_mm"], "magnifier with a scale")
    if tip.flat_mm >= diameter_mm:
        return
    if isinstance(tip, HalfCentreTip):
        yield Line(
            f"{side} side flat from the axis",
            general(tool.parameters, tip.relief_mm),
            "micrometer over flat and far side, less half the bar",
            reading(
                lambda off_mm: diameter_mm / 2 + off_mm,
                off_mm=general(tool.parameters, tip.relief_mm),
            ),
        )
        yield Line(
            f"length of the {side} side flat",
            general(tool.parameters, tip.relief_length_mm),
            "calipers",
        )
    large_mm, small_mm = holes_for_mm(diameter_mm, tip.flat_mm)
    yield Line(
        f"angle of the {side} point",
        angle(tool, tip.angle_deg),
        f"point in sharp-edged reamed holes of {number(large_mm)} and {number(small_mm)} mm in a "
        "plate: difference of what it stands beyond the plate",
        reading(
            lambda angle_deg: cone.cone_length_mm(
                diameter_mm=large_mm, flat_mm=small_mm, angle_deg=angle_deg
            ),
            angle_deg=angle(tool, tip.angle_deg),
        ),
        unit="deg",
    )


def ball_for_mm(tip: SunkTip, end: End, mouth: Span, angles: Span) -> float | None:
    """Return the ball that touches a countersink within its cone at every limit; None if none does.

    Of those that do, the one that touches nearest the middle of the cone. It must not reach the
    bottom of the pilot hole.
    """
    middle_mm = (tip.pilot_mm + tip.mouth_mm) / 2
    found: list[tuple[float, float]] = []
    for ball_mm in BALLS_MM:
        circles = [
            gauging.ball_circle_mm(ball_mm=ball_mm, angle_deg=each)
            for each in (angles.least, angles.nominal, angles.greatest)
        ]
        inside = tip.pilot_mm + EDGE_MM <= min(circles) and max(circles) <= mouth.least - EDGE_MM
        if not inside:
            continue
        height_mm = gauging.ball_height_mm(
            ball_mm=ball_mm, mouth_mm=mouth.nominal, angle_deg=angles.nominal
        )
        if ball_mm - height_mm < end.pilot_mm:
            found.append((abs(circles[1] - middle_mm), ball_mm))
    return min(found)[1] if found else None


def _countersink(
    tool: Tool, known: dict[str, Size], side: str, tip: SunkTip, end: End
) -> Iterator[Line]:
    p, mouth = tool.parameters, known[f"{side}_mouth_mm"]
    angles = angle(tool, tip.angle_deg)
    ball_mm = end.ball_mm or ball_for_mm(tip, end, mouth.limits, angles)
    if ball_mm is None or ball_mm > mouth.limits.least / cos(radians(tip.angle_deg / 2)):
        yield Line.of(mouth, "calipers, magnifier; no usual ball touches within the cone")
    else:
        yield Line.of(
            mouth,
            f"ball of {number(ball_mm)} mm in the countersink: what its top stands over the face",
            reading(
                lambda mouth_mm: gauging.ball_height_mm(
                    ball_mm=ball_mm, mouth_mm=mouth_mm, angle_deg=tip.angle_deg
                ),
                mouth_mm=mouth.limits,
            ),
        )
    yield Line(
        f"pilot of the {side} end",
        general(p, tip.pilot_mm),
        "drill shank as a pin",
    )
    if tip.pilot_depth_mm > 0:
        yield Line(
            f"depth of the {side} pilot",
            general(p, end.pilot_mm),
            "depth rod from the face, thinner than the pilot",
        )


def pin_for_mm(width_mm: float) -> float:
    """Return the pin that lies in a slot: a tenth or more under its width."""
    return round(floor((width_mm - PIN_STEP_MM) / PIN_STEP_MM + 1e-9) * PIN_STEP_MM, 6)


def _slot(tool: Tool, slot: RetainingSlot, known: dict[str, Size]) -> Iterator[Line]:
    if slot.form == "flat":
        yield from _flat(tool, known)
        return
    width = known["slot_width_mm"]
    pin_mm = pin_for_mm(width.limits.least)
    yield Line.of(
        width,
        f"pin {number(width.limits.least)} goes, pin {number(width.limits.greatest)} does not, the "
        "whole length",
    )
    if pin_mm > 0:
        yield from _ends(known, pin_mm)
        if slot.form == "slot":
            yield _floor(tool, known, pin_mm)
    what = "the pin" if slot.form == "through" else "the screw's tip"
    yield truth("slot square to the ends", f"{what} runs in it from end to end by hand")


def _flat(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on a flat that is open to both sides."""
    diameter_mm = tool.parameters.plunger.diameter_mm
    yield Line.of(known["slot_length_mm"], "calipers' inside jaws between its ends")
    yield Line.of(known["slot_front_mm"], "calipers, tip to the front end of the flat")
    yield Line.of(
        known["slot_depth_mm"],
        "micrometer over the flat and the far side",
        reading(lambda depth_mm: diameter_mm - depth_mm, depth_mm=known["slot_depth_mm"].limits),
    )
    yield truth("ends of the flat square", "a small square on the flat; no radius at the foot")


def _ends(known: dict[str, Size], pin_mm: float) -> Iterator[Line]:
    """Yield the length of the slot and where it begins, by a pin in its ends."""
    length, front = known["slot_length_mm"], known["slot_front_mm"]
    yield Line.of(
        length,
        f"a pin of {number(pin_mm)} mm upright in each end; gauge blocks or inside jaws between "
        "them",
        reading(lambda length_mm: length_mm - 2 * pin_mm, length_mm=length.limits),
    )
    yield Line.of(
        front,
        "the same pin against the front end of the slot; calipers over tip and pin",
        reading(lambda front_mm: front_mm + pin_mm, front_mm=front.limits),
    )


def _floor(tool: Tool, known: dict[str, Size], pin_mm: float) -> Line:
    """Return how deep the floor of the slot lies: by a pin on it, or by a depth gauge."""
    diameter_mm = tool.parameters.plunger.diameter_mm
    width, depth = known["slot_width_mm"], known["slot_depth_mm"]
    if depth.limits.least > 0 and depth.limits.greatest < min(pin_mm, diameter_mm):
        return Line.of(
            depth,
            "the same pin along the floor; micrometer over pin and far side, less what it reads "
            "over the bar beside the slot",
            reading(
                lambda depth_mm: (
                    gauging.over_floor_mm(diameter_mm=diameter_mm, depth_mm=depth_mm, pin_mm=pin_mm)
                    - diameter_mm
                ),
                depth_mm=depth.limits,
            ),
        )
    widths = (width.limits.least, width.limits.nominal, width.limits.greatest)
    return Line.of(
        depth,
        "depth gauge, base across the edges of the slot, rod on the floor",
        reading(
            lambda depth_mm, width_mm: gauging.rod_depth_mm(
                diameter_mm=diameter_mm, width_mm=width_mm, depth_mm=depth_mm
            ),
            depth_mm=depth.limits,
            width_mm=Span(*(min(each, diameter_mm) for each in widths)),
        ),
    )
