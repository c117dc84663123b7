"""The few designs that are shown: truly different ones, ranked, with what binds each.

Of all designs that no other one betters most lie close to another. Shown are the one that gives up
least on the whole, the best in each thing that matters, and then those that differ most from these.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from generator.checks import lean
from generator.checks.finding import Finding, Verdict
from generator.checks.run import CHECKS, run_checks
from generator.choice.candidate import Candidate, parameters
from generator.choice.ground import levels_of
from generator.choice.lacking import lacking
from generator.choice.levels import Levels
from generator.choice.matters import MEASURES
from generator.choice.rows import MOST_IN_A_ROW, Floats
from generator.choice.search import searched
from generator.choice.taking import Found
from generator.inputs.drawer import Matter, Shop
from generator.inputs.parameters import Parameters
from generator.model.tool import Tool, design
from generator.use.alignment import leans
from generator.use.seats import tap_names

DIFFERENT: Final = 0.15
"""Two designs are truly different that differ by this share of the whole range in one thing."""

ORDER: Final[tuple[Matter, ...]] = tuple(MEASURES)


@dataclass(frozen=True, slots=True)
class Bind:
    """What keeps a design from being a step better in one thing, all else as it is.

    Attributes:
        step: What was tried, in words.
        rule: The check that then no longer passes; "" where no check stands in the way.
    """

    step: str
    rule: str


@dataclass(frozen=True, slots=True)
class Design:
    """A design that is shown.

    Attributes:
        place: Its rank, from 1.
        candidate: What it takes from the drawer, and its sizes.
        parameters: Its parameter file.
        tool: The tool.
        findings: What the checks find; all are good enough for the owner.
        values: What it reaches of everything that may matter.
        best: In what it is the best of those shown.
        binds: What binds it, by what may matter.
        gives_up: A sentence on what it gives up against the others.
    """

    place: int
    candidate: Candidate
    parameters: Parameters
    tool: Tool
    findings: tuple[Finding, ...]
    values: dict[Matter, float]
    best: tuple[Matter, ...]
    binds: dict[Matter, Bind]
    gives_up: str


@dataclass(frozen=True, slots=True)
class Choice:
    """The answer to a workshop.

    Attributes:
        shop: The workshop.
        designs: The designs that are shown, the first one giving up least.
        unbettered: How many designs no other one betters.
        combinations: How many combinations the drawer holds.
        excluded: How many of them each rule excludes.
        surpassed: How many cannot better a design that was found.
        feasible: How many make a design.
        lacking: Where there is no design, what would make one possible.
    """

    shop: Shop
    designs: tuple[Design, ...]
    unbettered: int
    combinations: int
    excluded: Counter[str]
    surpassed: int
    feasible: int
    lacking: tuple[str, ...]


def choose(
    shop: Shop, name: str, most_springs: int = MOST_IN_A_ROW, *, explain: bool = True
) -> Choice:
    """Return the designs for a workshop.

    Args:
        shop: The workshop.
        name: Its name, from which those of the designs are made.
        most_springs: How many springs stand in a row at most.
        explain: Whether to look for what would help where there is no design.
    """
    outcome, levels = searched(shop, most_springs), levels_of(shop)
    found = sorted(outcome.found, key=lambda one: (one.steps, repr(one.candidate)))
    shown = [found[n] for n in _different(shop, [one.steps for one in found])]
    designs = [_design(shop, name, n, one, levels) for n, one in enumerate(shown, 1)]
    return Choice(
        shop=shop,
        designs=tuple(_compared(shop, designs)),
        unbettered=len(found),
        combinations=outcome.combinations,
        excluded=outcome.excluded,
        surpassed=outcome.surpassed,
        feasible=outcome.feasible,
        lacking=() if found or not explain else lacking(shop, outcome.excluded),
    )


def _different(shop: Shop, steps: list[tuple[int, ...]]) -> list[int]:
    """Return the places of the designs to show, the one that gives up least first."""
    if not steps:
        return []
    table = np.array(steps, np.float64)
    spread = np.ptp(table, axis=0)
    shares = (table - table.min(0)) / np.where(spread > 0, spread, 1.0)
    weights = 1 / np.arange(1, table.shape[1] + 1)
    given_up = shares @ weights
    order = list(np.argsort(given_up, kind="stable"))
    most = int(shop.wishes.designs)
    shown = [int(order[0])]
    for n in range(table.shape[1]):
        best = min(order, key=lambda place: (shares[place, n], given_up[place]))
        if len(shown) < most and _apart(shares, int(best), shown) >= DIFFERENT:
            shown.append(int(best))
    while len(shown) < most:
        farthest = max(order, key=lambda place: _apart(shares, int(place), shown))
        if _apart(shares, int(farthest), shown) < DIFFERENT:
            break
        shown.append(int(farthest))
    return sorted(shown, key=lambda place: given_up[place])


def _apart(shares: Floats, place: int, shown: list[int]) -> float:
    """Return by how much a design differs from the nearest of those shown."""
    return float(np.abs(shares[shown] - shares[place]).max(1).min())


def _design(shop: Shop, name: str, place: int, one: Found, levels: Levels) -> Design:
    title = f"{shop.title}: design {place}"
    asked = parameters(shop, one.candidate, title=title, name=f"{name}-{place}")
    tool = design(asked)
    lean_deg = max((each.most_deg() for each in leans(tool)), default=0.0)
    return Design(
        place=place,
        candidate=one.candidate,
        parameters=asked,
        tool=tool,
        findings=run_checks(tool),
        values={**one.values, "lean": lean_deg},
        best=(),
        binds=dict(_binds(shop, one.candidate, tool, levels)),
        gives_up="",
    )


def _compared(shop: Shop, designs: list[Design]) -> Iterator[Design]:
    """Yield the designs with what each is best in, and what it gives up against the others."""
    for one in designs:
        best: list[Matter] = []
        lost = []
        for matter in shop.wishes.matters:
            measure = MEASURES[matter]
            top = min(designs, key=lambda each: measure.told(each.values[matter]))
            if measure.told(one.values[matter]) == measure.told(top.values[matter]):
                best.append(matter)
                continue
            less = abs(top.values[matter] - one.values[matter])
            lost.append(f"{measure.behind.format(measure.shown(less))} than design {top.place}")
        told = f"It {_listed(lost)}." if lost else "No other is better in anything that matters."
        yield replace(one, best=tuple(best), gives_up=told)


def _listed(parts: list[str]) -> str:
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _binds(shop: Shop, c: Candidate, tool: Tool, levels: Levels) -> Iterator[tuple[Matter, Bind]]:
    """Yield what binds a design: the rule that a step further in one thing would break."""
    lengths = c.lengths
    tries: dict[Matter, tuple[str, Candidate]] = {
        "travel": (
            "a slot longer by 1 mm",
            replace(c, lengths=replace(lengths, slot_mm=lengths.slot_mm + 1)),
        ),
        "preload": (
            "a button thinner by 0.5 mm",
            replace(c, lengths=replace(lengths, button_mm=lengths.button_mm - 0.5)),
        ),
        "length": (
            "a nose shorter by 1 mm",
            replace(
                c,
                lengths=replace(
                    lengths,
                    nose_mm=lengths.nose_mm - 1,
                    position_mm=lengths.position_mm - 1,
                    front_mm=lengths.front_mm - 1,
                    plunger_mm=lengths.plunger_mm - 2,
                ),
            ),
        ),
    }
    others = [place for place in range(len(shop.taps)) if place not in c.taps]
    if others:
        more = replace(c, taps=tuple(sorted((*c.taps, others[0]))))
        name = tap_names(design(parameters(shop, more)))[more.taps.index(others[0])]
        tries["taps"] = (f"the tap {name} too", more)
    if len(c.row) > 1:
        tries["parts"] = ("a spring less", replace(c, row=c.row[1:]))
    for matter, (step, tried) in tries.items():
        yield matter, Bind(step, _broken(design(parameters(shop, tried)), levels))
    yield from _lean(tool)


def _broken(tool: Tool, levels: Levels) -> str:
    """Return the check that a tool does not pass, the gravest first; "" if it passes all."""
    checks = [lean.bare if check is lean.lean else check for check in CHECKS]
    missed = [f for check in checks for f in check(tool) if not levels.passes(f)]
    missed.sort(key=lambda finding: finding.verdict is not Verdict.FAIL)
    return missed[0].check if missed else ""


def _lean(tool: Tool) -> Iterator[tuple[Matter, Bind]]:
    """Yield the error that leans the threads most."""
    chains = leans(tool)
    if chains:
        worst = max(chains, key=lambda each: each.most_deg())
        first = next(iter(worst.contributors), None)
        if first is not None:
            yield "lean", Bind(f"a closer size of the {worst.label}'s chain", first.term.name)
