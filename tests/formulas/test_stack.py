"""Force against length: hand-worked and published sets of springs, and the laws of a curve."""

from __future__ import annotations

from itertools import pairwise, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.spring import rate_N_per_mm
from generator.formulas.stack import Curve, coil, first_to_end, in_series, side_by_side
from tests.cases import Printed
from tests.formulas.quantities import NAN, forces, ratios, steady

SOFT = coil(free_mm=25, solid_mm=12, rate_N_per_mm=1)
STIFF = coil(free_mm=15, solid_mm=10, rate_N_per_mm=2)
ROW = in_series([SOFT, STIFF])

springs = st.builds(
    lambda solid_mm, travel_mm, rate: coil(
        free_mm=solid_mm + travel_mm, solid_mm=solid_mm, rate_N_per_mm=rate
    ),
    st.floats(1.0, 50.0),
    st.floats(0.5, 50.0),
    st.floats(0.05, 20.0),
)
nests = st.lists(springs, min_size=1, max_size=2).map(side_by_side)
rows = st.lists(nests, min_size=1, max_size=4)
separators = st.floats(0.0, 5.0)
shares = st.floats(0.0, 1.0)


def at(curve: Curve, share: float) -> float:
    """Return a length between the shortest and a little over the free length."""
    return curve.end_mm + share * 1.1 * (curve.free_mm - curve.end_mm)


@pytest.mark.parametrize(
    ("force_N", "length_mm"), [(0, 40), (5, 32.5), (10, 25), (12, 23), (13, 22), (20, 22)]
)
def test_lengths_are_those_worked_by_hand(force_N: float, length_mm: float) -> None:
    """No source: 1/1 + 1/2 mm a newton to 10 N, where the stiff spring is solid; then 1/1."""
    assert ROW.length_mm(force_N) == length_mm


def test_the_stiffer_spring_may_close_first() -> None:
    assert first_to_end([SOFT, STIFF]) == 1
    assert first_to_end([STIFF, SOFT]) == 0
    assert first_to_end([SOFT]) == 0
    assert first_to_end([SOFT, SOFT]) == 0


def test_the_rate_changes_where_the_first_spring_closes() -> None:
    washer = in_series([SOFT, STIFF], 1.5)
    assert washer.rate_N_per_mm(30 + 1.5) == pytest.approx(2 / 3)
    assert washer.rate_N_per_mm(25 + 1.5) == pytest.approx(1)
    assert washer.rate_N_per_mm(22 + 1.5) == pytest.approx(1)
    assert washer.rate_N_per_mm(40 + 1.6) == 0


def test_energy_over_a_corner_is_the_area_worked_by_hand() -> None:
    """By hand: 15 mm to 10 N, then 3 mm from 10 to 13 N: 75 and 34.5 N mm."""
    assert ROW.energy_J(40, 22) == pytest.approx((75 + 34.5) / 1000)
    assert ROW.energy_J(25, 22) == pytest.approx(34.5 / 1000)
    assert ROW.energy_J(22, 40) == -ROW.energy_J(40, 22)
    assert ROW.energy_J(45, 40) == 0


def test_rate_of_two_springs_is_the_published_one() -> None:
    """A textbook problem: 1 200 N/m and 1 800 N/m in series make 720 N/m."""
    pair = [coil(free_mm=9, solid_mm=5, rate_N_per_mm=rate) for rate in (1.2, 1.8)]
    assert 1000 * in_series(pair).rate_N_per_mm(18) == Printed("720")


