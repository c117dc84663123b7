"""What a taper turns out wrong by when its setting is off, on the diameter over its length.

A taper is given as a ratio on the diameter, as in `taper`. A result is how much too small the far
end comes out when the near end is right; negative if it comes out too large.
"""

from __future__ import annotations

from math import atan, hypot, radians, sin, sqrt, tan


def by_angle_mm(*, error_deg: float, length_mm: float, taper: float) -> float:
    """Return the error of a taper turned at a wrong half angle, 2 l (tan(h + e) - tan h).

    Args:
        error_deg: How much too steep e the slide is set.
        length_mm: Length l of the cone along its axis.
        taper: Taper C that is wanted.

    Returns:
        Error on the diameter over the length.

    Raises:
        ValueError: If length or taper is not positive, or the slide stands square.

    Source:
        Geometry. No printed example was found; the example is worked by hand: 128 mm times the
        difference of the tangents of 1.680689 and 1.430689 degrees.

    Example:
        >>> round(by_angle_mm(error_deg=0.25, length_mm=64, taper=0.59941 / 12), 2)
        0.56
    """
    half = _half_rad(length_mm, taper)
    if not abs(half + radians(error_deg)) < radians(89.9):
        raise ValueError(f"{error_deg=}")
    return 2 * length_mm * (tan(half + radians(error_deg)) - tan(half))


def by_indicator_mm(*, error_mm: float, travel_mm: float, length_mm: float, taper: float) -> float:
    """Return the error of a taper whose slide was set by a wrong rise of the indicator.

    The rise over the travel is s sin h, so an error in it changes the sine of the half angle.

    Args:
        error_mm: How much too great the rise was.
        travel_mm: Travel s of the slide over which it was read.
        length_mm: Length of the cone along its axis.
        taper: Taper that is wanted.

    Returns:
        Error on the diameter over the length.

    Raises:
        ValueError: If travel, length or taper is not positive, or there is no such slope.

    Source:
        Geometry. No printed example was found; the example is worked by hand, 2 x 64 x 0.01 / 50.

    Example:
        >>> round(by_indicator_mm(error_mm=0.01, travel_mm=50, length_mm=64, taper=0.05), 4)
        0.0256
    """
    half = _half_rad(length_mm, taper)
    if not travel_mm > 0:
        raise ValueError(f"{travel_mm=}")
    sine = sin(half) + error_mm / travel_mm
    if not abs(sine) < 1:
        raise ValueError(f"{error_mm=} over {travel_mm=}")
    return 2 * length_mm * (sine / sqrt(1 - sine**2) - tan(half))


def by_centres_mm(*, error_mm: float, between_mm: float, length_mm: float, taper: float) -> float:
    """Return the error of a taper turned by set-over when the length between centres is off.

    The set-over is L sin h for the length L that was taken; the work turns about L + e.

    Args:
        error_mm: How much longer e the work really is between the points about which it swings.
        between_mm: Length L that was taken.
        length_mm: Length of the cone along its axis.
        taper: Taper that is wanted.

    Returns:
        Error on the diameter over the length; negative if the work is longer.

    Raises:
        ValueError: If a length or the taper is not positive.

    Source:
        Geometry. No printed example was found; the example is worked by hand: one per cent longer,
        one per cent less taper.

    Example:
        >>> round(by_centres_mm(error_mm=1, between_mm=99, length_mm=60, taper=0.05), 3)
        -0.03
    """
    half = _half_rad(length_mm, taper)
    if not (between_mm > 0 and between_mm + error_mm > between_mm * sin(half)):
        raise ValueError(f"{between_mm=}, {error_mm=}")
    sine = between_mm * sin(half) / (between_mm + error_mm)
    return 2 * length_mm * (sine / sqrt(1 - sine**2) - tan(half))


def by_tool_height_mm(*, height_mm: float, small_mm: float, large_mm: float) -> float:
    """Return how much larger a cone's small end comes out when the tool is off centre height.

    The tool moves in a plane beside the axis, so what it turns is a hyperboloid: near the axis
    h^2 (1 / r_small - 1 / r_large), when the large end was turned to size.

    Args:
        height_mm: How far h the tool stands above or below the axis.
        small_mm: Diameter of the small end; 0 for a sharp point.
        large_mm: Diameter of the large end.

    Returns:
        What the diameter of the small end is too large by.

    Raises:
        ValueError: If the small end is negative or not smaller, or the tool misses the large end.

    Source:
        Geometry. No printed example was found; the example is the pip on a sharp point: as thick
        as twice the height.

    Example:
        >>> round(by_tool_height_mm(height_mm=0.2, small_mm=0, large_mm=1000), 3)
        0.4
    """
    if not (0 <= small_mm < large_mm and abs(height_mm) < large_mm / 2):
        raise ValueError(f"{height_mm=}, {small_mm=}, {large_mm=}")
    large, small = large_mm / 2, small_mm / 2
    across = sqrt(large**2 - height_mm**2) - (large - small)
    return 2 * (hypot(across, height_mm) - small)


def bow_mm(*, height_mm: float, small_mm: float, large_mm: float) -> float:
    """Return how hollow a cone comes out between its ends when the tool is off centre height.

    Args:
        height_mm: How far the tool stands above or below the axis.
        small_mm: Diameter of the small end as turned, above twice the height.
        large_mm: Diameter of the large end as turned.

    Returns:
        The most that the radius lies below the straight line between the ends.

    Raises:
        ValueError: If the ends are not in order, or the tool misses the small end.

    Source:
        Geometry: the hyperbola sqrt(x^2 + h^2) is furthest below its chord where its slope is that
        of the chord. No printed example was found; with the tool on centre it is straight.

    Example:
        >>> round(bow_mm(height_mm=0, small_mm=14, large_mm=18), 12)
        0.0
    """
    if not (0 < small_mm < large_mm and abs(height_mm) < small_mm / 2):
        raise ValueError(f"{height_mm=}, {small_mm=}, {large_mm=}")
    large, small = large_mm / 2, small_mm / 2
    first, last = sqrt(small**2 - height_mm**2), sqrt(large**2 - height_mm**2)
    slope = (last + first) / (large + small)
    around = (large**2 + small**2 - height_mm**2) / (large * small + last * first)
    at = (last + first) / sqrt(2 + 2 * around)
    return max(small + slope * (at - first) - hypot(at, height_mm), 0.0)


def _half_rad(length_mm: float, taper: float) -> float:
    if not (length_mm > 0 and taper > 0):
        raise ValueError(f"{length_mm=}, {taper=}")
    return atan(taper / 2)
