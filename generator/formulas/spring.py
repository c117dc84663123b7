"""Helical compression springs of round wire: rate, stress, gaps, growth and buckling.

The names of end coils are those of `coils`.
"""

from __future__ import annotations

from math import pi
from typing import Final

from generator.formulas.coils import solid_length_mm, total_coils

# Stocked springs: the largest outside diameter of a band, and plus and minus tolerance in it.
_OUTSIDE_BANDS_MM: Final = (
    (0.99, 0.05, 0.05),
    (3.00, 0.08, 0.08),
    (6.10, 0.08, 0.13),
    (7.59, 0.13, 0.13),
    (12.70, 0.20, 0.20),
    (21.59, 0.38, 0.38),
    (28.58, 0.51, 0.51),
    (30.94, 0.64, 0.64),
    (37.08, 0.76, 0.76),
    (42.85, 1.02, 1.02),
)
LEAST_OUTSIDE_MM: Final = 0.64
"""The smallest outside diameter of a stocked spring."""


def rate_N_per_mm(
    *, wire_mm: float, mean_mm: float, active_coils: float, shear_modulus_MPa: float
) -> float:
    """Return the rate of a helical compression spring, k = G d^4 / (8 D^3 n).

    Args:
        wire_mm: Wire diameter d.
        mean_mm: Mean coil diameter D.
        active_coils: Active coils n.
        shear_modulus_MPa: Shear modulus G of the wire.

    Returns:
        Force for each millimetre of deflection.

    Raises:
        ValueError: If D does not exceed d, or an argument is not positive.

    Source:
        Shigley's Mechanical Engineering Design, 10th ed., eq. 10-9; example: problem 10-3.

    Example:
        >>> k = rate_N_per_mm(wire_mm=2.5, mean_mm=28.5, active_coils=13, shear_modulus_MPa=81e3)
        >>> round(k, 3)
        1.314
    """
    if not (0 < wire_mm < mean_mm and active_coils > 0 and shear_modulus_MPa > 0):
        raise ValueError(f"{wire_mm=}, {mean_mm=}, {active_coils=}, {shear_modulus_MPa=}")
    return shear_modulus_MPa * wire_mm**4 / (8 * mean_mm**3 * active_coils)


def shear_stress_MPa(*, force_N: float, wire_mm: float, mean_mm: float) -> float:
    """Return the uncorrected shear stress in the wire, tau = 8 F D / (pi d^3).

    It leaves out the curvature of the wire. Multiply by `bergstraesser_factor` or `wahl_factor`
    where the limit asks for the corrected stress; EN 13906-1 holds the uncorrected one against 0.56
    of the tensile strength when the spring is solid.

    Args:
        force_N: Force F.
        wire_mm: Wire diameter d.
        mean_mm: Mean coil diameter D.

    Returns:
        Shear stress at the surface of the wire.

    Raises:
        ValueError: If D does not exceed d, d is not positive, or the force is negative.

    Source:
        Machinery's Handbook, 31st ed., p. 318; example: wire 0.0915 in, outside 13/16 in, 41.7 lb
        at 100 000 psi, whose printed force is rounded.

    Example:
        >>> stress = shear_stress_MPa(force_N=41.7 * 4.448222, wire_mm=2.3241, mean_mm=18.3134)
        >>> round(stress / 6.894757e-3, -2)
        99900.0
    """
    if not (force_N >= 0 and 0 < wire_mm < mean_mm):
        raise ValueError(f"{force_N=}, {wire_mm=}, {mean_mm=}")
    return 8 * force_N * mean_mm / (pi * wire_mm**3)


def bergstraesser_factor(*, index: float) -> float:
    """Return the Bergstraesser curvature factor, (C + 0.5) / (C - 0.75).

    Args:
        index: Spring index C, mean coil diameter over wire diameter.

    Returns:
        Corrected over uncorrected shear stress.

    Raises:
        ValueError: If the index does not exceed 1.

    Source:
        EN 13906-1, factor k; Shigley's Mechanical Engineering Design, 10th ed., problem 10-3.

    Example:
        >>> round(bergstraesser_factor(index=11.4), 3)
        1.117
    """
    if not index > 1:
        raise ValueError(f"{index=}")
    return (index + 0.5) / (index - 0.75)


