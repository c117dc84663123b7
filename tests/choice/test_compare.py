"""Designs side by side: what is told is what the tools are, and all that differs is told."""

from __future__ import annotations

import json
from itertools import combinations
from pathlib import Path

import pypdfium2
import pytest
from click.testing import CliRunner

from generator.checks.run import run_checks
from generator.cli.main import main
from generator.documents.compare_papers import (
    RESULTS,
    compare_data,
    compare_sections,
    compared,
    differing,
    flat,
    force_comparison,
)
from generator.inputs.profile import read_profile
from generator.model.tool import design
from tests.documents.plots import touches

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
GOOD = [path for path in PROFILES if "refused" not in path.name]


def designs(*paths: Path) -> tuple:  # type: ignore[type-arg]
    tools = [(str(path), design(read_profile(path))) for path in paths]
    return compared([(name, tool, run_checks(tool)) for name, tool in tools])


@pytest.mark.parametrize("pair", list(combinations(GOOD[:5], 2)), ids=lambda p: p[0].stem)
def test_only_what_differs_is_listed_and_all_of_it(pair: tuple[Path, Path]) -> None:
    both = designs(*pair)
    rows = {name: values for name, *values in differing(both)}
    one, other = (dict(flat(each.tool.parameters)) for each in both)
    for name in one.keys() | other.keys():
        if not name.startswith("taps[") and name not in ("title", "name"):
            assert (name in rows) is (one.get(name) != other.get(name)), name


def test_results_are_those_of_the_tools() -> None:
    both = designs(*GOOD[:2])
    data = compare_data(both)
    for result in RESULTS:
        for told, each in zip(data["results"][result.name], both, strict=True):
            value = result.value(each.tool)
            assert told is None if value != value else told == pytest.approx(value)
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_the_better_one_has_the_star() -> None:
    both = designs(*GOOD[:2])
    results = compare_sections(both)[1].tables[0].rows
    travel = next(row for row in results if row[0] == "travel, mm")
    longer = max((0, 1), key=lambda n: both[n].tool.orientations[0].travel_mm)
    assert travel[1 + longer].endswith("*")
    assert not travel[2 - longer].endswith("*")


def test_nothing_in_the_plot_touches() -> None:
    for several in (GOOD[:2], GOOD[:6]):
        assert not touches(force_comparison(designs(*several)))


def test_the_command_prints_json_and_a_pdf(tmp_path: Path) -> None:
    names = [str(path) for path in GOOD[:3]]
    pdf = tmp_path / "sub" / "c.pdf"
    ran = CliRunner().invoke(main, ["compare", *names, "--json", "--pdf", str(pdf)])
    assert ran.exit_code == 0, ran.output
    assert len(json.loads(ran.output)["designs"]) == 3
    pages = pypdfium2.PdfDocument(pdf)
    text = "".join(page.get_textpage().get_text_range() for page in pages)
    assert "best in" in text
    assert "Verdicts and margins" in text


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (GOOD[:1], "name two to six files, got 1"),
        (GOOD[:1] * 2, "named twice; name each file once"),
        ([GOOD[0], Path("nowhere.toml")], "nowhere.toml: 1 problem"),
    ],
)
def test_wrong_files_are_named(names: list[Path], said: str) -> None:
    ran = CliRunner().invoke(main, ["compare", *map(str, names)])
    assert ran.exit_code == 2
    assert said in ran.output


def test_a_tool_that_fails_sets_the_exit_code() -> None:
    names = [str(GOOD[0]), str(next(path for path in PROFILES if "refused" in path.name))]
    assert CliRunner().invoke(main, ["compare", *names]).exit_code == 1
