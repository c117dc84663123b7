"""The parts to be made, each from the completed parameters, and the bought screw and springs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import cos, floor, isclose, pi, radians, sin, tan

from generator.formulas import cone
from generator.inputs.parameters import Parameters
from generator.inputs.tables import Disc, Plug, Shoulder
from generator.model import bush as bushes
from generator.model import keeping, screwed
from generator.model.keeping import BOUGHT_STEEL_G_PER_CM3
from generator.model.mouths import (
    BEVEL_DEG,
    BEVEL_SLOPE,
    RIM_MM,
    RUN_OUT_TURNS,
    bevel_depth_mm,
    hole_to_tap_mm,
    thread_chamfer_mm,
)
from generator.model.outline import Corner, Outline
from generator.model.part import CrossHole, DriverSlot, HexSocket, Part, SideFlat, Slot, Thread
from generator.model.shank import Shank, Socket, shank_of
from generator.model.springs import CoilSpring
from generator.model.tips import DRILL_POINT_DEG, End, reverse
from generator.standards.rows import Material
from generator.standards.rows import Thread as ThreadRow

HEAD_EDGE_MM = 0.3
"""Chamfer on the edges of a plunger's head and tail; common practice, no source."""
THREAD_RIM_MM = 0.5
"""How much larger in radius than the thread bevel and recess at the rear end are together."""
BALL_RUNS = 120
BEFORE_DISC_MM = 0.5
CENTRE_SHARE = 0.4
"""Mouth of the centre in a solid rear end, of the end; common practice, no source."""
DRILL_SLOPE = tan(radians(DRILL_POINT_DEG / 2))


def body_length_mm(p: Parameters) -> float:
    """Return the length of the body."""
    return p.body.nose_length_mm + shank_of(p.mount).length_mm


def pocket_mm(p: Parameters) -> float:
    """Return the diameter of the bore in which the springs lie: the reamed one, or the pocket."""
    return p.bore.diameter_mm if p.shoulder is None else p.shoulder.pocket_mm


def rear_hole_mm(p: Parameters) -> float:
    """Return the diameter of the hole that the rear thread is cut in; a blind bore has none."""
    bore = pocket_mm(p)
    return bore if p.plug is None else hole_to_tap_mm(ThreadRow.find(p.plug.thread), bore)


def second_plug_mm(p: Parameters) -> float:
    """Return the length of the second plug that locks the first from behind; 0 for none."""
    plug = p.plug
    return plug.length_mm if plug is not None and plug.locking == "second plug" else 0.0


def rear_full_thread_mm(p: Parameters) -> float:
    """Return the length of full thread from the rear face; 0 for none."""
    return 0.0 if p.plug is None else p.plug.tapped_mm


def rear_hole_depth_mm(p: Parameters) -> float:
    """Return the full depth of the hole for the rear thread, from the rear face; 0 for none."""
    if p.plug is None:
        return 0.0
    return rear_full_thread_mm(p) + RUN_OUT_TURNS * ThreadRow.find(p.plug.thread).pitch_mm


def rear_hole_start_mm(p: Parameters) -> float:
    """Return how far the bore is free from the nose face: to the rear hole, or to the disc."""
    if p.disc is not None:
        return plug_face_mm(p)
    widening_mm = (rear_hole_mm(p) - pocket_mm(p)) / 2
    drop_mm = widening_mm / tan(radians(DRILL_POINT_DEG / 2))
    return body_length_mm(p) - rear_hole_depth_mm(p) - drop_mm


def mouth_mm(p: Parameters) -> float:
    """Return the diameter of what opens at the nose face: the bore, or the register of a bush."""
    return p.bore.diameter_mm if p.bush is None else p.bush.register_mm


def nose_hollow_mm(p: Parameters) -> float:
    """Return the largest diameter that is hollow within the nose."""
    if p.bush is not None:
        return p.bush.register_mm
    if p.shoulder is None:
        return p.bore.diameter_mm
    inside = p.shoulder.guide_mm < p.body.nose_length_mm
    return p.shoulder.pocket_mm if inside else p.bore.diameter_mm


