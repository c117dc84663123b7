"""The commands as a new user runs them, with good and with wrong input."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from generator.cli.main import main

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
    for subject in ("springs", "force_window", "lean", "setting_cards"):
        assert report[subject], subject
    assert "motion" not in report
    both = json.loads(run("check", "--json", DEMO, REFUSED).stdout)
    assert [each["verdict"] for each in both] == ["pass", "fail"]


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: path.stem)
def test_report_prints_all_within_120_letters(path: Path) -> None:
    result = run("report", path)
    assert result.exit_code == (1 if path == REFUSED else 0), result.output
    assert result.stderr == ""
    assert max(map(len, result.stdout.splitlines())) <= 120
    assert "\x1b" not in result.stdout
    own = {
        "pick-up-16": ("Finding the place",),
        "support-mt2": ("Supporting the work",),
    }.get(path.stem, ("Force on each tap", "Lean of the threads", "Setting cards"))
    for title in (
        *("Checks", "Results", "Springs", *own),
        *("Bill of materials", "Assumptions", "Parameters"),
    ):
        assert any(line.split(" =")[0] == title for line in result.stdout.splitlines()), title
    findings = json.loads(run("check", "--json", path).stdout)["findings"]
    text = " ".join(result.stdout.split())
    assert all(finding["check"].split()[0] in text for finding in findings)


def test_report_prints_the_sections_asked_for() -> None:
    result = run("report", DEMO, REFUSED, "--section", "bill", "--section", "CAU")
    assert result.exit_code == 1
    titles = [line.split(" =")[0] for line in result.stdout.splitlines() if line.endswith("===")]
    assert titles == ["Bill of materials", "Cautions"] * 2
    assert result.stdout.count("Verdict: ") == 2


def test_an_unknown_section_is_told_once_with_the_titles() -> None:
    result = run("report", DEMO, REFUSED, "--section", "sprockets")
    assert result.exit_code == 2
    assert result.stdout == ""
    (line,) = result.stderr.splitlines()
    assert "'sprockets'" in line
    assert "Bill of materials, Cut list, Cautions" in line
    assert "--motion" in line


def test_report_of_a_wrong_file_says_what_is_wrong(tmp_path: Path) -> None:
    result = run("report", tmp_path / "missing.toml", DEMO)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.splitlines()[1:] == ["  cannot be read: No such file or directory"]


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
def test_check_proves_the_motion_on_request() -> None:
    plain, moved = (
        json.loads(run("check", "--json", *more, DEMO).stdout) for more in ((), ("--motion",))
    )
    names = [finding["check"] for finding in plain["findings"]]
    assert "interference" not in names
    found = {finding["check"]: finding for finding in moved["findings"][len(names) :]}
    assert found["interference"]["verdict"] == "pass"
    assert found["interference"]["value"] == 0
    assert moved.keys() - plain.keys() == {"motion"}
    told = run("report", "--motion", "--section", "proof", DEMO)
    assert told.exit_code == 0
    assert any(line.startswith("Proof of motion =") for line in told.stdout.splitlines())
    result = run("check", "--motion", DEMO)
    assert result.exit_code == 0
    assert "interference" in result.output


def narrow(tmp_path: Path) -> Path:
    """Return a profile whose slot is a tenth wider than the tip, on a sheet that allows 0.2 off.

    The other checks know the slot as drawn.
    """
    file = tmp_path / "narrow.toml"
    text = DEMO.read_text().replace("\nwidth_mm = 3\n", "\nwidth_mm = 2.6\n")
    file.write_text(text + '\n[making]\ngeneral_tolerance = "ISO 2768-c"\n')
    return file


@pytest.mark.solid
def test_a_collision_names_parts_place_and_volume(tmp_path: Path) -> None:
    file = narrow(tmp_path)
    assert run("check", file).exit_code == 0
    result = run("check", "--motion", file)
    assert result.exit_code == 1
    name = "interference, plunger and set screw"
    (line,) = [line for line in result.output.splitlines() if name in line]
    assert line.startswith("fail")
    assert re.search(r"0\.\d+ mm3", line)
    told = " ".join(result.output.split())
    assert re.search(r"at [\d.]+ mm of travel, (point|countersink) out, tightest sizes", told)
    assert "raise slot.width_mm to 2.7 mm" in told


@pytest.mark.solid
def test_build_refuses_a_tool_that_collides(tmp_path: Path) -> None:
    result = run("build", narrow(tmp_path), "--out", tmp_path / "out")
    assert result.exit_code == 1
    assert "not built" in result.stderr
    assert "interference, plunger and set screw" in result.stderr
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
    with pdfplumber.open(place / "bench.pdf") as pdf:
        for page in pdf.pages:
            if page.page_number == 1 or page.width > page.height:
                assert "FAILED CHECKS" in page.extract_text(), page.page_number
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
    assert f"{DEMO}, {twin}: " in result.stderr
    assert "the pack mt2-drawbar-8" in result.stderr
    assert not (tmp_path / "out").exists()


def test_an_unwritable_output_folder_is_told_before_any_work(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("generator.kernel.load.prove", None)
    (tmp_path / "out").write_text("a file")
    foreign = tmp_path / "packs" / DEMO.stem / "mine.txt"
    foreign.parent.mkdir(parents=True)
    foreign.touch()
    for out, told in (
        (tmp_path / "out", "cannot be written: it is no folder"),
        (tmp_path / "out" / "deep", "cannot be written"),
        (tmp_path / "packs", "holds mine.txt"),
    ):
        result = run("build", DEMO, "--out", out)
        assert result.exit_code == 2
        assert told in result.stderr
        assert len(result.stderr.splitlines()) == 1
    assert sorted(path.name for path in tmp_path.rglob("*")) == [
        *("mine.txt", DEMO.stem, "out", "packs")
    ]


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_an_interrupt_while_a_library_loads_ends_quietly(
    number: signal.Signals, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A compiled library whose loading is interrupted reports that it cannot be loaded."""

    def prove(_: object) -> None:
        with suppress(BaseException):
            signal.raise_signal(number)
        raise ImportError("initialization failed")

    former = signal.getsignal(number)
    monkeypatch.setattr("generator.kernel.load.prove", prove)
    result = run("check", "--motion", DEMO)
    assert (result.exit_code, result.stderr.strip()) == (
        (1, "Aborted!") if number == signal.SIGINT else (143, "")
    )
    assert signal.getsignal(number) == former


def test_a_library_that_is_not_there_is_not_taken_for_an_interrupt(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def prove(_: object) -> None:
        raise ImportError("no such library")

    monkeypatch.setattr("generator.kernel.load.prove", prove)
    assert isinstance(run("check", "--motion", DEMO).exception, ImportError)


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
