"""The set screw or the pin against everything else: it stands across, so the kernel measures it.

Of the plunger only what lies about the tip is looked at: a box a little larger than all that the
screw comes near in the stroke. What lies outside of it is farther off than `FAR_MM`. The screw is
taken with its drive filled in: that is more metal than there is, never less, and far from the tip.

What a turned screw passes through as it goes along the slot is the screw at both ends and a prism
of its silhouette between them, so that three solids prove the whole stroke, not its positions
alone. Where they collide, a few positions tell where most. Every look is kept, for the next build
of `watch`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from math import nan
from typing import Final, NamedTuple

import cadquery as cq

from generator.kernel.alike import Firsts, View
from generator.kernel.shapes import blank, location
from generator.kernel.touch import distance_mm, shared, standing, volume_mm3
from generator.model.assembly import Placed
from generator.model.contacts import (
    FAR_MM,
    LEAST_VOLUME_MM3,
    TOUCHING_MM,
    Contact,
    Deep,
    Rolled,
)
from generator.model.stroke import Stand, Stroke, rolled

FLOOR: Final = "floor of the slot"
SIDES: Final = "sides of the slot"
FURTHER_MM: Final = 0.05
"""How much further the screw is turned in than it goes, to see that it clamps."""
NEARLY_MM: Final = 1e-4
HALVINGS: Final = 14
ALONG: Final = 1e-6
"""How little a normal may lean for its face to count as square to an axis."""


class Met(NamedTuple):
    """What two solids do to each other; extents across the axis and along it."""

    clearance_mm: float
    volume_mm3: float = 0.0
    across_mm: float = 0.0
    along_mm: float = 0.0


class TurnedIn(NamedTuple):
    """How far a screw goes in until it touches, how far to the floor, what it shares further in."""

    free_mm: float
    floor_mm: float
    volume_mm3: float


def crossing_contacts(whole: Stroke, firsts: Firsts) -> Iterator[Contact]:
    """Yield what stands across the tool does to each other part over a stroke.

    That is where they are nearest, or share most; nothing for a tool in which nothing does.
    """
    first = whole.stands[0]
    for each in whole.across:
        yield _told(whole, first, ("body", each), _with_body(whole, firsts, each))
    if not whole.across:
        return
    yield _with_plunger(whole, firsts)
    yield from _with_slot(whole, firsts)
    for name in first.placed:
        if name not in (whole.crossing, "plunger", "body"):
            yield from _with_other(whole, name)


def rolled_out(whole: Stroke, firsts: Firsts) -> Rolled:
    """Return what keeps the screw out of a plunger put in turned half round."""
    wrong = rolled(whole)
    looks = [_kept_out(_view(wrong, stand, firsts)) for stand in _few(wrong)[::2]]
    volumes_mm3, outs_mm = zip(*looks, strict=True)
    return Rolled(whole.orientation, min(volumes_mm3), min(outs_mm))


def deep(whole: Stroke, firsts: Firsts) -> Deep:
    """Return what happens when the screw is turned in as far as it goes, plunger at mid-stroke."""
    far = _turned_in(_view_of_all(whole, firsts))
    further_mm = nan if far.free_mm != far.free_mm else FURTHER_MM
    return Deep(whole.orientation, far.free_mm, far.floor_mm, further_mm, far.volume_mm3)


def _view(whole: Stroke, stand: Stand, firsts: Firsts) -> View:
    """Return plunger and screw at a position, or the first that stood so to each other."""
    view = _seen(whole, stand)
    return firsts.of(view, _wide_mm(view.screw))


def _view_of_all(whole: Stroke, firsts: Firsts) -> View:
    """Return plunger and screw at mid-stroke, or the first that were so over a whole stroke."""
    view = _seen(whole, _middle(whole))
    return firsts.of(view, _wide_mm(view.screw) + abs(view.travel_mm) / 2)


def _seen(whole: Stroke, stand: Stand) -> View:
    first, last = whole.stands[0], whole.stands[-1]
    return View(
        first.placed["plunger"],
        first.placed[whole.crossing],
        whole.gap_mm,
        last.travel_mm - first.travel_mm,
        stand.travel_mm - first.travel_mm,
    )


def _wide_mm(screw: Placed) -> float:
    """Return how far from its axis the screw matters."""
    return screw.part.outline.diameter_mm / 2 + FAR_MM


@lru_cache(maxsize=32)
def _about(plunger: Placed, screw: Placed, gap_mm: float, travel_mm: float) -> cq.Shape | None:
    """Return the plunger at the first position as far as the screw comes near it, if it does."""
    _, tip, z = screw.origin_mm
    wide, top = _wide_mm(screw), plunger.part.outline.diameter_mm / 2
    low, high = tip - gap_mm - FAR_MM, top + gap_mm + 2 * FAR_MM
    if low >= top or tip >= high:
        return None
    # seen from the plunger, the screw goes forward
    front, rear = z - wide - max(travel_mm, 0.0), z + wide - min(travel_mm, 0.0)
    near = shared(standing(plunger), _box(wide, low, high, front, rear))
    return near if near.Solids() else None


def _plunger(view: View) -> cq.Shape | None:
    """Return the plunger about the screw as it stands in a view."""
    near = _about(view.part, view.screw, view.gap_mm, view.travel_mm)
    return near and near.moved(cq.Location((0.0, 0.0, view.moved_mm)))


def _screw(view: View, up_mm: float = 0.0) -> cq.Shape:
    """Return the screw of a view, turned out by some way."""
    placed = blank(view.screw.part).moved(location(view.screw))
    return placed.moved(cq.Location((0.0, up_mm, 0.0))) if up_mm else placed


@lru_cache(maxsize=32)
def _kept_out(view: View) -> tuple[float, float]:
    """Return what a plunger turned half round would share with the screw, and how far it keeps it.

    That is how far at least the screw stays short of its place.
    """
    plunger = _plunger(view)
    if plunger is None:
        return 0.0, 0.0
    top_mm = view.part.part.outline.diameter_mm / 2
    lift_mm = max(top_mm - view.screw.origin_mm[1], 0.0) + FAR_MM / 2
    out_mm = max(0.0, lift_mm - distance_mm(plunger, _screw(view, lift_mm)))
    return volume_mm3(shared(plunger, _screw(view))), out_mm


@lru_cache(maxsize=32)
def _turned_in(view: View) -> TurnedIn:
    plunger, screw = _plunger(view), _screw(view)
    floors = _slot_faces(view, 1)
    if plunger is None or not floors:
        return TurnedIn(nan, nan, nan)
    floor_mm = min(distance_mm(screw, face) for face in floors)
    free_mm = _free_mm(plunger, screw, floor_mm)
    further = _screw(view, -free_mm - FURTHER_MM)
    return TurnedIn(free_mm, floor_mm, volume_mm3(shared(plunger, further)))


def _free_mm(plunger: cq.Shape, screw: cq.Shape, floor_mm: float) -> float:
    """Return how far the screw goes in until it touches: to the floor, unless a shoulder stops it.

    A shoulder that does is found by halving.
    """

    def free(down_mm: float) -> bool:
        lowered = screw.moved(cq.Location((0.0, -down_mm, 0.0)))
        return distance_mm(plunger, lowered) > TOUCHING_MM

    if free(floor_mm - NEARLY_MM):
        return floor_mm
    clear_mm, stopped_mm = 0.0, floor_mm
    for _ in range(HALVINGS):
        middle_mm = (clear_mm + stopped_mm) / 2
        if free(middle_mm):
            clear_mm = middle_mm
        else:
            stopped_mm = middle_mm
    return clear_mm


def _box(wide: float, low: float, high: float, front: float, rear: float) -> cq.Shape:
    corner = cq.Vector(-wide, low, front)
    return cq.Solid.makeBox(2 * wide, high - low, rear - front, corner)


def _middle(whole: Stroke) -> Stand:
    return whole.stands[len(whole.stands) // 2]


def _few(whole: Stroke) -> tuple[Stand, ...]:
    """Return the ends, the middle and the quarters of a stroke."""
    last = len(whole.stands) - 1
    return tuple(whole.stands[k * last // 4] for k in range(5))


def _meet(one: cq.Shape, other: cq.Shape, *, within: bool = False) -> Met:
    """Return what two solids do; `within` asks too whether one lies wholly inside the other.

    Their surfaces are then apart, and the distance of surfaces says nothing.
    """
    far_mm = distance_mm(one, other)
    if far_mm > TOUCHING_MM and not within:
        return Met(min(far_mm, FAR_MM))
    common = shared(one, other)
    if not common.Solids():
        return Met(min(far_mm, FAR_MM) if far_mm > TOUCHING_MM else 0.0)
    box = common.BoundingBox()
    return Met(0.0, volume_mm3(common), min(box.xlen, box.ylen), box.zlen)


def _told(whole: Stroke, stand: Stand, pair: tuple[str, str], met: Met) -> Contact:
    return Contact(*pair, whole.orientation, whole.sizes, stand.travel_mm, *met)


def _worst(contacts: list[Contact]) -> Contact:
    """Return the contact that shares most, else the nearest."""
    return max(contacts, key=lambda each: (each.volume_mm3, -each.clearance_mm))


def _with_plunger(whole: Stroke, firsts: Firsts) -> Contact:
    """Return what screw and plunger do: at both ends, and all the way between them."""
    pair, first, last = ("plunger", whole.crossing), whole.stands[0], whole.stands[-1]

    def at(stand: Stand) -> Contact:
        return _told(whole, stand, pair, _met(_view(whole, stand, firsts)))

    ends = [at(first), at(last)]
    way = Met(FAR_MM)
    if first.travel_mm != last.travel_mm:
        way = _met_on_the_way(_view_of_all(whole, firsts))
    if way.volume_mm3 <= LEAST_VOLUME_MM3 and not any(each.collides for each in ends):
        return _worst([*ends, _told(whole, _middle(whole), pair, Met(way.clearance_mm))])
    return _worst([*ends, *(at(stand) for stand in _few(whole)[1:-1])])


@lru_cache(maxsize=64)
def _met(view: View) -> Met:
    plunger = _plunger(view)
    return Met(FAR_MM) if plunger is None else _meet(plunger, _screw(view))


@lru_cache(maxsize=32)
def _met_on_the_way(view: View) -> Met:
    near = _about(view.part, view.screw, view.gap_mm, view.travel_mm)
    return Met(FAR_MM) if near is None else _meet(near, _way(view), within=True)


def _way(view: View) -> cq.Shape:
    """Return what the screw passes through between the ends of the stroke, seen from the plunger.

    That is its silhouette, which stands across the tool's axis, drawn out along the axis.
    """
    _, tip, z = view.screw.origin_mm
    outline = view.screw.part.outline
    side = [(max(s.start.r_mm, 0.0), tip + s.start.z_mm) for s in outline.segments()]
    outside = [point for point in side if point[0] > 0]
    corners = [*outside, *((-x, y) for x, y in reversed(outside))]
    wire = cq.Wire.makePolygon([(x, y, z) for x, y in corners], close=True)
    return cq.Solid.extrudeLinear(wire, [], cq.Vector(0.0, 0.0, -view.travel_mm))


def _with_slot(whole: Stroke, firsts: Firsts) -> Iterator[Contact]:
    """Yield how far the screw stands off the floor and the sides of the slot at mid-stroke.

    Floor and sides run along the axis, so this holds for the whole stroke.
    """
    view, stand = _view_of_all(whole, firsts), _middle(whole)
    for name, axis in ((FLOOR, 1), (SIDES, 0)):
        far_mm = _off_slot_mm(view, axis)
        if far_mm is not None:
            yield _told(whole, stand, (whole.crossing, name), Met(far_mm))


@lru_cache(maxsize=64)
def _off_slot_mm(view: View, axis: int) -> float | None:
    faces = _slot_faces(view, axis)
    if not faces:
        return None
    screw = _screw(view)
    return min(*(distance_mm(screw, face) for face in faces), FAR_MM)


def _slot_faces(view: View, axis: int) -> list[cq.Face]:
    """Return the flat faces of the plunger that are square to x, 0, or to y, 1: its slot's."""
    plunger = standing(view.part).moved(cq.Location((0.0, 0.0, view.moved_mm)))
    faces = [face for face in plunger.Faces() if face.geomType() == "PLANE"]
    return [face for face in faces if abs(face.normalAt().toTuple()[axis]) > 1 - ALONG]