def plug_face_mm(p: Parameters) -> float:
    """Return where the face stands on which the last spring bears, from the nose face.

    That of the plug, or of the disc, whose edge rests on the cone that the drill left.
    """
    if p.disc is not None:
        return disc_rest_mm(p, p.disc) - p.disc.thickness_mm
    assert p.plug is not None
    return body_length_mm(p) - p.plug.sunk_mm - p.plug.length_mm


def disc_rest_mm(p: Parameters, disc: Disc) -> float:
    """Return where the rear face of the disc rests, from the nose face."""
    return disc.bottom_mm + (pocket_mm(p) - disc.diameter_mm) / 2 / DRILL_SLOPE


def blind_end_mm(p: Parameters, disc: Disc) -> float:
    """Return where a blind bore ends, from the nose face: the tip of the drill's cone."""
    return disc.bottom_mm + pocket_mm(p) / 2 / DRILL_SLOPE


def way_out_mm(p: Parameters) -> dict[str, float]:
    """Return the hole by which the air leaves the bore behind the springs, by its key."""
    if p.disc is not None:
        return {"disc.vent_mm": p.disc.vent_mm}
    assert p.plug is not None
    return {"plug.vent_mm": p.plug.vent_mm}


def solid_start_mm(p: Parameters) -> float:
    """Return where solid metal has to end behind a blind bore: at tang, socket or rear face."""
    shank = shank_of(p.mount)
    length_mm = body_length_mm(p)
    if shank.tang is not None:
        return length_mm - shank.tang.neck_mm
    return length_mm - (shank.socket.depth_mm if shank.socket else 0.0)


def front_bevel_mm(p: Parameters) -> float:
    """Return how much of the guiding bore its mouth takes, where nothing guides the plunger.

    Recess and bevel of the body, or both bevels of a nose bush.
    """
    return bevel_depth_mm(p) if p.bush is None else bushes.mouths_mm(p)


def body(p: Parameters) -> Part:
    """Return the body; z = 0 at the nose face, positive toward the shank."""
    length_mm, shank = body_length_mm(p), shank_of(p.mount)
    inside = _body_inside(p, length_mm, shank)
    outside, planes = _body_outside(p, length_mm, inside[0].r_mm)
    material = Material.find(p.body.material)
    return Part(
        name="body",
        title="Body",
        outline=Outline(tuple(outside + inside), planes),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
        cuts=(
            *_tang(shank, length_mm),
            *keeping.hole_across(p),
            *_vent_hole(p),
            *_milled(p, shank),
        ),
        threads=tuple(_body_threads(p, shank)),
    )


def _body_threads(p: Parameters, shank: Shank) -> Iterator[Thread]:
    """Yield the threads of the body: for a nose bush, for the plug, or for an arbor."""
    if p.bush is not None:
        yield bushes.nose_thread(p, p.bush)
    if p.plug is not None:
        yield _internal("rear thread", ThreadRow.find(p.plug.thread), rear_full_thread_mm(p))
    if shank.socket is not None and shank.socket.thread is not None:
        full_mm = shank.socket.register_length_mm + shank.socket.length_mm
        yield _internal("arbor thread", shank.socket.thread, full_mm)


def _internal(surface: str, row: ThreadRow, full_mm: float) -> Thread:
    return Thread(
        surface=surface,
        designation=row.name,
        tolerance_class=row.tolerance_class,
        major_mm=row.major_mm,
        minor_mm=row.minor_mm,
        full_mm=full_mm,
        external=False,
    )


def _vent_hole(p: Parameters) -> Iterator[CrossHole]:
    """Yield the hole through the wall that lets the air out of a blind bore, if it has one."""
    if p.disc is not None and p.disc.vent == "side":
        yield CrossHole("vent hole", vent_position_mm(p, p.disc), p.disc.vent_mm)


def vent_position_mm(p: Parameters, disc: Disc) -> float:
    """Return where the vent through the wall stands: just before the disc, from the nose face."""
    return plug_face_mm(p) - disc.vent_mm / 2 - BEFORE_DISC_MM


