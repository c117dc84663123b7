"""Tapping by hand: torque, side push of the wrench, drag of a cone on the tap's end."""

from __future__ import annotations

from math import radians, sin, tan


def torque_Nm(
    *,
    cutting_pressure_MPa: float,
    factor: float,
    major_mm: float,
    drill_mm: float,
    half_angle_deg: float = 30.0,
) -> float:
    """Return the torque of a cutting tap, tan(half angle) kc K (D - Do)^2 (D + 2 Do) / 24000.

    The groove of a thread is a triangle (D - Do)/2 high and tan(half angle) (D - Do) wide at the
    hole, so its area is tan(half angle) (D - Do)^2 / 4; its centroid lies (D + 2 Do) / 6 off the
    axis. Area times cutting pressure times lever is the formula. K is what chips, friction and the
    form of the tap add to that: its maker found 1.35 for straight flutes in steel, 0.95 for a
    spiral point.

    Args:
        cutting_pressure_MPa: Specific cutting force kc of the work.
        factor: The tap's factor K, and what wear or a dry hole multiply it by.
        major_mm: Major diameter D of the thread.
        drill_mm: Diameter Do of the hole.
        half_angle_deg: Half the angle of the thread.

    Returns:
        Torque with every thread of the lead cutting.

    Raises:
        ValueError: If the hole is not below the thread, or a number not positive.

    Source:
        A tap maker's general catalogue of 2021, technical section; derivation as above. No printed
        torque in N m was found to go with it. The example is worked by hand: M6 in a 5 mm hole,
        area 0.1443 mm2, lever 2.667 mm.

    Example:
        >>> torque = torque_Nm(cutting_pressure_MPa=3700, factor=1.35, major_mm=6, drill_mm=5)
        >>> round(torque, 2), round(0.1443 * 2.667 * 3700 * 1.35 / 1000, 2)
        (1.92, 1.92)
    """
    if not (0 < drill_mm < major_mm and cutting_pressure_MPa > 0 and factor > 0):
        raise ValueError(f"{cutting_pressure_MPa=}, {factor=}, {major_mm=}, {drill_mm=}")
    if not 0 < half_angle_deg < 90:
        raise ValueError(f"{half_angle_deg=}")
    groove = tan(radians(half_angle_deg)) * (major_mm - drill_mm) ** 2
    return groove * cutting_pressure_MPa * factor * (major_mm + 2 * drill_mm) / 24000


def side_push_N(*, torque_Nm: float, arm_mm: float, share: float) -> float:
    """Return how hard a wrench pushes the tap sideways, i T / arm.

    Args:
        torque_Nm: Torque T.
        arm_mm: From the axis to the hand, or to where the wrench rests.
        share: What of the pull is left over: 1 for one hand or a rest, 0 for a perfect couple.

    Returns:
        Force across the tap at the wrench.

    Raises:
        ValueError: If the arm is not positive, or another number negative.

    Source:
        Equilibrium: one force turns by its moment and pushes by itself.

    Example:
        >>> side_push_N(torque_Nm=2.0, arm_mm=80, share=1)
        25.0
    """
    if not (torque_Nm >= 0 and arm_mm > 0 and share >= 0):
        raise ValueError(f"{torque_Nm=}, {arm_mm=}, {share=}")
    return share * torque_Nm * 1000 / arm_mm


def floor_force_N(*, side_N: float, angle_deg: float) -> float:
    """Return the force along the axis that keeps a cone seated against a side force.

    H tan(half the angle), the inverse of `cone.lateral_capacity_N` without friction.

    Args:
        side_N: Side force H.
        angle_deg: Included angle of the cone.

    Returns:
        Least force along the axis.

    Raises:
        ValueError: If the side force is negative, or the angle not between 0 and 180 degrees.

    Source:
        Equilibrium on a smooth slope: at 90 degrees both forces are alike.

    Example:
        >>> round(floor_force_N(side_N=25, angle_deg=90), 9)
        25.0
    """
    if not (side_N >= 0 and 0 < angle_deg < 180):
        raise ValueError(f"{side_N=}, {angle_deg=}")
    return side_N * tan(radians(angle_deg / 2))


def cone_drag_Nm(*, force_N: float, friction: float, circle_mm: float, angle_deg: float) -> float:
    """Return the torque with which a cone rubs in its seat, mu F r / sin(half the angle).

    At 60 degrees that is 2 mu F r.

    Args:
        force_N: Force F along the axis.
        friction: Coefficient of friction mu.
        circle_mm: Diameter 2 r of the circle on which it bears.
        angle_deg: Included angle of the cone.

    Returns:
        Torque that holds the cone back.

    Raises:
        ValueError: If a number is negative, or the angle not between 0 and 180 degrees.

    Source:
        A trench conical pivot with uniform wear, mu W (r1 + r2) cosec(alpha) / 2, r the mean of r1
        and r2: a recruitment test's question bank; textbooks on friction clutches print the same.

    Example:
        >>> drag = cone_drag_Nm(force_N=745.2, friction=0.22, circle_mm=290, angle_deg=13)
        >>> round(drag)
        210
    """
    if not (force_N >= 0 and friction >= 0 and circle_mm >= 0 and 0 < angle_deg < 180):
        raise ValueError(f"{force_N=}, {friction=}, {circle_mm=}, {angle_deg=}")
    return friction * force_N * circle_mm / 2000 / sin(radians(angle_deg / 2))


def force_of_drag_N(
    *, drag_Nm: float, friction: float, circle_mm: float, angle_deg: float
) -> float:
    """Return the force at which the drag of a cone reaches a torque; inverse of `cone_drag_Nm`.

    Args:
        drag_Nm: The torque.
        friction: Coefficient of friction mu.
        circle_mm: Diameter of the circle on which the cone bears.
        angle_deg: Included angle of the cone.

    Returns:
        Force along the axis.

    Raises:
        ValueError: If friction or circle are not positive, the drag is negative, or the angle not
            between 0 and 180 degrees.

    Source:
        As for `cone_drag_Nm`.

    Example:
        >>> force = force_of_drag_N(drag_Nm=210, friction=0.22, circle_mm=290, angle_deg=13)
        >>> round(force)
        745
    """
    if not (drag_Nm >= 0 and friction > 0 and circle_mm > 0):
        raise ValueError(f"{drag_Nm=}, {friction=}, {circle_mm=}")
    unit = cone_drag_Nm(force_N=1, friction=friction, circle_mm=circle_mm, angle_deg=angle_deg)
    return drag_Nm / unit
