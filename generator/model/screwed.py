"""Tips that screw into the stem: the joint, its half in the stem, and each tip as a part.

A spigot in a counterbore centres the tip, its shoulder face on the stem's front face squares it,
and the stud behind the spigot only draws it in.
"""

from __future__ import annotations

from math import isnan, nan, radians, tan

from generator.formulas import fit, strength
from generator.formulas.slot import chord_mm
from generator.inputs.parameters import Parameters
from generator.inputs.screwed_tips import ScrewedTips
from generator.model.mouths import RUN_OUT_TURNS, thread_chamfer_mm
from generator.model.outline import Corner, Outline
from generator.model.part import Part, SideFlat, Thread
from generator.model.tips import DRILL_POINT_DEG, End
from generator.standards.bands import ToleranceZone
from generator.standards.rows import Material
from generator.standards.rows import Thread as ThreadRow

REGISTER_AIR_MM = 0.3
"""How much deeper the counterbore is than the spigot is long; common practice, no source."""
STUD_RUN_OUT_TURNS = 2.0
"""Turns behind the spigot that a die leaves unfinished; common practice, no source."""


def front_mm(p: Parameters) -> float:
    """Return how far the working tip stands ahead of the plunger's own front; 0 without a tip."""
    return 0.0 if p.screwed_tips is None else p.screwed_tips.length_mm


def tip_ends(p: Parameters) -> tuple[End, ...]:
    """Return the working end of every tip, the fitted one first; none where none is screwed in."""
    tips = p.screwed_tips
    if tips is None:
        return ()
    return tuple(End(tip, tips.diameter_mm) for tip in (p.plunger.front, *tips.spare))


def tip_table(number: int) -> str:
    """Return the key of a tip's table, counted from 0, the fitted one."""
    return "plunger.front" if number == 0 else f"screwed_tips.spare[{number}]"


def row_of(tips: ScrewedTips) -> ThreadRow:
    """Return the row of the joint's thread."""
    return ThreadRow.find(tips.thread)


def stud_chamfer_mm(tips: ScrewedTips) -> float:
    """Return the length of the chamfer on the end of the stud."""
    return min(thread_chamfer_mm(row_of(tips)), tips.stud_mm / 4)


def stud_full_mm(tips: ScrewedTips) -> float:
    """Return the length of full thread on the stud, from its end, the chamfer in it."""
    return max(0.0, tips.stud_mm - STUD_RUN_OUT_TURNS * row_of(tips).pitch_mm)


def register_deep_mm(tips: ScrewedTips) -> float:
    """Return the depth of the counterbore, from the stem's front face."""
    return tips.register_length_mm + REGISTER_AIR_MM


def stud_deep_mm(tips: ScrewedTips) -> float:
    """Return how deep the end of the stud lies, from the stem's front face."""
    return tips.register_length_mm + tips.stud_mm


def hole_deep_mm(tips: ScrewedTips) -> float:
    """Return the depth to the end of the full hole that is tapped, from the stem's front face."""
    return tips.tapped_mm + RUN_OUT_TURNS * row_of(tips).pitch_mm


def hole_end_mm(tips: ScrewedTips) -> float:
    """Return the depth to the tip of the drill's cone."""
    return hole_deep_mm(tips) + row_of(tips).tapping_drill_mm / 2 / tan(
        radians(DRILL_POINT_DEG / 2)
    )


def engaged_mm(tips: ScrewedTips) -> float:
    """Return over what length full threads of stud and stem hold each other; 0 where they don't."""
    end_mm = stud_deep_mm(tips)
    start_mm = max(end_mm - stud_full_mm(tips), register_deep_mm(tips))
    return max(0.0, min(end_mm - stud_chamfer_mm(tips), tips.tapped_mm) - start_mm)


def stud_for_mm(tips: ScrewedTips, engaged_mm: float) -> float:
    """Return how long the stud must be for so much engaged thread in a hole that is deep enough."""
    row = row_of(tips)
    behind_mm = max(STUD_RUN_OUT_TURNS * row.pitch_mm, REGISTER_AIR_MM)
    return engaged_mm + behind_mm + thread_chamfer_mm(row)


def thin_mm(p: Parameters, tips: ScrewedTips) -> float:
    """Return the least width of stem and tip at the joint: across the flats, or of the thinner."""
    return min(p.plunger.diameter_mm, tips.diameter_mm, tips.flats_mm)


def flat_width_mm(diameter_mm: float, across_mm: float) -> float:
    """Return how wide a spanner flat is.

    Example:
        >>> round(flat_width_mm(5.0, 3.0), 6), flat_width_mm(5.0, 6.0)
        (4.0, 0.0)
    """
    return chord_mm(diameter_mm=diameter_mm, depth_mm=max(0.0, (diameter_mm - across_mm) / 2))


