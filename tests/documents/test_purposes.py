"""The papers of tools that follow no tap: their own chapters, and none of the taps'."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.checks.run import run_checks
from generator.documents.bench import CARDS, bench
from generator.documents.cautions import FIRST, WARNED, cautions
from generator.documents.cover import SERVES
from generator.documents.document import Document
from generator.documents.layout import collisions
from generator.documents.picking_papers import picking_section
from generator.documents.report import report_data
from generator.documents.subjects import study
from generator.documents.supporting_papers import supporting_section
from generator.documents.tool_sheets import tool_sheets
from generator.documents.warned import WARNINGS
from generator.errors import ProfileError
from generator.inputs.profile import read_profile
from generator.model.tool import Tool, design
from generator.use.picking import picks
from generator.use.supporting import holds
from tests.checks.limit_cases import PICK_UP, SUPPORT
from tests.documents.plots import touches
from tests.strategies import silly_changes
from tests.tools import tool

PROFILES = Path(__file__).parents[2] / "profiles"
OF_TAPS = {"Force on each tap", "Lean of the threads", "Setting cards"}
WORDS_OF_TAPS = ("taps:", "the tap ", "your tap", "tapping", "wrench")


def shipped(name: str) -> Tool:
    return design(read_profile(PROFILES / f"{name}.toml"))


NOT_OURS = ("taps", "machine.spindle", "plunger.front", "plunger.rear")
"""What a tool for another purpose has otherwise."""

TOOLS = {"pick-up-16": "Finding the place", "support-mt2": "Supporting the work"}
each_tool = pytest.mark.parametrize(("name", "title"), TOOLS.items(), ids=TOOLS)


def papers(one: Tool) -> Document:
    return bench(one, run_checks(one), study(one))


def text_of(document: Document, *titles: str) -> str:
    found = [s for s in document.sections if not titles or s.title in titles]
    cells = [cell for s in found for t in s.tables for row in t.rows for cell in row]
    return "\n".join([*(line for s in found for line in s.lines), *cells])


@pytest.mark.parametrize("base", [PICK_UP, SUPPORT], ids=["pick-up", "support"])
@given(st.data())
def test_silly_tools_are_judged_and_told_of(base: dict[str, Any], data: st.DataObject) -> None:
    changes = data.draw(silly_changes())
    own = {key: value for key, value in changes.items() if not key.startswith(NOT_OURS)}
    try:
        one = tool({**base, **own})
    except ProfileError:
        return
    for found in run_checks(one):
        assert "nan" not in found.advice
    for section in (
        picking_section(one),
        supporting_section(one),
        CARDS[one.parameters.purpose](one),
    ):
        cells = [cell for t in section.tables for row in t.rows for cell in row]
        assert not any("nan" in text for text in (*section.lines, *cells))
    assert "nan" not in repr(WARNED[one.parameters.purpose](one))
    assert not any("nan" in text for pair in SERVES[one.parameters.purpose](one) for text in pair)


@each_tool
def test_chapters_are_those_of_its_purpose(name: str, title: str) -> None:
    told = {section.title for section in papers(shipped(name)).sections}
    assert title in told
    assert "Card for using it" in told
    assert not told & OF_TAPS


@each_tool
def test_card_cautions_and_cover_speak_of_no_tap(name: str, title: str) -> None:
    text = text_of(
        papers(shipped(name)), "At a glance", "Card for using it", "Cautions", title, "Assumptions"
    )
    for word in WORDS_OF_TAPS:
        assert word not in text.lower(), word


@each_tool
def test_data_holds_the_budget_and_no_taps(name: str, title: str) -> None:
    one = shipped(name)
    data = report_data(one, run_checks(one), study(one))
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    key = "pick_up" if title == "Finding the place" else "support"
    (entry,) = data[key]
    assert entry["terms"]
    assert not {"force_window", "lean", "setting_cards"} & set(data)


@each_tool
def test_figures_touch_nothing_and_sheets_are_clean(name: str, title: str) -> None:
    one = shipped(name)
    found = study(one).pick_up or study(one).support
    assert found is not None
    (section,) = found.blocks
    for figure in section.figures:  # type: ignore[union-attr]
        assert touches(figure) == ()
    for drawing in tool_sheets(one, run_checks(one)):
        assert collisions(drawing) == ()


def test_the_budget_adds_up_to_what_the_check_judges() -> None:
    one = shipped("pick-up-16")
    (pick,) = picks(one)
    text = text_of(papers(one), "Finding the place")
    assert f"{pick.left_mm.most:.3f}" in text
    (found,) = (f for f in run_checks(one) if f.limit.name == "off after two readings")
    assert found.value == pick.left_mm.most


def test_the_warning_of_a_support_centre_stands_on_every_sheet() -> None:
    one = shipped("support-mt2")
    start = WARNINGS["support centre"].split(":")[0]
    for drawing in tool_sheets(one, run_checks(one)):
        assert any(start in getattr(mark, "text", "") for mark in drawing.marks)
    document = papers(one)
    assert document.first[0].startswith(start)
    assert document.banner == ()


@pytest.mark.parametrize("changes", [PICK_UP, SUPPORT], ids=["pick-up", "support"])
def test_cautions_defer_and_say_what_it_is_not(changes: dict[str, Any]) -> None:
    told = cautions(tool(changes))
    assert told[0] == FIRST
    text = " ".join(told).lower()
    assert "no live centre" in text
    assert "power" in text
    assert "glass-hard" not in text


def test_a_lock_screw_is_told_on_sheet_card_and_caution() -> None:
    one = tool({**SUPPORT, "support.lock": "lock screw"})
    body = next(d for d in tool_sheets(one, run_checks(one)) if d.title == "Body")
    drawn = " ".join(getattr(mark, "text", "") for mark in body.marks)
    assert "Lock screw" in drawn
    text = text_of(papers(one), "Card for using it", "Cautions")
    assert "CLAMP" in text
    assert "lock screw" in text
    assert "lock screw" not in text_of(papers(tool(SUPPORT)), "Card for using it", "Cautions")


def test_inspection_asks_for_true_running_and_for_the_thrust() -> None:
    (pick,) = picks(shipped("pick-up-16"))
    text = text_of(papers(shipped("pick-up-16")), "Inspection: assembly")
    turning_mm = sum(term.most_mm for term in pick.terms if term.turns)
    assert "run-out at the tip" in text
    assert f"{2 * turning_mm:.3f}" in text
    (hold,) = holds(shipped("support-mt2"))
    text = text_of(papers(shipped("support-mt2")), "Inspection: assembly")
    assert "thrust as it is set" in text
    assert f"{hold.thrust_N:.1f} N" in text
