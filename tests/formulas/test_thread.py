"""Threads against printed sizes and tapping drill charts."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import thread
from generator.units import MM_PER_INCH
from tests.cases import Case, cases
from tests.formulas.quantities import NAN, ratios, steady

pitches = st.floats(0.2, 4.0)


@pytest.mark.parametrize("case", cases("thread_basic_minor"), ids=str)
def test_minor_diameter_is_the_published_one(case: Case) -> None:
    assert thread.basic_minor_mm(**case.numbers) == case.published


@pytest.mark.parametrize("case", cases("thread_basic_pitch_diameter"), ids=str)
def test_pitch_diameter_is_the_published_one(case: Case) -> None:
    assert thread.basic_pitch_diameter_mm(**case.numbers) == case.published


@pytest.mark.parametrize("case", cases("thread_percent_inches"), ids=str)
def test_percent_of_thread_is_the_published_one(case: Case) -> None:
    percent = thread.percent_of_thread(
        major_mm=case.numbers["major_in"] * MM_PER_INCH,
        hole_mm=case.numbers["hole_in"] * MM_PER_INCH,
        pitch_mm=MM_PER_INCH / case.numbers["threads_per_in"],
    )
    assert percent == case.published


@pytest.mark.parametrize("case", cases("thread_basic_minor"), ids=str)
def test_a_hole_at_the_published_minor_diameter_leaves_the_full_height(case: Case) -> None:
    percent = thread.height_percent(**case.numbers, hole_mm=float(case.published))
    assert percent == pytest.approx(100, abs=0.1)


@steady
@given(pitches, st.floats(0.01, 0.99))
def test_the_two_ways_of_counting_are_five_to_six(pitch_mm: float, share: float) -> None:
    major_mm = 8 * pitch_mm
    sizes = {"major_mm": major_mm, "hole_mm": share * major_mm, "pitch_mm": pitch_mm}
    height, charted = thread.height_percent(**sizes), thread.percent_of_thread(**sizes)
    assert charted == pytest.approx(height * 5 / 6)


@steady
@given(pitches, ratios)
def test_scaling_a_thread_keeps_its_height(pitch_mm: float, scale: float) -> None:
    small, large = (
        thread.height_percent(
            major_mm=6 * size * pitch_mm, hole_mm=5 * size * pitch_mm, pitch_mm=size * pitch_mm
        )
        for size in (1.0, scale)
    )
    assert large == pytest.approx(small)


@steady
@given(pitches, st.floats(0.0, 100.0))
def test_turns_times_pitch_is_the_length(pitch_mm: float, length_mm: float) -> None:
    assert thread.turns(length_mm=length_mm, pitch_mm=pitch_mm) * pitch_mm == pytest.approx(
        length_mm
    )


def test_a_hole_as_large_as_the_thread_leaves_none() -> None:
    assert thread.height_percent(major_mm=6, hole_mm=6, pitch_mm=1) == 0
    assert thread.height_percent(major_mm=6, hole_mm=7, pitch_mm=1) < 0


@pytest.mark.parametrize(
    ("major_mm", "pitch_mm"), [(6, 0), (6, -1), (1, 1), (0, 1), (NAN, 1), (6, NAN)]
)
def test_a_thread_that_cannot_be_is_refused(major_mm: float, pitch_mm: float) -> None:
    with pytest.raises(ValueError, match="pitch_mm"):
        thread.basic_minor_mm(major_mm=major_mm, pitch_mm=pitch_mm)
    with pytest.raises(ValueError, match="pitch_mm"):
        thread.basic_pitch_diameter_mm(major_mm=major_mm, pitch_mm=pitch_mm)
    with pytest.raises(ValueError, match="pitch_mm"):
        thread.height_percent(major_mm=major_mm, hole_mm=0.5, pitch_mm=pitch_mm)
    with pytest.raises(ValueError, match="pitch_mm"):
        thread.percent_of_thread(major_mm=major_mm, hole_mm=0.5, pitch_mm=pitch_mm)


@pytest.mark.parametrize("hole_mm", [0.0, -1.0, NAN])
def test_a_hole_must_be_positive(hole_mm: float) -> None:
    with pytest.raises(ValueError, match="hole_mm"):
        thread.height_percent(major_mm=6, hole_mm=hole_mm, pitch_mm=1)


@pytest.mark.parametrize(("length_mm", "pitch_mm"), [(-1, 1), (1, 0), (NAN, 1), (1, NAN)])
def test_turns_refuse_what_cannot_be(length_mm: float, pitch_mm: float) -> None:
    with pytest.raises(ValueError, match="pitch_mm"):
        thread.turns(length_mm=length_mm, pitch_mm=pitch_mm)
