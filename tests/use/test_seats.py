"""How a tap's end sits in or on the plunger: contact circle, band, depth and pilots."""

from __future__ import annotations

from math import isnan, sqrt, tan
from typing import Any

import pytest

from generator.checks.finding import Verdict
from generator.standards.rows import Tap
from generator.use.seats import Seat, seats
from tests.tools import finding, tool

DEG = 3.141592653589793 / 180


def seat(size: str, end: str, **changes: Any) -> Seat:
    tap = {"standard": "ISO 529", "size": size, "end": end}
    (found,) = seats(tool({"taps": [tap], **changes}))
    return found


def test_a_point_bears_from_pilot_to_base() -> None:
    """M6: base 6.3 in a mouth of 7 over a pilot of 2; its base stands 0.35 tan 60 deep."""
    found = seat("M6", "point")
    assert (found.inner_mm, found.outer_mm, found.contact_mm) == (2.0, 6.3, 6.3)
    assert found.band_mm == pytest.approx(4.3)
    assert found.overlap_mm == pytest.approx(0.35 * sqrt(3))
    assert not found.edge
    assert found.hint == ""


def test_a_large_point_stands_off_and_bears_on_the_mouth() -> None:
    """M8: base 8 on a mouth of 7; its base stays 0.5 tan 60 outside."""
    found = seat("M8", "point")
    assert found.contact_mm == 7.0
    assert found.overlap_mm == pytest.approx(-0.5 * sqrt(3))
    assert found.edge


def test_a_centre_bears_from_its_pilot_to_its_mouth() -> None:
    """M10: shank 10, mouth 4.2, pilot 2; a sharp point enters the mouth by 2.1 tan 60."""
    found = seat("M10", "centre")
    assert (found.inner_mm, found.outer_mm) == pytest.approx((2.0, 4.2))
    assert found.overlap_mm == pytest.approx(2.1 * sqrt(3))
    assert found.tip_clearance_mm == pytest.approx(0.87 * 2 - sqrt(3))


def test_a_narrow_plunger_bears_with_its_edge() -> None:
    found = seat("M20", "centre", **{"taps.0.end_mm": 9.0})
    assert found.edge
    assert found.contact_mm == 8.0


@pytest.mark.parametrize(
    ("angle_deg", "circle_mm", "hint"),
    [
        (50.0, 2.0, "bears deep in the centre"),
        (60.0, 4.2, ""),
        (70.0, 4.2, "bears on the mouth of the centre"),
    ],
)
def test_a_point_of_another_angle_bears_on_a_line(
    angle_deg: float, circle_mm: float, hint: str
) -> None:
    """A sharper male cone meets the small end of a wider one, a blunter one its mouth."""
    found = seat("M10", "centre", **{"plunger.front.angle_deg": angle_deg})
    assert found.contact_mm == pytest.approx(circle_mm)
    assert found.hint == hint


@pytest.mark.parametrize(
    ("angle_deg", "circle_mm", "hint"),
    [
        (50.0, 6.3, "bears on the mouth of the countersink"),
        (60.0, 6.3, ""),
        (70.0, 2.0, "bears at the pilot"),
    ],
)
def test_a_countersink_of_another_angle_bears_on_a_line(
    angle_deg: float, circle_mm: float, hint: str
) -> None:
    found = seat("M6", "point", **{"plunger.rear.angle_deg": angle_deg})
    assert found.contact_mm == pytest.approx(circle_mm)
    assert found.hint == hint


def test_a_bevel_bears_on_the_mouth_or_the_edge_of_the_shank() -> None:
    small, large = seat("M4", "bevel"), seat("M6", "bevel", **{"taps.0.end_mm": 6.0})
    assert small.contact_mm == 4.0
    assert large.contact_mm == pytest.approx(6.3)
    assert isnan(small.tip_clearance_mm)


def test_a_form_that_nothing_takes_has_no_seat() -> None:
    found = seat("M6", "none")
    assert not found.serves
    assert isnan(found.angle_deg)


@pytest.mark.parametrize(
    ("size", "end", "changes", "angle_deg"),
    [
        ("M10", "centre", {"plunger.front.angle_deg": 90.0}, 90.0),
        ("M20", "centre", {"plunger.front.angle_deg": 90.0, "taps.0.end_mm": 9.0}, 60.0),
        ("M6", "point", {"plunger.rear.angle_deg": 90.0}, 60.0),
        ("M6", "point", {"plunger.rear.angle_deg": 50.0}, 50.0),
        ("M8", "point", {"plunger.rear.angle_deg": 50.0}, 60.0),
    ],
)
def test_an_edge_slides_on_the_cone_it_bears_on(
    size: str, end: str, changes: dict[str, Any], angle_deg: float
) -> None:
    """A pilot's edge bears on the tap's own point, a centre's mouth on the plunger's."""
    assert seat(size, end, **changes).angle_deg == angle_deg


def test_a_wrench_with_a_centre_takes_headroom() -> None:
    low, high = (
        finding(tool({"taps.0.wrench_height_mm": height_mm}), "headroom").value
        for height_mm in (0.0, 80.0)
    )
    assert low - high == pytest.approx(80.0)


def test_a_followed_wrench_has_a_centre_unless_the_file_says_otherwise() -> None:
    """Also where the standard gives the tap itself a point."""
    tap = {"standard": "ASME B94.9", "size": "#10-32", "wrench_height_mm": 60.0}
    ends = [
        [seat.end for seat in seats(tool({"taps": [asked]}))]
        for asked in (tap, {**tap, "end": "point"}, {**tap, "wrench_height_mm": 0.0})
    ]
    assert ends == [["centre"], ["point"], ["point"]]


def test_of_unknown_ends_the_tallest_sets_the_headroom() -> None:
    tap = {"standard": "ISO 529", "size": "M10"}
    known = [
        finding(tool({"taps": [{**tap, "end": end}]}), "headroom").value
        for end in Tap.find("ISO 529 M10").shank_ends
    ]
    assert finding(tool({"taps": [tap]}), "headroom").value == pytest.approx(min(known))


def test_a_hidden_end_costs_reach() -> None:
    """Pushed home the countersink stands 9 mm out; 0.61 of that goes over the point's base."""
    name = "plunger reaches the hidden end"
    found = finding(tool({"taps.0.hidden_mm": 4.0}), name)
    assert found.value == pytest.approx(9.0 - 4.0 - 0.35 / tan(30 * DEG))
    assert found.verdict is Verdict.PASS
    assert finding(tool({"taps.0.hidden_mm": 7.0}), name).verdict is Verdict.WARN
    assert finding(tool({"taps.0.hidden_mm": 9.0}), name).verdict is Verdict.FAIL
    with pytest.raises(LookupError):
        finding(tool(), name)


def test_the_opening_is_looked_at_only_where_it_is_told() -> None:
    name, hidden = "plunger in the wrench's opening", {"taps.0.hidden_mm": 2.0}
    with pytest.raises(LookupError):
        finding(tool(hidden), name)
    found = finding(tool({**hidden, "taps.0.opening_mm": 7.0}), name)
    assert found.verdict is Verdict.FAIL
    assert "taps[1].opening_mm of 8.5 mm" in found.advice
