"""Checks of each tap: whether an end of the plunger serves its end, and whether it fits under."""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, radians, tan

from generator.checks.advice import further_out, width_key
from generator.checks.finding import Finding, down_to, up_to
from generator.formulas import setting
from generator.inputs.quantities import is_derived
from generator.inputs.shop import FollowedTap
from generator.inputs.tables import ConeTip
from generator.model.shank import shank_of
from generator.model.tips import End
from generator.model.tool import Orientation, Tool
from generator.standards.limits import NONE
from generator.use.seats import (
    CENTRE_PILOT_DEPTH,
    CENTRE_PILOT_SHARE,
    TAP_POINT_DEG,
    Seat,
    circle_mm,
    seats,
)


def seating(tool: Tool) -> Iterator[Finding]:
    """Check that every tap's end finds its cone.

    Where the user did not say what the end looks like, each form the standard allows is checked,
    and one that does not seat warns: look at the tap. A tap fails when none of its forms seats,
    unless an end is left to be finished to suit it.
    """
    found = tuple(seats(tool))
    open_ends = [o for o in tool.ways if o.outer.stock_mm > 0]
    for seat in found:
        mates = [other for other in found if other.tap is seat.tap]
        certain = bool(seat.tap.end) or all(other.margin_mm < 0 for other in mates)
        limit = tool.limit(
            "tap seats",
            warn=seat.need_mm,
            fail=0.0 if certain and seat.end != "none" and not open_ends else NONE,
        )
        advice = _seat_advice(tool, seat, limit.passes)
        if open_ends and seat.orientation is None:
            advice = f"{advice}, or finish the blank end to suit the tap"
        yield Finding(limit, seat.margin_mm, advice, subject=seat.label)
        yield from _details(tool, seat)


def _seat_advice(tool: Tool, seat: Seat, need_mm: float) -> str:
    tap, wide = seat.key, width_key(tool)
    looked = "" if seat.tap.end else f"look at the tap and set {tap}.end; "
    if seat.end == "none":
        return f'follow it by a wrench with a centre in its back, and set {tap}.end to "centre"'
    if seat.orientation is None:
        need = "point" if seat.end == "centre" else "countersink"
        where = (
            "plunger.front or plunger.rear" if not tool.tips else "one of [[screwed_tips.spare]]"
        )
        return f'{looked}give {where} the style "{need}"'
    outer, side = seat.orientation.outer, seat.orientation.table
    if outer.sink is not None:
        return looked + _sink_advice(seat, outer, side, need_mm, wide)
    if outer.ball_mm:
        return looked + _ball_advice(seat, outer, side, need_mm)
    assert outer.point is not None
    return looked + _point_advice(seat, outer.point, outer.diameter_mm, side, need_mm, wide)


def _sink_advice(seat: Seat, end: End, side: str, need_mm: float, wide: str) -> str:
    tip = end.sink
    assert tip is not None
    circle = circle_mm(seat.tap, seat.row, seat.end)
    mouth_mm, pilot_mm = circle + need_mm, circle - need_mm
    if seat.end == "point":
        mouth_mm, pilot_mm = tip.mouth_mm, min(tip.mouth_mm, circle) - need_mm
    if pilot_mm < 0.001:
        return f"measure {seat.key}.end_mm: this end is too small for a countersink"
    if mouth_mm > end.diameter_mm:
        return f"take a {wide} over {up_to(mouth_mm)}"
    wider = [f"raise {side}.mouth_mm to {up_to(mouth_mm)}"] * (tip.mouth_mm < mouth_mm)
    finer = [f"lower {side}.pilot_mm to {down_to(pilot_mm)}"] * (tip.pilot_mm > pilot_mm)
    return " and ".join([*wider, *finer])


def _ball_advice(seat: Seat, end: End, side: str, need_mm: float) -> str:
    half = cos(radians(TAP_POINT_DEG / 2))
    wide_mm = CENTRE_PILOT_SHARE * seat.row.shank_mm + need_mm
    if end.ball_mm * half < wide_mm:
        return f"take a {side}.ball_mm of {up_to(wide_mm / half)}"
    return f"it takes a centre with a mouth ({seat.key}.end_mm) of {up_to(wide_mm)}"


