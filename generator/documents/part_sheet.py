"""The sheet of a part: which dimensions cut it, each once, told from its surface names."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final, Literal

from generator.documents.annotate import annotate, sketched
from generator.documents.asks import Across, Ask, Cluster, Length, Note, Side
from generator.documents.callouts import DATUM, TAPERS, callouts, datum_surface, detail_callouts
from generator.documents.detail import Detail, detail_view, details, marked
from generator.documents.drawing import Drawing, Mark, Point
from generator.documents.end_views import cross_section, end_view, is_faced, tang_section
from generator.documents.numerals import fine
from generator.documents.part_notes import PartNotes, pattern, place_mm, surface
from generator.documents.sheet import (
    beside,
    choices,
    composed,
    first_that_fits,
    fits,
    headed,
    shifted,
)
from generator.documents.title_block import Header, Legend, scale_text
from generator.documents.view import (
    View,
    box,
    cutting_plane,
    is_inside,
    outside,
    section,
    slot_middle_mm,
)
from generator.errors import ExportError
from generator.model.outline import Outline
from generator.model.part import DriverSlot, HexSocket, Part, SideFlat, Slot
from generator.model.shank import DRIVE_FLAT, KEY_SLOT
from generator.units import shown

Plan = tuple[View, tuple[Ask, ...], tuple[Mark, ...]]


@dataclass(frozen=True, slots=True)
class Plans:
    """The views that one part needs, each with what it is to show and marks in their place.

    Attributes:
        main: The main view.
        across: The section or end view along the axis, if there is one.
        details: The details, that of the rear end first, each with its heading.
    """

    main: Plan
    across: Plan | None = None
    details: tuple[tuple[str, Plan], ...] = ()


SHARES: Final = (0.5, 0.25, 0.75, 0.12, 0.88, 0.06, 0.94, 0.4, 0.6, 0.32, 0.68)
STATIONS: Final = 7
FROM_FAR_END: Final = 0.4
"""Where along a surface its diameter may stand, the first of those that are clear of cuts; of one
with flats, whose own size has its letters beside them, near a place told from the other end."""

Place = Callable[[View, Sequence[Ask], Sequence[Mark]], Cluster]
LengthWish = tuple[str, str, str, Side]
SlotSize = tuple[Point, Point, Side, str, str]
DiameterWish = tuple[str, Literal["left", "right", "across"], str]

CUT: Final = "B"
"""Letter of the section across a slot; A is the datum."""

LENGTHS: Final[tuple[LengthWish, ...]] = (
    ("screw hole", "front", "screw hole", "above"),
    ("pin hole", "front", "pin hole", "above"),
    ("step", "front", "front of spring pocket", "above"),
    ("register depth", "front", "rear of register", "above"),
    ("flange thickness", "front", "rear of flange", "below"),
    ("spigot length", "rear of flange", "rear of spigot chamfer", "below"),
    ("bush", "rear of flange", "rear", "below"),
    ("stem", "front", "front of head chamfer", "below"),
    ("head", "front of head chamfer", "rear of rear head chamfer", "below"),
    ("nose", "front", "rear of nose", "below"),
    ("gauge plane", "front", "gauge plane", "below"),
    ("extension", "front", "front of extension", "below"),
    ("shank", "front", "front of shank", "below"),
    ("tang neck", "front", "front of tang neck", "below"),
    ("vent hole", "front", "vent hole", "above"),
    ("bottom", "front", "bottom", "above"),
    ("socket depth", "front of socket taper", "rear", "above"),
    ("register depth", "front of arbor register", "rear", "above"),
    ("slot front", "front", "front of slot", "below"),
    ("slot length", "front of slot", "rear of slot", "below"),
    ("drive flat front", "front", "front of drive flat", "above"),
    ("drive flat length", "front of drive flat", "rear of drive flat", "above"),
    ("key slot front", "front", "front of key slot", "above"),
    ("overall", "front", "rear", "below"),
    ("driver", "front of driver", "rear", "above"),
    ("register depth", "front", "rear of tip register", "above"),
    ("seat", "front", "front of tip spigot", "below"),
    ("tip spigot length", "front of tip spigot", "rear of tip spigot", "below"),
    ("flats", "front of flats", "rear of flats", "above"),
)
"""Name, from, to and side: all from the working face, so that one zero on the dial serves."""

DEEP: Final = ("bottom", "rear of register", "front of socket taper", "front of arbor register")
"""Ends of lengths that lie within the wall, whatever its outside does there."""

DIAMETERS: Final[tuple[DiameterWish, ...]] = (
    ("bore", "right", "Ø<>"),
    ("register", "right", "Ø<>"),
    ("flange", "across", "Ø<>"),
    ("head", "across", "Ø<>"),
    ("spigot", "left", "Ø<>"),
    ("tip spigot", "across", "Ø<>"),
    ("tip register", "right", "Ø<>"),
    ("tail", "left", "Ø<>"),
    ("nose", "right", "Ø<>"),
    ("shank", "left", "Ø<>"),
    ("extension", "left", "Ø<>"),
    ("barrel", "left", "Ø<>"),
    ("parallel body", "across", "Ø<>"),
    ("tang neck", "across", "Ø<>"),
    ("socket taper", "left", "Ø<>"),
    ("arbor register", "left", "Ø<>"),
    ("taper", "left", "(Ø<>)"),
    ("guide", "across", "Ø<>"),
    ("thread", "left", ""),
    ("rim", "left", "Ø<>"),
    ("outside", "left", "Ø<>"),
    ("vent", "right", "Ø<>"),
    ("hole", "right", "Ø<>"),
)
"""Surface, where its diameter is shown, its text; of the taper the small end, for reference."""


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
        material=_common([p.part.material for p in parts]),
        stock=only.stock if only else "see views",
        mass=shown(only.part.mass_g, "g") if only else "see views",
        quantity=str(only.quantity) if only else "-",
        finish=_common([p.finish for p in parts]),
    )
    notes = tuple(dict.fromkeys(line for each in parts for line in each.notes))

    bare: dict[float, list[list[Cluster]]] = {}
    views: dict[float, list[list[Cluster]]] = {}

    def tries() -> Iterator[Drawing | None]:
        for size, scale in choices(header):
            if scale not in bare:
                plans = [_plans(each, scale, drawn=False) for each in parts]
                bare[scale] = _clusters(parts, header, plans, sketched)
            if not fits(header, notes, size, _rows(bare[scale], header)):
                continue
            if scale not in views:
                plans = [_plans(each, scale, drawn=True) for each in parts]
                views[scale] = _clusters(parts, header, plans, annotate)
            for rows in _rows(views[scale], header):
                yield composed(
                    name or parts[0].part.name,
                    header,
                    legend,
                    notes,
                    size,
                    scale,
                    rows,
                )

    drawing = first_that_fits(tries())
    if drawing is None:
        raise ExportError(f"{header.title}: fits no sheet at 1:2; shorten the part")
    return drawing


def _common(texts: Sequence[str]) -> str:
    """Return the text that all parts share."""
    return texts[0] if len(set(texts)) == 1 else "see views"


def _rows(groups: Sequence[Sequence[Cluster]], header: Header) -> Iterator[list[list[Cluster]]]:
    """Yield ways to set the views in rows; a group holds those of a part, the main one first.

    All stand in one row, a section across on the side that the projection asks for; else the main
    view alone above the others; else parts alone or in pairs.
    """
    if len(groups) == 1:
        main, *others = groups[0]
        yield [[main, *others] if header.projection == "first" else [*others, main]]
        if others:
            yield [[main], others]
        if len(others) > 1:
            yield [[each] for each in groups[0]]
        return
    clusters = [cluster for group in groups for cluster in group]
    yield [clusters]
    yield [clusters[:1], clusters[1:]]
    if len(clusters) > 2:
        yield [clusters[:2], clusters[2:]]
        yield [[cluster] for cluster in clusters]


def _clusters(
    parts: Sequence[PartNotes], header: Header, plans: Sequence[Plans], place: Place
) -> list[list[Cluster]]:
    """Return the views of all parts, each with its annotations as `place` sets them."""
    found: list[list[Cluster]] = []
    for each, planned in zip(parts, plans, strict=True):
        views = _arranged(each.part, header, planned, place)
        if len(parts) > 1:
            part = each.part
            lines = [
                part.title.upper(),
                f"{each.quantity} off, {part.material}, {shown(part.mass_g, 'g')}",
                *([each.stock] if each.stock else []),
            ]
            views[0] = headed(views[0], lines)
        found.append(views)
    return found


def _plans(notes: PartNotes, scale: float, *, drawn: bool) -> Plans:
    """Return the views one part needs; where they need not be drawn, their boxes do."""
    part, slot = notes.part, _slot(notes.part)
    enlarged = details(notes, scale)
    detailed = [name for detail in enlarged for name in detail.surfaces]
    main = _main_view(part, scale) if drawn else View(scale, (), box(part, scale))
    asks = tuple(_asks(notes, scale, detailed))
    fixed: list[Mark] = []
    if drawn:
        fixed += [mark for detail in enlarged for mark in marked(detail, main, asks)]
    insets = tuple(
        (f"{detail.letter} ({scale_text(detail.scale)})", _detail_plan(notes, detail, drawn=drawn))
        for detail in enlarged
    )
    across: Plan | None = None
    if _is_driven(part):
        across = end_view(part, scale), tuple(_end_asks(notes, scale)), ()
    elif slot is not None:
        fixed += cutting_plane(main, slot, CUT)
        across = cross_section(part, slot, scale), tuple(_slot_asks(notes, slot, scale)), ()
    elif (tang := _tang(part)) is not None and part.outline.has("nose"):
        fixed += cutting_plane(main, tang, CUT)
        across = tang_section(part, tang, scale), (_tang_ask(notes, tang, scale),), ()
    return Plans((main, asks, tuple(fixed)), across, insets)


def _main_view(part: Part, scale: float) -> View:
    """Return a solid part from outside, a hollow one in section."""
    return section(part, scale) if _is_cut(part) else outside(part, scale)


def _is_cut(part: Part) -> bool:
    """Tell whether a part is shown in section: the body, or one that is hollow all through.

    One with spanner flats is not: from outside they are seen on edge, in the section not at all.
    """
    if part.outline.has("bore") or part.outline.has("nose"):
        return True
    if _slot(part) is not None or _tang(part) is not None:
        return False
    return any(is_inside(s) for s in part.outline.segments())


def _detail_plan(notes: PartNotes, detail: Detail, *, drawn: bool) -> Plan:
    """Return a detail with the call-outs that rest within its circle."""
    if not drawn:
        return View(detail.scale, (), detail.box), (), ()
    part = notes.part
    view = detail_view(
        section(part, detail.scale, window=detail.box)
        if _is_cut(part)
        else outside(part, detail.scale),
        detail,
    )
    left, bottom, right, top = view.box
    asks = []
    for note in detail_callouts(notes, detail.surfaces, detail.scale):
        kept = [n for n, (x, y) in enumerate(note.anchors) if left < x < right and bottom < y < top]
        asks.append(
            Note(
                tuple(note.anchors[n] for n in kept),
                note.rows,
                tuple(note.normals[n] for n in kept if note.normals),
            )
        )
    return view, tuple(asks), ()


def _arranged(part: Part, header: Header, plans: Plans, place: Place) -> list[Cluster]:
    """Return the views of a part: an end view beside the main one, a cut under its letters."""
    main = place(*plans.main)
    insets = [headed(_centred(place(*plan), plan[0]), (title,)) for title, plan in plans.details]
    if plans.across is None:
        return [main, *insets]
    across = place(*plans.across)
    if not _is_driven(part):
        return [main, headed(across, (f"{CUT}-{CUT}",)), *insets]
    first = header.projection == "first"
    return [beside(main, across, 8.0) if first else beside(across, main, 8.0), *insets]


def _centred(cluster: Cluster, view: View) -> Cluster:
    """Return a detail with the middle of its circle at its origin."""
    left, bottom, right, top = view.box
    return shifted(cluster, -(left + right) / 2, -(bottom + top) / 2)


def _is_driven(part: Part) -> bool:
    return any(
        isinstance(cut, DriverSlot | HexSocket) or is_faced(cut, part.outline) for cut in part.cuts
    )


def _slot(part: Part) -> Slot | None:
    return next((cut for cut in part.cuts if isinstance(cut, Slot)), None)


def _tang(part: Part) -> SideFlat | None:
    """Return the flats on two sides that no end view shows: of a tang, or for a tip's spanner."""
    flats = (cut for cut in part.cuts if isinstance(cut, SideFlat) and cut.both)
    return next((cut for cut in flats if not is_faced(cut, part.outline)), None)


