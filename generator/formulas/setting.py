"""Setting a follower for a hole: how far the tap goes, in how many settings, and back out again.

The quill is locked while the tap turns, so the plunger alone follows. Its compression c counts from
the plunger fully out. A tap that goes in by z lets it out by z; one that is backed off pushes it in
again. Once the quill was lowered part way through a hole, the plunger cannot take the whole way
back: the quill must come up again before it is pushed home and stops the tap hard.

No printed treatment of this was found. The figures of the examples are one hand-worked case: M6, 12
mm through, four threads of lead, 12 mm of travel.
"""

from __future__ import annotations

from math import ceil, isnan

LEAST_RESERVE_MM = 1.0
"""Travel kept at either end against misreading the scale; engineering judgement."""

HALF_TURN_SPARE_MM = 0.5
"""Travel kept beyond the half turn that breaks the chip; engineering judgement."""


def lead_mm(*, lead_threads: float, pitch_mm: float) -> float:
    """Return the length of a tap's lead.

    Args:
        lead_threads: Threads on the lead.
        pitch_mm: Pitch of the thread.

    Returns:
        Length from the front of the tap to its first full thread.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Geometry.

    Example:
        >>> lead_mm(lead_threads=4, pitch_mm=1.0)
        4.0
    """
    if not (lead_threads > 0 and pitch_mm > 0):
        raise ValueError(f"{lead_threads=}, {pitch_mm=}")
    return lead_threads * pitch_mm


def travel_needed_mm(*, depth_mm: float, lead_mm: float) -> float:
    """Return how far a tap goes in for a depth of full thread.

    It counts from the front of the lead at the mouth of the hole. In a through hole it is the same:
    the first full thread reaches the far face when the whole lead has left it, so nothing is added
    for running out. What the lead already stands in the hole at the start is spare.

    Args:
        depth_mm: Depth of full thread.
        lead_mm: Length of the lead.

    Returns:
        Advance of the tap.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Geometry.

    Example:
        >>> travel_needed_mm(depth_mm=12, lead_mm=4)
        16
    """
    if not (depth_mm > 0 and lead_mm > 0):
        raise ValueError(f"{depth_mm=}, {lead_mm=}")
    return depth_mm + lead_mm


def home_reserve_mm(*, pitch_mm: float) -> float:
    """Return the travel kept before the plunger is home: half a turn back to break the chip.

    Args:
        pitch_mm: Pitch of the thread.

    Returns:
        Half a pitch and 0.5 mm, 1 mm at least.

    Raises:
        ValueError: If the pitch is not positive.

    Source:
        Geometry for the half turn; what is added, and the least, are engineering judgement.

    Example:
        >>> home_reserve_mm(pitch_mm=1.0), home_reserve_mm(pitch_mm=1.75)
        (1.0, 1.375)
    """
    if not pitch_mm > 0:
        raise ValueError(f"{pitch_mm=}")
    return max(LEAST_RESERVE_MM, pitch_mm / 2 + HALF_TURN_SPARE_MM)


def usable_travel_mm(
    *, travel_mm: float, home_mm: float, extended_mm: float = LEAST_RESERVE_MM
) -> float:
    """Return how far a tap can advance in one setting.

    Args:
        travel_mm: Travel of the plunger.
        home_mm: Travel kept before the plunger is home.
        extended_mm: Travel kept before it is fully out.

    Returns:
        Travel less both; negative where the tool is too short for the thread.

    Raises:
        ValueError: If the travel is not a number, or a reserve is negative.

    Source:
        Geometry.

    Example:
        >>> usable_travel_mm(travel_mm=12, home_mm=1.0)
        10.0
    """
    if travel_mm != travel_mm or not (home_mm >= 0 and extended_mm >= 0):
        raise ValueError(f"{travel_mm=}, {home_mm=}, {extended_mm=}")
    return travel_mm - home_mm - extended_mm


