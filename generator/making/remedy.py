"""The cheapest change of what is still uncut that makes a tool come right."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from math import isfinite, nan
from typing import Final

from generator.checks import lean, rear
from generator.checks.finding import Finding, Verdict
from generator.checks.run import CHECKS
from generator.errors import StandardError
from generator.inputs.measured import Measured
from generator.inputs.parameters import Parameters
from generator.making.as_measured import Made
from generator.making.cuts import Cut, cuts
from generator.making.sizes import value_at, with_value
from generator.model.tool import Tool, design

Check = Callable[[Tool], Iterator[Finding]]

EVERY: Final[tuple[Check, ...]] = tuple(lean.bare if c is lean.lean else c for c in CHECKS)
"""All checks; that of the lean without its remedies, which nobody reads here."""

Name = tuple[str, str]

ORDER: Final = list(Verdict)
MOST_TRIES: Final = 500
"""Designs that a search may look at; it ends without a remedy after so many."""

PRELOAD_SHARE: Final = 0.05
"""A preload within this of the drawn one is left alone; engineering judgement."""

PLUG_STEP_MM: Final = 0.05
TENFOLD: Final = 10
GRAVEST: Final = 1000
REAR: Final[tuple[Check, ...]] = (rear.drawbar, rear.plug)
"""The checks that count from the real rear end of the body."""


@dataclass(frozen=True, slots=True)
class Goal:
    """What a tool has to be: no finding graver than that of the drawn tool, or none that fails.

    Attributes:
        drawn: The verdict of each finding of the drawn tool.
        strict: Whether a warning that the drawn tool does not have counts as well.
    """

    drawn: dict[Name, Verdict]
    strict: bool

    def misses(self, finding: Finding) -> bool:
        """Tell whether a finding keeps the tool from the goal."""
        if finding.verdict is Verdict.PASS or (not self.strict and finding.verdict is Verdict.WARN):
            return False
        own = self.drawn.get(_name(finding), Verdict.PASS)
        return ORDER.index(finding.verdict) > ORDER.index(own)


def goal(tool: Tool, *, strict: bool) -> Goal:
    """Return the goal that the drawn tool sets."""
    drawn: dict[Name, Verdict] = {}
    for check in EVERY:
        for finding in check(tool):
            name = _name(finding)
            former = drawn.get(name, Verdict.PASS)
            drawn[name] = max(former, finding.verdict, key=ORDER.index)
    return Goal(drawn, strict)


def _name(finding: Finding) -> Name:
    return finding.limit.name, finding.subject


@dataclass(slots=True)
class Search:
    """A bounded search: it counts the tools that it has looked at.

    Attributes:
        goal: What the tool has to be.
        made: The tool as it is made so far.
        left: How many more tools may be looked at.
    """

    goal: Goal
    made: Made
    left: int = MOST_TRIES
    _order: list[Check] = field(default_factory=lambda: [c for c in EVERY if c is not lean.bare])

    def misses(self, p: Parameters) -> list[Check]:
        """Return the checks that keep a tool from the goal; all checks if it cannot be designed."""
        self.left -= 1
        try:
            tool = design(p)
        except (StandardError, ValueError):
            return list(EVERY)
        return [check for check in EVERY if self._missed(check, tool)]

    def _seen(self, check: Check, tool: Tool) -> Tool:
        """Return the tool as a check has to see it: those of the rear from the real rear end."""
        if check not in REAR or not self.made.rear_short_mm:
            return tool
        p = tool.parameters
        short_mm = self.made.rear_short_mm
        if p.plug is None:
            return tool
        plug = replace(
            p.plug,
            sunk_mm=max(0.0, p.plug.sunk_mm - short_mm),
            tapped_mm=p.plug.tapped_mm - short_mm,
        )
        return replace(tool, parameters=replace(p, plug=plug))

    def _missed(self, check: Check, tool: Tool) -> bool:
        return any(self.goal.misses(finding) for finding in check(self._seen(check, tool)))

    def passes(self, p: Parameters) -> bool:
        """Tell whether a tool reaches the goal; the lean, which is slow to check, comes last."""
        self.left -= 1
        try:
            tool = design(p)
            for place, check in enumerate(self._order):
                if self._missed(check, tool):
                    self._order.insert(0, self._order.pop(place))
                    return False
            return not self._missed(lean.bare, tool)
        except (StandardError, ValueError):
            return False

    def score(self, p: Parameters) -> int:
        """Return how far a tool is from being as good as drawn: warnings, failures tenfold."""
        self.left -= 1
        try:
            tool = design(p)
        except (StandardError, ValueError):
            return GRAVEST
        return sum(
            TENFOLD if finding.verdict is Verdict.FAIL else 1 for finding in self.worse(tool)
        )

    def worse(self, tool: Tool) -> tuple[Finding, ...]:
        """Return the findings that are graver than on the drawn tool, warnings too."""
        strict = replace(self.goal, strict=True)
        return tuple(
            finding
            for check in EVERY
            for finding in check(self._seen(check, tool))
            if strict.misses(finding)
        )

    def clears(self, p: Parameters, checks: list[Check]) -> bool:
        """Tell whether a tool reaches the goal as far as some checks go."""
        self.left -= 1
        try:
            tool = design(p)
            return not any(self._missed(check, tool) for check in checks)
        except (StandardError, ValueError):
            return False


def nearest(search: Search, p: Parameters, cut: Cut, checks: list[Check]) -> Iterator[float]:
    """Yield the nearest value of a cut on either side that clears some checks, on its grid.

    The first of the values that does is found by strides, then the grid below it by halving.
    """
    for values in cut.values_mm:
        last = value_at(p, cut.path)
        for value in values:
            if search.left <= 0:
                return
            if search.clears(with_value(p, cut.path, value), checks):
                yield _halved(search, p, cut, checks, last, value)
                break
            last = value


def _halved(
    search: Search, p: Parameters, cut: Cut, checks: list[Check], bad: float, good: float
) -> float:
    if cut.step_mm <= 0:
        return good
    steps = round(abs(good - bad) / cut.step_mm)
    sign = 1.0 if good > bad else -1.0
    low, high = 0, steps
    while high - low > 1 and search.left > 0:
        middle = (low + high) // 2
        value = round(bad + sign * middle * cut.step_mm, 6)
        if search.clears(with_value(p, cut.path, value), checks):
            high = middle
        else:
            low = middle
    return round(bad + sign * high * cut.step_mm, 6) if high < steps else good


def settled(search: Search, tool: Tool, p: Parameters) -> Parameters:
    """Return parameters with the plug turned toward the drawn preload as far as it does no harm.

    Harm is a graver score than that of the parameters as they are. The farthest turn that does
    none is found by halving on the grid of the plug's depth.
    """
    wanted = preload_restored(tool, p)
    if wanted == p or wanted.plug is None or p.plug is None:
        return p
    plug, wanted_mm = p.plug, wanted.plug.sunk_mm
    most = search.score(p)
    if search.score(wanted) <= most:
        return wanted
    steps = round((wanted_mm - plug.sunk_mm) / PLUG_STEP_MM)

    def turned(count: int) -> Parameters:
        sunk_mm = round(plug.sunk_mm + count * PLUG_STEP_MM, 6)
        return replace(p, plug=replace(plug, sunk_mm=sunk_mm))

    low, high = 0, abs(steps)
    sign = 1 if steps > 0 else -1
    while high - low > 1:
        middle = (low + high) // 2
        if search.score(turned(sign * middle)) <= most:
            low = middle
        else:
            high = middle
    return turned(sign * low) if low else p


def at_once(search: Search, tool: Tool, measured: Measured) -> Parameters | None:
    """Return the parameters as they are, the plug turned; None if they do not reach the goal."""
    start = search.made.parameters
    if measured.plug_sunk_mm is None:
        start = settled(search, tool, start)
    return start if search.passes(start) else None


def remedy(search: Search, tool: Tool, measured: Measured) -> Parameters | None:
    """Return parameters that reach the goal, with as cheap and small a change as there is.

    From the tool as it is, its plug turned so that the preload comes back, by one change more, then
    by two.

    Args:
        search: The goal, and the tool as it is made so far.
        tool: The drawn tool.
        measured: What is made.

    Returns:
        The parameters; None if no remedy was found.
    """
    free = measured.plug_sunk_mm is None
    start = search.made.parameters
    start = settled(search, tool, start) if free else start
    found = _one(search, start, measured) or _two(search, start, measured)
    if found is None or not free:
        return found
    again = settled(search, tool, found)
    return again if search.passes(again) else found


def _one(search: Search, p: Parameters, measured: Measured) -> Parameters | None:
    """Return the parameters with one change that reaches the goal, the cheapest and smallest."""
    checks = search.misses(p)
    best: tuple[int, float, Parameters] | None = None
    for cut in cuts(p, measured):
        if best is not None and cut.cost > best[0]:
            break
        for value in nearest(search, p, cut, checks):
            changed = with_value(p, cut.path, value)
            size = abs(value - cut.drawn_mm)
            if (best is None or (cut.cost, size) < best[:2]) and search.passes(changed):
                best = cut.cost, size, changed
    return None if best is None else best[2]


def _two(search: Search, p: Parameters, measured: Measured) -> Parameters | None:
    """Return the parameters with two changes that reach the goal, the cheapest first found."""
    checks = search.misses(p)
    for first in cuts(p, measured):
        for value in _partly(search, p, first, checks):
            changed = with_value(p, first.path, value)
            found = _one(search, changed, measured)
            if found is not None:
                return found
            if search.left <= 0:
                return None
    return None


def _partly(search: Search, p: Parameters, cut: Cut, checks: list[Check]) -> list[float]:
    """Return the values of a cut that clear all of some checks, else one of them."""
    whole = list(nearest(search, p, cut, checks))
    if whole or len(checks) < 2:
        return whole
    return list(dict.fromkeys(v for check in checks for v in nearest(search, p, cut, [check])))


def preload_restored(tool: Tool, p: Parameters) -> Parameters:
    """Return parameters with the plug turned so that the preloads come back to the drawn ones.

    Exact on the force-length curve; with two orientations that changed apart, halfway between. The
    parameters as they are, where every preload is near enough, or no depth brings it back.
    """
    try:
        now = design(p)
    except (StandardError, ValueError):
        return p
    drawn_N = {o.which: o.preload_N for o in tool.orientations}
    off_mm = []
    near = True
    for o in now.orientations:
        wanted_N = drawn_N.get(o.which, nan)
        if not (isfinite(wanted_N) and 0 < wanted_N < now.curve.end_force_N):
            return p
        share = o.preload_N / wanted_N - 1
        near = near and abs(share) <= PRELOAD_SHARE
        off_mm.append(o.room_extended_mm - now.curve.length_mm(wanted_N))
    if near or not off_mm or p.plug is None:
        return p
    sunk_mm = p.plug.sunk_mm + (max(off_mm) + min(off_mm)) / 2
    sunk_mm = round(round(sunk_mm / PLUG_STEP_MM) * PLUG_STEP_MM, 6)
    if sunk_mm < 0:
        return p
    return replace(p, plug=replace(p.plug, sunk_mm=sunk_mm))
