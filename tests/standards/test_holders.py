"""Collets and drill chucks against tables printed elsewhere."""

from __future__ import annotations

from itertools import pairwise

import pytest

from generator.errors import StandardError
from generator.standards.holders import ColletRunout, DrillChuck, ErCollet
from generator.units import MM_PER_INCH
from tests.cases import Case, cases

every_collet = pytest.mark.parametrize("row", ErCollet.rows(), ids=lambda row: str(row.name))


@pytest.mark.parametrize("case", cases("er_collets"), ids=str)
def test_collets_are_the_printed_ones(case: Case) -> None:
    row = ErCollet.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) == case.published


@pytest.mark.parametrize("case", cases("er_nut_threads"), ids=str)
def test_nut_has_the_printed_thread(case: Case) -> None:
    row = ErCollet.find(str(case.inputs["name"]))
    assert row.nut_thread == f"M{case.published:g}x{case.inputs['pitch_mm']:g}"


@every_collet
def test_shank_passes_bore_seat_and_nut_in_turn(row: ErCollet) -> None:
    major_mm, pitch_mm = (float(part) for part in row.nut_thread.removeprefix("M").split("x"))
    assert row.name == f"ER{row.seat_mm:g}"
    assert row.clamp_least_mm < row.clamp_greatest_mm < row.seat_mm
    assert row.bore_mm is None or row.clamp_greatest_mm < row.bore_mm < row.seat_mm
    assert row.seat_mm < major_mm - 1.22687 * pitch_mm


def test_a_larger_collet_grips_larger_shanks() -> None:
    for one, other in pairwise(ErCollet.rows()):
        assert one.clamp_least_mm <= other.clamp_least_mm
        assert one.clamp_greatest_mm < other.clamp_greatest_mm


@pytest.mark.parametrize("case", cases("collet_runouts"), ids=str)
def test_run_out_is_the_printed_one(case: Case) -> None:
    row = ColletRunout.at("ISO 15488", float(case.inputs["diameter_mm"]))
    assert getattr(row, str(case.inputs["field"])) == case.published


def test_run_out_reaches_from_one_millimetre_to_the_largest_collet() -> None:
    largest_mm = max(row.clamp_greatest_mm for row in ErCollet.rows())
    assert ColletRunout.at("ISO 15488", largest_mm).upto_mm == largest_mm
    with pytest.raises(StandardError, match="tabulated over 1 mm up to 26 mm"):
        ColletRunout.at("ISO 15488", largest_mm + 1)


@pytest.mark.parametrize("row", ColletRunout.rows(), ids=lambda row: str(row.name))
def test_class_1_runs_truer_and_is_measured_two_to_six_diameters_out(row: ColletRunout) -> None:
    assert row.class_1_mm < row.class_2_mm
    assert 1.9 < row.overhang_mm / row.upto_mm < 6.1


@pytest.mark.parametrize("case", cases("drill_chuck_inches"), ids=str)
def test_capacity_is_the_printed_one_to_half_a_millimetre(case: Case) -> None:
    row = DrillChuck.find(str(case.inputs["name"]))
    inches_mm = float(case.published) * MM_PER_INCH
    assert row.clamp_greatest_mm == pytest.approx(inches_mm, abs=0.5)


def test_a_drill_chuck_is_named_by_its_capacity_and_tested_with_a_longer_bar_if_larger() -> None:
    rows = DrillChuck.rows()
    assert all(row.name == f"{row.clamp_greatest_mm:g} mm" for row in rows)
    assert all(one.bar_mm < other.bar_mm for one, other in pairwise(rows))


def test_a_worn_chuck_begins_where_an_ordinary_one_ends() -> None:
    """An article on drill chucks: keyless 0.002 to 0.005 in, worn 0.005 to 0.015 in."""
    inches = (*DrillChuck.RUNOUT_MM, *DrillChuck.WORN_RUNOUT_MM)
    assert [round(mm / MM_PER_INCH, 3) for mm in inches] == [0.002, 0.005, 0.005, 0.015]
