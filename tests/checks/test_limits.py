"""Every limit: a tool that passes, one at the limit, one just beyond, one far beyond."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from generator.checks.finding import Finding, Verdict
from generator.checks.proof import LIMITS as OF_THE_PROOF
from generator.checks.run import CHECKS
from generator.inputs.profile import parameters_from
from generator.model.tool import design
from generator.standards.limits import SLACK, Limit
from tests.checks.limit_cases import SLIDES, SWITCHES, Slide, Switch
from tests.tools import finding, tool

LEVELS = ("warn", "fail")
LEVEL_CASES = [
    pytest.param(slide, level, id=f"{slide}, {level}")
    for slide in SLIDES
    for level in LEVELS
    if level != slide.unreached
]


def measured(slide: Slide, value: float) -> Finding:
    return finding(design(parameters_from(slide.table(value), "case")), slide.limit, slide.subject)


def boundary(slide: Slide, beyond: Callable[[Finding], bool]) -> tuple[float, float]:
    """Return two neighbouring values of the parameter, the last within and the first beyond."""
    within_mm, beyond_mm = float(slide.good), float(slide.bad)
    for _ in range(34):
        middle = (within_mm + beyond_mm) / 2
        if middle in (within_mm, beyond_mm):
            break
        if beyond(measured(slide, middle)):
            beyond_mm = middle
        else:
            within_mm = middle
    return within_mm, beyond_mm


def test_no_limit_is_missing_here() -> None:
    tried = {case.limit for case in (*SLIDES, *SWITCHES)}
    assert tried | set(OF_THE_PROOF) == {limit.name for limit in Limit.rows()}
    assert not tried & set(OF_THE_PROOF)  # they need solids: tests/checks/test_proof.py


def test_every_level_of_every_limit_is_reached() -> None:
    """A level in the table that no tool can breach would be a check that cannot fail."""
    reached = set()
    for slide in SLIDES:
        far = measured(slide, slide.bad)
        reached |= {
            (slide.limit, level)
            for level in LEVELS
            if not far.limit.holds(far.value, getattr(far.limit, level))
        }
    reached |= {(switch.limit, switch.verdict) for switch in SWITCHES}
    wanted = {
        (limit.name, level)
        for limit in Limit.rows()
        if limit.name not in OF_THE_PROOF
        for level in LEVELS
        if not math.isnan(getattr(limit, level))
    }
    assert wanted <= reached


@pytest.mark.parametrize("slide", SLIDES, ids=str)
def test_passes_well_within_and_not_beyond(slide: Slide) -> None:
    assert measured(slide, slide.good).verdict is Verdict.PASS
    far = measured(slide, slide.bad)
    gravest = Verdict.WARN if math.isnan(far.limit.fail) else Verdict.FAIL
    assert far.verdict is gravest
    assert far.advice


@pytest.mark.parametrize(("slide", "level"), LEVEL_CASES)
def test_holds_at_the_limit_and_not_just_beyond(slide: Slide, level: str) -> None:
    def beyond(found: Finding) -> bool:
        return not found.limit.holds(found.value, getattr(found.limit, level))

    if math.isnan(getattr(measured(slide, slide.bad).limit, level)):
        assert measured(slide, slide.bad).verdict is not Verdict.PASS
        return
    within, first = (measured(slide, value) for value in boundary(slide, beyond))
    limit_value = getattr(within.limit, level)
    assert within.value == pytest.approx(limit_value, abs=2 * SLACK)
    assert first.value == pytest.approx(limit_value, abs=2 * SLACK)
    if level == "fail":
        assert within.verdict is not Verdict.FAIL
        assert first.verdict is Verdict.FAIL
    else:
        assert within.verdict is Verdict.PASS
        assert first.verdict is not Verdict.PASS


@pytest.mark.parametrize("switch", SWITCHES, ids=str)
def test_choice_passes_at_its_limit_and_not_otherwise(switch: Switch) -> None:
    good, bad = (finding(tool(one), switch.limit) for one in (switch.good, switch.bad))
    assert good.verdict is Verdict.PASS
    assert good.value == (
        good.limit.warn if good.limit.warn == good.limit.warn else good.limit.fail
    )
    assert bad.verdict == switch.verdict
    assert bad.advice


@pytest.mark.parametrize("limit", Limit.rows(), ids=lambda limit: str(limit.name))
def test_nan_never_passes(limit: Limit) -> None:
    assert Finding(limit, math.nan, "").verdict is Verdict.FAIL


@pytest.mark.parametrize("limit", Limit.rows(), ids=lambda limit: str(limit.name))
def test_fail_is_never_nearer_than_warn(limit: Limit) -> None:
    if limit.relation == "at least":
        assert not limit.fail > limit.warn
    else:
        assert limit.relation == "at most"
        assert not limit.fail < limit.warn


@pytest.mark.parametrize("slide", SLIDES, ids=str)
def test_own_limit_changes_the_verdict_and_is_marked(slide: Slide) -> None:
    """Also where the check works the limit out from the tool."""
    plain = measured(slide, slide.good)
    assert not plain.limit.changed
    worse = plain.value + (1.0 if plain.limit.relation == "at least" else -1.0)
    for level, verdict in (("warn", Verdict.WARN), ("fail", Verdict.FAIL)):
        table = {**slide.table(slide.good), "limits": {slide.limit: {level: worse}}}
        found = finding(design(parameters_from(table, "case")), slide.limit, slide.subject)
        assert found.limit.changed
        assert getattr(found.limit, level) == worse
        assert found.verdict in (verdict, Verdict.FAIL)
        assert found.verdict is verdict or plain.limit.fail == found.limit.fail


def test_own_limit_forgives_a_failure() -> None:
    changes = {"machine.headroom_mm": 100.0}
    assert finding(tool(changes), "headroom").verdict is Verdict.FAIL
    own = {**changes, "limits": {"headroom": {"warn": -200.0, "fail": -200.0}}}
    assert finding(tool(own), "headroom").verdict is Verdict.PASS


def test_empty_change_of_a_limit_is_no_change() -> None:
    assert not finding(tool({"limits": {"headroom": {}}}), "headroom").limit.changed


def test_findings_come_in_the_order_of_the_checks_whatever_the_tool() -> None:
    from generator.checks.run import run_checks

    found = run_checks(tool())
    assert [f.check for f in found] == [f.check for check in CHECKS for f in check(tool())]
    assert len({f.check for f in found}) == len(found)
