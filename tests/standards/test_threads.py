"""Threads against printed sizes and the formulas of the standards."""

from __future__ import annotations

import math

import pytest

from generator.standards.rows import Thread
from generator.units import MM_PER_INCH
from tests.cases import Case, cases

METRIC = [row for row in Thread.rows() if row.tolerance_class == "6H"]
INCH = [row for row in Thread.rows() if row.tolerance_class == "2B"]
every_thread = pytest.mark.parametrize("row", Thread.rows(), ids=lambda row: row.name)


@pytest.mark.parametrize("case", cases("thread_sizes"), ids=str)
def test_metric_sizes_are_the_printed_ones(case: Case) -> None:
    row = Thread.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) == case.published


@pytest.mark.parametrize("case", cases("thread_inches"), ids=str)
def test_inch_sizes_are_the_printed_ones(case: Case) -> None:
    row = Thread.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) / MM_PER_INCH == case.published


@pytest.mark.parametrize("case", cases("thread_minor_tolerance"), ids=str)
def test_minor_limits_lie_one_tolerance_apart(case: Case) -> None:
    rows = [row for row in METRIC if row.pitch_mm == case.inputs["pitch_mm"]]
    assert rows
    for row in rows:
        assert 1000 * (row.minor_greatest_mm - row.minor_least_mm) == case.published


def test_every_metric_pitch_has_a_published_tolerance() -> None:
    published = {case.inputs["pitch_mm"] for case in cases("thread_minor_tolerance")}
    assert {row.pitch_mm for row in METRIC} - published == {0.25}


@every_thread
def test_basic_sizes_follow_from_major_diameter_and_pitch(row: Thread) -> None:
    """ISO 724 and ASME B1.1: D2 = D - 3/4 H, D1 = D - 5/4 H, H = sqrt(3)/2 P."""
    height_mm = math.sqrt(3) / 2 * row.pitch_mm
    assert row.pitch_diameter_mm == pytest.approx(row.major_mm - 0.75 * height_mm, abs=0.0006)
    assert row.minor_mm == pytest.approx(row.major_mm - 1.25 * height_mm, abs=0.0006)


@every_thread
def test_name_tells_diameter_and_pitch(row: Thread) -> None:
    if row.tolerance_class == "6H":
        diameter, _, pitch = row.name.removeprefix("M").partition("x")
        assert row.major_mm == float(diameter)
        assert row.series == ("fine" if pitch else "coarse")
        assert row.pitch_mm == float(pitch or row.pitch_mm)
    else:
        size, _, rest = row.name.partition("-")
        per_inch, _, series = rest.partition(" ")
        if size.startswith("#"):
            inches = 0.060 + 0.013 * int(size[1:])  # ASME B1.1: numbered sizes
        else:
            above, _, below = size.partition("/")
            inches = int(above) / int(below or 1)
        assert row.series == series
        assert row.major_mm == pytest.approx(inches * MM_PER_INCH, abs=5e-5)
        assert row.pitch_mm == pytest.approx(MM_PER_INCH / int(per_inch), abs=1e-6)


@pytest.mark.parametrize("row", INCH, ids=lambda row: row.name)
def test_class_2b_minor_limits_follow_the_formula(row: Thread) -> None:
    """ASME B1.1, internal minor diameter tolerance 2B; formula from memory, unverified.

    From 1/4 in up 0.25 P - 0.4 P^2; below it 0.05 P^(2/3) + 0.03 P/D - 0.002, no less than
    the former and no more than 0.394 P. The standard prints thousandths, and ten thousandths
    up to No. 5.
    """
    pitch, major = row.pitch_mm / MM_PER_INCH, row.major_mm / MM_PER_INCH
    tolerance = 0.25 * pitch - 0.4 * pitch**2
    if major < 0.25:
        small = 0.05 * pitch ** (2 / 3) + 0.03 * pitch / major - 0.002
        tolerance = max(min(small, 0.394 * pitch), tolerance)
    least = row.minor_mm / MM_PER_INCH
    assert row.minor_least_mm / MM_PER_INCH == pytest.approx(least, abs=0.00055)
    assert row.minor_greatest_mm / MM_PER_INCH == pytest.approx(least + tolerance, abs=0.00055)


@every_thread
def test_the_tapping_drill_leaves_a_hole_near_the_limits(row: Thread) -> None:
    """A drill may be under the least minor diameter by the little that it cuts oversize.

    Two customary drills in 64ths, for 9/16-18 and 5/8-18, lie above class 2B by less than 0.02.
    """
    assert row.minor_least_mm - 0.06 <= row.tapping_drill_mm <= row.minor_greatest_mm + 0.02