def test_nested_springs_share_the_published_load() -> None:
    """Strength of materials textbook (India), problem 8.8, p. 212, by its published companion.

    Outer spring: 10 coils of 30 mm, wire 3 mm, G 80 GPa; pressed by 20 mm. The inner one is 10 mm
    shorter. Together 100 N; the inner spring is found to be of 4 000 N/m.
    """
    rate = rate_N_per_mm(wire_mm=3, mean_mm=30, active_coils=10, shear_modulus_MPa=80e3)
    outer = coil(free_mm=80, solid_mm=40, rate_N_per_mm=rate)
    inner = coil(free_mm=70, solid_mm=30, rate_N_per_mm=4.0)
    nest = side_by_side([outer, inner])
    assert nest.force_N(80 - 20) == Printed("100")
    assert nest.rate_N_per_mm(75) == pytest.approx(rate)
    assert nest.end_mm == 40


def test_one_nest_is_worked_by_hand() -> None:
    """2 N/mm from 30, in it 1 N/mm from 25, the inner one solid at 15: 10 N at 25, 40 N at 15."""
    outer = coil(free_mm=30, solid_mm=12, rate_N_per_mm=2)
    inner = coil(free_mm=25, solid_mm=15, rate_N_per_mm=1)
    assert side_by_side([outer, inner]).points == ((30, 0), (25, 10), (15, 40))


@steady
@given(springs, forces)
def test_two_equal_springs_give_half_the_rate_and_twice_the_length(
    one: Curve, force_N: float
) -> None:
    pair = in_series([one, one])
    assert pair.length_mm(force_N) == pytest.approx(2 * one.length_mm(force_N))
    assert pair.rate_N_per_mm(pair.free_mm) == pytest.approx(one.rate_N_per_mm(one.free_mm) / 2)
    assert pair.end_mm == pytest.approx(2 * one.end_mm)


@steady
@given(springs, shares)
def test_two_equal_nested_springs_give_twice_the_force(one: Curve, share: float) -> None:
    nest = side_by_side([one, one])
    length_mm = at(one, share)
    assert nest.force_N(length_mm) == pytest.approx(2 * one.force_N(length_mm))
    assert nest.end_mm == one.end_mm


@steady
@given(rows, separators, forces)
def test_order_does_not_matter(row: list[Curve], separators_mm: float, force_N: float) -> None:
    assert len({in_series(order, separators_mm) for order in permutations(row)}) == 1
    assert len({side_by_side(order) for order in permutations(row)}) == 1


@steady
@given(rows, separators, shares)
def test_force_is_the_inverse_of_length(
    row: list[Curve], separators_mm: float, share: float
) -> None:
    curve = in_series(row, separators_mm)
    force_N = share * curve.end_force_N
    assert curve.force_N(curve.length_mm(force_N)) == pytest.approx(force_N, rel=1e-9, abs=1e-9)


@steady
@given(rows, separators, shares)
def test_a_row_is_as_long_as_its_springs_under_their_common_force(
    row: list[Curve], separators_mm: float, share: float
) -> None:
    curve = in_series(row, separators_mm)
    force_N = curve.force_N(at(curve, share))
    lengths = [one.length_mm(force_N) for one in row]
    assert curve.length_mm(force_N) == pytest.approx(separators_mm + sum(lengths))


@steady
@given(st.lists(springs, min_size=1, max_size=4), shares)
def test_a_nest_bears_what_its_springs_bear(nest: list[Curve], share: float) -> None:
    curve = side_by_side(nest)
    length_mm = at(curve, share)
    assert curve.force_N(length_mm) == pytest.approx(sum(one.force_N(length_mm) for one in nest))
    assert curve.end_mm == max(one.end_mm for one in nest)


@steady
@given(rows, separators)
def test_a_row_bends_only_where_one_of_its_springs_does(
    row: list[Curve], separators_mm: float
) -> None:
    own = {force_N for one in row for _, force_N in one.points}
    assert {force_N for _, force_N in in_series(row, separators_mm).points} <= own


@steady
@given(st.lists(springs, min_size=1, max_size=4))
def test_a_nest_bends_only_where_a_spring_begins_to_bear(nest: list[Curve]) -> None:
    own = {one.free_mm for one in nest} | {max(one.end_mm for one in nest)}
    assert {length_mm for length_mm, _ in side_by_side(nest).points} <= own


