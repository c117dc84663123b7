"""The tool at the limits of its sizes, as sheets and standards let it be made and bought."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeVar

from generator.formulas.spring import outside_tolerance_mm
from generator.inputs.parameters import Parameters
from generator.inputs.quantities import DERIVED
from generator.inputs.tables import InnerSpring, RetainingScrew, Spring
from generator.model.springs import CoilSpring
from generator.model.tool import Tool, design
from generator.standards.bands import GeneralTolerance
from generator.standards.rows import SetScrew, Thread

BACK_OFF_TURNS = 0.125
"""How far off its gap a screw stands that was turned back by hand; engineering judgement."""
LEAST_MM = 0.001

Wound = TypeVar("Wound", bound=InnerSpring)


@dataclass(frozen=True, slots=True)
class Sizes:
    """A tool with every size at some limit.

    Attributes:
        name: Such as "tightest".
        told: What is at which limit, for readers.
        tool: The tool with these sizes.
    """

    name: str
    told: str
    tool: Tool


def limit_sizes(tool: Tool) -> tuple[Sizes, ...]:
    """Return the tool at nominal size, at its tightest and with its longest stroke.

    The limits are those of the fits, of the slot's depth, and the general tolerance of the sheets
    where a size has none of its own; of bought screws, those of their standard; of springs, the
    coil at its greatest and closed solid.
    """
    p = tool.parameters
    tightest, longest = _told(p)
    return (
        Sizes("nominal", "every size as drawn", tool),
        Sizes("tightest", tightest, design(_tightest(tool))),
        Sizes("longest stroke", longest, design(_longest_stroke(p))),
    )


def _told(p: Parameters) -> tuple[str, str]:
    """Return what is at which limit, at the tightest and with the longest stroke."""
    if p.set_screw is not None:
        return (
            "bore least; plunger, discs, coils and screw tip greatest; slot narrowest, shortest "
            "and deepest; screw an eighth of a turn too deep",
            "slot longest, screw tip least and farthest back; plunger longest, discs thickest, "
            "plug deepest in",
        )
    if p.cross_pin is not None:
        return (
            "bore least; plunger, discs and coils greatest; slot narrowest and shortest",
            "slot longest, pin farthest back; plunger longest, discs thickest, plug deepest in",
        )
    return (
        "bore least; stem, head, discs and coils greatest",
        "tail shortest, discs thickest, plug deepest in",
    )


def off_mm(p: Parameters, size_mm: float) -> float:
    """Return what a size may be off by the general tolerance of the sheets."""
    return GeneralTolerance.at(p.making.general_tolerance, size_mm).plus_minus_mm


def _larger(p: Parameters, size_mm: float) -> float:
    return size_mm + off_mm(p, size_mm)


def _smaller(p: Parameters, size_mm: float) -> float:
    return max(size_mm - off_mm(p, size_mm), LEAST_MM)


def _tightest(tool: Tool) -> Parameters:
    p = tool.parameters
    bore_mm = tool.bore_limits.nominal_mm + tool.bore_limits.lower_um / 1000
    plunger_mm = tool.plunger_limits.nominal_mm + tool.plunger_limits.upper_um / 1000
    button, separator, screw, slot = p.button, p.separator, p.set_screw, p.slot
    if screw is not None:
        deeper_mm = BACK_OFF_TURNS * Thread.find(screw.thread).pitch_mm
        screw = replace(screw, gap_mm=max(screw.gap_mm - deeper_mm, 0.0))
    shoulder = p.shoulder
    if shoulder is not None:
        head_mm = _larger(p, shoulder.head_diameter_mm)
        shoulder = replace(shoulder, head_diameter_mm=head_mm)
    if slot is not None:
        slot = replace(
            slot,
            length_mm=_smaller(p, slot.length_mm),
            front_mm=slot.front_mm + off_mm(p, slot.length_mm) / 2,
        )
        match slot.form:
            case "slot":
                slot = replace(
                    slot,
                    width_mm=_smaller(p, slot.width_mm),
                    depth_mm=slot.depth_mm + p.making.slot_depth_tolerance_mm,
                )
            case "flat":
                deep_mm = slot.depth_mm + p.making.slot_depth_tolerance_mm
                slot = replace(slot, width_mm=DERIVED, depth_mm=deep_mm)
            case _:
                slot = replace(slot, width_mm=_smaller(p, slot.width_mm))
    if button is not None:
        button = replace(button, diameter_mm=_larger(p, button.diameter_mm))
    if separator is not None:
        separator = replace(separator, diameter_mm=_larger(p, separator.diameter_mm))
    return replace(
        p,
        bore=replace(p.bore, diameter_mm=max(bore_mm, LEAST_MM), limits_um=(0.0, 0.0)),
        plunger=replace(p.plunger, diameter_mm=max(plunger_mm, LEAST_MM), limits_um=(0.0, 0.0)),
        slot=slot,
        set_screw=screw,
        shoulder=shoulder,
        button=button,
        separator=separator,
        springs=tuple(
            _greatest_row(asked, made) for asked, made in zip(p.springs, tool.springs, strict=True)
        ),
    )


def _greatest_row(asked: Spring, made: CoilSpring) -> Spring:
    """Return a spring of the row at its greatest, and the one inside it likewise."""
    inner = asked.inner
    if inner is not None and made.inner is not None:
        inner = _greatest(inner, made.inner)
    return replace(_greatest(asked, made), inner=inner)


def _greatest(asked: Wound, made: CoilSpring) -> Wound:
    """Return a spring with its coil at the greatest, its rate and lengths as they are.

    A coil that would grow beyond the table of tolerances is left as it is.
    """
    try:
        outside_tolerance_mm(outside_mm=made.outside_greatest_mm)
    except ValueError:
        return asked
    return replace(asked, outside_mm=made.outside_greatest_mm)


def _longest_stroke(p: Parameters) -> Parameters:
    button, separator = p.button, p.separator
    if button is not None:
        button = replace(button, thickness_mm=_larger(p, button.thickness_mm))
    if separator is not None:
        separator = replace(separator, thickness_mm=_larger(p, separator.thickness_mm))
    slot, screw, pin = p.slot, p.set_screw, p.cross_pin
    plunger, shoulder = p.plunger, p.shoulder
    if slot is not None:
        slot = replace(slot, length_mm=_larger(p, slot.length_mm))
        plunger = replace(plunger, length_mm=_larger(p, plunger.length_mm))
    if screw is not None:
        screw = replace(
            screw,
            tip_mm=least_tip_mm(screw),
            position_mm=_larger(p, screw.position_mm),
        )
    if pin is not None:
        pin = replace(pin, position_mm=_larger(p, pin.position_mm))
    if shoulder is not None:
        shoulder = replace(
            shoulder, travel_mm=DERIVED, tail_length_mm=_smaller(p, shoulder.tail_length_mm)
        )
    plug, disc = p.plug, p.disc
    if plug is not None:
        plug = replace(plug, sunk_mm=plug.sunk_mm + off_mm(p, max(plug.sunk_mm, LEAST_MM)))
    if disc is not None:
        disc = replace(
            disc,
            thickness_mm=_larger(p, disc.thickness_mm),
            bottom_mm=_smaller(p, disc.bottom_mm),
        )
    return replace(
        p,
        plunger=plunger,
        slot=slot,
        set_screw=screw,
        cross_pin=pin,
        shoulder=shoulder,
        button=button,
        separator=separator,
        plug=plug,
        disc=disc,
    )


def least_tip_mm(screw: RetainingScrew) -> float:
    """Return the least diameter of the screw's tip; that of a tip turned to size as it is."""
    row = {each.name: each for each in SetScrew.rows()}.get(screw.thread)
    point, tip_mm = screw.point, screw.tip_mm
    if row is None or point not in row.points or tip_mm != row.tip_mm(point):
        return tip_mm
    least = {"cup": row.cup_least_mm, "flat": row.flat_least_mm, "cone": tip_mm}
    return least.get(point, row.dog_least_mm)
