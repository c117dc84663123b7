"""A pin across a slot in a round bar: what the slot leaves of the bar, and how the pin bends."""

from __future__ import annotations

from math import asin, pi, sqrt


def net_section_share(*, diameter_mm: float, width_mm: float) -> float:
    """Return the share of a round bar's section that a slot through its middle leaves.

    Args:
        diameter_mm: Diameter d of the bar.
        width_mm: Width w of the slot.

    Returns:
        Area left over the area of the whole bar; 0 for a slot as wide as the bar.

    Raises:
        ValueError: If the width is negative, or larger than the diameter, or the diameter not
            positive.

    Source:
        Geometry: the disc less two segments. Example: a hexagon's side is the radius, and a slot as
        wide as the radius leaves twice the segment of 120 degrees, 0.1955 of the disc each
        (circular segment table of Machinery's Handbook: area 0.61418 for radius 1).

    Example:
        >>> round(net_section_share(diameter_mm=2, width_mm=1), 4)
        0.391
    """
    if not (diameter_mm > 0 and 0 <= width_mm <= diameter_mm):
        raise ValueError(f"{diameter_mm=}, {width_mm=}")
    h = width_mm / diameter_mm
    return 1 - 2 / pi * (h * sqrt(1 - h**2) + asin(h))


def bending_MPa(*, force_N: float, diameter_mm: float, span_mm: float, one_wall: bool) -> float:
    """Return the greatest bending stress in a round pin that a force is spread along.

    Held fast in both walls it is a beam built in at its ends, M = F L / 12; held in one wall a
    cantilever, M = F L / 2. The stress is M over the section modulus pi d^3 / 32.

    Args:
        force_N: Force F, spread evenly along the span.
        diameter_mm: Diameter d of the pin.
        span_mm: Free length L of the pin.
        one_wall: Whether it is held at one end alone.

    Returns:
        Greatest bending stress.

    Raises:
        ValueError: If the force is negative, or a length not positive.

    Source:
        Machinery's Handbook, stresses and deflections in beams, cases of uniform load: W l / 12 Z
        and W l / 2 Z; moduli of sections: circle 0.098 d^3 (from memory, unverified).

    Example:
        >>> round(1 / bending_MPa(force_N=12, diameter_mm=1, span_mm=1, one_wall=False), 3)
        0.098
    """
    if not (force_N >= 0 and diameter_mm > 0 and span_mm > 0):
        raise ValueError(f"{force_N=}, {diameter_mm=}, {span_mm=}")
    moment = force_N * span_mm / (2 if one_wall else 12)
    return 32 * moment / (pi * diameter_mm**3)
