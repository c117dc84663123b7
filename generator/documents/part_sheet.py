"""The sheet of a part: which dimensions cut it, each once, told from its surface names."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final, Literal

from generator.documents.annotate import annotate, sketched
from generator.documents.asks import Across, Ask, Cluster, Length, Note, Side
from generator.documents.callouts import DATUM, callouts, datum_surface, detail_callouts
from generator.documents.detail import Detail, detail_view, details, marked
from generator.documents.drawing import Drawing, Mark, Point
from generator.documents.end_views import cross_section, end_view
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
from generator.model.part import DriverSlot, HexSocket, Part, Slot
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
    ("stem", "front", "front of head chamfer", "below"),
    ("head", "front of head chamfer", "rear of rear head chamfer", "below"),
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
    ("head", "across", "Ø<>"),
    ("tail", "left", "Ø<>"),
    ("nose", "right", "Ø<>"),
    ("shank", "left", "Ø<>"),
    ("extension", "left", "Ø<>"),
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
    return Plans((main, asks, tuple(fixed)), across, insets)


def _main_view(part: Part, scale: float) -> View:
    """Return a solid part from outside, a hollow one in section."""
    return section(part, scale) if _is_cut(part) else outside(part, scale)


def _is_cut(part: Part) -> bool:
    """Tell whether a part is shown in section: one that is hollow all through."""
    return _slot(part) is None and any(is_inside(s) for s in part.outline.segments())


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
    return any(isinstance(cut, DriverSlot | HexSocket) for cut in part.cuts)


def _slot(part: Part) -> Slot | None:
    return next((cut for cut in part.cuts if isinstance(cut, Slot)), None)


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
        if (round(a, 6), round(b, 6)) in seen:
            continue
        seen.add((round(a, 6), round(b, 6)))
        sign = -1.0 if side == "below" else 1.0
        points = []
        for z, wish in ((a, start), (b, end)):
            r = _socket_mm(part) if wish == "front of driver" else 0.0
            r = r or _edge_mm(part, z)
            on_axis = wish.endswith("of slot")
            points.append((-scale * z, 0.0 if on_axis else sign * scale * r))
        yield _length(notes, name, points[0], points[1], side, "<>")


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
    return DATUM if name == datum_surface(notes) != "taper" and name else ""


def _has_step(part: Part) -> bool:
    """Tell whether the nose differs from what follows; else it is one cylinder with the shank."""
    outline = part.outline
    return not outline.has("shank") or outline.has("shoulder")


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
        s = surface(part, name)
        if s is None or not text:
            continue
        if name == "taper" and part.outline.has("extension"):
            continue
        if name == "nose" and not _has_step(part):
            continue
        if where == "across":
            shares = (0.5, 0.25, 0.75, 0.12, 0.88, 0.06, 0.94)
            stations = tuple(
                (-scale * (s.front_mm + share * s.length_mm), scale * s.diameter_mm / 2)
                for share in shares
            )
            free = _clear_of_cuts(part, stations, scale)
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
    if "gauge plane" in dict(part.outline.planes) and part.outline.has("taper"):
        z = part.outline.plane_mm("gauge plane")
        r = part.outline.radius_at_mm(z, inside=False)
        text = pattern("Ø<>", notes, "gauge plane") + " gauge"
        yield Across(((-scale * z, scale * r),), text, fine(notes.unit))


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


def _slot_asks(notes: PartNotes, slot: Slot, scale: float) -> Iterator[Ask]:
    """Yield width, depth and what a micrometer reads over the slot."""
    r = scale * notes.part.outline.radius_at_mm(slot_middle_mm(slot), inside=False)
    h, floor = scale * slot.width_mm / 2, r - scale * slot.depth_mm
    wall = (r**2 - h**2) ** 0.5 if h < r else floor
    wide: SlotSize = ((wall, -h), (wall, h), "right", "<>", "slot width")
    deep: SlotSize = ((floor, -h), (r, 0.0), "below", "<>", "slot depth")
    over: SlotSize = ((-r, 0.0), (floor, h), "above", "(<>)", "")
    lengths = [wide] if slot.through(notes.part.outline) else [deep, over]
    if not slot.square and len(lengths) > 1:
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
