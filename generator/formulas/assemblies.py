"""Many assemblies of a chain of errors, drawn at random: the one formula that needs numpy.

Each error is a vector spread evenly over a disc. Drawing one is looking it up: a table holds 65536
points that cover the unit disc evenly, and a random number of 16 bits picks one. All chains share
the vectors, each with its own radii. The work is done in pieces that stay in the cache. Single
precision keeps seven digits, of which the results show four. Sums and roots are rounded alike on
every machine and no thread shares them, so a seed gives the same figures everywhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi, sqrt
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

POINTS: Final = 65536
PIECE: Final = 16384
"""Assemblies of a piece; more would leave the cache, fewer cost calls."""
FINE_BINS: Final = 4096
"""Within one of these bins the density is taken as even."""
PLOT_BINS: Final = 64
SEED: Final = 20
ASSEMBLIES: Final = 1_000_000
SHARES: Final = (0.5, 0.95, 0.997)

Floats = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Chain:
    """One sum of errors.

    Attributes:
        bias: Its fixed vector.
        radii: The radius of each error, in the order of the vectors that all chains share; 0 for
            an error that it has no part in.
    """

    bias: tuple[float, float]
    radii: tuple[float, ...]

    @property
    def worst(self) -> float:
        """The longest that the sum can be."""
        return sqrt(self.bias[0] ** 2 + self.bias[1] ** 2) + sum(self.radii)


@dataclass(frozen=True, slots=True)
class Spread:
    """How long the sums of one chain were.

    Attributes:
        quantiles: What 50, 95 and 99.7 % of them did not exceed.
        edges: The bins of a histogram, from 0 to the worst case: one edge more than bins.
        shares: The share of all sums in each bin.
    """

    quantiles: tuple[float, ...]
    edges: tuple[float, ...]
    shares: tuple[float, ...]

    @property
    def densities(self) -> tuple[float, ...]:
        """The share of each bin over its width; 0 where all have no width."""
        widths = [high - low for low, high in pairwise(self.edges)]
        return tuple(
            share / width if width else 0.0
            for share, width in zip(self.shares, widths, strict=True)
        )


def unit_disc() -> NDArray[np.complex64]:
    """Return points that cover the unit disc evenly, as complex numbers.

    Turned on by the golden angle each, the next on a circle that holds as many more: the disc is
    cut into rings of equal area and each has its point.

    Source:
        Vogel, A better way to construct the sunflower head, Mathematical Biosciences 44 (1979).
    """
    place = np.arange(POINTS)
    golden = pi * (3 - sqrt(5))
    points = np.sqrt((place + 0.5) / POINTS) * np.exp(1j * golden * place)
    return np.asarray(points, dtype=np.complex64)


def spreads(
    chains: Sequence[Chain], *, assemblies: int = ASSEMBLIES, seed: int = SEED
) -> tuple[Spread, ...]:
    """Return how long the sum of each chain is over many assemblies.

    Args:
        chains: The chains; all name the same errors in the same order.
        assemblies: How many.
        seed: Where the random numbers begin; the same seed gives the same figures.

    Returns:
        A spread for each chain.

    Raises:
        ValueError: If the chains do not name as many errors, a radius is negative, anything is not
            finite, or there is no assembly.

    Example:
        >>> whole, half = spreads([Chain((0, 0), (1.0,)), Chain((0, 0), (0.5,))], assemblies=100000)
        >>> abs(whole.quantiles[0] - sqrt(0.5)) < 0.005, whole.quantiles[0] / half.quantiles[0]
        (True, 2.0)
    """
    _check(chains, assemblies)
    counts = np.zeros((len(chains), FINE_BINS), dtype=np.int64)
    disc, bits = unit_disc(), np.random.SFC64(seed)
    vectors = len(chains[0].radii) if chains else 0
    for start in range(0, assemblies, PIECE):
        size = min(PIECE, assemblies - start)
        points = disc.take(_indices(bits, vectors, size), mode="clip").view(np.float32)
        for chain, row in zip(chains, counts, strict=True):
            if chain.worst > 0:
                row += _binned(chain, points.reshape(vectors, 2 * size))
    return tuple(
        _spread(chain.worst, row, assemblies) for chain, row in zip(chains, counts, strict=True)
    )


def _check(chains: Sequence[Chain], assemblies: int) -> None:
    alike = len({len(chain.radii) for chain in chains}) <= 1
    sound = all(np.isfinite(chain.worst) and min(chain.radii, default=0) >= 0 for chain in chains)
    if not (alike and sound and assemblies >= 1):
        raise ValueError(f"{chains=}, {assemblies=}")


def _indices(bits: Any, vectors: int, size: int) -> NDArray[np.intp]:
    """Return a random place in the table for each vector of each assembly."""
    raw = bits.random_raw(-(-vectors * size // 4)).astype("<u8", copy=False)
    picked: NDArray[np.intp] = raw.view("<u2")[: vectors * size].astype(np.intp)
    return picked


def _binned(chain: Chain, points: Floats) -> NDArray[np.intp]:
    """Return how many sums of a piece lie in each fine bin."""
    total = np.empty(points.shape[1], dtype=np.float32)
    total[0::2], total[1::2] = chain.bias
    part = np.empty_like(total)
    for radius, drawn in zip(chain.radii, points, strict=True):
        if radius:
            np.multiply(drawn, np.float32(radius), out=part)
            np.add(total, part, out=total)
    np.multiply(total, total, out=total)
    length = total[0::2] + total[1::2]
    np.sqrt(length, out=length)
    np.multiply(length, np.float32(FINE_BINS / chain.worst), out=length)
    places = length.astype(np.intp)
    np.minimum(places, FINE_BINS - 1, out=places)
    return np.bincount(places, minlength=FINE_BINS)


def _spread(worst: float, counts: NDArray[np.int64], assemblies: int) -> Spread:
    """Return quantiles and histogram from the fine bins, straight within a bin."""
    coarse = counts.reshape(PLOT_BINS, -1).sum(axis=1)
    edges = np.linspace(0.0, worst, PLOT_BINS + 1)
    if worst == 0:
        return Spread((0.0,) * len(SHARES), tuple(edges.tolist()), (0.0,) * PLOT_BINS)
    reached = np.concatenate(([0], np.cumsum(counts)))
    found = []
    for share in SHARES:
        place = int(np.searchsorted(reached, share * assemblies, side="left")) - 1
        within = (share * assemblies - reached[place]) / counts[place]
        found.append((place + float(within)) * worst / FINE_BINS)
    return Spread(tuple(found), tuple(edges.tolist()), tuple((coarse / assemblies).tolist()))
