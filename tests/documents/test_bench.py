"""The one document: its chapters, its cover, the card for using the tool."""

from typing import Any

import pytest

from generator.checks.finding import Verdict
from generator.checks.run import run_checks
from generator.documents.bench import bench
from generator.documents.cover import cover_section
from generator.documents.drawing import Figure
from generator.documents.layout import bounds
from generator.documents.study import Study, Subject
from generator.documents.table import Section
from generator.documents.tool_sheets import parameters_hash, tool_sheets
from generator.documents.use_card import use_card
from generator.use.settings import cards
from tests.documents.operations import SHEET
from tests.tools import tool

FAILING = {"set_screw.locking": "none", "body.nose_diameter_mm": 9.5}
STRAIGHT = {"mount": {"kind": "straight", "diameter_mm": 18.0, "length_mm": 69.0}}
LATHE = {"machine.spindle": "horizontal"}
TURNED = {"machine.spindle": "horizontal", "machine.turned": "work"}


def key_figures(changes: dict[str, Any] | None = None) -> dict[str, str]:
    one = tool(changes or {})
    return {row[0]: row[1] for row in cover_section(one, run_checks(one)).tables[0].rows}


def test_chapters_come_in_the_order_of_the_work() -> None:
    one = tool()
    findings = run_checks(one)
    setups, inspection = Section("Compound"), Section("Bore")
    told = bench(
        one,
        findings,
        Study(
            making=Subject((SHEET,), None),
            setups=Subject((setups,), None),
            inspection=Subject((inspection,), None),
        ),
        tool_sheets(one, findings),
    )
    assert [chapter.title for chapter in told.chapters] == [
        *("Cover", "Drawings", "Making", "Set-ups", "Inspection", "Use"),
        *("Materials and cautions", "Calculations"),
    ]
    assert [chapter.fine for chapter in told.chapters] == [False] * 7 + [True]
    titles = [section.title for section in told.sections]
    assert titles.index(SHEET.section.title) < titles.index("Compound") < titles.index("Bore")


def test_an_empty_chapter_is_left_out() -> None:
    one = tool()
    titles = [chapter.title for chapter in bench(one, run_checks(one)).chapters]
    assert titles == ["Cover", "Use", "Materials and cautions", "Calculations"]


def test_head_of_the_document_is_that_of_the_tool() -> None:
    one = tool({"making.revision": "C", "making.sheets": "US", **FAILING})
    findings = run_checks(one)
    told = bench(one, findings)
    assert (told.revision, told.paper, told.verdict) == ("C", "Letter", Verdict.FAIL)
    assert told.parameters_hash == parameters_hash(one)
    assert told.summary.startswith(f"{len(findings)} checks: ")
    assert bench(tool(), run_checks(tool())).paper == "A4"


def test_key_figures_are_those_worked_by_hand() -> None:
    # Worked tool: slot 14.5 less tip 2.5; 23.75 + 14.5 - 1.25 - 16; rate 1.459 by 7 and 19 mm.
    found = key_figures()
    assert found["mount"] == "MT2, drawn home by a draw-bar M10"
    assert found["bore and plunger"] == "Ø8 H7 (+0.015/0) and Ø8 h8 (0/-0.022)"
    assert found["travel"] == "12 mm"
    assert found["tip out of the nose"] == "21 mm forward, 9 mm pushed home"
    assert found["preload to full force"] == "10.2 to 27.7 N"
    assert "not served" not in found
    assert found["lean of the threads"].endswith("asked for: general, 0.25°")


def test_ends_that_differ_are_told_apart() -> None:
    found = key_figures({"plunger.length_mm": 64.0})
    assert found["tip out of the nose"].startswith("point out 21 mm forward")
    assert "countersink out 23 mm forward" in found["tip out of the nose"]


@pytest.mark.parametrize(
    ("changes", "what", "text"),
    [
        (STRAIGHT, "mount", "straight shank Ø18 x 69"),
        (
            {"taps": [{"standard": "ISO 529", "size": "M6", "end": "none"}]},
            "not served",
            "M6 ISO 529",
        ),
        ({"taps": [{"standard": "ISO 529", "size": "M6", "end": "none"}]}, "taps", "none"),
        ({"plug.sunk_mm": 30.0}, "preload to full force", "the springs have no room"),
    ],
)
def test_cover_follows_the_tool(changes: dict[str, Any], what: str, text: str) -> None:
    assert key_figures(changes)[what] == text


