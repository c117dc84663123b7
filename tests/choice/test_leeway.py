"""Leeway: at the told end nothing is worse, a step beyond it the told rule is."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner

from generator.checks.finding import Finding, Verdict
from generator.checks.run import run_checks
from generator.choice.leeway import (
    EVERY,
    IMPOSSIBLE,
    ORDER,
    Leeway,
    leeway,
    leeways,
    numbers,
    step_of,
)
from generator.cli.main import main
from generator.documents.leeway_papers import leeway_figures
from generator.errors import StandardError
from generator.inputs.parameters import Parameters
from generator.inputs.profile import read_profile
from generator.inputs.shop import LimitChange
from generator.making.sizes import with_value
from generator.model.tool import design
from tests.documents.plots import touches

PROFILES = Path(__file__).parents[2] / "profiles"
NAMES = ("mt2-drawbar-8", "mt1-tailstock-5", "straight-16")


def verdicts(asked: Parameters, key: str, value: float) -> dict[str, Verdict]:
    try:
        tool = design(with_value(asked, key, value))
    except (StandardError, ValueError, ZeroDivisionError, AssertionError):
        return {IMPOSSIBLE: Verdict.FAIL}
    return {finding.check: finding.verdict for check in EVERY for finding in check(tool)}


def graver(found: dict[str, Verdict], drawn: dict[str, Verdict]) -> set[str]:
    return {
        name
        for name, verdict in found.items()
        if ORDER.index(verdict) > ORDER.index(drawn.get(name, Verdict.PASS))
    }


@pytest.fixture(scope="module", params=NAMES)
def found(
    request: pytest.FixtureRequest,
) -> tuple[Parameters, dict[str, Verdict], tuple[Leeway, ...]]:
    asked = read_profile(PROFILES / f"{request.param}.toml")
    findings: tuple[Finding, ...] = run_checks(design(asked))
    return asked, {f.check: f.verdict for f in findings}, leeways(asked, findings)


def test_the_told_rule_breaks_just_beyond_the_end(
    found: tuple[Parameters, dict[str, Verdict], tuple[Leeway, ...]],
) -> None:
    asked, drawn, every = found
    ends = 0
    for one in every:
        for sign, end, fail in zip((-1, 1), one.warns, one.fails, strict=True):
            if end.rule:
                ends += 1
                beyond = round(end.value + sign * one.step, 9)
                assert not graver(verdicts(asked, one.key, end.value), drawn), one.key
                assert end.rule in graver(verdicts(asked, one.key, beyond), drawn), one.key
            if fail.rule:
                beyond = round(fail.value + sign * one.step, 9)
                assert verdicts(asked, one.key, beyond)[fail.rule] is Verdict.FAIL
                assert sign * fail.value >= sign * end.value
    assert ends > 40


@pytest.mark.parametrize("key", ["slot.length_mm", "springs[1].free_mm", "plug.sunk_mm"])
def test_a_dense_scan_finds_the_same_ends(key: str) -> None:
    asked = read_profile(PROFILES / "mt2-drawbar-8.toml")
    tool = design(asked)
    drawn = {f.check: f.verdict for f in run_checks(tool)}
    value = dict(numbers(tool.parameters))[key]
    one = leeway(asked, drawn, (key, value))
    step = step_of(key, value)
    for sign, end in zip((-1, 1), one.warns, strict=True):
        at = value
        while not graver(verdicts(asked, key, round(at + sign * step, 9)), drawn):
            at = round(at + sign * step, 9)
        assert at == pytest.approx(end.value)


def test_every_number_of_the_tool_is_there(
    found: tuple[Parameters, dict[str, Verdict], tuple[Leeway, ...]],
) -> None:
    _, _, every = found
    keys = {one.key for one in every}
    assert {"slot.length_mm", "plug.sunk_mm", "body.nose_length_mm", "springs[1].wire_mm"} <= keys
    assert len(keys) == len(every) > 50


def test_a_limit_of_ones_own_moves_the_end() -> None:
    asked = read_profile(PROFILES / "mt2-drawbar-8.toml")
    own = replace(asked, limits={"travel": LimitChange(warn=11.9)})
    drawn = {f.check: f.verdict for f in run_checks(design(own))}
    one = leeway(own, drawn, ("slot.length_mm", 14.5))
    assert one.warns[0].rule == "travel"
    assert one.warns[0].value == pytest.approx(14.4)


def test_nothing_in_the_plot_touches(
    found: tuple[Parameters, dict[str, Verdict], tuple[Leeway, ...]],
) -> None:
    for one in leeway_figures(found[2]):
        assert not touches(one)


def test_the_command_prints_json_and_a_pdf(tmp_path: Path) -> None:
    pdf = tmp_path / "l.pdf"
    path = PROFILES / "mt2-drawbar-8.toml"
    ran = CliRunner().invoke(main, ["leeway", str(path), "--json", "--pdf", str(pdf)])
    assert ran.exit_code == 0, ran.output
    told = {one["key"]: one for one in json.loads(ran.output)}
    assert told["plug.sunk_mm"]["warns"]["up"]["rule"] == "solid margin"
    assert told["slot.length_mm"]["moves"]["travel, mm"] == pytest.approx(1.0)
    assert "leeway" in pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_range()


def test_a_wrong_file_is_named() -> None:
    ran = CliRunner().invoke(main, ["leeway", "nowhere.toml"])
    assert ran.exit_code == 2
    assert "nowhere.toml: 1 problem" in ran.output
