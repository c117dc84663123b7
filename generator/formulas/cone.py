"""Points, countersinks and drill points; an angle is the included one."""

from __future__ import annotations

from math import acos, cos, degrees, pi, radians, sin, sqrt, tan


def cone_length_mm(*, diameter_mm: float, flat_mm: float, angle_deg: float) -> float:
    """Return the length of a point along the axis.

    Args:
        diameter_mm: Diameter where the point begins.
        flat_mm: Diameter of the flat at its tip; 0 if it is sharp.
        angle_deg: Included angle.

    Returns:
        Length from the full diameter to the flat.

    Raises:
        ValueError: If the flat is negative or larger than the diameter, or the angle not between 0
            and 180 degrees.

    Source:
        Geometry; example: a printed table of countersink and spot drill depths, 60 degrees, factor
        0.866 for a sharp point.

    Example:
        >>> round(cone_length_mm(diameter_mm=1, flat_mm=0, angle_deg=60), 3)
        0.866
    """
    return _height_mm(diameter_mm, flat_mm, angle_deg)


def countersink_depth_mm(*, mouth_mm: float, pilot_mm: float, angle_deg: float) -> float:
    """Return the depth of a countersink along the axis.

    Args:
        mouth_mm: Diameter at the face.
        pilot_mm: Diameter of the hole at its bottom; 0 if there is none.
        angle_deg: Included angle.

    Returns:
        Depth from the face to the pilot hole.

    Raises:
        ValueError: If the pilot is negative or larger than the mouth, or the angle not between 0
            and 180 degrees.

    Source:
        Geometry; example: a printed table of countersink and spot drill depths, 82 degrees, factor
        0.5752 without a pilot.

    Example:
        >>> round(countersink_depth_mm(mouth_mm=1, pilot_mm=0, angle_deg=82), 4)
        0.5752
    """
    return _height_mm(mouth_mm, pilot_mm, angle_deg)


def drill_point_mm(*, diameter_mm: float, angle_deg: float = 118.0) -> float:
    """Return the length of a drill's point.

    Args:
        diameter_mm: Diameter of the drill.
        angle_deg: Included angle of its point.

    Returns:
        Length from the full diameter to the tip.

    Raises:
        ValueError: If the diameter is negative, or the angle not between 0 and 180 degrees.

    Source:
        Geometry; example: a printed table of countersink and spot drill depths, 118 degrees, factor
        0.3004.

    Example:
        >>> round(drill_point_mm(diameter_mm=1), 4)
        0.3004
    """
    return _height_mm(diameter_mm, 0.0, angle_deg)


def overlap_mm(*, circle_mm: float, flat_mm: float, angle_deg: float) -> float:
    """Return how far the tip of a point stands inside a hole whose edge it rests on.

    Args:
        circle_mm: Diameter of the edge.
        flat_mm: Diameter of the flat at the tip; 0 if it is sharp.
        angle_deg: Included angle of the point.

    Returns:
        Distance from the edge to the flat, along the axis.

    Raises:
        ValueError: If the flat is negative or larger than the edge, so that the point does not
            enter; or the angle not between 0 and 180 degrees.

    Source:
        Geometry; example: cot 30 degrees over 2, 0.8660 of the bore of a sharp-edged ring.

    Example:
        >>> round(overlap_mm(circle_mm=1, flat_mm=0, angle_deg=60), 4)
        0.866
    """
    return _height_mm(circle_mm, flat_mm, angle_deg)


def flank_length_mm(*, large_mm: float, small_mm: float, angle_deg: float) -> float:
    """Return the length of a cone along its flank, the travel of the slide that turns it.

    Args:
        large_mm: Large diameter.
        small_mm: Small diameter; 0 for a sharp point.
        angle_deg: Included angle.

    Returns:
        Length along the flank, (D - d) / (2 sin of half the angle).

    Raises:
        ValueError: If the small diameter is negative or the larger one, or the angle not between 0
            and 180 degrees.

    Source:
        Geometry; example: a shop note, slide at 30 degrees: 0.500 in across for 1.000 in of travel.

    Example:
        >>> round(flank_length_mm(large_mm=1.0, small_mm=0, angle_deg=60), 9)
        1.0
    """
    height_mm = _height_mm(large_mm, small_mm, angle_deg)
    return height_mm / cos(radians(angle_deg / 2))


