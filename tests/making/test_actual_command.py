"""The command actual as a user runs it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.test_cli import DEMO, run


@pytest.fixture
def sizes(tmp_path: Path) -> Path:
    return tmp_path / "measured.toml"


def test_it_prints_what_to_change(sizes: Path) -> None:
    sizes.write_text('tool = "mt2-drawbar-8"\nbore_mm = 8.03\nslot_length_mm = 14.1\n')
    result = run("actual", DEMO, sizes)
    assert result.exit_code == 0, result.output
    assert result.stderr == ""
    assert max(map(len, result.stdout.splitlines())) <= 120
    for told in ("7.993 mm", "cut it to 14.5 mm", "over: keep", "Before and after", "lean, 95 %"):
        assert told in result.stdout
    data = json.loads(run("actual", DEMO, sizes, "--json").stdout)
    assert data["verdict"] == "warn"


def test_scrap_exits_1(sizes: Path) -> None:
    sizes.write_text("slot_depth_mm = 3.1\n")
    result = run("actual", DEMO, sizes)
    assert result.exit_code == 1
    assert "SCRAP" in result.stdout
    assert "plunger" in result.stdout


def test_a_wrong_file_exits_2_with_all_problems(sizes: Path) -> None:
    sizes.write_text('bor_mm = 8\nslot_depth_mm = "deep"\n')
    result = run("actual", DEMO, sizes)
    assert result.exit_code == 2
    assert result.stdout == ""
    first, *lines = result.stderr.splitlines()
    assert first == f"{sizes}: 2 problems"
    assert any("did you mean bore_mm?" in line for line in lines)
    assert run("actual", DEMO, sizes.parent / "none.toml").exit_code == 2
    assert run("actual", sizes.parent / "none.toml", sizes).exit_code == 2


def test_it_wants_sizes_or_a_template(sizes: Path) -> None:
    sizes.write_text("")
    for arguments in ((DEMO,), (DEMO, sizes, "--template")):
        result = run("actual", *arguments)
        assert result.exit_code == 2
        assert "--template" in result.stderr


def test_the_template_is_answered_with_nothing_to_do(sizes: Path) -> None:
    template = run("actual", DEMO, "--template")
    assert template.exit_code == 0
    sizes.write_text(template.stdout)
    result = run("actual", DEMO, sizes)
    assert result.exit_code == 0
    assert "Nothing: go on as drawn." in result.stdout
    filled = "\n".join(
        line.removeprefix("# ") if " = " in line or line.startswith("# [[") else line
        for line in template.stdout.splitlines()
    )
    sizes.write_text(filled)
    data = json.loads(run("actual", DEMO, sizes, "--json").stdout)
    assert len(data["measured"]) > 25
    assert {each["verdict"] for each in data["measured"]} == {"in"}
    assert data["changes"] == []
