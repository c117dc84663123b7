"""Every form that a plunger's end may have, on either end, through sheets, plan, lint and proof."""

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
from tests.export.printed import overlaps, pages
from tests.lint.packs import read_all, write_dxf_files
from tests.tools import tool

Form = dict[str, Any]

FORMS: Final[dict[str, Form]] = {
    "point of 75": {"style": "point", "angle_deg": 75.0},
    "point of 90": {"style": "point", "angle_deg": 90.0},
    "half centre": {"style": "half centre"},
    "ball": {"style": "ball"},
    "blank": {"style": "blank"},
}
"""The usual ones, a point of 60 degrees and a countersink, are those of the shipped profiles."""

OTHER: Final[Form] = {"style": "countersink", "mouth_mm": 6.5}


def made(form: Form, end: str) -> Tool:
    """Return a tool with a form on one end; the springs have room for all of them."""
    other = "rear" if end == "front" else "front"
    return tool(
        {
            f"plunger.{end}": form,
            f"plunger.{other}": OTHER,
            "button.vent_mm": 1.5,
            "button.thickness_mm": 3.0,
            "springs.0.free_mm": 30.0,
            "springs.0.active_coils": 10.0,
        }
    )


@pytest.fixture(params=[(name, end) for name in FORMS for end in ("front", "rear")])
def formed(request: pytest.FixtureRequest) -> Tool:
    name, end = request.param
    return made(FORMS[name], end)


def test_its_sheets_are_clean_and_tell_every_size_once(formed: Tool, tmp_path: Path) -> None:
    for sheet in tool_sheets(formed, run_checks(formed)):
        assert not collisions(sheet), sheet.name
    assert lint(read_all(write_dxf_files(formed, tmp_path))) == ()


def test_every_page_of_its_document_is_clean(formed: Tool) -> None:
    findings = run_checks(formed)
    told = bench(formed, findings, study(formed), tool_sheets(formed, findings))
    for number, page in enumerate(pages(pdf_bytes(told)), 1):
        assert page.words, number
        assert not overlaps(page), number
    assert stroke_view(formed) is not None


@pytest.mark.solid
def test_its_solids_are_whole_and_move_freely(formed: Tool) -> None:
    for orientation in formed.orientations:
        for placed in instances(formed, orientation, compressed=False):
            volume_mm3 = measured(solid(placed.part)).volume_mm3
            assert volume_mm3 == pytest.approx(placed.part.volume_mm3, rel=1e-6)
    assert not prove(formed).collisions
