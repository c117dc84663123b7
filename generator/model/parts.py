"""The parts to be made, each from the completed parameters, and the bought screw and springs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import cos, floor, pi, radians, sin, tan

from generator.formulas import cone
from generator.inputs.parameters import Parameters
from generator.inputs.tables import (
    DrawbarMount,
    EjectedMount,
    MorseMount,
    Shoulder,
    StraightMount,
)
from generator.model import keeping
from generator.model.keeping import BOUGHT_STEEL_G_PER_CM3
from generator.model.outline import Corner, Outline
from generator.model.part import DriverSlot, HexSocket, Part, SideFlat, Thread
from generator.model.springs import CoilSpring
from generator.model.tips import DRILL_POINT_DEG, End, reverse
from generator.standards.rows import Material, MorseTaper
from generator.standards.rows import Thread as ThreadRow

BEVEL_DEG = 60.0
BEVEL_SLOPE = tan(radians(BEVEL_DEG / 2))
RUN_OUT_TURNS = 3.0
HEAD_EDGE_MM = 0.3
"""Chamfer on the edges of a plunger's head and tail; common practice, no source."""
THREAD_RIM_MM = 0.5
"""How much larger in radius than the thread bevel and recess at the rear end are together."""
BALL_RUNS = 120


def morse_taper(mount: MorseMount) -> MorseTaper:
    """Return the row of the table for a Morse mount."""
    return MorseTaper.find(mount.row_name)


def stand_out_mm(p: Parameters) -> float:
    """Return how far a taper stands out of its socket; 0 for a straight shank."""
    return 0.0 if isinstance(p.mount, StraightMount) else morse_taper(p.mount).projection_mm


def mount_diameter_mm(p: Parameters) -> float:
    """Return the largest diameter of the mount."""
    if isinstance(p.mount, StraightMount):
        return p.mount.diameter_mm
    row = morse_taper(p.mount)
    return row.gauge_diameter_mm + row.taper * row.projection_mm


def rear_diameter_mm(p: Parameters) -> float:
    """Return the outside diameter over the rear thread."""
    match p.mount:
        case StraightMount():
            return p.mount.diameter_mm
        case EjectedMount() if p.mount.extension_length_mm > 0:
            return p.mount.extension_diameter_mm
        case _:
            return morse_taper(p.mount).small_diameter_mm


def mount_length_mm(p: Parameters) -> float:
    """Return the length of the body behind the nose."""
    match p.mount:
        case StraightMount():
            return p.mount.length_mm
        case EjectedMount():
            row = morse_taper(p.mount)
            return row.projection_mm + row.length_mm + p.mount.extension_length_mm
        case DrawbarMount():
            row = morse_taper(p.mount)
            return row.projection_mm + row.length_mm


def body_length_mm(p: Parameters) -> float:
    """Return the length of the body."""
    return p.body.nose_length_mm + mount_length_mm(p)


def pocket_mm(p: Parameters) -> float:
    """Return the diameter of the bore in which the springs lie: the reamed one, or the pocket."""
    return p.bore.diameter_mm if p.shoulder is None else p.shoulder.pocket_mm


def rear_hole_mm(p: Parameters) -> float:
    """Return the diameter of the hole that the rear thread is cut in.

    The bore itself, if it lies within the limits of the thread's minor diameter or above; else the
    tapping drill.
    """
    row = ThreadRow.find(p.plug.thread)
    bore = pocket_mm(p)
    return bore if bore >= row.minor_least_mm else max(bore, row.tapping_drill_mm)


def second_plug_mm(p: Parameters) -> float:
    """Return the length of the second plug that locks the first from behind; 0 for none."""
    return p.plug.length_mm if p.plug.locking == "second plug" else 0.0


def rear_full_thread_mm(p: Parameters) -> float:
    """Return the length of full thread from the rear face."""
    return p.plug.tapped_mm


def rear_hole_depth_mm(p: Parameters) -> float:
    """Return the full depth of the hole for the rear thread, from the rear face."""
    return rear_full_thread_mm(p) + RUN_OUT_TURNS * ThreadRow.find(p.plug.thread).pitch_mm


def rear_hole_start_mm(p: Parameters) -> float:
    """Return how far the bore is free of the rear thread and of its hole, from the nose face."""
    widening_mm = (rear_hole_mm(p) - pocket_mm(p)) / 2
    drop_mm = widening_mm / tan(radians(DRILL_POINT_DEG / 2))
    return body_length_mm(p) - rear_hole_depth_mm(p) - drop_mm


def nose_hollow_mm(p: Parameters) -> float:
    """Return the largest diameter that is hollow within the nose."""
    if p.shoulder is None:
        return p.bore.diameter_mm
    inside = p.shoulder.guide_mm < p.body.nose_length_mm
    return p.shoulder.pocket_mm if inside else p.bore.diameter_mm


