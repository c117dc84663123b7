"""The sheet of a part: which dimensions cut it, each once, told from its surface names."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from math import atan, degrees
from typing import Final, Literal

from generator.documents.annotate import (
    Across,
    Angle,
    Ask,
    Cluster,
    Datum,
    Length,
    Note,
    Row,
    Side,
    annotate,
)
from generator.documents.drawing import Drawing, Point
from generator.documents.sheet import (
    CHOICES,
    Header,
    Legend,
    beside,
    composed,
    first_that_fits,
    headed,
)
from generator.documents.view import (
    cross_section,
    cutting_plane,
    end_view,
    is_inside,
    outside,
    section,
    slot_middle_mm,
)
from generator.errors import ExportError
from generator.model.outline import Segment
from generator.model.part import CrossHole, DriverSlot, HexSocket, Part, Slot
from generator.units import number, shown


@dataclass(frozen=True, slots=True)
class Runout:
    """A circular run-out of one surface to the axis of another."""

    tolerance_mm: float
    datum: str


@dataclass(frozen=True, slots=True)
class PartNotes:
    """A part, and what its sheet says beyond its shape.

    Attributes:
        part: The part.
        stock: The bar it is cut from.
        quantity: How many to make.
        tolerances: Text behind the number of a dimension, by the name of its surface, cut or
            plane; "overall" for the whole length, and "slot length", "slot width", "slot depth"
            and "slot front" for a slot.
        roughness_um: Ra by the name of the surface.
        runout: Run-out by the name of the surface.
        notes: Lines beside the title block.
    """

    part: Part
    stock: str = ""
    quantity: int = 1
    tolerances: Mapping[str, str] = field(default_factory=dict)
    roughness_um: Mapping[str, float] = field(default_factory=dict)
    runout: Mapping[str, Runout] = field(default_factory=dict)
    notes: tuple[str, ...] = ()


LengthWish = tuple[str, str, str, Side]
DiameterWish = tuple[str, Literal["left", "right", "across"], str]

LENGTHS: Final[tuple[LengthWish, ...]] = (
    ("screw hole", "front", "screw hole", "below"),
    ("nose", "front", "rear of nose", "below"),
    ("gauge plane", "front", "gauge plane", "below"),
    ("extension", "front", "front of extension", "below"),
    ("slot front", "front", "front of slot", "below"),
    ("slot length", "front of slot", "rear of slot", "below"),
    ("overall", "front", "rear", "below"),
    ("driver", "front of driver", "rear", "above"),
)
"""Name, from, to and side: all from the working face, so that one zero on the dial serves."""

DIAMETERS: Final[tuple[DiameterWish, ...]] = (
    ("bore", "right", "Ø<>"),
    ("nose", "right", "Ø<>"),
    ("shank", "left", "Ø<>"),
    ("extension", "left", "Ø<>"),
    ("taper", "left", "(Ø<>)"),
    ("guide", "across", "Ø<>"),
    ("thread", "left", ""),
    ("rim", "left", "Ø<>"),
    ("vent", "right", "Ø<>"),
    ("hole", "right", "Ø<>"),
)
"""Surface, where its diameter is shown, its text; of the taper the small end, for reference."""

SAMPLES: Final = (0.5, 0.25, 0.75)


def part_sheet(parts: Sequence[PartNotes], header: Header, name: str = "") -> Drawing:
    """Return the sheet of one part, or of several small ones.

    Sheet and scale choose themselves: the first of the choices on which all rows fit.

    Args:
        parts: At least one part; several share the scale.
        header: Title block and banner.
        name: Name of the file; that of the first part where it is empty.

    Raises:
        ExportError: If the parts fit on no sheet.
    """
    only = parts[0] if len(parts) == 1 else None
    legend = Legend(
        material=parts[0].part.material
        if len({p.part.material for p in parts}) == 1
        else "see views",
        stock=only.stock if only else "see views",
        mass=shown(only.part.mass_g, "g") if only else "see views",
        quantity=str(only.quantity) if only else "-",
    )
    notes = tuple(dict.fromkeys(line for each in parts for line in each.notes))

    views: dict[float, list[Cluster]] = {}

    def tries() -> Iterator[Drawing | None]:
        for size, scale in CHOICES:
            if max(each.part.outline.length_mm for each in parts) * scale > 300:
                continue
            if scale not in views:
                views[scale] = _clusters(parts, header, scale)
            for rows in _rows(views[scale]):
                yield composed(name or parts[0].part.name, header, legend, notes, size, scale, rows)

    drawing = first_that_fits(tries())
    if drawing is None:
        raise ExportError(f"{header.title}: fits no sheet at 1:2; shorten the part")
    return drawing


def _rows(clusters: list[Cluster]) -> Iterator[list[list[Cluster]]]:
    """Yield ways to set views in rows: all in one, the first alone, each alone, in pairs."""
    yield [clusters]
    if len(clusters) > 1:
        yield [clusters[:1], clusters[1:]]
    if len(clusters) > 2:
        yield [clusters[:2], clusters[2:]]
        yield [[cluster] for cluster in clusters]


def _clusters(parts: Sequence[PartNotes], header: Header, scale: float) -> list[Cluster]:
    """Return the views of all parts."""
    found: list[Cluster] = []
    for each in parts:
        views = list(_views(each, header, scale))
        if len(parts) > 1:
            part = each.part
            lines = [
                part.title.upper(),
                f"{each.quantity} off, {part.material}, {shown(part.mass_g, 'g')}",
                *([each.stock] if each.stock else []),
            ]
            views[0] = headed(views[0], lines)
        found += views
    return found


def _views(notes: PartNotes, header: Header, scale: float) -> Iterator[Cluster]:
    """Yield the views one part needs."""
    part = notes.part
    hollow = any(is_inside(s) for s in part.outline.segments()) and not _slot(part)
    if hollow or any(isinstance(cut, DriverSlot | HexSocket) for cut in part.cuts):
        main = annotate(section(part, scale), tuple(_asks(notes, scale)))
        if any(isinstance(cut, DriverSlot | HexSocket) for cut in part.cuts):
            end = annotate(end_view(part, scale), tuple(_end_asks(notes, scale)))
            first = header.projection == "first"
            yield beside(main, end, 8.0) if first else beside(end, main, 8.0)
        else:
            yield main
        return
    view = outside(part, scale)
    slot = _slot(part)
    if slot is None:
        yield annotate(view, tuple(_asks(notes, scale)))
        return
    plane = cutting_plane(view, -scale * slot_middle_mm(slot))
    yield annotate(view, tuple(_asks(notes, scale)), plane)
    across = annotate(cross_section(part, slot, scale), tuple(_slot_asks(notes, slot, scale)))
    yield headed(across, ("A-A",))


def _slot(part: Part) -> Slot | None:
    return next((cut for cut in part.cuts if isinstance(cut, Slot)), None)


def _surface(part: Part, name: str) -> Segment | None:
    return part.outline.surface(name) if part.outline.has(name) else None


def place_mm(part: Part, wish: str) -> float | None:
    """Return a position by name, None where the part has no such thing.

    "front" and "rear" are the ends of the part; "front of X" and "rear of X" those of a surface
    or slot; any other name is a plane or a cut.
    """
    outline = part.outline
    front = min(corner.z_mm for corner in outline.corners)
    if wish in ("front", "rear"):
        return front if wish == "front" else front + outline.length_mm
    end, _, name = wish.partition(" of ")
    for cut in part.cuts:
        if isinstance(cut, CrossHole) and wish == "screw hole":
            return cut.z_mm
        if isinstance(cut, Slot) and name == "slot":
            return cut.front_mm + (cut.length_mm if end == "rear" else 0.0)
        if isinstance(cut, DriverSlot | HexSocket) and name == "driver":
            return front + outline.length_mm - cut.depth_mm
    surface = _surface(part, name) if name else None
    if surface is not None:
        return surface.front_mm if end == "front" else surface.rear_mm
    return dict(outline.planes).get(wish)


def _pattern(text: str, notes: PartNotes, name: str) -> str:
    tolerance = notes.tolerances.get(name, "")
    return f"{text} {tolerance}".strip()


def _asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield everything the main view shows."""
    yield from _length_asks(notes, scale)
    yield from _diameter_asks(notes, scale)
    yield from _end_notes(notes, scale)
    yield from _thread_notes(notes, scale)
    yield from _taper_note(notes, scale)
    yield from _surface_notes(notes, scale)


