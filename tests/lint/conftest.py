"""The demo's DXF files, written once."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.lint.packs import shipped_tool, write_dxf_files


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the sheets and cutting profiles of the demo."""
    folder = tmp_path_factory.mktemp("lint") / "demo"
    write_dxf_files(shipped_tool("mt2-drawbar-8"), folder)
    return folder
