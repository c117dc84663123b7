"""A tap as a column and as a beam: the load that bends it, and what a prop at its end saves."""

from __future__ import annotations

from math import pi
from typing import Final

FIXED_AND_PINNED: Final = 4.493409457909064
"""The least root of tan x = x; x^2 EI / L^2 bends a column held in at one end, pinned at the other.

Handbooks print the square over pi^2 as 2.05, 2.046 or 2.
"""


def second_moment_mm4(*, diameter_mm: float) -> float:
    """Return the second moment of area of a round bar, pi d^4 / 64.

    Args:
        diameter_mm: Diameter d.

    Returns:
        Second moment about a diameter.

    Raises:
        ValueError: If the diameter is not positive.

    Source:
        Gere, Mechanics of Materials, 7th ed., solution 11.4-8: a pipe of 100 and 90 mm, 1688e3
        mm4.

    Example:
        >>> pipe = second_moment_mm4(diameter_mm=100) - second_moment_mm4(diameter_mm=90)
        >>> round(pipe / 1000)
        1688
    """
    if not diameter_mm > 0:
        raise ValueError(f"{diameter_mm=}")
    return pi * diameter_mm**4 / 64


def critical_load_N(*, second_moment_mm4: float, length_mm: float, modulus_MPa: float) -> float:
    """Return Euler's load of a column fixed at one end and pinned at the other, 2.046 pi^2 EI/L^2.

    Args:
        second_moment_mm4: Least second moment of area I.
        length_mm: Length L.
        modulus_MPa: Modulus of elasticity E.

    Returns:
        Load at which a straight, slender column bends out.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Gere, Mechanics of Materials, 7th ed., solution 11.4-8: 447 kN at 210 GPa, 1688e3 mm4, 4 m.

    Example:
        >>> load = critical_load_N(second_moment_mm4=1688e3, length_mm=4000, modulus_MPa=210e3)
        >>> round(load / 1000)
        447
    """
    if not (second_moment_mm4 > 0 and length_mm > 0 and modulus_MPa > 0):
        raise ValueError(f"{second_moment_mm4=}, {length_mm=}, {modulus_MPa=}")
    return FIXED_AND_PINNED**2 * modulus_MPa * second_moment_mm4 / length_mm**2


def propped_moment_Nm(*, force_N: float, from_fixed_mm: float, from_prop_mm: float) -> float:
    """Return the moment at the fixed end of a propped beam, P a b (L + b) / (2 L^2).

    Args:
        force_N: Force P across the beam.
        from_fixed_mm: Distance a of the force from the fixed end.
        from_prop_mm: Distance b of the force from the prop.

    Returns:
        Bending moment at the fixed end; without the prop it is P a.

    Raises:
        ValueError: If the force or a distance is negative, or both distances are 0.

    Source:
        A published page of beam formulas, propped cantilever with a load at any point; with the
        load in the middle it prints 3 P L / 16.

    Example:
        >>> propped_moment_Nm(force_N=16, from_fixed_mm=50, from_prop_mm=50)
        0.3
    """
    length_mm = from_fixed_mm + from_prop_mm
    if not (force_N >= 0 and from_fixed_mm >= 0 and from_prop_mm >= 0 and length_mm > 0):
        raise ValueError(f"{force_N=}, {from_fixed_mm=}, {from_prop_mm=}")
    arm_mm = from_fixed_mm * from_prop_mm * (length_mm + from_prop_mm) / (2 * length_mm**2)
    return force_N * arm_mm / 1000
