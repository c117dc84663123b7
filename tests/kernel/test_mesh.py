"""The triangles of a part enclose it, or the half of it that is shown."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from OCP.BRep import BRep_Tool
from OCP.TopLoc import TopLoc_Location

from generator.inputs.profile import read_profile
from generator.kernel.mesh import DEFLECTION_MM, mesh, meshes
from generator.kernel.shapes import solid
from generator.model.mesh import STEP_MM, WHOLE, Mesh
from generator.model.part import Part
from generator.model.tool import Tool, design

ROOT = Path(__file__).parents[2]
PROFILES = ("mt2-drawbar-8", "mt4-three-springs-12", "mt1-tailstock-5")

pytestmark = pytest.mark.solid


@pytest.fixture(scope="module", params=PROFILES)
def tool(request: pytest.FixtureRequest) -> Tool:
    return design(read_profile(ROOT / "profiles" / f"{request.param}.toml"))


def parts(tool: Tool) -> tuple[Part, ...]:
    return tool.solid_parts


def corners_of(made: Mesh) -> NDArray[np.int64]:
    """Return triangle, corner and coordinate."""
    corners = np.array(made.corners, np.int64).reshape(-1, 3)
    return np.take(corners, np.array(made.triangles).reshape(-1, 3), axis=0)


def test_every_part_but_the_springs_is_there(tool: Tool) -> None:
    assert [made.part for made in meshes(tool)] == [part.name for part in parts(tool)]


def test_triangles_close_and_are_seen_from_outside(tool: Tool) -> None:
    """Each edge is run through once each way, and what they enclose is the part's volume."""
    for part in parts(tool):
        triangles = corners_of(mesh(part))
        runs: Counter[tuple[tuple[int, ...], tuple[int, ...]]] = Counter()
        for a, b, c in triangles.tolist():
            for start, end in ((a, b), (b, c), (c, a)):
                runs[tuple(start), tuple(end)] += 1
        assert all(runs[start, end] == runs[end, start] for start, end in list(runs)), part.name
        first, second, third = (triangles[:, k] * STEP_MM for k in range(3))
        volume_mm3 = np.einsum("ij,ij->", first, np.cross(second, third)) / 6
        share = 1.0 if part.name in WHOLE else 0.5
        assert volume_mm3 == pytest.approx(share * part.volume_mm3, rel=0.012), part.name


def test_triangles_lie_where_the_part_does(tool: Tool) -> None:
    for part in parts(tool):
        corners = np.array(mesh(part).corners).reshape(-1, 3) * STEP_MM
        r_mm, slack = part.outline.diameter_mm / 2, STEP_MM
        assert corners[:, 2].min() == pytest.approx(
            min(c.z_mm for c in part.outline.corners), abs=slack
        )
        assert corners[:, 2].max() == pytest.approx(
            max(c.z_mm for c in part.outline.corners), abs=slack
        )
        assert np.hypot(corners[:, 0], corners[:, 1]).max() == pytest.approx(r_mm, abs=slack)
        most = r_mm if part.name in WHOLE else 0.0
        assert corners[:, 0].max() == pytest.approx(most, abs=DEFLECTION_MM + slack)


def test_the_solid_keeps_no_triangles(tool: Tool) -> None:
    """They would go with it into the STEP file of the next build, and into what is measured."""
    for part in parts(tool):
        mesh(part)
        for face in solid(part).Faces():
            assert BRep_Tool.Triangulation_s(face.wrapped, TopLoc_Location()) is None, part.name