def _tang_ask(notes: PartNotes, tang: SideFlat, scale: float) -> Length:
    """Return the thickness of a tang in the section across it."""
    half = scale * tang.off_mm
    wide = scale * tang.half_width_mm(notes.part.outline.radius_at_mm(tang.rear_mm, inside=False))
    return _length(notes, tang.name, (wide, -half), (wide, half), "right", "<>")


def _asks(notes: PartNotes, scale: float, detailed: Sequence[str]) -> Iterator[Ask]:
    """Yield everything the main view shows."""
    yield from _length_asks(notes, scale)
    yield from _diameter_asks(notes, scale)
    yield from callouts(notes, scale, detailed)


def _length_asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    part = notes.part
    seen: set[tuple[float, float]] = set()
    for name, start, end, side in LENGTHS:
        a, b = place_mm(part, start), place_mm(part, end)
        if a is None or b is None or b - a < 1e-6 or (name == "nose" and not _has_step(part)):
            continue
        if name in _untold(part) or (name == "shank" and not part.outline.has("taper")):
            continue
        if (round(a, 6), round(b, 6)) in seen:
            continue
        seen.add((round(a, 6), round(b, 6)))
        sign = -1.0 if side == "below" else 1.0
        points = []
        for z, wish in ((a, start), (b, end)):
            r = _socket_mm(part) if wish == "front of driver" else 0.0
            if wish in DEEP:  # in a hole: from its own edge, through the wall
                r = part.outline.radius_at_mm(z, inside=True)
            r = r or _edge_mm(part, z)
            on_axis = wish.endswith(" of slot")
            points.append((-scale * z, 0.0 if on_axis else sign * scale * r))
        yield _length(notes, name, points[0], points[1], side, "<>")


