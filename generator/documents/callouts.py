"""The call-outs of a part: chamfers, mouths, centre holes, points, threads, taper and finish.

A call-out is one or more rows on a leader. Sizes of a sheet in inches are decimal inches without a
leading zero, such as `.039 x 45°`; D is a diameter, L a length along the axis, W an angle.

| row | what it says |
| --- | --- |
| `L x W°` | chamfer on an outer edge: its length, its angle to the axis |
| `L x W° both ends`, `L x W° all edges` | the same of two edges alike, and of more |
| `recess ØD x L` | flat-bottomed recess in an end face: diameter, depth |
| `bevel W° to ØD` | bevel at the mouth of a bore: included angle, largest diameter, which lies on |
| | the floor of the recess where there is one, else on the end face; or before a thread, on the |
| | floor of the register |
| `W° to ØD` | countersink or recess with sloping sides: included angle, mouth on the end face |
| `ØD` | spring pocket behind a step, whose place is a DIMENSION |
| `pilot ØD, L from face` | hole at the bottom of a countersink: depth of its full diameter from |
| | the end face |
| `flat ØD` | flat on the tip of a point, whose included angle is a DIMENSION |
| `side flat L from axis x L` | flat along the axis at one end, on the slot's side: how far from |
| | the axis it lies, and its length from the end |
| `THREAD-CLASS` | thread: the whole length of its surface, or through the wall |
| `THREAD-CLASS x L` | thread: full thread from the end face |
| `drill ØD x L` | hole for the thread: full depth from the end face |
| `drill ØD to bore` | hole for the thread, or for a shouldered tip: through one wall |
| `flat ØD to ledge L` | flat-bottomed hole for the thread: what it leaves of the wall |
| `ream ØD to bore`, `ream ØD through` | hole for a pin: through one wall, through both |
| `groove ØD x L` | groove behind the thread: diameter at its floor, width |
| `tapped in the bore` | hole for the thread: the reamed bore itself |
| `1:R on dia.` | taper: one in R on diameter; the gauge diameter and its place are DIMENSIONs |
| `(half angle W°W'W'')` | the same taper's angle to the axis, degrees, minutes and seconds |
| `L|A` in a frame | circular run-out to the datum A |
| `Ra R` on a tick | roughness, in micrometres or, on a sheet in inches, in microinches |

A drilled hole ends in a point of 118 degrees beyond its depth; no row says so. A row in brackets is
for reference. Where the ends of a part are shown in a detail view as well, the call-outs of an end
stand there and not in the main view.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from math import atan, atan2, degrees
from typing import Final, Literal

from generator.documents.asks import Angle, Ask, Datum, Note, Row
from generator.documents.drawing import Point
from generator.documents.numerals import (
    angle_text,
    depth_text,
    fine,
    general,
    roughness_text,
    size_text,
)
from generator.documents.part_notes import MILLED, PartNotes, pattern, place_mm, surface
from generator.documents.view import is_outside, notch_of
from generator.model.outline import Segment
from generator.model.part import CrossHole, Part, SideFlat, Slot
from generator.model.tips import DRILL_POINT_DEG

End = Literal["front", "rear"]

ENDS: Final[tuple[End, End]] = ("front", "rear")
CHAMFERS: Final[dict[End, tuple[str, ...]]] = {
    "front": ("front chamfer", "nose chamfer"),
    "rear": ("rear chamfer",),
}
BETWEEN: Final = ("head chamfer", "rear head chamfer", "tail chamfer", "spigot chamfer")
"""Chamfers on edges that are no end of the part."""
DATUM: Final = "A"
TAPERS: Final = ("taper", "socket taper")
"""The surfaces that fit a socket or an arbor, which a rate tells."""
SAMPLES: Final = (0.5, 0.25, 0.75)
DETAIL_SAMPLES: Final = (0.5, 0.25, 0.75, 0.9, 0.1, 0.97, 0.03)
LONG_SAMPLES: Final = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9)
"""Where a leader rests on a surface, and where a sign stands on a long one."""
SQUARE_DEG: Final = 45.0
SQUARE_WITHIN_DEG: Final = 1.0
"""General tolerance on the angle of a short chamfer: ISO 2768-1, class m, up to 10 mm."""

THREAD_SAMPLES: Final = (0.5, 0.35, 0.2, 0.1)
"""Likewise on a thread, counted from its inner end: not at the mouth, where there is most."""

ON_EXTENSION_MM: Final = 5.5
"""Where a call-out of a bore rests on the extension lines of its diameter, from the face."""


def callouts(notes: PartNotes, scale: float, detailed: Collection[str] = ()) -> Iterator[Ask]:
    """Yield every call-out of the main view of a part.

    Args:
        notes: The part.
        scale: Scale of the view.
        detailed: Surfaces whose call-outs stand in a detail view.
    """
    cuts = [cut for cut in notes.part.cuts if isinstance(cut, Slot) and cut.name in MILLED]
    for ask in _callouts(notes, scale, detailed):
        yield _beside(ask, notes.part, cuts, scale) if isinstance(ask, Note) else ask


def _beside(note: Note, part: Part, cuts: Sequence[Slot], scale: float) -> Note:
    """Return a call-out that rests on no metal that the section shows milled away."""
    gone = [(cut, notch_of(cut, part.outline, scale)) for cut in cuts]

    def is_there(point: Point) -> bool:
        x, y = point
        return not any(
            left < x < right and (abs(y) if cut.both else y) > low
            for cut, (left, low, right, _) in gone
        )

    kept = [n for n, anchor in enumerate(note.anchors) if is_there(anchor)]
    if len(kept) in (0, len(note.anchors)) and all(map(is_there, note.standing)):
        return note
    return replace(
        note,
        anchors=tuple(note.anchors[n] for n in kept),
        normals=tuple(note.normals[n] for n in kept if note.normals),
        standing=tuple(filter(is_there, note.standing)),
    )


def _callouts(notes: PartNotes, scale: float, detailed: Collection[str]) -> Iterator[Ask]:
    """Yield the call-outs wherever they may rest."""
    yield from _chamfer_notes(notes, scale, detailed)
    for end in ENDS:
        yield from _mouth_note(notes, end, scale, detailed)
        yield from _centre_hole_note(notes, end, scale, detailed)
        yield from _point_asks(notes, end, scale, detailed)
    pocket = surface(notes.part, "spring pocket")
    if pocket is not None:
        yield _note((pocket,), (Row(_diameter(notes, pocket.diameter_mm)),), scale)
    bevel = surface(notes.part, "thread bevel")
    if bevel is not None:
        yield _note((bevel,), (_bevel_row(notes, bevel),), scale)
    recess = surface(notes.part, "recess")
    if recess is not None:
        text = f"{_cone_text(recess)} to {_diameter(notes, recess.diameter_mm)}"
        yield _note((recess,), (Row(text),), scale)
    yield from _rear_hole_notes(notes, scale)
    yield from _thread_notes(notes, scale)
    yield from _screw_hole_notes(notes, scale)
    yield from _side_flat_notes(notes, scale)
    yield from _taper_note(notes, scale)
    yield from _surface_notes(notes, scale)
    yield from _datum(notes, scale)


def detail_callouts(notes: PartNotes, detailed: Collection[str], scale: float) -> Iterator[Note]:
    """Yield the call-outs of some surfaces, each on a leader of its own from outside the metal."""
    for name in detailed:
        s = surface(notes.part, name)
        if s is None:
            continue
        end, _, kind = name.partition(" ")
        if kind == "point":
            yield from _flat_note(notes, end, s, scale)
            continue
        rows: tuple[Row, ...] = (Row(pattern(_chamfer_text(notes, s), notes, name)),)
        if kind == "recess":
            rows = (_recess_row(notes, s),)
        elif kind == "bevel":
            rows = (_bevel_row(notes, s),)
        elif kind == "countersink":
            rows = tuple(_centre_hole_rows(notes, end, s))
        yield _note((s,), rows, scale, in_detail=True)


def _diameter(notes: PartNotes, value_mm: float) -> str:
    return f"Ø{size_text(value_mm, general(notes.unit))}"


def _chamfer_text(notes: PartNotes, s: Segment) -> str:
    """Return a chamfer as length by angle to the axis."""
    rise = (s.diameter_mm - s.small_diameter_mm) / 2
    angle = degrees(atan(rise / s.length_mm))
    if abs(angle - SQUARE_DEG) <= SQUARE_WITHIN_DEG:
        angle = SQUARE_DEG
    return f"{size_text(s.length_mm, general(notes.unit))} x {angle_text(angle)}°"


def _cone_text(s: Segment) -> str:
    """Return the included angle of a cone."""
    rise = (s.diameter_mm - s.small_diameter_mm) / 2
    return f"{angle_text(2 * degrees(atan(rise / s.length_mm)))}°"


def _on(s: Segment, share: float, scale: float, *, lower: bool = False) -> Point:
    """Return a point of a surface on paper."""
    z = s.start.z_mm + share * (s.end.z_mm - s.start.z_mm)
    r = s.start.r_mm + share * (s.end.r_mm - s.start.r_mm)
    return -scale * z, scale * r * (-1.0 if lower else 1.0)


def _note(
    segments: Sequence[Segment], rows: Sequence[Row], scale: float, *, in_detail: bool = False
) -> Note:
    """Return a call-out whose leader may rest anywhere on the surfaces.

    To an outer surface it comes from outside the part, to one of a hole from any side; in a detail
    it comes from outside the material, to whatever part of a surface is shown.
    """
    anchors: list[Point] = []
    normals: list[float] = []
    for lower in (False, True):
        for s in segments:
            for share in DETAIL_SAMPLES if in_detail else SAMPLES:
                anchors.append(_on(s, share, scale, lower=lower))
                normals.append(_normal_deg(s, lower=lower))
    outer = in_detail or all(is_outside(s) for s in segments)
    return Note(tuple(anchors), tuple(rows), tuple(normals) if outer else ())


def _normal_deg(s: Segment, *, lower: bool) -> float:
    """Return the direction on paper that leads away from an outer surface."""
    angle = degrees(atan2(s.end.z_mm - s.start.z_mm, s.end.r_mm - s.start.r_mm))
    return -angle if lower else angle


def _chamfer_notes(notes: PartNotes, scale: float, detailed: Collection[str]) -> Iterator[Ask]:
    """Yield the call-outs of the outer chamfers; one serves all that are alike."""
    found: dict[str, list[Segment]] = {}
    for name in (*CHAMFERS["front"], *BETWEEN, *CHAMFERS["rear"]):
        s = surface(notes.part, name)
        if s is not None and name not in detailed:
            found.setdefault(pattern(_chamfer_text(notes, s), notes, name), []).append(s)
    for text, alike in found.items():
        many = {1: "", 2: " both ends"}.get(len(alike), " all edges")
        yield _note(alike, (Row(f"{text}{many}"),), scale)


def _recess_row(notes: PartNotes, s: Segment) -> Row:
    depth = size_text(s.length_mm, general(notes.unit))
    return Row(f"recess {_diameter(notes, s.diameter_mm)} x {depth}")


def _bevel_row(notes: PartNotes, s: Segment) -> Row:
    return Row(f"bevel {_cone_text(s)} to {_diameter(notes, s.diameter_mm)}")


def _mouth_note(
    notes: PartNotes, end: End, scale: float, detailed: Collection[str]
) -> Iterator[Ask]:
    """Yield the recess and the bevel at one mouth of a bore."""
    recess, bevel = (
        surface(notes.part, name) if name not in detailed else None
        for name in (f"{end} recess", f"{end} bevel")
    )
    rows = []
    if recess is not None:
        rows.append(_recess_row(notes, recess))
    if bevel is not None:
        rows.append(_bevel_row(notes, bevel))
    target = bevel or recess
    if target is not None:
        yield _note((target,), rows, scale)


def _centre_hole_rows(notes: PartNotes, end: str, cone: Segment) -> Iterator[Row]:
    """Yield the countersink and the pilot hole at one end of a plunger."""
    part = notes.part
    text = f"{_cone_text(cone)} to {_diameter(notes, cone.diameter_mm)}"
    yield Row(pattern(text, notes, cone.surface))
    pilot = surface(part, f"{end} pilot")
    if pilot is not None:
        face = place_mm(part, end) or 0.0
        deep_mm = max(abs(face - pilot.front_mm), abs(face - pilot.rear_mm))
        depth = depth_text(deep_mm, notes.unit)
        yield Row(f"pilot {_diameter(notes, pilot.diameter_mm)}, {depth} from face")


def _centre_hole_note(
    notes: PartNotes, end: End, scale: float, detailed: Collection[str]
) -> Iterator[Ask]:
    """Yield countersink and pilot hole on one leader, finish on another."""
    cone = surface(notes.part, f"{end} countersink")
    if cone is None:
        return
    if cone.surface not in detailed:
        yield _note((cone,), tuple(_centre_hole_rows(notes, end, cone)), scale)
    finish = tuple(_finish_rows(notes, cone.surface))
    if finish:
        yield _note((cone,), finish, scale)


def _point_asks(
    notes: PartNotes, end: End, scale: float, detailed: Collection[str]
) -> Iterator[Ask]:
    """Yield the angle of a point, its flat and its finish."""
    point = surface(notes.part, f"{end} point")
    if point is None:
        return
    near, far = sorted((point.start, point.end), key=lambda c: c.r_mm)
    upper = (-scale * near.z_mm, scale * near.r_mm), (-scale * far.z_mm, scale * far.r_mm)
    lower = (upper[0][0], -upper[0][1]), (upper[1][0], -upper[1][1])
    yield Angle(upper, lower, pattern("<>°", notes, point.surface))
    rows = tuple(_finish_rows(notes, point.surface))
    if rows:
        yield _note((point,), rows, scale)
    if point.surface not in detailed:
        yield from _flat_note(notes, end, point, scale)


def _flat_note(notes: PartNotes, end: str, point: Segment, scale: float) -> Iterator[Note]:
    """Yield the flat on the tip of a point, if it has one."""
    near = min(point.start, point.end, key=lambda c: c.r_mm)
    if near.r_mm > 0:
        text = pattern(f"flat {_diameter(notes, 2 * near.r_mm)}", notes, f"{end} flat")
        x, r = -scale * near.z_mm, scale * near.r_mm
        out = 0.0 if end == "front" else 180.0
        yield Note(((x, r), (x, -r)), (Row(text),), (out, out))


def _finish_rows(notes: PartNotes, name: str) -> Iterator[Row]:
    """Yield run-out frame and roughness of a surface."""
    if name in notes.runout:
        tolerance = size_text(notes.runout[name].tolerance_mm, fine(notes.unit))
        yield Row(f"{tolerance}|{DATUM}", "runout")
    if name in notes.roughness_um:
        yield Row(roughness_text(notes.roughness_um[name], notes.unit), "roughness")


def _thread_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-outs of the threads: designation, full length, drill and its depth."""
    part = notes.part
    for thread in part.threads:
        s = part.outline.surface(thread.surface)
        face, depth_mm, point = place_mm(part, "rear") or 0.0, s.front_mm, "drill point"
        if thread.opens == "front":
            face, depth_mm = place_mm(part, "front") or 0.0, s.rear_mm
            point = "front drill point"
        head = pattern(f"{thread.designation}-{thread.tolerance_class}", notes, thread.surface)
        low, high = thread.full_span_mm(part.outline)
        if low > s.front_mm + 1e-6 or not thread.external:
            head = f"{head} x {depth_text(thread.full_mm, notes.unit)}"
        rows = [Row(head)]
        if not thread.external and part.outline.has(point):
            depth = depth_text(abs(face - depth_mm), notes.unit)
            rows.append(Row(f"drill {_diameter(notes, s.diameter_mm)} x {depth}"))
        elif not thread.external:
            rows.append(Row("tapped in the bore"))
        elif (relief := surface(part, "relief")) is not None:
            width = size_text(relief.length_mm, general(notes.unit))
            rows.append(Row(f"groove {_diameter(notes, relief.diameter_mm)} x {width}"))
        r = scale * s.diameter_mm / 2
        shares = (
            [1 - each for each in THREAD_SAMPLES] if thread.opens == "front" else THREAD_SAMPLES
        )
        places = [
            ((-scale * (low + share * (high - low)), sign * r), sign * 90.0)
            for sign in (1, -1)
            for share in shares
        ]
        normals = tuple(normal for _, normal in places) if thread.external else ()
        yield Note(tuple(point for point, _ in places), tuple(rows), normals)