def _with_body(whole: Stroke, firsts: Firsts, name: str) -> Met:
    """Return what the body does to all of the screw but its thread; both stand still.

    Of a pin, all but what is pressed into the wall.

    Bodies that are alike about their holes are one; the screw is put into the hole of the first.
    """
    place = whole.stands[0].placed
    body, screw, core_mm = place["body"], place[name], whole.cores_mm[name]
    first = firsts.of(View(body, screw), _wide_mm(screw), any_screw=True)
    x, tip, _ = screw.origin_mm
    moved = replace(screw, origin_mm=(x, tip, first.screw.origin_mm[2]))
    return _in_hole(first.part, moved, core_mm)


@lru_cache(maxsize=32)
def _in_hole(body: Placed, screw: Placed, core_mm: float) -> Met:
    near = _about_hole(body, screw.origin_mm[2], _wide_mm(screw))
    filled = replace(screw, part=replace(screw.part, cuts=()))
    met = _meet(near, standing(filled, core_mm))
    return _meet(near, standing(screw, core_mm)) if met.volume_mm3 else met


@lru_cache(maxsize=16)
def _about_hole(body: Placed, z_mm: float, wide_mm: float) -> cq.Shape:
    outside_mm = body.part.outline.diameter_mm
    box = _box(wide_mm, -outside_mm, outside_mm, z_mm - wide_mm, z_mm + wide_mm)
    return shared(standing(body), box)


def _with_other(whole: Stroke, name: str) -> Iterator[Contact]:
    """Yield what the screw does to another part, if that ever comes near."""
    found = []
    for stand in whole.stands:
        place, screw = stand.placed[name], stand.placed[whole.crossing]
        if _apart_mm(place, screw) < FAR_MM:
            met = _meet(standing(place), standing(screw))
            found.append(_told(whole, stand, (name, whole.crossing), met))
    if found:
        yield _worst(found)


def _apart_mm(place: Placed, screw: Placed) -> float:
    """Return how far at least the screw stands off a part on the axis."""
    _, tip, z = screw.origin_mm
    ends = [place.in_tool_mm((0.0, 0.0, c.z_mm))[2] for c in place.part.outline.corners]
    half = screw.part.outline.diameter_mm / 2
    return max(min(ends) - z - half, z - half - max(ends), tip - place.part.outline.diameter_mm / 2)
