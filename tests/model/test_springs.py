"""Springs in the tool: nested, cut, bent curves, and the bands of their forces."""

from __future__ import annotations

from itertools import product
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.checks.springs import solid_margins_mm
from generator.formulas import stack
from generator.model.springs import SOLID_SHARE
from generator.model.tool import Tool
from generator.use.bands import extreme_curves, force_bands, least_margin_mm, plug_range
from tests.cases import Printed
from tests.tools import REMOVED, finding, plug_of, tool

INNER: Final[dict[str, Any]] = {
    "wire_mm": 0.5,
    "outside_mm": 4.0,
    "free_mm": 24.0,
    "active_coils": 15.0,
    "hand": "left",
}
LATE: Final = {"springs.0.inner": INNER}
"""An inner spring of 24 mm in a room of 27 to 15 mm: it begins to bear within the stroke."""

MEASURED_PAIR: Final = {
    "springs.0.rate_N_per_mm": 1.5,
    "springs.0.inner": {**INNER, "rate_N_per_mm": 0.8},
}
ROW: Final[dict[str, Any]] = {
    "springs": [
        {"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 17.0, "active_coils": 5.0},
        {"wire_mm": 0.7, "outside_mm": 7.0, "free_mm": 16.0, "active_coils": 5.0},
    ],
    "separator": {},
}
CASES: Final = {
    "single": {},
    "late inner": LATE,
    "row": ROW,
    "no separator": {**ROW, "separator": REMOVED},
}
every_set = pytest.mark.parametrize("changes", CASES.values(), ids=CASES.keys())


def test_inner_spring_adds_its_force_once_it_bears() -> None:
    """By hand: rooms 27 and 15; 1.5 x 7 = 10.5 N; 1.5 x 19 + 0.8 x 9 = 35.7 N."""
    made = tool(MEASURED_PAIR)
    for o in made.orientations:
        assert o.preload_N == Printed("10.5")
        assert o.full_force_N == Printed("35.7")
        assert made.bent(o)
        assert o.rate_N_per_mm == pytest.approx((35.7 - 10.5) / 12)
    snap_J = made.energy_J(35.7) - made.energy_J(10.5)
    assert snap_J == pytest.approx((1.5 * (19**2 - 7**2) / 2 + 0.8 * 9**2 / 2) / 1000)
    assert finding(made, "ends of the slot relieved").value == pytest.approx(snap_J)


def test_inner_spring_bears_its_own_share() -> None:
    made = tool(MEASURED_PAIR)
    outer, inner = made.in_place
    assert (outer.label, inner.label) == ("spring 1", "spring 1 inner")
    assert (outer.key, inner.key) == ("springs[1]", "springs[1].inner")
    assert outer.bears_N(35.7) == pytest.approx(28.5)
    assert inner.bears_N(35.7) == pytest.approx(7.2)
    assert inner.bears_N(10.5) == 0
    share = inner.spring.stress_MPa(7.2) / inner.spring.strength_MPa
    factor = (7 + 0.5) / (7 - 0.75)  # Bergstraesser for an index of 3.5 / 0.5
    found = finding(made, "corrected stress at full compression", "spring 1 inner")
    assert found.value == pytest.approx(factor * share)


def test_a_nest_ends_at_its_longest_solid_length() -> None:
    made = tool({"springs.0.inner": {**INNER, "active_coils": 25.0}})
    inner = made.springs[0].inner
    assert inner is not None
    assert made.curve.end_mm == inner.solid_mm == pytest.approx(27 * 0.5)
    assert solid_margins_mm(made)[1] == pytest.approx(15 - SOLID_SHARE * 13.5)


def test_cut_spring_is_worked_by_hand() -> None:
    """Closed and ground, 34 long, 12 coils that give: pitch (34 - 1.6)/12 = 2.7.

    Cut to 28: (28 - 1.2)/2.7 = 9.926 give, one more lies at the ground end, none at the cut one;
    solid (10.926 + 0.5) 0.8 = 9.141; 12/9.926 times as stiff.
    """
    whole, cut = tool().springs[0], tool({"springs.0.cut_to_mm": 28.0}).springs[0]
    assert cut.free_mm == 28.0
    assert cut.active_coils == Printed("9.926")
    assert cut.total_coils == Printed("10.926")
    assert cut.solid_mm == Printed("9.141")
    assert cut.rate_N_per_mm / whole.rate_N_per_mm == pytest.approx(12 / (26.8 / 2.7))
    assert cut.ends == "open / closed and ground"
    assert cut.bought is not None
    assert cut.bought.free_mm == 34.0
    assert cut.solid_en_mm is None


def test_rate_measured_on_the_cut_spring_stands() -> None:
    cut = tool({"springs.0.cut_to_mm": 28.0, "springs.0.rate_N_per_mm": 2.0}).springs[0]
    assert cut.rate_N_per_mm == 2.0
    assert cut.measured


def test_cut_end_asks_for_a_disc() -> None:
    made = tool({"springs.0.cut_to_mm": 28.0, "button": REMOVED})
    assert finding(made, "unground ends on a disc").verdict == "warn"
    with pytest.raises(LookupError):
        finding(tool(), "unground ends on a disc")


def test_solid_margin_takes_the_longer_solid_length() -> None:
    """Closed ends: EN (14 + 1.5) 0.815 = 12.63 against the handbook's 1.05 x 15 x 0.8 = 12.60."""
    made = tool({"springs.0.ends": "closed"})
    (spring,) = made.springs
    assert spring.solid_mm == pytest.approx(12.0)
    assert spring.solid_en_mm == Printed("12.6325")
    assert spring.longest_solid_mm == spring.solid_en_mm
    ground = tool().springs[0]
    assert ground.solid_en_mm == Printed("11.41")
    assert ground.longest_solid_mm == pytest.approx(1.05 * 11.2)


@pytest.mark.parametrize(
    ("wire", "share"), [("EN 10270-1 SM", 0.45), ("ASTM A228", 0.45), ("ASTM A313 302", 0.35)]
)
def test_corrected_stress_is_held_against_the_handbooks_share(wire: str, share: float) -> None:
    """Shigley, Table 10-6: 0.45 cold drawn carbon and music wire, 0.35 austenitic stainless."""
    made = tool({"springs.0.wire": wire})
    assert finding(made, "corrected stress at full compression").limit.warn == share
    assert finding(made, "uncorrected stress when solid").limit.fail == 0.56


def test_equal_springs_and_a_nested_pair_take_one_curve_in_any_order() -> None:
    soft, pair = ROW["springs"][0], {**ROW["springs"][1], "inner": {**INNER, "free_mm": 14.0}}
    pair["inner"]["active_coils"] = 4.0
    one, other = (tool({**ROW, "springs": list(order)}) for order in ((soft, pair), (pair, soft)))
    assert one.curve == other.curve


def sampled(made: Tool, rate: float, free: float, plug_mm: float) -> tuple[float, float]:
    """Return preload and full force with every spring off by a share of its tolerance."""
    assumed = made.parameters.assumptions
    row = []
    for place in made.springs:
        nest = [
            stack.coil(
                free_mm=one.free_mm * (1 + free * assumed.free_percent / 100),
                solid_mm=one.solid_mm,
                rate_N_per_mm=one.rate_N_per_mm * (1 + rate * assumed.rate_percent / 100),
            )
            for one in place.nested
        ]
        row.append(stack.side_by_side(nest))
    curve = stack.in_series(row, made.separators_mm)
    o = made.orientations[0]
    shift_mm = plug_mm * assumed.plug_mm
    return curve.force_N(o.room_extended_mm + shift_mm), curve.force_N(
        o.room_compressed_mm + shift_mm
    )


@every_set
@settings(max_examples=25)
@given(st.floats(-1, 1), st.floats(-1, 1), st.floats(-1, 1))
def test_no_spring_within_tolerance_leaves_the_band(
    changes: dict[str, Any], rate: float, free: float, plug_mm: float
) -> None:
    made = tool(changes)
    band = force_bands(made)[0]
    preload_N, full_N = sampled(made, rate, free, plug_mm)
    assert band.preload_N.least - 1e-9 <= preload_N <= band.preload_N.greatest + 1e-9
    assert band.full_force_N.least - 1e-9 <= full_N <= band.full_force_N.greatest + 1e-9


@every_set
def test_extremes_of_the_band_are_reached(changes: dict[str, Any]) -> None:
    made = tool(changes)
    band = force_bands(made)[0]
    corners = [sampled(made, *signs) for signs in product((-1, 1), repeat=3)]
    for span, forces in zip(
        (band.preload_N, band.full_force_N), zip(*corners, strict=True), strict=True
    ):
        assert span.least == pytest.approx(min(forces))
        assert span.greatest == pytest.approx(max(forces))
        assert span.least < span.nominal < span.greatest


def test_measured_rate_has_no_tolerance() -> None:
    """Only length and plug are left: 2 % of 34 and 0.25, times the rate."""
    made = tool({"springs.0.rate_N_per_mm": 1.5})
    band = force_bands(made)[0]
    assert band.preload_N.greatest - band.preload_N.nominal == pytest.approx(1.5 * (0.68 + 0.25))


def test_plug_depths_bring_the_preload_back() -> None:
    made = tool()
    curves = extreme_curves(made)
    assert curves is not None
    for band in force_bands(made):
        o = band.orientation
        for curve, sunk_mm in zip(
            curves, (band.sunk_weakest_mm, band.sunk_stiffest_mm), strict=True
        ):
            room_mm = o.room_extended_mm - (sunk_mm - plug_of(made.parameters).sunk_mm)
            assert curve.force_N(room_mm) == pytest.approx(o.preload_N)
        assert band.sunk_stiffest_mm < plug_of(made.parameters).sunk_mm < band.sunk_weakest_mm


def test_plug_lies_between_the_draw_bar_and_the_end_of_its_thread() -> None:
    """12 mm of draw-bar and at least 1 mm of room; the thread as deep as it is told to be."""
    made = tool({"plug.tapped_mm": 24.0})
    assert made.parameters.plug is not None
    reach = plug_range(made, made.parameters.plug)
    assert reach.least_mm == 13.0
    assert reach.greatest_mm == 16.0


def test_thread_lets_the_weakest_springs_have_the_nominal_preload() -> None:
    """23 mm to the plug's face; 0.68 mm shorter and 10 % softer: 10.2 / 1.459 x (1 / 0.9 - 1)."""
    made = tool()
    need_mm = 0.68 + made.orientations[0].preload_N / made.rate_N_per_mm * (1 / 0.9 - 1)
    assert 1.0 < need_mm < 1.5
    assert made.parameters.plug is not None
    assert plug_of(made.parameters).tapped_mm == 24.5
    assert "plug.tapped_mm" in made.derived


def test_thread_is_no_deeper_than_the_tap_reaches_but_holds_the_plug() -> None:
    """A pitch of 1.5 mm of lead goes ahead of the full thread."""
    assert plug_of(tool({"workshop.tap_reach_mm": 25.5}).parameters).tapped_mm == 24.0
    assert plug_of(tool({"workshop.tap_reach_mm": 10.0}).parameters).tapped_mm == 23.0


def test_worst_margin_of_a_row_is_that_of_one_weak_spring_among_stiff_ones() -> None:
    made = tool(ROW)
    room_mm = made.orientations[0].room_compressed_mm - 0.25 - made.separators_mm
    found = least_margin_mm(made, 0, 0.0)
    worst = min(
        first.length_mm(stack.in_series([first, second]).force_N(room_mm))
        for first, second in product(*(_ends(made, place) for place in (0, 1)))
    )
    assert found == pytest.approx(worst)


def _ends(made: Tool, place: int) -> list[stack.Curve]:
    one = made.springs[place]
    return [
        stack.coil(
            free_mm=one.free_mm * free,
            solid_mm=one.solid_mm,
            rate_N_per_mm=one.rate_N_per_mm * rate,
        )
        for free, rate in product((0.98, 1.0, 1.02), (0.9, 1.0, 1.1))
    ]


def test_a_spring_that_may_be_solid_at_rest_has_no_band() -> None:
    made = tool({"springs.0.free_mm": 11.4, "springs.0.rate_N_per_mm": 1.0})
    assert extreme_curves(made) is None
    band = force_bands(made)[0]
    assert band.preload_N.least != band.preload_N.least
    assert finding(made, "preload with tolerances", "point out").verdict == "fail"
