"""What is measured on every part and on the tool put together, and what each gauge should read.

The kit is simple: micrometer, calipers, depth gauge, indicator, gauge blocks, two rollers, pins or
drill shanks, loose balls, a magnifier with a scale, a kitchen scale.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.inputs.tables import RetainingScrew
from generator.making.inspect_body import body_lines, run_out
from generator.making.inspect_bush import bush_lines
from generator.making.inspect_plunger import plunger_lines
from generator.making.inspect_tips import ALIKE_MM, changed_lines, joint_lines, tip_lines
from generator.making.line import Line, general, truth
from generator.making.sizes import Size, sizes, spring_sizes
from generator.model import keeping
from generator.model.part import Part
from generator.model.tool import Orientation, Tool
from generator.standards.rows import Thread
from generator.units import number, shown
from generator.use.bands import Span
from generator.use.picking import picks
from generator.use.supporting import holds

TRAVEL_OFF_MM = 0.2
"""What the travel may be off; engineering judgement."""

FORCE_SHARE = 0.15
"""What the force may be off; engineering judgement: stocked springs are within 10 % in rate, and
free length and plug depth add to that."""

FROM_ENDS_MM = 1.0
"""How far from both ends of the stroke the force is read, so that no stop bears."""

GRAVITY_N_PER_KG = 9.80665
PRESSED_MM = 5.0
"""By how much a spring is pressed between the two readings of its rate, where it has the room."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is measured on one part, or on the tool put together.

    Attributes:
        part: Name of the part; "assembly" for the tool.
        title: Its title.
        lines: What is measured, in order.
    """

    part: str
    title: str
    lines: tuple[Line, ...]


def grams(force_N: float) -> float:
    """Return what a kitchen scale shows under a force.

    Example:
        >>> round(grams(9.80665), 6)
        1000.0
    """
    return force_N / GRAVITY_N_PER_KG * 1000


def inspection(tool: Tool) -> tuple[Sheet, ...]:
    """Return what is measured on each made part, on what is bought, and on the assembly."""
    known = {size.key: size for size in sizes(tool)}
    sheets = [
        Sheet("body", tool.body.title, tuple(body_lines(tool, known))),
        Sheet(
            "plunger",
            tool.plunger.title,
            (*plunger_lines(tool, known), *joint_lines(tool.parameters)),
        ),
        Sheet(tool.abutment.name, tool.abutment.title, tuple(_abutment(tool, known))),
    ]
    for part in tool.made_parts[3:]:
        if part is tool.bush:
            lines: Iterator[Line] = bush_lines(tool, known)
        else:
            lines = _small(tool, known, part)
        sheets.append(Sheet(part.name, part.title, tuple(lines)))
    bought = (*_screw(known), *_springs(tool))
    title = "Screw and springs, bought" if tool.parameters.set_screw else "Springs, bought"
    return (
        *sheets,
        Sheet("bought", title, bought),
        Sheet("assembly", "Assembly", tuple(_assembly(tool, known))),
    )


def _small(tool: Tool, known: dict[str, Size], part: Part) -> Iterator[Line]:
    """Return what is measured on one of the small parts."""
    if part in tool.tips:
        return tip_lines(tool, known, tool.tips.index(part))
    return _pin(known) if part is tool.crossing else _disc(tool, known, part.name)


def _abutment(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on the plug, or on the disc in its place."""
    p, plug = tool.parameters, tool.parameters.plug
    if plug is None:
        yield from _disc(tool, known, "disc")
        return
    yield Line.of(known["plug_length_mm"], "micrometer over both faces")
    row = Thread.find(plug.thread)
    yield truth("thread", f"enters the body by hand, {_turns(plug.length_mm, row.pitch_mm)}")
    if plug.vent_mm > 0:
        yield Line("vent", general(p, plug.vent_mm), "drill shank as a pin")
    kind = "across the flats" if plug.drive == "hexagon" else "width of the slot"
    yield Line(kind, general(p, plug.drive_width_mm), "the driver itself fits without rocking")
    yield Line("depth of the drive", general(p, plug.drive_depth_mm), "depth gauge")


def _turns(length_mm: float, pitch_mm: float) -> str:
    return f"{number(length_mm / pitch_mm, 1)} turns"