def _length_asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    part = notes.part
    seen: set[tuple[float, float]] = set()
    for name, start, end, side in LENGTHS:
        a, b = place_mm(part, start), place_mm(part, end)
        if a is None or b is None or b - a < 1e-6:
            continue
        if (round(a, 6), round(b, 6)) in seen:
            continue
        seen.add((round(a, 6), round(b, 6)))
        sign = -1.0 if side == "below" else 1.0
        points = []
        for z, wish in ((a, start), (b, end)):
            r = _edge_mm(part, z)
            on_axis = wish.endswith("of slot")
            points.append((-scale * z, 0.0 if on_axis else sign * scale * r))
        yield Length(points[0], points[1], side, _pattern("<>", notes, name))


def _edge_mm(part: Part, z: float) -> float:
    """Return the radius at which an extension line leaves the part: the step's own corner."""
    outline = part.outline
    ends = min(c.z_mm for c in outline.corners), max(c.z_mm for c in outline.corners)
    if z in ends:
        return max(c.r_mm for c in outline.corners if c.z_mm == z)
    return outline.radius_at_mm(z, inside=False)


def _diameter_asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    part = notes.part
    for name, where, text in DIAMETERS:
        s = _surface(part, name)
        if s is None or not text:
            continue
        if name == "taper" and part.outline.has("extension"):
            continue
        pattern = _pattern(text, notes, name)
        if where == "across":
            shares = (0.5, 0.25, 0.75, 0.12, 0.88, 0.06, 0.94)
            stations = tuple(
                (-scale * (s.front_mm + share * s.length_mm), scale * s.diameter_mm / 2)
                for share in shares
            )
            yield Across(_clear_of_cuts(part, stations, scale), pattern)
            continue
        r = scale * s.diameter_mm / 2
        z = s.front_mm if where == "right" else s.rear_mm
        if name == "taper":
            z = part.outline.length_mm
            share = (z - s.start.z_mm) / (s.end.z_mm - s.start.z_mm)
            r = scale * (s.start.r_mm + share * (s.end.r_mm - s.start.r_mm))
        yield Length((-scale * z, -r), (-scale * z, r), where, pattern)
    if "gauge plane" in dict(part.outline.planes) and part.outline.has("taper"):
        z = part.outline.plane_mm("gauge plane")
        r = part.outline.radius_at_mm(z, inside=False)
        yield Across(((-scale * z, scale * r),), _pattern("Ø<>", notes, "gauge plane") + " gauge")


