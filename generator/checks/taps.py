"""Checks of each tap: whether an end of the plunger serves its end, and whether it fits under."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, tan

from generator.checks.finding import Finding, down_to, up_to
from generator.inputs.quantities import is_derived
from generator.inputs.shop import FollowedTap
from generator.inputs.tables import CountersinkTip, PointTip, StraightMount
from generator.model import parts
from generator.model.tool import Orientation, Tool
from generator.standards.limits import NONE
from generator.standards.rows import Tap

BAND_MM = 1.0
BEVEL_SPARE_MM = 0.5
CENTRE_MOUTH_SHARE = 0.42
CENTRE_PILOT_SHARE = 0.2
BEVEL_CIRCLE_SHARE = 0.9
TAP_POINT_DEG = 60.0


@dataclass(frozen=True, slots=True)
class Seat:
    """How one end of the plunger takes one form of tap end.

    Attributes:
        tap: The tap asked for.
        row: Its row in the table.
        end: The form of its square end.
        orientation: The orientation that serves it; None if no end does.
        margin_mm: Width of the contact on the diameter, or the mouth over the bevel's circle.
        need_mm: What that should be.
        overlap_mm: How far tap and plunger reach into each other, for the headroom.
    """

    tap: FollowedTap
    row: Tap
    end: str
    orientation: Orientation | None
    margin_mm: float
    need_mm: float
    overlap_mm: float

    @property
    def label(self) -> str:
        """The tap and its end in words."""
        return f"{self.tap.size} {self.tap.standard} with {self.end}"


def circle_mm(tap: FollowedTap, row: Tap, end: str) -> float:
    """Return the circle that the tap's end offers: measured, or a share of the shank.

    The shares are from memory, unverified: a centre's mouth 0.42 of the shank, a bevel's small
    circle 0.9 of it, a point's base the whole of it.
    """
    if not is_derived(tap.end_mm):
        return tap.end_mm
    shares = {"centre": CENTRE_MOUTH_SHARE, "bevel": BEVEL_CIRCLE_SHARE}
    return row.shank_mm * shares.get(end, 1.0)


def seats(tool: Tool) -> Iterator[Seat]:
    """Yield for every tap, and every form its end may have, the end of the plunger that serves."""
    for tap in tool.parameters.taps:
        row = Tap.find(f"{tap.standard} {tap.size}")
        for end in (tap.end,) if tap.end else row.shank_ends:
            offers = [_seat(tap, row, end, o) for o in tool.orientations]
            fitting = [seat for seat in offers if seat is not None]
            if fitting:
                yield max(fitting, key=lambda seat: seat.margin_mm)
            else:
                yield Seat(tap, row, end, None, -row.shank_mm, 0.0, 0.0)


def _seat(tap: FollowedTap, row: Tap, end: str, o: Orientation) -> Seat | None:
    """Return how one orientation takes a tap's end; None if its form cannot."""
    tip, circle = o.outer.tip, circle_mm(tap, row, end)
    if end == "centre" and isinstance(tip, PointTip):
        inner = max(tip.flat_mm, CENTRE_PILOT_SHARE * row.shank_mm)
        band = min(circle, o.outer.diameter_mm) - inner
        overlap = (circle - tip.flat_mm) / 2 / tan(radians(tip.angle_deg / 2))
        return Seat(tap, row, end, o, band, BAND_MM, max(0.0, overlap))
    if end == "point" and isinstance(tip, CountersinkTip):
        return Seat(tap, row, end, o, min(tip.mouth_mm, circle) - tip.pilot_mm, BAND_MM, 0.0)
    if end == "bevel" and isinstance(tip, CountersinkTip):
        spare = min(tip.mouth_mm - circle, circle - tip.pilot_mm)
        return Seat(tap, row, end, o, spare, BEVEL_SPARE_MM, 0.0)
    return None


def seating(tool: Tool) -> Iterator[Finding]:
    """Check that every tap's end finds its cone.

    Where the user did not say what the end looks like, each form the standard allows is checked,
    and one that does not seat warns: look at the tap. A tap fails when none of its forms seats.
    """
    found = tuple(seats(tool))
    for seat in found:
        mates = [other for other in found if other.tap is seat.tap]
        certain = bool(seat.tap.end) or all(other.margin_mm < 0 for other in mates)
        limit = tool.limit(
            "tap seats",
            warn=seat.need_mm,
            fail=0.0 if certain and seat.end != "none" else NONE,
        )
        advice = _seat_advice(tool, seat, limit.passes)
        yield Finding(limit, seat.margin_mm, advice, subject=seat.label)
        yield from _details(tool, seat)


