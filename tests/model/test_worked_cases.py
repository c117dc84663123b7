"""Tools worked by hand: computed check values, each from the geometry and k = G d^4 / (8 D^3 n)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import pytest

from generator.checks.retention import snap
from generator.checks.springs import solid_margins_mm
from generator.formulas import strength
from generator.model.tool import Orientation, Tool
from tests.cases import Printed
from tests.tools import REMOVED, finding, tool

MILL: Final[dict[str, Any]] = {"plunger.diameter_mm": 7.99, "plunger.rear.chamfer_mm": 0.5}
"""MT2, draw-bar M10; bore 8, plunger 7.99, M4 long dog in a slot 3 x 14.5, 0.8 wire."""

TAILSTOCK: Final[dict[str, Any]] = {
    "mount": {"kind": "morse ejected", "size": "MT1", "extension_length_mm": 0.0},
    "machine.ejection_depth_mm": 50.0,
    "body.nose_diameter_mm": 14.0,
    "body.nose_length_mm": 19.0,
    "bore.diameter_mm": 5.0,
    "plunger.diameter_mm": 5.0,
    "plunger.length_mm": 47.0,
    "plunger.rear": {"style": "countersink", "mouth_mm": 4.3},
    "slot": {"length_mm": 12.0, "width_mm": 2.5, "depth_mm": 1.4, "front_mm": 17.5},
    "set_screw": {"thread": "M3", "position_mm": 13.5},
    "springs": [{"wire_mm": 0.55, "outside_mm": 4.3, "free_mm": 33.0, "active_coils": 20.0}],
    "button.thickness_mm": 1.5,
    "plug": {"thread": "M6", "length_mm": 8.0, "sunk_mm": 8.0},
}
"""MT1 tailstock, bore 5 that is also the hole of the M6 thread, M3 long dog, 0.55 wire."""

PICK_UP: Final[dict[str, Any]] = {
    "mount": {"kind": "straight", "diameter_mm": 16.0, "length_mm": 45.0},
    "body.nose_diameter_mm": 16.0,
    "body.nose_length_mm": 18.0,
    "bore.diameter_mm": 5.0,
    "plunger.diameter_mm": 4.99,
    "plunger.length_mm": 38.4,
    "plunger.rear": {"style": "countersink", "mouth_mm": 4.3, "chamfer_mm": 0.5},
    "slot": {"length_mm": 10.0, "width_mm": 2.5, "depth_mm": 1.4, "front_mm": 14.2},
    "set_screw": {"thread": "M3", "position_mm": 11.5},
    "springs": [{"wire_mm": 0.4, "outside_mm": 4.2, "free_mm": 32.0, "active_coils": 16.0}],
    "button.thickness_mm": 1.5,
    "plug": {"thread": "M6", "length_mm": 7.5, "sunk_mm": 0.5},
}
"""A pick-up centre on a straight 16 mm shank, plunger 4.99 in 5, a soft spring."""


@dataclass(frozen=True, slots=True)
class Worked:
    """What a hand gets for a tool; a figure stands for itself within half its last digit."""

    changes: dict[str, Any]
    travel_mm: str
    projections_mm: tuple[str, str]
    rooms_mm: tuple[str, str]
    rate_N_per_mm: str
    forces_N: tuple[str, str]
    margin_mm: str
    least_gap_mm: str
    land_mm: str
    snap_J: str
    guide_ratios: tuple[str, str]


CASES: Final = {
    "mill": Worked(
        MILL,
        travel_mm="12",
        projections_mm=("21", "9"),
        rooms_mm=("27", "15"),
        rate_N_per_mm="1.459",
        forces_N=("10.2", "27.7"),
        margin_mm="3.24",
        least_gap_mm="1.82",
        land_mm="2.75",
        snap_J="0.228",
        guide_ratios=("5.07", "4.27"),
    ),
    "tailstock": Worked(
        TAILSTOCK,
        travel_mm="10",
        projections_mm=("15", "5"),
        rooms_mm=("26.5", "16.5"),
        rate_N_per_mm="0.884",
        forces_N=("5.7", "14.6"),
        margin_mm="3.79",
        least_gap_mm="1.87",
        land_mm="2.5",
        snap_J="0.102",
        guide_ratios=("6.3", "5.53"),
    ),
    "pick-up": Worked(
        PICK_UP,
        travel_mm="8",
        projections_mm=("11.7", "3.7"),
        rooms_mm=("26.8", "18.8"),
        rate_N_per_mm="0.297",
        forces_N=("1.54", "3.92"),
        margin_mm="11.24",
        least_gap_mm="1.51",
        land_mm="2.5",
        snap_J="0.022",
        guide_ratios=("5.25", "4.48"),
    ),
}
every_case = pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())


def point_out(made: Tool) -> Orientation:
    return next(o for o in made.orientations if o.outer.tip.style == "point")


@every_case
def test_travel_and_projections(case: Worked) -> None:
    made = tool(case.changes)
    for o in made.orientations:
        assert o.travel_mm == Printed(case.travel_mm)
        assert o.projection_extended_mm == Printed(case.projections_mm[0])
        assert o.projection_compressed_mm == Printed(case.projections_mm[1])


@every_case
def test_room_and_forces(case: Worked) -> None:
    made = tool(case.changes)
    assert made.rate_N_per_mm == Printed(case.rate_N_per_mm)
    for o in made.orientations:
        assert o.room_extended_mm == Printed(case.rooms_mm[0])
        assert o.room_compressed_mm == Printed(case.rooms_mm[1])
        assert o.preload_N == Printed(case.forces_N[0])
        assert o.full_force_N == Printed(case.forces_N[1])


@every_case
def test_margin_over_the_solid_length(case: Worked) -> None:
    made = tool(case.changes)
    assert solid_margins_mm(made)[0] == Printed(case.margin_mm)
    assert made.springs[0].least_gap_mm == Printed(case.least_gap_mm)


@every_case
def test_land_in_front_of_the_slot(case: Worked) -> None:
    assert finding(tool(case.changes), "land in front of the slot").value == Printed(case.land_mm)


@every_case
def test_energy_of_the_snap_and_its_stress(case: Worked) -> None:
    made = tool(case.changes)
    o = point_out(made)
    energy_J = made.energy_J(o.full_force_N) - made.energy_J(o.preload_N)
    assert energy_J == Printed(case.snap_J)
    found = {one.limit.name: one for one in snap(made)}
    assert found["ends of the slot relieved"].value == pytest.approx(energy_J)
    blow_N = strength.impact_force_N(energy_J=energy_J, stiffness_N_per_mm=1e4)
    stress_MPa = blow_N / (3.14159265 * made.across_mm**2 / 4)
    assert found["snap on the screw tip"].value == pytest.approx(stress_MPa)


@every_case
def test_guided_length(case: Worked) -> None:
    """The hand took a chamfer of 0.5 at the countersink, a sharp cone, and no bevel at the nose."""
    made = tool({**case.changes, "plunger.rear.chamfer_mm": 0.5})
    ratios = {o.outer.tip.style: o.guide_ratio for o in made.orientations}
    assert ratios["point"] == Printed(case.guide_ratios[0])
    assert ratios["countersink"] == Printed(case.guide_ratios[1])


def test_solid_length_and_stress_of_the_mill_tool() -> None:
    """Lc 14 coils of 0.8; tau = 8 F D / (pi d^3), 0.37 of music wire's 2211 / d^0.145."""
    made = tool(MILL)
    spring = made.springs[0]
    assert spring.solid_mm == Printed("11.2")
    stress_MPa = spring.stress_MPa(point_out(made).full_force_N)
    assert stress_MPa / (2211 / 0.8**0.145) == Printed("0.37")