def _rear_hole_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-outs of the small holes about the axis in the rear end of a body."""
    outline = notes.part.outline
    if not outline.has("nose"):
        return
    vent, centre = surface(notes.part, "vent"), surface(notes.part, "rear centre")
    point = surface(notes.part, "drill point")
    if point is not None and "bottom" in dict(outline.planes):
        yield _note((point,), (Row(f"{angle_text(DRILL_POINT_DEG)}°"),), scale)
    if vent is not None:
        yield _note((vent,), (Row(_diameter(notes, vent.diameter_mm)),), scale)
    if centre is not None:
        deep = depth_text((place_mm(notes.part, "rear") or 0.0) - centre.front_mm, notes.unit)
        text = f"pilot {_diameter(notes, centre.diameter_mm)}, {deep} from face"
        yield _note((centre,), (Row(text),), scale)


def _screw_hole_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-out of a hole through the wall: tapped, or plain for a pin."""
    for cut in notes.part.cuts:
        if isinstance(cut, CrossHole):
            top = scale * notes.part.outline.radius_at_mm(cut.z_mm, inside=False)
            x, h = -scale * cut.z_mm, scale * cut.diameter_mm / 2
            rows = tuple(Row(text) for text in _cross_hole_rows(notes, cut))
            yield Note(((x - h, top), (x + h, top)), rows, (90.0, 90.0))


