"""Packs of DXF files as the lint finds them: written to disk, read back."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from generator.checks.run import run_checks
from generator.documents.profiles import slot_profile, turning_profile
from generator.documents.tool_sheets import tool_sheets
from generator.export.dxf import write_drawing, write_profile
from generator.export.dxf_reader import read_dxf
from generator.inputs.profile import read_profile
from generator.lint.sheet import Cutting, Sheet
from generator.model.tool import Tool, design

PROFILES = Path(__file__).parents[2] / "profiles"


def write_dxf_files(tool: Tool, folder: Path) -> tuple[Path, ...]:
    """Write the sheets and cutting profiles of a tool, as its pack holds them."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for drawing in tool_sheets(tool, run_checks(tool)):
        paths.append(folder / f"{drawing.name}.dxf")
        write_drawing(drawing, paths[-1])
    turned = [turning_profile(part, f"{part.name}-turning") for part in tool.made_parts]
    milled = []
    if tool.parameters.slot is not None:
        milled.append(slot_profile(tool.plunger, "plunger-milling"))
    for profile in (*turned, *milled):
        paths.append(folder / f"{profile.name}.dxf")
        write_profile(profile, paths[-1])
    return tuple(paths)


def read_all(paths: tuple[Path, ...]) -> tuple[Sheet | Cutting, ...]:
    """Return what the files hold."""
    return tuple(read_dxf(path) for path in paths)


@cache
def shipped_tool(stem: str) -> Tool:
    """Return the tool of a shipped profile."""
    return design(read_profile(PROFILES / f"{stem}.toml"))
