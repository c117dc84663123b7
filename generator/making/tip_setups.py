"""The set-ups of the plunger's ends: slide, feeds, depths, and what a ball or a hole must show."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from generator.formulas import cone, taper_errors
from generator.inputs.tables import ConeTip, SunkTip
from generator.making.balls import resting_balls
from generator.making.stepping import StepRow, step_table
from generator.model import parts, screwed
from generator.model.outline import Corner, Segment
from generator.model.tips import DRILL_POINT_DEG, End
from generator.model.tool import Tool
from generator.units import MM_PER_INCH

RIM_MM: Final = 0.3
"""A ball rests at least so far inside the mouth and outside the pilot; engineering judgement."""

HEIGHTS_MM: Final = (0.05, 0.1, 0.2)
MOUTH_MM: Final = 0.1
"""By how much a mouth is let be wrong in the table of the ball; engineering judgement."""

STEP_MM: Final = 1.0
STEP_IN: Final = 1 / 32
GAUGE_SHARES: Final = (0.75, 0.5)


@dataclass(frozen=True, slots=True)
class PointSetup:
    """A male point.

    Attributes:
        end: "front" or "rear", or "tip 2" of a tip that screws into the plunger.
        angle_deg: Included angle.
        flat_mm: Diameter of the flat on the tip.
        diameter_mm: Diameter of the plunger.
        length_mm: Length along the axis.
        flank_mm: Travel of the compound slide from the flat to the full diameter.
        radial_mm: What the cross-slide goes in by, from touching the outside to the flat.
        heights: For each error of the tool's height, in millimetres, the flat that comes out of
            the cut for the one that is wanted.
        gauges: Diameter of a reamed hole, and how far the point passes through it.
        steps: The point in steps, z from the tip.
        relief: Of a half centre, how far from the axis its side flat lies, and its length.
    """

    end: str
    angle_deg: float
    flat_mm: float
    diameter_mm: float
    length_mm: float
    flank_mm: float
    radial_mm: float
    heights: tuple[tuple[float, float], ...]
    gauges: tuple[tuple[float, float], ...]
    steps: tuple[StepRow, ...]
    relief: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class CountersinkSetup:
    """A countersink.

    Attributes:
        end: "front" or "rear", or "tip 2" of a tip that screws into the plunger.
        angle_deg: Included angle.
        mouth_mm: Diameter at the face.
        pilot_mm: Diameter of the pilot hole.
        cone_mm: Depth of the cone along the axis, from the edge of the pilot hole.
        flank_mm: Travel of the compound slide from mouth to pilot.
        radial_mm: What the cross-slide moves by, from the edge of the pilot hole to the mouth.
        drill_mm: Depth of the pilot drill to its full diameter, from the face.
        drill_tip_mm: The same to its tip.
        ball_mm: Ball that rests on the flank; 0 if none does.
        stays: Whether that is the ball which is bonded in for good.
        heights: Mouth, and how far the ball then stands out, the wanted one in the middle.
    """

    end: str
    angle_deg: float
    mouth_mm: float
    pilot_mm: float
    cone_mm: float
    flank_mm: float
    radial_mm: float
    drill_mm: float
    drill_tip_mm: float
    ball_mm: float
    stays: bool
    heights: tuple[tuple[float, float], ...]


TipSetup = PointSetup | CountersinkSetup


def tip_setups(tool: Tool, *, inch: bool) -> tuple[TipSetup, ...]:
    """Return the ends of the plunger that have a cone, front end first, or its screwed tips."""
    p = tool.parameters
    named = list(zip(("front", "rear"), parts.plunger_ends(p), strict=True))
    if tool.tips:
        named = [(f"tip {n}", end) for n, end in enumerate(screwed.tip_ends(p), 1)]
    made = (tip_setup(name, end, inch=inch) for name, end in named)
    return tuple(each for each in made if each is not None)


def tip_setup(name: str, end: End, *, inch: bool) -> TipSetup | None:
    """Return the numbers of one end; None for a plain one, or one that is no cone."""
    if end.point and end.point.flat_mm < end.diameter_mm:
        return _point(name, end, end.point, inch=inch)
    if end.hollow and end.hollow.pilot_mm < end.hollow.mouth_mm <= end.diameter_mm:
        return _countersink(name, end, end.hollow, inch=inch)
    return None


def _point(name: str, end: End, tip: ConeTip, *, inch: bool) -> PointSetup:
    size_mm, flat_mm = end.diameter_mm, tip.flat_mm
    flank = Segment(Corner(0.0, flat_mm / 2), Corner(end.point_mm, size_mm / 2, "point"))
    heights = tuple(
        (
            height_mm,
            flat_mm
            + taper_errors.by_tool_height_mm(
                height_mm=height_mm, small_mm=flat_mm, large_mm=size_mm
            ),
        )
        for height_mm in HEIGHTS_MM
        if height_mm < size_mm / 2
    )
    return PointSetup(
        end=name,
        angle_deg=tip.angle_deg,
        flat_mm=flat_mm,
        diameter_mm=size_mm,
        length_mm=end.point_mm,
        flank_mm=cone.flank_length_mm(large_mm=size_mm, small_mm=flat_mm, angle_deg=tip.angle_deg),
        radial_mm=(size_mm - flat_mm) / 2,
        heights=heights,
        gauges=tuple(_gauges(size_mm, tip, inch=inch)),
        steps=step_table(
            flank,
            datum_mm=0.0,
            step_mm=STEP_IN * MM_PER_INCH if inch else STEP_MM,
            rough_allowance_mm=0.0,
        ),
        relief=(end.relief.relief_mm, end.relief_length_mm) if end.relief else None,
    )


def _gauges(size_mm: float, tip: ConeTip, *, inch: bool) -> list[tuple[float, float]]:
    """Return two reamed holes of usual sizes that the point enters, and how far."""
    unit = MM_PER_INCH / 16 if inch else 1.0
    holes = [int(share * size_mm / unit) * unit for share in GAUGE_SHARES]
    return [
        (
            hole_mm,
            cone.overlap_mm(circle_mm=hole_mm, flat_mm=tip.flat_mm, angle_deg=tip.angle_deg),
        )
        for hole_mm in dict.fromkeys(holes)
        if hole_mm > tip.flat_mm
    ]


def _countersink(name: str, end: End, tip: SunkTip, *, inch: bool) -> CountersinkSetup:
    ball_mm = end.ball_mm or ball_for_mm(tip.mouth_mm, tip.pilot_mm, tip.angle_deg, inch=inch)
    mouths = [tip.mouth_mm + step * MOUTH_MM for step in (-1, 0, 1)] if ball_mm else []
    return CountersinkSetup(
        end=name,
        angle_deg=tip.angle_deg,
        mouth_mm=tip.mouth_mm,
        pilot_mm=tip.pilot_mm,
        cone_mm=end.cone_mm,
        flank_mm=cone.flank_length_mm(
            large_mm=tip.mouth_mm, small_mm=tip.pilot_mm, angle_deg=tip.angle_deg
        ),
        radial_mm=(tip.mouth_mm - tip.pilot_mm) / 2,
        drill_mm=end.pilot_mm,
        drill_tip_mm=end.pilot_mm
        + cone.drill_point_mm(diameter_mm=tip.pilot_mm, angle_deg=DRILL_POINT_DEG),
        ball_mm=ball_mm,
        stays=end.ball_mm > 0,
        heights=tuple(
            (
                mouth_mm,
                cone.ball_rest_mm(
                    ball_mm=ball_mm, mouth_mm=mouth_mm, pilot_mm=0.0, angle_deg=tip.angle_deg
                )[1],
            )
            for mouth_mm in mouths
        ),
    )


def ball_for_mm(mouth_mm: float, pilot_mm: float, angle_deg: float, *, inch: bool) -> float:
    """Return the largest usual ball that rests on the flank of a countersink; 0 if none does."""
    fitting = resting_balls(pilot_mm + 2 * RIM_MM, mouth_mm - 2 * RIM_MM, angle_deg, inch=inch)
    return fitting[-1][0] if fitting else 0.0
