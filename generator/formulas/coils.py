"""End coils of helical compression springs: which coils give, solid length, pitch, and cut springs.

Four forms of end coils are known by name: "closed and ground", "closed", "open" and "open and
ground"; handbooks also call closed ends squared, and open ends plain. Two ends that differ, as on a
spring that was cut, are named one after the other: "open / closed and ground". Each end then counts
for half of what the handbook gives for two of its kind.
"""

from __future__ import annotations

from typing import Final

BETWEEN_ENDS: Final = " / "
"""Stands between the names of two ends that differ."""

_DEAD_COILS: Final = {"closed and ground": 2, "closed": 2, "open": 0, "open and ground": 1}
_SOLID_COILS_MORE: Final = {"closed and ground": 0, "closed": 1, "open": 1, "open and ground": 0}

# The free length is p (n + u) + v d: the shares u of the pitch and v of the wire.
_PITCHES_MORE: Final = {"closed and ground": 0, "closed": 0, "open": 0, "open and ground": 1}
_WIRES_MORE: Final = {"closed and ground": 2, "closed": 3, "open": 1, "open and ground": 0}

# Of EN 13906-1, which covers closed ends alone.
_SOLID_COILS_MORE_EN: Final = {"closed and ground": 0.0, "closed": 1.5}


def front_end(ends: str) -> str:
    """Return the form of the first end alone; on a spring that was cut, the cut one."""
    return ends.split(BETWEEN_ENDS)[0]


def rear_end(ends: str) -> str:
    """Return the form of the other end alone."""
    return ends.split(BETWEEN_ENDS)[-1]


def active_coils(*, total_coils: float, ends: str) -> float:
    """Return the coils that give: the total less 2 for closed ends, 1 for open and ground ones.

    Args:
        total_coils: Total coils nt.
        ends: Form of the end coils, one of the four names.

    Returns:
        Active coils n.

    Raises:
        ValueError: If the ends have no such name, or no coil is left active.

    Source:
        Machinery's Handbook, 31st ed., p. 318, table 3; example: p. 319.

    Example:
        >>> active_coils(total_coils=11, ends="closed and ground")
        9
    """
    active = total_coils - _of_ends(_DEAD_COILS, ends)
    if not active > 0:
        raise ValueError(f"{total_coils=}, {ends=}")
    return active


def total_coils(*, active_coils: float, ends: str) -> float:
    """Return all coils of a spring; the inverse of `active_coils`.

    Args:
        active_coils: Active coils n.
        ends: Form of the end coils, one of the four names.

    Returns:
        Total coils nt.

    Raises:
        ValueError: If the ends have no such name, or the coils are not positive.

    Source:
        Machinery's Handbook, 31st ed., p. 318, table 3; example: p. 319.

    Example:
        >>> total_coils(active_coils=9, ends="closed and ground")
        11
    """
    if not active_coils > 0:
        raise ValueError(f"{active_coils=}")
    return active_coils + _of_ends(_DEAD_COILS, ends)


def solid_length_mm(*, wire_mm: float, total_coils: float, ends: str) -> float:
    """Return the length with all coils touching: nt d, or (nt + 1) d where no end is ground.

    Args:
        wire_mm: Wire diameter d.
        total_coils: Total coils nt.
        ends: Form of the end coils.

    Returns:
        Solid length for the nominal wire, as handbooks give it; see `solid_length_en_mm` too.

    Raises:
        ValueError: If the ends have no such name, or a number is not positive.

    Source:
        Machinery's Handbook, 31st ed., p. 318, table 3; example: Shigley's Mechanical Engineering
        Design, 10th ed., problem 10-3.

    Example:
        >>> solid_length_mm(wire_mm=2.5, total_coils=14, ends="open and ground")
        35.0
    """
    more = _of_ends(_SOLID_COILS_MORE, ends)
    if not (wire_mm > 0 and total_coils > 0):
        raise ValueError(f"{wire_mm=}, {total_coils=}")
    return (total_coils + more) * wire_mm


def solid_length_en_mm(*, wire_greatest_mm: float, total_coils: float, ends: str) -> float:
    """Return the greatest solid length of a cold coiled spring by the European standard.

    It is nt d for closed and ground ends and (nt + 1.5) d for closed ends not ground, d being the
    thickest wire that the wire's tolerance allows.

    Args:
        wire_greatest_mm: Greatest wire diameter d.
        total_coils: Total coils nt.
        ends: Form of the end coils, "closed and ground" or "closed".

    Returns:
        Greatest length with all coils touching.

    Raises:
        ValueError: If the standard does not cover the ends, or a number is not positive.

    Source:
        EN 13906-1, as coded in an open-source calculation program; example worked by hand from the
        rule, wire 0.8 with its tolerance of 0.015 and 14 coils.

    Example:
        >>> round(solid_length_en_mm(wire_greatest_mm=0.815, total_coils=14, ends="closed"), 4)
        12.6325
    """
    if not (ends in _SOLID_COILS_MORE_EN and wire_greatest_mm > 0 and total_coils > 0):
        raise ValueError(f"{wire_greatest_mm=}, {total_coils=}, {ends=}")
    return (total_coils + _SOLID_COILS_MORE_EN[ends]) * wire_greatest_mm


