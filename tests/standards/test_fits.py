"""Fits against sizes printed elsewhere."""

from __future__ import annotations

import math

import pytest

from generator.errors import StandardError
from generator.standards.bands import (
    BarStock,
    GeneralTolerance,
    Reamer,
    ToleranceGrade,
    ToleranceZone,
)
from tests.cases import Case, cases


@pytest.mark.parametrize("case", cases("fit_sizes"), ids=str)
def test_zone_gives_the_printed_size(case: Case) -> None:
    diameter_mm = float(case.inputs["diameter_mm"])
    upper, lower = ToleranceZone.limits_um(str(case.inputs["zone"]), diameter_mm)
    deviation_um = upper if case.inputs["end"] == "upper" else lower
    assert diameter_mm + deviation_um / 1000 == case.published


@pytest.mark.parametrize("case", cases("tolerance_grades"), ids=str)
def test_grade_has_the_printed_width(case: Case) -> None:
    row = ToleranceGrade.at(str(case.inputs["grade"]), float(case.inputs["diameter_mm"]))
    assert row.width_um == case.published


@pytest.mark.parametrize("case", cases("general_tolerances"), ids=str)
def test_general_tolerance_is_the_printed_one(case: Case) -> None:
    row = GeneralTolerance.at(str(case.inputs["grade"]), float(case.inputs["diameter_mm"]))
    assert row.plus_minus_mm == case.published


@pytest.mark.parametrize("case", cases("reamer_limits"), ids=str)
def test_reamer_has_the_printed_limits(case: Case) -> None:
    upper, lower = Reamer.limits_um("H7", float(case.inputs["diameter_mm"]))
    assert (upper if case.inputs["end"] == "upper" else lower) == case.published


@pytest.mark.parametrize("row", ToleranceZone.rows(), ids=lambda row: row.name)
def test_zone_is_as_wide_as_its_grade(row: ToleranceZone) -> None:
    """ISO 286-1: the figure of a zone is its grade; H begins at zero, h ends there."""
    grade = ToleranceGrade.at("IT" + row.zone.lstrip("FGHJSdefghjkms"), row.upto_mm)
    assert row.upper_um - row.lower_um == grade.width_um
    if row.zone.startswith("H"):
        assert row.lower_um == 0
    if row.zone.startswith("h"):
        assert row.upper_um == 0


def test_hole_zones_mirror_shaft_zones() -> None:
    """ISO 286-1: the lower deviation of a hole F or G is that of the shaft f or g, sign changed."""
    for hole, shaft in (("F7", "f7"), ("G7", "g6")):
        for diameter_mm in (3, 6, 10, 18, 30, 50):
            lower = ToleranceZone.limits_um(hole, diameter_mm)[1]
            assert lower == -ToleranceZone.limits_um(shaft, diameter_mm)[0]


@pytest.mark.parametrize("row", Reamer.rows(), ids=lambda row: row.name)
def test_reamer_keeps_the_rule_of_its_standard(row: Reamer) -> None:
    """DIN 1420: hole upper - 0.15 IT, and 0.35 IT less; both shares rounded up to 1 um."""
    width = ToleranceZone.limits_um(row.zone, row.upto_mm)[0]
    upper = width - math.ceil(0.15 * width - 1e-9)
    assert row.upper_um == upper
    assert row.lower_um == upper - math.ceil(0.35 * width - 1e-9)


def test_drill_rod_can_be_over_its_nominal_diameter() -> None:
    """A stockist's table: 4 to 12 mm, plus or minus 0.013."""
    assert BarStock.limits_um("drill rod", 10) == (13, -13)


def test_a_diameter_belongs_to_the_band_that_ends_with_it() -> None:
    """ISO 286-1: over 6 up to and including 10, so 10 has IT7 15 and 10.5 has 18."""
    assert ToleranceZone.limits_um("H7", 10) == (15, 0)
    assert ToleranceZone.limits_um("H7", 10.5) == (18, 0)


def test_messages_name_the_zones_and_the_range() -> None:
    with pytest.raises(StandardError, match=r"has no 'H17'; it has H6, H7, "):
        ToleranceZone.limits_um("H17", 6)
    for diameter_mm in (0.0, 50.1, math.nan):
        with pytest.raises(StandardError, match="H7 is tabulated over 0 mm up to 50 mm"):
            ToleranceZone.limits_um("H7", diameter_mm)


def test_zones_wanted_in_the_shop_are_there() -> None:
    wanted = {"H6", "H7", "H8", "H9", "h6", "h7", "h8", "h9", "h10", "h11", "g6", "f7"}
    assert wanted <= set(ToleranceZone.zones())
