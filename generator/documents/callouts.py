"""The call-outs of a part: chamfers, mouths, centre holes, points, threads, taper and finish."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan, atan2, degrees
from typing import Final

from generator.documents.asks import Angle, Ask, Datum, Note, Row
from generator.documents.drawing import Point
from generator.documents.part_notes import PartNotes, pattern, place_mm, surface
from generator.documents.view import is_outside
from generator.model.outline import Segment
from generator.model.part import CrossHole
from generator.units import number

SAMPLES: Final = (0.5, 0.25, 0.75)
SQUARE_DEG: Final = 45.0
SQUARE_WITHIN_DEG: Final = 1.0
"""General tolerance on the angle of a short chamfer: ISO 2768-1, class m, up to 10 mm."""


def callouts(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield every call-out of the main view of a part."""
    yield from _chamfer_notes(notes, scale)
    for end in ("front", "rear"):
        yield from _mouth_note(notes, end, scale)
        yield from _centre_hole_note(notes, end, scale)
        yield from _point_asks(notes, end, scale)
    recess = surface(notes.part, "recess")
    if recess is not None:
        text = f"{_cone_text(recess)} to Ø{number(recess.diameter_mm)}"
        yield _note((recess,), (Row(text),), scale)
    yield from _thread_notes(notes, scale)
    yield from _screw_hole_notes(notes, scale)
    yield from _taper_note(notes, scale)
    yield from _surface_notes(notes, scale)
    yield from _datum(notes, scale)


def _chamfer_text(s: Segment) -> str:
    """Return a chamfer as length by angle to the axis."""
    rise = (s.diameter_mm - s.small_diameter_mm) / 2
    angle = degrees(atan(rise / s.length_mm))
    if abs(angle - SQUARE_DEG) <= SQUARE_WITHIN_DEG:
        angle = SQUARE_DEG
    return f"{number(s.length_mm, 2)} x {number(angle, 1)}°"


def _cone_text(s: Segment) -> str:
    """Return the included angle of a cone."""
    rise = (s.diameter_mm - s.small_diameter_mm) / 2
    return f"{number(2 * degrees(atan(rise / s.length_mm)), 1)}°"


def _on(s: Segment, share: float, scale: float, *, lower: bool = False) -> Point:
    """Return a point of a surface on paper."""
    z = s.start.z_mm + share * (s.end.z_mm - s.start.z_mm)
    r = s.start.r_mm + share * (s.end.r_mm - s.start.r_mm)
    return -scale * z, scale * r * (-1.0 if lower else 1.0)


def _note(segments: Sequence[Segment], rows: Sequence[Row], scale: float) -> Note:
    """Return a call-out whose leader may rest anywhere on the surfaces, from outside the part."""
    anchors: list[Point] = []
    normals: list[float] = []
    for lower in (False, True):
        for s in segments:
            for share in SAMPLES:
                anchors.append(_on(s, share, scale, lower=lower))
                normals.append(_normal_deg(s, lower=lower))
    outer = all(is_outside(s) for s in segments)
    return Note(tuple(anchors), tuple(rows), tuple(normals) if outer else ())


def _normal_deg(s: Segment, *, lower: bool) -> float:
    """Return the direction on paper that leads away from an outer surface."""
    angle = degrees(atan2(s.end.z_mm - s.start.z_mm, s.end.r_mm - s.start.r_mm))
    return -angle if lower else angle


