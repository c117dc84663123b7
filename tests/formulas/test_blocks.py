"""Stacks of gauge blocks against printed ones, and against every combination."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import blocks
from generator.standards.gauge_blocks import PARTS, GaugeBlockSet
from tests.cases import Case, cases
from tests.formulas.quantities import steady

HEAPS = st.lists(st.integers(1, 60), min_size=1, max_size=9, unique=True)


@pytest.mark.parametrize("case", cases("gauge_block_stacks"), ids=str)
def test_stack_is_no_taller_a_heap_than_the_published_one(case: Case) -> None:
    """Exact, from the same set, and of no more blocks than the published stack."""
    known = GaugeBlockSet.find(str(case.inputs["set"])).blocks
    wanted = round(float(case.inputs["height"]) * PARTS)
    published = [round(float(part) * PARTS) for part in str(case.inputs["blocks"]).split("+")]
    assert sum(published) == wanted
    assert set(published) <= set(known)
    found = blocks.stack(wanted, known)
    assert sum(found) == wanted
    assert len(set(found)) == len(found) <= len(published)
    assert set(found) <= set(known)


@pytest.mark.parametrize(("name", "count"), [("47-piece", 47), ("88-piece", 88), ("81-piece", 81)])
def test_a_set_has_as_many_blocks_as_its_name_says(name: str, count: int) -> None:
    assert len(set(GaugeBlockSet.find(name).blocks)) == count


@steady
@given(HEAPS, st.integers(1, 200))
def test_stack_is_the_best_of_all_combinations(heap: list[int], height: int) -> None:
    best: tuple[int, ...] = ()
    for count in range(1, blocks.MOST + 1):
        whole = list(combinations(sorted(heap, reverse=True), count))
        exact = [each for each in whole if sum(each) == height]
        if exact:
            best = max(exact)
            break
    assert blocks.stack(height, heap) == best


@steady
@given(HEAPS, st.floats(1, 200), st.integers(0, 12))
def test_nearest_stack_is_as_near_as_any(heap: list[int], height: float, within: int) -> None:
    found = blocks.nearest_stack(height, heap, within)
    off = [
        abs(sum(each) - height)
        for count in range(1, blocks.MOST + 1)
        for each in combinations(heap, count)
    ]
    near = min((each for each in off if each <= within), default=None)
    if near is None:
        assert found == ()
    else:
        assert abs(sum(found) - height) == pytest.approx(near)


@pytest.mark.parametrize("wrong", [(0, 5), (3, 3), (-1,)])
def test_blocks_are_different_and_above_zero(wrong: tuple[int, ...]) -> None:
    with pytest.raises(ValueError, match="blocks"):
        blocks.stack(5, wrong)