def _milled(p: Parameters, shank: Shank) -> Iterator[Slot]:
    """Yield what is milled into the parallel part of the shank, counted from the nose face."""
    if shank.milled is not None:
        yield replace(shank.milled, front_mm=p.body.nose_length_mm + shank.milled.front_mm)


def _tang(shank: Shank, length_mm: float) -> Iterator[SideFlat]:
    """Yield the two flats of a tang, as one cut."""
    if shank.tang is not None:
        flat_mm, half = shank.tang.flat_mm, shank.tang.thickness_mm / 2
        yield SideFlat("tang", length_mm - flat_mm, flat_mm, half, both=True)


def _body_outside(
    p: Parameters, length_mm: float, mouth: float
) -> tuple[list[Corner], tuple[tuple[str, float], ...]]:
    """Return the corners up the front face, along the outside and to the edge of the rear face."""
    nose, edge_mm = p.body.nose_diameter_mm / 2, p.body.edge_mm
    corners = [Corner(0.0, nose - edge_mm, "front face")]
    if edge_mm > 0:
        corners.append(Corner(edge_mm, nose, "nose chamfer"))
    corners.append(Corner(p.body.nose_length_mm, nose, "nose"))
    behind, planes = _mount_outside(p, length_mm)
    corners += [corner for corner in behind if corner.surface != "shoulder" or corner.r_mm != nose]
    shank = shank_of(p.mount)
    room_mm = shank.rear_diameter_mm / 2 - mouth
    if shank.cylinder is not None:
        room_mm = min(room_mm, shank.cylinder.length_mm)
    if shank.milled is not None and shank.milled.open:
        room_mm = min(room_mm, shank.milled.depth_mm)
    if shank_of(p.mount).tang is not None:
        room_mm = 0.0
    rear_edge_mm = min(edge_mm, floor(max(room_mm, 0.0) / 2 * 10) / 10)
    return (_chamfered(corners, rear_edge_mm) if rear_edge_mm > 0 else corners), planes


def _mount_outside(
    p: Parameters, length_mm: float
) -> tuple[list[Corner], tuple[tuple[str, float], ...]]:
    """Return the corners behind the nose, and the planes that the mount is known by."""
    shank, at_mm = shank_of(p.mount), p.body.nose_length_mm
    corners = [Corner(at_mm, shank.diameter_mm / 2, "shoulder")]
    planes: list[tuple[str, float]] = []
    if shank.taper is not None:
        planes.append(("gauge plane", at_mm + shank.taper.stand_out_mm))
        at_mm += shank.taper.whole_mm
        planes.append(("small end", at_mm))
        corners.append(Corner(at_mm, shank.taper.small_diameter_mm / 2, "taper"))
    if shank.cylinder is not None:
        radius = shank.cylinder.diameter_mm / 2
        if shank.taper is not None and not isclose(corners[-1].r_mm, radius):
            corners.append(Corner(at_mm, radius, "rear shoulder"))
        corners.append(Corner(length_mm, radius, shank.cylinder.surface))
        if shank.cylinder.surface == "shank":
            planes.append(("shank start", at_mm))
    if p.disc is not None:
        planes.append(("bottom", p.disc.bottom_mm))
    return corners, tuple(planes)


def _chamfered(corners: list[Corner], edge_mm: float) -> list[Corner]:
    """Return an outside whose last corner is broken by a chamfer."""
    before, last = corners[-2:]
    slope = (last.r_mm - before.r_mm) / (last.z_mm - before.z_mm)
    return [
        *corners[:-1],
        Corner(last.z_mm - edge_mm, last.r_mm - slope * edge_mm, last.surface),
        Corner(last.z_mm, last.r_mm - edge_mm, "rear chamfer"),
    ]


def _body_inside(p: Parameters, length_mm: float, shank: Shank) -> list[Corner]:
    """Return the corners down the rear face and back along the bore to the front face."""
    if p.disc is not None:
        return _blind(p, p.disc, length_mm, shank) + _front_inside(p)
    assert p.plug is not None
    row = ThreadRow.find(p.plug.thread)
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
        corners.append(Corner(foot_mm - (hole - bore) / DRILL_SLOPE, bore, "drill point"))
    return corners + _front_inside(p)


