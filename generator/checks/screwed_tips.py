"""Checks of tips that screw into the stem: their joint, each tip, and how they are changed."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.advice import further_out
from generator.checks.finding import Finding, down_to, up_to
from generator.inputs.screwed_tips import ScrewedTips
from generator.model import screwed
from generator.model.tool import Tool
from generator.use.seats import side_push_N

AHEAD = "thread ahead of the tip's stud"


def thread(tool: Tool) -> Iterator[Finding]:
    """Check how far stud and stem hold each other, and that the stud does not bottom first."""
    tips = tool.parameters.screwed_tips
    if tips is None:
        return
    major_mm = screwed.row_of(tips).major_mm
    holds, ahead = tool.limit("thread of the tip in the stem"), tool.limit(AHEAD)
    long_mm = screwed.stud_for_mm(tips, holds.passes * major_mm)
    deep_mm = tips.register_length_mm + max(long_mm, tips.stud_mm) + max(0.0, ahead.passes)
    ways = []
    if tips.stud_mm < long_mm:
        ways.append(f"raise screwed_tips.stud_mm to {up_to(long_mm)}")
    if "screwed_tips.tapped_mm" not in tool.derived and tips.tapped_mm < deep_mm:
        ways.append(f"raise screwed_tips.tapped_mm to {up_to(deep_mm)}")
    yield Finding(holds, screwed.engaged_mm(tips) / major_mm, " and ".join(ways))
    yield Finding(
        ahead,
        tips.tapped_mm - screwed.stud_deep_mm(tips),
        f"raise screwed_tips.tapped_mm to {up_to(screwed.stud_deep_mm(tips) + ahead.passes)}",
    )
    behind = tool.limit("metal behind the tip's hole")
    assert tool.parameters.shoulder is not None  # the rules ask for it
    s = tool.parameters.shoulder
    left_mm = s.stem_mm + s.head_length_mm - screwed.hole_end_mm(tips)
    less_mm = tips.tapped_mm - behind.passes + left_mm
    shorter = (
        f"lower screwed_tips.tapped_mm to {down_to(less_mm)} and screwed_tips.stud_mm by as much, "
        "or "
        if less_mm > screwed.register_deep_mm(tips)
        else ""
    )
    yield Finding(
        behind,
        left_mm,
        f"{shorter}raise shoulder.stem_mm to {up_to(s.stem_mm + behind.passes - left_mm)}",
    )


def register(tool: Tool) -> Iterator[Finding]:
    """Check the register, the metal round it and the face that squares the tip."""
    p, tips = tool.parameters, tool.parameters.screwed_tips
    if tips is None:
        return
    row, thin_mm = screwed.row_of(tips), screwed.thin_mm(p, tips)
    long = tool.limit("length of the tip's register")
    yield Finding(
        long,
        tips.register_length_mm / tips.register_mm,
        f"raise screwed_tips.register_length_mm to {up_to(long.passes * tips.register_mm)}",
    )
    passes = tool.limit("register over the tip's thread")
    yield Finding(
        passes,
        (tips.register_mm - row.major_mm) / 2,
        f"raise screwed_tips.register_mm to {up_to(row.major_mm + 2 * passes.passes)}",
    )
    wall = tool.limit("wall of the stem round the tip's register")
    wide_mm = thin_mm - 2 * wall.passes
    thicker = _thicker(tool, tips, tips.register_mm + 2 * wall.passes)
    yield Finding(
        wall,
        (thin_mm - tips.register_mm) / 2,
        f"lower screwed_tips.register_mm to {down_to(wide_mm)}"
        if wide_mm > row.major_mm + 2 * passes.passes
        else f"take a finer screwed_tips.thread, or {thicker}",
    )
    seat = tool.limit("seat of the tip on the stem")
    edge_mm = tips.edge_mm
    seat_mm = (thin_mm - tips.register_mm) / 2 - edge_mm
    less_mm = edge_mm - (seat.passes - seat_mm)
    yield Finding(
        seat,
        seat_mm,
        f"lower screwed_tips.edge_mm to {down_to(less_mm)}"
        if less_mm >= 0
        else f"take a finer screwed_tips.thread, or "
        f"{_thicker(tool, tips, tips.register_mm + 2 * (seat.passes + edge_mm))}",
    )


def _thicker(tool: Tool, tips: ScrewedTips, wide_mm: float) -> str:
    """Return what makes the joint so wide."""
    p = tool.parameters
    wants = {
        "screwed_tips.flats_mm": tips.flats_mm,
        "screwed_tips.diameter_mm": tips.diameter_mm,
        "plunger.diameter_mm": p.plunger.diameter_mm,
    }
    return " and ".join(
        f"raise {key} to {up_to(wide_mm)}" for key, size_mm in wants.items() if size_mm < wide_mm
    )


def tips(tool: Tool) -> Iterator[Finding]:
    """Check each tip: what its working end leaves of it, and how it stands up to a push."""
    asked = tool.parameters.screwed_tips
    if asked is None:
        return
    hollow = tool.limit("metal behind the hollow of a tip")
    whole = tool.limit("round metal before the flats of a tip")
    for n, end in enumerate(screwed.tip_ends(tool.parameters), 1):
        for limit, left_mm in (
            (hollow, asked.length_mm - end.inner_mm),
            (whole, asked.length_mm - end.outer_mm - asked.flats_length_mm),
        ):
            longer_mm = asked.length_mm + limit.passes - left_mm
            yield Finding(
                limit,
                left_mm,
                f"raise screwed_tips.length_mm to {up_to(longer_mm)}",
                subject=f"tip {n}",
            )
    bends = tool.limit("bending of the tip's stud")
    stress_MPa = screwed.stud_bending_MPa(asked, side_push_N(tool))
    short_mm = asked.length_mm * bends.passes / stress_MPa if stress_MPa > 0 else 0.0
    yield Finding(
        bends,
        stress_MPa,
        f"take a thicker screwed_tips.thread, softer [[springs]], or lower screwed_tips.length_mm "
        f"to {down_to(short_mm)}"
        if short_mm > asked.flats_length_mm
        else "take a thicker screwed_tips.thread, or softer [[springs]]",
    )


def changing(tool: Tool) -> Iterator[Finding]:
    """Check that both pairs of flats are in reach and hold a spanner, and what locks the tip."""
    p, asked = tool.parameters, tool.parameters.screwed_tips
    if asked is None:
        return
    proud, reach = (
        tool.limit("screwed tip clear of the nose"),
        tool.limit("flats of the stem in reach"),
    )
    for o in tool.orientations[:1]:
        out_mm = o.projection_compressed_mm - o.before_mm - asked.length_mm
        yield Finding(proud, out_mm, further_out(tool, proud.passes - out_mm))
        joint_mm = o.projection_extended_mm - o.before_mm - asked.length_mm
        bare_mm = joint_mm - asked.flats_length_mm
        yield Finding(reach, bare_mm, further_out(tool, reach.passes - bare_mm))
    holds = tool.limit("width of the spanner flats")
    thinner_mm = min(p.plunger.diameter_mm, asked.diameter_mm)
    across_mm = screwed.flat_width_mm(thinner_mm, holds.passes)
    yield Finding(
        holds,
        screwed.flat_width_mm(thinner_mm, asked.flats_mm),
        f"lower screwed_tips.flats_mm to {down_to(across_mm)}",
    )
    locked = tool.limit("screwed tip locked")
    yield Finding(
        locked,
        float(asked.locking != "none"),
        'set screwed_tips.locking to "threadlocker"; until then try it by hand before each hole',
    )
