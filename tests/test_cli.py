"""The commands as a new user runs them, with good and with wrong input."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli import main

ROOT = Path(__file__).parents[1]
PROFILES = sorted((ROOT / "profiles").glob("*.toml"))
DEMO = ROOT / "profiles" / "mt2-drawbar-8.toml"
REFUSED = ROOT / "profiles" / "refused-three-faults.toml"


def run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, [str(each) for each in arguments])


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)
def test_check_answers_with_its_exit_code(path: Path) -> None:
    result = run("check", path)
    assert result.exit_code == (1 if path == REFUSED else 0), result.output
    assert "verdict" in result.output
    assert f"{path.stem}:" in result.output


def test_check_prints_the_report_as_json() -> None:
    report = json.loads(run("check", "--json", DEMO).stdout)
    assert report["name"] == "mt2-drawbar-8"
    assert report["results"]["travel_mm"] == {"as_drawn": 12, "reversed": 12}
    both = json.loads(run("check", "--json", DEMO, REFUSED).stdout)
    assert [each["verdict"] for each in both] == ["pass", "fail"]


def test_the_refused_profile_fails_three_checks() -> None:
    report = json.loads(run("check", "--json", REFUSED).stdout)
    failed = [finding for finding in report["findings"] if finding["verdict"] == "fail"]
    assert len(failed) == 3
    assert all(finding["advice"] for finding in failed)


def test_build_refuses_and_says_what_would_clear_it(tmp_path: Path) -> None:
    result = run("build", REFUSED, "--out", tmp_path / "out")
    assert result.exit_code == 1
    assert "not built" in result.stderr
    assert "springs[1].outside_mm" in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.solid
def test_build_despite_failures_marks_every_sheet(tmp_path: Path) -> None:
    import ezdxf
    import pdfplumber

    result = run("build", REFUSED, "--out", tmp_path, "--despite-failures")
    assert result.exit_code == 0, result.output
    place = tmp_path / REFUSED.stem
    for sheet in ("assembly", "body", "plunger", "plug"):
        texts = [
            text.dxf.text
            for text in ezdxf.readfile(place / f"{sheet}.dxf").modelspace().query("TEXT")
        ]
        assert any("FAILED CHECKS" in text for text in texts), sheet
    with pdfplumber.open(place / "sheets.pdf") as pdf:
        for page in pdf.pages[:4]:
            assert "FAILED CHECKS" in (page.extract_text() or "")
    report = json.loads((place / "report.json").read_text("utf-8"))
    assert report["verdict"] == "fail"


def test_all_problems_of_all_files_at_once(tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(DEMO.read_text().replace("length_mm = 14.5", 'length_mm = "soon"\nwdith_mm = 3'))
    result = run("build", bad, tmp_path / "missing.toml", DEMO, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert result.stderr.splitlines() == [
        f"{bad}: 2 problems",
        '  slot.length_mm: expected a length such as 12, "12 mm" or "3/8 in", got "soon"',
        "  slot.wdith_mm: unknown key; did you mean width_mm?",
        f"{tmp_path}/missing.toml: 1 problem",
        "  cannot be read: No such file or directory",
    ]
    assert not (tmp_path / "out").exists()


def test_two_files_that_name_one_pack_are_refused(tmp_path: Path) -> None:
    twin = tmp_path / DEMO.name
    twin.write_text(DEMO.read_text())
    result = run("build", DEMO, twin, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert "mt2-drawbar-8" in result.stderr


def test_an_unwritable_output_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    result = run("build", DEMO, "--out", tmp_path / "out")
    assert result.exit_code == 2
    assert "cannot be written" in result.stderr
    assert "Traceback" not in result.output


def test_schema_is_the_one_beside_the_profiles() -> None:
    kept = (ROOT / "profiles" / "parameters.schema.json").read_text("utf-8")
    assert run("schema").stdout == kept


def test_python_m_does_the_same() -> None:
    command = [sys.executable, "-m", "generator", "check", str(DEMO)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout == run("check", DEMO).stdout
    assert done.stderr == ""


def test_a_closed_pipe_ends_quietly() -> None:
    command = f"{sys.executable} -m generator check {DEMO} | head -n 1"
    done = subprocess.run(command, shell=True, cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stderr == ""


@pytest.mark.solid
def test_watch_builds_at_every_save_and_says_what_changed(tmp_path: Path) -> None:
    file = tmp_path / "tool.toml"
    text = DEMO.read_text()
    file.write_text(text)
    watching = subprocess.Popen(
        [sys.executable, "-m", "generator", "watch", str(file), "--out", str(tmp_path / "out")],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    assert watching.stdout is not None
    try:
        assert watching.stdout.readline().startswith("tool;")
        time.sleep(0.5)
        file.write_text(text.replace("length_mm = 14.5", "length_mm = 14"))
        assert watching.stdout.readline().startswith("slot.length_mm 14.5 -> 14")
        time.sleep(0.5)
        file.write_text(text.replace("length_mm = 14.5", "length_mm = true"))
        said = [watching.stdout.readline() for _ in range(2)]
        assert said == [f"{file}: 1 problem\n", "  slot.length_mm: expected a number, got true\n"]
        assert (tmp_path / "out" / "tool" / "report.json").exists()
    finally:
        watching.terminate()
        watching.communicate(timeout=30)
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["tool"]
