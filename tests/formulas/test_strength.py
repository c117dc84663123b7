"""Energy, blow, pin and shut-in air against textbook examples."""

from __future__ import annotations

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas import pin, strength
from tests.cases import Printed
from tests.formulas.quantities import NAN, forces, lengths, ratios, steady


def test_spring_energy_drives_the_published_toy_car() -> None:
    """OpenStax, College Physics, chapter 7: 250.0 N/m, 4.00 cm, 0.100 kg, 2.00 m/s."""
    energy_J = strength.spring_energy_J(rate_N_per_mm=0.2500, from_mm=0, to_mm=40.0)
    assert sqrt(2 * energy_J / 0.100) == Printed("2.00")


def test_impact_compresses_the_published_bumping_post() -> None:
    """A textbook problem: 545 kN at 5.4 m/s against 8.0 MN/m, 450 mm of compression."""
    force_N = strength.impact_force_N(energy_J=545e3 / 9.81 * 5.4**2 / 2, stiffness_N_per_mm=8.0e3)
    assert force_N / 8.0e3 == Printed("450")


@pytest.mark.parametrize(
    ("force_N", "diameter_mm", "published"),
    [(75_000, 20, "238.73"), (95.03, 11, "1.000")],
)
def test_pin_shear_is_the_published_one(force_N: float, diameter_mm: float, published: str) -> None:
    """Two bolts of 20 mm share 150 kN (a problem page); a pin of 11 mm has 95.03 mm2 (Philpot)."""
    assert strength.pin_shear_MPa(force_N=force_N, diameter_mm=diameter_mm) == Printed(published)


@given(forces, lengths, lengths)
def test_a_push_at_the_end_bends_as_twice_as_much_spread_along(
    force_N: float, arm_mm: float, diameter_mm: float
) -> None:
    """The resultant of a load spread along a cantilever acts at the middle of its span."""
    spread_MPa = pin.bending_MPa(
        force_N=2 * force_N, diameter_mm=diameter_mm, span_mm=arm_mm, one_wall=True
    )
    found_MPa = strength.cantilever_MPa(force_N=force_N, arm_mm=arm_mm, diameter_mm=diameter_mm)
    assert found_MPa == pytest.approx(spread_MPa)


@pytest.mark.parametrize("wrong", [{"force_N": -1.0}, {"arm_mm": -1.0}, {"diameter_mm": 0.0}])
def test_no_bar_is_bent_by_what_cannot_be(wrong: dict[str, float]) -> None:
    with pytest.raises(ValueError, match=next(iter(wrong))):
        strength.cantilever_MPa(**{"force_N": 1.0, "arm_mm": 1.0, "diameter_mm": 1.0, **wrong})


@pytest.mark.parametrize(
    ("atmosphere_kPa", "volume_mm3", "swept_mm3", "published"),
    [(13.0, 15.0, 7.5, "26"), (100.0, 10.0, 6.0, "250")],
)
def test_shut_in_air_obeys_the_published_law(
    atmosphere_kPa: float, volume_mm3: float, swept_mm3: float, published: str
) -> None:
    """Two problems on Boyle's law: 13.0 psi from 15.0 to 7.5 mL; 100 kPa from 10 to 4 mL."""
    over_kPa = strength.air_pressure_kPa(
        volume_mm3=volume_mm3, swept_mm3=swept_mm3, atmosphere_kPa=atmosphere_kPa
    )
    assert atmosphere_kPa + over_kPa == Printed(published)


def test_shut_in_air_pushes_back_with_several_newtons() -> None:
    """Bore 8, chamber 29, stroke 12, 14 coils of 0.8 wire in it: 85 kPa and 4.3 N, computed.

    A cross-check by another hand, not a published figure.
    """
    area_mm2 = pi / 4 * 8**2
    wire_mm3 = 14 * pi * 6.2 * pi / 4 * 0.8**2
    over_kPa = strength.air_pressure_kPa(
        volume_mm3=29 * area_mm2 - wire_mm3, swept_mm3=12 * area_mm2
    )
    assert over_kPa == Printed("85")
    assert over_kPa * area_mm2 / 1000 == Printed("4.3")


@pytest.mark.parametrize(
    ("energy_J", "tip_mm"), [(0.12, 2.0), (0.30, 2.5), (0.63, 3.0), (1.16, 3.5)]
)
def test_energies_that_shear_a_tip_at_500_are_those_computed_by_another_hand(
    energy_J: float, tip_mm: float
) -> None:
    """A cross-check, not a published figure; the stiffness behind it is judgement."""
    stress = strength.pin_shear_MPa(
        force_N=strength.impact_force_N(energy_J=energy_J, stiffness_N_per_mm=1e4),
        diameter_mm=tip_mm,
    )
    assert stress == pytest.approx(500, rel=0.02)


