from math import pi
from typing import Any

import pytest

from generator.documents.bill import (
    bill,
    bill_tables,
    set_screw_text,
    spring_mass_g,
    stock_text,
    total_mass_g,
)
from generator.making.stock import cut_length_mm, stock_mm
from generator.model.tool import Tool
from generator.standards.rows import SetScrew
from tests.tools import REMOVED, screw_of, tool


def test_cut_length_is_the_part_faced_at_both_ends_sawn_and_held() -> None:
    # Body: 24 nose + 5 stand-out + 64 taper (ISO 296, MT2) = 93; common practice adds 2 x 1 of
    # facing, 2.5 of saw cut and 15 for the chuck.
    assert cut_length_mm(tool().body) == pytest.approx(93 + 2 + 2.5 + 15)
    assert cut_length_mm(tool().plunger) == pytest.approx(62 + 2 + 2.5 + 15)


def test_several_pieces_share_one_stub() -> None:
    spring = {"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 11.0, "active_coils": 4.0}
    made = tool({"springs": [spring] * 3, "separator": {}})
    separator = next(item for item in bill(made) if item.name == "Separator")
    assert separator.quantity == 2
    assert separator.cut_length_mm == pytest.approx(2 * (1 + 2 + 2.5) + 15)


@pytest.mark.parametrize(
    ("nose_mm", "bar_mm"), [(19.0, 20), (19.1, 22), (20.0, 22), (24.0, 25), (24.5, 28)]
)
def test_bar_is_the_next_size_a_millimetre_over_the_part(nose_mm: float, bar_mm: float) -> None:
    # Sizes of round bar: common practice, no source.
    assert stock_mm(tool({"body.nose_diameter_mm": nose_mm}).body) == bar_mm


def test_bar_beyond_the_list_is_a_whole_centimetre() -> None:
    assert stock_mm(tool({"body.nose_diameter_mm": 109.5}).body) == 120


def test_plunger_keeps_the_outside_of_its_bar() -> None:
    assert stock_text(tool().plunger) == "Ø8 finished bar x 81.5"
    assert stock_text(tool().body) == "Ø22 x 112.5"


@pytest.mark.parametrize(
    ("point", "slot", "text"),
    [
        ("dog long", {}, "set screw ISO 4028 M4 x 8, long dog"),
        ("dog short", {"set_screw.length_mm": 6.0}, "set screw ISO 4028 M4 x 6, short dog"),
        ("flat", {}, "set screw ISO 4026 M4 x 8, flat point"),
        ("cone", {}, "set screw ISO 4027 M4 x 8, cone point"),
        ("cup", {}, "set screw ISO 4029 M4 x 8, cup point"),
        ("dog long", {"set_screw.length_mm": 9.0}, "set screw ISO 4028 M4 x 9, long dog, cut"),
        (
            "dog long",
            {"set_screw.tip_mm": 2.2, "set_screw.tip_length_mm": 1.8},
            "set screw ISO 4028 M4 x 8, tip turned to Ø2.2 x 1.8 mm",
        ),
    ],
)
def test_set_screw_is_ordered_by_its_standard(point: str, slot: dict[str, Any], text: str) -> None:
    # ISO 4026 flat point, 4027 cone point, 4028 dog point, 4029 cup point: titles of the standards.
    assert _ordered(tool({"set_screw.point": point, **slot})).startswith(text)


def _ordered(made: Tool) -> str:
    return set_screw_text(made, screw_of(made.parameters))


def test_inch_screw_is_ordered_in_inches() -> None:
    made = tool(
        {
            "set_screw": {"thread": "#8-32 UNC", "point": "dog short", "length_mm": 7.9375},
            "slot.width_mm": 3.5,
        }
    )
    assert _ordered(made) == "set screw ASME B18.3 #8-32 UNC x 5/16 in, half dog"


def test_screw_that_is_not_tabulated_is_turned() -> None:
    names = {row.name for row in SetScrew.rows()}
    assert "M14" not in names
    screw = {"thread": "M14", "length_mm": 20.0, "tip_mm": 2.5, "tip_length_mm": 2.0}
    assert "M14 x 20, tip turned to Ø2.5 x 2 mm" in _ordered(tool({"set_screw": screw}))


def test_spring_weighs_its_wire() -> None:
    # 14 coils of 0.8 wire on 6.2, 7.85 g/cm3: worked by hand.
    made = tool()
    assert made.springs[0].total_coils == 14
    by_hand_g = 14 * pi * 6.2 * pi / 4 * 0.8**2 * 7.85e-3
    assert spring_mass_g(made.springs[0]) == pytest.approx(by_hand_g)


def test_equal_springs_stand_on_one_line() -> None:
    spring = {"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 11.0, "active_coils": 4.0}
    other = {**spring, "free_mm": 12.0}
    items = bill(tool({"springs": [spring, other, spring], "separator": {}}))
    assert [item.quantity for item in items if item.name == "Spring"] == [2, 1]


def test_total_is_the_sum_of_all_parts() -> None:
    made = tool()
    parts = list(made.solid_parts)
    springs_g = sum(spring_mass_g(spring) for spring in made.springs)
    assert total_mass_g(made) == pytest.approx(sum(part.mass_g for part in parts) + springs_g)


@pytest.mark.parametrize(
    ("locking", "plug", "texts"),
    [
        ("threadlocker", "threadlocker", ["medium strength, a drop each on the set screw and the"]),
        ("none", "threadlocker", ["medium strength, a drop each on the plug"]),
        ("none", "none", []),
        ("jam screw", "none", ["set screw ISO 4026 M4 x 4, flat point"]),
    ],
)
def test_what_locks_is_bought(locking: str, plug: str, texts: list[str]) -> None:
    items = bill(tool({"set_screw.locking": locking, "plug.locking": plug}))
    found = [i.designation for i in items if i.name in ("Jam screw", "Threadlocker")]
    assert len(found) == len(texts)
    assert all(a.startswith(b) for a, b in zip(found, texts, strict=True))


def test_second_plug_is_made_too() -> None:
    plug = next(i for i in bill(tool({"plug.locking": "second plug"})) if i.name == "Plug")
    assert plug.quantity == 2
    assert plug.mass_g == pytest.approx(2 * tool().abutment.mass_g)


def test_tables_hold_every_item() -> None:
    made = tool({"button": REMOVED})
    cut, bought = bill_tables(made)
    assert [row[0] for row in cut.rows] == ["Body", "Plunger", "Plug"]
    assert [row[0] for row in bought.rows] == ["Set screw", "Spring", "Threadlocker"]
    assert cut.rows[0][3] == "Ø22"