def _cross_hole_rows(notes: PartNotes, hole: CrossHole) -> Iterator[str]:
    """Yield what is said of a radial hole."""
    if not hole.thread:
        end = "through" if hole.both else "to bore"
        if hole.name == "vent hole":
            yield f"drill {_diameter(notes, hole.diameter_mm)} {end}"
            return
        yield f"ream {_diameter(notes, hole.diameter_mm)} {end}"
        return
    metric = hole.thread.startswith("M") and "-" not in hole.thread
    yield f"{hole.thread}-6H" if metric else f"{hole.thread}-2B"
    if not hole.ledge_mm:
        yield f"drill {_diameter(notes, hole.diameter_mm)} to bore"
        return
    yield f"drill {_diameter(notes, hole.through_mm)} to bore"
    ledge = size_text(hole.ledge_mm, general(notes.unit))
    yield f"flat {_diameter(notes, hole.diameter_mm)} to ledge {ledge}"


def _side_flat_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-out of a side flat, which faces the reader."""
    for cut in notes.part.cuts:
        if isinstance(cut, SideFlat) and not cut.both:
            off = size_text(cut.off_mm, general(notes.unit))
            text = f"side flat {off} from axis x {size_text(cut.length_mm, general(notes.unit))}"
            start, end = cut.reach_mm(notes.part.outline)
            spots = [-scale * (start + share * (end - start)) for share in (0.8, 0.7, 0.6, 0.9)]
            aside = 0.3 * scale * cut.half_width_mm(notes.part.outline.diameter_mm / 2)
            yield Note(tuple((x, sign * aside) for x in spots for sign in (1, -1)), (Row(text),))


def taper_rows(s: Segment, *, left: bool) -> tuple[Row, ...]:
    """Return the call-out of a taper (ISO 3040): rate on diameter; half the cone angle to set by.

    Args:
        s: The surface.
        left: Whether the small end lies to the left.
    """
    rate = (s.diameter_mm - s.small_diameter_mm) / s.length_mm
    seconds = round(degrees(atan(rate / 2)) * 3600)
    minutes, seconds = divmod(seconds, 60)
    whole, minutes = divmod(minutes, 60)
    return (
        Row(f"1:{1 / rate:.3f} on dia.", "taper left" if left else "taper right"),
        Row(f"(half angle {whole}°{minutes:02d}'{seconds:02d}'')"),
    )


def _taper_note(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-out of a taper, and its finish on a leader of its own."""
    for name in TAPERS:
        s = surface(notes.part, name)
        if s is None or s.diameter_mm - s.small_diameter_mm < 1e-9:
            continue
        rear, front = sorted((s.start, s.end), key=lambda corner: -corner.z_mm)
        yield _note((s,), taper_rows(s, left=rear.r_mm < front.r_mm), scale)
        rows = tuple(_finish_rows(notes, name))
        if rows:
            yield _finish_note(s, rows, scale)


