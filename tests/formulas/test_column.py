"""Columns and propped beams against textbook problems and tables of beams."""

from __future__ import annotations

from math import pi, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import column
from tests.cases import Case, cases
from tests.formulas.quantities import NAN, lengths, steady


@pytest.mark.parametrize("case", cases("column_critical"), ids=str)
def test_critical_load_is_the_published_one(case: Case) -> None:
    assert column.critical_load_N(**case.numbers) == case.published


@pytest.mark.parametrize("case", cases("pipe_second_moment"), ids=str)
def test_second_moment_of_a_pipe_is_the_published_one(case: Case) -> None:
    outside, inside = (
        column.second_moment_mm4(diameter_mm=case.numbers[key])
        for key in ("outside_mm", "inside_mm")
    )
    assert outside - inside == case.published


@pytest.mark.parametrize("case", cases("propped_moment"), ids=str)
def test_moment_of_a_propped_beam_is_the_published_one(case: Case) -> None:
    found = column.propped_moment_Nm(force_N=1, **case.numbers)
    assert found == case.published


def test_the_end_condition_is_the_root_of_tan_x_is_x() -> None:
    """Hibbeler, Mechanics of Materials, problem on a fixed and pinned column: 20.19 EI / L^2."""
    x = column.FIXED_AND_PINNED
    assert tan(x) == pytest.approx(x)
    assert pi < x < 1.5 * pi
    assert column.critical_load_N(second_moment_mm4=1, length_mm=1, modulus_MPa=1) == pytest.approx(
        20.19, abs=0.005
    )


@steady
@given(lengths, lengths)
def test_a_prop_leaves_no_deflection_at_itself(a_mm: float, b_mm: float) -> None:
    """The reaction that lifts a cantilever's end back, R L^3/3 = P a^2 (3L - a)/6, by moments."""
    length_mm = a_mm + b_mm
    reaction = a_mm**2 * (3 * length_mm - a_mm) / (2 * length_mm**3)
    moment = a_mm - reaction * length_mm
    found = column.propped_moment_Nm(force_N=1000, from_fixed_mm=a_mm, from_prop_mm=b_mm)
    assert found == pytest.approx(moment, rel=1e-6, abs=1e-9 * length_mm)


@steady
@given(lengths)
def test_a_force_at_either_end_bends_nothing(length_mm: float) -> None:
    for a_mm, b_mm in ((0.0, length_mm), (length_mm, 0.0)):
        assert column.propped_moment_Nm(force_N=9, from_fixed_mm=a_mm, from_prop_mm=b_mm) == 0


@steady
@given(lengths, lengths, st.floats(1.1, 10))
def test_load_scales_with_section_and_length(
    diameter_mm: float, length_mm: float, scale: float
) -> None:
    """I goes with the fourth power of size, L^2 with the second: the load with the second."""
    small, large = (
        column.critical_load_N(
            second_moment_mm4=column.second_moment_mm4(diameter_mm=size * diameter_mm),
            length_mm=size * length_mm,
            modulus_MPa=206e3,
        )
        for size in (1.0, scale)
    )
    assert large == pytest.approx(scale**2 * small)


@pytest.mark.parametrize("wrong", [-1.0, NAN])
def test_senseless_numbers_are_refused(wrong: float) -> None:
    with pytest.raises(ValueError, match="diameter_mm"):
        column.second_moment_mm4(diameter_mm=wrong)
    good = {"second_moment_mm4": 1.0, "length_mm": 1.0, "modulus_MPa": 1.0}
    for name in good:
        with pytest.raises(ValueError, match=name):
            column.critical_load_N(**{**good, name: wrong})
    beam = {"force_N": 1.0, "from_fixed_mm": 1.0, "from_prop_mm": 1.0}
    for name in beam:
        with pytest.raises(ValueError, match=name):
            column.propped_moment_Nm(**{**beam, name: wrong})
    with pytest.raises(ValueError, match="from_prop_mm"):
        column.propped_moment_Nm(force_N=1, from_fixed_mm=0, from_prop_mm=0)