def pitch_mm(*, wire_mm: float, free_mm: float, active_coils: float, ends: str) -> float:
    """Return the pitch of the active coils of a spring at rest.

    The free length is p n + 2 d for closed and ground ends, p n + 3 d for closed ones, p n + d for
    open ones and p (n + 1) for open and ground ones.

    Args:
        wire_mm: Wire diameter d.
        free_mm: Free length L0.
        active_coils: Active coils n.
        ends: Form of the end coils.

    Returns:
        Pitch p.

    Raises:
        ValueError: If the ends have no such name, a number is not positive, or the pitch would be
            less than the wire.

    Source:
        Shigley's Mechanical Engineering Design, 10th ed., table of end types. The example is worked
        by hand, (109.34 - 14)/8; some books print the free length over the total coils less one.

    Example:
        >>> round(pitch_mm(wire_mm=7, free_mm=109.34, active_coils=8, ends="closed and ground"), 3)
        11.918
    """
    pitches, wires = _of_ends(_PITCHES_MORE, ends), _of_ends(_WIRES_MORE, ends)
    if not (wire_mm > 0 and free_mm > 0 and active_coils > 0):
        raise ValueError(f"{wire_mm=}, {free_mm=}, {active_coils=}")
    pitch = (free_mm - wires * wire_mm) / (active_coils + pitches)
    if not pitch >= wire_mm:
        raise ValueError(f"{pitch=} is less than {wire_mm=}")
    return pitch


def cut_ends(ends: str) -> str:
    """Return the ends of a spring of which a piece was cut off: the cut end first, then its own.

    Example:
        >>> cut_ends("closed and ground"), cut_ends("open")
        ('open / closed and ground', 'open')
    """
    return ends if ends == "open" else f"open{BETWEEN_ENDS}{ends}"


def coils_left(*, wire_mm: float, pitch_mm: float, cut_mm: float, ends: str) -> float:
    """Return the active coils of a spring cut down to a free length.

    The pitch stays; one end stays as it was, the other is an open one.

    Args:
        wire_mm: Wire diameter d.
        pitch_mm: Pitch of the active coils at rest.
        cut_mm: Free length that is left.
        ends: Form of the end coils before the cut, one of the four names.

    Returns:
        Active coils that are left.

    Raises:
        ValueError: If the ends have no such name, a number is not positive, or no coil is left
            active.

    Source:
        The free lengths of `pitch_mm`, each end counting for half; no printed example was found.
        The example is worked by hand: 24 = 2 n + 1.5, of which 1 belongs to the closed end.

    Example:
        >>> coils_left(wire_mm=1, pitch_mm=2, cut_mm=24, ends="closed and ground")
        11.25
    """
    if not (wire_mm > 0 and pitch_mm > 0 and cut_mm > 0):
        raise ValueError(f"{wire_mm=}, {pitch_mm=}, {cut_mm=}")
    pitches, wires = (_of_ends(table, cut_ends(ends)) for table in (_PITCHES_MORE, _WIRES_MORE))
    left = (cut_mm - wires * wire_mm) / pitch_mm - pitches
    if not left > 0:
        raise ValueError(f"{cut_mm=} leaves no active coil")
    return left


def cut_length_mm(*, wire_mm: float, pitch_mm: float, active_coils: float, ends: str) -> float:
    """Return the free length to which a spring is cut for so many active coils to be left.

    Args:
        wire_mm: Wire diameter d.
        pitch_mm: Pitch of the active coils at rest.
        active_coils: Active coils to be left.
        ends: Form of the end coils before the cut, one of the four names.

    Returns:
        The free length; the inverse of `coils_left`.

    Raises:
        ValueError: If the ends have no such name, or a number is not positive.

    Source:
        As for `coils_left`.

    Example:
        >>> cut_length_mm(wire_mm=1, pitch_mm=2, active_coils=11.25, ends="closed and ground")
        24.0
    """
    if not (wire_mm > 0 and pitch_mm > 0 and active_coils > 0):
        raise ValueError(f"{wire_mm=}, {pitch_mm=}, {active_coils=}")
    pitches, wires = (_of_ends(table, cut_ends(ends)) for table in (_PITCHES_MORE, _WIRES_MORE))
    return pitch_mm * (active_coils + pitches) + wires * wire_mm


def _of_ends(table: dict[str, int], ends: str) -> float:
    """Return what a table holds for the ends; the mean of both where they differ."""
    names = (front_end(ends), rear_end(ends))
    if not all(name in table for name in names):
        raise ValueError(f"{ends=} is none of {', '.join(table)}")
    if names[0] == names[1]:
        return table[names[0]]
    return (table[names[0]] + table[names[1]]) / 2