def _clear_of_cuts(
    part: Part, stations: tuple[tuple[float, float], ...], scale: float
) -> tuple[tuple[float, float], ...]:
    """Return the stations that do not stand in a slot, or all where none is left."""
    slot = _slot(part)
    if slot is None:
        return stations
    low, high = slot.front_mm - 2 / scale, slot.front_mm + slot.length_mm + 2 / scale
    kept = tuple(s for s in stations if not low <= -s[0] / scale <= high)
    return kept or stations


def _chamfer_text(s: Segment) -> str:
    """Return a chamfer as length by angle to the axis."""
    rise = (s.diameter_mm - s.small_diameter_mm) / 2
    angle = degrees(atan(rise / s.length_mm))
    return f"{number(s.length_mm, 2)} x {number(angle, 1)}°"


def _cone_text(s: Segment) -> str:
    rise = (s.diameter_mm - s.small_diameter_mm) / 2
    return f"{number(2 * degrees(atan(rise / s.length_mm)), 1)}°"


def _on(s: Segment, share: float, scale: float, *, lower: bool = False) -> Point:
    z = s.start.z_mm + share * (s.end.z_mm - s.start.z_mm)
    r = s.start.r_mm + share * (s.end.r_mm - s.start.r_mm)
    return -scale * z, scale * r * (-1.0 if lower else 1.0)


def _anchors(s: Segment, scale: float) -> tuple[Point, ...]:
    return tuple(_on(s, share, scale, lower=lower) for lower in (False, True) for share in SAMPLES)