def _blind(p: Parameters, disc: Disc, length_mm: float, shank: Shank) -> list[Corner]:
    """Return the corners from the rear face to the bottom of a blind bore."""
    bore, vent = pocket_mm(p) / 2, disc.vent_mm / 2 if disc.vent == "rear" else 0.0
    foot_mm = disc.bottom_mm + (bore - vent) / DRILL_SLOPE
    if shank.socket is not None:
        corners = _socket(shank.socket, length_mm)
    else:
        corners = _rear_centre(shank, length_mm, vent)
    corners.append(Corner(foot_mm, vent, "vent" if vent else "axis"))
    return [*corners, Corner(disc.bottom_mm, bore, "drill point")]


def _rear_centre(shank: Shank, length_mm: float, vent: float) -> list[Corner]:
    """Return the corners of a centre in the rear face, over the vent or over a pilot hole."""
    across_mm = shank.rear_diameter_mm if shank.tang is None else shank.tang.thickness_mm
    mouth = max(round(CENTRE_SHARE * across_mm, 1) / 2, vent + 0.5)
    pilot = vent or round(mouth, 1) / 2
    cone_mm = length_mm - (mouth - pilot) / BEVEL_SLOPE
    corners = [Corner(length_mm, mouth, "rear face"), Corner(cone_mm, pilot, "rear bevel")]
    if not vent:
        deep_mm = cone_mm - 2 * pilot
        corners.append(Corner(deep_mm, pilot, "rear centre"))
        corners.append(Corner(deep_mm - pilot / DRILL_SLOPE, 0.0, "rear centre point"))
    return corners


def _socket(socket: Socket, length_mm: float) -> list[Corner]:
    """Return the corners of what an arbor goes into, from the rear face to the axis."""
    foot, z_mm = socket.foot_mm / 2, length_mm
    if socket.thread is None:
        corners = [
            Corner(z_mm, socket.mouth_mm / 2, "rear face"),
            Corner(z_mm - socket.depth_mm, foot, "socket taper"),
        ]
    else:
        mouth = socket.mouth_mm / 2 + THREAD_RIM_MM / 2
        corners = []
        if socket.register_mm > 0:
            register = socket.register_mm / 2
            corners.append(Corner(z_mm, register, "rear face"))
            z_mm -= socket.register_length_mm
            corners.append(Corner(z_mm, register, "arbor register"))
        corners.append(Corner(z_mm, mouth, "arbor register floor" if corners else "rear face"))
        corners.append(Corner(z_mm - (mouth - foot) / BEVEL_SLOPE, foot, "rear bevel"))
        corners.append(Corner(length_mm - socket.depth_mm, foot, "arbor thread"))
    return [*corners, Corner(length_mm - socket.depth_mm, 0.0, "socket floor")]


def _front_inside(p: Parameters) -> list[Corner]:
    """Return the corners from the bore that holds the springs to the front face."""
    bore = mouth_mm(p) / 2
    corners: list[Corner] = []
    if p.bush is not None:
        corners = bushes.seat(p, p.bush)
    elif p.shoulder is not None:
        corners = [
            Corner(p.shoulder.guide_mm, pocket_mm(p) / 2, "spring pocket"),
            Corner(p.shoulder.guide_mm, bore, "step"),
        ]
    recess, bevel = p.body.recess_mm, p.body.bevel_mm / 2
    mouth = bore + bevel
    rim = mouth + RIM_MM if recess > 0 else mouth
    surface = "bore" if p.bush is None else "register"
    corners.append(Corner(bevel_depth_mm(p), bore, surface))
    if bevel > 0:
        corners.append(Corner(recess, mouth, "front bevel"))
    if recess > 0:
        corners += [Corner(recess, rim, "front recess floor"), Corner(0.0, rim, "front recess")]
    return corners


def plunger_ends(p: Parameters) -> tuple[End, End]:
    """Return the front and the rear end of the plunger; the front one may be a screwed tip's."""
    front = screwed.tip_ends(p)[:1] or (End(p.plunger.front, p.plunger.diameter_mm),)
    return front[0], End(p.plunger.rear, p.plunger.diameter_mm)


