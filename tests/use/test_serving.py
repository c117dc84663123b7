"""Which taps share a spring, and the spring that would serve more of them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.checks.finding import Verdict
from generator.checks.run import run_checks
from generator.formulas import spring
from generator.use import serving
from generator.use.serving import serving_spring
from generator.use.sharing import ONE_HAND, TWO_HANDS, apart, floor_N, ranges
from generator.use.windows import windows
from tests.strategies import near_changes
from tests.tools import tool
from tests.use.test_windows import TAPS, near

CHOSEN = st.lists(st.sampled_from(TAPS), min_size=1, max_size=8, unique_by=str)
HANDS = (ONE_HAND, TWO_HANDS)


def test_small_and_large_taps_do_not_share_by_one_hand() -> None:
    """By hand: M2 drags over 13.3 N, M12 wants 42.8 N by one hand and 8.6 N by two."""
    found = windows(tool({"taps": TAPS}))
    pairs = {(p.weak.split()[0], p.strong.split()[0]) for p in apart(found, ONE_HAND)}
    assert ("M2", "M12") in pairs
    assert ("M3", "M6") not in pairs
    assert apart(found, TWO_HANDS) == ()


def test_m3_to_m6_share_from_14_to_25_newton() -> None:
    """By hand: the floor of M6 by one hand, and the feel of M3."""
    best = ranges(windows(tool({"taps": TAPS[1:5]})), ONE_HAND)[0]
    assert (best.least_N, best.greatest_N) == pytest.approx((13.87, 25.43), abs=0.01)
    assert len(best.taps) == 4


@given(CHOSEN, st.sampled_from(HANDS), st.floats(0.05, 3000))
def test_no_force_serves_more_taps_than_the_range(
    taps: list[dict[str, Any]], hands: str, force_N: float
) -> None:
    found = windows(tool({"taps": taps}))
    best = ranges(found, hands)[0]
    inside = [w for w in found if floor_N(w, hands) <= force_N <= w.ceiling_N]
    assert len(inside) <= len(best.taps)
    middle_N = (best.least_N + best.greatest_N) / 2
    held = [w.name for w in found if floor_N(w, hands) <= middle_N <= w.ceiling_N]
    assert held == list(best.taps)


@given(CHOSEN, st.sampled_from(HANDS))
def test_two_taps_are_apart_or_share_a_range(taps: list[dict[str, Any]], hands: str) -> None:
    found = windows(tool({"taps": taps}))
    parted = {frozenset((p.weak, p.strong)) for p in apart(found, hands)}
    together = [set(r.taps) for r in ranges(found, hands)]
    for one in found:
        for other in found:
            pair = frozenset((one.name, other.name))
            assert (pair in parted) != any(pair <= taps for taps in together)


def test_nothing_is_proposed_where_nothing_is_to_be_gained() -> None:
    assert serving_spring(tool()) is None
    assert serving_spring(tool({"taps": TAPS[2:]})) is None


def test_a_softer_spring_serves_m3_too() -> None:
    proposal = serving_spring(tool({"taps": TAPS[1:]}))
    assert proposal is not None
    assert proposal.spring is not None
    assert len(proposal.served) == len(TAPS) - 1
    assert len(proposal.now) == len(TAPS) - 2
    assert proposal.refusal == ""


def test_a_tool_too_weak_gets_a_stronger_spring() -> None:
    proposal = serving_spring(tool({"springs.0.rate_N_per_mm": 0.05}))
    assert proposal is not None
    assert proposal.tool is not None
    assert proposal.served == ("M6 ISO 529",)
    assert proposal.tool.orientations[0].preload_N > 2.77


@given(near_changes(), CHOSEN)
def test_a_proposed_spring_keeps_what_it_promises(
    changes: dict[str, Any], taps: list[dict[str, Any]]
) -> None:
    """Inside the range with its tolerance, within the bore, off solid and within the stresses."""
    now = near({**changes, "taps": taps})
    proposal = serving_spring(now)
    if proposal is None or proposal.tool is None:
        return
    other, coil = proposal.tool, proposal.tool.springs[0]
    assert len(proposal.served) > len(proposal.now)
    assert len(other.springs) == 1
    assert coil.wire_mm in serving.WIRES_MM
    for o in other.orientations:
        assert o.preload_N * 0.9 >= proposal.target.least_N - 1e-6
        assert o.full_force_N * 1.1 <= proposal.target.greatest_N + 1e-6
        corrected = spring.bergstraesser_factor(index=coil.index) * coil.stress_MPa(o.full_force_N)
        assert corrected <= 0.45 * coil.strength_MPa + 1e-6
    wanted = ("spring free in the bore", "solid margin", "stress at full compression", "preload")
    for found in run_checks(other):
        if found.limit.name in (*wanted, "stress when solid"):
            assert found.verdict is Verdict.PASS, found


def test_a_refusal_names_its_bound() -> None:
    """M2 leaves room for 6 N by feel, less than wire that bears it gains over the stroke."""
    one = {"taps": [TAPS[0]], "assumptions.feel_percent": 0.5, "assumptions.two_hands": 0.8}
    proposal = serving_spring(tool(one))
    assert proposal is not None
    assert proposal.spring is None
    assert proposal.refusal in serving.BOUNDS


def test_no_coil_fits_a_room_without_length() -> None:
    proposal = serving_spring(tool({"taps": [TAPS[0]], "plug.sunk_mm": 30.0}))
    assert proposal is not None
    assert proposal.refusal == "the room pushed home is too short for three coils"
