from math import pi

import pytest

from generator.documents.profiles import slot_profile, turning_profile
from generator.model.part import Part
from tests.documents.samples import button, morse_body, plug, plunger, straight_body

PARTS = [morse_body(), straight_body(), plunger(), plunger(front="countersink"), plug(), button()]


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_half_profile_turned_about_its_axis_is_the_part(part: Part) -> None:
    # Pappus: volume = 2 pi times the first moment of the profile, here by the polygon formula
    points = [(x, y) for x, y, _ in turning_profile(part, "x").vertices]
    moment = sum(
        (x1 * y2 - x2 * y1) * (y1 + y2) / 6
        for (x1, y1), (x2, y2) in zip(points, [*points[1:], points[0]], strict=True)
    )
    assert abs(2 * pi * moment) == pytest.approx(part.outline.volume_mm3, rel=1e-9)


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_face_is_at_zero_and_material_lies_toward_minus_x(part: Part) -> None:
    vertices = turning_profile(part, "x").vertices
    assert max(x for x, _, _ in vertices) == 0.0
    assert min(x for x, _, _ in vertices) == pytest.approx(-part.outline.length_mm)
    assert min(y for _, y, _ in vertices) >= 0.0


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_no_vertex_repeats(part: Part) -> None:
    vertices = turning_profile(part, "x").vertices
    assert len(set(vertices)) == len(vertices)


def test_slot_is_a_stadium_of_its_length_and_width() -> None:
    profile = slot_profile(plunger(), "slot")
    (x1, y1, straight), (x2, y2, bulge), (x3, y3, _), (_, _, back) = profile.vertices
    assert (straight, bulge, back) == (0.0, 1.0, 1.0)  # bulge 1 is a half circle
    assert x2 + 1.5 == pytest.approx(-23.75)
    assert x1 - 1.5 == pytest.approx(-23.75 - 14.5)
    assert (y1, y2, y3) == (-1.5, -1.5, 1.5)
    assert x2 == x3


def test_part_without_a_slot_has_no_slot_profile() -> None:
    with pytest.raises(ValueError, match="no slot"):
        slot_profile(button(), "slot")
