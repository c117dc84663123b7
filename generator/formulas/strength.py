"""Energy of the spring, the blow on the set screw, and the air shut in behind a plunger."""

from __future__ import annotations

from math import pi, sqrt
from typing import Final

STANDARD_ATMOSPHERE_KPA: Final = 101.325


def spring_energy_J(*, rate_N_per_mm: float, from_mm: float, to_mm: float) -> float:
    """Return the energy a spring takes up between two deflections, k (x2^2 - x1^2) / 2.

    Args:
        rate_N_per_mm: Spring rate k.
        from_mm: Deflection x1 from the free length at the start.
        to_mm: Deflection x2 from the free length at the end.

    Returns:
        Energy, also what it gives back on the way out.

    Raises:
        ValueError: If the rate is not positive, or the deflections are negative or in the wrong
            order.

    Source:
        OpenStax, College Physics, chapter 7, the toy car: 250.0 N/m compressed 4.00 cm drives 0.100
        kg to 2.00 m/s, which is 0.200 J.

    Example:
        >>> round(spring_energy_J(rate_N_per_mm=0.25, from_mm=0, to_mm=40), 3)
        0.2
    """
    if not (rate_N_per_mm > 0 and 0 <= from_mm <= to_mm):
        raise ValueError(f"{rate_N_per_mm=}, {from_mm=}, {to_mm=}")
    return rate_N_per_mm * (to_mm**2 - from_mm**2) / 2000


def impact_force_N(*, energy_J: float, stiffness_N_per_mm: float) -> float:
    """Return the greatest force when a moving mass is stopped by an elastic stop, sqrt(2 E K).

    Args:
        energy_J: Energy E of the mass.
        stiffness_N_per_mm: Stiffness K of the stop; the force goes with its square root.

    Returns:
        Force at the moment the mass stands still.

    Raises:
        ValueError: If the energy is negative, or the stiffness not positive.

    Source:
        A textbook problem, the bumping post of a railway: 545 kN at 5.4 m/s on 8.0 MN/m compress it
        450 mm, which is 3600 kN (Gere, Mechanics of Materials, chapter 2; the book from memory,
        unverified).

    Example:
        >>> moving_J = 545e3 / 9.81 * 5.4**2 / 2
        >>> round(impact_force_N(energy_J=moving_J, stiffness_N_per_mm=8e3) / 8e3)
        450
    """
    if not (energy_J >= 0 and stiffness_N_per_mm > 0):
        raise ValueError(f"{energy_J=}, {stiffness_N_per_mm=}")
    return sqrt(2 * energy_J * 1000 * stiffness_N_per_mm)


def pin_shear_MPa(*, force_N: float, diameter_mm: float) -> float:
    """Return the mean shear stress in a round pin cut at one plane, 4 F / (pi d^2).

    Args:
        force_N: Force F across the pin.
        diameter_mm: Diameter d.

    Returns:
        Mean shear stress.

    Raises:
        ValueError: If the force is negative, or the diameter not positive.

    Source:
        Philpot, Mechanics of Materials, worked film 5.14: a pin of 11 mm in single shear has 95.03
        mm2.

    Example:
        >>> round(pin_shear_MPa(force_N=95.03, diameter_mm=11), 3)
        1.0
    """
    if not (force_N >= 0 and diameter_mm > 0):
        raise ValueError(f"{force_N=}, {diameter_mm=}")
    return 4 * force_N / (pi * diameter_mm**2)


def cantilever_MPa(*, force_N: float, arm_mm: float, diameter_mm: float) -> float:
    """Return the bending stress at the root of a round bar built in at one end, 32 F L / (pi d^3).

    Args:
        force_N: Force F across the bar at its free end.
        arm_mm: Length L from the root to the force.
        diameter_mm: Diameter d at the root.

    Returns:
        Greatest bending stress.

    Raises:
        ValueError: If the force or the arm is negative, or the diameter not positive.

    Source:
        Machinery's Handbook, stresses and deflections in beams, one end fixed, load at the other:
        W l / Z; moduli of sections: circle 0.098 d^3 (both from memory, unverified).

    Example:
        >>> round(1 / cantilever_MPa(force_N=1, arm_mm=1, diameter_mm=1), 3)
        0.098
    """
    if not (force_N >= 0 and arm_mm >= 0 and diameter_mm > 0):
        raise ValueError(f"{force_N=}, {arm_mm=}, {diameter_mm=}")
    return 32 * force_N * arm_mm / (pi * diameter_mm**3)


def air_pressure_kPa(
    *, volume_mm3: float, swept_mm3: float, atmosphere_kPa: float = STANDARD_ATMOSPHERE_KPA
) -> float:
    """Return the pressure over atmosphere of air shut in behind a plunger, at constant temperature.

    p (V / (V - swept) - 1). The air of a quick stroke is warmer, and the pressure higher.

    Args:
        volume_mm3: Volume V of the air, plunger forward: the chamber less the spring's wire and
            whatever else stands in it.
        swept_mm3: Volume that the plunger takes from it.
        atmosphere_kPa: Pressure of the air outside.

    Returns:
        Pressure that the plunger works against.

    Raises:
        ValueError: If the pressure outside is not positive, the swept volume is negative, or no
            volume is left.

    Source:
        Boyle's law; example: 15.0 mL at 13.0 psi becomes 26 psi in 7.5 mL (OpenStax, Chemistry,
        chapter 9; the book from memory, unverified).

    Example:
        >>> 13.0 + air_pressure_kPa(volume_mm3=15.0, swept_mm3=7.5, atmosphere_kPa=13.0)
        26.0
    """
    if not (atmosphere_kPa > 0 and 0 <= swept_mm3 < volume_mm3):
        raise ValueError(f"{volume_mm3=}, {swept_mm3=}, {atmosphere_kPa=}")
    return atmosphere_kPa * swept_mm3 / (volume_mm3 - swept_mm3)