def plunger(p: Parameters) -> Part:
    """Return the plunger; z = 0 at its front: its tip, or the face on which a screwed one bears."""
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
    front, tips, edge = plunger_ends(p)[0], p.screwed_tips, HEAD_EDGE_MM
    stem, head, tail = (
        each / 2
        for each in (p.plunger.diameter_mm, shoulder.head_diameter_mm, shoulder.tail_diameter_mm)
    )
    rear_mm = shoulder.stem_mm + shoulder.head_length_mm
    length_mm = p.plunger.length_mm
    corners = [
        *(front.outside("front") if tips is None else [Corner(0.0, stem, "front face")]),
        Corner(shoulder.stem_mm, stem, "guide"),
        Corner(shoulder.stem_mm, head - edge, "shoulder"),
        Corner(shoulder.stem_mm + edge, head, "head chamfer"),
        Corner(rear_mm - edge, head, "head"),
        Corner(rear_mm, head - edge, "rear head chamfer"),
        Corner(rear_mm, tail, "seat"),
        Corner(length_mm - edge, tail, "tail"),
        Corner(length_mm, tail - edge, "tail chamfer"),
        Corner(length_mm, 0.0, "rear face"),
        *(front.inside("front") if tips is None else screwed.stem_hole(tips)),
    ]
    material = Material.find(p.plunger.material)
    return Part(
        name="plunger",
        title="Plunger",
        outline=Outline(tuple(corners)),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
        cuts=() if tips is None else (screwed.spanner_flats("flats", 0.0, tips),),
        threads=() if tips is None else (screwed.stem_thread(tips),),
    )


def side_flats(front: End, rear: End, length_mm: float) -> Iterator[SideFlat]:
    """Yield the side flats of half centres."""
    if front.relief is not None:
        yield SideFlat("front side flat", 0.0, front.relief_length_mm, front.relief.relief_mm)
    if rear.relief is not None:
        start_mm = length_mm - rear.relief_length_mm
        yield SideFlat("rear side flat", start_mm, rear.relief_length_mm, rear.relief.relief_mm)


def abutment(p: Parameters) -> Part:
    """Return what the springs stand on, plug or disc; z = 0 at the face toward them."""
    if p.disc is not None:
        return _disc(p.disc)
    assert p.plug is not None
    return _plug(p.plug)


def _disc(disc: Disc) -> Part:
    radius, vent = disc.diameter_mm / 2, disc.vent_mm / 2 if disc.vent == "rear" else 0.0
    corners = [
        Corner(0.0, radius, "front face"),
        Corner(disc.thickness_mm, radius, "rim"),
        Corner(disc.thickness_mm, vent, "rear face"),
        Corner(0.0, vent, "vent" if vent > 0 else "axis"),
    ]
    return _washer("disc", "Disc", disc.material, corners)


def _plug(plug: Plug) -> Part:
    row = ThreadRow.find(plug.thread)
    radius, length_mm, vent = row.major_mm / 2, plug.length_mm, plug.vent_mm / 2
    edge = min(thread_chamfer_mm(row), length_mm / 4)
    corners = [
        Corner(0.0, radius - edge, "front face"),
        Corner(edge, radius, "front chamfer"),
        Corner(length_mm - edge, radius, "thread"),
        Corner(length_mm, radius - edge, "rear chamfer"),
        Corner(length_mm, vent, "rear face"),
        Corner(0.0, vent, "vent" if vent > 0 else "axis"),
    ]
    make = DriverSlot if plug.drive == "slot" else HexSocket
    material = Material.find(plug.material)
    return Part(
        name="plug",
        title="Plug",
        outline=Outline(tuple(corners)),
        material=material.name,
        density_g_per_cm3=material.density_g_per_cm3,
        cuts=(make("driver", plug.drive_width_mm, plug.drive_depth_mm),),
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
    return _washer("button", "Button", p.button.material, corners)


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
    return _washer("separator", "Separator", p.separator.material, corners)


def _washer(name: str, title: str, material: str, corners: list[Corner]) -> Part:
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
