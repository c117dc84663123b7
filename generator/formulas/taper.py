"""Tapers, and the settings that turn them.

A taper is given as a ratio on the diameter: what the diameter loses over a length, over that
length. Taper per foot over 12 is the same ratio.
"""

from __future__ import annotations

from math import atan, cos, degrees, radians, sin


def half_angle_deg(*, taper: float) -> float:
    """Return the angle between axis and flank, atan(C / 2), to which a compound slide is set.

    Args:
        taper: Taper on the diameter C.

    Returns:
        Half angle.

    Raises:
        ValueError: If the taper is not positive.

    Source:
        Machinery's Handbook, 31st ed., p. 701; example: MT3, 0.60235 in per foot, a machinists'
        forum's check of a drawing.

    Example:
        >>> round(half_angle_deg(taper=0.60235 / 12), 7)
        1.4377029
    """
    return degrees(_half_angle_rad(taper))


def included_angle_deg(*, taper: float) -> float:
    """Return the angle between opposite flanks, 2 atan(C / 2).

    Args:
        taper: Taper on the diameter C.

    Returns:
        Included angle.

    Raises:
        ValueError: If the taper is not positive.

    Source:
        As for `half_angle_deg`.

    Example:
        >>> round(included_angle_deg(taper=0.60235 / 12), 7)
        2.8754058
    """
    return degrees(2 * _half_angle_rad(taper))


def diameter_at_mm(*, gauge_diameter_mm: float, taper: float, distance_mm: float) -> float:
    """Return the diameter at a distance from the gauge plane, D - C z.

    Args:
        gauge_diameter_mm: Diameter D at the gauge plane.
        taper: Taper on the diameter C.
        distance_mm: Distance z from the gauge plane, positive toward the small end.

    Returns:
        Diameter there.

    Raises:
        ValueError: If the diameter or the taper is not positive, or the plane lies beyond the tip
            of the cone.

    Source:
        By the definition of taper; example: Machinery's Handbook, Morse shanks, MT2: 0.700 in at
        the gauge line, 0.59941 in per foot, 0.572 in at the end of the plug 2 9/16 in long.

    Example:
        >>> end_mm = diameter_at_mm(
        ...     gauge_diameter_mm=0.700 * 25.4, taper=0.59941 / 12, distance_mm=2.5625 * 25.4
        ... )
        >>> round(end_mm / 25.4, 3)
        0.572
    """
    diameter_mm = gauge_diameter_mm - taper * distance_mm
    if not (gauge_diameter_mm > 0 and taper > 0 and diameter_mm >= 0):
        raise ValueError(f"{gauge_diameter_mm=}, {taper=}, {distance_mm=}")
    return diameter_mm


def slide_travel_mm(*, length_mm: float, taper: float) -> float:
    """Return the travel along the compound slide that turns a cone, l / cos h.

    Args:
        length_mm: Length l of the cone along its axis.
        taper: Taper on the diameter C.

    Returns:
        Travel along the slide, without lead and run-off.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Geometry. The example is the 3-4-5 triangle: a taper of 1.5 has the half slope 3/4.

    Example:
        >>> round(slide_travel_mm(length_mm=4, taper=1.5), 9)
        5.0
    """
    _check_positive(length_mm=length_mm)
    return length_mm / cos(_half_angle_rad(taper))


def dial_rise_mm(*, travel_mm: float, taper: float) -> float:
    """Return what a dial on the compound slide reads along a true test bar, s sin h.

    Args:
        travel_mm: Travel s along the slide.
        taper: Taper on the diameter C to which the slide is set.

    Returns:
        Change of the reading over that travel.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Geometry; example: a shop note, slide at 30 degrees, 1.000 in of travel, 0.500 in of
        cross movement.

    Example:
        >>> from math import tan
        >>> round(dial_rise_mm(travel_mm=25.4, taper=2 * tan(radians(30))) / 25.4, 3)
        0.5
    """
    _check_positive(travel_mm=travel_mm)
    return travel_mm * sin(_half_angle_rad(taper))


def carriage_rise_mm(*, travel_mm: float, taper: float) -> float:
    """Return what a dial on the carriage reads along the flank of a cone held true, z C / 2.

    Args:
        travel_mm: Travel z of the carriage.
        taper: Taper on the diameter C.

    Returns:
        Change of the reading over that travel.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        By the definition of taper; example: a home workshop's page on aligning a top slide: 27 mm
        of carriage, from 6.5 to 3.5 mm in diameter, 1.5 mm on the dial.

    Example:
        >>> round(carriage_rise_mm(travel_mm=27, taper=(6.5 - 3.5) / 27), 9)
        1.5
    """
    _check_positive(travel_mm=travel_mm, taper=taper)
    return travel_mm * taper / 2


def axial_shift_mm(*, radial_mm: float, taper: float) -> float:
    """Return how far a cone goes deeper into its socket for a cut off its radius, 2 e / C.

    Args:
        radial_mm: Cut e on the radius; negative for a socket or shank that is too small.
        taper: Taper on the diameter C.

    Returns:
        Shift along the axis, of the same sign.

    Raises:
        ValueError: If the taper is not positive.

    Source:
        By the definition of taper. No printed example was found; the example is worked by hand.

    Example:
        >>> round(axial_shift_mm(radial_mm=0.01, taper=1 / 20), 9)
        0.4
    """
    if not taper > 0:
        raise ValueError(f"{taper=}")
    return 2 * radial_mm / taper


def set_over_mm(*, length_mm: float, taper: float) -> float:
    """Return the set-over of the tailstock that turns a taper between centres, L sin h.

    Handbooks print L C / 2, the tangent; it is 0.03 % more for a Morse taper, 0.09 % for one inch
    in the foot.

    Args:
        length_mm: Length L of the whole piece between its centres, not of the cone.
        taper: Taper on the diameter C.

    Returns:
        Distance of the tailstock's centre from the axis of the lathe.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Geometry; example: Turning and Boring (1914), chapter on taper turning: 1 in per foot, 9 in
        long, 3/8 in.

    Example:
        >>> round(set_over_mm(length_mm=9 * 25.4, taper=1 / 12) / 25.4, 3)
        0.375
    """
    _check_positive(length_mm=length_mm)
    return length_mm * sin(_half_angle_rad(taper))


def sine_bar_mm(*, length_mm: float, angle_deg: float) -> float:
    """Return the gauge blocks under one roller of a sine bar, L sin(angle).

    A cone that lies on the bar with its upper flank level takes its included angle.

    Args:
        length_mm: Distance L between the rollers.
        angle_deg: Angle of the bar.

    Returns:
        Height of the blocks.

    Raises:
        ValueError: If the length is not positive, or the angle not from 0 up to 90 degrees.

    Source:
        US Army TC 9-524, appendix C; example: 5 in bar, 23 degrees 41 minutes, 2.0084 in.

    Example:
        >>> round(sine_bar_mm(length_mm=5 * 25.4, angle_deg=23 + 41 / 60) / 25.4, 4)
        2.0084
    """
    _check_positive(length_mm=length_mm)
    if not 0 <= angle_deg < 90:
        raise ValueError(f"{angle_deg=}")
    return length_mm * sin(radians(angle_deg))


def _half_angle_rad(taper: float) -> float:
    if not taper > 0:
        raise ValueError(f"{taper=}")
    return atan(taper / 2)


def _check_positive(**values: float) -> None:
    for name, value in values.items():
        if not value > 0:
            raise ValueError(f"{name}={value}")
