"""The random assemblies: their discs are discs, and their quantiles those of the exact sum."""

from __future__ import annotations

import math

import numpy as np
import pytest

from generator.formulas import chain
from generator.formulas.assemblies import FINE_BINS, SHARES, Chain, spreads, unit_disc

ERRORS = (0.010, 0.010, 0.020, 0.018, 0.010)


def test_points_have_the_moments_of_a_disc() -> None:
    """Even over the unit disc: mean 0, variance 1/4 an axis, mean of r^n 2/(n + 2)."""
    points = unit_disc().astype(complex)
    assert abs(points.mean()) < 1e-5
    for axis in (points.real, points.imag):
        assert (axis**2).mean() == pytest.approx(1 / 4, abs=1e-5)
        assert (axis**4).mean() == pytest.approx(1 / 8, abs=1e-5)
        assert (axis**3).mean() == pytest.approx(0, abs=1e-5)
    assert (points.real * points.imag).mean() == pytest.approx(0, abs=1e-5)
    for power in range(1, 9):
        assert (abs(points) ** power).mean() == pytest.approx(2 / (power + 2), abs=1e-7)


def test_points_lie_evenly_in_every_sector_and_ring() -> None:
    points = unit_disc()
    sectors, _ = np.histogram(np.angle(points), bins=64, range=(-math.pi, math.pi))
    rings, _ = np.histogram(np.abs(points) ** 2, bins=64, range=(0, 1))
    assert abs(sectors - len(points) / 64).max() <= 4
    assert abs(rings - len(points) / 64).max() <= 1


@pytest.mark.parametrize(
    ("bias", "radii"),
    [
        ((0.0, 0.0), ERRORS),
        ((0.02, 0.04), ERRORS),
        ((0.0, 0.0), (0.02,)),
        ((0.0, 0.0), (0.02, 0.2)),
        ((0.3, 0.0), (0.01, 0.01, 0.01)),
    ],
)
def test_quantiles_are_the_exact_ones(bias: tuple[float, float], radii: tuple[float, ...]) -> None:
    """Within five times the chance error of a million assemblies."""
    (found,) = spreads([Chain(bias, radii)])
    length = math.hypot(*bias)
    worst = length + sum(radii)
    within = chain.distribution(bias=length, radii=radii)
    for share, quantile in zip(SHARES, found.quantiles, strict=True):
        reached = within(quantile)
        chance = math.sqrt(share * (1 - share) / 1_000_000)
        assert abs(reached - share) < 5 * chance + 1e-5, (share, quantile, worst)


def test_the_same_seed_gives_the_same_figures_and_another_does_not() -> None:
    chains = [Chain((0.0, 0.0), ERRORS)]
    assert spreads(chains, assemblies=50_000) == spreads(chains, assemblies=50_000)
    assert spreads(chains, assemblies=50_000) != spreads(chains, assemblies=50_000, seed=21)


def test_chains_share_their_vectors() -> None:
    """Half the radii lean exactly half as much, drawn by drawn."""
    whole, half = spreads(
        [Chain((0.0, 0.0), ERRORS), Chain((0.0, 0.0), tuple(each / 2 for each in ERRORS))],
        assemblies=100_000,
    )
    assert half.quantiles == pytest.approx([each / 2 for each in whole.quantiles], rel=1e-6)


def test_histogram_holds_every_assembly_and_agrees_with_the_quantiles() -> None:
    (found,) = spreads([Chain((0.02, 0.04), ERRORS)], assemblies=200_000)
    assert sum(found.shares) == pytest.approx(1)
    widths = np.diff(found.edges)
    assert sum(found.densities * widths) == pytest.approx(1)
    reached = np.interp(found.quantiles[1], found.edges, np.cumsum([0, *found.shares]))
    assert reached == pytest.approx(0.95, abs=0.005)


def test_no_error_is_no_lean() -> None:
    (found,) = spreads([Chain((0.0, 0.0), (0.0, 0.0))], assemblies=1000)
    assert found.quantiles == (0.0, 0.0, 0.0)
    assert set(found.densities) == {0.0}


def test_a_fixed_vector_alone_is_itself() -> None:
    (found,) = spreads([Chain((0.3, 0.4), ())], assemblies=1000)
    assert found.quantiles == pytest.approx([0.5] * 3, rel=1 / FINE_BINS)


def test_none_is_none() -> None:
    assert spreads([]) == ()


@pytest.mark.parametrize(
    ("chains", "assemblies"),
    [
        ([Chain((0.0, 0.0), (1.0,)), Chain((0.0, 0.0), ())], 10),
        ([Chain((0.0, 0.0), (-1.0,))], 10),
        ([Chain((math.nan, 0.0), (1.0,))], 10),
        ([Chain((0.0, 0.0), (1.0,))], 0),
    ],
)
def test_what_cannot_be_drawn_is_refused(chains: list[Chain], assemblies: int) -> None:
    with pytest.raises(ValueError, match="assemblies="):
        spreads(chains, assemblies=assemblies)
