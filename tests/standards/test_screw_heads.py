"""Heads and clearance holes against printed charts other than those they came from."""

from __future__ import annotations

import pytest

from generator.standards.rows import ScrewHead, Thread
from tests.cases import Case, cases


@pytest.mark.parametrize("case", cases("screw_heads"), ids=str)
def test_metric_head_is_the_printed_one(case: Case) -> None:
    assert ScrewHead.find(str(case.inputs["name"])).head_mm == case.published


@pytest.mark.parametrize("case", cases("screw_head_inches"), ids=str)
def test_inch_head_is_the_printed_one(case: Case) -> None:
    name = f"{case.inputs['name']}".removesuffix(".0")
    assert ScrewHead.find(name).head_mm / 25.4 == case.published


@pytest.mark.parametrize("case", cases("clearance_holes"), ids=str)
def test_metric_clearance_hole_is_the_printed_one(case: Case) -> None:
    assert ScrewHead.find(str(case.inputs["name"])).hole_mm == case.published


@pytest.mark.parametrize("case", cases("clearance_drills_metric"), ids=str)
def test_inch_clearance_drill_has_the_printed_metric_one_beside_it(case: Case) -> None:
    """The nearest metric drill in a series of tenths to halves: within a quarter millimetre."""
    name = f"{case.inputs['name']}".removesuffix(".0")
    assert ScrewHead.find(name).hole_mm == pytest.approx(float(case.published), abs=0.3)


@pytest.mark.parametrize("row", ScrewHead.rows(), ids=lambda row: str(row.name))
def test_screw_passes_its_hole_and_not_its_head(row: ScrewHead) -> None:
    majors = {each.major_mm for each in Thread.rows() if ScrewHead.of(each.name) is row}
    assert len(majors) == 1
    assert majors.pop() < row.hole_mm < row.head_mm


def test_fine_and_coarse_threads_have_one_head_and_odd_sizes_none() -> None:
    assert ScrewHead.of("M8x1") is ScrewHead.of("M8") is not None
    assert ScrewHead.of("1/4-28 UNF") is ScrewHead.of("1/4-20 UNC") is not None
    for name in ("M3.5", "#12-24 UNC", "9/16-12 UNC"):
        assert Thread.find(name)
        assert ScrewHead.of(name) is None
