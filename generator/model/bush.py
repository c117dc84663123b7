"""The nose bush, and the seat that is made for it in the nose: register, thread and its hole.

The flange is drawn tight on the nose face; spigot and register make the bush run true, the thread
only holds it. Positions count from the nose face, before which the flange stands.
"""

from __future__ import annotations

from math import radians, tan
from typing import Final

from generator.inputs.parameters import Parameters
from generator.inputs.tables import NoseBush
from generator.model.mouths import (
    BEVEL_SLOPE,
    RUN_OUT_TURNS,
    bevel_depth_mm,
    hole_to_tap_mm,
    thread_chamfer_mm,
)
from generator.model.outline import Corner, Outline
from generator.model.part import Part, SideFlat, Thread
from generator.model.tips import DRILL_POINT_DEG
from generator.standards.bands import ToleranceZone
from generator.standards.rows import Material
from generator.standards.rows import Thread as ThreadRow

REGISTER_FIT: Final = ("H7", "g6")
"""Of the register in the nose and of the spigot in it: slides in by hand and locates; ISO 286-2."""
BUSH_RUNOUT_MM: Final = 0.01
"""Run-out of its bore to its spigot, both cut in one setting; engineering judgement."""
CLEAR_OF_FLOOR_MM: Final = 0.5
"""How much deeper the register is than the spigot is long, so that the flange comes to bear."""
SPIGOT_EDGE_MM: Final = 0.3
FLANGE_EDGE_MM: Final = 0.5
BORE_BEVEL_MM: Final = 0.5
"""How much wider than its bore both mouths of the bush are bevelled: it clears the corner behind
the stem; engineering judgement."""
TURNS_PAST: Final = 1.0
"""How much further than the bush goes the nose is threaded; engineering judgement."""
RELIEF_TURNS: Final = 2.5
RELIEF_SHARE: Final = 1.6
"""Width of the groove behind the thread, and how much below the thread's diameter it is turned, in
pitches: DIN 76, from memory, unverified."""


def flange_mm(p: Parameters) -> float:
    """Return how far the tool reaches before the nose face: the flange of the bush, else 0."""
    return 0.0 if p.bush is None else p.bush.flange_mm


def relief_length_mm(bush: NoseBush) -> float:
    """Return the width of the groove between spigot and thread."""
    return RELIEF_TURNS * ThreadRow.find(bush.thread).pitch_mm


def relief_mm(bush: NoseBush) -> float:
    """Return the diameter of that groove."""
    row = ThreadRow.find(bush.thread)
    return row.major_mm - RELIEF_SHARE * row.pitch_mm


def thread_edge_mm(bush: NoseBush) -> float:
    """Return the chamfer at the end of the thread."""
    return thread_chamfer_mm(ThreadRow.find(bush.thread))


def mouths_mm(p: Parameters) -> float:
    """Return the length of both bevels of its bore, where nothing guides the stem."""
    return 2 * BORE_BEVEL_MM / 2 / BEVEL_SLOPE


def register_depth_mm(bush: NoseBush) -> float:
    """Return the depth of the register in the nose."""
    return bush.register_length_mm + CLEAR_OF_FLOOR_MM


def hole_mm(p: Parameters, bush: NoseBush) -> float:
    """Return the diameter of the hole that the thread in the nose is cut in."""
    assert p.shoulder is not None
    return hole_to_tap_mm(ThreadRow.find(bush.thread), p.shoulder.pocket_mm)


def full_thread_mm(p: Parameters, bush: NoseBush) -> float:
    """Return the depth of full thread in the nose: a turn further than the bush goes."""
    assert p.shoulder is not None
    return p.shoulder.guide_mm + TURNS_PAST * ThreadRow.find(bush.thread).pitch_mm


def hole_depth_mm(p: Parameters, bush: NoseBush) -> float:
    """Return the full depth of that hole."""
    return full_thread_mm(p, bush) + RUN_OUT_TURNS * ThreadRow.find(bush.thread).pitch_mm


def entry_mm(p: Parameters, bush: NoseBush) -> float:
    """Return how far the bevel before the thread reaches, from the floor of the register."""
    return (ThreadRow.find(bush.thread).major_mm - hole_mm(p, bush)) / 2 / BEVEL_SLOPE


def before_thread_mm(bush: NoseBush) -> float:
    """Return where the thread of the bush begins."""
    return bush.register_length_mm + relief_length_mm(bush)


def engaged_mm(p: Parameters, bush: NoseBush) -> float:
    """Return the length of thread by which the bush holds; not above 0 where there is none."""
    assert p.shoulder is not None
    start_mm = max(before_thread_mm(bush), register_depth_mm(bush) + entry_mm(p, bush))
    return p.shoulder.guide_mm - thread_edge_mm(bush) - start_mm