def register_play_um(tips: ScrewedTips) -> tuple[float, float]:
    """Return the least and the greatest clearance of the spigot in the counterbore."""
    hole_upper_um, hole_lower_um = ToleranceZone.limits_um(tips.hole_tolerance, tips.register_mm)
    upper_um, lower_um = ToleranceZone.limits_um(tips.spigot_tolerance, tips.register_mm)
    return (
        fit.least_clearance_um(
            hole_lower_um=hole_lower_um, shaft_upper_um=upper_um, nominal_difference_mm=0.0
        ),
        fit.greatest_clearance_um(
            hole_upper_um=hole_upper_um, shaft_lower_um=lower_um, nominal_difference_mm=0.0
        ),
    )


def stud_bending_MPa(tips: ScrewedTips, side_N: float) -> float:
    """Return the bending stress at the root of the stud under a push sideways on the tip.

    As if the stud alone held the tip, its core built in at the joint; the shoulder and the register
    take most of it in truth. NaN for a push that cannot be worked out.
    """
    if isnan(side_N):
        return nan
    return strength.cantilever_MPa(
        force_N=side_N, arm_mm=tips.length_mm, diameter_mm=row_of(tips).minor_mm
    )


def spanner_flats(name: str, start_mm: float, tips: ScrewedTips) -> SideFlat:
    """Return the two spanner flats beside the joint, as one cut."""
    return SideFlat(name, start_mm, tips.flats_length_mm, tips.flats_mm / 2, both=True)


def stem_hole(tips: ScrewedTips) -> list[Corner]:
    """Return the corners of the hole in the stem, from its bottom to the front face."""
    drill, register = row_of(tips).tapping_drill_mm / 2, tips.register_mm / 2
    corners = [
        Corner(hole_end_mm(tips), 0.0, "axis"),
        Corner(hole_deep_mm(tips), drill, "front drill point"),
        Corner(register_deep_mm(tips), drill, "tip thread"),
        Corner(register_deep_mm(tips), register, "tip register floor"),
    ]
    edge = min(tips.edge_mm, register_deep_mm(tips) / 2)
    if edge <= 0:
        return [*corners, Corner(0.0, register, "tip register")]
    return [
        *corners,
        Corner(edge, register, "tip register"),
        Corner(0.0, register + edge, "front bevel"),
    ]


def stem_thread(tips: ScrewedTips) -> Thread:
    """Return the thread in the stem."""
    row = row_of(tips)
    return Thread(
        surface="tip thread",
        designation=row.name,
        tolerance_class=row.tolerance_class,
        major_mm=row.major_mm,
        minor_mm=row.minor_mm,
        full_mm=tips.tapped_mm,
        external=False,
        opens="front",
    )


def screwed_tips(p: Parameters) -> tuple[Part, ...]:
    """Return every tip, the fitted one first; z = 0 at its tip."""
    tips = p.screwed_tips
    if tips is None:
        return ()
    return tuple(_tip(tips, end, n) for n, end in enumerate(tip_ends(p), 1))


def _tip(tips: ScrewedTips, end: End, number: int) -> Part:
    row, length_mm = row_of(tips), tips.length_mm
    radius, register, stud = (
        each / 2 for each in (tips.diameter_mm, tips.register_mm, row.major_mm)
    )
    spigot_mm = length_mm + tips.register_length_mm
    end_mm, edge = spigot_mm + tips.stud_mm, stud_chamfer_mm(tips)
    corners = [
        *end.outside("front"),
        Corner(length_mm, radius, "head"),
        Corner(length_mm, register, "seat"),
        Corner(spigot_mm, register, "tip spigot"),
        Corner(spigot_mm, stud, "spigot end"),
        Corner(end_mm - edge, stud, "stud"),
        Corner(end_mm, stud - edge, "rear chamfer"),
        Corner(end_mm, 0.0, "rear face"),
        *end.inside("front"),
    ]
    material = Material.find(tips.material)
    return Part(
        name=f"tip-{number}",
        title=f"Tip {number}, {end.tip.style}",
        outline=Outline(tuple(corners)),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
        cuts=(spanner_flats("flats", length_mm - tips.flats_length_mm, tips),),
        threads=(
            Thread(
                surface="stud",
                designation=row.name,
                tolerance_class="6g" if row.tolerance_class == "6H" else "2A",
                major_mm=row.major_mm,
                minor_mm=row.minor_mm,
                full_mm=stud_full_mm(tips),
                external=True,
            ),
        ),
    )