@steady
@given(st.lists(springs, min_size=1, max_size=4), separators)
def test_a_row_of_single_springs_is_steeper_the_further_it_is_pressed(
    row: list[Curve], separators_mm: float
) -> None:
    points = in_series(row, separators_mm).points
    slopes = [(b[1] - a[1]) / (a[0] - b[0]) for a, b in pairwise(points)]
    assert all(b >= a * (1 - 1e-6) for a, b in pairwise(slopes))


@steady
@given(rows, separators, shares, shares)
def test_energy_is_the_area_that_many_strips_give(
    row: list[Curve], separators_mm: float, one: float, other: float
) -> None:
    curve = in_series(row, separators_mm)
    long_mm, short_mm = (at(curve, share) for share in sorted((one, other), reverse=True))
    count = 400
    step = (long_mm - short_mm) / count
    middles = [short_mm + (n + 0.5) * step for n in range(count)]
    strips_J = sum(curve.force_N(middle) for middle in middles) * step / 1000
    assert curve.energy_J(long_mm, short_mm) == pytest.approx(strips_J, rel=1e-3, abs=1e-6)


@steady
@given(rows, separators, forces, ratios)
def test_scaling_every_length_and_rate_scales_lengths_once_and_forces_twice(
    row: list[Curve], separators_mm: float, force_N: float, scale: float
) -> None:
    larger = [
        Curve(tuple((scale * length, scale**2 * force) for length, force in one.points))
        for one in row
    ]
    one, other = in_series(row, separators_mm), in_series(larger, scale * separators_mm)
    assert other.length_mm(scale**2 * force_N) == pytest.approx(scale * one.length_mm(force_N))


@steady
@given(rows, separators)
def test_shorter_than_all_solid_is_refused(row: list[Curve], separators_mm: float) -> None:
    curve = in_series(row, separators_mm)
    assert curve.force_N(curve.end_mm) == curve.end_force_N
    assert curve.length_mm(2 * curve.end_force_N) == curve.end_mm
    for ask in (curve.force_N, curve.rate_N_per_mm, lambda mm: curve.energy_J(curve.free_mm, mm)):
        with pytest.raises(ValueError, match="less than"):
            ask(curve.end_mm - 1e-6)


def test_a_row_of_no_springs_is_refused() -> None:
    with pytest.raises(ValueError, match="0 springs"):
        in_series([])
    for of_none in (side_by_side, first_to_end):
        with pytest.raises(ValueError, match="no springs"):
            of_none([])


@pytest.mark.parametrize("wrong", [-1.0, NAN])
def test_numbers_out_of_range_are_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="force_N"):
        ROW.length_mm(wrong)
    with pytest.raises(ValueError, match="length_mm"):
        ROW.force_N(wrong)
    with pytest.raises(ValueError, match="length_mm"):
        ROW.rate_N_per_mm(wrong)
    with pytest.raises(ValueError, match="separators_mm"):
        in_series([SOFT], wrong)


@pytest.mark.parametrize(
    ("free_mm", "solid_mm", "rate"), [(10, 10, 1), (9, 10, 1), (10, 0, 1), (10, 5, 0), (10, 5, NAN)]
)
def test_a_spring_without_travel_or_rate_is_refused(
    free_mm: float, solid_mm: float, rate: float
) -> None:
    with pytest.raises(ValueError, match="free_mm"):
        coil(free_mm=free_mm, solid_mm=solid_mm, rate_N_per_mm=rate)


@pytest.mark.parametrize(
    "points",
    [(), ((9.0, 0.0),), ((9, 1), (5, 2)), ((5, 0), (9, 2)), ((9, 0), (5, 0)), ((9, 0), (0, 1))],
)
def test_corners_out_of_order_are_refused(points: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(ValueError, match="Curve"):
        Curve(points)
