"""A pin across a slot: what the slot leaves of the bar, how the pin bends."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.pin import bending_MPa, net_section_share


@pytest.mark.parametrize(
    ("width_mm", "diameter_mm", "share"), [(3, 8, 0.53), (2.5, 8, 0.61), (4, 12, 0.58)]
)
def test_net_section_against_integration(width_mm: float, diameter_mm: float, share: float) -> None:
    """Geometry: chords of a disc added up by the trapezoidal rule."""
    steps, r = 20000, diameter_mm / 2
    xs = [width_mm / 2 + (r - width_mm / 2) * i / steps for i in range(steps + 1)]
    chords = [2 * max(r * r - x * x, 0.0) ** 0.5 for x in xs]
    half = (sum(chords) - (chords[0] + chords[-1]) / 2) * (r - width_mm / 2) / steps
    found = net_section_share(diameter_mm=diameter_mm, width_mm=width_mm)
    assert found == pytest.approx(2 * half / (pi * r * r), abs=1e-5)
    assert found == pytest.approx(share, abs=0.006)


def test_net_section_of_the_segment_table() -> None:
    """Machinery's Handbook, table of circular segments: 120 degrees, radius 1, area 0.6142."""
    assert net_section_share(diameter_mm=2, width_mm=1) == pytest.approx(2 * 0.61418 / pi, abs=1e-5)


def test_net_section_at_its_ends() -> None:
    assert net_section_share(diameter_mm=8, width_mm=0) == 1
    assert net_section_share(diameter_mm=8, width_mm=8) == pytest.approx(0, abs=1e-12)


@given(st.floats(0.5, 50), st.floats(0, 1), st.floats(0, 1))
def test_a_wider_slot_leaves_less(diameter_mm: float, one: float, other: float) -> None:
    narrow, wide = sorted((one, other))
    shares = [
        net_section_share(diameter_mm=diameter_mm, width_mm=diameter_mm * each)
        for each in (narrow, wide)
    ]
    assert shares[0] >= shares[1] - 1e-12


def test_bending_of_beams_with_uniform_load() -> None:
    """Textbooks on beams: W l / 12 built in at both ends, W l / 2 at one; Z of a circle 0.0982 d^3.

    100 N over 8 mm on a 3 mm pin: 66.7 and 400 N mm over 2.651 mm3.
    """
    load = {"force_N": 100.0, "diameter_mm": 3.0, "span_mm": 8.0}
    assert bending_MPa(**load, one_wall=False) == pytest.approx(66.667 / 2.6507, rel=1e-4)
    assert bending_MPa(**load, one_wall=True) == pytest.approx(400 / 2.6507, rel=1e-4)


@pytest.mark.parametrize(
    "wrong",
    [{"diameter_mm": 0.0}, {"width_mm": -0.1}, {"width_mm": 8.1}, {"diameter_mm": float("nan")}],
)
def test_impossible_slots_are_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(ValueError, match="diameter_mm"):
        net_section_share(**{"diameter_mm": 8.0, "width_mm": 3.0, **wrong})


@pytest.mark.parametrize("wrong", [{"force_N": -1.0}, {"diameter_mm": 0.0}, {"span_mm": 0.0}])
def test_impossible_pins_are_refused(wrong: dict[str, float]) -> None:
    load = {"force_N": 1.0, "diameter_mm": 1.0, "span_mm": 1.0, **wrong}
    with pytest.raises(ValueError, match="force_N"):
        bending_MPa(**load, one_wall=False)