def settings_mm(*, needed_mm: float, usable_mm: float) -> tuple[float, ...]:
    """Return how far the tap advances in each setting: all it can, and in the last what is left.

    Args:
        needed_mm: How far the tap goes in.
        usable_mm: How far it can go in one setting.

    Returns:
        One advance a setting; together they are what is needed.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Arithmetic.

    Example:
        >>> settings_mm(needed_mm=16, usable_mm=10), settings_mm(needed_mm=25, usable_mm=10)
        ((10, 6), (10, 10, 5))
    """
    if not (needed_mm > 0 and usable_mm > 0):
        raise ValueError(f"{needed_mm=}, {usable_mm=}")
    full = max(1, ceil(needed_mm / usable_mm - 1e-9)) - 1
    return (*(usable_mm for _ in range(full)), needed_mm - full * usable_mm)


def retreat_left_mm(*, travel_mm: float, compression_mm: float) -> float:
    """Return how far the plunger can still be pushed in.

    Args:
        travel_mm: Travel of the plunger.
        compression_mm: How far it is pushed in already.

    Returns:
        Travel left.

    Raises:
        ValueError: If the compression is negative or more than the travel.

    Source:
        Geometry.

    Example:
        >>> retreat_left_mm(travel_mm=12, compression_mm=5)
        7
    """
    if not 0 <= compression_mm <= travel_mm:
        raise ValueError(f"{travel_mm=}, {compression_mm=}")
    return travel_mm - compression_mm


def least_raise_mm(*, advanced_mm: float, retreat_mm: float) -> float:
    """Return by how much the quill must at least come up before the tap is out of the hole.

    Args:
        advanced_mm: How far the tap went in, and has to come back.
        retreat_mm: How far the plunger can still be pushed in.

    Returns:
        What the plunger cannot take; 0 if it takes all.

    Raises:
        ValueError: If an argument is negative.

    Source:
        Geometry.

    Example:
        >>> least_raise_mm(advanced_mm=16, retreat_mm=7)
        9
    """
    if not (advanced_mm >= 0 and retreat_mm >= 0):
        raise ValueError(f"{advanced_mm=}, {retreat_mm=}")
    return max(advanced_mm - retreat_mm, 0)


def clear_below_mm(*, drilled_mm: float, depth_mm: float, lead_mm: float) -> float:
    """Return what is left below the tap in a blind hole when the thread is deep enough.

    Args:
        drilled_mm: Depth of the hole to the drill's full diameter.
        depth_mm: Depth of full thread.
        lead_mm: Length of the lead.

    Returns:
        Room below the lead; negative where the tap meets the bottom before.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Geometry.

    Example:
        >>> clear_below_mm(drilled_mm=18, depth_mm=12, lead_mm=4)
        2
    """
    if not drilled_mm > 0:
        raise ValueError(f"{drilled_mm=}")
    return drilled_mm - travel_needed_mm(depth_mm=depth_mm, lead_mm=lead_mm)


def spindle_gap_mm(
    *,
    stand_out_mm: float,
    nose_mm: float,
    projection_mm: float,
    tap_mm: float,
    overlap_mm: float,
    entry_mm: float,
) -> float:
    """Return the distance from the spindle face to the work when the plunger meets the tap.

    Args:
        stand_out_mm: From the spindle face to the shoulder of the body, taper seated.
        nose_mm: Length of the nose.
        projection_mm: How far the plunger stands out of it.
        tap_mm: Length of the tap, and of the wrench behind it where that is followed.
        overlap_mm: How far plunger and tap reach into each other; negative where a point stands off
            on a smaller countersink.
        entry_mm: How far the front of the tap stands in the hole.

    Returns:
        The distance.

    Raises:
        ValueError: If a length but the overlap is negative.

    Source:
        Geometry; the example is worked by hand: MT2, nose 24, plunger fully out at 21, an M6 tap of
        66 mm.

    Example:
        >>> spindle_gap_mm(
        ...     stand_out_mm=5, nose_mm=24, projection_mm=21, tap_mm=66, overlap_mm=2, entry_mm=2
        ... )
        112
    """
    lengths = (stand_out_mm, nose_mm, tap_mm, entry_mm)
    if not all(length >= 0 for length in lengths) or isnan(projection_mm + overlap_mm):
        raise ValueError(f"{lengths=}, {projection_mm=}, {overlap_mm=}")
    return stand_out_mm + nose_mm + projection_mm + tap_mm - overlap_mm - entry_mm
