"""Steps of a cone against the printed taper and the outline it is read off."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.making.stepping import step_loss_mm, step_table
from generator.model.outline import Corner, Segment
from tests.cases import Printed
from tests.formulas.quantities import steady
from tests.tools import tool

TAPER = tool().body.outline.surface("taper")
GAUGE_MM = tool().body.outline.plane_mm("gauge plane")


def test_steps_of_a_no_2_morse() -> None:
    """D - C z of 0.59941 in per foot from 17.780 mm, worked by hand; 14.58 is in ISO 296."""
    rows = step_table(
        TAPER,
        datum_mm=GAUGE_MM,
        step_mm=16,
        rough_allowance_mm=0.5,
        start_mm=GAUGE_MM,
        end_mm=GAUGE_MM + 64,
    )
    assert [row.z_mm for row in rows] == pytest.approx([0, 16, 32, 48, 64])
    for row, size in zip(rows, ("17.780", "16.981", "16.182", "15.382", "14.583"), strict=True):
        assert row.finish_mm == Printed(size)
        assert row.rough_mm == pytest.approx(row.finish_mm + 0.5)
    assert step_loss_mm(TAPER, 8) == Printed("0.40")


@steady
@given(
    st.floats(0.5, 20), st.floats(0, 20), st.floats(2, 90), st.floats(0.3, 30), st.floats(-50, 50)
)
def test_steps_lie_on_the_run_and_end_at_its_ends(
    first_mm: float, last_mm: float, length_mm: float, step_mm: float, datum_mm: float
) -> None:
    run = Segment(Corner(10.0, first_mm), Corner(10.0 + length_mm, last_mm, "cone"))
    rows = step_table(run, datum_mm=datum_mm, step_mm=step_mm, rough_allowance_mm=0.2)
    assert rows[0].z_mm + datum_mm == pytest.approx(10.0)
    assert rows[-1].z_mm + datum_mm == pytest.approx(10.0 + length_mm)
    assert rows[-1].finish_mm == pytest.approx(2 * last_mm, abs=1e-6)
    for before, after in pairwise(rows):
        assert before.z_mm < after.z_mm <= before.z_mm + 1.25 * step_mm + 1e-6
    for row in rows:
        share = (row.z_mm + datum_mm - 10.0) / length_mm
        size_mm = 2 * (first_mm + share * (last_mm - first_mm))
        assert row.finish_mm == pytest.approx(size_mm, abs=1e-6)


def test_a_cylinder_has_one_diameter() -> None:
    run = Segment(Corner(0.0, 8.0), Corner(20.0, 8.0, "shank"))
    rows = step_table(run, datum_mm=0, step_mm=5, rough_allowance_mm=0)
    assert {row.finish_mm for row in rows} == {16.0}
    assert step_loss_mm(run, 5) == 0


@pytest.mark.parametrize(
    "wrong", [{"step_mm": 0}, {"rough_allowance_mm": -1}, {"end_mm": -5}, {"end_mm": 900}]
)
def test_what_cannot_be_stepped_is_refused(wrong: dict[str, float]) -> None:
    usual = {"datum_mm": 0.0, "step_mm": 8.0, "rough_allowance_mm": 0.5}
    with pytest.raises(ValueError, match="_mm"):
        step_table(TAPER, **{**usual, **wrong})
    face = Segment(Corner(0.0, 1.0), Corner(0.0, 8.0, "face"))
    with pytest.raises(ValueError, match="length_mm"):
        step_table(face, **usual)