def ball_circle_mm(*, ball_mm: float, angle_deg: float) -> float:
    """Return the diameter of the circle on which a ball rests in a conical hole.

    Args:
        ball_mm: Diameter B of the ball.
        angle_deg: Included angle of the hole.

    Returns:
        B cos of half the angle.

    Raises:
        ValueError: If the ball has no size, or the angle is not between 0 and 180 degrees.

    Source:
        Geometry: the radius to the point of contact is square to the flank. The example is the
        3-4-5 triangle: a half angle whose sine is 3/5.

    Example:
        >>> round(ball_circle_mm(ball_mm=5, angle_deg=73.739795), 6)
        4.0
    """
    _half_tangent(angle_deg)
    if not ball_mm > 0:
        raise ValueError(f"{ball_mm=}")
    return ball_mm * cos(radians(angle_deg / 2))


def ball_height_mm(*, ball_mm: float, mouth_mm: float, angle_deg: float) -> float:
    """Return how far a ball stands out of a countersink, B/2 + B/(2 sin h) - D/(2 tan h).

    For 60 degrees that is 1.5 B - 0.866 D. The ball must rest on the flank, that is on a circle
    between the pilot hole and the mouth.

    Args:
        ball_mm: Diameter B of the ball.
        mouth_mm: Diameter D of the countersink at the face.
        angle_deg: Included angle, twice h.

    Returns:
        From the face to the top of the ball; negative if it lies below.

    Raises:
        ValueError: If the ball has no size or would rest on the edge of the mouth, or the angle is
            not between 0 and 180 degrees.

    Source:
        Geometry of the gauge ball in a cone. No printed figures were found; the example is worked
        by hand for a right angle: 5 + 7.0711 - 5.

    Example:
        >>> round(ball_height_mm(ball_mm=10, mouth_mm=10, angle_deg=90), 4)
        7.0711
    """
    if not ball_circle_mm(ball_mm=ball_mm, angle_deg=angle_deg) <= mouth_mm * (1 + 1e-9):
        raise ValueError(f"{ball_mm=} rests on the edge of {mouth_mm=}")
    half = radians(angle_deg / 2)
    return ball_mm / 2 * (1 + 1 / sin(half)) - mouth_mm / 2 / tan(half)


def ball_rest_mm(
    *, ball_mm: float, mouth_mm: float, pilot_mm: float, angle_deg: float
) -> tuple[float, float]:
    """Return the circle on which a ball rests in a countersink over a hole, and how far it stands.

    On the flank where that takes it; else on the edge of the mouth, or on that of the hole.

    Args:
        ball_mm: Diameter B of the ball.
        mouth_mm: Diameter m of the countersink at the face.
        pilot_mm: Diameter of the hole at its bottom; 0 if there is none.
        angle_deg: Included angle, twice h.

    Returns:
        Diameter c of the circle, and from the face to the top of the ball,
        B/2 + sqrt(B^2 - c^2) / 2 - (m - c) / (2 tan h).

    Raises:
        ValueError: If the ball has no size or falls through the hole, the hole is wider than the
            mouth, or the angle not between 0 and 180 degrees.

    Source:
        Geometry. Examples worked by hand: a ball of 10 on a hole of 8 stands 5 + 3 out of it; one
        of 2 in a right angle to a mouth of 2 stands 1 / sin 45 out.

    Example:
        >>> ball_rest_mm(ball_mm=10, mouth_mm=8, pilot_mm=8, angle_deg=60)
        (8, 8.0)
        >>> circle_mm, _ = ball_rest_mm(ball_mm=2, mouth_mm=2, pilot_mm=0, angle_deg=90)
        >>> round(circle_mm, 4)
        1.4142
    """
    flank_mm = ball_circle_mm(ball_mm=ball_mm, angle_deg=angle_deg)
    if not (0 <= pilot_mm <= mouth_mm and pilot_mm < ball_mm):
        raise ValueError(f"{ball_mm=}, {mouth_mm=}, {pilot_mm=}")
    circle_mm = min(max(flank_mm, pilot_mm), mouth_mm)
    sunk_mm = _height_mm(mouth_mm, circle_mm, angle_deg)
    return circle_mm, (ball_mm + sqrt(ball_mm**2 - circle_mm**2)) / 2 - sunk_mm


