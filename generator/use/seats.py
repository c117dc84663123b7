"""How each tap's end sits in or on an end of the plunger."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import nan, radians, tan
from typing import Final

from generator.formulas import cone
from generator.inputs.quantities import is_derived
from generator.inputs.shop import FollowedTap
from generator.inputs.tables import ConeTip, CountersinkTip
from generator.model.tool import Orientation, Tool
from generator.standards.rows import Tap

BAND_MM: Final = 1.0
BEVEL_SPARE_MM: Final = 0.5
BALL_SPARE_MM: Final = 0.3
"""How far outside the pilot's edge a ball bears, on the diameter; engineering judgement."""
TAP_POINT_DEG: Final = 60.0
"""Angle of a tap's point and centre; common practice, no source."""

CENTRE_MOUTH_SHARE: Final = 0.42
CENTRE_PILOT_SHARE: Final = 0.2
CENTRE_PILOT_DEPTH: Final = 0.87
"""Depth of a centre's pilot over its diameter, the least of ISO 866 type A; from memory."""

BEVEL_CIRCLE_SHARE: Final = 0.9


@dataclass(frozen=True, slots=True)
class Seat:
    """How one end of the plunger takes one form of tap end.

    Where tap and plunger have the same angle they touch on a band; its outer circle is taken for
    the one that bears, where drag is greatest.

    Attributes:
        tap: The tap asked for.
        name: What the tap is called, as no other of the file is.
        key: Its table in the parameter file: "taps[2]".
        row: Its row in the table.
        end: The form of its square end.
        orientation: The orientation that serves it; None if no end does.
        margin_mm: Width of the contact on the diameter, or the mouth over the bevel's circle.
        need_mm: What that should be.
        overlap_mm: How far tap and plunger reach into each other, for the headroom; negative where
            a point stands off on a smaller countersink.
        outer_mm: Outer diameter of the band.
        inner_mm: Inner diameter of the band.
        contact_mm: Diameter of the circle that bears.
        edge: Whether the edge of the plunger bears, not its cone.
        tip_clearance_mm: From the point that goes deepest to the bottom of the pilot it enters; NaN
            for a bevel, which has no point.
        hint: What a difference of the angles does; "" for none.
        angle_deg: Included angle of the cone on which they meet: where an edge bears on a cone,
            that cone; NaN if no end takes the tap.
        hold_share: What share of its hold a half centre keeps toward its relieved side; 1 of a
            whole seat.
    """

    tap: FollowedTap
    name: str
    key: str
    row: Tap
    end: str
    orientation: Orientation | None
    margin_mm: float
    need_mm: float
    overlap_mm: float = 0.0
    outer_mm: float = nan
    inner_mm: float = nan
    contact_mm: float = nan
    edge: bool = False
    tip_clearance_mm: float = nan
    hint: str = ""
    angle_deg: float = nan
    hold_share: float = 1.0

    @property
    def label(self) -> str:
        """The tap and its end in words."""
        return f"{self.name} with {self.end}"

    @property
    def band_mm(self) -> float:
        """Width of the band on the diameter."""
        return self.outer_mm - self.inner_mm

    @property
    def serves(self) -> bool:
        """Whether the tap's end sits at all."""
        return self.orientation is not None and self.margin_mm >= 0 and self.contact_mm > 0


def circle_mm(tap: FollowedTap, row: Tap, end: str) -> float:
    """Return the circle that the tap's end offers: measured, or a share of the shank.

    The shares are from memory, unverified: a centre's mouth 0.42 of the shank, a bevel's small
    circle 0.9 of it, a point's base the whole of it.
    """
    if not is_derived(tap.end_mm):
        return tap.end_mm
    shares = {"centre": CENTRE_MOUTH_SHARE, "bevel": BEVEL_CIRCLE_SHARE}
    return row.shank_mm * shares.get(end, 1.0)


