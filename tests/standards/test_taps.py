"""Taps against catalogues other than those they were tabulated from."""

from __future__ import annotations

import pytest

from generator.standards.rows import Tap
from generator.units import MM_PER_INCH
from tests.cases import Case, cases

every_tap = pytest.mark.parametrize("row", Tap.rows(), ids=lambda row: row.name)


@pytest.mark.parametrize("case", cases("tap_sizes"), ids=str)
def test_metric_taps_are_the_printed_ones(case: Case) -> None:
    row = Tap.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) == case.published


@pytest.mark.parametrize("case", cases("tap_inches"), ids=str)
def test_inch_taps_are_the_printed_ones(case: Case) -> None:
    row = Tap.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) / MM_PER_INCH == case.published


@every_tap
def test_square_suits_the_shank(row: Tap) -> None:
    """JIS B 4002:1998 against ISO 237: square over shank 0.75 to 0.85.

    The handbook's inch squares and DIN 10 keep to it but for the rounding of small sizes.
    """
    assert 0.745 <= row.square_mm / row.shank_mm <= 0.855


@every_tap
def test_name_is_standard_and_size(row: Tap) -> None:
    assert row.name == f"{row.standard} {row.size}"
    assert row.thread in (row.size, f"{row.size} UNC", f"{row.size} UNF")


@every_tap
def test_lengths_are_in_order(row: Tap) -> None:
    assert row.square_length_mm + row.thread_length_mm < row.overall_mm
    assert row.tapping_drill_mm < row.major_mm
    assert row.major_mm - row.pitch_mm == pytest.approx(row.tapping_drill_mm, abs=0.35)


@every_tap
def test_ends_are_of_the_known_forms(row: Tap) -> None:
    assert row.shank_ends
    assert set(row.shank_ends) <= {"point", "centre", "bevel"}


@pytest.mark.parametrize("row", [r for r in Tap.rows() if r.standard in ("DIN 352", "DIN 371")])
def test_no_point_on_the_square_of_a_din_tap_from_8_mm(row: Tap) -> None:
    """DIN 2197, as printed in a tool catalogue (p. 363)."""
    assert ("point" in row.shank_ends) == (row.major_mm <= 7)
    assert ("centre" in row.shank_ends) == (row.major_mm >= 7)


def test_blank_designs_of_inch_taps() -> None:
    """ASME B94.9, figures of the blanks: external centres to 0.223 in, internal over 0.395 in."""
    ends = {row.size: row.shank_ends for row in Tap.rows() if row.standard == "ASME B94.9"}
    assert ends["#10-32"] == ("point",)
    assert ends["1/2-13"] == ("centre",)
