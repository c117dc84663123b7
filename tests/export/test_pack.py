"""A pack appears whole or not at all, and is the same bytes every time."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

import pytest

from generator.checks.proof import run_proof
from generator.checks.run import run_checks
from generator.errors import ExportError
from generator.export.pack import Packer
from generator.inputs.profile import read_profile
from generator.kernel.load import prove
from generator.model.tool import Tool, design

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "profiles" / "mt2-drawbar-8.toml"
FILES = {
    "assembly.dxf",
    "assembly.step",
    "bench.html",
    "bench.pdf",
    "body-turning.dxf",
    "body.dxf",
    "body.step",
    "button-turning.dxf",
    "button.step",
    "exploded.dxf",
    "plug-turning.dxf",
    "plug.dxf",
    "plug.step",
    "plunger-milling.dxf",
    "plunger-turning.dxf",
    "plunger.dxf",
    "plunger.step",
    "report.json",
}

pytestmark = pytest.mark.solid


@pytest.fixture(scope="module")
def packer() -> Iterator[Packer]:
    with Packer() as made:
        yield made


@pytest.fixture(scope="module")
def demo() -> Tool:
    return design(read_profile(DEMO))


def digests(folder: Path) -> dict[str, str]:
    return {path.name: sha256(path.read_bytes()).hexdigest() for path in folder.iterdir()}


def write(packer: Packer, tool: Tool, out: Path) -> Path:
    proof = prove(tool)
    return packer.write(tool, run_checks(tool) + run_proof(tool, proof), proof, out)


def test_a_pack_holds_every_file(packer: Packer, demo: Tool, tmp_path: Path) -> None:
    assert {path.name for path in write(packer, demo, tmp_path).iterdir()} == FILES
    assert [path.name for path in tmp_path.iterdir()] == [demo.name]


def test_two_builds_in_two_processes_are_the_same_bytes(
    packer: Packer, demo: Tool, tmp_path: Path
) -> None:
    first = digests(write(packer, demo, tmp_path / "one"))
    subprocess.run(
        [sys.executable, "-m", "generator", "build", str(DEMO), "--out", str(tmp_path / "two")],
        cwd=ROOT,
        check=True,
        capture_output=True,
        env={**os.environ, "PYTHONHASHSEED": "7"},
    )
    assert digests(tmp_path / "two" / demo.name) == first
    other = design(read_profile(ROOT / "profiles" / "straight-16.toml"))
    write(packer, other, tmp_path / "three")
    assert digests(write(packer, demo, tmp_path / "three")) == first


def test_the_committed_demo_is_what_the_program_writes(
    packer: Packer, demo: Tool, tmp_path: Path
) -> None:
    """Same files, same texts, numbers equal to 1e-6: processors may differ in a last digit."""
    kept = ROOT / "outputs" / demo.name
    made = write(packer, demo, tmp_path)
    assert {p.name for p in kept.iterdir()} == {p.name for p in made.iterdir()}
    for path in made.iterdir():
        if path.suffix == ".pdf":
            continue
        ours, theirs = words(path), words(kept / path.name)
        assert len(ours) == len(theirs), path.name
        for one, other in zip(ours, theirs, strict=True):
            assert one == other or float(one) == pytest.approx(float(other), rel=1e-6, abs=1e-6)


def words(path: Path) -> list[str]:
    text = path.read_text("utf-8")
    for mark in "(),;":
        text = text.replace(mark, f" {mark} ")
    return text.split()


def test_the_committed_demo_is_small() -> None:
    kept = ROOT / "outputs" / "mt2-drawbar-8"
    assert sum(path.stat().st_size for path in kept.iterdir()) < 4_000_000


def test_a_former_pack_is_replaced_whole(packer: Packer, demo: Tool, tmp_path: Path) -> None:
    place = write(packer, demo, tmp_path)
    (place / "left-over.dxf").write_text("from a former version")
    write(packer, demo, tmp_path)
    assert {path.name for path in place.iterdir()} == FILES


def test_a_failed_build_leaves_the_former_pack(
    packer: Packer, demo: Tool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = digests(write(packer, demo, tmp_path))

    def fail(*_: object) -> None:
        raise ExportError("no solid")

    monkeypatch.setattr("generator.export.write_solids.write_solids", fail)
    with pytest.raises(ExportError, match="no solid"):
        write(packer, demo, tmp_path)
    assert digests(tmp_path / demo.name) == before
    assert [path.name for path in tmp_path.iterdir()] == [demo.name]


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGINT, signal.SIGKILL])
def test_a_stopped_build_leaves_nothing(how: signal.Signals, tmp_path: Path) -> None:
    building = subprocess.Popen(
        [sys.executable, "-m", "generator", "build", str(DEMO), "--out", str(tmp_path / "out")],
        cwd=ROOT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        start_new_session=True,
    )
    deadline = time.monotonic() + 60
    while not list(tmp_path.glob("out/.mt2-drawbar-8.*")):
        assert time.monotonic() < deadline
        assert building.poll() is None
        time.sleep(0.01)
    building.send_signal(how)
    _, complaint = building.communicate(timeout=60)
    assert building.returncode != 0
    assert b"Traceback" not in complaint
    while list(tmp_path.glob("out/.*")):
        assert time.monotonic() < deadline
        time.sleep(0.05)
    assert not list(tmp_path.glob("out/*"))


def test_two_builds_at_once_do_not_mix(packer: Packer, demo: Tool, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "generator", "build", str(DEMO), "--out", str(tmp_path)]
    both = [subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL) for _ in range(2)]
    assert [each.wait(timeout=120) for each in both] == [0, 0]
    assert digests(tmp_path / demo.name) == digests(write(packer, demo, tmp_path / "alone"))
    assert sorted(path.name for path in tmp_path.iterdir()) == ["alone", demo.name]


def test_a_folder_with_foreign_files_is_left_alone(
    packer: Packer, demo: Tool, tmp_path: Path
) -> None:
    (tmp_path / demo.name).mkdir()
    notes = tmp_path / demo.name / "notes.txt"
    notes.write_text("mine")
    with pytest.raises(ExportError, match=r"notes\.txt, which was not written here"):
        write(packer, demo, tmp_path)
    assert notes.read_text() == "mine"


@pytest.mark.parametrize("kind", ["file", "link"])
def test_a_place_that_is_no_folder_is_refused(
    packer: Packer, demo: Tool, tmp_path: Path, kind: str
) -> None:
    place, elsewhere = tmp_path / "out" / demo.name, tmp_path / "elsewhere"
    place.parent.mkdir()
    elsewhere.mkdir()
    if kind == "file":
        place.write_text("mine")
    else:
        place.symlink_to(elsewhere)
    with pytest.raises(ExportError, match="is no folder"):
        write(packer, demo, place.parent)
    assert not list(elsewhere.iterdir())


def test_an_output_folder_that_is_a_file_is_refused(
    packer: Packer, demo: Tool, tmp_path: Path
) -> None:
    (tmp_path / "out").write_text("mine")
    with pytest.raises(ExportError, match="cannot be written"):
        write(packer, demo, tmp_path / "out")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a small file system")
def test_a_full_disk_is_told_and_leaves_nothing(
    packer: Packer, demo: Tool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        with open("/dev/full", "w") as file:
            file.write("x" * 100_000)

    monkeypatch.setattr("generator.export.write_solids.write_solids", full)
    with pytest.raises(ExportError, match="No space left"):
        write(packer, demo, tmp_path / "new" / "out")
    assert not list(tmp_path.iterdir())


def test_the_report_is_plain_json(packer: Packer, demo: Tool, tmp_path: Path) -> None:
    def refuse(word: str) -> None:
        raise AssertionError(word)

    text = (write(packer, demo, tmp_path) / "report.json").read_text("utf-8")
    assert json.loads(text, parse_constant=refuse)["name"] == demo.name
