"""The sheet of a part: which dimensions cut it, each once, told from its surface names."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final, Literal

from generator.documents.annotate import annotate, sketched
from generator.documents.asks import Across, Ask, Cluster, Length, Side
from generator.documents.callouts import callouts
from generator.documents.drawing import Drawing, Mark
from generator.documents.end_views import cross_section, end_view
from generator.documents.part_notes import PartNotes, pattern, place_mm, surface
from generator.documents.sheet import (
    CHOICES,
    Header,
    Legend,
    beside,
    composed,
    first_that_fits,
    fits,
    headed,
)
from generator.documents.view import (
    View,
    cutting_plane,
    is_inside,
    outside,
    section,
    slot_middle_mm,
)
from generator.errors import ExportError
from generator.model.part import DriverSlot, HexSocket, Part, Slot
from generator.units import shown

Plans = tuple[tuple[View, tuple[Ask, ...], tuple[Mark, ...]], ...]
Place = Callable[[View, Sequence[Ask], Sequence[Mark]], Cluster]
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

    plans: dict[float, list[Plans]] = {}
    views: dict[float, list[Cluster]] = {}

    def tries() -> Iterator[Drawing | None]:
        for size, scale in CHOICES:
            if max(each.part.outline.length_mm for each in parts) * scale > 300:
                continue
            if scale not in plans:
                plans[scale] = [_plans(each, scale) for each in parts]
            bare = _clusters(parts, header, plans[scale], sketched)
            if not fits(header, notes, size, _rows(bare)):
                continue
            if scale not in views:
                views[scale] = _clusters(parts, header, plans[scale], annotate)
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


def _clusters(
    parts: Sequence[PartNotes], header: Header, plans: Sequence[Plans], place: Place
) -> list[Cluster]:
    """Return the views of all parts, each with its annotations as `place` sets them."""
    found: list[Cluster] = []
    for each, planned in zip(parts, plans, strict=True):
        views = _arranged(each.part, header, [place(*plan) for plan in planned])
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


def _plans(notes: PartNotes, scale: float) -> Plans:
    """Return the views one part needs: view, what it is to show, and marks in their place."""
    part, slot = notes.part, _slot(notes.part)
    asks = tuple(_asks(notes, scale))
    if _is_driven(part):
        end = end_view(part, scale), tuple(_end_asks(notes, scale)), ()
        return (section(part, scale), asks, ()), end
    if slot is None:
        hollow = any(is_inside(s) for s in part.outline.segments())
        return ((section(part, scale) if hollow else outside(part, scale), asks, ()),)
    view = outside(part, scale)
    across = cross_section(part, slot, scale), tuple(_slot_asks(notes, slot, scale)), ()
    return (view, asks, tuple(cutting_plane(view, slot))), across


def _arranged(part: Part, header: Header, views: list[Cluster]) -> list[Cluster]:
    """Return the views of a part: an end view beside the main one, a cut under its letters."""
    if _is_driven(part):
        main, end = views
        first = header.projection == "first"
        return [beside(main, end, 8.0) if first else beside(end, main, 8.0)]
    return [views[0], *(headed(view, ("A-A",)) for view in views[1:])]


def _is_driven(part: Part) -> bool:
    return any(isinstance(cut, DriverSlot | HexSocket) for cut in part.cuts)


def _slot(part: Part) -> Slot | None:
    return next((cut for cut in part.cuts if isinstance(cut, Slot)), None)


def _asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield everything the main view shows."""
    yield from _length_asks(notes, scale)
    yield from _diameter_asks(notes, scale)
    yield from callouts(notes, scale)


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
            r = _edge_mm(part, z)
            on_axis = wish.endswith("of slot")
            points.append((-scale * z, 0.0 if on_axis else sign * scale * r))
        yield Length(points[0], points[1], side, pattern("<>", notes, name))


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
        shown_as = pattern(text, notes, name)
        if where == "across":
            shares = (0.5, 0.25, 0.75, 0.12, 0.88, 0.06, 0.94)
            stations = tuple(
                (-scale * (s.front_mm + share * s.length_mm), scale * s.diameter_mm / 2)
                for share in shares
            )
            yield Across(_clear_of_cuts(part, stations, scale), shown_as)
            continue
        r = scale * s.diameter_mm / 2
        z = s.front_mm if where == "right" else s.rear_mm
        if name == "taper":
            z = part.outline.length_mm
            share = (z - s.start.z_mm) / (s.end.z_mm - s.start.z_mm)
            r = scale * (s.start.r_mm + share * (s.end.r_mm - s.start.r_mm))
        yield Length((-scale * z, -r), (-scale * z, r), where, shown_as)
    if "gauge plane" in dict(part.outline.planes) and part.outline.has("taper"):
        z = part.outline.plane_mm("gauge plane")
        r = part.outline.radius_at_mm(z, inside=False)
        yield Across(((-scale * z, scale * r),), pattern("Ø<>", notes, "gauge plane") + " gauge")


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
    yield Length((wall, -h), (wall, h), "right", pattern("<>", notes, "slot width"))
    yield Length((floor, -h), (r, 0.0), "below", pattern("<>", notes, "slot depth"))
    yield Length((-r, 0.0), (floor, h), "above", "(<>)")


def _end_asks(notes: PartNotes, scale: float) -> Iterator[Ask]:
    """Yield the size of a driver slot or socket in the end view."""
    part = notes.part
    for cut in part.cuts:
        if isinstance(cut, DriverSlot):
            r = scale * part.outline.surface("thread").diameter_mm / 2
            h = scale * cut.width_mm / 2
            y = (r**2 - h**2) ** 0.5
            yield Length((-h, -y), (h, -y), "below", pattern("<>", notes, cut.name))
        elif isinstance(cut, HexSocket):
            h = scale * cut.across_flats_mm / 2
            low = -h / 3**0.5
            yield Length((-h, low), (h, low), "below", pattern("<> A/F", notes, cut.name))
