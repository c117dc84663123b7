"""Closed profiles for a cutting machine, in true millimetres."""

from __future__ import annotations

from math import hypot
from typing import Final

from generator.documents.drawing import Point, Profile
from generator.model.part import Part, Slot

COINCIDENT_MM: Final = 1e-6
AXIS_OVERRUN_MM: Final = 3.0


def turning_profile(part: Part, name: str) -> Profile:
    """Return the half section of a part, closed along its axis or its bore.

    X is -z, so that the finished working face is X0 and the material lies toward -X; Y is the
    radius. Sizes are nominal: a female thread stands at its tapping hole, a male one at its major
    diameter.

    Args:
        part: The part.
        name: Name of the file.
    """
    points = _distinct([(-c.z_mm + 0.0, c.r_mm) for c in part.outline.corners])
    left = min(x for x, _ in points)
    right = max(x for x, _ in points)
    return Profile(
        name,
        "PROFILE_HALF",
        tuple((x, y, 0.0) for x, y in points),
        ((left - AXIS_OVERRUN_MM, 0.0), (right + AXIS_OVERRUN_MM, 0.0)),
        (
            f"{part.title}: half profile, mm, 1:1, NOMINAL",
            "X0 = finished working face, material toward -X",
            "Y = radius, axis at Y0",
        ),
    )


def slot_profile(part: Part, name: str) -> Profile:
    """Return the outline of the slot of a part, seen from above: two walls and two half circles.

    That of a flat is a rectangle, as wide as the flat is at its depth.

    X is -z as in the turning profile, Y lies across the part.

    Args:
        part: The part.
        name: Name of the file.

    Raises:
        ValueError: If the part has no slot, or one shorter than it is wide.
    """
    slot = next((cut for cut in part.cuts if isinstance(cut, Slot)), None)
    if slot is None or (slot.length_mm <= slot.width_mm and not slot.square):
        raise ValueError(f"{part.name}: no slot with two walls")
    r, bulge = slot.width_mm / 2, 0.0 if slot.square else 1.0
    round_mm = r * bulge
    right = -slot.front_mm - round_mm
    left = -slot.front_mm - slot.length_mm + round_mm
    return Profile(
        name,
        "SLOT",
        ((left, -r, 0.0), (right, -r, bulge), (right, r, 0.0), (left, r, bulge)),
        ((left - r - AXIS_OVERRUN_MM, 0.0), (right + r + AXIS_OVERRUN_MM, 0.0)),
        (
            f"{part.title}: {slot.name} from above, mm, 1:1, NOMINAL",
            "X0 = finished working face, material toward -X",
            "Y = across, axis at Y0; right through"
            if slot.through(part.outline)
            else f"Y = across, axis at Y0; depth {slot.depth_mm:g} from the outside diameter",
        ),
    )


def _distinct(points: list[Point]) -> list[Point]:
    """Return the points without any that repeats the one before it."""
    kept: list[Point] = []
    for point in points:
        if not kept or hypot(point[0] - kept[-1][0], point[1] - kept[-1][1]) > COINCIDENT_MM:
            kept.append(point)
    while len(kept) > 1 and hypot(kept[0][0] - kept[-1][0], kept[0][1] - kept[-1][1]) <= (
        COINCIDENT_MM
    ):
        kept.pop()
    return kept