def _point_advice(
    seat: Seat, tip: ConeTip, diameter_mm: float, side: str, need_mm: float, wide: str
) -> str:
    circle = circle_mm(seat.tap, seat.row, seat.end)
    most_mm, pilot_mm = min(circle, diameter_mm), CENTRE_PILOT_SHARE * seat.row.shank_mm
    if tip.flat_mm > most_mm - need_mm >= pilot_mm:
        return f"lower {side}.flat_mm to {down_to(most_mm - need_mm)}"
    mouth_mm = max(tip.flat_mm, pilot_mm) + need_mm
    if mouth_mm > diameter_mm:
        return f"take a {wide} over {up_to(mouth_mm)}"
    return f"it takes a centre with a mouth ({seat.key}.end_mm) of {up_to(mouth_mm)}"


def _details(tool: Tool, seat: Seat) -> Iterator[Finding]:
    """Check edge contact of a point, and bottoming of a tap's point in the pilot."""
    if seat.orientation is None:
        return
    end = seat.orientation.outer
    if end.point is not None:
        wide = tool.limit("plunger wider than the tap's centre")
        circle = circle_mm(seat.tap, seat.row, seat.end)
        yield Finding(
            wide,
            end.diameter_mm - circle,
            f"a {width_key(tool)} of {up_to(circle + wide.passes)} serves it",
            subject=seat.label,
        )
        yield _point_in_centre(tool, seat, end.point)
    if end.relief is not None and seat.serves:
        hold = tool.limit("hold toward the relieved side")
        off_mm = end.relief.relief_mm * hold.passes / seat.hold_share
        yield Finding(
            hold,
            seat.hold_share,
            f"raise {seat.orientation.table}.relief_mm to {up_to(off_mm)}",
            subject=seat.label,
        )
    if end.ball_mm and seat.serves:
        yield _face_clear(tool, seat, end)
    if seat.end == "point" and end.sink is not None:
        deep = tool.limit("tip of the tap clear of the pilot")
        lacks_mm = deep.passes - seat.tip_clearance_mm
        yield Finding(
            deep,
            seat.tip_clearance_mm,
            f"raise {seat.orientation.table}.pilot_depth_mm to "
            f"{up_to(end.sink.pilot_depth_mm + lacks_mm)}",
            subject=seat.label,
        )


def _face_clear(tool: Tool, seat: Seat, end: End) -> Finding:
    """Check that the face round a ball does not meet the tap."""
    assert seat.orientation is not None
    assert end.hollow is not None
    clear = tool.limit("face of the plunger clear of the tap")
    slope = 2 * tan(radians(end.hollow.angle_deg / 2))
    mouth_mm = end.hollow.mouth_mm - slope * (clear.passes + seat.overlap_mm)
    side = seat.orientation.table
    return Finding(
        clear,
        -seat.overlap_mm,
        f"lower {side}.mouth_mm to {down_to(mouth_mm)}, so that the ball stands out further"
        if mouth_mm > end.ball_circle_mm
        else f"take a larger {side}.ball_mm",
        subject=seat.label,
    )


def _point_in_centre(tool: Tool, seat: Seat, tip: ConeTip) -> Finding:
    """Check that the plunger's tip does not reach the bottom of the centre's pilot."""
    assert seat.orientation is not None
    limit = tool.limit("tip clear of the bottom of the tap's centre")
    slope, pilot_mm = tan(radians(tip.angle_deg / 2)), CENTRE_PILOT_SHARE * seat.row.shank_mm
    flat_mm = pilot_mm - 2 * slope * (CENTRE_PILOT_DEPTH * pilot_mm - limit.passes)
    side = seat.orientation.table
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
            stand_out_mm=shank_of(p.mount).out_mm,
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
    for seat in seats(tool):
        if seat.orientation is None or seat.tap.hidden_mm == 0:
            continue
        o, reach = seat.orientation, tool.limit("plunger reaches the hidden end")
        value_mm = o.projection_compressed_mm - o.before_mm - seat.tap.hidden_mm - seat.overlap_mm
        lacks_mm = reach.passes - value_mm
        ways = [further_out(tool, lacks_mm)]
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
