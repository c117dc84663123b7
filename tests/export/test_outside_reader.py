"""Every DXF file read by GDAL, whose reader shares no code with the library that writes them."""

from __future__ import annotations

import struct
from pathlib import Path
from typing import Any

import numpy as np
import pyogrio
import pytest
from pyogrio.raw import read

from generator.checks.run import run_checks
from generator.documents.drawing import STYLES, Drawing, Mark, Text
from generator.documents.layout import bounds
from generator.documents.profiles import slot_profile, turning_profile
from generator.documents.tool_sheets import tool_sheets
from generator.export.dxf import write_drawing, write_profile
from generator.export.dxf_tags import true_length
from generator.inputs.profile import read_profile
from generator.model.part import Slot
from generator.model.tool import Tool, design
from tests.tools import slot_of

PROFILES = sorted(
    path
    for path in (Path(__file__).parents[2] / "profiles").glob("*.toml")
    if not path.stem.startswith("refused")
)
WKB_LINE, WKB_FLAT = 2, 1000


@pytest.fixture(scope="module", params=PROFILES, ids=lambda path: path.stem)
def tool(request: pytest.FixtureRequest) -> Tool:
    return design(read_profile(request.param))


def rows(path: Path) -> list[tuple[str, str, bytes]]:
    """Return layer, text and geometry of everything that GDAL finds."""
    about, _, shapes, columns = read(path)
    fields: dict[str, Any] = dict(zip(about["fields"], columns, strict=True))
    texts = (text or "" for text in fields["Text"])
    return list(zip(fields["Layer"], texts, shapes, strict=True))


def vertices(shape: bytes) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return the vertices of a line as GDAL hands it over, well-known binary; shape (n, 2)."""
    order = "<" if shape[0] else ">"
    kind, count = struct.unpack_from(f"{order}II", shape, 1)
    assert kind % WKB_FLAT == WKB_LINE
    wide = 3 if kind > WKB_FLAT else 2
    values = struct.unpack_from(f"{order}{wide * count}d", shape, 9)
    return np.array(values).reshape(count, wide)[:, :2]


def plain(text: str) -> str:
    """Return text with the diameter sign that GDAL writes for %%c as ours."""
    return text.replace("\N{DIAMETER SIGN}", "Ø")


def spelled(text: str) -> str:
    """Return text as the file spells it: DXF has no sign for micro."""
    return text.replace("µ", "u")


def marks(sheet: Drawing) -> list[Mark]:
    return [*sheet.marks, *(mark for each in sheet.dimensions for mark in each.marks)]


def test_sheets_hold_the_same_layers_texts_and_extents(tool: Tool, tmp_path: Path) -> None:
    for sheet in tool_sheets(tool, run_checks(tool)):
        path = tmp_path / f"{sheet.name}.dxf"
        write_drawing(sheet, path)
        found = rows(path)
        drawn = marks(sheet)
        assert {layer for layer, _, _ in found} == {STYLES[m.style].layer for m in drawn}
        written = sorted(plain(text) for _, text, _ in found if text)
        assert written == sorted(spelled(mark.text) for mark in drawn if isinstance(mark, Text))
        for dimension in sheet.dimensions:
            assert spelled(dimension.text.text) in written
        lines = [mark for mark in drawn if not isinstance(mark, Text)]
        box = pyogrio.read_info(path, force_total_bounds=True)["total_bounds"]
        # texts count as points, arcs as chords: the frame bounds them all
        assert np.array(box) / true_length(sheet) == pytest.approx(bounds(lines), abs=0.01)


def test_turning_profiles_are_closed_outlines_of_the_parts(tool: Tool, tmp_path: Path) -> None:
    for part in tool.made_parts:
        path = tmp_path / f"{part.name}.dxf"
        write_profile(turning_profile(part, part.name), path)
        (shape,) = (each for layer, _, each in rows(path) if layer == "PROFILE_HALF")
        points = vertices(shape)
        assert points[0].tolist() == points[-1].tolist()
        corners = {(round(-c.z_mm, 6) + 0.0, round(c.r_mm, 6)) for c in part.outline.corners}
        assert {(round(x, 6) + 0.0, round(y, 6)) for x, y in points.tolist()} == corners
        assert np.ptp(points[:, 0]) == pytest.approx(part.outline.length_mm)
        assert 2 * points[:, 1].max() == pytest.approx(part.outline.diameter_mm)
        x, y = points.T
        turned = np.diff(x) * (y[:-1] ** 2 + y[:-1] * y[1:] + y[1:] ** 2)
        assert abs(turned.sum()) * np.pi / 3 == pytest.approx(part.outline.volume_mm3)


def test_milled_slot_is_as_long_and_wide_as_asked(tool: Tool, tmp_path: Path) -> None:
    if not any(isinstance(cut, Slot) and not cut.square for cut in tool.plunger.cuts):
        return
    write_profile(slot_profile(tool.plunger, "slot"), tmp_path / "slot.dxf")
    (shape,) = (each for layer, _, each in rows(tmp_path / "slot.dxf") if layer == "SLOT")
    points, slot = vertices(shape), slot_of(tool.parameters)
    assert points[0].tolist() == points[-1].tolist()
    # GDAL turns arcs into chords of four degrees: r (1 - cos 2 deg) short at most
    assert np.ptp(points[:, 0]) == pytest.approx(slot.length_mm, abs=0.0013 * slot.width_mm)
    assert np.ptp(points[:, 1]) == pytest.approx(slot.width_mm)
    assert points[:, 0].max() == pytest.approx(-slot.front_mm, abs=0.0007 * slot.width_mm)
