"""Springs in series, with rigid separators between them: length, force and which closes first.

All springs of a stack bear the same force. A spring gives until it is solid, and is rigid from
there on; so the length falls with the force in straight pieces, each steeper in force than the one
before.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum


@dataclass(frozen=True, slots=True, kw_only=True)
class Coil:
    """What a stack needs to know of one spring.

    Attributes:
        free_mm: Free length.
        solid_mm: Length with all coils touching.
        rate_N_per_mm: Spring rate.
    """

    free_mm: float
    solid_mm: float
    rate_N_per_mm: float

    def __post_init__(self) -> None:
        """Check that the spring has some travel and a positive rate."""
        if not (0 < self.solid_mm < self.free_mm and self.rate_N_per_mm > 0):
            raise ValueError(f"{self}")

    @property
    def solid_force_N(self) -> float:
        """The force that closes it."""
        return self.rate_N_per_mm * (self.free_mm - self.solid_mm)


def stack_length_mm(coils: Sequence[Coil], separators_mm: float, *, force_N: float) -> float:
    """Return the length of a stack under a force.

    Args:
        coils: The springs, in any order.
        separators_mm: Length that all separators take together.
        force_N: Force on the stack.

    Returns:
        The sum of free length less deflection, or solid length, of every spring, and the
        separators.

    Raises:
        ValueError: If there is no spring, or a number is negative.

    Source:
        By the definition of springs in series; no printed example with springs that close was
        found. The example is worked by hand: 40 mm less 10/1 and 10/2, and the second spring is
        then solid.

    Example:
        >>> soft = Coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
        >>> stiff = Coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)
        >>> [stack_length_mm([soft, stiff], 0, force_N=force) for force in (0, 5, 10, 12, 13)]
        [40.0, 32.5, 25.0, 23.0, 22.0]
    """
    _check(coils, separators_mm)
    if not force_N >= 0:
        raise ValueError(f"{force_N=}")
    lengths = (max(c.solid_mm, c.free_mm - force_N / c.rate_N_per_mm) for c in coils)
    return fsum([separators_mm, *lengths])


def stack_force_N(coils: Sequence[Coil], separators_mm: float, *, length_mm: float) -> float:
    """Return the force that presses a stack to a length; the inverse of `stack_length_mm`.

    Args:
        coils: The springs, in any order.
        separators_mm: Length that all separators take together.
        length_mm: Length of the stack.

    Returns:
        The force, worked out in the straight piece in which the length lies; 0 at the free length
        and above it. At the length with every spring solid, the least force that closes all.

    Raises:
        ValueError: If there is no spring, the separators are negative, or the stack is not so short
            even with every spring solid.

    Source:
        By the definition of springs in series; example as for `stack_length_mm`.

    Example:
        >>> soft = Coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
        >>> stiff = Coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)
        >>> [stack_force_N([soft, stiff], 0, length_mm=mm) for mm in (41, 40, 32.5, 25, 23, 22)]
        [0.0, 0.0, 5.0, 10.0, 12.0, 13.0]
    """
    _check(coils, separators_mm)
    shortest_mm = fsum([separators_mm, *(c.solid_mm for c in coils)])
    if not length_mm >= shortest_mm:
        raise ValueError(f"{length_mm=} is less than {shortest_mm=}")
    if length_mm >= fsum([separators_mm, *(c.free_mm for c in coils)]):
        return 0.0
    order = sorted(coils, key=lambda coil: coil.solid_force_N)
    for place, next_solid in enumerate(order):
        solid, giving = order[:place], order[place:]
        fixed_mm = [separators_mm, *(c.solid_mm for c in solid), *(c.free_mm for c in giving)]
        force_N = stack_rate_N_per_mm(giving) * fsum([*fixed_mm, -length_mm])
        if force_N <= next_solid.solid_force_N:
            return force_N
    return order[-1].solid_force_N  # all solid but for the rounding of the last piece


def stack_rate_N_per_mm(coils: Sequence[Coil]) -> float:
    """Return the rate of a stack in which no spring is solid, 1 / sum(1/k).

    Args:
        coils: The springs, in any order.

    Returns:
        Force for each millimetre of the whole stack's deflection.

    Raises:
        ValueError: If there is no spring.

    Source:
        By the definition of springs in series; example: a textbook problem, springs of 1 200 and
        1 800 N/m in series, effective constant 720 N/m (Serway and Jewett, Physics for Scientists
        and Engineers; the book from memory, unverified).

    Example:
        >>> pair = [Coil(free_mm=50, solid_mm=20, rate_N_per_mm=k) for k in (1.2, 1.8)]
        >>> round(stack_rate_N_per_mm(pair), 3)
        0.72
    """
    _check(coils, 0.0)
    return 1 / fsum(1 / c.rate_N_per_mm for c in coils)


def first_solid(coils: Sequence[Coil]) -> int:
    """Return the place, from 0, of the spring that closes first as the force grows.

    It is the one that the lowest force closes, which need not be the softest. Of two that close
    together, the first in the stack is named.

    Args:
        coils: The springs.

    Returns:
        Index into `coils`.

    Raises:
        ValueError: If there is no spring.

    Source:
        By the definition of springs in series; example as for `stack_length_mm`.

    Example:
        >>> soft = Coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
        >>> stiff = Coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)
        >>> first_solid([soft, stiff])
        1
    """
    _check(coils, 0.0)
    return min(range(len(coils)), key=lambda place: coils[place].solid_force_N)


def _check(coils: Sequence[Coil], separators_mm: float) -> None:
    if not (coils and separators_mm >= 0):
        raise ValueError(f"{len(coils)} springs, {separators_mm=}")
