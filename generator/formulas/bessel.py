"""Bessel functions of the first kind, of orders 0 and 1."""

from __future__ import annotations

from functools import cache
from math import cos, inf, pi, sqrt


def j0(x: float) -> float:
    """Return J0(x) within 5e-8.

    Args:
        x: Argument, any number.

    Returns:
        The value.

    Source:
        Abramowitz and Stegun, Handbook of Mathematical Functions, 9.4.1 and 9.4.3; example: their
        table 9.1, 0.76519 76866.

    Example:
        >>> round(j0(1.0), 6)
        0.765198
    """
    x = abs(x)
    if x <= 3:
        y = x * x / 9
        return 1 + y * (
            -2.2499997
            + y
            * (1.2656208 + y * (-0.3163866 + y * (0.0444479 + y * (-0.0039444 + y * 0.0002100))))
        )
    if x == inf:
        return 0.0
    y = 3 / x
    size = 0.79788456 + y * (
        -0.00000077
        + y
        * (-0.00552740 + y * (-0.00009512 + y * (0.00137237 + y * (-0.00072805 + y * 0.00014476))))
    )
    angle = (
        x
        - 0.78539816
        + y
        * (
            -0.04166397
            + y
            * (
                -0.00003954
                + y * (0.00262573 + y * (-0.00054125 + y * (-0.00029333 + y * 0.00013558)))
            )
        )
    )
    return size * cos(angle) / sqrt(x)


def j1(x: float) -> float:
    """Return J1(x) within 5e-8 for an argument of 0 or more.

    Args:
        x: Argument.

    Returns:
        The value.

    Raises:
        ValueError: If the argument is negative or not a number.

    Source:
        Abramowitz and Stegun, Handbook of Mathematical Functions, 9.4.4 and 9.4.6; example: their
        table 9.1, 0.44005 05857.

    Example:
        >>> round(j1(1.0), 6)
        0.440051
    """
    if not x >= 0:
        raise ValueError(f"{x=}")
    if x <= 3:
        return x * _half_disc(x)
    if x == inf:
        return 0.0
    y = 3 / x
    size = 0.79788456 + y * (
        0.00000156
        + y
        * (0.01659667 + y * (0.00017105 + y * (-0.00249511 + y * (0.00113653 - y * 0.00020033))))
    )
    angle = (
        x
        - 2.35619449
        + y
        * (
            0.12499612
            + y
            * (
                0.00005650
                + y * (-0.00637879 + y * (0.00074348 + y * (0.00079824 - y * 0.00029166)))
            )
        )
    )
    return size * cos(angle) / sqrt(x)


def disc(x: float) -> float:
    """Return 2 J1(x)/x, the characteristic function of a uniform disc of unit radius.

    Args:
        x: Argument, 0 or more.

    Returns:
        The value, 1 at 0.

    Raises:
        ValueError: If the argument is negative or not a number.

    Source:
        The Hankel transform of a constant over a disc, known from the diffraction of a round
        aperture: Born and Wolf, Principles of Optics, section 8.5.2, where it first vanishes at
        3.833.

    Example:
        >>> disc(0.0), abs(round(disc(3.8317), 4))
        (1.0, 0.0)
    """
    if 0 <= x <= 3:
        return 2 * _half_disc(x)
    return 2 * j1(x) / x


def _half_disc(x: float) -> float:
    """Return J1(x)/x for an argument up to 3."""
    y = x * x / 9
    return 0.5 + y * (
        -0.56249985
        + y
        * (0.21093573 + y * (-0.03954289 + y * (0.00443319 + y * (-0.00031761 + y * 0.00001109))))
    )


@cache
def zero(place: int) -> float:
    """Return a positive zero of J0, counted from 1.

    Args:
        place: Its number.

    Returns:
        The zero, within 1e-7.

    Raises:
        ValueError: If the number is below 1.

    Source:
        McMahon's expansion, Abramowitz and Stegun 9.5.12, with two steps of Newton's method;
        example: their table 9.5, 2.40482 55577.

    Example:
        >>> round(zero(1), 5)
        2.40483
    """
    if place < 1:
        raise ValueError(f"{place=}")
    base = (place - 0.25) * pi
    y = 1 / (8 * base)
    found = base + y - 124 * y**3 / 3 + 120928 * y**5 / 15
    for _ in range(2):
        found += j0(found) / j1(found)
    return found
