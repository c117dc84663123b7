from dataclasses import replace
from itertools import pairwise
from math import cos, pi, radians, sin, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.documents.coil_picture import Coil, coil_of
from generator.documents.layout import Array
from generator.documents.part_edges import ring
from generator.documents.sight import Solid
from generator.model.outline import Corner, Outline
from generator.model.part import (
    CrossHole,
    Cut,
    DriverSlot,
    HexSocket,
    Part,
    SideFlat,
    Slot,
)
from generator.model.springs import CoilSpring
from tests import tools
from tests.documents import samples

EYE = np.array([1.0, 1.0, 1.0])
UP = np.array([0.0, 1.0, 0.0])


def turned(*corners: tuple[float, float], cuts: tuple[Cut, ...] = ()) -> Part:
    return Part("part", "Part", Outline(tuple(Corner(z, r) for z, r in corners)), "", 7.85, cuts)


PIN = turned((0, 0), (0, 5), (40, 5), (40, 0))
TUBE = turned((0, 3), (0, 5), (40, 5), (40, 3))


def hidden(part: Part, *points: tuple[float, float, float], eye: Array = EYE) -> list[bool]:
    return [bool(flag) for flag in Solid(part, eye).hides(np.array(points, dtype=float))]


def test_what_stands_behind_a_cylinder_is_hidden_and_what_stands_before_it_is_not() -> None:
    behind, before, beside, beyond = (-20, -20, 0), (20, 20, 40), (0, 20, 0), (-20, -20, 60)
    assert hidden(PIN, behind, before, beside, beyond) == [True, False, False, False]


def test_a_point_on_the_skin_is_hidden_by_the_far_side_only() -> None:
    """The skin turns away from the eye 90 degrees either side of the direction toward it."""
    angles = [radians(45 + off) for off in (-179, -91, -89, 0, 89, 91)]
    points = [(5 * cos(a), 5 * sin(a), 20.0) for a in angles]
    assert hidden(PIN, *points) == [True, True, False, False, False, True]


def test_the_bore_is_seen_through_its_mouth_as_far_as_the_rim_allows() -> None:
    """Down the far wall a ray at 45 degrees to both ways across rises sqrt(2) across per 1 along.

    From the wall farthest from the eye it crosses the bore of 6 in 6 / sqrt(2) of the length.
    """
    far = -3 / sqrt(2)
    limit = 40 - 6 / sqrt(2)
    assert hidden(TUBE, (far, far, limit + 0.01), (far, far, limit - 0.01)) == [False, True]
    assert hidden(TUBE, (-far, -far, 39.0)) == [True]


@pytest.mark.parametrize("off", [-1, 1])
def test_the_floor_of_a_slot_is_seen_through_the_slot_alone(off: int) -> None:
    part = replace(PIN, cuts=(Slot("slot", 10.0, 20.0, 4.0, 2.0),))
    assert hidden(part, (0.0, 3.0, 20.0), eye=UP) == [False]
    assert hidden(PIN, (0.0, 3.0, 20.0), eye=UP) == [True]
    assert hidden(part, (off * 2.01, 3.0, 20.0), (off * 1.99, 3.0, 20.0), eye=UP) == [True, False]
    round_end = (0.0, 3.0, 20.0 + off * 9.99), (0.0, 3.0, 20.0 + off * 10.01)
    assert hidden(part, *round_end, eye=UP) == [False, True]
    corner = (1.9, 3.0, 20.0 + off * 9.9)  # within the square end, not within the round one
    assert hidden(part, corner, eye=UP) == [True]


def test_a_radial_hole_opens_one_wall_only() -> None:
    part = replace(TUBE, cuts=(CrossHole("hole", 20.0, 3.0, "M4"),))
    bottom = (0.0, -3.0, 20.0)
    assert hidden(part, bottom, (1.49, -2.6, 20.0), (1.51, -2.6, 20.0), eye=UP) == [
        False,
        False,
        True,
    ]
    assert hidden(part, (0.0, -6.0, 20.0), eye=UP) == [True]
    assert hidden(part, (0.0, 3.0, 20.0), eye=-UP) == [True]


def test_a_slot_and_a_socket_are_open_to_the_rear() -> None:
    rear = np.array([0.0, 0.0, 1.0])
    slotted = replace(PIN, cuts=(DriverSlot("driver", 2.0, 3.0),))
    assert hidden(slotted, (4, 0.9, 37), (4, 1.1, 37), (0, 0, 36.9), eye=rear) == [
        False,
        True,
        True,
    ]
    socket = replace(PIN, cuts=(HexSocket("driver", 4.0, 3.0),))
    corner = 4 / sqrt(3)  # corners of a hexagon lie 1 / sqrt(3) of its width across flats out
    inside, outside = (corner - 0.01, 0, 37), (corner + 0.01, 0, 37)
    assert hidden(socket, inside, outside, eye=rear) == [False, True]
    assert hidden(socket, (0, 1.99, 37), (0, 2.01, 37), eye=rear) == [False, True]


