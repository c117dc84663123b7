"""Sums of errors in a plane: closed forms, printed distributions and plain random drawing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import chain
from tests.formulas.quantities import NAN, steady

SHARES = (0.5, 0.95, 0.997)
DRAWS = 4_000_000
radius = st.floats(0.001, 1.0)
many = st.lists(radius, min_size=0, max_size=9)


def most(share: float, *radii: float, bias: float = 0.0) -> float:
    (found,) = chain.quantiles(shares=[share], bias=bias, radii=radii)
    return found


@cache
def drawn(bias: float, radii: tuple[float, ...]) -> list[float]:
    """Return the quantiles of sums drawn with numpy alone: angle and root of a uniform number."""
    bits = np.random.default_rng(7)
    east, north = np.full(DRAWS, bias), np.zeros(DRAWS)
    for each in radii:
        angle = bits.random(DRAWS) * 2 * math.pi
        length = each * np.sqrt(bits.random(DRAWS))
        east += length * np.cos(angle)
        north += length * np.sin(angle)
    found: list[float] = np.quantile(np.hypot(east, north), SHARES).tolist()
    return found


def test_worst_case_and_root_sum_square_of_five_errors() -> None:
    """A worked chain over an arm of 60 mm: 0.065 and 0.031 degrees, common practice, no source."""
    radii = [0.010, 0.010, 0.020, 0.018, 0.010]
    assert math.degrees(chain.worst_case(bias=0, radii=radii) / 60) == pytest.approx(
        0.065, abs=5e-4
    )
    assert math.degrees(chain.root_sum_square(bias=0, radii=radii) / 60) == pytest.approx(
        0.031, abs=5e-4
    )


@pytest.mark.parametrize("share", SHARES)
def test_one_disc_is_the_root_of_the_share(share: float) -> None:
    assert most(share, 0.4) == pytest.approx(0.4 * math.sqrt(share), abs=1e-8)


def test_no_disc_is_the_fixed_vector() -> None:
    assert chain.quantiles(shares=SHARES, bias=0.3, radii=[]) == [0.3, 0.3, 0.3]
    assert chain.quantiles(shares=SHARES, bias=0.0, radii=[0.0, 0.0]) == [0.0, 0.0, 0.0]
    assert chain.probability(length=0.29, bias=0.3, radii=[]) == 0


def test_one_disc_about_a_fixed_vector_is_a_common_area() -> None:
    """Two equal circles through each other's centres share 2/3 - sqrt(3)/(2 pi) of one's area.

    Weisstein, Circle-Circle Intersection, MathWorld: the lens of two unit circles one apart.
    """
    lens = 2 / 3 - math.sqrt(3) / (2 * math.pi)
    assert chain.probability(length=1.0, bias=1.0, radii=[1.0]) == pytest.approx(lens, abs=1e-12)


@pytest.mark.parametrize("length", [0.05, 0.3, 0.9054, 1.2, 1.7, 1.99])
def test_two_equal_discs_are_the_distance_of_two_points_of_one(length: float) -> None:
    """Weisstein, Disk Line Picking, MathWorld, eq. 7, after Solomon (1978); integrated here."""

    def density(s: float) -> float:
        return 4 * s / math.pi * math.acos(s / 2) - 2 * s * s / math.pi * math.sqrt(1 - s * s / 4)

    nodes = 20_000
    step = length / nodes
    whole = step * sum(density((node + 0.5) * step) for node in range(nodes))
    found = chain.probability(length=length, bias=0.0, radii=[1.0, 1.0])
    assert found == pytest.approx(whole, abs=2e-6)


def test_mean_distance_of_two_points_of_a_disc() -> None:
    """128/(45 pi), the same page, eq. 5: the integral of what exceeds each length."""
    within = chain.distribution(bias=0.0, radii=[1.0, 1.0])
    nodes = 400
    step = 2 / nodes
    mean = step * sum(1 - within((node + 0.5) * step) for node in range(nodes))
    assert mean == pytest.approx(128 / (45 * math.pi), abs=1e-5)


@pytest.mark.parametrize("share", [0.5, 0.95])
def test_many_equal_discs_approach_rayleigh(share: float) -> None:
    """Variance e^2/4 an axis each; Rayleigh's limit, Watson, section 13.48."""
    count = 400
    limit = math.sqrt(-2 * math.log(1 - share) * count / 4)
    assert most(share, *[1.0] * count) == pytest.approx(limit, rel=1e-3)


