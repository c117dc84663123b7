"""The command lint, as the user runs it."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli.main import main

DEMO = Path(__file__).parents[2] / "outputs" / "mt2-drawbar-8"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["lint", *map(str, arguments)])


def test_a_clean_pack_ends_with_nought(demo: Path) -> None:
    result = run(demo)
    count = len(list(demo.glob("*.dxf")))
    assert (result.exit_code, result.stdout) == (0, f"{count} files, 0 findings\n")


def test_the_committed_demo_is_clean() -> None:
    assert run(DEMO).exit_code == 0


def test_a_finding_is_told_with_file_rule_place_and_remedy(demo: Path, tmp_path: Path) -> None:
    for path in demo.glob("*.dxf"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    path = tmp_path / "plug-turning.dxf"
    path.write_text(path.read_text("ascii").replace("\nPROFILE_HALF\n", "\nCUT\n"), "ascii")
    result = run(path)
    assert result.exit_code == 1
    first, *_, last = result.stdout.splitlines()
    assert first.startswith(f"{path}: profile at (")
    assert "lies on layer 'CUT'; put it on PROFILE_HALF" in first
    assert last == "1 file, 2 findings"


def test_a_sheet_alone_is_judged_by_the_profiles_beside_it(demo: Path) -> None:
    result = run(demo / "body.dxf")
    assert (result.exit_code, result.stdout) == (0, "1 file, 0 findings\n")


@pytest.mark.parametrize("name", ["none.dxf", "empty"])
def test_a_file_that_cannot_be_read_ends_with_two(name: str, tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    result = run(tmp_path / name)
    assert result.exit_code == 2
    assert str(tmp_path / name) in result.stderr
    assert "Traceback" not in result.output


def test_the_other_files_are_judged_all_the_same(demo: Path, tmp_path: Path) -> None:
    for path in demo.glob("*.dxf"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    (tmp_path / "plug.dxf").write_text("no drawing")
    result = run(tmp_path)
    assert result.exit_code == 2
    assert "plug.dxf: is no DXF file" in result.stderr
    count = len(list(demo.glob("*.dxf")))
    assert result.stdout == f"{count - 1} files, 0 findings\n"