def test_flats_are_seen_from_the_sides_away_from_the_cuts() -> None:
    part = replace(PIN, cuts=(SideFlat("flats", 0.0, 10.0, 4.0, both=True),))
    side = np.array([1.0, 0.0, 0.0])
    assert hidden(part, (4.0, 0.0, 5.0), (4.0, 0.0, 15.0), eye=side) == [False, True]
    assert hidden(part, (-4.0, 0.0, 5.0), eye=-side) == [False]
    assert hidden(part, (0.0, 4.0, 5.0), eye=UP) == [True]


PARTS = {
    "flatted": replace(PIN, cuts=(SideFlat("flats", 0.0, 10.0, 4.0, both=True),)),
    "body": samples.morse_body(),
    "plunger": samples.plunger(),
    "plug": samples.plug(),
    "socket plug": samples.plug(hexagon=True),
    "button": samples.button(recess=5.0, thickness=4.0),
}


@given(
    name=st.sampled_from(sorted(PARTS)),
    share=st.tuples(*[st.floats(-1.2, 1.2)] * 2, st.floats(-0.2, 1.2)),
    way=st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda w: np.hypot(np.hypot(*w[:2]), w[2]) > 0.1),
)
def test_a_point_is_hidden_if_a_walk_to_the_eye_meets_metal(
    name: str, share: tuple[float, float, float], way: tuple[float, float, float]
) -> None:
    """Walked in small steps; grazed metal, within a step, may count or not."""
    part = PARTS[name]
    r, length = part.outline.diameter_mm / 2, part.outline.length_mm
    point = np.array([share[0] * r, share[1] * r, share[2] * length])
    eye = np.array(way) / np.linalg.norm(way)
    solid = Solid(part, eye)
    steps = np.linspace(0.0, 2.5 * (r + length), 6000)
    metal = solid.holds(point + steps[:, None] * eye)
    if solid.hides(point[None])[0]:
        finer = np.linspace(0.0, steps[-1], 200_000)
        assert metal.any() or solid.holds(point + finer[:, None] * eye).any()
    else:
        assert metal.sum() <= 1


def spring(**changes: object) -> CoilSpring:
    return replace(tools.tool().springs[0], **changes)  # type: ignore[arg-type]  # names of fields


def wire(coil: Coil, point: Array) -> float:
    """Return how far a point is from the middle of the wire, looked for point by point."""
    n = int(np.linalg.norm(coil.centres_mm - point, axis=1).argmin())
    some = coil.centres_mm[max(0, n - 1) : n + 2]
    fine = np.concatenate([a + np.linspace(0, 1, 20)[:, None] * (b - a) for a, b in pairwise(some)])
    return float(np.linalg.norm(fine - point, axis=1).min())


@given(
    hand=st.sampled_from(["right", "left"]),
    ends=st.sampled_from(["closed and ground", "closed", "open", "open and ground"]),
    turn=st.floats(0.02, 0.98),
    around=st.floats(0, 2 * pi),
)
def test_a_point_on_the_wire_is_hidden_if_a_walk_to_the_eye_meets_wire(
    hand: str, ends: str, turn: float, around: float
) -> None:
    coil = coil_of(spring(hand=hand, ends=ends, total_coils=6.0), 20.0)
    n = round(turn * (len(coil.centres_mm) - 1))
    out = np.array([*coil.centres_mm[n, :2], 0.0]) / coil.mean_mm
    point = coil.centres_mm[n] + coil.radius_mm * (
        cos(around) * out + sin(around) * np.array([0.0, 0.0, 1.0])
    )
    walk = point + np.linspace(0.0, 20.0, 400)[:, None] * EYE / sqrt(3)
    walk = walk[(walk[:, 2] > coil.front_mm) & (walk[:, 2] < coil.rear_mm)]
    near = min((wire(coil, place) for place in walk[2:]), default=9.0) / coil.radius_mm
    if near < 0.9:
        assert coil.hides(point[None])[0]
    elif near > 1.05:
        assert not coil.hides(point[None])[0]


def test_a_ground_face_leaves_nothing_beyond_it() -> None:
    coil = coil_of(spring(ends="closed and ground", total_coils=6.0), 20.0)
    tip = coil.centres_mm[-1]
    assert tip[2] == pytest.approx(20.0)
    assert not coil.hides(tip[None] + np.array([[0.0, 0.0, 1e-6]]))[0]
    assert coil.hides(tip[None] - coil.radius_mm * EYE / sqrt(3))[0]


def test_a_ring_is_closed_and_an_arc_is_not() -> None:
    assert ring(3.0, 2.0).closed
    assert not ring(3.0, 2.0, (0.0, 3.0)).closed
    points = ring(3.0, 2.0).at(np.linspace(0, 2 * pi, 9))
    assert np.hypot(points[:, 0], points[:, 1]) == pytest.approx(2.0)
    assert points[0] == pytest.approx(points[-1])
