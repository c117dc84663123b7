"""End coils and cut springs: published rules, and the laws that a cut obeys."""

from __future__ import annotations

from typing import Final

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generator.formulas import coils, spring
from tests.cases import Printed
from tests.formulas.quantities import NAN, steady

ENDS: Final = ("closed and ground", "closed", "open", "open and ground")
every_end = pytest.mark.parametrize("ends", ENDS)
ends_of = st.sampled_from(ENDS)
wires = st.floats(0.2, 3.0)
gaps = st.floats(0.05, 5.0)
counts = st.floats(2.0, 30.0)
SHARES: Final = st.floats(0.05, 0.95)


def free_mm(ends: str, *, wire_mm: float, pitch_mm: float, active: float) -> float:
    """Return the free length, Shigley's Mechanical Engineering Design, table of end types."""
    by_ends = {
        "open": pitch_mm * active + wire_mm,
        "open and ground": pitch_mm * (active + 1),
        "closed": pitch_mm * active + 3 * wire_mm,
        "closed and ground": pitch_mm * active + 2 * wire_mm,
    }
    return by_ends[ends]


@every_end
def test_pitch_is_that_of_the_handbooks_free_length(ends: str) -> None:
    length_mm = free_mm(ends, wire_mm=1, pitch_mm=2.5, active=10)
    found = coils.pitch_mm(wire_mm=1, free_mm=length_mm, active_coils=10, ends=ends)
    assert found == pytest.approx(2.5)


@every_end
@steady
@given(wires, counts)
def test_a_spring_at_its_solid_length_has_the_pitch_of_its_wire(
    ends: str, wire_mm: float, active: float
) -> None:
    total = coils.total_coils(active_coils=active, ends=ends)
    solid_mm = coils.solid_length_mm(wire_mm=wire_mm, total_coils=total, ends=ends)
    pitch_mm = coils.pitch_mm(
        wire_mm=wire_mm, free_mm=solid_mm + 1e-9, active_coils=active, ends=ends
    )
    assert pitch_mm == pytest.approx(wire_mm)


def test_standard_takes_the_thickest_wire_and_half_a_coil_more() -> None:
    """EN 13906-1: nt dmax for closed and ground ends, (nt + 1.5) dmax for closed ones.

    The spring of the published report of 26 July 2021: wire 5, within 0.035 by EN 10270-1, 11.5
    coils.
    """
    for ends, length in (("closed and ground", "57.903"), ("closed", "65.455")):
        found = coils.solid_length_en_mm(wire_greatest_mm=5.035, total_coils=11.5, ends=ends)
        assert found == Printed(length)


@pytest.mark.parametrize("ends", ["open", "open and ground", "open / closed", "pigtail"])
def test_standard_covers_closed_ends_alone(ends: str) -> None:
    with pytest.raises(ValueError, match="ends"):
        coils.solid_length_en_mm(wire_greatest_mm=1, total_coils=10, ends=ends)


@pytest.mark.parametrize(
    ("ends", "dead", "solid_more"),
    [
        ("closed and ground", 1, 0.5),
        ("closed", 1, 1),
        ("open", 0, 1),
        ("open and ground", 0.5, 0.5),
    ],
)
def test_each_end_of_a_cut_spring_counts_for_half(
    ends: str, dead: float, solid_more: float
) -> None:
    """Half of Machinery's Handbook, 31st ed., p. 318, table 3, for its own end; half for open."""
    cut = coils.cut_ends(ends)
    assert coils.active_coils(total_coils=10, ends=cut) == 10 - dead
    assert coils.solid_length_mm(wire_mm=1, total_coils=10, ends=cut) == 10 + solid_more


def test_ends_of_a_cut_spring_are_named_the_cut_one_first() -> None:
    assert coils.front_end(coils.cut_ends("closed and ground")) == "open"
    assert coils.rear_end(coils.cut_ends("closed and ground")) == "closed and ground"
    assert coils.cut_ends("open") == "open"
    assert coils.front_end("closed") == coils.rear_end("closed") == "closed"


def test_half_of_an_open_spring_is_twice_as_stiff() -> None:
    """A spring cut in half has twice the rate: a textbook fact of physics, no one source.

    The piece is as long as half of the coils, and a wire's thickness for its two ends.
    """
    pitch_mm = coils.pitch_mm(wire_mm=1, free_mm=41, active_coils=20, ends="open")
    left = coils.coils_left(wire_mm=1, pitch_mm=pitch_mm, cut_mm=21, ends="open")
    whole, half = (
        spring.rate_N_per_mm(wire_mm=1, mean_mm=8, active_coils=n, shear_modulus_MPa=81500)
        for n in (20, left)
    )
    assert half == pytest.approx(2 * whole)


