"""Bessel functions against printed tables and against the integral that defines them."""

from __future__ import annotations

from itertools import pairwise
from math import cos, inf, nan, pi, sin

import pytest

from generator.formulas import bessel
from tests.cases import Case, cases

NODES = 400
ACCURACY = 6e-8
"""The published bounds are 5e-8 for J0, and 1.3e-8 of the argument, at most 3, for J1."""


def by_integral(order: int, x: float) -> float:
    """Return Bessel's integral by midpoints, which are exact for such a function of the angle.

    Abramowitz and Stegun 9.1.21; Watson, section 2.2.
    """
    angles = ((node + 0.5) * pi / NODES for node in range(NODES))
    return sum(cos(order * angle - x * sin(angle)) for angle in angles) / NODES


@pytest.mark.parametrize("case", cases("bessel_j0"), ids=str)
def test_j0_is_the_printed_value(case: Case) -> None:
    assert bessel.j0(**case.numbers) == pytest.approx(float(case.published), abs=ACCURACY)


@pytest.mark.parametrize("case", cases("bessel_j1"), ids=str)
def test_j1_is_the_printed_value(case: Case) -> None:
    assert bessel.j1(**case.numbers) == pytest.approx(float(case.published), abs=ACCURACY)


def test_both_are_the_integral_all_along() -> None:
    for step in range(3000):
        x = 0.1 * step
        assert bessel.j0(x) == pytest.approx(by_integral(0, x), abs=ACCURACY)
        assert bessel.j1(x) == pytest.approx(by_integral(1, x), abs=ACCURACY)


def test_j0_is_even_and_both_end_at_nothing() -> None:
    assert bessel.j0(-2.5) == bessel.j0(2.5)
    assert bessel.j0(inf) == bessel.j1(inf) == 0


@pytest.mark.parametrize(
    ("place", "printed"), [(1, 2.4048255577), (2, 5.5200781103), (3, 8.6537279129)]
)
def test_zeros_are_the_printed_ones(place: int, printed: float) -> None:
    """Abramowitz and Stegun, table 9.5, from memory; the integral vanishes there."""
    assert bessel.zero(place) == pytest.approx(printed, abs=2e-7)
    assert by_integral(0, printed) == pytest.approx(0, abs=1e-10)


def test_every_zero_is_one_and_none_is_left_out() -> None:
    found = [bessel.zero(place) for place in range(1, 250)]
    assert all(abs(bessel.j0(zero)) < 1e-7 for zero in found)
    gaps = [high - low for low, high in pairwise(found)]
    assert all(3.11 < gap < pi for gap in gaps)


def test_the_disc_is_one_at_nought_and_bounded() -> None:
    """Born and Wolf, Principles of Optics, table 8.2: zeros at 1.220 and 2.233 pi."""
    assert bessel.disc(0) == 1
    for zero in (1.220, 2.233):
        assert bessel.disc(zero * pi) == pytest.approx(0, abs=1e-3)


@pytest.mark.parametrize("x", [-1.0, nan])
def test_outside_their_range_they_refuse(x: float) -> None:
    for function in (bessel.j1, bessel.disc):
        with pytest.raises(ValueError, match="x="):
            function(x)
    with pytest.raises(ValueError, match="place="):
        bessel.zero(0)