def _surface_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield run-out and roughness of plain surfaces; of a bore, beside its diameter."""
    for name in dict.fromkeys((*notes.runout, *notes.roughness_um)):
        s = surface(notes.part, name)
        if s is None or name in TAPERS or name.endswith(("point", "countersink")):
            continue
        rows = tuple(_finish_rows(notes, name))
        if is_outside(s):
            yield _finish_note(s, rows, scale)
            continue
        end, way = ("rear", -1.0) if name == "arbor register" else ("front", 1.0)
        face, r = -scale * (place_mm(notes.part, end) or 0.0), scale * s.diameter_mm / 2
        spots = tuple((face + way * ON_EXTENSION_MM, sign * r) for sign in (-1.0, 1.0))
        yield Note(spots, rows, (-90.0, 90.0))


def _finish_note(s: Segment, rows: tuple[Row, ...], scale: float) -> Note:
    """Return run-out and roughness of an outer surface; a roughness alone may stand on it."""
    note = _note((s,), rows, scale)
    if len(rows) > 1 or rows[0].symbol != "roughness":
        return note
    return replace(note, standing=tuple(_on(s, share, scale) for share in LONG_SAMPLES))


def datum_surface(notes: PartNotes) -> str:
    """Return the surface that the run-outs refer to, "" where there are none; a part has one."""
    return min((runout.datum for runout in notes.runout.values()), default="")


def _datum(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the datum where it is a taper; that of a cylinder hangs on its diameter."""
    name = datum_surface(notes)
    if name not in TAPERS:
        return
    s = notes.part.outline.surface(name)
    feet = tuple(
        (_on(s, share, scale, lower=lower), -90.0 if lower else 90.0)
        for lower in (True, False)
        for share in LONG_SAMPLES
    )
    yield Datum(feet, DATUM)
