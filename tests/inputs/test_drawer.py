"""Workshop files and their tables of springs: what is read, and what is said of a wrong one."""

from __future__ import annotations

import json
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from generator.errors import ProfileError
from generator.inputs.commented import commented, heading_of, root_of
from generator.inputs.drawer import Shop, StockSpring
from generator.inputs.drawer_file import read_shop, read_springs
from generator.inputs.profile import table_from
from generator.inputs.schema import schema
from generator.inputs.written import table_of
from tests.choice.shops import SHIPPED, shop

SMALL = shop(matters=("travel", "length"), demands={"travel_mm": 4.0})
BASE = commented(table_of(SMALL), "A small shop.", Shop)


def problems(tmp_path: Path, text: str, **tables: str) -> tuple[str, ...]:
    for name, table in tables.items():
        (tmp_path / f"{name}.csv").write_text(table, "utf-8")
    file = tmp_path / "shop.toml"
    file.write_text(text, "utf-8")
    with pytest.raises(ProfileError) as caught:
        read_shop(file)
    return caught.value.problems


@pytest.mark.parametrize("path", SHIPPED, ids=lambda p: p.stem)
def test_a_shipped_workshop_is_in_commented_form(path: Path) -> None:
    text = path.read_text("utf-8")
    assert root_of(text) is Shop
    assert commented(tomllib.loads(text), heading_of(text), Shop) == text
    assert len(read_shop(path).springs) >= 20


def test_a_workshop_written_and_read_back_is_the_same(tmp_path: Path) -> None:
    file = tmp_path / "shop.toml"
    file.write_text(BASE, "utf-8")
    assert repr(read_shop(file)) == repr(SMALL)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('matters = ["travel", "length"]', 'matters = ["speed"]', "wishes.matters[1]:"),
        (
            'matters = ["travel", "length"]',
            'matters = ["taps", "taps"]',
            "wishes.matters: names the same thing twice",
        ),
        ("# taps = (derived)", "taps = 3", "demands.taps: must be at most 2"),
        ("# taps = (derived)", "taps = 1.5", "demands.taps: expected a whole number, got 1.5"),
        ("# length_mm = (derived)", "length_mm = 230", "demands.length_mm: must be below"),
        ("count = 2.0", "count = 0.5", "springs[1].count: expected a whole number, got 0.5"),
        ("count = 2.0", "count = 0", "springs[1].count: must be at least 1, got 0"),
        ("wire_mm = 0.8", "wire_mm = 8", "springs[1].outside_mm: must exceed twice wire_mm, 16"),
        ("outside_mm = 7.0", "outside_mm = 0.25", "springs[1].outside_mm: "),
        ("free_mm = 33.0", "free_mm = 3.0", "springs[1].free_mm: must be above the solid length"),
        ('tolerance = "h8"', 'tolerance = "z99"', 'bars[2].tolerance: unknown "z99"'),
        ('size = "MT2"', 'size = "MT9"', 'mounts[1].size: unknown "MT9"'),
        ('# point = "dog long"', 'point = "sharp"', "set_screws[1].point: expected"),
        ('size = "M5"', 'size = "M5.5"', 'taps[1].size: unknown "M5.5"'),
        ("[[reamers]]\n", "[[reamer]]\n", "reamers: missing"),
        ("diameter_mm = 25.0", "diametre_mm = 25.0", "bars[1].diametre_mm: unknown key"),
    ],
)
def test_what_is_wrong_is_named(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in BASE
    found = problems(tmp_path, BASE.replace(old, new, 1))
    assert any(line.startswith(said) for line in found), found


def test_sizes_in_inches_are_noticed(tmp_path: Path) -> None:
    text = BASE.replace("wire_mm = 0.8", "wire_mm = 0.031", 1)
    text = text.replace("outside_mm = 7.0", "outside_mm = 0.8", 1)
    text = text.replace("free_mm = 33.0", "free_mm = 1.3", 1)
    (line,) = problems(tmp_path, text)
    assert "look like inches" in line


def test_entries_that_are_the_same_are_named(tmp_path: Path) -> None:
    asked = shop()
    twice = replace(
        asked,
        springs=(*asked.springs, replace(asked.springs[0], label="again", count=3.0)),
        reamers=(*asked.reamers, asked.reamers[0]),
    )
    found = problems(tmp_path, commented(table_of(twice), "Twice.", Shop))
    assert found == (
        "springs[4]: is the same as springs[1]; leave one away and add their counts",
        "reamers[2]: is the same as reamers[1]; leave one away",
    )


def test_a_workshop_without_springs_says_so(tmp_path: Path) -> None:
    text = BASE[: BASE.index("# A kind of compression spring")]
    rest = BASE[BASE.index("# A tap that the tool is to follow") :]
    (line,) = problems(tmp_path, text + rest)
    assert line.startswith("springs: none;")


def test_an_ejected_taper_asks_for_the_depth(tmp_path: Path) -> None:
    text = BASE.replace('kind = "morse draw-bar"', 'kind = "morse ejected"')
    (line,) = problems(tmp_path, text)
    assert line.startswith("machine.ejection_depth_mm: missing;")


def springs_of(tmp_path: Path, text: str) -> list[StockSpring]:
    file = tmp_path / "box.csv"
    file.write_text(text, "utf-8")
    return [spring for _, spring in read_springs(file)]


def test_a_lid_in_millimetres_in_inches_and_with_commas_is_the_same(tmp_path: Path) -> None:
    plain = springs_of(
        tmp_path, "label,wire_mm,outside_mm,free_mm,total_coils,count\nA1,0.8,7.9375,25.4,10,4\n"
    )
    inches = springs_of(
        tmp_path,
        "\ufeff# the lid\nlabel,wire_mm,outside_in,free_in,total_coils,count\n"
        "\nA1, 0.8 ,5/16,1,10,4\n",
    )
    commas = springs_of(
        tmp_path, "label;wire_mm;outside_mm;free_mm;total_coils;count\nA1;0,8;7,9375;25,4;10;4;\n"
    )
    assert repr(plain) == repr(inches) == repr(commas)
    assert plain[0].count == 4


def test_a_rate_in_pounds_and_inches(tmp_path: Path) -> None:
    (spring,) = springs_of(
        tmp_path, "wire_mm,outside_mm,free_mm,total_coils,rate_lbf_per_in\n0.8,7,30,12,10\n"
    )
    assert spring.rate_N_per_mm == pytest.approx(1.7512684, rel=1e-7)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty; its first line names the columns, such as wire_mm,outside_mm"),
        ("wire_mm,outside_mm\n", "holds no spring"),
        (
            "wire_mm,outsde_mm,free_mm\n0.8,7,30\n",
            "line 1: unknown column 'outsde_mm'; did you mean outside_mm?",
        ),
        ("wire_mm,wire_mm\n1,1\n", "line 1: column wire_mm twice"),
        (
            "wire_mm,outside_mm,free_mm\n0.8,7,30\n",
            "line 2: give either total_coils or active_coils",
        ),
        (
            "# lid\nwire_mm,outside_mm,free_mm,total_coils\n0.8,seven,30,12\n",
            'line 3: outside_mm: expected a length such as 12, "12 mm" or "3/8 in", got "seven"',
        ),
        ("wire_mm,outside_mm\n1,2,3\n", "line 2: has 3 cells, the first line has 2"),
    ],
)
def test_what_is_wrong_with_a_table_is_named(tmp_path: Path, text: str, said: str) -> None:
    file = tmp_path / "box.csv"
    file.write_text(text, "utf-8")
    with pytest.raises(ProfileError) as caught:
        read_springs(file)
    assert said in caught.value.problems