def wahl_factor(*, index: float) -> float:
    """Return the Wahl curvature factor, (4C - 1) / (4C - 4) + 0.615 / C.

    Args:
        index: Spring index C, mean coil diameter over wire diameter.

    Returns:
        Corrected over uncorrected shear stress.

    Raises:
        ValueError: If the index does not exceed 1.

    Source:
        Design of Machine Elements (India), chapter on springs, example 10.1.

    Example:
        >>> round(wahl_factor(index=6), 4)
        1.2525
    """
    if not index > 1:
        raise ValueError(f"{index=}")
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def least_gap_mm(*, wire_mm: float, mean_mm: float, active_coils: float) -> float:
    """Return the sum of the gaps that must remain between the coils of a cold coiled spring.

    Sa = n (0.0015 D^2 / d + 0.1 d), for a static load. A load that works the spring often takes
    1.5 times as much. The standard covers d up to 20 mm, n from 2 and D/d from 4 to 20.

    Args:
        wire_mm: Wire diameter d.
        mean_mm: Mean coil diameter D.
        active_coils: Active coils n.

    Returns:
        Length to keep between the shortest working length and the solid length.

    Raises:
        ValueError: If D does not exceed d, or an argument is not positive.

    Source:
        EN 13906-1, as coded in an open-source calculation program; example: a published calculation
        report of 26 July 2021 prints 12.3 mm for 1.5 times this sum.

    Example:
        >>> round(1.5 * least_gap_mm(wire_mm=5, mean_mm=34.6, active_coils=9.5), 2)
        12.24
    """
    if not (0 < wire_mm < mean_mm and active_coils > 0):
        raise ValueError(f"{wire_mm=}, {mean_mm=}, {active_coils=}")
    return active_coils * (0.0015 * mean_mm**2 / wire_mm + 0.1 * wire_mm)


def outside_at_solid_mm(
    *, wire_mm: float, mean_mm: float, active_coils: float, free_mm: float, ends: str
) -> float:
    """Return the outside diameter of a spring pressed solid, its ends free to turn.

    The coils grow by 0.1 (m^2 - 0.8 m d - 0.2 d^2) / D, where m = (L0 - Lc) / n + d is the pitch of
    the active coils at rest. Ends held against turning grow by (m^2 - d^2) / (2 pi^2 D) at most,
    which is less for every m above d, and nothing holds the ends of a spring that lies loose in a
    bore; so the free ends are taken.

    Args:
        wire_mm: Wire diameter d.
        mean_mm: Mean coil diameter D at rest.
        active_coils: Active coils n.
        free_mm: Free length L0.
        ends: Form of the end coils, one of the four names.

    Returns:
        Outside diameter at the solid length Lc, for nominal wire and coil.

    Raises:
        ValueError: If the ends have no such name, D does not exceed d, an argument is not positive,
            or the free length is less than the solid length.

    Source:
        EN 13906-1, as coded in an open-source calculation program. That the two cases differ:
        Diametral Expansion of Helical Compression Springs, Journal of Applied Mechanics 20 (1953),
        p. 565. Ends held: an aircraft maker's structural design manual of 1977. No example was
        found in print; the spring below is that of a published report on EN 13906-1.

    Example:
        >>> at_rest_mm, ends = 34.6 + 5, "closed and ground"
        >>> round(
        ...     outside_at_solid_mm(
        ...         wire_mm=5, mean_mm=34.6, active_coils=9.5, free_mm=105.8, ends=ends
        ...     )
        ...     - at_rest_mm,
        ...     2,
        ... )
        0.16
    """
    coils = total_coils(active_coils=active_coils, ends=ends)
    travel_mm = free_mm - solid_length_mm(wire_mm=wire_mm, total_coils=coils, ends=ends)
    if not (wire_mm < mean_mm and travel_mm >= 0):
        raise ValueError(f"{wire_mm=}, {mean_mm=}, {active_coils=}, {free_mm=}, {ends=}")
    pitch_mm = travel_mm / active_coils + wire_mm
    growth_mm = 0.1 * (pitch_mm**2 - 0.8 * pitch_mm * wire_mm - 0.2 * wire_mm**2) / mean_mm
    return mean_mm + wire_mm + growth_mm