def tap_names(tool: Tool) -> tuple[str, ...]:
    """Return what each tap of the file is called, with its place where two would share a name."""
    taps = tool.parameters.taps
    plain = [f"{tap.size} {tap.standard}" for tap in taps]
    return tuple(
        name if plain.count(name) == 1 else f"{name}, taps[{place}]"
        for place, name in enumerate(plain, 1)
    )


def seats(tool: Tool) -> Iterator[Seat]:
    """Yield for every tap, and every form its end may have, the end of the plunger that serves."""
    for place, (tap, name) in enumerate(zip(tool.parameters.taps, tap_names(tool), strict=True), 1):
        row = Tap.find(f"{tap.standard} {tap.size}")
        for end in _ends(tool, tap, f"taps[{place}].end", row):
            none = Seat(tap, name, f"taps[{place}]", row, end, None, -row.shank_mm, 0.0)
            offers = [_seat(none, o) for o in tool.ways]
            fitting = [seat for seat in offers if seat is not None]
            yield max(fitting, key=lambda seat: seat.margin_mm, default=none)


def _ends(tool: Tool, tap: FollowedTap, key: str, row: Tap) -> tuple[str, ...]:
    """Return the forms that the end may have; a wrench that is followed has a centre."""
    if tap.end and key not in tool.derived:
        return (tap.end,)
    if tap.wrench_height_mm > 0:
        return ("centre",)
    return row.shank_ends


def _seat(none: Seat, o: Orientation) -> Seat | None:
    """Return how one orientation takes a tap's end; None if its form cannot."""
    if none.end == "centre" and o.outer.point is not None:
        return _in_a_centre(none, o, o.outer.point)
    if none.end == "centre" and o.outer.ball_mm:
        return _ball_in_a_centre(none, o)
    if none.end in ("point", "bevel") and o.outer.sink is not None:
        return _in_a_countersink(none, o, o.outer.sink)
    return None


def _in_a_centre(none: Seat, o: Orientation, tip: ConeTip) -> Seat:
    circle = circle_mm(none.tap, none.row, none.end)
    pilot_mm = CENTRE_PILOT_SHARE * none.row.shank_mm
    outer_mm, inner_mm = min(circle, o.outer.diameter_mm), max(tip.flat_mm, pilot_mm)
    slope = tan(radians(tip.angle_deg / 2))
    sharper, blunter = tip.angle_deg < TAP_POINT_DEG, tip.angle_deg > TAP_POINT_DEG
    enters_mm = max(0.0, pilot_mm - tip.flat_mm) / 2 / slope
    by_flat, by_rim = sharper and tip.flat_mm > pilot_mm, blunter and o.outer.diameter_mm < circle
    return replace(
        none,
        orientation=o,
        margin_mm=outer_mm - inner_mm,
        need_mm=BAND_MM,
        overlap_mm=max(0.0, (circle - tip.flat_mm) / 2 / slope),
        outer_mm=outer_mm,
        inner_mm=inner_mm,
        contact_mm=inner_mm if sharper else outer_mm,
        edge=o.outer.diameter_mm < circle,
        tip_clearance_mm=CENTRE_PILOT_DEPTH * pilot_mm - enters_mm,
        hint="bears deep in the centre" * sharper + "bears on the mouth of the centre" * blunter,
        angle_deg=TAP_POINT_DEG if by_flat or by_rim else tip.angle_deg,
        hold_share=o.outer.hold_share(inner_mm if sharper else outer_mm),
    )


