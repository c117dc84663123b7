"""A first parameter file: it passes, and every wrong answer is named."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.checks.finding import Verdict
from generator.checks.run import run_checks
from generator.cli.main import main
from generator.inputs.commented import commented, heading_of
from generator.inputs.profile import read_profile
from generator.model.tool import design

ANSWERS = {
    "draw-bar": ["--mount", "MT2 draw-bar", "--headroom", "240", "--spindle", "vertical"],
    "ejected": [
        *("--mount", "mt2 ejected", "--headroom", "260", "--spindle", "horizontal"),
        *("--ejection-depth", "68"),
    ],
    "r8": ["--mount", "R8", "--headroom", "260", "--spindle", "vertical"],
    "straight": ["--mount", "straight 3/4 in", "--headroom", "9 in", "--spindle", "vertical"],
}
TAPS = {
    "metric": ["--tap", "ISO 529 M5 point", "--tap", "DIN 352 M8 centre"],
    "inch": ["--tap", "ASME B94.9 1/4-20 point"],
    "untold": ["--tap", "iso 529 M6"],
}


@pytest.mark.parametrize("mount", ANSWERS)
@pytest.mark.parametrize("taps", TAPS)
def test_a_first_file_passes(mount: str, taps: str, tmp_path: Path) -> None:
    file = tmp_path / "first.toml"
    ran = CliRunner().invoke(main, ["new", str(file), *ANSWERS[mount], *TAPS[taps]])
    assert ran.exit_code == 0, ran.output
    tool = design(read_profile(file))
    assert len(tool.parameters.taps) == len(TAPS[taps]) // 2
    assert all(finding.verdict is not Verdict.FAIL for finding in run_checks(tool))
    text = file.read_text("utf-8")
    assert commented(tomllib.loads(text), heading_of(text)) == text


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    file = tmp_path / "first.toml"
    file.write_text("mine")
    ran = CliRunner().invoke(main, ["new", str(file), *ANSWERS["draw-bar"], *TAPS["inch"]])
    assert ran.exit_code == 2
    assert "is there already" in ran.output
    assert file.read_text() == "mine"


@pytest.mark.parametrize(
    ("answers", "said"),
    [
        (["--mount", "hammer", "--headroom", "1"], 'mount: expected such as "MT2 draw-bar"'),
        (["--mount", "MT2 draw-bar", "--headroom", "far"], "machine.headroom_mm: expected a"),
        (["--mount", "MT9 draw-bar", "--headroom", "200"], 'mount.size: unknown "MT9"'),
    ],
)
def test_wrong_answers_are_named(answers: list[str], said: str, tmp_path: Path) -> None:
    file = tmp_path / "first.toml"
    more = ["--spindle", "vertical", "--tap", "ISO 529 M6 point"]
    ran = CliRunner().invoke(main, ["new", str(file), *answers, *more])
    assert ran.exit_code == 2
    assert said in ran.output
    assert not file.exists()


def test_without_a_terminal_what_is_missing_is_named(tmp_path: Path) -> None:
    ran = CliRunner().invoke(main, ["new", str(tmp_path / "first.toml")])
    assert ran.exit_code == 2
    assert "--mount: missing; how does the machine hold the tool" in ran.output


def test_taps_that_no_tool_serves_together_are_told(tmp_path: Path) -> None:
    taps = ["--tap", "ISO 529 M3 point", "--tap", "DIN 352 M5 bevel"]
    mount = ["--mount", "MT1 ejected", "--headroom", "240", "--spindle", "horizontal"]
    file = tmp_path / "first.toml"
    ran = CliRunner().invoke(main, ["new", str(file), *mount, "--ejection-depth", "55", *taps])
    assert ran.exit_code == 1
    assert "one could serve M3 ISO 529" in ran.output
    assert not file.exists()
