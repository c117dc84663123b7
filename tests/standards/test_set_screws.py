"""Set screws against tables printed elsewhere."""

from __future__ import annotations

import pytest

from generator.errors import StandardError
from generator.standards.rows import SetScrew, Thread
from generator.units import MM_PER_INCH
from tests.cases import Case, cases

every_screw = pytest.mark.parametrize("row", SetScrew.rows(), ids=lambda row: row.name)


@pytest.mark.parametrize("case", cases("set_screw_metric"), ids=str)
def test_metric_points_are_the_printed_ones(case: Case) -> None:
    row = SetScrew.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) == case.published


@pytest.mark.parametrize("case", cases("set_screw_inches"), ids=str)
def test_inch_points_are_the_printed_ones(case: Case) -> None:
    row = SetScrew.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) / MM_PER_INCH == case.published


@pytest.mark.parametrize("case", cases("set_screw_dog"), ids=str)
def test_short_dog_has_the_printed_mean_length(case: Case) -> None:
    row = SetScrew.find(str(case.inputs["name"]))
    assert (row.short_dog_least_mm + row.short_dog_greatest_mm) / 2 == case.published


@every_screw
def test_screw_is_named_by_a_thread_that_its_points_pass(row: SetScrew) -> None:
    thread = Thread.find(row.name)
    points = (row.flat_greatest_mm, row.cup_greatest_mm, row.dog_greatest_mm)
    assert max(points) < thread.minor_mm
    assert row.hexagon_mm < thread.minor_mm


@every_screw
def test_limits_are_in_order(row: SetScrew) -> None:
    assert row.flat_least_mm < row.flat_greatest_mm
    assert row.cup_least_mm < row.cup_greatest_mm
    assert row.dog_least_mm < row.dog_greatest_mm
    assert row.short_dog_least_mm < row.short_dog_greatest_mm
    if row.long_dog_least_mm is not None and row.long_dog_greatest_mm is not None:
        assert row.short_dog_greatest_mm <= row.long_dog_least_mm < row.long_dog_greatest_mm


def test_lengths_part_at_the_last_short_dog() -> None:
    """ISO 4028: M4 has the short dog at 5 and 6, the long one from 8 to 20."""
    row = SetScrew.find("M4")
    assert row.lengths_mm("dog short") == (5, 6)
    assert row.lengths_mm("dog long") == (8, 10, 12, 16, 20)
    assert row.lengths_mm("cup") == (4, 5, 6, 8, 10, 12, 16, 20)


@every_screw
def test_lengths_rise_and_keep_to_their_ends(row: SetScrew) -> None:
    for point in SetScrew.POINTS:
        try:
            lengths = row.lengths_mm(point)
        except StandardError:
            assert not row.name.startswith("M")
            assert point in ("dog long", "cone")
            continue
        assert lengths
        assert list(lengths) == sorted(set(lengths))
        longest = row.dog_longest_mm if point.startswith("dog") else row.flat_cone_cup_longest_mm
        assert point == "dog short" or lengths[-1] == longest


def test_an_inch_screw_says_which_points_it_has() -> None:
    row = SetScrew.find("#8-32 UNC")
    message = r"#8-32 UNC has no point 'dog long'; it has dog short, cup, flat$"
    with pytest.raises(StandardError, match=message):
        row.lengths_mm("dog long")
    with pytest.raises(StandardError, match=message):
        _ = row.dog_long_least_mm
    with pytest.raises(StandardError, match="no point 'oval'"):
        SetScrew.find("M4").tip_mm("oval")


def test_a_tip_is_taken_at_its_greatest() -> None:
    """ISO 4026 to 4029, M5: flat and dog 3.5, cup 2.5."""
    row = SetScrew.find("M5")
    tips = {point: row.tip_mm(point) for point in SetScrew.POINTS}
    assert (tips["flat"], tips["dog short"], tips["dog long"], tips["cup"]) == (3.5, 3.5, 3.5, 2.5)
