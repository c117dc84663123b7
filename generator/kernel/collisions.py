"""The proof of motion: how near the built solids come over the stroke, and where they collide.

What is turned and stands on the tool's axis is held against its like by half sections read off the
seams of the turned solids: exact, and a hundred times faster than the kernel's own distance. Cuts
only take metal away, so where sections are apart so are the solids. A cut from one side lies on +y
and the seams on -y, where the metal is whole: what two sections share is shared by the solids; a
cut right through for a pin is filled by the pin. The volume of what is shared is the kernel's. The
set screw stands across the axis; the kernel alone measures it, or the pin that stands in its place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from math import inf
from typing import Final, NamedTuple

from generator.errors import ExportError
from generator.kernel.alike import Firsts
from generator.kernel.screw import crossing_contacts, deep, rolled_out
from generator.kernel.shapes import blank, compare
from generator.kernel.touch import shared, standing, volume_mm3
from generator.model.assembly import Placed
from generator.model.contacts import LEAST_VOLUME_MM3, TOUCHING_MM, Contact, Proof
from generator.model.limit_sizes import limit_sizes
from generator.model.part import Part, cored
from generator.model.section import Line, Section, distance_mm, overlap, section, section_of
from generator.model.stroke import POSITIONS, Stand, Stroke, stroke
from generator.model.tool import Tool

ON_AXIS_MM: Final = 1e-9


class Found(NamedTuple):
    """What two parts do over a stroke, and how they stand there."""

    contact: Contact
    first: Placed
    second: Placed
    core_mm: float


def prove(tool: Tool) -> Proof:
    """Return the proof of motion of a tool.

    Raises:
        ExportError: If the kernel makes no solid of a part, or cannot hold two against each other.
    """
    sizes, firsts = limit_sizes(tool), Firsts()
    strokes = [stroke(each, o) for each in sizes for o in each.tool.ways]
    contacts = [contact for each in strokes for contact in _looked(each, firsts)]
    nominal = [each for each in strokes if each.sizes == sizes[0].name]
    with _told(tool.name):
        return Proof(
            positions=POSITIONS,
            sizes=tuple((each.name, each.told) for each in sizes),
            orientations=tuple(o.name for o in tool.ways),
            nearest=tuple(_nearest(contacts)),
            collisions=tuple(_most(contacts)),
            rolled=tuple(rolled_out(each, firsts) for each in nominal if each.one_sided),
            deep=tuple(deep(each, firsts) for each in nominal if each.one_sided),
            seats=tuple(_seat(each, contacts) for each in nominal),
        )


def _looked(whole: Stroke, firsts: Firsts) -> tuple[Contact, ...]:
    with _told(f"motion at {whole.sizes} sizes"):
        return tuple(_contacts(whole, firsts))


@contextmanager
def _told(where: str) -> Iterator[None]:
    """Turn whatever the kernel throws into an error that says where it was."""
    try:
        yield
    except ExportError as reason:
        raise ExportError(f"{where}: {reason}") from reason
    except Exception as reason:  # the kernel's errors have no base class of their own
        raise ExportError(f"{where}: the kernel cannot prove it ({reason})") from reason


def _contacts(whole: Stroke, firsts: Firsts) -> Iterator[Contact]:
    """Yield every two parts of a stroke, where they share most, else where they are nearest."""
    sections = [
        {name: _standing(place) for name, place in stand.placed.items() if name not in whole.across}
        for stand in whole.stands
    ]
    cores = [
        {**each, **_screwed_in(stand)} for stand, each in zip(whole.stands, sections, strict=True)
    ]
    for first, second in whole.pairs:
        if first not in whole.across and second not in whole.across:
            threaded = (first, second) == ("plunger", "tip")
            found = _turned_pair(whole, first, second, cores if threaded else sections)
            if found is not None:
                yield _measured(found) if found.contact.collides else found.contact
    yield from crossing_contacts(whole, firsts)


def _screwed_in(stand: Stand) -> dict[str, Section]:
    """Return the half section of a screwed tip down to its core, as the stem meets it."""
    return {
        name: _standing(replace(place, part=cored(place.part)))
        for name, place in stand.placed.items()
        if name == "tip"
    }


def _turned_pair(
    whole: Stroke, first: str, second: str, sections: Sequence[Mapping[str, Section]]
) -> Found | None:
    """Return what two parts on the axis do over a stroke; None where one is all thread.

    Of a part screwed into the body only the core is held against the body. Two that stand still,
    or move together, are looked at once.
    """
    screwed = first == "body" and second in whole.cores_mm
    core_mm = whole.cores_mm[second] if screwed else 0.0
    seen: set[tuple[int, int, float]] = set()
    worst: Found | None = None
    for stand, section_of_part in zip(whole.stands, sections, strict=True):
        one, whole_other = section_of_part[first], section_of_part[second]
        moved_mm = stand.placed[second].origin_mm[2] - stand.placed[first].origin_mm[2]
        key = (id(one), id(whole_other), round(moved_mm, 9))
        if key in seen:
            continue
        seen.add(key)
        other = whole_other.within(core_mm / 2) if core_mm else whole_other
        if other is None:
            return None
        contact = _contact(whole, stand, (first, second), one, other, worst)
        if contact is not None:
            worst = Found(contact, stand.placed[first], stand.placed[second], core_mm)
    return worst


def _contact(
    whole: Stroke,
    stand: Stand,
    names: tuple[str, str],
    one: Section,
    other: Section,
    worst: Found | None,
) -> Contact | None:
    """Return what two sections do at a position, if it is worse than what is known."""
    moved_mm = stand.placed[names[1]].origin_mm[2] - stand.placed[names[0]].origin_mm[2]
    known_mm = worst.contact.clearance_mm if worst else inf
    known_mm3 = worst.contact.volume_mm3 if worst else 0.0
    ends = other.front_mm + moved_mm - one.rear_mm, one.front_mm - other.rear_mm - moved_mm
    if max(ends) >= known_mm:
        return None
    here = (*names, whole.orientation, whole.sizes, stand.travel_mm)
    both = overlap(one, other, moved_mm)
    if both.volume_mm3 > max(known_mm3, LEAST_VOLUME_MM3):
        return Contact(*here, 0.0, both.volume_mm3, both.across_mm, both.along_mm)
    if known_mm == 0.0 or both.volume_mm3 > LEAST_VOLUME_MM3:
        return None
    far_mm = distance_mm(one, other, moved_mm)
    far_mm = far_mm if far_mm > TOUCHING_MM else 0.0
    return Contact(*here, far_mm) if far_mm < known_mm else None


def _measured(found: Found) -> Contact:
    """Return an overlap of sections with the volume that the kernel measures on the solids.

    The section knows nothing of the cuts on the other side, so its volume is the most there can be;
    it stands where the kernel finds nothing, as it may where faces nearly coincide.
    """
    contact = found.contact
    first, second = standing(found.first), standing(found.second, found.core_mm)
    true_mm3 = volume_mm3(shared(first, second))
    if LEAST_VOLUME_MM3 < true_mm3 < contact.volume_mm3:
        return replace(contact, volume_mm3=true_mm3)
    return contact


def _standing(place: Placed) -> Section:
    """Return the half section of a part as it stands.

    A spring is no solid: its envelope is another at every position, and four straight lines.
    """
    turned = place.axis.startswith("front")
    if place.part.name.startswith("spring"):
        made = section_of(place.part.outline)
        return made.turned() if turned else made
    return _half_section(place.part, turned)


@lru_cache(maxsize=64)
def _half_section(part: Part, turned: bool) -> Section:
    """Return the half section of a turned solid; no seam may be missing from it."""
    made = section(_seams(part))
    compare(f"{part.name}: half section", made.volume_mm3, section_of(part.outline).volume_mm3)
    return made.turned() if turned else made


def _seams(part: Part) -> Iterator[Line]:
    """Yield the seams of the turned solid: where its faces meet the half plane x = 0, y < 0.

    A round seam is told by chords, as many as the outline has.
    """
    for edge in blank(part).Edges():
        if edge.geomType() == "CIRCLE" and abs(edge.tangentAt(0).x) < ON_AXIS_MM:
            count = sum(s.is_arc for s in part.outline.segments())
            points = [edge.positionAt(n / count) for n in range(count + 1)]
            for one, other in pairwise(points):
                yield one.z, abs(one.y), other.z, abs(other.y)
        if edge.geomType() == "LINE":
            ends = edge.startPoint(), edge.endPoint()
            (y0, z0), (y1, z1) = sorted((point.y, point.z) for point in ends)
            if y0 < -ON_AXIS_MM:
                yield z0, -y0, z1, -y1


def _seat(whole: Stroke, contacts: Iterable[Contact]) -> Contact:
    """Return what the plunger, or a ball in its inner end, does to the part pressed on it."""
    placed = whole.stands[0].placed
    ball = placed.get("ball")
    inner = ball is not None and ball.origin_mm[2] > 0
    pair = ("ball" if inner else "plunger", whole.behind)
    here = whole.orientation, whole.sizes
    return next(
        each
        for each in contacts
        if (each.first, each.second) == pair and (each.orientation, each.sizes) == here
    )


def _nearest(contacts: Iterable[Contact]) -> Iterator[Contact]:
    """Yield for each pair and each set of sizes where it is nearest, in the order they came."""
    least: dict[tuple[str, str], Contact] = {}
    for contact in contacts:
        key = contact.pair, contact.sizes
        if key not in least or contact.clearance_mm < least[key].clearance_mm:
            least[key] = contact
    yield from least.values()


def _most(contacts: Iterable[Contact]) -> Iterator[Contact]:
    """Yield for each pair that collides where it shares most."""
    most: dict[str, Contact] = {}
    for contact in contacts:
        if contact.collides and (
            contact.pair not in most or contact.volume_mm3 > most[contact.pair].volume_mm3
        ):
            most[contact.pair] = contact
    yield from most.values()
