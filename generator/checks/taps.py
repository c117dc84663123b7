"""Checks of each tap: whether an end of the plunger serves its end, and whether it fits under."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians, tan

from generator.checks.finding import Finding
from generator.inputs.parameters import CountersinkTip, FollowedTap, PointTip, StraightMount
from generator.inputs.quantities import is_derived
from generator.model import parts
from generator.model.tool import Orientation, Tool
from generator.standards.limits import NONE
from generator.standards.rows import Tap
from generator.units import shown

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
        yield Finding(limit, seat.margin_mm, _seat_advice(tool, seat), subject=seat.label)
        yield from _details(tool, seat)


def _seat_advice(tool: Tool, seat: Seat) -> str:
    circle = circle_mm(seat.tap, seat.row, seat.end)
    looked = "" if seat.tap.end else "look at the tap and set taps.end; "
    if seat.end == "none":
        return "follow it by a wrench that has a centre in its back"
    if seat.orientation is None:
        need = "point" if seat.end == "centre" else "countersink"
        return f'{looked}give plunger.front or plunger.rear the style "{need}"'
    if seat.end == "bevel":
        return f"{looked}a countersink mouth_mm of {shown(circle + BEVEL_SPARE_MM, 'mm')} serves it"
    if seat.end == "point":
        return f"{looked}a pilot_mm of {shown(circle - BAND_MM, 'mm')} or less serves it"
    return f"{looked}a taps.end_mm of {shown(circle + BAND_MM - seat.margin_mm, 'mm')} is needed"


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
            f"a plunger.diameter_mm of {shown(circle + wide.warn, 'mm')} serves it",
            subject=seat.label,
        )
    if seat.end == "point" and isinstance(end.tip, CountersinkTip):
        reach_mm = end.tip.pilot_mm / 2 / tan(radians(TAP_POINT_DEG / 2))
        yield Finding(
            tool.limit("tip of the tap clear of the pilot"),
            end.tip.pilot_depth_mm - reach_mm,
            f"raise pilot_depth_mm to {shown(reach_mm, 'mm')}",
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
        yield Finding(
            tool.limit("headroom", warn=o.travel_mm),
            p.machine.headroom_mm - need_mm,
            f"a machine.headroom_mm of {shown(need_mm + o.travel_mm, 'mm')} is comfortable; "
            "shorten body.nose_length_mm or take a shorter tap",
            subject=f"{seat.tap.size} {seat.tap.standard}",
        )
