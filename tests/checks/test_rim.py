"""The rim of a countersink: what mouth and chamfer leave of the end face."""

from __future__ import annotations

import pytest

from generator.checks.finding import Verdict
from generator.checks.run import run_checks
from generator.model.tool import Tool
from tests import tools


def rimmed(mouth_mm: float, chamfer_mm: float) -> Tool:
    """Return a plunger of 8 mm with this countersink."""
    return tools.tool({"plunger.rear.mouth_mm": mouth_mm, "plunger.rear.chamfer_mm": chamfer_mm})


@pytest.mark.parametrize(
    ("mouth_mm", "chamfer_mm", "verdict"),
    [
        (7.0, 0.3, Verdict.PASS),
        (7.0, 0.4, Verdict.WARN),
        (7.2, 0.38, Verdict.WARN),
        (7.2, 0.39, Verdict.FAIL),
        (7.2, 0.5, Verdict.FAIL),
    ],
)
def test_rim_is_what_mouth_and_chamfer_leave(
    mouth_mm: float, chamfer_mm: float, verdict: Verdict
) -> None:
    found = next(
        each
        for each in run_checks(rimmed(mouth_mm, chamfer_mm))
        if each.limit.name == "rim of the countersink"
    )
    assert found.value == pytest.approx((8.0 - mouth_mm) / 2 - chamfer_mm)
    assert found.verdict is verdict


def test_where_the_mouth_reaches_the_chamfer_the_outline_turns_back() -> None:
    """The half section runs outward over the end face while there is a rim, else inward."""

    def edge(tool: Tool) -> float:
        corners = tool.plunger.outline.corners
        face_mm = max(corner.z_mm for corner in corners)
        radii = [corner.r_mm for corner in corners if corner.z_mm == face_mm]
        mouth_mm = tool.parameters.plunger.rear.mouth_mm  # type: ignore[union-attr]
        (outer_mm,) = (r for r in radii if abs(r - mouth_mm / 2) > 1e-9)
        return outer_mm - mouth_mm / 2

    assert edge(rimmed(7.2, 0.38)) > 0
    assert edge(rimmed(7.2, 0.5)) < 0
