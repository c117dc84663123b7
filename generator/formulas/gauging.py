"""What a gauge reads on a cone, a countersink or a slot that no instrument reaches by itself."""

from __future__ import annotations

from math import atan, cos, degrees, radians, sin, tan

from generator.formulas.slot import side_wall_start_mm


def over_rollers_mm(*, diameter_mm: float, roller_mm: float, taper: float) -> float:
    """Return what a micrometer reads over two rollers against a cone, D + d (1 + 1 / cos h).

    The cone stands upright; the rollers lie level on gauge blocks, one either side.

    Args:
        diameter_mm: Diameter D of the cone at the height of the rollers' axes.
        roller_mm: Diameter d of each roller.
        taper: Taper on the diameter of the cone.

    Returns:
        Distance over both rollers.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Geometry; the corner between plate and flank is that of a dovetail over pins, Machinery's
        Handbook, x = D (1 + cot a/2) + a. Example: a calculator's worked example, 60 degree
        dovetail, flat 40, pins 10: over the pins 67.32.

    Example:
        >>> taper_of_60_deg = 2 * tan(radians(30))
        >>> at_axes_mm = 40 + 5 * taper_of_60_deg
        >>> round(
        ...     over_rollers_mm(diameter_mm=at_axes_mm, roller_mm=10, taper=taper_of_60_deg), 2
        ... )
        67.32
    """
    if not (diameter_mm > 0 and roller_mm > 0 and taper > 0):
        raise ValueError(f"{diameter_mm=}, {roller_mm=}, {taper=}")
    return diameter_mm + roller_mm * (1 + 1 / cos(atan(taper / 2)))


def half_angle_over_rollers_deg(*, apart_mm: float, low_mm: float, high_mm: float) -> float:
    """Return the half angle of a cone from two readings over rollers, atan((M2 - M1) / 2h).

    Args:
        apart_mm: Difference h of the two stacks of gauge blocks.
        low_mm: Smaller reading M1.
        high_mm: Larger reading M2.

    Returns:
        Angle between axis and flank.

    Raises:
        ValueError: If the stacks do not differ, or the readings are the wrong way round.

    Source:
        Geometry; example: a machinists' forum, calipers over 1-2-3 blocks, 0.745 and 0.620 in at 1
        in apart, 3.5763 degrees.

    Example:
        >>> round(half_angle_over_rollers_deg(apart_mm=1, low_mm=0.620, high_mm=0.745), 4)
        3.5763
    """
    if not (apart_mm > 0 and 0 < low_mm <= high_mm):
        raise ValueError(f"{apart_mm=}, {low_mm=}, {high_mm=}")
    return degrees(atan((high_mm - low_mm) / (2 * apart_mm)))


def ball_circle_mm(*, ball_mm: float, angle_deg: float) -> float:
    """Return the circle on which a ball touches a countersink, B cos h.

    Args:
        ball_mm: Diameter B of the ball.
        angle_deg: Included angle of the countersink.

    Returns:
        Diameter of the circle.

    Raises:
        ValueError: If the ball is not positive, or the angle not between 0 and 180 degrees.

    Source:
        Geometry. No printed example was found; 0.8660 of the ball at 60 degrees is cos 30.

    Example:
        >>> round(ball_circle_mm(ball_mm=1, angle_deg=60), 4)
        0.866
    """
    return ball_mm * cos(_half_rad(ball_mm, angle_deg))


def ball_height_mm(*, ball_mm: float, mouth_mm: float, angle_deg: float) -> float:
    """Return how high a ball stands over the mouth of a countersink.

    B / 2 (1 + 1 / sin h) - m / (2 tan h); at 60 degrees 1.5 B - 0.866 m.

    Args:
        ball_mm: Diameter B of the ball.
        mouth_mm: Diameter m of the mouth.
        angle_deg: Included angle of the countersink.

    Returns:
        Height of the top of the ball over the face; negative if it lies below.

    Raises:
        ValueError: If the ball touches the edge and not the cone, the ball is not positive, or the
            angle not between 0 and 180 degrees.

    Source:
        Geometry; example: a test question's worked answer, balls of 8 and 12 whose tops lie 10
        apart in a cone: the sine of its half angle is 0.25.

    Example:
        >>> from math import asin
        >>> angle_deg = 2 * degrees(asin(0.25))
        >>> tops = [
        ...     ball_height_mm(ball_mm=ball, mouth_mm=12, angle_deg=angle_deg) for ball in (8, 12)
        ... ]
        >>> round(tops[1] - tops[0], 9)
        10.0
    """
    half = _half_rad(ball_mm, angle_deg)
    if not ball_mm * cos(half) <= mouth_mm:
        raise ValueError(f"{ball_mm=} touches the edge of {mouth_mm=}")
    return ball_mm / 2 * (1 + 1 / sin(half)) - mouth_mm / (2 * tan(half))


def over_floor_mm(*, diameter_mm: float, depth_mm: float, pin_mm: float) -> float:
    """Return what a micrometer reads over a bar and a pin on the floor of its slot, d - t + p.

    Args:
        diameter_mm: Diameter d of the bar.
        depth_mm: Depth t of the slot on the centre line.
        pin_mm: Diameter p of the pin that lies along the slot.

    Returns:
        Distance from the far side of the bar over the pin.

    Raises:
        ValueError: If the pin does not stand proud of the bar, or the slot is deeper than the bar.

    Source:
        Geometry. No printed example was found; the example is worked by hand, 8 less 1.6 and 2.5.

    Example:
        >>> over_floor_mm(diameter_mm=8, depth_mm=1.6, pin_mm=2.5)
        8.9
    """
    if not 0 < depth_mm < min(pin_mm, diameter_mm):
        raise ValueError(f"{diameter_mm=}, {depth_mm=}, {pin_mm=}")
    return diameter_mm - depth_mm + pin_mm


def rod_depth_mm(*, diameter_mm: float, width_mm: float, depth_mm: float) -> float:
    """Return what a depth gauge reads whose base lies across the edges of a slot in a round bar.

    The edges lie below the outside by the height of the arc over the slot's width.

    Args:
        diameter_mm: Diameter of the bar.
        width_mm: Width of the slot.
        depth_mm: Depth on the centre line, from the outside.

    Returns:
        Depth from the edges to the floor.

    Raises:
        ValueError: If the slot is wider than the bar.

    Source:
        Geometry; example: a printed circle segment, radius 10, chord 16, height 4, and a floor 6
        below the outside.

    Example:
        >>> rod_depth_mm(diameter_mm=20, width_mm=16, depth_mm=6)
        2.0
    """
    return depth_mm - side_wall_start_mm(diameter_mm=diameter_mm, width_mm=width_mm)


def _half_rad(ball_mm: float, angle_deg: float) -> float:
    if not (ball_mm > 0 and 0 < angle_deg < 180):
        raise ValueError(f"{ball_mm=}, {angle_deg=}")
    return radians(angle_deg / 2)