def tangent_deg(*, ball_mm: float, circle_mm: float) -> float:
    """Return the included angle of the cone that touches a ball on a circle, 2 acos(c / B).

    Args:
        ball_mm: Diameter B of the ball.
        circle_mm: Diameter c of the circle.

    Returns:
        The angle: 180 degrees at the pole, 0 at the equator.

    Raises:
        ValueError: If the ball has no such circle.

    Source:
        Geometry: the radius to the point of contact is square to the flank.

    Example:
        >>> round(tangent_deg(ball_mm=2, circle_mm=3**0.5), 9)
        60.0
    """
    if not 0 <= circle_mm <= ball_mm:
        raise ValueError(f"{ball_mm=}, {circle_mm=}")
    return 2 * degrees(acos(circle_mm / ball_mm))


def lateral_capacity_N(*, force_N: float, angle_deg: float, friction: float = 0.0) -> float:
    """Return the side force that lifts a point out of its seat, F / tan(half the angle - phi).

    phi is the angle of friction, arctan mu. Without friction the result is on the safe side.

    Args:
        force_N: Force F along the axis that holds the point in.
        angle_deg: Included angle of point and seat.
        friction: Coefficient of friction mu.

    Returns:
        Side force at which the point begins to climb.

    Raises:
        ValueError: If the force or the friction is negative, the angle not between 0 and 180
            degrees, or the friction so high that the point sticks.

    Source:
        Equilibrium on a slope. No printed example was found; a smooth right-angled point climbs
        when the side force equals the axial one.

    Example:
        >>> round(lateral_capacity_N(force_N=10, angle_deg=90), 9)
        10.0
    """
    if not (force_N >= 0 and friction >= 0):
        raise ValueError(f"{force_N=}, {friction=}")
    slope = _half_tangent(angle_deg)
    if not friction < slope:
        raise ValueError(f"{friction=} holds a point of {angle_deg=}")
    return force_N * (1 + friction * slope) / (slope - friction)


def ring_pressure_MPa(*, force_N: float, outer_mm: float, inner_mm: float) -> float:
    """Return the mean pressure on the band of a conical seat, by its area seen along the axis.

    Without friction the pressure at right angles to the flank is the same: force and area grow
    alike with the slope.

    Args:
        force_N: Force along the axis.
        outer_mm: Large diameter of the band.
        inner_mm: Small diameter of the band.

    Returns:
        Mean pressure.

    Raises:
        ValueError: If the force is negative, or the band has no width.

    Source:
        Textbooks on conical pivots: the intensity of pressure is W / (pi (r1^2 - r2^2)), whatever
        the angle. The example is worked by hand: 78.54 mm2.

    Example:
        >>> round(ring_pressure_MPa(force_N=78.54, outer_mm=10, inner_mm=0), 3)
        1.0
    """
    if not (force_N >= 0 and 0 <= inner_mm < outer_mm):
        raise ValueError(f"{force_N=}, {outer_mm=}, {inner_mm=}")
    return 4 * force_N / (pi * (outer_mm**2 - inner_mm**2))


def _height_mm(large_mm: float, small_mm: float, angle_deg: float) -> float:
    if not 0 <= small_mm <= large_mm:
        raise ValueError(f"a cone from {small_mm} to {large_mm} mm")
    return (large_mm - small_mm) / 2 / _half_tangent(angle_deg)


def _half_tangent(angle_deg: float) -> float:
    if not 0 < angle_deg < 180:
        raise ValueError(f"{angle_deg=}")
    return tan(radians(angle_deg / 2))