def _untold(part: Part) -> tuple[str, ...]:
    """Return the lengths that other sizes make up.

    Where the nose is threaded its call-out says how deep the hole for the thread is, and the
    pocket begins there. A nose bush is measured both ways from the seat of its flange.
    """
    if part.outline.has("nose thread"):
        return ("step",)
    return ("overall",) if part.outline.has("flange seat") else ()


def _socket_mm(part: Part) -> float:
    """Return the radius at which a corner of a hexagon socket is drawn, 0 for a part with none."""
    sockets = (cut for cut in part.cuts if isinstance(cut, HexSocket))
    return next((cut.across_flats_mm / sqrt(3) for cut in sockets), 0.0)


def _length(notes: PartNotes, name: str, start: Point, end: Point, side: Side, text: str) -> Length:
    """Return a dimension with the tolerance of a surface behind it."""
    return Length(
        start,
        end,
        side,
        pattern(text, notes, name),
        notes.spelling(name),
        level=notes.unit == "inch",
        datum=_datum_letter(notes, name),
    )


def _datum_letter(notes: PartNotes, name: str) -> str:
    """Return the letter of the datum that hangs on the diameter of a surface, "" for none."""
    return DATUM if name and name == datum_surface(notes) and name not in TAPERS else ""


def _has_step(part: Part) -> bool:
    """Tell whether the nose differs from what follows; else it is one cylinder with the shank."""
    outline = part.outline
    parallel = outline.has("shank") or outline.has("barrel")
    return not parallel or outline.has("taper") or outline.has("shoulder")


