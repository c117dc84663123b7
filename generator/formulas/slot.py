"""The retaining slot in the plunger and the tip of the set screw that runs in it.

The slot has round ends and lies along the plunger; its length is over all. Projections count out of
the nose face, the position of the screw into it.
"""

from __future__ import annotations

from math import radians, sqrt, tan


def side_wall_start_mm(*, diameter_mm: float, width_mm: float) -> float:
    """Return how deep below the outside of a round bar the side walls of a slot begin.

    It is the height of the arc over the slot's width, r - sqrt(r^2 - w^2 / 4).

    Args:
        diameter_mm: Diameter of the bar.
        width_mm: Width w of the slot.

    Returns:
        Depth below the outside, at the middle of the slot.

    Raises:
        ValueError: If the width is not positive, or larger than the diameter.

    Source:
        US Navy training manual 14345, height of arc of a keyseat; example: a printed circle
        segment, radius 0.61, chord 1.2, height 0.5.

    Example:
        >>> round(side_wall_start_mm(diameter_mm=1.22, width_mm=1.2), 9)
        0.5
    """
    if not 0 < width_mm <= diameter_mm:
        raise ValueError(f"{diameter_mm=}, {width_mm=}")
    return (diameter_mm - sqrt(diameter_mm**2 - width_mm**2)) / 2


def chord_mm(*, diameter_mm: float, depth_mm: float) -> float:
    """Return the width of a flat milled to a depth on a round bar, 2 sqrt(t (d - t)).

    Args:
        diameter_mm: Diameter d of the bar.
        depth_mm: Depth t below the outside.

    Returns:
        Width of the flat.

    Raises:
        ValueError: If the depth is negative, or more than the diameter.

    Source:
        Geometry; example: a printed circle segment, radius 10, height 4, chord 16.

    Example:
        >>> chord_mm(diameter_mm=20, depth_mm=4)
        16.0
    """
    if not 0 <= depth_mm <= diameter_mm:
        raise ValueError(f"{diameter_mm=}, {depth_mm=}")
    return 2 * sqrt(depth_mm * (diameter_mm - depth_mm))


def tip_in_slot_mm(
    *, major_mm: float, point_mm: float, penetration_mm: float, flank_deg: float = 45.0
) -> float:
    """Return the diameter of a flat, cup or cone point at the edge of the slot it reaches into.

    The point widens along its flank, and no further than the thread.

    Args:
        major_mm: Major diameter of the screw.
        point_mm: Diameter of the point at its very end; 0 for a sharp cone.
        penetration_mm: How far the point reaches below the outside of the plunger.
        flank_deg: Angle between the flank and the axis of the screw: 45 for the chamfer of flat and
            cup points and for the 90 degree cone, 60 for the 120 degree cone of the shortest
            screws.

    Returns:
        Diameter that meets the ends of the slot.

    Raises:
        ValueError: If the point is negative or larger than the thread, the penetration negative, or
            the flank not between 0 and 90 degrees.

    Source:
        Geometry. No printed example was found; the example is worked by hand, 2 mm and twice 0.5
        mm.

    Example:
        >>> round(tip_in_slot_mm(major_mm=4, point_mm=2, penetration_mm=0.5), 9)
        3.0
    """
    if not (0 <= point_mm <= major_mm and penetration_mm >= 0 and 0 < flank_deg < 90):
        raise ValueError(f"{major_mm=}, {point_mm=}, {penetration_mm=}, {flank_deg=}")
    return min(major_mm, point_mm + 2 * penetration_mm * tan(radians(flank_deg)))


def travel_mm(*, slot_length_mm: float, tip_mm: float) -> float:
    """Return the travel that a slot allows, its length less the tip.

    Args:
        slot_length_mm: Length of the slot over its round ends.
        tip_mm: Diameter of the screw's tip in the slot.

    Returns:
        Travel; negative if the slot is shorter than the tip, so that the two do not go together.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Geometry. No printed example was found; the example is worked by hand.

    Example:
        >>> travel_mm(slot_length_mm=14.5, tip_mm=2.5)
        12.0
    """
    if not (slot_length_mm > 0 and tip_mm > 0):
        raise ValueError(f"{slot_length_mm=}, {tip_mm=}")
    return slot_length_mm - tip_mm


def projection_extended_mm(
    *, front_mm: float, slot_length_mm: float, tip_mm: float, screw_mm: float
) -> float:
    """Return how far the plunger's tip stands out when the rear end of the slot meets the screw.

    Args:
        front_mm: From the plunger's tip to the slot.
        slot_length_mm: Length of the slot over its round ends.
        tip_mm: Diameter of the screw's tip in the slot.
        screw_mm: Position of the screw's axis, from the nose face.

    Returns:
        Projection out of the nose face; negative if the tip stays inside.

    Raises:
        ValueError: If the slot or the tip is not positive, or another argument not a number.

    Source:
        Geometry. No printed example was found; the example is worked by hand.

    Example:
        >>> projection_extended_mm(front_mm=23.75, slot_length_mm=14.5, tip_mm=2.5, screw_mm=16)
        21.0
    """
    projection_mm = front_mm + slot_length_mm - tip_mm / 2 - screw_mm
    if not (slot_length_mm > 0 and tip_mm > 0) or projection_mm != projection_mm:
        raise ValueError(f"{front_mm=}, {slot_length_mm=}, {tip_mm=}, {screw_mm=}")
    return projection_mm


def projection_compressed_mm(*, front_mm: float, tip_mm: float, screw_mm: float) -> float:
    """Return how far the plunger's tip stands out when the front end of the slot meets the screw.

    Args:
        front_mm: From the plunger's tip to the slot.
        tip_mm: Diameter of the screw's tip in the slot.
        screw_mm: Position of the screw's axis, from the nose face.

    Returns:
        Projection out of the nose face; negative if the tip goes inside.

    Raises:
        ValueError: If the tip is not positive, or another argument not a number.

    Source:
        Geometry. No printed example was found; the example is worked by hand.

    Example:
        >>> projection_compressed_mm(front_mm=23.75, tip_mm=2.5, screw_mm=16)
        9.0
    """
    projection_mm = front_mm + tip_mm / 2 - screw_mm
    if not tip_mm > 0 or projection_mm != projection_mm:
        raise ValueError(f"{front_mm=}, {tip_mm=}, {screw_mm=}")
    return projection_mm
