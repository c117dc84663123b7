"""Shanks and mounts against tables printed elsewhere, and against their own arithmetic."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from generator.standards.bands import ToleranceGrade, ToleranceZone
from generator.standards.mounts import (
    ChuckTaper,
    ChuckThread,
    MorseTang,
    PlainShank,
    R8Shank,
    ShankFlat,
)
from generator.standards.rows import MorseTaper, Thread
from generator.units import MM_PER_INCH
from tests.cases import Case, cases

every_tang = pytest.mark.parametrize("tang", MorseTang.rows(), ids=lambda row: str(row.name))
every_chuck_taper = pytest.mark.parametrize("row", ChuckTaper.rows(), ids=lambda row: str(row.name))
every_flat = pytest.mark.parametrize("row", ShankFlat.rows(), ids=lambda row: str(row.name))


@pytest.mark.parametrize("case", cases("morse_tang_inches"), ids=str)
def test_us_tangs_are_the_handbook_inches(case: Case) -> None:
    tang = MorseTang.find(str(case.inputs["name"]))
    assert getattr(tang, str(case.inputs["field"])) == pytest.approx(
        float(case.published) * MM_PER_INCH, abs=6e-5
    )


@pytest.mark.parametrize("case", cases("morse_tangs"), ids=str)
def test_iso_tangs_are_the_printed_ones(case: Case) -> None:
    tang = MorseTang.find(str(case.inputs["name"]))
    assert getattr(tang, str(case.inputs["field"])) == case.published


@pytest.mark.parametrize("case", cases("morse_tang_whole"), ids=str)
def test_tang_and_projection_make_the_printed_whole_length(case: Case) -> None:
    name = str(case.inputs["name"])
    assert MorseTang.find(name).end_mm + MorseTaper.find(name).projection_mm == case.published


@pytest.mark.parametrize("case", cases("morse_tang_cone"), ids=str)
def test_the_cone_has_the_printed_diameter_at_the_end_of_the_tang(case: Case) -> None:
    name = str(case.inputs["name"])
    taper = MorseTaper.find(name)
    end_mm = MorseTang.find(name).end_mm
    assert taper.gauge_diameter_mm - taper.taper * end_mm == case.published


@pytest.mark.parametrize("case", cases("morse_tang_tolerance"), ids=str)
def test_tang_is_thinner_by_the_printed_tolerance_at_most(case: Case) -> None:
    assert MorseTang.find(str(case.inputs["name"])).thickness_tolerance_mm == case.published


@pytest.mark.parametrize("size", MorseTaper.sizes())
def test_tolerance_of_the_tang_is_ten_times_grade_8(size: str) -> None:
    """ISO 286-1: five grades on, from IT6 up, a tolerance is ten times as wide."""
    tang = MorseTang.find(size)
    grade = ToleranceGrade.at("IT8", tang.thickness_mm)
    assert tang.thickness_tolerance_mm == pytest.approx(10 * grade.width_um / 1000)


def test_every_taper_has_a_tang() -> None:
    assert [row.name for row in MorseTang.rows()] == [row.name for row in MorseTaper.rows()]


@every_tang
def test_tang_reaches_beyond_the_cone_and_goes_through_the_socket(tang: MorseTang) -> None:
    """Its neck is turned below the cone; the drift finds its end beyond the socket."""
    taper = MorseTaper.find(tang.name)
    cone_ends_mm = tang.end_mm - tang.neck_mm
    assert cone_ends_mm < taper.length_mm < taper.socket_depth_mm < tang.end_mm
    assert tang.diameter_mm < taper.gauge_diameter_mm - taper.taper * tang.end_mm + 0.1
    assert tang.thickness_mm < 0.7 * tang.diameter_mm
    assert 0 < tang.thickness_tolerance_mm < 0.05 * tang.thickness_mm


def test_both_systems_share_the_tang_but_for_rounding() -> None:
    """Drift and socket of one take the other's tang."""
    for size in MorseTaper.sizes():
        iso, us = MorseTang.find(size), MorseTang.find(f"{size} US")
        assert iso.thickness_mm == pytest.approx(us.thickness_mm, abs=0.07)
        assert iso.diameter_mm == pytest.approx(us.diameter_mm, abs=0.25)
        assert iso.end_mm == pytest.approx(us.end_mm, abs=0.5)


@pytest.mark.parametrize("case", cases("chuck_tapers"), ids=str)
def test_chuck_tapers_are_the_printed_ones(case: Case) -> None:
    row = ChuckTaper.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) == case.published


@pytest.mark.parametrize("case", cases("chuck_taper_rate"), ids=str)
def test_the_printed_rate_leads_from_end_to_end(case: Case) -> None:
    """The ends are rounded more coarsely than the rate: to two microns."""
    row = ChuckTaper.find(str(case.inputs["name"]))
    small_mm = row.large_diameter_mm - float(case.published) * row.length_mm
    assert small_mm == pytest.approx(row.small_diameter_mm, abs=0.002)


@pytest.mark.parametrize(("name", "iso_mm"), [("JT4", 26.346), ("JT5", 33.422)])
def test_the_two_prints_of_a_small_end_differ_by_microns(name: str, iso_mm: float) -> None:
    """ISO 239 in millimetres, as reprinted, against the tables in inches."""
    difference_mm = abs(ChuckTaper.find(name).small_diameter_mm - iso_mm)
    assert 0.001 < difference_mm < 0.0075


@every_chuck_taper
def test_rate_is_the_drop_over_the_length(row: ChuckTaper) -> None:
    drop_mm = row.large_diameter_mm - row.small_diameter_mm
    assert row.taper * row.length_mm == pytest.approx(drop_mm, abs=1e-12)
    assert 0.049 < row.taper < 0.082


