"""Strength and expansion of work against the textbook, and its growth against a worked example."""

from __future__ import annotations

import pytest

from generator.formulas import expansion
from generator.standards.rows import CentreHole, WorkMaterial, WorkProperties
from tests.cases import Case, cases


@pytest.mark.parametrize("case", cases("work_properties"), ids=str)
def test_figures_are_the_printed_ones(case: Case) -> None:
    row = WorkProperties.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) == case.published


@pytest.mark.parametrize("case", cases("thermal_growth"), ids=str)
def test_growth_is_the_published_growth(case: Case) -> None:
    assert expansion.growth_mm(**case.numbers) == case.published


def test_whatever_is_cut_can_be_touched_and_held() -> None:
    assert {row.name for row in WorkProperties.rows()} == {row.name for row in WorkMaterial.rows()}


def test_steels_expand_as_handbooks_say() -> None:
    """11 to 12 millionths a kelvin for steel; a quarter of either side for its alloys."""
    steels = [row for row in WorkProperties.rows() if "steel" in row.name]
    plain = [row for row in steels if "carbon" in row.name]
    assert len(plain) == 3
    assert all(11 <= row.expansion_um_per_m_K <= 12 for row in plain)
    assert all(10 <= row.expansion_um_per_m_K <= 17.5 for row in steels)


@pytest.mark.parametrize("hole", CentreHole.rows(), ids=lambda hole: str(hole.name))
def test_centre_holes_are_alike(hole: CentreHole) -> None:
    """The mouth is 2.12 times the pilot, but for rounding, and the pilot goes below the cone."""
    assert hole.name == f"A{hole.pilot_mm:g}"
    assert hole.mouth_mm == pytest.approx(2.12 * hole.pilot_mm, rel=0.015)
    cone_mm = (hole.mouth_mm - hole.pilot_mm) / 2 / 0.57735
    assert 0.85 < (hole.depth_mm - cone_mm) / hole.pilot_mm < 1
