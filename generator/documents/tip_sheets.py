"""What the sheets say of the working ends, and of tips that screw into the stem."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.documents.drawing import Unit
from generator.documents.numerals import general, limits_text, size_text
from generator.documents.part_notes import PartNotes, Runout
from generator.inputs.parameters import Parameters
from generator.model import screwed
from generator.model.fits import Limits
from generator.model.tips import End
from generator.model.tool import Tool
from generator.standards.bands import ToleranceZone

CONE_RA_UM: Final = 0.8


def _zone_text(zone: str, size_mm: float, unit: Unit) -> str:
    upper_um, lower_um = ToleranceZone.limits_um(zone, size_mm)
    return limits_text(Limits(size_mm, lower_um, upper_um, zone), unit)


def register_tolerance(p: Parameters) -> dict[str, str]:
    """Return the limits of the counterbore in the stem, by its surface; none without tips."""
    tips = p.screwed_tips
    if tips is None:
        return {}
    return {"tip register": _zone_text(tips.hole_tolerance, tips.register_mm, p.making.units)}


def tip_notes(tool: Tool, number: int, stock: str) -> PartNotes:
    """Return what the sheet of a screwed tip says, counted from 0, the fitted one.

    Half of what the cone may be off goes to the register in the stem, half to the cone on its
    spigot.
    """
    p, part = tool.parameters, tool.tips[number]
    tips, end = p.screwed_tips, screwed.tip_ends(p)[number]
    assert tips is not None  # it has tips
    unit = p.making.units
    cones = [f"front {end.cone}"] if end.cone else []
    return PartNotes(
        part,
        stock=stock,
        tolerances={"tip spigot": _zone_text(tips.spigot_tolerance, tips.register_mm, unit)},
        roughness_um={
            **dict.fromkeys(("tip spigot", *cones), CONE_RA_UM),
        },
        runout=dict.fromkeys(cones, Runout(p.alignment.cone_mm, "tip spigot")),
        notes=(
            "Spigot and shoulder in one setting; the working end with the tip in its stem.",
            "Shoulder square to the spigot: blued in the stem it marks all round.",
            "From tip to shoulder all tips are of one length.",
            *end_notes("front", end, unit),
        ),
        finish="bright, oiled",
        unit=unit,
    )


def end_notes(side: str, end: End, unit: Unit) -> Iterator[str]:
    """Yield what is to be minded at an end and no dimension tells."""
    if end.relief is not None:
        yield f"{side.capitalize()} end: half centre, flat on the slot's side: holds least there."
    if end.ball_mm:
        ball, stands = (size_text(each, general(unit)) for each in (end.ball_mm, end.stands_mm))
        yield f"{side.capitalize()} end: ball Ø{ball} bonded in last, stands out {stands}."
    if end.stock_mm > 0:
        off = size_text(end.stock_mm, general(unit))
        yield f"{side.capitalize()} end left full: finish to suit, up to {off} may come off."