@pytest.mark.parametrize("case", cases("chuck_taper_cone"), ids=str)
def test_a_b_taper_is_a_piece_of_the_printed_morse_taper(case: Case) -> None:
    row = ChuckTaper.find(str(case.inputs["name"]))
    assert row.cone == f"MT{case.published:.0f}"
    whole = MorseTaper.find(row.cone)
    assert row.taper == pytest.approx(whole.taper, abs=0.00005 / row.length_mm * 2)
    assert whole.small_diameter_mm < row.small_diameter_mm + 0.1
    assert row.large_diameter_mm <= whole.gauge_diameter_mm


def test_a_longer_b_taper_begins_at_the_gauge_plane() -> None:
    for name in ("B12", "B18", "B24"):
        row = ChuckTaper.find(name)
        assert row.large_diameter_mm == MorseTaper.find(row.cone).gauge_diameter_mm


def test_short_and_long_jacobs_no_2_are_one_cone() -> None:
    long, short = ChuckTaper.find("JT2"), ChuckTaper.find("JT2S")
    assert short.small_diameter_mm == long.small_diameter_mm
    assert short.taper == pytest.approx(long.taper, rel=2e-4)


def test_jacobs_tapers_that_follow_one_another_in_the_standard_grow() -> None:
    """ISO 239: the short No. 2 comes first, 33 and 6 stand between 2 and 3."""
    order = ("JT0", "JT1", "JT2S", "JT2", "JT33", "JT6", "JT3", "JT4", "JT5")
    large = [ChuckTaper.find(name).large_diameter_mm for name in order]
    assert all(one < next_one for one, next_one in pairwise(large))
    assert {row.name for row in ChuckTaper.rows() if row.cone == "Jacobs"} == set(order)


@pytest.mark.parametrize("row", ChuckThread.rows(), ids=lambda row: str(row.name))
def test_a_stub_is_a_tabulated_thread_as_long_as_it_is_thick_or_longer(row: ChuckThread) -> None:
    major_mm = Thread.find(row.name).major_mm
    assert major_mm <= row.stub_mm <= 1.6 * major_mm
    assert row.unverified_fields == ("stub_mm",)


@pytest.mark.parametrize("case", cases("r8_inches"), ids=str)
def test_r8_is_the_described_one(case: Case) -> None:
    row = R8Shank.find("R8")
    assert getattr(row, str(case.inputs["field"])) / MM_PER_INCH == case.published


def test_r8_has_the_printed_angle() -> None:
    """Two workshop descriptions print 16 deg 51 min."""
    assert R8Shank.find("R8").included_angle_deg == pytest.approx(16 + 51 / 60)


def test_r8_closes_and_has_room_for_its_threads_and_slot() -> None:
    row = R8Shank.find("R8")
    small_mm = row.large_diameter_mm - row.taper * row.cone_mm
    assert small_mm == pytest.approx(row.body_greatest_mm, abs=1e-12)
    half = math.degrees(math.atan2(row.large_diameter_mm - small_mm, 2 * row.cone_mm))
    assert half == pytest.approx(row.included_angle_deg / 2)
    assert row.body_least_mm < row.body_greatest_mm < 0.95 * MM_PER_INCH
    assert row.cone_mm + row.guide_mm < row.overall_mm
    for name in (row.drawbar_thread, row.metric_drawbar_thread):
        wall_mm = (row.body_least_mm - Thread.find(name).major_mm) / 2
        assert row.slot_depth_mm < wall_mm - 2


@pytest.mark.parametrize("case", cases("plain_shank_length"), ids=str)
def test_plain_shanks_have_the_printed_length(case: Case) -> None:
    row = PlainShank.find(f"DIN 6535 HA {case.inputs['diameter_mm']:g}")
    assert row.diameter_mm == case.inputs["diameter_mm"]
    assert row.length_mm == case.published


@pytest.mark.parametrize("row", PlainShank.rows(), ids=lambda row: str(row.name))
def test_a_plain_shank_is_named_by_standard_and_diameter_and_has_a_known_zone(
    row: PlainShank,
) -> None:
    assert row.name == f"{row.standard} {row.diameter_mm:g}"
    assert ToleranceZone.limits_um(row.zone, row.diameter_mm)[0] == 0


def test_both_standards_of_plain_shanks_agree_on_lengths() -> None:
    of = {(row.standard, row.diameter_mm): row.length_mm for row in PlainShank.rows()}
    both = [d for standard, d in of if standard == "ISO 3338-1" and ("DIN 6535 HA", d) in of]
    assert len(both) == 11
    assert all(of["ISO 3338-1", d] == of["DIN 6535 HA", d] for d in both)


@pytest.mark.parametrize("case", cases("shank_flats"), ids=str)
def test_flats_are_the_printed_ones(case: Case) -> None:
    row = ShankFlat.find(f"DIN 6535 HB {case.inputs['diameter_mm']:g}")
    assert getattr(row, str(case.inputs["field"])) == case.published


@every_flat
def test_a_flat_stands_in_the_middle_of_a_plain_shank(row: ShankFlat) -> None:
    plain = PlainShank.find(row.name.replace("HB", "HA"))
    assert (row.diameter_mm, row.length_mm) == (plain.diameter_mm, plain.length_mm)
    assert row.middle_mm == row.length_mm / 2
    assert row.flat_mm < row.length_mm / 2


@every_flat
def test_a_flat_is_cut_a_tenth_of_the_shank_deep_or_so(row: ShankFlat) -> None:
    assert row.depth_mm == pytest.approx(row.diameter_mm - row.over_flat_mm)
    assert 0.08 < row.depth_mm / row.diameter_mm < 0.16
