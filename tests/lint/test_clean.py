"""Files that are as they should be have no findings; nothing that a sheet says is idle."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from random import Random
from time import process_time

import pytest

from generator.export.dxf_reader import read_dxf
from generator.lint.page import page_of
from generator.lint.run import lint
from generator.lint.sheet import Cutting, Sheet
from tests.good_profiles import SHIPPED, good, good_profiles, proposed
from tests.lint.packs import read_all, shipped_tool, write_dxf_files

Pack = dict[str, Sheet | Cutting]
PARTS = ("body", "plunger", "plug", "disc")
SEED = 20


@pytest.fixture(scope="module", params=SHIPPED)
def pack(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Pack:
    """Return the files of a shipped profile by name."""
    paths = write_dxf_files(shipped_tool(request.param), tmp_path_factory.mktemp(request.param))
    return {path.stem: read_dxf(path) for path in paths}


def sheet(pack: Pack, name: str) -> Sheet:
    found = pack[name]
    assert isinstance(found, Sheet)
    return found


def news(pack: Pack, name: str) -> Callable[[Sheet], set[str]]:
    """Return what tells the rules that a sheet, changed, breaks and does not break as it is."""
    others = [file for each, file in pack.items() if each != name]
    before = {str(fault) for fault in lint([pack[name]], others)}

    def told(changed: Sheet) -> set[str]:
        found = lint([changed], others)
        return {fault.rule for fault in found if str(fault) not in before}

    return told


def test_shipped_profiles_have_no_findings(pack: Pack) -> None:
    assert lint(list(pack.values())) == ()


def test_a_dimension_that_is_taken_away_is_missed(pack: Pack) -> None:
    for name in (part for part in PARTS if part in pack):
        whole, told = sheet(pack, name), news(pack, name)
        for measure in whole.measures:
            rest = tuple(each for each in whole.measures if each is not measure)
            found = told(replace(whole, measures=rest))
            if measure.text.startswith("("):
                assert found == set(), measure.text
            else:
                assert found & {"missing", "edge"}, f"{name}: {measure.text}"


def test_a_row_of_a_call_out_that_is_taken_away_is_missed(pack: Pack) -> None:
    for name in (part for part in PARTS if part in pack):
        whole, told = sheet(pack, name), news(pack, name)
        rows = [row for leader in page_of(whole).leaders for row in leader.rows]
        for row in rows:
            if row.text.startswith(("Ra", "(")) or "half angle" in row.text or "1:" in row.text:
                continue  # finish, reference, and the rate of a taper, given by its diameters
            if len(row.text) == 1:
                continue  # the letter of a plane or datum that stands close below
            blank = replace(row, text="Ra 1.6")
            letters = tuple(blank if each is row else each for each in whole.letters)
            assert "missing" in told(replace(whole, letters=letters)), f"{name}: {row.text}"


def test_most_tables_proposed_are_good() -> None:
    random = Random(SEED)
    assert sum(good(proposed(random)) is not None for _ in range(100)) >= 50


def test_random_good_tools_have_no_findings(tmp_path: Path) -> None:
    """Of each tool one sheet, in turn, beside its cutting profiles."""
    for number, found in enumerate(good_profiles(SEED, 40)):
        paths = write_dxf_files(found.tool, tmp_path / str(number))
        sheets = ("assembly", "exploded", *PARTS[:2], found.tool.abutment.name)
        name = sheets[number % len(sheets)]
        chosen = [path for path in paths if path.stem == name or path.stem.endswith("-turning")]
        assert lint(read_all(tuple(chosen))) == (), found.table


@pytest.mark.benchmarks
def test_findings_and_seconds_of_five_hundred_good_tools(tmp_path: Path) -> None:
    start, sheets, findings = process_time(), 0, 0
    reading = 0.0
    for number, found in enumerate(good_profiles(SEED + 1, 500)):
        paths = write_dxf_files(found.tool, tmp_path / str(number))
        begun = process_time()
        for fault in lint(read_all(paths)):
            findings += 1
            sys.stdout.write(f"\n{found.table['name']} {fault}")
        reading += process_time() - begun
        sheets += sum(not path.stem.endswith(("-turning", "-milling")) for path in paths)
        for path in paths:
            path.unlink()
    sys.stdout.write(f"\n{sheets} sheets, {findings} findings")
    sys.stdout.write(f"\n{process_time() - start:.0f} s, of which lint {reading:.0f} s")
    sys.stdout.write(f"\nlint: {reading / sheets:.3f} s a sheet, cutting profiles included")
    assert findings == 0
    assert reading / sheets < 0.5