def _end_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the call-outs of the ends: chamfers, mouths, points, centre holes."""
    part = notes.part
    for end in ("front", "rear"):
        chamfers = [f"{end} chamfer", *(["nose chamfer"] if end == "front" else [])]
        for name in chamfers:
            s = _surface(part, name)
            if s is not None:
                yield Note(_anchors(s, scale), (Row(_pattern(_chamfer_text(s), notes, name)),))
        yield from _mouth_note(notes, end, scale)
        yield from _centre_hole_note(notes, end, scale)
        yield from _point_asks(notes, end, scale)
    recess = _surface(part, "recess")
    if recess is not None:
        text = f"{_cone_text(recess)} to Ø{number(recess.diameter_mm)}"
        yield Note(_anchors(recess, scale), (Row(text),))


def _mouth_note(notes: PartNotes, end: str, scale: float) -> Iterator[Ask]:
    recess, bevel = (_surface(notes.part, f"{end} {kind}") for kind in ("recess", "bevel"))
    rows = []
    if recess is not None:
        rows.append(Row(f"recess Ø{number(recess.diameter_mm)} x {number(recess.length_mm, 2)}"))
    if bevel is not None:
        rows.append(Row(f"bevel {_cone_text(bevel)} to Ø{number(bevel.diameter_mm)}"))
    target = bevel or recess
    if rows and target is not None:
        yield Note(_anchors(target, scale), tuple(rows))


def _centre_hole_note(notes: PartNotes, end: str, scale: float) -> Iterator[Ask]:
    part = notes.part
    cone, pilot = (_surface(part, f"{end} {kind}") for kind in ("countersink", "pilot"))
    if end == "rear" and cone is None:
        cone, pilot = (_surface(part, kind) for kind in ("countersink", "pilot"))
    if cone is None:
        return
    name = cone.surface
    rows = [
        Row(_pattern(f"{_cone_text(cone)} to Ø{number(cone.diameter_mm)}", notes, name)),
    ]
    if pilot is not None:
        face = place_mm(part, end) or 0.0
        depth = max(abs(face - pilot.front_mm), abs(face - pilot.rear_mm))
        rows.append(Row(f"pilot Ø{number(pilot.diameter_mm)}, {number(depth, 2)} from face"))
    rows += _finish_rows(notes, name)
    yield Note(_anchors(cone, scale), tuple(rows))


def _point_asks(notes: PartNotes, end: str, scale: float) -> Iterator[Ask]:
    part = notes.part
    point = _surface(part, f"{end} point")
    flat = _surface(part, f"{end} tip flat")
    if end == "front":
        point = point or _surface(part, "point")
        flat = flat or _surface(part, "tip flat")
    if point is None:
        return
    near, far = sorted((point.start, point.end), key=lambda c: c.r_mm)
    upper = (-scale * near.z_mm, scale * near.r_mm), (-scale * far.z_mm, scale * far.r_mm)
    lower = (upper[0][0], -upper[0][1]), (upper[1][0], -upper[1][1])
    yield Angle(upper, lower, _pattern("<>°", notes, point.surface))
    rows = tuple(_finish_rows(notes, point.surface))
    if rows:
        yield Note(_anchors(point, scale), rows)
    if near.r_mm > 0:
        text = _pattern(f"flat Ø{number(2 * near.r_mm)}", notes, "tip flat")
        tips = tuple(
            (-scale * near.z_mm, share * scale * near.r_mm) for share in (1.0, 0.5, -0.5, -1.0)
        )
        yield Note(tips, (Row(text),))


def _finish_rows(notes: PartNotes, name: str) -> Iterator[Row]:
    """Yield run-out frame and roughness of a surface."""
    if name in notes.runout:
        yield Row(f"{number(notes.runout[name].tolerance_mm)}|A", "runout")
    if name in notes.roughness_um:
        yield Row(f"Ra {number(notes.roughness_um[name])}", "roughness")


def _thread_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    part = notes.part
    for thread in part.threads:
        s = part.outline.surface(thread.surface)
        head = f"{thread.designation}-{thread.tolerance_class}"
        if thread.external:
            full = thread.full_mm >= s.length_mm - 1e-6
            rows = [Row(head if full else f"{head} x {number(thread.full_mm)}")]
            r = thread.major_mm / 2
        else:
            face = place_mm(part, "rear") or 0.0
            drill = f"drill Ø{number(s.diameter_mm)}"
            through = part.outline.has("drill point") or any(
                is_inside(other) and other.rear_mm <= s.front_mm + 1e-6
                for other in part.outline.segments()
            )
            depth = number(face - s.front_mm, 2)
            rows = [Row(f"{head} x {number(thread.full_mm, 2)}")]
            if through:
                rows.append(Row(f"{drill} x {depth}"))
            else:
                rows.append(Row(f"bore Ø{number(s.diameter_mm)} is the tapping hole"))
            r = s.diameter_mm / 2
        low = max(s.front_mm, part.outline.length_mm - thread.full_mm)
        anchors = tuple(
            (-scale * (low + share * (s.rear_mm - low)), sign * scale * r)
            for sign in (1, -1)
            for share in SAMPLES
        )
        yield Note(anchors, tuple(rows))
    for cut in part.cuts:
        if isinstance(cut, CrossHole):
            outside_mm = part.outline.radius_at_mm(cut.z_mm, inside=False)
            x = -scale * cut.z_mm
            h = scale * cut.diameter_mm / 2
            rows = [
                Row(
                    f"{cut.thread}-6H"
                    if "-" not in cut.thread and cut.thread.startswith("M")
                    else cut.thread
                )
            ]
            rows.append(Row(f"drill Ø{number(cut.diameter_mm)} to bore"))
            yield Note(((x - h, scale * outside_mm), (x + h, scale * outside_mm)), tuple(rows))


def taper_rows(s: Segment, *, left: bool) -> tuple[Row, ...]:
    """Return the call-out of a taper (ISO 3040): rate on diameter, and half the cone angle."""
    rate = (s.diameter_mm - s.small_diameter_mm) / s.length_mm
    seconds = round(degrees(atan(rate / 2)) * 3600)
    minutes, seconds = divmod(seconds, 60)
    whole, minutes = divmod(minutes, 60)
    return (
        Row(f"1:{1 / rate:.3f} on dia.", "taper left" if left else "taper right"),
        Row(f"half angle {whole}°{minutes:02d}'{seconds:02d}''"),
    )


def _taper_note(notes: PartNotes, scale: float) -> Iterator[Ask]:
    s = _surface(notes.part, "taper")
    if s is None or s.diameter_mm - s.small_diameter_mm < 1e-9:
        return
    anchors = _anchors(s, scale)
    yield Note(anchors[:3], taper_rows(s, left=s.end.r_mm < s.start.r_mm))
    rows = tuple(_finish_rows(notes, "taper"))
    if rows:
        yield Note(anchors, rows)


def _surface_notes(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield run-out and roughness of plain surfaces, and the datum they refer to."""
    part = notes.part
    for name in dict.fromkeys((*notes.runout, *notes.roughness_um)):
        s = _surface(part, name)
        if s is None or name == "taper" or name.endswith(("point", "countersink")):
            continue
        rows = tuple(_finish_rows(notes, name))
        anchors = _anchors(s, scale)
        yield Note(anchors, rows, below=False)
    datums = {runout.datum for runout in notes.runout.values()}
    for name in sorted(datums):
        s = _surface(part, name)
        if s is not None:
            feet = tuple(
                (_on(s, share, scale, lower=lower), -90.0 if lower else 90.0)
                for lower in (True, False)
                for share in (0.5, 0.6, 0.4, 0.7, 0.3, 0.8, 0.2, 0.9, 0.1)
            )
            yield Datum(feet, "A")


