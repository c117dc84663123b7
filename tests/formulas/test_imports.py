"""What the formulas may import."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import generator.formulas

HEAVY = {"__init__", "assemblies"}
"""The random assemblies alone may load numpy; no check uses them."""


def test_formulas_load_no_numpy() -> None:
    """Checking a profile has to answer at once."""
    folder = Path(str(generator.formulas.__file__)).parent
    names = [file.stem for file in sorted(folder.glob("*.py")) if file.stem not in HEAVY]
    assert "spring" in names
    code = "\n".join(
        [
            "import sys",
            *(f"import generator.formulas.{name}" for name in names),
            "raise SystemExit('numpy' in sys.modules)",
        ]
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=folder.parents[1], check=False)
    assert done.returncode == 0