def _edge_mm(part: Part, z: float) -> float:
    """Return the radius at which an extension line leaves the part: the step's own corner."""
    outline = part.outline
    ends = min(c.z_mm for c in outline.corners), max(c.z_mm for c in outline.corners)
    r_mm = outline.radius_at_mm(z, inside=False)
    if z in ends:
        r_mm = max(c.r_mm for c in outline.corners if c.z_mm == z)
    flats = _tang(part)
    if flats is not None and not outline.has("nose") and z in (flats.front_mm, flats.rear_mm):
        behind = [outline.radius_at_mm(each, inside=False) for each in _beside(outline, z)]
        walled = len(behind) > 1 and min(behind) > flats.off_mm
        r_mm = r_mm if walled else min(r_mm, flats.off_mm)
    return r_mm


def _beside(outline: Outline, z: float) -> tuple[float, ...]:
    """Return positions just before and just behind a place, those within the part."""
    return tuple(each for each in (z - 1e-6, z + 1e-6) if 0 <= each <= outline.length_mm)


def _diameter_asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    part = notes.part
    for name, where, text in DIAMETERS:
        s = surface(part, name)
        if s is None or not text or (name == "vent" and part.outline.has("nose")):
            continue
        if name == "taper" and any(map(part.outline.has, ("rear shoulder", "parallel body"))):
            continue
        if name == "nose" and not _has_step(part):
            continue
        if where == "across":
            stations = tuple(
                (-scale * (s.front_mm + share * s.length_mm), scale * s.diameter_mm / 2)
                for share in SHARES
            )
            free = _clear_of_cuts(part, stations, scale)[:STATIONS]
            letter = _datum_letter(notes, name)
            yield Across(free, pattern(text, notes, name), notes.spelling(name), letter)
            continue
        r = scale * s.diameter_mm / 2
        z = s.front_mm if where == "right" else s.rear_mm
        if name == "taper":
            z = part.outline.length_mm
            share = (z - s.start.z_mm) / (s.end.z_mm - s.start.z_mm)
            r = scale * (s.start.r_mm + share * (s.end.r_mm - s.start.r_mm))
        yield _length(notes, name, (-scale * z, -r), (-scale * z, r), where, text)
    flats = _tang(part)
    if flats is not None and not part.outline.has("nose"):
        stations = tuple(
            (-scale * (flats.front_mm + share * flats.length_mm), scale * flats.off_mm)
            for share in (0.5, 0.3, 0.7, 0.85, 0.15)
        )
        yield Across(stations, "<> A/F", notes.spelling(flats.name))
    if "gauge plane" in dict(part.outline.planes) and part.outline.has("taper"):
        z = part.outline.plane_mm("gauge plane")
        r = part.outline.radius_at_mm(z, inside=False)
        text = pattern("Ø<>", notes, "gauge plane") + " gauge"
        yield Across(((-scale * z, scale * r),), text, fine(notes.unit))