def test_cover_shows_what_is_to_be_looked_at_or_says_that_nothing_is() -> None:
    one = tool(FAILING)
    findings = run_checks(one)
    table = cover_section(one, findings).tables[-1]
    poor = [f for f in findings if f.verdict is not Verdict.PASS]
    assert [row[0] for row in table.rows] == sorted(str(f.verdict) for f in poor)
    assert all(any(f.limit.consequence in row[-1] for row in table.rows) for f in poor)
    passing = tuple(f for f in findings if f.verdict is Verdict.PASS)
    bare = cover_section(one, passing)
    assert bare.lines == ("No check warns or fails.",)
    assert len(bare.tables) == 1


@pytest.mark.parametrize("changes", [{}, STRAIGHT, {"body.nose_diameter_mm": 80.0}], ids=str)
def test_picture_of_the_cover_keeps_within_its_frame(changes: dict[str, Any]) -> None:
    one = tool(changes)
    (picture,) = bench(one, run_checks(one)).chapters[0].blocks[0].figures  # type: ignore[union-attr]
    left, bottom, right, top = bounds(picture.marks)
    assert 0 < left < right < picture.width_mm == 175.0
    assert 0 < bottom < top < picture.height_mm <= 75.0


def test_another_picture_takes_its_place() -> None:
    one = tool()
    other = Figure("exploded", "Exploded", "All parts.", 100.0, 50.0, ())
    (section,) = bench(one, run_checks(one), picture=other).chapters[0].blocks
    assert isinstance(section, Section)
    assert section.figures == (other,)


def orders(changes: dict[str, Any]) -> dict[str, str]:
    return {word: text for _, word, text in use_card(tool(changes)).tables[0].rows}


def test_card_gives_the_orders_in_order() -> None:
    one = tool({"taps": [{"standard": "ISO 529", "size": "M6", "depth_mm": 24.0}]})
    table = use_card(one).tables[0]
    assert [row[1] for row in table.rows] == [
        *("POWER OFF", "SEAT", "TOUCH", "COMPRESS", "LOCK", "TAP", "RE-SET", "WITHDRAW", "RELEASE")
    ]
    assert [row[0] for row in table.rows] == [str(n) for n in range(1, 10)]
    assert use_card(one).large


def test_re_set_is_told_only_where_a_hole_takes_one() -> None:
    shallow = {"taps": [{"standard": "ISO 529", "size": "M3", "depth_mm": 4.0}]}
    assert "RE-SET" not in orders(shallow)


@pytest.mark.parametrize(
    ("changes", "word", "text"),
    [
        ({}, "SEAT", "pull the draw-bar tight"),
        (STRAIGHT, "SEAT", "Grip at least 54 mm of the shank"),
        ({}, "LOCK", "Lock the quill."),
        (LATHE, "LOCK", "Lock the barrel."),
        (LATHE, "POWER OFF", "hold the chuck still by a low gear"),
        (TURNED, "POWER OFF", "put the spindle out of gear"),
        (TURNED, "TAP", "Turn the chuck by hand"),
        ({}, "TAP", "Turn the tap by hand"),
    ],
)
def test_card_follows_the_machine(changes: dict[str, Any], word: str, text: str) -> None:
    assert text in orders(changes)[word]


def test_card_has_a_row_for_each_setting_of_each_hole() -> None:
    one = tool({"taps": [{"standard": "ISO 529", "size": "M6", "depth_mm": 24.0}]})
    rows = use_card(one).tables[1].rows
    settings = [(card, cut_mm) for card in cards(one) for cut_mm in card.settings_mm]
    assert len(rows) == len(settings) > 2
    for row, (_, cut_mm) in zip(rows, settings, strict=True):
        assert float(row[3]) == pytest.approx(cut_mm, abs=0.05)
    # Readings go on by what was cut at the reading before.
    assert float(rows[1][2]) - float(rows[0][2]) == pytest.approx(float(rows[0][3]), abs=0.05)
    assert [bool(row[0]) for row in rows] == [True] + [False] * (len(rows) - 1)


def test_card_without_a_hole_has_no_readings() -> None:
    one = tool({"taps": [{"standard": "ISO 529", "size": "M6", "end": "none"}]})
    assert len(use_card(one).tables) == 1