def _seat_advice(tool: Tool, seat: Seat, need_mm: float) -> str:
    tap = f"taps[{tool.parameters.taps.index(seat.tap) + 1}]"
    looked = "" if seat.tap.end else f"look at the tap and set {tap}.end; "
    if seat.end == "none":
        return f'follow it by a wrench with a centre in its back, and set {tap}.end to "centre"'
    if seat.orientation is None:
        need = "point" if seat.end == "centre" else "countersink"
        return f'{looked}give plunger.front or plunger.rear the style "{need}"'
    circle = circle_mm(seat.tap, seat.row, seat.end)
    tip, diameter_mm = seat.orientation.outer.tip, seat.orientation.outer.diameter_mm
    side = _side(seat.orientation)
    if isinstance(tip, CountersinkTip):
        mouth_mm, pilot_mm = circle + need_mm, circle - need_mm
        if seat.end == "point":
            mouth_mm, pilot_mm = tip.mouth_mm, min(tip.mouth_mm, circle) - need_mm
        if pilot_mm < 0.001:
            return f"{looked}measure {tap}.end_mm: this end is too small for a countersink"
        if mouth_mm > diameter_mm:
            return f"{looked}take a plunger.diameter_mm over {up_to(mouth_mm)}"
        wider = [f"raise {side}.mouth_mm to {up_to(mouth_mm)}"] * (tip.mouth_mm < mouth_mm)
        finer = [f"lower {side}.pilot_mm to {down_to(pilot_mm)}"] * (tip.pilot_mm > pilot_mm)
        return looked + " and ".join([*wider, *finer])
    assert isinstance(tip, PointTip)
    most_mm, pilot_mm = min(circle, diameter_mm), CENTRE_PILOT_SHARE * seat.row.shank_mm
    if tip.flat_mm > most_mm - need_mm >= pilot_mm:
        return f"{looked}lower {side}.flat_mm to {down_to(most_mm - need_mm)}"
    mouth_mm = max(tip.flat_mm, pilot_mm) + need_mm
    if mouth_mm > diameter_mm:
        return f"{looked}take a plunger.diameter_mm over {up_to(mouth_mm)}"
    return f"{looked}it takes a centre with a mouth ({tap}.end_mm) of {up_to(mouth_mm)}"


def _side(o: Orientation) -> str:
    """Return the table of the end at work."""
    return "plunger.front" if o.which == "as drawn" else "plunger.rear"


def _details(tool: Tool, seat: Seat) -> Iterator[Finding]:
    """Check edge contact of a point, and bottoming of a tap's point in the pilot."""
    if seat.orientation is None:
        return
    end = seat.orientation.outer
    if seat.end == "centre":
        wide = tool.limit("plunger wider than the tap's centre")
        circle = circle_mm(seat.tap, seat.row, seat.end)
        yield Finding(
            wide,
            end.diameter_mm - circle,
            f"a plunger.diameter_mm of {up_to(circle + wide.passes)} serves it",
            subject=seat.label,
        )
    if seat.end == "point" and isinstance(end.tip, CountersinkTip):
        reach_mm = end.tip.pilot_mm / 2 / tan(radians(TAP_POINT_DEG / 2))
        deep = tool.limit("tip of the tap clear of the pilot")
        depth_mm = reach_mm + deep.passes
        yield Finding(
            deep,
            end.tip.pilot_depth_mm - reach_mm,
            f"raise {_side(seat.orientation)}.pilot_depth_mm to {up_to(depth_mm)}",
            subject=seat.label,
        )


def headroom(tool: Tool) -> Iterator[Finding]:
    """Check that tool and tap fit between spindle and work, plunger pushed home."""
    p = tool.parameters
    stand_out_mm = (
        0.0 if isinstance(p.mount, StraightMount) else parts.morse_taper(p.mount).projection_mm
    )
    done: set[FollowedTap] = set()
    for seat in seats(tool):
        if seat.orientation is None or seat.tap in done:
            continue
        done.add(seat.tap)
        o = seat.orientation
        need_mm = (
            stand_out_mm
            + p.body.nose_length_mm
            + o.projection_compressed_mm
            + seat.row.overall_mm
            - seat.overlap_mm
        )
        limit = tool.limit("headroom", warn=o.travel_mm)
        yield Finding(
            limit,
            p.machine.headroom_mm - need_mm,
            f"a machine.headroom_mm of {up_to(need_mm + limit.passes)} is comfortable; "
            "shorten body.nose_length_mm or take a shorter tap",
            subject=f"{seat.tap.size} {seat.tap.standard}",
        )
