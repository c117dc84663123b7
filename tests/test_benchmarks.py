"""What the commands cost in time and memory, printed against what they should cost.

Ratios to the bare import of a library hold on any machine. Whole processes, run in turn so that a
busy moment touches all alike; the figure is the median. Nothing is asserted about time.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from statistics import median

import numpy as np
import pytest

from generator.checks.lean import lean
from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.profiles import slot_profile, turning_profile
from generator.documents.report import report_data
from generator.documents.tool_sheets import tool_sheets
from generator.export import papers
from generator.export.dxf import write_drawing, write_profile
from generator.export.pdf import write_pdf
from generator.export.report_json import write_json
from generator.export.write_solids import write_solids
from generator.inputs.profile import read_profile
from generator.kernel import collisions, screw, shapes, touch
from generator.kernel.load import prove
from generator.model.tool import design
from generator.use.alignment import leans
from generator.use.simulation import simulate

ROOT = Path(__file__).parents[1]
PROFILES = ROOT / "profiles"
DEMO = PROFILES / "mt2-drawbar-8.toml"
FURTHER = (PROFILES / "straight-16.toml", PROFILES / "mt4-three-springs-12.toml")
RUNS = 5
SAVES = 7
PAUSE_S = 0.5
PATIENCE_S = 60.0

pytestmark = [
    pytest.mark.benchmarks,
    pytest.mark.skipif(not hasattr(os, "wait4"), reason="needs the usage of a single process"),
]


@dataclass(frozen=True, slots=True)
class Cost:
    """What a run took; memory is that of its largest process."""

    seconds: float
    peak_mib: float


def environment() -> dict[str, str]:
    """Return the environment of a user, whose installation keeps byte code."""
    return {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}


def cost(*arguments: str | Path) -> Cost:
    start = time.perf_counter()
    running = subprocess.Popen(
        [sys.executable, *map(str, arguments)],
        cwd=ROOT,
        env=environment(),
        stdout=subprocess.DEVNULL,
    )
    _, status, usage = os.wait4(running.pid, 0)
    seconds = time.perf_counter() - start
    running.returncode = os.waitstatus_to_exitcode(status)
    assert running.returncode == 0, arguments
    unit = 1024**2 if sys.platform == "darwin" else 1024
    return Cost(seconds, usage.ru_maxrss / unit)


def in_turn(*runs: tuple[str | Path, ...]) -> list[Cost]:
    """Return the median cost of each of some runs, after one of each that is not counted."""
    rounds = [[cost(*run) for run in runs] for _ in range(RUNS + 1)][1:]
    return [
        Cost(median(c.seconds for c in each), median(c.peak_mib for c in each))
        for each in zip(*rounds, strict=True)
    ]


def tell(what: str, measured: float, target: float, unit: str = "") -> None:
    sys.stdout.write(f"\n{what}: {measured:.2f}{unit}, target {target:.2f}{unit}")


def test_check_against_importing_numpy() -> None:
    check, numpy = in_turn(("-m", "generator", "check", DEMO), ("-c", "import numpy"))
    tell("check / import numpy", check.seconds / numpy.seconds, 2.0)


def test_build_against_importing_cadquery(tmp_path: Path) -> None:
    build, cadquery = in_turn(
        ("-m", "generator", "build", DEMO, "--out", tmp_path), ("-c", "import cadquery")
    )
    tell("build / import cadquery", build.seconds / cadquery.seconds, 1.6)
    tell("build / import cadquery, peak memory", build.peak_mib / cadquery.peak_mib, 1.25)


def test_proof_of_motion_against_importing_cadquery() -> None:
    """The first proof of a process builds every solid; part of them the build needs anyway."""
    code = (
        "import sys, time; start = time.perf_counter(); import cadquery; "
        "loaded = time.perf_counter(); from pathlib import Path; "
        "from generator.kernel.load import prove; "
        "from generator.inputs.profile import read_profile; "
        "from generator.model.tool import design; tool = design(read_profile(Path(sys.argv[1]))); "
        "begun = time.perf_counter(); prove(tool); end = time.perf_counter(); "
        "print(loaded - start, end - begun)"
    )
    rounds = []
    for _ in range(RUNS):
        done = subprocess.run(
            [sys.executable, "-c", code, str(DEMO)],
            cwd=ROOT,
            env=environment(),
            capture_output=True,
            text=True,
            check=True,
        )
        rounds.append([float(each) for each in done.stdout.split()])
    loading, proving = (median(column) for column in zip(*rounds, strict=True))
    tell("proof of motion", proving, 2.5, " s")
    tell("proof of motion / import cadquery", proving / loading, 0.6)


def test_each_further_profile_of_one_build(tmp_path: Path) -> None:
    command = ("-m", "generator", "build", "--out", tmp_path, DEMO)
    one, three = in_turn(command, (*command, *FURTHER))
    tell("each further profile", (three.seconds - one.seconds) / len(FURTHER), 0.35, " s")


def test_watch_from_save_to_pack(tmp_path: Path) -> None:
    """Each save changes the diameter of the nose."""
    profile = tmp_path / "profile.toml"
    shutil.copy(DEMO, profile)
    text = profile.read_text("utf-8")
    former = "nose_diameter_mm = 22\n"
    assert former in text
    watching = subprocess.Popen(
        [sys.executable, "-u", "-m", "generator", "watch", str(profile), "--out", str(tmp_path)],
        cwd=ROOT,
        env=environment(),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    assert watching.stdout is not None
    took = []
    try:
        assert "built in" in watching.stdout.readline()
        time.sleep(PAUSE_S)
        for n in range(SAVES):
            start = time.perf_counter()
            profile.write_text(text.replace(former, former.replace("22", ("23", "22")[n % 2])))
            assert "built in" in watching.stdout.readline()
            took.append(time.perf_counter() - start)
            time.sleep(PAUSE_S)
    finally:
        watching.send_signal(signal.SIGINT)
        watching.stdout.close()
        assert watching.wait(PATIENCE_S) == 0
    tell("watch, from save to pack", median(took), 0.4, " s")


def test_stages_of_a_further_pack(tmp_path: Path) -> None:
    tool = design(read_profile(DEMO))
    findings, proof = run_checks(tool), prove(tool)
    drawings = tool_sheets(tool, findings)
    outlines = [turning_profile(part, part.name) for part in tool.made_parts]
    outlines.append(slot_profile(tool.plunger, "plunger-milling"))

    def sheets() -> None:
        for drawing in drawings:
            write_drawing(drawing, tmp_path / f"{drawing.name}.dxf")

    def prove_anew() -> None:
        """Prove it without what is kept from before."""
        for module in (collisions, screw, shapes, touch):
            for each in vars(module).values():
                if hasattr(each, "cache_clear"):
                    each.cache_clear()
        prove(tool)

    def papers_anew() -> None:
        papers._sheets.cache_clear()
        papers._study.cache_clear()
        papers.write_papers(tool, findings, tmp_path, proof)

    def profiles() -> None:
        for outline in outlines:
            write_profile(outline, tmp_path / f"{outline.name}-profile.dxf")

    stages: dict[str, Callable[[], object]] = {
        "read, design, check": lambda: run_checks(design(read_profile(DEMO))),
        "lay out the sheets": lambda: tool_sheets(tool, findings),
        "sheets as DXF": sheets,
        "profiles as DXF": profiles,
        "document": lambda: bench(tool, findings),
        "PDF": lambda: write_pdf(bench(tool, findings, drawings=drawings), tmp_path / "bench.pdf"),
        "JSON": lambda: write_json(report_data(tool, findings), tmp_path / "report.json"),
        "all papers": papers_anew,
        "papers that were prepared": lambda: papers.write_papers(tool, findings, tmp_path, proof),
        "proof of motion": prove_anew,
        "solids": lambda: write_solids(tool, tmp_path),
    }
    took: dict[str, list[float]] = {name: [] for name in stages}
    for _ in range(RUNS + 1):
        for name, stage in stages.items():
            start = time.process_time()
            stage()
            took[name].append(time.process_time() - start)
    sys.stdout.write("\nprocessor time of the stages of a further pack:")
    for name, each in took.items():
        sys.stdout.write(f"\n  {name}: {1000 * median(each[1:]):.0f} ms")
    sys.stdout.write("\n")
    assert (tmp_path / "bench.pdf").stat().st_size > 0


def test_simulated_assemblies_against_bare_random_numbers() -> None:
    """As many numbers as the errors have coordinates; all taps of the demo, with histograms."""
    tool = design(read_profile(DEMO))
    errors = {term.key for each in leans(tool) for term in each.terms if term.way is None}
    bits = np.random.default_rng(1)
    bare, drawn, exact = [], [], []
    for _ in range(RUNS + 1):
        start = time.perf_counter()
        simulated = simulate(tool)
        drawn.append(time.perf_counter() - start)
        start = time.perf_counter()
        bits.random(2 * len(errors) * simulated.assemblies)
        bare.append(time.perf_counter() - start)
        start = time.perf_counter()
        assert list(lean(tool))
        exact.append(time.perf_counter() - start)
    seconds, bare_s = median(drawn[1:]), median(bare[1:])
    tell("assemblies a second, millions", simulated.assemblies / seconds / 1e6, 3.3)
    tell("rate of assemblies / rate of their bare random numbers", bare_s / seconds, 0.4)
    tell("a million assemblies of all taps", seconds, 0.3, " s")
    tell("exact lean of all taps in a check", 1000 * median(exact[1:]), 5, " ms")
