"""Speeds, feeds and allowances against printed tables."""

from __future__ import annotations

import pytest

from generator.errors import StandardError
from generator.standards.cutting import (
    CuttingClass,
    CuttingSpeed,
    Feed,
    ReamingAllowance,
)
from generator.standards.rows import Material
from tests.cases import Case, cases

M_PER_FOOT = 0.3048


def feet(cutting_class: object, operation: object, tool: object = "HSS") -> float:
    name = f"{cutting_class}, {operation}, {tool}"
    return CuttingSpeed.find(name).speed_m_per_min / M_PER_FOOT


@pytest.mark.parametrize("case", cases("cutting_speed_feet"), ids=str)
def test_speed_is_the_printed_one(case: Case) -> None:
    assert feet(**case.inputs) == case.published


@pytest.mark.parametrize("case", cases("drilling_speed_bound_feet"), ids=str)
def test_speed_lies_within_what_another_book_prints(case: Case) -> None:
    found = feet(case.inputs["cutting_class"], "drilling")
    if case.inputs["bound"] == "at least":
        assert found >= case.published - 0.5
    else:
        assert found <= case.published + 0.5


@pytest.mark.parametrize("case", cases("drilling_feed_inches"), ids=str)
def test_least_feed_is_the_printed_one(case: Case) -> None:
    row = Feed.near("drilling", case.numbers["diameter_inches"] * 25.4)
    assert row.least_mm_per_rev / 25.4 == case.published


def test_every_material_has_every_speed() -> None:
    for material in Material.rows():
        for operation in ("turning", "drilling", "reaming", "milling"):
            assert CuttingSpeed.of(material.name, operation).speed_m_per_min > 0
        assert CuttingSpeed.of(material.name, "turning", "carbide").speed_m_per_min > 0
    assert len(CuttingClass.rows()) == len(Material.rows())


def test_a_reamer_is_slower_than_a_drill_or_as_fast() -> None:
    for material in Material.rows():
        reaming = CuttingSpeed.of(material.name, "reaming").speed_m_per_min
        assert reaming <= CuttingSpeed.of(material.name, "drilling").speed_m_per_min


def test_carbide_is_faster() -> None:
    for material in Material.rows():
        fast = CuttingSpeed.of(material.name, "turning", "carbide").speed_m_per_min
        assert fast > CuttingSpeed.of(material.name, "turning").speed_m_per_min


def test_a_feed_beyond_the_table_is_the_last_one() -> None:
    assert Feed.near("drilling", 40.0) is Feed.near("drilling", 25.0)
    with pytest.raises(StandardError, match="has no 'boring'; it has drilling"):
        Feed.near("boring", 8.0)


def test_allowances_lie_within_the_general_rule() -> None:
    """A general guide prints 0.1 to 0.3 mm, which is for bores up to 20."""
    for row in ReamingAllowance.rows():
        if row.upto_mm <= 20:
            assert 0.1 <= row.least_mm <= row.greatest_mm <= 0.3