def _clear_of_cuts(
    part: Part, stations: tuple[tuple[float, float], ...], scale: float
) -> tuple[tuple[float, float], ...]:
    """Return the stations that do not stand in a slot or in flats, or all where none is left."""
    slot = _slot(part) or _tang(part)
    if slot is None:
        return stations
    low, high = slot.front_mm - 2 / scale, slot.front_mm + slot.length_mm + 2 / scale
    kept = tuple(s for s in stations if not low <= -s[0] / scale <= high)
    if _slot(part) is None:
        xs = [x for x, _ in stations]
        far, near = sorted((min(xs), max(xs)), key=lambda x: -abs(x + scale * (low + high) / 2))
        best = far + FROM_FAR_END * (near - far)
        kept = tuple(sorted(kept, key=lambda s: abs(s[0] - best)))
    return kept or stations


def _slot_asks(notes: PartNotes, slot: Slot, scale: float) -> Iterator[Ask]:
    """Yield width, depth and what a micrometer reads over the slot."""
    r = scale * notes.part.outline.radius_at_mm(slot_middle_mm(slot), inside=False)
    h, floor = scale * slot.width_mm / 2, r - scale * slot.depth_mm
    wall = (r**2 - h**2) ** 0.5 if h < r else floor
    wide: SlotSize = ((wall, -h), (wall, h), "right", "<>", "slot width")
    deep: SlotSize = ((floor, -h), (r, 0.0), "below", "<>", "slot depth")
    over: SlotSize = ((-r, 0.0), (floor, h), "above", "(<>)", "")
    lengths = [wide] if slot.through(notes.part.outline) else [deep, over]
    if slot.both:
        lengths = [((-floor, -h), (floor, -h), "below", "<> A/F", "over flat")]
    elif slot.name == KEY_SLOT:
        lengths = [deep]
    elif slot.name == DRIVE_FLAT:
        lengths = [((-r, 0.0), (floor, h), "below", "<>", "over flat")]
    if not slot.square and not slot.through(notes.part.outline):
        lengths.insert(0, wide)
    for start, end, side, text, name in lengths:
        yield _length(notes, name, start, end, side, text)


def _end_asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the size of a driver slot or socket in the end view."""
    part = notes.part
    for cut in part.cuts:
        if isinstance(cut, DriverSlot):
            r = scale * part.outline.surface("thread").diameter_mm / 2
            h = scale * cut.width_mm / 2
            y = (r**2 - h**2) ** 0.5
            yield _length(notes, cut.name, (-h, -y), (h, -y), "below", "<>")
        elif isinstance(cut, HexSocket):
            h = scale * cut.across_flats_mm / 2
            low = -h / 3**0.5
            yield _length(notes, cut.name, (-h, low), (h, low), "below", "<> A/F")
        elif isinstance(cut, SideFlat) and is_faced(cut, part.outline):
            h = scale * cut.off_mm
            y = ((scale * part.outline.diameter_mm / 2) ** 2 - h**2) ** 0.5
            yield _length(notes, cut.name, (-h, -y), (h, -y), "below", "<> A/F")