def _chamfer_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-outs of the outer chamfers; one serves both ends where they are alike."""
    found: dict[str, list[Segment]] = {}
    for name in ("front chamfer", "nose chamfer", "rear chamfer"):
        s = surface(notes.part, name)
        if s is not None:
            found.setdefault(pattern(_chamfer_text(s), notes, name), []).append(s)
    for text, alike in found.items():
        yield _note(alike, (Row(text if len(alike) == 1 else f"{text} both ends"),), scale)


def _mouth_note(notes: PartNotes, end: str, scale: float) -> Iterator[Ask]:
    """Yield the recess and the bevel at one mouth of a bore."""
    recess, bevel = (surface(notes.part, f"{end} {kind}") for kind in ("recess", "bevel"))
    rows = []
    if recess is not None:
        rows.append(Row(f"recess Ø{number(recess.diameter_mm)} x {number(recess.length_mm, 2)}"))
    if bevel is not None:
        rows.append(Row(f"bevel {_cone_text(bevel)} to Ø{number(bevel.diameter_mm)}"))
    target = bevel or recess
    if target is not None:
        yield _note((target,), rows, scale)


def _centre_hole_note(notes: PartNotes, end: str, scale: float) -> Iterator[Ask]:
    """Yield the countersink and the pilot hole at one end of a plunger."""
    part = notes.part
    cone, pilot = (surface(part, f"{end} {kind}") for kind in ("countersink", "pilot"))
    if cone is None:
        return
    name = cone.surface
    rows = [Row(pattern(f"{_cone_text(cone)} to Ø{number(cone.diameter_mm)}", notes, name))]
    if pilot is not None:
        face = place_mm(part, end) or 0.0
        depth = max(abs(face - pilot.front_mm), abs(face - pilot.rear_mm))
        rows.append(Row(f"pilot Ø{number(pilot.diameter_mm)}, {number(depth, 2)} from face"))
    yield _note((cone,), rows, scale)
    finish = tuple(_finish_rows(notes, name))
    if finish:
        yield _note((cone,), finish, scale)


def _point_asks(notes: PartNotes, end: str, scale: float) -> Iterator[Ask]:
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
    if near.r_mm > 0:
        text = pattern(f"flat Ø{number(2 * near.r_mm)}", notes, f"{end} flat")
        tips = tuple((upper[0][0], share * upper[0][1]) for share in (1.0, -1.0))
        out = 0.0 if end == "front" else 180.0
        yield Note(tips, (Row(text),), (out, out))


def _finish_rows(notes: PartNotes, name: str) -> Iterator[Row]:
    """Yield run-out frame and roughness of a surface."""
    if name in notes.runout:
        yield Row(f"{number(notes.runout[name].tolerance_mm)}|A", "runout")
    if name in notes.roughness_um:
        yield Row(f"Ra {number(notes.roughness_um[name])}", "roughness")


def _thread_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-outs of the threads: designation, full length, drill and its depth."""
    part = notes.part
    rear = place_mm(part, "rear") or 0.0
    for thread in part.threads:
        s = part.outline.surface(thread.surface)
        head = pattern(f"{thread.designation}-{thread.tolerance_class}", notes, thread.surface)
        low = max(s.front_mm, rear - thread.full_mm)
        if low > s.front_mm + 1e-6 or not thread.external:
            head = f"{head} x {number(thread.full_mm, 2)}"
        rows = [Row(head)]
        if not thread.external and part.outline.has("drill point"):
            depth = number(rear - s.front_mm, 2)
            rows.append(Row(f"drill Ø{number(s.diameter_mm)} x {depth}"))
        elif not thread.external:
            rows.append(Row("tapped in the bore"))
        r = scale * s.diameter_mm / 2
        places = [
            ((-scale * (low + share * (s.rear_mm - low)), sign * r), sign * 90.0)
            for sign in (1, -1)
            for share in SAMPLES
        ]
        normals = tuple(normal for _, normal in places) if thread.external else ()
        yield Note(tuple(point for point, _ in places), tuple(rows), normals)


def _screw_hole_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-out of a tapped hole through the wall."""
    for cut in notes.part.cuts:
        if isinstance(cut, CrossHole):
            top = scale * notes.part.outline.radius_at_mm(cut.z_mm, inside=False)
            x, h = -scale * cut.z_mm, scale * cut.diameter_mm / 2
            metric = cut.thread.startswith("M") and "-" not in cut.thread
            head = f"{cut.thread}-6H" if metric else f"{cut.thread}-2B"
            rows = (Row(head), Row(f"drill Ø{number(cut.diameter_mm)} to bore"))
            yield Note(((x - h, top), (x + h, top)), rows, (90.0, 90.0))


def taper_rows(s: Segment, *, left: bool) -> tuple[Row, ...]:
    """Return the call-out of a taper (ISO 3040): rate on diameter, and half the cone angle.

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
        Row(f"half angle {whole}°{minutes:02d}'{seconds:02d}''"),
    )


def _taper_note(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-out of a taper, and its finish on a leader of its own."""
    s = surface(notes.part, "taper")
    if s is None or s.diameter_mm - s.small_diameter_mm < 1e-9:
        return
    yield _note((s,), taper_rows(s, left=s.end.r_mm < s.start.r_mm), scale)
    rows = tuple(_finish_rows(notes, "taper"))
    if rows:
        yield _note((s,), rows, scale)


def _surface_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield run-out and roughness of plain surfaces."""
    for name in dict.fromkeys((*notes.runout, *notes.roughness_um)):
        s = surface(notes.part, name)
        if s is None or name == "taper" or name.endswith(("point", "countersink")):
            continue
        yield _note((s,), tuple(_finish_rows(notes, name)), scale)


def _datum(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the datum that the run-outs refer to; a part has one."""
    for name in sorted({runout.datum for runout in notes.runout.values()})[:1]:
        s = notes.part.outline.surface(name)
        feet = tuple(
            (_on(s, share, scale, lower=lower), -90.0 if lower else 90.0)
            for lower in (True, False)
            for share in (0.5, 0.6, 0.4, 0.7, 0.3, 0.8, 0.2, 0.9, 0.1)
        )
        yield Datum(feet, "A")