def plug_face_mm(p: Parameters) -> float:
    """Return where the face stands on which the last spring bears, from the nose face."""
    return body_length_mm(p) - p.plug.sunk_mm - p.plug.length_mm


def front_bevel_mm(p: Parameters) -> float:
    """Return how far recess and bevel reach into the bore, where nothing guides the plunger."""
    return p.body.recess_mm + p.body.bevel_mm / 2 / BEVEL_SLOPE


def body(p: Parameters) -> Part:
    """Return the body; z = 0 at the nose face, positive toward the shank."""
    row = ThreadRow.find(p.plug.thread)
    length_mm = body_length_mm(p)
    outside, planes = _body_outside(p, length_mm, row.major_mm)
    material = Material.find(p.body.material)
    return Part(
        name="body",
        title="Body",
        outline=Outline(tuple(outside + _body_inside(p, length_mm, row)), planes),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
        cuts=keeping.hole_across(p),
        threads=(
            Thread(
                surface="rear thread",
                designation=row.name,
                tolerance_class=row.tolerance_class,
                major_mm=row.major_mm,
                minor_mm=row.minor_mm,
                full_mm=rear_full_thread_mm(p),
                external=False,
            ),
        ),
    )


def _body_outside(
    p: Parameters, length_mm: float, thread_mm: float
) -> tuple[list[Corner], tuple[tuple[str, float], ...]]:
    """Return the corners up the front face, along the outside and to the edge of the rear face."""
    nose, edge_mm = p.body.nose_diameter_mm / 2, p.body.edge_mm
    corners = [Corner(0.0, nose - edge_mm, "front face")]
    if edge_mm > 0:
        corners.append(Corner(edge_mm, nose, "nose chamfer"))
    corners.append(Corner(p.body.nose_length_mm, nose, "nose"))
    behind, planes = _mount_outside(p, length_mm)
    corners += [corner for corner in behind if corner.surface != "shoulder" or corner.r_mm != nose]
    room_mm = (rear_diameter_mm(p) - thread_mm) / 2 - THREAD_RIM_MM
    rear_edge_mm = min(edge_mm, floor(max(room_mm, 0.0) / 2 * 10) / 10)
    return (_chamfered(corners, rear_edge_mm) if rear_edge_mm > 0 else corners), planes


def _mount_outside(
    p: Parameters, length_mm: float
) -> tuple[list[Corner], tuple[tuple[str, float], ...]]:
    """Return the corners behind the nose, and the planes that the mount is known by."""
    nose_mm, rear = p.body.nose_length_mm, rear_diameter_mm(p) / 2
    if isinstance(p.mount, StraightMount):
        shank = [Corner(nose_mm, rear, "shoulder"), Corner(length_mm, rear, "shank")]
        return shank, (("shank start", nose_mm),)
    row = morse_taper(p.mount)
    gauge_mm = nose_mm + row.projection_mm
    small_mm = gauge_mm + row.length_mm
    corners = [
        Corner(nose_mm, mount_diameter_mm(p) / 2, "shoulder"),
        Corner(small_mm, row.small_diameter_mm / 2, "taper"),
    ]
    if length_mm > small_mm:
        corners += [Corner(small_mm, rear, "rear shoulder"), Corner(length_mm, rear, "extension")]
    return corners, (("gauge plane", gauge_mm), ("small end", small_mm))


def _chamfered(corners: list[Corner], edge_mm: float) -> list[Corner]:
    """Return an outside whose last corner is broken by a chamfer."""
    before, last = corners[-2:]
    slope = (last.r_mm - before.r_mm) / (last.z_mm - before.z_mm)
    return [
        *corners[:-1],
        Corner(last.z_mm - edge_mm, last.r_mm - slope * edge_mm, last.surface),
        Corner(last.z_mm, last.r_mm - edge_mm, "rear chamfer"),
    ]


def _body_inside(p: Parameters, length_mm: float, row: ThreadRow) -> list[Corner]:
    """Return the corners down the rear face and back along the bore to the front face."""
    bore, hole = pocket_mm(p) / 2, rear_hole_mm(p) / 2
    recess = p.body.recess_mm
    mouth = row.major_mm / 2 + THREAD_RIM_MM / 2
    rim = mouth + THREAD_RIM_MM / 2 if recess > 0 else mouth
    z_mm = length_mm - recess
    corners = [Corner(length_mm, rim, "rear face")]
    if recess > 0:
        corners += [Corner(z_mm, rim, "rear recess"), Corner(z_mm, mouth, "rear recess floor")]
    corners.append(Corner(z_mm - (mouth - hole) / BEVEL_SLOPE, hole, "rear bevel"))
    foot_mm = length_mm - rear_hole_depth_mm(p)
    corners.append(Corner(foot_mm, hole, "rear thread"))
    if hole > bore:
        drop = (hole - bore) / tan(radians(DRILL_POINT_DEG / 2))
        corners.append(Corner(foot_mm - drop, bore, "drill point"))
    return corners + _front_inside(p)