def test_short_position_of_the_screw_shows_the_slot_and_moves_the_reach() -> None:
    made = tool({**MILL, "set_screw.position_mm": 11.0})
    o = point_out(made)
    assert (o.projection_extended_mm, o.projection_compressed_mm) == (26, 14)
    found = finding(made, "land in front of the slot")
    assert found.value == -2.25
    assert found.verdict == "warn"
    assert "15.25 mm" in found.advice
    assert "2.25 mm of it shows" in found.advice


def test_reversing_without_a_button_loses_most_of_the_preload() -> None:
    """The spring slides over the cone: 10.2 N becomes 3.4 N. Computed check value.

    Inside diameter 5.4 on a sharp 60 degree cone: 2.7 / tan 30 = 4.68 further in.
    """
    made = tool({**MILL, "button": REMOVED, "plug.sunk_mm": 17.0})
    forces = {o.inner.tip.style: o.preload_N for o in made.orientations}
    seats = {o.inner.tip.style: o.seat_mm for o in made.orientations}
    assert seats["point"] == Printed("4.68")
    assert forces["countersink"] == Printed("10.2")
    assert forces["point"] == Printed("3.4")
    assert finding(made, "difference of the preloads").verdict == "fail"
    assert finding(made, "flat seat for the springs").verdict == "warn"


def test_recess_in_the_button_lets_the_point_in() -> None:
    """Recess 3, flat 0.4, rate 1.46: the preloads differ by 3.3 N. Computed check value."""
    changes = {"plunger.front.flat_mm": 0.4, "button.recess_mm": 3.0, "button.thickness_mm": 4.0}
    made = tool({**changes, "plug.sunk_mm": 17.0})
    one, other = sorted(o.preload_N for o in made.orientations)
    assert other - one == Printed("3.3")


def test_reamed_bore_is_the_hole_of_the_rear_thread() -> None:
    """5 mm lies between 4.917 and 5.153, the limits of M6 6H in ISO 965-1; 92 % of the height."""
    made = tool(TAILSTOCK)
    assert finding(made, "thread height in the rear hole").value == Printed("92")
    assert finding(made, "relief of the rear thread over the bore").verdict == "warn"
    assert finding(made, "wall over the rear thread").value == Printed("1.70")


def test_fourteen_is_within_the_limits_of_m16() -> None:
    """13.835 to 14.210, ISO 965-1 class 6H."""
    m16 = {
        "mount": {"kind": "straight", "diameter_mm": 25.0, "length_mm": 60.0},
        "plug.thread": "M16",
    }
    for bore_mm, relief in ((14.0, 0.0), (13.83, pytest.approx(0.17))):
        made = tool({**m16, "bore.diameter_mm": bore_mm})
        assert finding(made, "relief of the rear thread over the bore").value == relief


def test_side_walls_begin_below_the_outside() -> None:
    """Sagitta of 3 in 8: 0.29; 4 in 8: 0.54; 2.5 in 5: 0.335. Computed check values."""
    for diameter_mm, width_mm, start in ((8, 3, "0.29"), (8, 4, "0.54"), (5, 2.5, "0.335")):
        made = tool({"plunger.diameter_mm": float(diameter_mm), "slot.width_mm": float(width_mm)})
        assert 1.3 - finding(made, "side engagement of the screw tip").value == Printed(start)
