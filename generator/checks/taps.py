"""Checks of each tap: whether an end of the plunger serves its end, and whether it fits under."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians, tan

from generator.checks.finding import Finding, down_to, up_to
from generator.formulas import setting
from generator.inputs.quantities import is_derived
from generator.inputs.shop import FollowedTap
from generator.inputs.tables import CountersinkTip, PointTip
from generator.model import parts
from generator.model.tool import Orientation, Tool
from generator.standards.limits import NONE
from generator.use.seats import (
    CENTRE_PILOT_DEPTH,
    CENTRE_PILOT_SHARE,
    Seat,
    circle_mm,
    seats,
)


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
        advice = _seat_advice(seat, limit.passes)
        yield Finding(limit, seat.margin_mm, advice, subject=seat.label)
        yield from _details(tool, seat)


def _seat_advice(seat: Seat, need_mm: float) -> str:
    tap = seat.key
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
    if isinstance(end.tip, PointTip):
        yield _point_in_centre(tool, seat, end.tip)
    if seat.end == "point" and isinstance(end.tip, CountersinkTip):
        deep = tool.limit("tip of the tap clear of the pilot")
        lacks_mm = deep.passes - seat.tip_clearance_mm
        yield Finding(
            deep,
            seat.tip_clearance_mm,
            f"raise {_side(seat.orientation)}.pilot_depth_mm to "
            f"{up_to(end.tip.pilot_depth_mm + lacks_mm)}",
            subject=seat.label,
        )


def _point_in_centre(tool: Tool, seat: Seat, tip: PointTip) -> Finding:
    """Check that the plunger's tip does not reach the bottom of the centre's pilot."""
    assert seat.orientation is not None
    limit = tool.limit("tip clear of the bottom of the tap's centre")
    slope, pilot_mm = tan(radians(tip.angle_deg / 2)), CENTRE_PILOT_SHARE * seat.row.shank_mm
    flat_mm = pilot_mm - 2 * slope * (CENTRE_PILOT_DEPTH * pilot_mm - limit.passes)
    side = _side(seat.orientation)
    advice = f"make {side}.angle_deg at least 60"
    if 0 <= flat_mm <= pilot_mm:
        advice = f"raise {side}.flat_mm to {up_to(flat_mm)}"
    return Finding(limit, seat.tip_clearance_mm, advice, subject=seat.label)


def headroom(tool: Tool) -> Iterator[Finding]:
    """Check that tool, wrench and tap fit between spindle and work, plunger pushed home."""
    p = tool.parameters
    tallest: dict[FollowedTap, tuple[float, Seat, Orientation]] = {}
    for seat in seats(tool):
        if seat.orientation is None:
            continue
        o = seat.orientation
        need_mm = setting.spindle_gap_mm(
            stand_out_mm=parts.stand_out_mm(p),
            nose_mm=p.body.nose_length_mm,
            projection_mm=o.projection_compressed_mm,
            tap_mm=seat.row.overall_mm + seat.tap.wrench_height_mm,
            overlap_mm=seat.overlap_mm,
            entry_mm=0.0,
        )
        former = tallest.get(seat.tap)
        if former is None or need_mm > former[0]:
            tallest[seat.tap] = need_mm, seat, o
    for need_mm, seat, o in tallest.values():
        limit = tool.limit("headroom", warn=o.travel_mm)
        yield Finding(
            limit,
            p.machine.headroom_mm - need_mm,
            f"a machine.headroom_mm of {up_to(need_mm + limit.passes)} is comfortable; "
            "shorten body.nose_length_mm or take a shorter tap",
            subject=seat.name,
        )


def hidden_end(tool: Tool) -> Iterator[Finding]:
    """Check that the plunger reaches an end that lies below the back of the wrench."""
    position_mm = tool.parameters.set_screw.position_mm
    for seat in seats(tool):
        if seat.orientation is None or seat.tap.hidden_mm == 0:
            continue
        o, reach = seat.orientation, tool.limit("plunger reaches the hidden end")
        value_mm = o.projection_compressed_mm - seat.tap.hidden_mm - seat.overlap_mm
        lacks_mm = reach.passes - value_mm
        ways = [
            f"lengthen the plunger (plunger.length_mm) in front of the slot by {up_to(lacks_mm)}"
        ]
        if position_mm - lacks_mm >= 0.001:
            ways.append(f"lower set_screw.position_mm to {down_to(position_mm - lacks_mm)}")
        if seat.tap.hidden_mm - lacks_mm >= 0.001:
            hidden = down_to(seat.tap.hidden_mm - lacks_mm)
            ways.append(f"let the tap stand higher in the wrench, {seat.key}.hidden_mm of {hidden}")
        yield Finding(reach, value_mm, ", or ".join(ways), subject=seat.label)
        if not is_derived(seat.tap.opening_mm):
            enters, wide_mm = tool.limit("plunger in the wrench's opening"), o.outer.diameter_mm
            yield Finding(
                enters,
                seat.tap.opening_mm - wide_mm,
                f"bore the wrench to a {seat.key}.opening_mm of {up_to(wide_mm + enters.passes)}, "
                f"or follow a centre in its back ({seat.key}.wrench_height_mm)",
                subject=seat.label,
            )
