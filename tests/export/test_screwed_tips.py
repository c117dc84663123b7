"""Tips that screw into the stem, of many sizes and forms: sheets, lint, papers, solids, proof."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import pytest

from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.layout import collisions
from generator.documents.stroke_view import stroke_view
from generator.documents.subjects import study
from generator.documents.tool_sheets import tool_sheets
from generator.export.pdf import pdf_bytes
from generator.kernel.load import prove
from generator.kernel.shapes import measured, solid
from generator.lint.run import lint
from generator.model.instances import instances
from generator.model.tool import Tool
from tests.checks.limit_cases import HEADED
from tests.export.printed import overlaps, pages
from tests.lint.packs import read_all, write_dxf_files
from tests.tools import tool

SPARE: Final = [
    {"style": "point"},
    {"style": "point", "angle_deg": 90.0},
    {"style": "ball"},
    {"style": "blank"},
]
LARGE: Final = {
    **HEADED,
    "mount": {"kind": "straight", "diameter_mm": 30.0, "length_mm": 95.0},
    "plug.thread": "M20",
    "body.nose_diameter_mm": 34.0,
    "plunger.diameter_mm": 12.0,
    "bore.diameter_mm": 12.0,
    "shoulder": {"pocket_mm": 17.0, "travel_mm": 12.0},
    "springs.0.outside_mm": 15.0,
    "springs.0.wire_mm": 1.4,
}
TOOLS: Final[dict[str, dict[str, Any]]] = {
    "a stem of 6": {
        **HEADED,
        "plunger.front": {"style": "countersink"},
        "screwed_tips": {"thread": "M2.5", "spare": SPARE},
    },
    "a ball fitted": {
        **HEADED,
        "plunger.front": {"style": "ball"},
        "screwed_tips": {"thread": "M3", "spare": SPARE[:2]},
    },
    "a stem of 12": {**LARGE, "screwed_tips": {"thread": "M6", "spare": SPARE}},
    "tips wider than the stem": {
        **LARGE,
        "screwed_tips": {"thread": "M6", "diameter_mm": 16.0, "spare": [{"style": "countersink"}]},
    },
    "in inches": {
        **LARGE,
        "making.units": "inch",
        "making.sheets": "US",
        "screwed_tips": {"thread": "M6", "spare": [{"style": "countersink"}]},
    },
    "behind a nose bush": {
        **LARGE,
        "body.assembly": "front-loaded",
        "bush": {},
        "screwed_tips": {"thread": "M6", "spare": [{"style": "countersink"}]},
    },
    "no chamfer, no spare": {**LARGE, "screwed_tips": {"thread": "M6x0.75", "edge_mm": 0.0}},
}


@pytest.fixture(params=TOOLS)
def made(request: pytest.FixtureRequest) -> Tool:
    return tool(TOOLS[request.param])


def test_its_sheets_are_clean_and_tell_every_size_once(made: Tool, tmp_path: Path) -> None:
    sheets = tool_sheets(made, run_checks(made))
    assert {tip.name for tip in made.tips} <= {sheet.name for sheet in sheets}
    for sheet in sheets:
        assert not collisions(sheet), sheet.name
    assert lint(read_all(write_dxf_files(made, tmp_path))) == ()


def test_every_page_of_its_document_is_clean(made: Tool) -> None:
    findings = run_checks(made)
    told = bench(made, findings, study(made), tool_sheets(made, findings))
    for number, page in enumerate(pages(pdf_bytes(told)), 1):
        assert page.words, number
        assert not overlaps(page), number
    assert stroke_view(made) is not None


@pytest.mark.solid
def test_its_solids_are_whole_and_every_tip_moves_freely(made: Tool) -> None:
    for way in made.ways:
        for placed in instances(made, way, compressed=False):
            volume_mm3 = measured(solid(placed.part)).volume_mm3
            assert volume_mm3 == pytest.approx(placed.part.volume_mm3, rel=1e-6)
    found = prove(made)
    assert not found.collisions
    assert set(found.orientations) == {way.name for way in made.ways}
    joint = [each for each in found.nearest if each.pair == "plunger and tip"]
    assert joint
    assert all(each.touches for each in joint)


@pytest.mark.solid
def test_a_stud_too_long_for_its_hole_is_found_on_the_solids() -> None:
    long = tool({**TOOLS["a stem of 12"], "screwed_tips.tapped_mm": 8.0})
    found = [each.pair for each in prove(long).collisions]
    assert found == ["plunger and tip"]
