"""The slot and the screw's tip: circle segments in print, and how travel and projection move."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import slot
from tests.cases import Case, cases
from tests.formulas.quantities import NAN, lengths, ratios, steady

positions = st.floats(-50.0, 200.0)


@pytest.mark.parametrize("case", cases("slot_side_wall_start"), ids=str)
def test_side_wall_start_is_the_published_height(case: Case) -> None:
    assert slot.side_wall_start_mm(**case.numbers) == case.published


@pytest.mark.parametrize("case", cases("slot_chord"), ids=str)
def test_chord_is_the_published_one(case: Case) -> None:
    assert slot.chord_mm(**case.numbers) == case.published


@steady
@given(lengths, st.floats(0.01, 1.0))
def test_the_chord_at_the_side_walls_start_is_the_slots_width(
    diameter_mm: float, share: float
) -> None:
    width_mm = share * diameter_mm
    start_mm = slot.side_wall_start_mm(diameter_mm=diameter_mm, width_mm=width_mm)
    assert slot.chord_mm(diameter_mm=diameter_mm, depth_mm=start_mm) == pytest.approx(
        width_mm, rel=1e-6
    )


@steady
@given(lengths, ratios)
def test_scaling_a_slot_scales_its_arc(diameter_mm: float, scale: float) -> None:
    small, large = (
        slot.side_wall_start_mm(diameter_mm=size, width_mm=0.4 * size)
        for size in (diameter_mm, scale * diameter_mm)
    )
    assert large == pytest.approx(scale * small)


def test_a_point_that_only_touches_has_its_own_diameter() -> None:
    assert slot.tip_in_slot_mm(major_mm=4, point_mm=2.5, penetration_mm=0) == 2.5


def test_a_point_grows_no_further_than_its_thread() -> None:
    assert slot.tip_in_slot_mm(major_mm=4, point_mm=2.5, penetration_mm=2) == 4


def test_a_blunt_cone_grows_faster_than_a_right_angled_one() -> None:
    right, blunt = (
        slot.tip_in_slot_mm(major_mm=9, point_mm=0, penetration_mm=1, flank_deg=flank)
        for flank in (45, 60)
    )
    assert right == pytest.approx(2)
    assert blunt == pytest.approx(2 * 3**0.5)


@steady
@given(lengths, lengths, lengths, positions)
def test_travel_is_the_difference_of_the_projections_wherever_the_screw_is(
    front_mm: float, length_mm: float, tip_mm: float, screw_mm: float
) -> None:
    extended_mm = slot.projection_extended_mm(
        front_mm=front_mm, slot_length_mm=length_mm, tip_mm=tip_mm, screw_mm=screw_mm
    )
    compressed_mm = slot.projection_compressed_mm(
        front_mm=front_mm, tip_mm=tip_mm, screw_mm=screw_mm
    )
    travel_mm = slot.travel_mm(slot_length_mm=length_mm, tip_mm=tip_mm)
    assert extended_mm - compressed_mm == pytest.approx(travel_mm, abs=1e-9)


@steady
@given(lengths, lengths, lengths, positions, st.floats(-20.0, 20.0))
def test_a_screw_moved_back_takes_as_much_off_both_projections(
    front_mm: float, length_mm: float, tip_mm: float, screw_mm: float, back_mm: float
) -> None:
    extended = [
        slot.projection_extended_mm(
            front_mm=front_mm, slot_length_mm=length_mm, tip_mm=tip_mm, screw_mm=at
        )
        for at in (screw_mm, screw_mm + back_mm)
    ]
    compressed = [
        slot.projection_compressed_mm(front_mm=front_mm, tip_mm=tip_mm, screw_mm=at)
        for at in (screw_mm, screw_mm + back_mm)
    ]
    assert extended[0] - extended[1] == pytest.approx(back_mm, abs=1e-9)
    assert compressed[0] - compressed[1] == pytest.approx(back_mm, abs=1e-9)


@steady
@given(lengths, lengths, lengths, positions, st.floats(0.0, 20.0))
def test_a_slot_further_back_adds_as_much_to_both_projections(
    front_mm: float, length_mm: float, tip_mm: float, screw_mm: float, more_mm: float
) -> None:
    extended = [
        slot.projection_extended_mm(
            front_mm=front, slot_length_mm=length_mm, tip_mm=tip_mm, screw_mm=screw_mm
        )
        for front in (front_mm, front_mm + more_mm)
    ]
    assert extended[1] - extended[0] == pytest.approx(more_mm, abs=1e-9)


def test_a_tip_larger_than_the_slot_is_long_has_no_travel() -> None:
    assert slot.travel_mm(slot_length_mm=3, tip_mm=4) == -1


@pytest.mark.parametrize(
    ("diameter_mm", "width_mm"), [(8, 8.1), (8, 0), (0, 0), (NAN, 3), (8, NAN)]
)
def test_a_slot_wider_than_the_bar_is_refused(diameter_mm: float, width_mm: float) -> None:
    with pytest.raises(ValueError, match="width_mm"):
        slot.side_wall_start_mm(diameter_mm=diameter_mm, width_mm=width_mm)


@pytest.mark.parametrize(("diameter_mm", "depth_mm"), [(8, 8.1), (8, -0.1), (NAN, 3), (8, NAN)])
def test_a_flat_deeper_than_the_bar_is_refused(diameter_mm: float, depth_mm: float) -> None:
    with pytest.raises(ValueError, match="depth_mm"):
        slot.chord_mm(diameter_mm=diameter_mm, depth_mm=depth_mm)


@pytest.mark.parametrize(
    ("point_mm", "penetration_mm", "flank_deg"),
    [(4.1, 1, 45), (-1, 1, 45), (2, -0.1, 45), (2, 1, 0), (2, 1, 90), (NAN, 1, 45), (2, NAN, 45)],
)
def test_a_point_that_cannot_be_is_refused(
    point_mm: float, penetration_mm: float, flank_deg: float
) -> None:
    with pytest.raises(ValueError, match="point_mm"):
        slot.tip_in_slot_mm(
            major_mm=4, point_mm=point_mm, penetration_mm=penetration_mm, flank_deg=flank_deg
        )


@pytest.mark.parametrize("wrong", [0.0, -1.0, NAN])
def test_slot_and_tip_must_be_positive(wrong: float) -> None:
    with pytest.raises(ValueError, match="tip_mm"):
        slot.travel_mm(slot_length_mm=14, tip_mm=wrong)
    with pytest.raises(ValueError, match="slot_length_mm"):
        slot.travel_mm(slot_length_mm=wrong, tip_mm=2)
    with pytest.raises(ValueError, match="slot_length_mm"):
        slot.projection_extended_mm(front_mm=20, slot_length_mm=wrong, tip_mm=2, screw_mm=16)
    with pytest.raises(ValueError, match="tip_mm"):
        slot.projection_compressed_mm(front_mm=20, tip_mm=wrong, screw_mm=16)


def test_a_position_must_be_a_number() -> None:
    with pytest.raises(ValueError, match="screw_mm=nan"):
        slot.projection_extended_mm(front_mm=20, slot_length_mm=14, tip_mm=2, screw_mm=NAN)
    with pytest.raises(ValueError, match="front_mm=nan"):
        slot.projection_compressed_mm(front_mm=NAN, tip_mm=2, screw_mm=16)