def _front_inside(p: Parameters) -> list[Corner]:
    """Return the corners from the bore that holds the springs to the front face."""
    bore = p.bore.diameter_mm / 2
    corners = []
    if p.shoulder is not None:
        corners = [
            Corner(p.shoulder.guide_mm, pocket_mm(p) / 2, "spring pocket"),
            Corner(p.shoulder.guide_mm, bore, "step"),
        ]
    recess, bevel = p.body.recess_mm, p.body.bevel_mm / 2
    mouth = bore + bevel
    rim = mouth + 0.25 if recess > 0 else mouth
    corners.append(Corner(recess + bevel / BEVEL_SLOPE, bore, "bore"))
    if bevel > 0:
        corners.append(Corner(recess, mouth, "front bevel"))
    if recess > 0:
        corners += [Corner(recess, rim, "front recess floor"), Corner(0.0, rim, "front recess")]
    return corners


def plunger_ends(p: Parameters) -> tuple[End, End]:
    """Return the front and the rear end of the plunger."""
    return (
        End(p.plunger.front, p.plunger.diameter_mm),
        End(p.plunger.rear, p.plunger.diameter_mm),
    )


def plunger(p: Parameters) -> Part:
    """Return the plunger; z = 0 at its front tip."""
    if p.shoulder is not None:
        return _shouldered(p, p.shoulder)
    front, rear = plunger_ends(p)
    length_mm = p.plunger.length_mm
    tail = reverse(rear.outside("rear"), length_mm)
    back = reverse(rear.inside("rear"), length_mm)
    first = front.outside("front")
    tail[0] = replace(tail[0], surface="guide")
    named = "rear point" if rear.point and len(tail) == 1 else f"rear {rear.face}"
    if rear.outside("rear")[0].r_mm > 0 and back[0].r_mm < tail[-1].r_mm:
        back[0] = replace(back[0], surface=named)
    else:
        back = back[1:]
    inner = front.inside("front")
    corners = [*first, *tail, *back, *inner]
    if corners[-1].r_mm == corners[0].r_mm and corners[-1].z_mm == corners[0].z_mm:
        *corners, last = corners
        corners[0] = replace(corners[0], surface=last.surface)
    material = Material.find(p.plunger.material)
    return Part(
        name="plunger",
        title="Plunger",
        outline=Outline(tuple(corners)),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
        cuts=(*keeping.slot(p), *side_flats(front, rear, length_mm)),
    )


def _shouldered(p: Parameters, shoulder: Shoulder) -> Part:
    """Return a plunger with a head behind its stem, and a tail that meets the plug."""
    front, edge = plunger_ends(p)[0], HEAD_EDGE_MM
    stem, head, tail = (
        each / 2
        for each in (p.plunger.diameter_mm, shoulder.head_diameter_mm, shoulder.tail_diameter_mm)
    )
    rear_mm = shoulder.stem_mm + shoulder.head_length_mm
    length_mm = p.plunger.length_mm
    corners = [
        *front.outside("front"),
        Corner(shoulder.stem_mm, stem, "guide"),
        Corner(shoulder.stem_mm, head - edge, "shoulder"),
        Corner(shoulder.stem_mm + edge, head, "head chamfer"),
        Corner(rear_mm - edge, head, "head"),
        Corner(rear_mm, head - edge, "rear head chamfer"),
        Corner(rear_mm, tail, "seat"),
        Corner(length_mm - edge, tail, "tail"),
        Corner(length_mm, tail - edge, "tail chamfer"),
        Corner(length_mm, 0.0, "rear face"),
        *front.inside("front"),
    ]
    material = Material.find(p.plunger.material)
    return Part(
        name="plunger",
        title="Plunger",
        outline=Outline(tuple(corners)),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
    )


def side_flats(front: End, rear: End, length_mm: float) -> Iterator[SideFlat]:
    """Yield the side flats of half centres."""
    if front.relief is not None:
        yield SideFlat("front side flat", 0.0, front.relief_length_mm, front.relief.relief_mm)
    if rear.relief is not None:
        start_mm = length_mm - rear.relief_length_mm
        yield SideFlat("rear side flat", start_mm, rear.relief_length_mm, rear.relief.relief_mm)