def outside_tolerance_mm(*, outside_mm: float) -> float:
    """Return the plus tolerance on the outside diameter of stocked springs.

    The table leaves small gaps between its bands; a size in one of them takes the wider band above
    (judgement, no source). A spring that was measured needs no tolerance.

    Args:
        outside_mm: Outside diameter as sold.

    Returns:
        What the spring may be larger than its nominal size.

    Raises:
        ValueError: If the size lies outside the table, 0.64 to 42.85 mm.

    Source:
        A stock-spring maker's engineering notes, outside diameter of compression and extension
        springs.

    Example:
        >>> outside_tolerance_mm(outside_mm=7.59), outside_tolerance_mm(outside_mm=7.62)
        (0.13, 0.2)
    """
    return _outside_band_mm(outside_mm)[0]


def outside_minus_mm(*, outside_mm: float) -> float:
    """Return the minus tolerance on the outside diameter of stocked springs, as a positive number.

    Args:
        outside_mm: Outside diameter as sold.

    Returns:
        What the spring may be smaller than its nominal size.

    Raises:
        ValueError: If the size lies outside the table, 0.64 to 42.85 mm.

    Source:
        As for `outside_tolerance_mm`; from 3.05 to 6.10 mm the notes allow +0.08 and -0.13.

    Example:
        >>> outside_minus_mm(outside_mm=5), outside_minus_mm(outside_mm=7)
        (0.13, 0.13)
    """
    return _outside_band_mm(outside_mm)[1]


def _outside_band_mm(outside_mm: float) -> tuple[float, float]:
    if outside_mm >= LEAST_OUTSIDE_MM:
        for largest_mm, plus_mm, minus_mm in _OUTSIDE_BANDS_MM:
            if outside_mm <= largest_mm:
                return plus_mm, minus_mm
    raise ValueError(f"{outside_mm=}")


def longest_stable_mm(*, mean_mm: float, end_constant: float = 0.5) -> float:
    """Return the free length below which a steel spring cannot buckle, 2.63 D / alpha.

    Args:
        mean_mm: Mean coil diameter D.
        end_constant: End constant alpha: 0.5 both ends on flat guided faces, 0.707 one of them
            pivoted, 1 both pivoted, 2 one end free.

    Returns:
        Critical free length of a spring that no bore or rod guides.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Shigley's Mechanical Engineering Design, 10th ed., problem 10-3 and its published solution.

    Example:
        >>> round(longest_stable_mm(mean_mm=28.5), 1)
        149.9
    """
    if not (mean_mm > 0 and end_constant > 0):
        raise ValueError(f"{mean_mm=}, {end_constant=}")
    return 2.63 * mean_mm / end_constant


def buckles(*, free_mm: float, mean_mm: float, end_constant: float = 0.5) -> bool:
    """Return whether a steel spring can buckle, if no bore or rod guides it.

    Args:
        free_mm: Free length L0.
        mean_mm: Mean coil diameter D.
        end_constant: End constant alpha, as for `longest_stable_mm`.

    Returns:
        True from the critical free length on.

    Raises:
        ValueError: If an argument is not positive.

    Source:
        Shigley's Mechanical Engineering Design, 10th ed., problem 10-3, a spring that must be
        supported.

    Example:
        >>> buckles(free_mm=162.8, mean_mm=28.5)
        True
    """
    if not free_mm > 0:
        raise ValueError(f"{free_mm=}")
    return free_mm >= longest_stable_mm(mean_mm=mean_mm, end_constant=end_constant)