def _slot_asks(notes: PartNotes, slot: Slot, scale: float) -> Iterator[Ask]:
    """Yield width, depth and what a micrometer reads over the slot."""
    r = scale * notes.part.outline.radius_at_mm(slot_middle_mm(slot), inside=False)
    h, floor = scale * slot.width_mm / 2, r - scale * slot.depth_mm
    wall = (r**2 - h**2) ** 0.5 if h < r else floor
    yield Length((wall, -h), (wall, h), "right", _pattern("<>", notes, "slot width"))
    yield Length((floor, -h), (r, 0.0), "below", _pattern("<>", notes, "slot depth"))
    yield Length((-r, 0.0), (floor, h), "above", "(<>)")


def _end_asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the size of a driver slot or socket in the end view."""
    part = notes.part
    for cut in part.cuts:
        if isinstance(cut, DriverSlot):
            r = scale * part.outline.surface("thread").diameter_mm / 2
            h = scale * cut.width_mm / 2
            y = (r**2 - h**2) ** 0.5
            yield Length((-h, -y), (h, -y), "below", _pattern("<>", notes, cut.name))
        elif isinstance(cut, HexSocket):
            h = scale * cut.across_flats_mm / 2
            low = -h / 3**0.5
            yield Length((-h, low), (h, low), "below", _pattern("<> A/F", notes, cut.name))
