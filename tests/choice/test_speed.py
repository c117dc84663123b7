"""How long a choice takes, and how that grows with the drawer; nothing is asserted about time."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import pytest

from generator.choice.ground import ground
from generator.choice.search import search
from generator.inputs.drawer_file import read_shop
from tests.choice.shops import SHIPPED

ROOT = Path(__file__).parents[2]

pytestmark = [
    pytest.mark.benchmarks,
    pytest.mark.skipif(not hasattr(os, "wait4"), reason="needs the usage of a single process"),
]


def test_growth_with_the_drawer() -> None:
    (path,) = (path for path in SHIPPED if path.stem == "mill-bench")
    whole = read_shop(path)
    sys.stdout.write("\nsprings  combinations  seconds  combinations a second\n")
    for count in (15, 30, 45, 60):
        step = len(whole.springs) / count
        some = tuple(whole.springs[int(n * step)] for n in range(count))
        start = time.perf_counter()
        outcome = search(ground(replace(whole, springs=some)))
        seconds = time.perf_counter() - start
        rate = outcome.combinations / seconds
        sys.stdout.write(f"{count:7}  {outcome.combinations:12.3g}  {seconds:7.2f}  {rate:.3g}\n")
        assert outcome.found


@pytest.mark.parametrize("path", SHIPPED, ids=lambda p: p.stem)
def test_whole_command(path: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "generator", "choose", str(path), "--out", str(tmp_path)]
    start = time.perf_counter()
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    seconds = time.perf_counter() - start
    sys.stdout.write(f"\n{path.stem}: {seconds:.1f} s, {usage.ru_maxrss / 1e3:.0f} MB\n")
    assert process.returncode == 0