@steady
@given(ends_of, wires, gaps, counts, st.floats(0.02, 0.98))
def test_what_a_cut_takes_off_is_coils_at_the_pitch_and_half_the_end(
    ends: str, wire_mm: float, gap_mm: float, active: float, share: float
) -> None:
    pitch_mm, left = wire_mm + gap_mm, share * active
    cut_mm = coils.cut_length_mm(wire_mm=wire_mm, pitch_mm=pitch_mm, active_coils=left, ends=ends)
    halves = {
        name: (free_mm(name, wire_mm=wire_mm, pitch_mm=pitch_mm, active=1) - pitch_mm) / 2
        for name in ENDS
    }
    assert cut_mm == pytest.approx(pitch_mm * left + halves[ends] + halves["open"])
    again = coils.coils_left(wire_mm=wire_mm, pitch_mm=pitch_mm, cut_mm=cut_mm, ends=ends)
    assert again == pytest.approx(left, rel=1e-9, abs=1e-9)


@steady
@given(ends_of.filter(lambda ends: ends != "open and ground"), wires, gaps, counts, SHARES)
def test_a_cut_spring_closes_under_the_force_that_closed_it_before(
    ends: str, wire_mm: float, gap_mm: float, active: float, share: float
) -> None:
    """The gap between two coils and the rate of one coil are as they were, so the stress too.

    Open and ground ends are left out: the handbook's free length has a gap more than coils that
    give.
    """
    pitch_mm, left = wire_mm + gap_mm, share * active
    cut_mm = coils.cut_length_mm(wire_mm=wire_mm, pitch_mm=pitch_mm, active_coils=left, ends=ends)
    total = coils.total_coils(active_coils=left, ends=coils.cut_ends(ends))
    solid_mm = coils.solid_length_mm(wire_mm=wire_mm, total_coils=total, ends=coils.cut_ends(ends))
    assert (cut_mm - solid_mm) / left == pytest.approx(gap_mm, rel=1e-6)


@steady
@given(wires, gaps, counts, SHARES)
def test_two_pieces_of_an_open_spring_have_all_its_coils(
    wire_mm: float, gap_mm: float, active: float, share: float
) -> None:
    """The saw cut left out, the pieces are together one wire longer: it is counted twice."""
    assume(share * active > 0.1)
    pitch_mm = wire_mm + gap_mm
    whole_mm = free_mm("open", wire_mm=wire_mm, pitch_mm=pitch_mm, active=active)
    first_mm = share * pitch_mm * active + wire_mm
    second_mm = whole_mm + wire_mm - first_mm
    sizes = {"wire_mm": wire_mm, "pitch_mm": pitch_mm}
    pieces = [
        coils.coils_left(**sizes, cut_mm=length_mm, ends="open")
        for length_mm in (first_mm, second_mm)
    ]
    assert sum(pieces) == pytest.approx(active)


def test_a_cut_that_leaves_nothing_is_refused() -> None:
    with pytest.raises(ValueError, match="no active coil"):
        coils.coils_left(wire_mm=1, pitch_mm=2, cut_mm=1.5, ends="closed and ground")


@pytest.mark.parametrize("wrong", [0.0, -1.0, NAN])
def test_numbers_out_of_range_are_refused(wrong: float) -> None:
    good = {"wire_mm": 1.0, "pitch_mm": 2.0}
    for name in good:
        with pytest.raises(ValueError, match=name):
            coils.coils_left(**{**good, name: wrong}, cut_mm=20, ends="open")
        with pytest.raises(ValueError, match=name):
            coils.cut_length_mm(**{**good, name: wrong}, active_coils=9, ends="open")
    with pytest.raises(ValueError, match="active_coils"):
        coils.cut_length_mm(**good, active_coils=wrong, ends="open")
    with pytest.raises(ValueError, match="wire_greatest_mm"):
        coils.solid_length_en_mm(wire_greatest_mm=wrong, total_coils=10, ends="closed")
    with pytest.raises(ValueError, match="free_mm"):
        coils.pitch_mm(wire_mm=1, free_mm=wrong, active_coils=9, ends="open")
    with pytest.raises(ValueError, match="less than"):
        coils.pitch_mm(wire_mm=1, free_mm=9, active_coils=9, ends="open")


def test_unknown_ends_are_refused() -> None:
    with pytest.raises(ValueError, match="pigtail"):
        coils.pitch_mm(wire_mm=1, free_mm=30, active_coils=9, ends="pigtail")
    with pytest.raises(ValueError, match="pigtail"):
        coils.active_coils(total_coils=9, ends="open / pigtail")
