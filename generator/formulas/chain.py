"""A chain of errors in a plane: one fixed vector, and vectors spread evenly over discs.

Every function takes the length of the fixed vector, and the radii of the discs; any unit, the same
for all. The distribution of the length of the sum is that of a random walk of unequal steps, each
step with a length of its own spread.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import acos, cos, exp, isfinite, pi, sin, sqrt

from generator.formulas import bessel

NEGLIGIBLE = 1e-8
"""Share of the worst case below which a disc is left out; it could not change more than that."""
TAIL = 1e-7
"""What the terms of a series that are left out may add up to."""
DIRECT_TERMS = 120
MOST_TERMS = 240
INNER_TERMS = 60
INNER_STEPS = 48
DOMINANT = 4.0
NODES = 48
STEPS = 60
CLOSE = 1e-9
DISC_BOUND = 1.66
"""2 J1(x)/x is never above this over x to the power 3/2, which x to the half times J1 sets."""
FIRST_ZERO = 3.8317
"""Up to the first zero of J1, 2 J1(x)/x is never above exp(-x^2/8): all zeros are real."""

Distribution = Callable[[float], float]


def worst_case(*, bias: float, radii: Sequence[float]) -> float:
    """Return the longest that the sum can be: all in one line.

    Args:
        bias: Length of the fixed vector.
        radii: Radii of the discs.

    Returns:
        The length.

    Raises:
        ValueError: If a length is negative or not finite.

    Example:
        >>> round(worst_case(bias=0.05, radii=[0.01, 0.02]), 9)
        0.08
    """
    _check(bias, radii)
    return bias + sum(radii)


def root_sum_square(*, bias: float, radii: Sequence[float]) -> float:
    """Return the fixed vector and the root of the sum of the squares of the radii.

    Args:
        bias: Length of the fixed vector.
        radii: Radii of the discs.

    Returns:
        The length.

    Raises:
        ValueError: If a length is negative or not finite.

    Source:
        The habit of tolerance chains: common practice, no source.

    Example:
        >>> round(root_sum_square(bias=0.1, radii=[0.03, 0.04]), 9)
        0.15
    """
    _check(bias, radii)
    return bias + sqrt(sum(radius * radius for radius in radii))


def probability(*, length: float, bias: float, radii: Sequence[float]) -> float:
    """Return the probability that the sum is no longer than a length.

    Args:
        length: The length.
        bias: Length of the fixed vector.
        radii: Radii of the discs.

    Returns:
        From 0 to 1.

    Raises:
        ValueError: If a length is negative or not finite.

    Source:
        Watson, A Treatise on the Theory of Bessel Functions, section 13.48, after Kluyver, A local
        probability problem (1905): r times the integral of J1(rt) and the characteristic function
        of each step. Example: the distance of two random points of a unit disc, from the density
        in Solomon, Geometric Probability (1978), p. 129; 0.7342 is its integral up to 1.2.

    Example:
        >>> round(probability(length=1.2, bias=0.0, radii=[1.0, 1.0]), 4)
        0.7342
    """
    _check(bias, [*radii, length])
    if length >= worst_case(bias=bias, radii=radii):
        return 1.0
    return distribution(bias=bias, radii=radii)(length)


def quantiles(*, shares: Sequence[float], bias: float, radii: Sequence[float]) -> list[float]:
    """Return the lengths that given shares of all sums do not exceed.

    Args:
        shares: The shares, from 0 to 1.
        bias: Length of the fixed vector.
        radii: Radii of the discs.

    Returns:
        A length for each share.

    Raises:
        ValueError: If a length is negative or not finite, or a share not from 0 to 1.

    Source:
        As for `probability`. Example: a single disc, where the share is the square of the length
        over the radius.

    Example:
        >>> [round(each, 9) for each in quantiles(shares=[0.25, 1.0], bias=0.0, radii=[0.3])]
        [0.15, 0.3]
    """
    _check(bias, radii)
    if not all(0 <= share <= 1 for share in shares):
        raise ValueError(f"{shares=}")
    worst = worst_case(bias=bias, radii=radii)
    kept = [radius for radius in radii if radius > NEGLIGIBLE * worst]
    if not kept:
        return [worst for _ in shares]
    spread = sum(kept)
    within = distribution(bias=bias, radii=kept)
    return [_solved(within, share, max(0.0, bias - spread), bias + spread) for share in shares]


def distribution(*, bias: float, radii: Sequence[float]) -> Distribution:
    """Return the probability of a length as a function, worked out in advance.

    One disc is the part of it that a circle covers. Several are a series over the zeros of J0: the
    sum ends at the worst case, so the integral over all t is a sum, and a short one where no disc
    outweighs the rest. Where a fixed vector or one disc does, the rest is taken first, by its own
    series, and the large one is integrated over it.

    Args:
        bias: Length of the fixed vector.
        radii: Radii of the discs.

    Returns:
        A function of a length below the worst case.

    Raises:
        ValueError: If a length is negative or not finite.

    Source:
        Fourier-Bessel series: Watson, sections 18.1 and 18.24; its use for sums of random vectors
        after Barakat, First-order statistics of combined random sinusoidal waves, Optica Acta 21
        (1974), from memory, unverified.
    """
    _check(bias, radii)
    worst = worst_case(bias=bias, radii=radii)
    discs = sorted((radius for radius in radii if radius > NEGLIGIBLE * worst), reverse=True)
    if not discs:
        return lambda length: float(length >= worst)
    if len(discs) == 1:
        return lambda length: _covered(discs[0], length, bias)
    terms = _terms_needed(worst, discs)
    rest = worst - discs[0]
    if terms > DIRECT_TERMS and bias > DOMINANT * (worst - bias):
        inner = _inner(0.0, discs)
        return lambda length: _over_ring(inner, worst - bias, length, bias)
    if terms > DIRECT_TERMS and discs[0] > DOMINANT * rest:
        inner = _inner(bias, discs[1:])
        return lambda length: _over_disc(inner, rest, length, discs[0])
    return _series(worst, bias, discs, terms)


def _inner(bias: float, discs: Sequence[float]) -> Distribution:
    """Return the distribution of the lesser part of a chain; being integrated it may be coarser."""
    if len(discs) == 1:
        return lambda length: _covered(discs[0], length, bias)
    worst = bias + sum(discs)
    table = _table(bias, tuple(discs))
    last = len(table) - 2

    def within(length: float) -> float:
        place = length / worst * (len(table) - 1)
        near = min(last, max(1, round(place)))
        off = place - near
        low, here, high = table[near - 1 : near + 2]
        return here + off * (high - low) / 2 + off * off * (high + low - 2 * here) / 2

    return within


@lru_cache(maxsize=64)
def _table(bias: float, discs: tuple[float, ...]) -> tuple[float, ...]:
    """Return a distribution at even steps from 0 to its worst case, for parabolas between them.

    Kept, because a chain is asked again with its largest error changed and the rest as it was.
    """
    worst = bias + sum(discs)
    series = _series(worst, bias, discs, min(INNER_TERMS, _terms_needed(worst, discs)))
    return (*(series(worst * step / INNER_STEPS) for step in range(INNER_STEPS)), 1.0)


def _check(bias: float, radii: Sequence[float]) -> None:
    if not all(isfinite(each) and each >= 0 for each in (bias, *radii)):
        raise ValueError(f"{bias=}, {radii=}")


def _terms_needed(worst: float, discs: Sequence[float]) -> int:
    """Return after how many terms the rest of the series is negligible; bounded."""
    terms = 4
    while terms < MOST_TERMS:
        t = terms * pi / worst
        bound = float(terms)
        for radius in discs:
            x = radius * t
            bound *= exp(-x * x / 8) if x < FIRST_ZERO else DISC_BOUND / (x * sqrt(x))
        if bound < TAIL:
            return terms
        terms += max(2, terms // 8)
    return MOST_TERMS


def _series(worst: float, bias: float, discs: Sequence[float], terms: int) -> Distribution:
    """Return the distribution as a Fourier-Bessel series that ends at the worst case."""
    weights: list[tuple[float, float]] = []
    for place in range(1, terms + 1):
        root = bessel.zero(place)
        t = root / worst
        spread = bessel.j0(bias * t) if bias else 1.0
        for radius in discs:
            spread *= bessel.disc(radius * t)
        slope = bessel.j1(root)
        weights.append((t, 2 * spread / (root * slope * slope)))
    j1 = bessel.j1

    def within(length: float) -> float:
        found = sum(weight * j1(length * t) for t, weight in weights) * length / worst
        return min(1.0, max(0.0, found))

    return within


def _covered(radius: float, length: float, apart: float) -> float:
    """Return the share of a disc that a circle about a point covers.

    The area common to two circles: Weisstein, Circle-Circle Intersection, MathWorld, eq. 14.
    """
    if apart + length <= radius:
        return (length / radius) ** 2
    if length >= apart + radius:
        return 1.0
    if apart >= length + radius:
        return 0.0
    ours = _sector(apart, length, radius)
    theirs = _sector(apart, radius, length)
    return (length * length * ours + radius * radius * theirs) / (pi * radius * radius)


def _sector(apart: float, near: float, far: float) -> float:
    """Return the area of a circle's part beyond the chord common with another, over its square."""
    share = (apart * apart + near * near - far * far) / (2 * apart * near)
    half = acos(max(-1.0, min(1.0, share)))
    return half - sin(half) * cos(half)


