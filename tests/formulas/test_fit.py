"""Clearances against printed fits; tilt and tip error against the lines they come from."""

from __future__ import annotations

from math import radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import fit
from tests.cases import Case, cases
from tests.formulas.quantities import NAN, lengths, ratios, steady

clearances = st.floats(0.0, 200.0)


@pytest.mark.parametrize("case", cases("fit_least_clearance"), ids=str)
def test_least_clearance_is_the_published_one(case: Case) -> None:
    assert fit.least_clearance_um(**case.numbers) == case.published


@pytest.mark.parametrize("case", cases("fit_greatest_clearance"), ids=str)
def test_greatest_clearance_is_the_published_one(case: Case) -> None:
    assert fit.greatest_clearance_um(**case.numbers) == case.published


def test_a_bar_a_hundredth_under_size_adds_ten_micrometres() -> None:
    assert fit.least_clearance_um(
        hole_lower_um=0, shaft_upper_um=0, nominal_difference_mm=0.01
    ) == pytest.approx(10)
    assert fit.greatest_clearance_um(
        hole_upper_um=15, shaft_lower_um=-22, nominal_difference_mm=0.01
    ) == pytest.approx(47)


def test_interference_is_a_negative_clearance() -> None:
    assert fit.least_clearance_um(hole_lower_um=0, shaft_upper_um=13) == -13


@steady
@given(clearances, lengths, lengths)
def test_tip_error_is_where_the_tilted_axis_comes_out(
    clearance_um: float, guide_mm: float, projection_mm: float
) -> None:
    """The axis runs from half the clearance low at the rear to half of it high at the mouth."""
    slope = tan(radians(fit.tilt_deg(clearance_um=clearance_um, guide_mm=guide_mm)))
    tip_um = -clearance_um / 2 + 1000 * slope * (guide_mm + projection_mm)
    error_um = fit.tip_error_um(
        clearance_um=clearance_um, projection_mm=projection_mm, guide_mm=guide_mm
    )
    assert error_um == pytest.approx(tip_um)


@steady
@given(clearances, lengths, ratios)
def test_scaling_guide_and_clearance_keeps_the_tilt(
    clearance_um: float, guide_mm: float, scale: float
) -> None:
    tilt_deg = fit.tilt_deg(clearance_um=clearance_um, guide_mm=guide_mm)
    assert fit.tilt_deg(
        clearance_um=scale * clearance_um, guide_mm=scale * guide_mm
    ) == pytest.approx(tilt_deg)


def test_no_clearance_is_no_error() -> None:
    assert fit.tilt_deg(clearance_um=0, guide_mm=30) == 0
    assert fit.tip_error_um(clearance_um=0, projection_mm=15, guide_mm=30) == 0


@pytest.mark.parametrize(
    ("clearance_um", "projection_mm", "guide_mm"),
    [(-1, 15, 30), (20, -1, 30), (20, 15, 0), (NAN, 15, 30), (20, NAN, 30), (20, 15, NAN)],
)
def test_tip_error_refuses_what_cannot_be(
    clearance_um: float, projection_mm: float, guide_mm: float
) -> None:
    with pytest.raises(ValueError, match="_"):
        fit.tip_error_um(clearance_um=clearance_um, projection_mm=projection_mm, guide_mm=guide_mm)


@pytest.mark.parametrize(("clearance_um", "guide_mm"), [(-1, 30), (20, 0), (NAN, 30), (20, NAN)])
def test_tilt_refuses_what_cannot_be(clearance_um: float, guide_mm: float) -> None:
    with pytest.raises(ValueError, match="guide_mm"):
        fit.tilt_deg(clearance_um=clearance_um, guide_mm=guide_mm)


def test_clearance_refuses_what_is_no_number() -> None:
    with pytest.raises(ValueError, match="nan"):
        fit.least_clearance_um(hole_lower_um=NAN, shaft_upper_um=0)
    with pytest.raises(ValueError, match="nan"):
        fit.greatest_clearance_um(hole_upper_um=0, shaft_lower_um=0, nominal_difference_mm=NAN)
