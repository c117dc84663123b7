"""The fit of a plunger in its bore, and what its clearance does at the tip."""

from __future__ import annotations

from math import atan, degrees

_UM_PER_MM = 1000


def least_clearance_um(
    *, hole_lower_um: float, shaft_upper_um: float, nominal_difference_mm: float = 0.0
) -> float:
    """Return the clearance of the smallest hole and the largest shaft.

    Args:
        hole_lower_um: Lower deviation of the hole.
        shaft_upper_um: Upper deviation of the shaft.
        nominal_difference_mm: Nominal size of the hole less that of the shaft.

    Returns:
        Clearance on the diameter; negative for interference.

    Raises:
        ValueError: If an argument is not a number.

    Source:
        ISO 286-1; example: 25 H7/g6, printed as 7 to 41 um.

    Example:
        >>> least_clearance_um(hole_lower_um=0, shaft_upper_um=-7)
        7.0
    """
    return _clearance_um(hole_lower_um, shaft_upper_um, nominal_difference_mm)


def greatest_clearance_um(
    *, hole_upper_um: float, shaft_lower_um: float, nominal_difference_mm: float = 0.0
) -> float:
    """Return the clearance of the largest hole and the smallest shaft.

    Args:
        hole_upper_um: Upper deviation of the hole.
        shaft_lower_um: Lower deviation of the shaft.
        nominal_difference_mm: Nominal size of the hole less that of the shaft.

    Returns:
        Clearance on the diameter; negative for interference.

    Raises:
        ValueError: If an argument is not a number.

    Source:
        ISO 286-1; example: 25 H7/g6, printed as 7 to 41 um.

    Example:
        >>> greatest_clearance_um(hole_upper_um=21, shaft_lower_um=-20)
        41.0
    """
    return _clearance_um(hole_upper_um, shaft_lower_um, nominal_difference_mm)


def tilt_deg(*, clearance_um: float, guide_mm: float) -> float:
    """Return how far a plunger can tilt in its bore, atan(C / L).

    Args:
        clearance_um: Clearance C on the diameter.
        guide_mm: Length L of the plunger that the bore guides.

    Returns:
        Angle between the two axes.

    Raises:
        ValueError: If the clearance is negative, or the guide not positive.

    Source:
        Geometry, for a tilt so small that the plunger is no wider across than square. No printed
        example was found; the example is 17.45 um in 10 mm, a tenth of a degree by the rule that
        one degree is 1 in 57.3.

    Example:
        >>> round(tilt_deg(clearance_um=17.45, guide_mm=10), 3)
        0.1
    """
    _check(clearance_um, guide_mm)
    return degrees(atan(clearance_um / _UM_PER_MM / guide_mm))


def tip_error_um(*, clearance_um: float, projection_mm: float, guide_mm: float) -> float:
    """Return how far the tip of a tilted plunger lies off the axis of the bore, C (1/2 + P / L).

    Args:
        clearance_um: Clearance C on the diameter.
        projection_mm: Projection P of the tip out of the guide.
        guide_mm: Length L of the plunger that the bore guides.

    Returns:
        Radial error of the tip.

    Raises:
        ValueError: If the clearance or the projection is negative, or the guide not positive.

    Source:
        Geometry: the plunger touches the mouth of the bore on one side and its rear on the other.
        No printed example was found; the example is worked by hand, half the clearance at the mouth
        and as much again for each half guide length beyond.

    Example:
        >>> tip_error_um(clearance_um=20, projection_mm=15, guide_mm=30)
        20.0
    """
    _check(clearance_um, guide_mm)
    if not projection_mm >= 0:
        raise ValueError(f"{projection_mm=}")
    return clearance_um * (0.5 + projection_mm / guide_mm)


def _clearance_um(hole_um: float, shaft_um: float, nominal_difference_mm: float) -> float:
    clearance_um = hole_um - shaft_um + _UM_PER_MM * nominal_difference_mm
    if clearance_um != clearance_um:
        raise ValueError(f"{hole_um=}, {shaft_um=}, {nominal_difference_mm=}")
    return clearance_um


def _check(clearance_um: float, guide_mm: float) -> None:
    if not (clearance_um >= 0 and guide_mm > 0):
        raise ValueError(f"{clearance_um=}, {guide_mm=}")
