"""Every mount as one shank: lengths and diameters follow from its own figures."""

from __future__ import annotations

from math import pi, tan

import pytest

from generator.checks.finding import Verdict
from generator.inputs.profile import parameters_from
from generator.model import parts
from generator.model.shank import shank_of
from generator.model.tool import Tool, design
from tests.checks.limit_cases import OWN_EJECTED
from tests.inputs.test_mounts import DISC, STRAIGHT, TANG, THREAD
from tests.tools import BASE, changed, finding


def made(changes: dict[str, object]) -> Tool:
    return design(parameters_from(changed(BASE, changes), "worked-tool"))


COMBINED: dict[str, object] = {"mount": {"kind": "morse and straight", "size": "MT2"}, "plug": {}}
JACOBS: dict[str, object] = {
    **DISC,
    "mount": {"kind": "arbor taper", "taper": "JT33", "diameter_mm": 24.0},
}
EVERY: dict[str, dict[str, object]] = {
    "own": dict(OWN_EJECTED),
    "combined": COMBINED,
    "tang": TANG,
    "thread": THREAD,
    "jacobs": JACOBS,
    "blind straight": {**STRAIGHT, **DISC},
}


@pytest.mark.parametrize("name", EVERY)
def test_the_outline_is_as_long_and_as_wide_as_its_shank(name: str) -> None:
    tool = made(EVERY[name])
    shank, outline = shank_of(tool.parameters.mount), tool.body.outline
    assert outline.length_mm == pytest.approx(tool.parameters.body.nose_length_mm + shank.length_mm)
    just_behind_mm = tool.parameters.body.nose_length_mm + 1e-6
    assert 2 * outline.radius_at_mm(just_behind_mm, inside=False) == pytest.approx(
        max(shank.diameter_mm, tool.parameters.body.nose_diameter_mm), abs=3.0
    )
    assert outline.volume_mm3 > 0
    assert outline.shortest_mm > 0


def test_an_own_taper_has_the_rate_it_was_given() -> None:
    tool = made(EVERY["own"])
    run = tool.body.outline.surface("taper")
    assert (run.diameter_mm - run.small_diameter_mm) / run.length_mm == pytest.approx(0.05)
    assert run.diameter_mm == pytest.approx(18.0 + 5.0 * 0.05)


def test_a_combined_shank_passes_the_small_end_and_is_gripped_three_diameters() -> None:
    tool = made(COMBINED)
    shank = shank_of(tool.parameters.mount)
    assert shank.taper is not None
    assert shank.gripped is not None
    assert shank.gripped.diameter_mm <= shank.taper.small_diameter_mm - 0.5
    assert shank.gripped.grip_mm == pytest.approx(3 * shank.gripped.diameter_mm)


def test_the_disc_rests_on_the_cone_of_the_drill() -> None:
    """A 118 degree point under an 8 mm bore: a 7.7 disc stands 0.15 / tan 59 below full bore."""
    tool = made(TANG)
    rest_mm = tool.plug_face_mm + tool.abutment.outline.length_mm
    assert rest_mm == pytest.approx(72.0 + 0.15 / tan(59 * pi / 180))
    assert tool.abutment.name == "disc"


@pytest.mark.parametrize("name", ["tang", "thread", "jacobs", "blind straight"])
def test_a_blind_bore_leaves_solid_metal_and_a_way_out_for_the_air(name: str) -> None:
    tool = made(EVERY[name])
    assert finding(tool, "solid metal behind a blind bore").verdict is Verdict.PASS
    vented = tool.body.outline.has("vent") or any(c.name == "vent hole" for c in tool.body.cuts)
    assert vented


def test_a_body_for_an_arbor_is_as_long_as_bore_solid_and_socket() -> None:
    tool = made(JACOBS)
    p, disc = tool.parameters, tool.parameters.disc
    socket = shank_of(p.mount).socket
    assert disc is not None
    assert socket is not None
    behind_mm = parts.body_length_mm(p) - parts.blind_end_mm(p, disc)
    assert 5.0 <= behind_mm - socket.depth_mm < 5.5


def test_the_socket_of_an_arbor_has_its_rate() -> None:
    """JT33: 0.06350 on the diameter, as the two printed tables give 0.762 in a foot."""
    tool = made(JACOBS)
    run = tool.body.outline.surface("socket taper")
    rate = (run.diameter_mm - run.small_diameter_mm) / run.length_mm
    assert rate == pytest.approx(0.762 / 12, abs=2e-5)


def test_a_tang_is_as_thick_as_its_standard_and_its_volume_is_off() -> None:
    tool = made(TANG)
    (tang,) = (cut for cut in tool.body.cuts if cut.name == "tang")
    whole = tool.body.outline.volume_mm3 - sum(
        cut.volume_mm3(tool.body.outline) for cut in tool.body.cuts if cut is not tang
    )
    assert whole - tool.body.volume_mm3 == pytest.approx(
        tang.volume_mm3(tool.body.outline), rel=1e-9
    )
