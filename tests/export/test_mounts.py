"""Every mount that no shipped profile has, through sheets, plan, lint and proof."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import pytest

from generator.checks.finding import Verdict, worst
from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.layout import collisions
from generator.documents.subjects import study
from generator.documents.tool_sheets import tool_sheets
from generator.export.pdf import pdf_bytes
from generator.kernel.load import prove
from generator.kernel.shapes import measured, solid
from generator.lint.run import lint
from generator.model.instances import instances
from generator.model.tool import Tool
from tests.checks.limit_cases import BUSHED, OWN_EJECTED
from tests.export.printed import overlaps, pages
from tests.inputs.test_mounts import DISC, STRAIGHT, TANG, THREAD
from tests.lint.packs import read_all, write_dxf_files
from tests.tools import REMOVED, tool

MOUNTS: Final[dict[str, dict[str, Any]]] = {
    "own taper, ejected": OWN_EJECTED,
    "straight, solid under the jaws": {**STRAIGHT, **DISC},
    "straight, vented through the wall": {
        **STRAIGHT,
        **DISC,
        "body.nose_length_mm": 80.0,
        "disc": {"bottom_mm": 72.0, "vent": "side"},
    },
    "ejected, blind": {
        **DISC,
        "mount": {"kind": "morse ejected", "size": "MT2", "extension_length_mm": 20.0},
        "machine.ejection_depth_mm": 82.0,
    },
    "tang with US lengths": {**TANG, "mount.lengths": "US"},
    "thread without a register": THREAD,
    "B16 arbor": {**DISC, "mount": {"kind": "arbor taper", "taper": "B16", "diameter_mm": 24.0}},
    "cross pin over a tang": {
        **TANG,
        "set_screw": REMOVED,
        "slot.depth_mm": REMOVED,
        "slot.width_mm": REMOVED,
        "cross_pin": {"diameter_mm": 2.5, "position_mm": 16.0},
    },
    "nose bush before a blind bore": {
        **BUSHED,
        **STRAIGHT,
        "mount.diameter_mm": 25.0,
        "body.nose_diameter_mm": 27.0,
        **DISC,
        "disc.bottom_mm": 52.5,
        "taps.0.end": "centre",
    },
}


@pytest.fixture(params=MOUNTS)
def held(request: pytest.FixtureRequest) -> Tool:
    made = tool(MOUNTS[request.param])
    assert worst(run_checks(made)) is not Verdict.FAIL
    return made


def test_its_sheets_are_clean_and_tell_every_size_once(held: Tool, tmp_path: Path) -> None:
    for sheet in tool_sheets(held, run_checks(held)):
        assert not collisions(sheet), sheet.name
    assert lint(read_all(write_dxf_files(held, tmp_path))) == ()


def test_every_page_of_its_document_is_clean(held: Tool) -> None:
    findings = run_checks(held)
    told = bench(held, findings, study(held), tool_sheets(held, findings))
    for number, page in enumerate(pages(pdf_bytes(told)), 1):
        assert page.words, number
        assert not overlaps(page), number


@pytest.mark.solid
def test_its_solids_are_whole_and_move_freely(held: Tool) -> None:
    for orientation in held.orientations:
        for placed in instances(held, orientation, compressed=False):
            volume_mm3 = measured(solid(placed.part)).volume_mm3
            assert volume_mm3 == pytest.approx(placed.part.volume_mm3, rel=1e-6)
    assert not prove(held).collisions
