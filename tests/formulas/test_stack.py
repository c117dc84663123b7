"""Springs in series: hand-worked lengths, and the laws of a stack."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.stack import (
    Coil,
    first_solid,
    stack_force_N,
    stack_length_mm,
    stack_rate_N_per_mm,
)
from tests.cases import Printed
from tests.formulas.quantities import NAN, forces, ratios, steady

SOFT = Coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
STIFF = Coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)

springs = st.builds(
    lambda solid_mm, travel_mm, rate: Coil(
        free_mm=solid_mm + travel_mm, solid_mm=solid_mm, rate_N_per_mm=rate
    ),
    st.floats(1.0, 50.0),
    st.floats(0.5, 50.0),
    st.floats(0.05, 20.0),
)
stacks = st.lists(springs, min_size=1, max_size=4)
separators = st.floats(0.0, 5.0)


@pytest.mark.parametrize(
    ("force_N", "length_mm"), [(0, 40), (5, 32.5), (10, 25), (12, 23), (13, 22), (20, 22)]
)
def test_lengths_are_those_worked_by_hand(force_N: float, length_mm: float) -> None:
    """No source: 1/1 + 1/2 mm a newton to 10 N, where the stiff spring is solid; then 1/1."""
    assert stack_length_mm([SOFT, STIFF], 0, force_N=force_N) == length_mm


def test_the_stiffer_spring_may_close_first() -> None:
    assert first_solid([SOFT, STIFF]) == 1
    assert first_solid([STIFF, SOFT]) == 0
    assert first_solid([SOFT]) == 0
    assert first_solid([SOFT, SOFT]) == 0


def test_the_force_changes_its_slope_where_the_first_spring_closes() -> None:
    def slope(length_mm: float) -> float:
        near, far = (
            stack_force_N([SOFT, STIFF], 1.5, length_mm=length_mm + 1.5 - step) for step in (0, 0.5)
        )
        return (far - near) / 0.5

    assert slope(30) == pytest.approx(2 / 3)
    assert slope(25) == pytest.approx(1)


def test_rate_of_two_springs_is_the_published_one() -> None:
    """A textbook problem: 1 200 N/m and 1 800 N/m in series make 720 N/m."""
    pair = [Coil(free_mm=9, solid_mm=5, rate_N_per_mm=rate) for rate in (1.2, 1.8)]
    assert 1000 * stack_rate_N_per_mm(pair) == Printed("720")


@steady
@given(springs, forces)
def test_two_equal_springs_give_half_the_rate_and_twice_the_length(
    coil: Coil, force_N: float
) -> None:
    one = stack_length_mm([coil], 0, force_N=force_N)
    assert stack_length_mm([coil, coil], 0, force_N=force_N) == pytest.approx(2 * one)
    assert stack_rate_N_per_mm([coil, coil]) == pytest.approx(coil.rate_N_per_mm / 2)


@steady
@given(stacks, separators, forces)
def test_order_does_not_matter(coils: list[Coil], separators_mm: float, force_N: float) -> None:
    lengths = {
        stack_length_mm(order, separators_mm, force_N=force_N) for order in permutations(coils)
    }
    assert len(lengths) == 1
    length_mm = lengths.pop()
    found = {
        stack_force_N(order, separators_mm, length_mm=length_mm) for order in permutations(coils)
    }
    assert max(found) == pytest.approx(min(found), rel=1e-12)


@steady
@given(stacks, separators, st.floats(0.0, 1.0))
def test_force_is_the_inverse_of_length(
    coils: list[Coil], separators_mm: float, share: float
) -> None:
    force_N = share * max(coil.solid_force_N for coil in coils)
    length_mm = stack_length_mm(coils, separators_mm, force_N=force_N)
    assert stack_force_N(coils, separators_mm, length_mm=length_mm) == pytest.approx(
        force_N, rel=1e-9, abs=1e-9
    )


@steady
@given(stacks, separators, st.floats(0.0, 1.0))
def test_force_is_the_one_that_halving_finds(
    coils: list[Coil], separators_mm: float, share: float
) -> None:
    shortest_mm = separators_mm + sum(coil.solid_mm for coil in coils)
    free_mm = separators_mm + sum(coil.free_mm for coil in coils)
    length_mm = shortest_mm + 1e-6 + share * (free_mm - shortest_mm - 2e-6)
    low_N, high_N = 0.0, max(coil.solid_force_N for coil in coils)
    for _ in range(80):
        middle_N = (low_N + high_N) / 2
        if stack_length_mm(coils, separators_mm, force_N=middle_N) > length_mm:
            low_N = middle_N
        else:
            high_N = middle_N
    found_N = stack_force_N(coils, separators_mm, length_mm=length_mm)
    assert found_N == pytest.approx(high_N, rel=1e-6, abs=1e-6)


@steady
@given(stacks, forces, forces, st.floats(0.0, 1.0))
def test_length_never_grows_with_force_and_is_convex(
    coils: list[Coil], one_N: float, other_N: float, share: float
) -> None:
    low_N, high_N = sorted((one_N, other_N))
    middle_N = low_N + share * (high_N - low_N)
    low, middle, high = (
        stack_length_mm(coils, 0, force_N=force) for force in (low_N, middle_N, high_N)
    )
    assert low >= middle - 1e-9
    assert middle >= high - 1e-9
    assert middle <= low + share * (high - low) + 1e-9


@steady
@given(stacks, forces, ratios)
def test_scaling_a_stack_scales_its_length(coils: list[Coil], force_N: float, scale: float) -> None:
    larger = [
        Coil(
            free_mm=scale * c.free_mm,
            solid_mm=scale * c.solid_mm,
            rate_N_per_mm=scale * c.rate_N_per_mm,
        )
        for c in coils
    ]
    length_mm = stack_length_mm(coils, 0, force_N=force_N)
    assert stack_length_mm(larger, 0, force_N=scale**2 * force_N) == pytest.approx(
        scale * length_mm
    )


@steady
@given(stacks, separators)
def test_a_stack_can_be_pressed_solid_and_no_further(
    coils: list[Coil], separators_mm: float
) -> None:
    most_N = max(coil.solid_force_N for coil in coils)
    solid_mm = stack_length_mm(coils, separators_mm, force_N=2 * most_N)
    assert stack_force_N(coils, separators_mm, length_mm=solid_mm) == pytest.approx(most_N)
    with pytest.raises(ValueError, match="length_mm"):
        stack_force_N(coils, separators_mm, length_mm=solid_mm - 1e-6)


def test_a_loose_stack_bears_no_force() -> None:
    assert stack_force_N([SOFT, STIFF], 1.5, length_mm=41.5) == 0
    assert stack_force_N([SOFT, STIFF], 1.5, length_mm=60) == 0


def test_a_stack_without_springs_is_refused() -> None:
    with pytest.raises(ValueError, match="0 springs"):
        stack_length_mm([], 0, force_N=1)
    with pytest.raises(ValueError, match="0 springs"):
        stack_force_N([], 0, length_mm=1)
    with pytest.raises(ValueError, match="0 springs"):
        stack_rate_N_per_mm([])
    with pytest.raises(ValueError, match="0 springs"):
        first_solid([])


@pytest.mark.parametrize("wrong", [-0.1, NAN])
def test_negative_force_and_separators_are_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="force_N"):
        stack_length_mm([SOFT], 0, force_N=wrong)
    with pytest.raises(ValueError, match="separators_mm"):
        stack_length_mm([SOFT], wrong, force_N=1)
    with pytest.raises(ValueError, match="separators_mm"):
        stack_force_N([SOFT], wrong, length_mm=20)
    with pytest.raises(ValueError, match="length_mm"):
        stack_force_N([SOFT], 0, length_mm=wrong)


@pytest.mark.parametrize(
    ("free_mm", "solid_mm", "rate"), [(10, 10, 1), (9, 10, 1), (10, 0, 1), (10, 5, 0), (10, 5, NAN)]
)
def test_a_spring_without_travel_or_rate_is_refused(
    free_mm: float, solid_mm: float, rate: float
) -> None:
    with pytest.raises(ValueError, match="Coil"):
        Coil(free_mm=free_mm, solid_mm=solid_mm, rate_N_per_mm=rate)
