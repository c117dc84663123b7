"""The direction of the data: a stage imports only from stages above it; `check` stays light."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "generator"
STAGES = (
    "version",
    "errors",
    "loading",
    "units",
    "formulas",
    "standards",
    "inputs",
    "model",
    "use",
    "kernel",
    "checks",
    "making",
    "choice",
    "documents",
    "lint",
    "export",
    "cli",
    "__main__",
)
LIBRARIES = {
    "cadquery": ("kernel",),
    "OCP": ("kernel",),
    "ezdxf": ("dxf", "dxf_reader"),
    "typst": ("pdf",),
}
"""Each library is imported by one stage, or by one module of the export stage; DXF files are
written by one module and read back by another."""

modules = pytest.mark.parametrize(
    "path", sorted(PACKAGE.rglob("*.py")), ids=lambda p: str(p.relative_to(PACKAGE))
)


def imports(path: Path) -> Iterator[str]:
    """Yield the dotted names that a module imports anywhere in it."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module


def stage(path: Path) -> str:
    return path.relative_to(PACKAGE).with_suffix("").parts[0]


@modules
def test_a_stage_imports_only_from_stages_above_it(path: Path) -> None:
    if path == PACKAGE / "__init__.py":
        return
    here = STAGES.index(stage(path))
    for name in imports(path):
        if name.startswith("generator."):
            assert STAGES.index(name.split(".")[1]) <= here, f"{path.name} imports {name}"


@modules
def test_a_library_is_imported_in_one_place(path: Path) -> None:
    for name in imports(path):
        homes = LIBRARIES.get(name.split(".")[0])
        if homes is not None:
            assert stage(path) in homes or path.stem in homes, f"{path.name} imports {name}"


@modules
def test_the_lint_knows_nothing_of_the_tool(path: Path) -> None:
    """It reads files as an outsider would; of our own code it knows the typeface alone."""
    if stage(path) == "lint" or path.stem == "dxf_reader":
        allowed = ("generator.lint", "generator.errors", "generator.documents.text")
        drawing = ("generator.documents.drawing",) if path.stem == "dxf_reader" else ()
        for name in imports(path):
            if name.startswith("generator."):
                assert name.startswith(allowed + drawing), f"{path.name} imports {name}"


@modules
def test_only_writers_and_commands_touch_the_kernel(path: Path) -> None:
    """Checks and documents read the proof of motion as plain values."""
    if any(name.startswith("generator.kernel") for name in imports(path)):
        assert stage(path) in ("kernel", "export", "cli")


@modules
def test_an_init_holds_one_docstring_and_imports_nothing(path: Path) -> None:
    if path.name != "__init__.py":
        return
    (only,) = ast.parse(path.read_text("utf-8")).body
    assert isinstance(only, ast.Expr)


@modules
def test_only_the_commands_print(path: Path) -> None:
    calls = [
        node.func.id
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
    ]
    assert "print" not in calls


def test_check_loads_no_heavy_library() -> None:
    code = (
        "import sys; from generator.cli.main import main\n"
        "try: main(['check', 'profiles/mt2-drawbar-8.toml'])\n"
        "except SystemExit as end: assert end.code == 0, end.code\n"
        "heavy = {'cadquery', 'OCP', 'ezdxf', 'vtk', 'vtkmodules', 'numpy', 'pydantic', 'typst',\n"
        "    'rich', 'fontTools', 'generator.documents.report',\n"
        "    'generator.documents.bench'}\n"
        "print('loaded', sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=PACKAGE.parent,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.splitlines()[-1] == "loaded []"
