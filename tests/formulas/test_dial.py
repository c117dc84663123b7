"""Dials: diameter against radius, divisions, and which are divided in inches."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import dial
from generator.units import MM_PER_INCH
from tests.formulas.quantities import NAN, lengths, steady


@steady
@given(st.floats(-20, 20), st.sampled_from([0.005, 0.01, 0.02, 0.05, 0.0254]))
def test_a_diameter_dial_counts_twice_what_a_radius_dial_counts(
    radial_mm: float, division_mm: float
) -> None:
    across, off = (
        dial.divisions(
            reading_mm=dial.reading_mm(radial_mm=radial_mm, reads_diameter=reads),
            division_mm=division_mm,
        )
        for reads in (True, False)
    )
    assert across == pytest.approx(2 * off)
    assert off * division_mm == pytest.approx(radial_mm)


@pytest.mark.parametrize("thousandths", [0.5, 1, 2, 5])
def test_divisions_of_inch_dials_are_known(thousandths: float) -> None:
    assert dial.is_inch(division_mm=thousandths / 1000 * MM_PER_INCH)


@pytest.mark.parametrize("division_mm", [0.005, 0.01, 0.02, 0.025, 0.04, 0.05, 0.1])
def test_divisions_of_metric_dials_are_known(division_mm: float) -> None:
    assert not dial.is_inch(division_mm=division_mm)


@steady
@given(lengths)
def test_a_division_must_be_worth_something(reading_mm: float) -> None:
    with pytest.raises(ValueError, match="division_mm"):
        dial.divisions(reading_mm=reading_mm, division_mm=0.0)
    with pytest.raises(ValueError, match="division_mm"):
        dial.is_inch(division_mm=NAN)
    with pytest.raises(ValueError, match="radial_mm"):
        dial.reading_mm(radial_mm=NAN, reads_diameter=True)