CHAINS: Sequence[tuple[float, tuple[float, ...]]] = [
    (0.0, (0.01, 0.01, 0.02, 0.018, 0.01)),
    (0.0447, (0.01, 0.01, 0.02, 0.018, 0.01)),
    (0.0, (1.0, 0.1)),
    (0.0, (1.0, 0.01)),
    (0.0, (1.0, 0.001)),
    (0.0, (1.0, 0.2, 0.03)),
    (0.0, (1.0, 0.05, 0.05, 0.05, 0.05, 0.05)),
    (1.0, (0.01, 0.01)),
    (1.0, (0.3, 0.001)),
    (1.0, (0.1, 0.02, 0.01)),
    (0.3, (1.0, 0.02, 0.02, 0.02)),
    (5.0, (0.1,) * 8),
    (1.0, (1.0, 0.001)),
]


@pytest.mark.parametrize("share", range(3))
@pytest.mark.parametrize("errors", CHAINS, ids=str)
def test_exact_is_what_plain_drawing_tends_to(
    errors: tuple[float, tuple[float, ...]], share: int
) -> None:
    """Within 1e-4 of the worst case, and four times the chance error of so many draws."""
    bias, radii = errors
    whole = chain.worst_case(bias=bias, radii=radii)
    exact = chain.quantiles(shares=SHARES, bias=bias, radii=radii)[share]
    step = 1e-3 * whole
    slope = (
        chain.probability(length=exact + step, bias=bias, radii=radii)
        - chain.probability(length=exact - step, bias=bias, radii=radii)
    ) / (2 * step)
    chance = math.sqrt(SHARES[share] * (1 - SHARES[share]) / DRAWS) / slope
    assert abs(exact - drawn(bias, radii)[share]) < 1e-4 * whole + 4 * chance


@steady
@given(st.floats(0, 1), many)
def test_quantiles_lie_in_order_up_to_the_worst_case(bias: float, radii: list[float]) -> None:
    worst = chain.worst_case(bias=bias, radii=radii)
    half, almost, nearly = chain.quantiles(shares=SHARES, bias=bias, radii=radii)
    assert max(0.0, bias - sum(radii)) - 1e-6 <= half <= almost + 1e-6
    assert almost <= nearly + 1e-6
    assert nearly <= worst + 1e-6


@steady
@given(st.floats(0, 1), st.lists(radius, min_size=1, max_size=6), st.floats(0.1, 0.99))
def test_a_quantile_is_where_the_probability_reaches_its_share(
    bias: float, radii: list[float], share: float
) -> None:
    length = most(share, *radii, bias=bias)
    found = chain.probability(length=length, bias=bias, radii=radii)
    assert found == pytest.approx(share, abs=1e-3)


@steady
@given(st.floats(0, 1), st.lists(radius, min_size=1, max_size=6), st.floats(0.1, 10))
def test_scaling_every_error_scales_the_quantiles(
    bias: float, radii: list[float], scale: float
) -> None:
    one = most(0.95, *radii, bias=bias)
    other = most(0.95, *(scale * each for each in radii), bias=scale * bias)
    assert other == pytest.approx(scale * one, rel=1e-5)


@pytest.mark.parametrize("wrong", [-1.0, NAN, math.inf])
def test_lengths_that_are_none_are_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="bias"):
        chain.worst_case(bias=wrong, radii=[])
    with pytest.raises(ValueError, match="radii"):
        chain.root_sum_square(bias=0, radii=[wrong])
    with pytest.raises(ValueError, match="radii"):
        chain.probability(length=wrong, bias=0, radii=[1])
    with pytest.raises(ValueError, match="radii"):
        chain.distribution(bias=0, radii=[wrong])


@pytest.mark.parametrize("wrong", [-0.1, 1.1, NAN])
def test_shares_outside_nought_to_one_are_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="shares"):
        chain.quantiles(shares=[wrong], bias=0, radii=[1])