def plug(p: Parameters) -> Part:
    """Return the plug; z = 0 at the face toward the springs."""
    row = ThreadRow.find(p.plug.thread)
    radius, length_mm, vent = row.major_mm / 2, p.plug.length_mm, p.plug.vent_mm / 2
    edge = min(round(0.65 * row.pitch_mm, 1), length_mm / 4)
    corners = [
        Corner(0.0, radius - edge, "front face"),
        Corner(edge, radius, "front chamfer"),
        Corner(length_mm - edge, radius, "thread"),
        Corner(length_mm, radius - edge, "rear chamfer"),
        Corner(length_mm, vent, "rear face"),
        Corner(0.0, vent, "vent" if vent > 0 else "axis"),
    ]
    make = DriverSlot if p.plug.drive == "slot" else HexSocket
    material = Material.find(p.plug.material)
    return Part(
        name="plug",
        title="Plug",
        outline=Outline(tuple(corners)),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
        cuts=(make("driver", p.plug.drive_width_mm, p.plug.drive_depth_mm),),
        threads=(
            Thread(
                surface="thread",
                designation=row.name,
                tolerance_class="6g" if row.tolerance_class == "6H" else "2A",
                major_mm=row.major_mm,
                minor_mm=row.minor_mm,
                full_mm=length_mm,
                external=True,
            ),
        ),
    )


def button(p: Parameters) -> Part | None:
    """Return the button between plunger and springs, if there is one; z = 0 at the plunger."""
    if p.button is None:
        return None
    radius, vent, thickness = (
        p.button.diameter_mm / 2,
        p.button.vent_mm / 2,
        p.button.thickness_mm,
    )
    recess, hole = p.button.recess_mm / 2, "vent" if vent > 0 else "axis"
    corners = [
        Corner(0.0, radius, "front face"),
        Corner(thickness, radius, "rim"),
        Corner(thickness, vent, "rear face"),
    ]
    if recess > vent:
        depth = cone.countersink_depth_mm(
            mouth_mm=2 * recess, pilot_mm=2 * vent, angle_deg=BEVEL_DEG
        )
        corners += [Corner(depth, vent, hole), Corner(0.0, recess, "recess")]
    else:
        corners.append(Corner(0.0, vent, hole))
    return _disc("button", "Button", p.button.material, corners)


def separator(p: Parameters) -> Part | None:
    """Return the washer between two springs, if there is one."""
    if p.separator is None or len(p.springs) < 2:
        return None
    radius, hole, thickness = (
        p.separator.diameter_mm / 2,
        p.separator.hole_mm / 2,
        p.separator.thickness_mm,
    )
    corners = [
        Corner(0.0, radius, "front face"),
        Corner(thickness, radius, "rim"),
        Corner(thickness, hole, "rear face"),
        Corner(0.0, hole, "hole"),
    ]
    return _disc("separator", "Separator", p.separator.material, corners)


def _disc(name: str, title: str, material: str, corners: list[Corner]) -> Part:
    row = Material.find(material)
    return Part(
        name=name,
        title=title,
        outline=Outline(tuple(corners)),
        material=row.name,
        density_g_per_cm3=row.density_g_per_cm3,
    )


def ball(end: End) -> Part | None:
    """Return the bearing ball bonded in an end, if there is one; z = 0 at one of its poles.

    Its corners lie a degree and a half apart: a chord lies within the ball by 0.00009 of its
    radius, and the circles that touch cones of 60 and of 90 degrees are among the corners.
    """
    if not end.ball_mm:
        return None
    radius = end.ball_mm / 2
    turns = [pi * n / BALL_RUNS for n in range(BALL_RUNS + 1)]
    places = [(radius * (1 - cos(each)), max(0.0, radius * sin(each))) for each in turns]
    (pole, *round_it) = places
    return Part(
        name="ball",
        title="Ball",
        outline=Outline(
            (
                Corner(*pole, "axis"),
                *(Corner(z, r, "ball", radius) for z, r in round_it[:-1]),
                Corner(2 * radius, 0.0, "ball", radius),
            )
        ),
        material="bearing steel, bought",
        density_g_per_cm3=BOUGHT_STEEL_G_PER_CM3,
    )


def spring_envelope(spring: CoilSpring, name: str, length_mm: float) -> Part:
    """Return the tube that a spring fills at a length; its name is as "spring 1 inner"."""
    outside, inside = spring.outside_mm / 2, spring.inside_mm / 2
    return Part(
        name=f"{name.replace(' ', '-')}-envelope",
        title=f"{name.capitalize()} (envelope)",
        outline=Outline(
            (
                Corner(0.0, outside, "front face"),
                Corner(length_mm, outside, "outside"),
                Corner(length_mm, inside, "rear face"),
                Corner(0.0, inside, "inside"),
            )
        ),
        material=spring.grade,
        density_g_per_cm3=BOUGHT_STEEL_G_PER_CM3,
    )