def contact_mm(p: Parameters, bush: NoseBush) -> float:
    """Return the length over which spigot and register touch, behind the bevel at the mouth."""
    return bush.register_length_mm - SPIGOT_EDGE_MM - bevel_depth_mm(p)


def play_um(bush: NoseBush) -> tuple[float, float]:
    """Return the least and the greatest play of the spigot in the register, on the diameter."""
    hole, spigot = (ToleranceZone.limits_um(zone, bush.register_mm) for zone in REGISTER_FIT)
    return hole[1] - spigot[0], hole[0] - spigot[1]


def seat(p: Parameters, bush: NoseBush) -> list[Corner]:
    """Return the corners of the body from the spring pocket to the register's mouth."""
    assert p.shoulder is not None
    row, pocket, hole = ThreadRow.find(bush.thread), p.shoulder.pocket_mm / 2, hole_mm(p, bush) / 2
    deep_mm, floor_mm = hole_depth_mm(p, bush), register_depth_mm(bush)
    drop_mm = (hole - pocket) / tan(radians(DRILL_POINT_DEG / 2))
    corners = [Corner(deep_mm + drop_mm, pocket, "spring pocket")]
    if hole > pocket:
        corners.append(Corner(deep_mm, hole, "front drill point"))
    corners.append(Corner(floor_mm + entry_mm(p, bush), hole, "nose thread"))
    if hole < row.major_mm / 2:
        corners.append(Corner(floor_mm, row.major_mm / 2, "thread bevel"))
    return [*corners, Corner(floor_mm, bush.register_mm / 2, "register floor")]


def nose_thread(p: Parameters, bush: NoseBush) -> Thread:
    """Return the thread in the nose."""
    row = ThreadRow.find(bush.thread)
    return Thread(
        surface="nose thread",
        designation=row.name,
        tolerance_class=row.tolerance_class,
        major_mm=row.major_mm,
        minor_mm=row.minor_mm,
        full_mm=full_thread_mm(p, bush),
        external=False,
        opens="front",
    )


def nose_bush(p: Parameters) -> Part | None:
    """Return the nose bush, if there is one; z = 0 at the front of its flange."""
    bush, shoulder = p.bush, p.shoulder
    if bush is None or shoulder is None:
        return None
    row, material = ThreadRow.find(bush.thread), Material.find(bush.material)
    return Part(
        name="nose-bush",
        title="Nose bush",
        outline=Outline(tuple(_corners(p, bush, bush.flange_mm + shoulder.guide_mm))),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
        cuts=(SideFlat("spanner flats", 0.0, bush.flange_mm, bush.flats_mm / 2, both=True),),
        threads=(
            Thread(
                surface="thread",
                designation=row.name,
                tolerance_class="6g" if row.tolerance_class == "6H" else "2A",
                major_mm=row.major_mm,
                minor_mm=row.minor_mm,
                full_mm=shoulder.guide_mm - before_thread_mm(bush),
                external=True,
            ),
        ),
    )


def _corners(p: Parameters, bush: NoseBush, length_mm: float) -> list[Corner]:
    """Return the corners up the front of the flange, along the outside and back by the bore."""
    flange, spigot, bore = (
        each / 2 for each in (bush.flange_diameter_mm, bush.register_mm, p.bore.diameter_mm)
    )
    major, groove = ThreadRow.find(bush.thread).major_mm / 2, relief_mm(bush) / 2
    edge_mm, seat_mm = thread_edge_mm(bush), bush.flange_mm
    spigot_mm, start_mm = seat_mm + bush.register_length_mm, seat_mm + before_thread_mm(bush)
    mouth, deep_mm = bore + BORE_BEVEL_MM / 2, BORE_BEVEL_MM / 2 / BEVEL_SLOPE
    return [
        Corner(0.0, flange - FLANGE_EDGE_MM, "front face"),
        Corner(FLANGE_EDGE_MM, flange, "front chamfer"),
        Corner(seat_mm, flange, "flange"),
        Corner(seat_mm, spigot, "flange seat"),
        Corner(spigot_mm - SPIGOT_EDGE_MM, spigot, "spigot"),
        Corner(spigot_mm, spigot - SPIGOT_EDGE_MM, "spigot chamfer"),
        Corner(spigot_mm, groove, "spigot end"),
        Corner(start_mm, groove, "relief"),
        Corner(start_mm, major, "relief end"),
        Corner(length_mm - edge_mm, major, "thread"),
        Corner(length_mm, major - edge_mm, "rear chamfer"),
        Corner(length_mm, mouth, "rear face"),
        Corner(length_mm - deep_mm, bore, "rear bevel"),
        Corner(deep_mm, bore, "bore"),
        Corner(0.0, mouth, "front bevel"),
    ]
