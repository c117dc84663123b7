"""The bars: what is bought, and where it is sawn."""

from typing import Any

import pytest

from generator.documents.cut_list import bars, cut_list_section
from generator.making.stock import FACING_MM, KERF_MM, STUB_MM, cut_length_mm
from tests.tools import REMOVED, plug_of, tool

SPRING = {"wire_mm": 0.8, "outside_mm": 7.0, "free_mm": 11.0, "active_coils": 4.0}
THREE = {"springs": [SPRING] * 3, "separator": {}}
CASES: tuple[dict[str, Any], ...] = (
    {},
    THREE,
    {"button": REMOVED},
    {"plug.locking": "second plug"},
    {"plug.material": "silver steel 115CrV3"},
)


def test_a_bar_of_one_piece_is_worked_out_by_hand() -> None:
    # Body 93 long: 2 of facing, 2.5 of saw cut, 15 in the chuck; common practice, no source.
    body = bars(tool())[0]
    assert [(p.name, p.finished_mm, p.sawn_mm, p.mark_mm) for p in body.pieces] == [
        ("Body", 93, 95, 95)
    ]
    assert body.length_mm == pytest.approx(112.5)


def test_pieces_of_one_bar_follow_each_other_and_share_a_stub() -> None:
    # Button 2 and two separators of 1, all of brass 10: cuts begin at 4, 4 + 2.5 + 3 = 9.5 and
    # 9.5 + 2.5 + 3 = 15; the bar is 15 + 2.5 + 15 long.
    shared = next(bar for bar in bars(tool(THREE)) if len(bar.pieces) == 3)
    assert [piece.name for piece in shared.pieces] == ["Button", "Separator", "Separator"]
    assert [piece.mark_mm for piece in shared.pieces] == pytest.approx([4, 9.5, 15])
    assert shared.length_mm == pytest.approx(32.5)


@pytest.mark.parametrize("changes", CASES, ids=str)
def test_nothing_is_lost_and_nothing_overlaps(changes: dict[str, Any]) -> None:
    one = tool(changes)
    found = bars(one)
    names = [piece.name for bar in found for piece in bar.pieces]
    wanted = {part.title: 1 for part in one.made_parts}
    if one.separator:
        wanted["Separator"] = len(one.springs) - 1
    if plug_of(one.parameters).locking == "second plug":
        wanted["Plug"] = 2
    assert {name: names.count(name) for name in names} == wanted
    for bar in found:
        start = 0.0
        for piece in bar.pieces:
            assert piece.mark_mm - start == pytest.approx(piece.finished_mm + FACING_MM)
            start = piece.mark_mm + KERF_MM
        assert bar.length_mm == pytest.approx(start + STUB_MM)


@pytest.mark.parametrize("changes", CASES, ids=str)
def test_a_shared_bar_saves_a_stub_for_each_further_part(changes: dict[str, Any]) -> None:
    one = tool(changes)
    found = bars(one)
    alone_mm = sum(
        cut_length_mm(part, sum(p.name == part.title for bar in found for p in bar.pieces))
        for part in one.made_parts
    )
    saved = len(one.made_parts) - len(found)
    assert sum(bar.length_mm for bar in found) == pytest.approx(alone_mm - saved * STUB_MM)


def test_finished_bar_is_kept_apart_from_bar_that_is_turned() -> None:
    one = tool({"plug.material": "silver steel 115CrV3"})
    finished = [bar for bar in bars(one) if bar.finished]
    assert [[piece.name for piece in bar.pieces] for bar in finished] == [["Plunger"]]


def test_tables_say_what_to_buy_and_where_to_saw() -> None:
    buy, cut = cut_list_section(tool(THREE)).tables
    assert buy.rows[0] == ("steel 11SMn30", "Ø22", "112.5", "Body")
    assert buy.rows[1][1] == "Ø8 finished"
    assert buy.rows[-1][2:] == ("32.5", "Button, 2 x Separator")
    assert [row[1] for row in cut.rows].count("stub in the chuck") == len(buy.rows)