def test_the_problems_of_all_files_come_together(tmp_path: Path) -> None:
    text = BASE.replace("# spring_files = []", 'spring_files = ["a.csv", "b.csv"]')
    text = text.replace('size = "M5"', 'size = "M99"')
    found = problems(tmp_path, text, a="wire_mm\n1\n")
    assert any("M99" in line for line in found)
    assert any("a.csv" in line and "line 2" in line for line in found)
    assert any("b.csv" in line and "cannot be read" in line for line in found)


@settings(max_examples=200, deadline=None)
@given(st.text(alphabet='wire_mn,;\n0123456789."#/ inoutsdfa', max_size=120))
def test_no_table_ends_in_a_traceback(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    file = tmp_path_factory.getbasetemp() / "fuzz.csv"
    file.write_text(text, "utf-8")
    found: object = None
    try:
        found = read_springs(file)
    except ProfileError as error:
        found = error.problems
    assert found


def test_the_reader_takes_what_the_dataclass_describes() -> None:
    assert repr(table_from(Shop, table_of(shop()), "x")) == repr(shop())


def test_the_schema_beside_the_workshops_is_current() -> None:
    file = SHIPPED[0].parent / "workshop.schema.json"
    assert json.loads(file.read_text("utf-8")) == schema(Shop)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda p: p.stem)
def test_a_second_reader_takes_a_shipped_workshop(path: Path) -> None:
    table = tomllib.loads(path.read_text("utf-8"))
    assert not list(Draft202012Validator(schema(Shop)).iter_errors(table))
    assert list(Draft202012Validator(schema(Shop)).iter_errors({**table, "bars": []}))