def _ball_in_a_centre(none: Seat, o: Orientation) -> Seat:
    """Return how a ball sits in a centre, or in a plain hole: on a circle, wherever it fits."""
    circle, ball_mm = circle_mm(none.tap, none.row, none.end), o.outer.ball_mm
    pilot_mm = min(CENTRE_PILOT_SHARE * none.row.shank_mm, circle)
    if pilot_mm >= ball_mm:
        return replace(none, orientation=o, margin_mm=ball_mm - pilot_mm, need_mm=BALL_SPARE_MM)
    contact_mm, height_mm = cone.ball_rest_mm(
        ball_mm=ball_mm, mouth_mm=circle, pilot_mm=pilot_mm, angle_deg=TAP_POINT_DEG
    )
    enters_mm, deep_mm = (
        ball_mm - height_mm,
        cone.overlap_mm(circle_mm=circle, flat_mm=pilot_mm, angle_deg=TAP_POINT_DEG),
    )
    flank_mm = cone.ball_circle_mm(ball_mm=ball_mm, angle_deg=TAP_POINT_DEG)
    where = "flank" if contact_mm == flank_mm else "mouth" if contact_mm == circle else "pilot"
    return replace(
        none,
        orientation=o,
        margin_mm=min(flank_mm, circle) - pilot_mm,
        need_mm=BALL_SPARE_MM,
        overlap_mm=enters_mm - o.outer.stands_mm,
        outer_mm=contact_mm,
        inner_mm=contact_mm,
        contact_mm=contact_mm,
        tip_clearance_mm=CENTRE_PILOT_DEPTH * pilot_mm - max(0.0, enters_mm - deep_mm),
        hint=f"the ball bears on the {where} of the centre",
        angle_deg=cone.tangent_deg(ball_mm=ball_mm, circle_mm=contact_mm),
    )


def _in_a_countersink(none: Seat, o: Orientation, tip: CountersinkTip) -> Seat:
    """Return how a countersink takes a point, or a bevel, whose angle nobody knows.

    A bevel of 60 degrees bears on a band from its small circle outward, a flatter one on the
    shank's edge or the countersink's mouth: the outer circle is the same.
    """
    circle = circle_mm(none.tap, none.row, none.end)
    seat = replace(
        none,
        orientation=o,
        margin_mm=min(tip.mouth_mm, circle) - tip.pilot_mm,
        need_mm=BAND_MM,
        overlap_mm=(tip.mouth_mm - circle) / 2 / tan(radians(tip.angle_deg / 2)),
        angle_deg=tip.angle_deg,
    )
    if none.end == "bevel":
        outer_mm = min(tip.mouth_mm, max(circle, none.row.shank_mm))
        spare_mm = min(tip.mouth_mm - circle, circle - tip.pilot_mm)
        return replace(
            seat,
            margin_mm=spare_mm,
            need_mm=BEVEL_SPARE_MM,
            outer_mm=outer_mm,
            inner_mm=min(circle, outer_mm),
            contact_mm=outer_mm,
        )
    outer_mm, flatter = min(tip.mouth_mm, circle), tip.angle_deg > TAP_POINT_DEG
    by_mouth = tip.angle_deg < TAP_POINT_DEG and tip.mouth_mm < circle
    deep_mm = cone.overlap_mm(circle_mm=tip.pilot_mm, flat_mm=0.0, angle_deg=TAP_POINT_DEG)
    return replace(
        seat,
        outer_mm=outer_mm,
        inner_mm=tip.pilot_mm,
        contact_mm=tip.pilot_mm if flatter else outer_mm,
        edge=tip.mouth_mm < circle,
        tip_clearance_mm=tip.pilot_depth_mm - deep_mm,
        hint="bears at the pilot" * flatter
        + "bears on the mouth of the countersink" * (tip.angle_deg < TAP_POINT_DEG),
        angle_deg=TAP_POINT_DEG if flatter or by_mouth else tip.angle_deg,
    )


def side_push_N(tool: Tool) -> float:
    """Return the push sideways at which a tap climbs off a cone of 60 degrees, plunger home.

    The force of the springs over the tangent of half the angle, friction left out. No tip can be
    pushed harder by a tap, since the plunger gives way. NaN if the springs would be crushed.
    """
    force_N = max((o.full_force_N for o in tool.orientations), default=0.0)
    return force_N / tan(radians(TAP_POINT_DEG / 2))
