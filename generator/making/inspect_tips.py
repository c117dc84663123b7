"""What is measured on the joint of screwed tips, on each tip, and on each once it is screwed in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from generator.inputs.parameters import Parameters
from generator.inputs.screwed_tips import ScrewedTips
from generator.inputs.tables import ConeTip, SunkTip
from generator.making.inspect_plunger import end_lines
from generator.making.line import Line, general, truth
from generator.making.sizes import Size
from generator.model import screwed
from generator.model.tips import End
from generator.model.tool import Tool
from generator.standards.bands import ToleranceZone
from generator.units import number
from generator.use.bands import Span

ALIKE_MM: Final = 0.05
"""How far the length of one tip may be off that of the others; engineering judgement."""


def joint_lines(p: Parameters) -> Iterator[Line]:
    """Yield what is measured on the stem's half of the joint."""
    tips = p.screwed_tips
    if tips is None:
        return
    row = screwed.row_of(tips)
    yield Line(
        "register",
        _fitted(tips.hole_tolerance, tips.register_mm),
        "plug gauge turned for it, or the shank of a pin that is known; a spigot enters",
    )
    yield Line(
        "depth of the register",
        register_deep(p, tips),
        "depth gauge from the front face",
    )
    yield Line(
        "full thread in the stem",
        Span(tips.tapped_mm, tips.tapped_mm, screwed.hole_deep_mm(tips)),
        f"a screw {row.name} goes in by hand; turns times {number(row.pitch_mm)}",
    )
    yield truth("front face square", "a tip screwed home on blue: it marks all round")
    yield from _flats(p, tips, "the stem")


def tip_lines(tool: Tool, known: dict[str, Size], place: int) -> Iterator[Line]:
    """Yield what is measured on one tip, counted from 0, the fitted one."""
    p, tips = tool.parameters, tool.parameters.screwed_tips
    assert tips is not None  # it has tips
    end = screwed.tip_ends(p)[place]
    long_mm = tips.length_mm
    yield Line(
        "tip to shoulder",
        Span(long_mm - ALIKE_MM, long_mm, long_mm + ALIKE_MM),
        "micrometer or calipers; a point over its flat. All tips alike",
    )
    yield Line(
        "spigot",
        _fitted(tips.spigot_tolerance, tips.register_mm),
        "micrometer, in three directions",
    )
    yield Line(
        "length of the spigot",
        spigot_long(p, tips),
        "depth gauge from the shoulder",
    )
    yield truth("thread", "enters the stem by hand until the spigot is in its register")
    yield from _flats(p, tips, "the tip")
    yield from end_lines(tool, known if place == 0 else _sizes(p, end, place), "front", end)


def register_deep(p: Parameters, tips: ScrewedTips) -> Span:
    """Return the depth of the register: half of the air behind the spigot is its own."""
    span = general(p, screwed.register_deep_mm(tips))
    return replace(span, least=max(span.least, span.nominal - screwed.REGISTER_AIR_MM / 2))


def spigot_long(p: Parameters, tips: ScrewedTips) -> Span:
    """Return the length of the spigot, to which the other half belongs."""
    span = general(p, tips.register_length_mm)
    return replace(span, greatest=min(span.greatest, span.nominal + screwed.REGISTER_AIR_MM / 2))


def _fitted(zone: str, size_mm: float) -> Span:
    upper_um, lower_um = ToleranceZone.limits_um(zone, size_mm)
    least_mm, greatest_mm = size_mm + lower_um / 1000, size_mm + upper_um / 1000
    return Span(least_mm, min(max(size_mm, least_mm), greatest_mm), greatest_mm)


def _flats(p: Parameters, tips: ScrewedTips, where: str) -> Iterator[Line]:
    yield Line(
        f"across the flats of {where}",
        replace(general(p, tips.flats_mm), greatest=tips.flats_mm),
        "calipers; the spanner goes on",
    )


def _sizes(p: Parameters, end: End, place: int) -> dict[str, Size]:
    """Return the sizes of a spare tip's working end as those of the fitted one are known."""
    table, found = screwed.tip_table(place), {}
    if isinstance(end.tip, ConeTip):
        found = {"front_flat_mm": ("flat of the front point", "flat_mm", end.tip.flat_mm)}
    elif isinstance(end.tip, SunkTip):
        found = {"front_mouth_mm": ("mouth of the front end", "mouth_mm", end.tip.mouth_mm)}
    return {
        name: Size(
            key="",
            part=f"tip {place + 1}",
            what=what,
            path=f"{table}.{key}",
            limits=general(p, size_mm),
            metal="under",
        )
        for name, (what, key, size_mm) in found.items()
    }


def changed_lines(tool: Tool) -> Iterator[Line]:
    """Yield what is looked at with each tip screwed in."""
    tips = tool.parameters.screwed_tips
    if tips is None:
        return
    _, play_um = screwed.register_play_um(tips)
    off_mm = tool.parameters.alignment.cone_mm + max(0.0, play_um) / 2000
    for n, end in enumerate(screwed.tip_ends(tool.parameters), 1):
        if not end.cone:
            continue
        yield Line(
            f"tip {n} screwed home: run-out",
            Span(0.0, 0.0, 2 * off_mm),
            "plunger in a collet by its stem, indicator on the tip's cone or ball, a whole turn",
        )
    yield truth(
        "tip against right-hand tapping",
        "screwed home, a firm turn of the hand on the tip alone, the way it unscrews: it holds",
    )
