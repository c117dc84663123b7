"""Tips that screw into the stem: what their joint is, and what stays when one is changed."""

from __future__ import annotations

import pytest

from generator.checks.run import run_checks
from generator.documents.tip_card import tip_sections, tips_for
from generator.model import screwed
from generator.model.part import cored
from generator.use.alignment import REGISTER_KEY, error_terms
from generator.use.seats import seats
from tests.checks.limit_cases import HEADED, SCREWED
from tests.tools import tool

SPARE = {**SCREWED, "screwed_tips": {"thread": "M2.5", "spare": [{"style": "countersink"}]}}


def test_all_else_stays_when_a_tip_is_changed() -> None:
    made = tool(SPARE)
    (fitted,), (spare,) = made.orientations, made.with_spare
    for field in ("projection_extended_mm", "projection_compressed_mm", "preload_N", "guide_mm"):
        assert getattr(fitted, field) == getattr(spare, field)
    assert (fitted.name, spare.name) == ("point out", "tip 2, countersink out")
    assert (fitted.table, spare.table) == ("plunger.front", "screwed_tips.spare[1]")


def test_a_tap_gets_the_tip_that_seats_it() -> None:
    taps = [
        {"standard": "ISO 529", "size": "M5", "end": "point"},
        {"standard": "ISO 529", "size": "M8", "end": "centre"},
    ]
    made = tool({**SPARE, "taps": taps})
    by_tap = {seat.end: seat.orientation.tip for seat in seats(made) if seat.orientation}
    assert by_tap == {"point": 1, "centre": 0}
    assert tips_for(made, 0) == ("M8 ISO 529 with centre",)
    assert tips_for(made, 1) == ("M5 ISO 529 with point",)


def test_without_the_spare_tip_the_tap_seats_on_none_and_the_advice_is_a_spare() -> None:
    made = tool({**SPARE, "screwed_tips": {"thread": "M2.5"}})
    (found,) = (each for each in run_checks(made) if each.limit.name == "tap seats")
    assert str(found.verdict) == "fail"
    assert 'give one of [[screwed_tips.spare]] the style "countersink"' in found.advice


def test_engaged_thread_is_what_both_have_in_full() -> None:
    """M2.5, pitch 0.45: the stud of 5 less two turns and its chamfer of 0.3."""
    tips = tool(SPARE).parameters.screwed_tips
    assert tips is not None
    assert tips.stud_mm == 5.0
    assert screwed.engaged_mm(tips) == pytest.approx(5.0 - 2 * 0.45 - 0.3)
    assert screwed.stud_for_mm(tips, screwed.engaged_mm(tips)) == pytest.approx(tips.stud_mm)


def test_the_register_and_not_the_thread_is_in_the_budget() -> None:
    """H7 and g6 at 3.5 mm: +12/0 and -4/-12 um, so 24 um of play and 12 off at most."""
    made = tool(SPARE)
    terms = error_terms(made, made.orientations[0], pushed_mm=1.0)
    (found,) = (term for term in terms if term.key == REGISTER_KEY)
    assert (found.given, found.most_mm) == (24.0, 0.012)
    plain = tool(HEADED)
    bare = error_terms(plain, plain.orientations[0], pushed_mm=1.0)
    assert all(term.key != REGISTER_KEY for term in bare)


def test_the_core_of_a_tip_clears_the_hole_that_its_thread_does_not() -> None:
    made = tool(SPARE)
    tip, hole = made.tips[0], made.plunger.outline.surface("tip thread").diameter_mm
    assert tip.outline.surface("stud").diameter_mm > hole
    assert cored(tip).outline.surface("stud").diameter_mm < hole
    assert cored(tip).outline.surface("tip spigot") == tip.outline.surface("tip spigot")
    assert cored(made.plunger) == made.plunger


def test_parts_add_up_to_the_length_that_the_stroke_counts_with() -> None:
    made = tool(SPARE)
    p, o = made.parameters, made.orientations[0]
    tip_mm = screwed.front_mm(p)
    assert made.tips[0].outline.surface("seat").front_mm == tip_mm
    assert o.inner_extended_mm + o.projection_extended_mm == pytest.approx(
        tip_mm + made.plunger.outline.length_mm
    )


def test_spare_tips_do_not_weigh_on_the_tool() -> None:
    from generator.documents.bill import total_mass_g

    alone = tool({**SPARE, "screwed_tips": {"thread": "M2.5"}})
    with_spare = tool({**SPARE, "screwed_tips": {"thread": "M2.5", "spare": [{"style": "point"}]}})
    assert total_mass_g(with_spare) == pytest.approx(total_mass_g(alone))


@pytest.mark.parametrize(
    ("turned", "told"), [("tap", "the way that unscrews it"), ("work", "nothing drags it")]
)
def test_the_card_tells_which_way_the_tip_is_dragged(turned: str, told: str) -> None:
    made = tool({**SPARE, "machine.turned": turned, "machine.spindle": "horizontal"})
    _, way = tip_sections(made)
    assert told in way.lines[0]