def _disc(tool: Tool, known: dict[str, Size], name: str) -> Iterator[Line]:
    """Yield what is measured on a button or a separator."""
    p = tool.parameters
    yield Line.of(known[f"{name}_diameter_mm"], "micrometer")
    yield Line.of(known[f"{name}_thickness_mm"], "micrometer, at three places")
    button = p.button if name == "button" else None
    part = next(part for part in tool.made_parts if part.name == name)
    hole_mm = 2 * min(corner.r_mm for corner in part.outline.corners)
    if hole_mm > 0:
        yield Line("hole", general(p, hole_mm), "drill shank as a pin")
    if button and button.recess_mm > button.vent_mm:
        yield Line("mouth of the recess", general(p, button.recess_mm), "calipers, magnifier")
    yield truth("loose", "falls through the bore by itself")


def _pin(known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on the cross pin."""
    yield Line.of(known["pin_mm"], "micrometer at both ends and the middle")
    yield Line.of(known["pin_length_mm"], "calipers")


def _screw(known: dict[str, Size]) -> Iterator[Line]:
    if "screw_tip_mm" not in known:
        return
    yield Line.of(known["screw_tip_mm"], "micrometer on the set screw's tip")
    yield Line.of(known["screw_tip_length_mm"], "calipers or depth gauge, tip to shoulder")
    yield Line.of(known["screw_length_mm"], "calipers")


def _springs(tool: Tool) -> Iterator[Line]:
    """Yield what is measured on the springs; the rate by what a scale gains."""
    every = {size.key: size for size in spring_sizes(tool)}
    for one in tool.in_place:
        own = {name: every[f"{one.key}.{name}"] for name in ("free_mm", "outside_mm", "solid_mm")}
        cut = "; it is cut to this" if one.spring.bought else ""
        yield Line.of(own["free_mm"], f"calipers, not squeezed{cut}")
        yield Line.of(own["outside_mm"], "micrometer or calipers over the coils")
        yield Line.of(own["solid_mm"], "calipers on the jaws of a vice, closed by hand")
        size = every[f"{one.key}.rate_N_per_mm"]
        room_mm = (one.spring.free_mm - one.spring.longest_solid_mm) / 2
        by_mm = min(PRESSED_MM, round(room_mm, 1) if room_mm >= 1 else room_mm)
        gains = (grams(rate * by_mm) for rate in _three(size.limits))
        yield Line.of(
            size,
            f"press it on the kitchen scale by a drill press; what the scale gains over "
            f"{number(by_mm)} mm of way",
            Span(*gains),
            reading_unit="g",
            unit="N/mm",
        )


def _three(span: Span) -> tuple[float, float, float]:
    return span.least, span.nominal, span.greatest


def gap_span(tool: Tool, screw: RetainingScrew) -> Span:
    """Return what the gap under the tip of the set screw may be."""
    least, greatest = (
        tool.limit(f"gap under the screw tip{end}").passes for end in ("", ", greatest")
    )
    return Span(least, screw.gap_mm, greatest)


def _assembly(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    screw = tool.parameters.set_screw
    kept = {"set screw": "no screw", "cross pin": "no pin"}
    far = "through" if tool.parameters.disc is None else "to the disc"
    without = kept.get(tool.crossing.title.lower(), "") if tool.crossing else "no plug"
    falls = f"it drops {far} by its own weight"
    if tool.bush is not None:
        without, falls = "bush drawn tight", "it drops on its head by its own weight"
    yield truth("plunger drops", f"no springs, {without}, wiped with oil: {falls}, however turned")
    if tool.bush is not None:
        yield truth("nose bush home", "the thinnest feeler goes in nowhere under the flange")
        yield from run_out(tool, known)
    if "plug_sunk_mm" in known:
        yield Line.of(known["plug_sunk_mm"], "depth gauge from the rear end to the plug")
    if screw is not None and screw.locking != "shoulder":
        pitch_mm, gap = Thread.find(screw.thread).pitch_mm, gap_span(tool, screw)
        yield Line(
            "gap under the screw tip",
            gap,
            "turn the screw in until the plunger is held, then back by these turns, and lock it",
            Span(*(each / pitch_mm for each in _three(gap))),
            reading_unit="turns",
        )
    elif screw is not None:
        yield truth(
            "screw on its ledge", "drawn tight: the plunger moves free and does not turn round"
        )
    for o in tool.orientations:
        yield from _stroke(tool, o)
        yield from _forces(o)
    yield from _of_purpose(tool)
    yield from changed_lines(tool)
    yield truth("vent", "blow into the rear end: air comes out at the nose, plunger in any place")


def _of_purpose(tool: Tool) -> Iterator[Line]:
    """Yield what the purpose of the tool asks for besides: true running, no mark, the thrust."""
    for pick in picks(tool):
        name = pick.orientation.name
        off_mm = sum(term.most_mm for term in pick.terms if term.turns)
        yield Line(
            f"{name}: run-out at the tip",
            Span(0.0, 0.0, 2 * off_mm),
            "tool in the spindle, indicator on the plunger behind its cone, a whole turn by hand",
        )
        yield truth(
            f"{name}: no mark", f"pushed home on a flat scrap of {pick.asked.work}: nothing is left"
        )
    for hold in holds(tool):
        o, asked = hold.orientation, hold.asked
        band = Span(
            hold.thrust_N * (1 - FORCE_SHARE), hold.thrust_N, hold.thrust_N * (1 + FORCE_SHARE)
        )
        out_mm = o.projection_extended_mm - asked.set_mm
        yield Line(
            f"{o.name}: thrust as it is set",
            band,
            f"tip pressed on the kitchen scale until it stands out {shown(out_mm, 'mm')}, own "
            "weight off",
            Span(*(grams(each) for each in _three(band))),
            unit="N",
            reading_unit="g",
        )


def stroke_spans(tool: Tool, o: Orientation) -> tuple[Span, Span, Span]:
    """Return how far the tip stands out forward and pushed home, and the travel."""
    p = tool.parameters

    def off(*sizes_mm: float) -> float:
        return sum(general(p, each).greatest - each for each in sizes_mm if each > 0)

    if p.shoulder is not None:
        forward_mm = off(p.shoulder.stem_mm, p.shoulder.guide_mm) + ALIKE_MM * bool(tool.tips)
        home_mm = off(p.plunger.length_mm, tool.plug_face_mm) + ALIKE_MM * bool(tool.tips)
    else:
        assert p.slot is not None
        home_mm = off(o.slot_mm, keeping.position_mm(p))
        forward_mm = home_mm + off(p.slot.length_mm)
    ends = (o.projection_extended_mm, forward_mm), (o.projection_compressed_mm, home_mm)
    forward, home = (Span(mm - more, mm, mm + more) for mm, more in ends)
    return (
        forward,
        home,
        Span(o.travel_mm - TRAVEL_OFF_MM, o.travel_mm, o.travel_mm + TRAVEL_OFF_MM),
    )


def _stroke(tool: Tool, o: Orientation) -> Iterator[Line]:
    """Yield both ends of the stroke by a depth gauge on the nose face, and the travel."""
    forward, home, travel = stroke_spans(tool, o)
    gauged = f"depth gauge, {o.outer.gauged} over nose face"
    yield Line(f"{o.name}: stands out, forward", forward, gauged)
    yield Line(f"{o.name}: stands out, pushed home", home, gauged)
    yield Line(f"{o.name}: travel", travel, "the difference of the two")


def _forces(o: Orientation) -> Iterator[Line]:
    """Yield the force near both ends of the stroke, in newtons and on the scale in grams."""
    from_end_mm = min(FROM_ENDS_MM, o.travel_mm / 4) if o.travel_mm > 0 else 0.0
    for where, pushed_mm in (
        ("forward", from_end_mm),
        ("home", o.travel_mm - from_end_mm),
    ):
        force_N = o.force_N(pushed_mm)
        out_mm = o.projection_extended_mm - pushed_mm
        band = Span(force_N * (1 - FORCE_SHARE), force_N, force_N * (1 + FORCE_SHARE))
        side = "before the forward stop" if where == "forward" else "before it is home"
        yield Line(
            f"{o.name}: force {shown(from_end_mm, 'mm')} {side}",
            band,
            f"end pressed on the kitchen scale until its {o.outer.gauged} stands out "
            f"{shown(out_mm, 'mm')}, own weight off",
            Span(*(grams(each) for each in _three(band))),
            key="scale[].scale_g",
            unit="N",
            reading_unit="g",
            at=(o.which, out_mm),
        )


def acceptance(tool: Tool) -> tuple[str, ...]:
    """Return by what the tool is accepted, and what the figures rest on."""
    p = tool.parameters
    return (
        "Limits are those of the sheets: of fits, of the slot's depth, and "
        f"{p.making.general_tolerance} for every size without its own. A reading between least and "
        "greatest is right; at a limit it is right.",
        "Run-out, stand-out of the taper, travel and force: engineering judgement, no source.",
        "What a gauge reads stands beside how it is used; = where it shows the size itself.",
        "Wipe part and gauge, measure at the temperature of the shop, twice, and write down what "
        "you read. Nothing is put together before all lines of its part are ticked.",
        "The tool is accepted when every line of the assembly is ticked in both orientations."
        if tool.reversible
        else "The tool is accepted when every line of the assembly is ticked.",
        "A size is off? Write it under its key into a file of measured sizes: the command actual "
        "says what to change before the remaining cuts.",
    )