@steady
@given(ratios, lengths, lengths, lengths)
def test_energy_adds_up_along_the_way(rate: float, one: float, two: float, three: float) -> None:
    first, middle, last = sorted((one, two, three))
    parts = [
        strength.spring_energy_J(rate_N_per_mm=rate, from_mm=start, to_mm=end)
        for start, end in ((first, middle), (middle, last), (first, last))
    ]
    assert parts[0] + parts[1] == pytest.approx(parts[2])


@steady
@given(ratios, lengths, lengths)
def test_energy_is_mean_force_times_way(rate: float, one: float, other: float) -> None:
    start, end = sorted((one, other))
    energy_J = strength.spring_energy_J(rate_N_per_mm=rate, from_mm=start, to_mm=end)
    assert energy_J == pytest.approx(rate * (start + end) / 2 * (end - start) / 1000)


@steady
@given(st.floats(0.0, 5.0), st.floats(100.0, 1e6))
def test_the_stop_takes_up_the_whole_energy(energy_J: float, stiffness: float) -> None:
    force_N = strength.impact_force_N(energy_J=energy_J, stiffness_N_per_mm=stiffness)
    stored_J = strength.spring_energy_J(
        rate_N_per_mm=stiffness, from_mm=0, to_mm=force_N / stiffness
    )
    assert stored_J == pytest.approx(energy_J)


@steady
@given(forces, lengths, ratios)
def test_scaling_a_pin_and_its_force_keeps_the_stress(
    force_N: float, diameter_mm: float, scale: float
) -> None:
    small, large = (
        strength.pin_shear_MPa(force_N=size**2 * force_N, diameter_mm=size * diameter_mm)
        for size in (1.0, scale)
    )
    assert large == pytest.approx(small)


@steady
@given(lengths, st.floats(0.0, 0.99))
def test_pressure_times_volume_is_kept(volume_mm3: float, share: float) -> None:
    outside_kPa = strength.STANDARD_ATMOSPHERE_KPA
    over_kPa = strength.air_pressure_kPa(volume_mm3=volume_mm3, swept_mm3=share * volume_mm3)
    left_mm3 = volume_mm3 * (1 - share)
    assert (outside_kPa + over_kPa) * left_mm3 == pytest.approx(outside_kPa * volume_mm3)


@pytest.mark.parametrize(
    ("rate", "start", "end"), [(0, 0, 1), (1, -1, 1), (1, 2, 1), (NAN, 0, 1), (1, 0, NAN)]
)
def test_energy_refuses_what_cannot_be(rate: float, start: float, end: float) -> None:
    with pytest.raises(ValueError, match="rate_N_per_mm"):
        strength.spring_energy_J(rate_N_per_mm=rate, from_mm=start, to_mm=end)


@pytest.mark.parametrize(("energy_J", "stiffness"), [(-0.1, 1), (0.1, 0), (NAN, 1), (0.1, NAN)])
def test_impact_refuses_what_cannot_be(energy_J: float, stiffness: float) -> None:
    with pytest.raises(ValueError, match="energy_J"):
        strength.impact_force_N(energy_J=energy_J, stiffness_N_per_mm=stiffness)


@pytest.mark.parametrize(("force_N", "diameter_mm"), [(-1, 2), (1, 0), (NAN, 2), (1, NAN)])
def test_pin_refuses_what_cannot_be(force_N: float, diameter_mm: float) -> None:
    with pytest.raises(ValueError, match="force_N"):
        strength.pin_shear_MPa(force_N=force_N, diameter_mm=diameter_mm)


@pytest.mark.parametrize(
    ("volume_mm3", "swept_mm3", "atmosphere_kPa"),
    [(10, 10, 100), (10, 11, 100), (10, -1, 100), (10, 5, 0), (NAN, 5, 100), (10, NAN, 100)],
)
def test_air_must_have_room_left(
    volume_mm3: float, swept_mm3: float, atmosphere_kPa: float
) -> None:
    with pytest.raises(ValueError, match="volume_mm3"):
        strength.air_pressure_kPa(
            volume_mm3=volume_mm3, swept_mm3=swept_mm3, atmosphere_kPa=atmosphere_kPa
        )