def _over_disc(inner: Distribution, reach: float, length: float, radius: float) -> float:
    """Return the distribution of the sum of an inner vector and one over a larger disc.

    By parts: the covered share of the disc at the inner vector's reach, and from there inward its
    fall, which is the common chord, times the inner distribution.
    """

    def fall(apart: float) -> float:
        along = (apart * apart + length * length - radius * radius) / (2 * apart)
        return 2 * sqrt(max(0.0, length * length - along * along)) / (pi * radius * radius)

    found = _covered(radius, length, reach)
    return found + _integral(inner, fall, abs(length - radius), reach)


def _over_ring(inner: Distribution, reach: float, length: float, bias: float) -> float:
    """Return the distribution of the sum of an inner vector and a longer fixed one.

    Likewise with the share of all directions of the inner vector that keep the sum short.
    """

    def cosine(apart: float) -> float:
        return ((length * length - bias * bias) / apart - apart) / (2 * bias)

    def fall(apart: float) -> float:
        inside = max(1e-300, 1 - cosine(apart) ** 2)
        steep = ((length * length - bias * bias) / (apart * apart) + 1) / (2 * bias)
        return steep / (pi * sqrt(inside))

    if abs(length - bias) >= reach:
        return float(length > bias)
    found = 1 - acos(max(-1.0, min(1.0, cosine(reach)))) / pi
    return found + _integral(inner, fall, abs(length - bias), reach)


def _integral(inner: Distribution, fall: Distribution, start: float, end: float) -> float:
    """Return the integral of an inner distribution times a fall, steep at its ends at most.

    Midpoints of a half circle over the range: roots at the ends become smooth.
    """
    if start >= end:
        return 0.0
    half, step = (end - start) / 2, pi / NODES
    total = 0.0
    for node in range(NODES):
        angle = (node + 0.5) * step
        apart = start + half * (1 - cos(angle))
        total += inner(apart) * fall(apart) * sin(angle)
    return total * half * step


def _solved(within: Distribution, share: float, low: float, high: float) -> float:
    """Return the length at which a distribution reaches a share, by regula falsi (Illinois)."""
    if share >= 1:
        return high
    below, above, side = -share, 1 - share, 0
    found = low
    for _ in range(STEPS):
        found = high - above * (high - low) / (above - below)
        error = within(found) - share
        if abs(error) < CLOSE or high - low < CLOSE * high:
            break
        if error > 0:
            high, above = found, error
            below /= 2 if side > 0 else 1
        else:
            low, below = found, error
            above /= 2 if side < 0 else 1
        side = 1 if error > 0 else -1
    return found
