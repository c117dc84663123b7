"""Morse tapers against figures printed elsewhere."""

from __future__ import annotations

import math

import pytest

from generator.standards.rows import MorseTaper, Thread
from generator.units import MM_PER_INCH
from tests.cases import Case, cases


@pytest.mark.parametrize("case", cases("morse_inches"), ids=str)
def test_us_rows_are_the_handbook_inches(case: Case) -> None:
    row = MorseTaper.find(str(case.inputs["name"]))
    assert getattr(row, str(case.inputs["field"])) / MM_PER_INCH == case.published


@pytest.mark.parametrize("case", cases("morse_ratio"), ids=str)
def test_taper_is_the_printed_one_in_x(case: Case) -> None:
    for name in (str(case.inputs["size"]), f"{case.inputs['size']} US"):
        assert 1 / MorseTaper.find(name).taper == case.published


@pytest.mark.parametrize("case", cases("morse_large_end"), ids=str)
def test_large_end_is_the_printed_one(case: Case) -> None:
    row = MorseTaper.find(str(case.inputs["size"]))
    assert row.gauge_diameter_mm + row.taper * row.projection_mm == case.published


@pytest.mark.parametrize("case", cases("morse_length"), ids=str)
def test_length_is_the_printed_one(case: Case) -> None:
    assert MorseTaper.find(str(case.inputs["size"])).length_mm == case.published


@pytest.mark.parametrize("case", cases("morse_tapped_length"), ids=str)
def test_length_and_projection_make_the_printed_whole_length(case: Case) -> None:
    row = MorseTaper.find(str(case.inputs["size"]))
    assert row.length_mm + row.projection_mm == case.published


@pytest.mark.parametrize("case", cases("morse_socket_depth"), ids=str)
def test_socket_is_as_deep_as_printed(case: Case) -> None:
    assert MorseTaper.find(str(case.inputs["size"])).socket_depth_mm == case.published


@pytest.mark.parametrize("case", cases("morse_half_angle"), ids=str)
def test_half_angle_is_the_printed_one(case: Case) -> None:
    row = MorseTaper.find(str(case.inputs["size"]))
    assert math.degrees(math.atan(row.taper / 2)) == case.published


def test_both_systems_share_taper_and_gauge_diameter() -> None:
    """ISO 296 adopted the inch cones: only lengths differ."""
    for size in MorseTaper.sizes():
        iso, us = MorseTaper.find(size), MorseTaper.find(f"{size} US")
        assert iso.taper == us.taper
        assert iso.gauge_diameter_mm == pytest.approx(us.gauge_diameter_mm, abs=0.0005)
        assert iso.length_mm == pytest.approx(us.length_mm, abs=2.5)


def test_the_socket_takes_the_shank_without_bottoming() -> None:
    for row in MorseTaper.rows():
        assert row.socket_depth_mm > row.length_mm, row.name


def test_draw_bar_threads_are_tabulated_and_fit_the_small_end() -> None:
    threaded = [row for row in MorseTaper.rows() if row.drawbar_thread]
    assert len(threaded) == 12
    for row in threaded:
        thread = Thread.find(row.drawbar_thread)
        assert thread.major_mm < row.small_diameter_mm - 2, row.name
        assert thread.series == ("coarse" if row.system == "ISO" else "UNC")
