"""What every table owes: cells filled, names unique, units named, sources given."""

from __future__ import annotations

import csv
import math
import subprocess
import sys
from dataclasses import fields
from importlib import resources
from itertools import pairwise

import pytest

from generator.errors import StandardError
from generator.standards import bands, cutting, gauge_blocks, holders, mounts
from generator.standards import rows as tables
from generator.standards.bands import Band, SizeLimits, ToleranceZone
from generator.standards.rows import Row

TABLES = [
    kind
    for module in (tables, bands, cutting, gauge_blocks, holders, mounts)
    for kind in vars(module).values()
    if isinstance(kind, type) and issubclass(kind, Row) and kind not in (Row, Band, SizeLimits)
    if kind.__module__ == module.__name__
]
UNITS = (
    *("_mm", "_um", "_MPa", "_Nm", "_N", "_g", "_g_per_cm3", "taper_in_per_ft"),
    *("_factor", "_share", "_m_per_min", "_mm_per_rev", "_um_per_m_K", "_deg"),
)
WORDS = {
    "two_independent",
    "one_source",
    "one_source_plus_formula",
    "one_source_plus_fit",
    "one_source_plus_memory",
    "one_secondary_plus_memory",
    "derived",
    *tables.UNVERIFIED,
}

every_table = pytest.mark.parametrize("table", TABLES, ids=lambda kind: kind.__name__)


def lines(table: type[Row]) -> list[dict[str, str]]:
    path = resources.files("generator.standards").joinpath(table.FILE)
    return list(csv.DictReader(path.read_text("utf-8").splitlines(), strict=True))


def test_there_are_tables() -> None:
    assert len(TABLES) >= 28


@every_table
def test_columns_are_the_fields(table: type[Row]) -> None:
    assert set(lines(table)[0]) == {field.name for field in fields(table)}


@every_table
def test_every_name_is_unique(table: type[Row]) -> None:
    names = [line["name"] for line in lines(table)]
    assert len(set(names)) == len(names) == len(table.rows())


@every_table
def test_every_cell_is_filled_unless_the_field_may_be_empty(table: type[Row]) -> None:
    for row in table.rows():
        for field in fields(table):
            value = getattr(row, field.name)
            if field.name == "drawbar_thread" and row.name.startswith("MT0"):
                continue  # the smallest Morse taper has no draw-bar
            assert value != "", (row.name, field.name)
            assert value is not None or field.type == "float | None", (row.name, field.name)
            assert not isinstance(value, float) or math.isfinite(value), (row.name, field.name)


@every_table
def test_every_number_names_its_unit(table: type[Row]) -> None:
    for field in fields(table):
        assert field.type == "str" or field.name.endswith(UNITS), field.name


@every_table
def test_confidence_uses_known_words_and_fields(table: type[Row]) -> None:
    names = {field.name for field in fields(table)}
    for row in table.rows():
        for part in row.confidence.split(";"):
            field, _, word = part.rpartition(":")
            assert word in WORDS, row
            assert field == "" or field in names, row


@every_table
def test_a_row_from_memory_says_so_in_its_source(table: type[Row]) -> None:
    told = ("memory", "no source")
    for row in table.rows():
        if any(row.confidence_of(name) == "memory" for name in row.unverified_fields):
            assert any(word in row.source for word in told), row


@every_table
def test_an_unknown_name_lists_the_known_ones(table: type[Row]) -> None:
    first = table.rows()[0].name
    with pytest.raises(StandardError, match=r"has no 'nothing'; it has ") as raised:
        table.find("nothing")
    assert table.FILE in str(raised.value)
    assert first in str(raised.value)


@pytest.mark.parametrize(
    "table", [kind for kind in TABLES if issubclass(kind, Band)], ids=lambda kind: kind.__name__
)
def test_bands_meet_without_gap_or_overlap(table: type[Band]) -> None:
    for key in table.known():
        found = [row for row in table.rows() if getattr(row, table.KEY) == key]
        assert all(row.over_mm < row.upto_mm for row in found)
        for thin, thick in pairwise(found):
            assert thin.upto_mm == thick.over_mm, key


def test_a_table_is_read_once() -> None:
    assert tables.Thread.find("M6") is tables.Thread.find("M6")


def test_tables_load_without_the_heavy_libraries() -> None:
    code = (
        "import sys, generator.standards.rows as t; t.Thread.find('M6'); "
        "import generator.standards.holders as h; h.ErCollet.find('ER16'); "
        "import generator.standards.mounts as m; m.MorseTang.find('MT2'); "
        "sys.exit(len({'numpy', 'pydantic', 'cadquery', 'ezdxf'} & set(sys.modules)))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_confidence_is_told_field_by_field() -> None:
    taper = tables.MorseTaper.find("MT2")
    assert taper.confidence_of("gauge_diameter_mm") == "two_independent"
    assert taper.confidence_of("drawbar_thread") == "memory"
    assert taper.unverified_fields == ("drawbar_thread", "drawbar_thread_depth_mm")
    assert taper.unverified
    assert not ToleranceZone.find("H7 over 6 to 10").unverified


def test_a_tap_tells_its_sizes_from_its_centres() -> None:
    inch, din = tables.Tap.find("ASME B94.9 1/4-20"), tables.Tap.find("DIN 352 M6")
    assert (inch.dims_unverified, inch.centres_unverified) == (False, True)
    assert (din.dims_unverified, din.centres_unverified) == (True, False)
