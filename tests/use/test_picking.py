"""Finding a place: what the mean of two readings leaves, how the point sits, what it presses."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from math import cos, hypot, pi, sin, sqrt, tau
from pathlib import Path
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.assemblies import Chain, spreads
from generator.inputs.profile import parameters_from
from generator.model.tool import design
from generator.use.alignment import CLEARANCE_KEY
from generator.use.picking import SHARPEST_MM, TURNS, Pick, picks
from tests.checks.limit_cases import PICK_UP
from tests.tools import changed, finding, tool


def pick(changes: Mapping[str, Any] = {}) -> Pick:
    (found,) = picks(tool({**PICK_UP, **changes}))
    return found


def anywhere(random: Random, radius: float) -> complex:
    """Return a vector spread evenly over a disc."""
    angle = random.uniform(0, tau)
    return radius * sqrt(random.random()) * complex(cos(angle), sin(angle))


def test_no_other_tool_picks_up() -> None:
    assert picks(tool()) == ()


def test_two_readings_half_a_turn_apart_are_free_of_what_turns() -> None:
    """Each reading is worked through as vectors; the mean is what the chain of the rest allows."""
    one, random, mean_mm = pick(), Random(7), []
    turning = [term for term in one.terms if term.turns]
    still = [t for t in one.terms if not t.turns and t.key != "pick_up.reading_mm"]
    (reading,) = (term for term in one.terms if term.key == "pick_up.reading_mm")
    for _ in range(20_000):
        turns = sum(anywhere(random, term.most_mm) for term in turning)
        stays = sum(anywhere(random, term.most_mm) for term in still)
        first = stays + turns + anywhere(random, reading.most_mm)
        second = stays - turns + anywhere(random, reading.most_mm)
        mean_mm.append(abs(first + second) / 2)
    mean_mm.sort()
    assert mean_mm[len(mean_mm) // 2] == pytest.approx(one.left_mm.half, rel=0.02)
    assert mean_mm[int(0.95 * len(mean_mm))] == pytest.approx(one.left_mm.most, rel=0.02)
    assert mean_mm[-1] <= one.left_mm.worst


def test_one_reading_against_a_million_drawn_at_random() -> None:
    one = pick()
    (drawn,) = spreads([Chain((0.0, 0.0), tuple(term.most_mm for term in one.terms))])
    assert drawn.quantiles[1] == pytest.approx(one.once_mm.most, rel=0.003)


def test_terms_are_those_worked_by_hand() -> None:
    """A plunger of 8 h8 in 8 H7, 21 out and guided over 40.6; bore 0.01, slope 0.02 in 100."""
    one = pick()
    most = {term.key: term.most_mm for term in one.terms}
    o = one.orientation
    clearance_mm = (0.015 + 0.022) * (0.5 + o.projection_extended_mm / o.guide_mm)
    assert most[CLEARANCE_KEY] == pytest.approx(clearance_mm)
    assert most["alignment.slope_mm"] == pytest.approx(0.02 * 50 / 100)
    assert most["pick_up.reading_mm"] == 0.05
    assert most["pick_up.form_mm"] == 0.01
    assert one.left_mm.worst == pytest.approx(0.05 + 0.01 + 0.01)
    assert one.left_mm.rss == pytest.approx(hypot(0.025, 0.025, 0.01, 0.01))


@given(st.sampled_from([key for key in TURNS if key != CLEARANCE_KEY]), st.floats(0.001, 5))
def test_no_error_that_turns_is_left(key: str, size_mm: float) -> None:
    assert pick({key: size_mm}).left_mm == pick().left_mm


def test_by_feel_the_clearance_is_left() -> None:
    eye, feel = (
        pick({"pick_up.reading_mm": 0.05}),
        pick({"pick_up.reading_mm": 0.05, "pick_up.read_by": "feel"}),
    )
    assert feel.once_mm.worst == pytest.approx(eye.once_mm.worst)
    (clearance,) = (term for term in feel.terms if term.key == CLEARANCE_KEY)
    assert feel.left_mm.worst == pytest.approx(eye.left_mm.worst + clearance.most_mm)


@pytest.mark.parametrize(
    ("changes", "rests", "contact_mm", "deep_mm"),
    [
        ({}, "rim", 4.0, (4.0 - 0.3) / 2 * sqrt(3)),
        ({"pick_up.target": "punch mark", "pick_up.width_mm": 2.0}, "bottom", 0.3, 0.85),
        (
            {
                "pick_up.target": "punch mark",
                "pick_up.width_mm": 2.0,
                "pick_up.mark_angle_deg": 50.0,
            },
            "rim",
            2.0,
            0.85 * sqrt(3),
        ),
        ({"pick_up.width_mm": 0.2}, "rim", 0.2, 0.0),
    ],
)
def test_where_the_point_rests(
    changes: dict[str, Any], rests: str, contact_mm: float, deep_mm: float
) -> None:
    """A point of 60 degrees in a hole, in marks of 90 and 50 degrees, and over too small a hole."""
    one = pick(changes)
    assert (one.rests, one.contact_mm) == (rests, contact_mm)
    assert one.deep_mm == pytest.approx(deep_mm)


def test_pressure_is_that_of_the_flat() -> None:
    one = pick({"plunger.front.flat_mm": 0.2})
    assert one.pressure_MPa == pytest.approx(one.orientation.full_force_N / (pi * 0.1**2))
    sharp = pick({"plunger.front.flat_mm": 0.0})
    assert sharp.pressure_MPa == pytest.approx(
        sharp.orientation.full_force_N / (pi / 4 * SHARPEST_MM**2)
    )


def test_softer_work_bears_less() -> None:
    steel, copper = (
        finding(tool({**PICK_UP, "pick_up.work": work}), "pressure of the tip on the work")
        for work in ("low-carbon steel", "copper")
    )
    assert copper.value == pytest.approx(steel.value * 210 / 69)


def test_both_ends_of_a_plunger_with_two_points_are_judged() -> None:
    found = picks(tool({**PICK_UP, "plunger.rear": {"style": "point"}}))
    assert [one.side for one in found] == ["plunger.front", "plunger.rear"]


def test_a_light_tool_worked_by_hand() -> None:
    """Slot 10 on a dog of 2: travel 8; 0.4 wire, 3.8 mean, 16 coils: k = G d^4/(8 D^3 n)."""
    path = Path(__file__).parents[2] / "profiles" / "pick-up-16.toml"
    table = changed(
        tomllib.loads(path.read_text("utf-8")),
        {"plunger.length_mm": 38.4, "slot.front_mm": 14.2, "plug.sunk_mm": 3.5},
    )
    made = design(parameters_from(table, "case"))
    (o,) = made.orientations
    assert made.plug_face_mm == pytest.approx(55.0)
    assert o.travel_mm == pytest.approx(8.0)
    assert (o.projection_extended_mm, o.projection_compressed_mm) == pytest.approx((11.7, 3.7))
    assert (o.room_extended_mm, o.room_compressed_mm) == pytest.approx((26.8, 18.8))
    rate_N_per_mm = 81.5e3 * 0.4**4 / (8 * 3.8**3 * 16)
    assert o.rate_N_per_mm == pytest.approx(rate_N_per_mm, rel=1e-3)
    assert o.preload_N == pytest.approx(1.54, abs=0.01)
    assert o.full_force_N == pytest.approx(3.92, abs=0.01)
