"""How far each number of a tool may move by itself before a rule breaks, and what it moves.

The number is set in the parameter file and the tool designed anew: what was derived follows, what
was given stays. A number is followed down to half and up to twice its value, first in small and
then in growing strides, so that a rule close by is not stepped over; between two strides by halves.
"""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, fields, is_dataclass
from functools import partial
from math import floor, isfinite, log10
from typing import Any, Final

from generator.checks import lean
from generator.checks.finding import Finding, Verdict
from generator.checks.run import CHECKS
from generator.errors import StandardError
from generator.inputs.parameters import Parameters
from generator.making.sizes import with_value
from generator.model.shank import shank_of
from generator.model.tool import Tool, design
from generator.use.alignment import leans
from generator.use.picking import picks
from generator.use.supporting import holds

STEPS: Final = {
    "_mm": 0.05,
    "_um": 1.0,
    "_deg": 0.05,
    "_N": 0.5,
    "_N_per_mm": 0.01,
    "_percent": 0.5,
    "_g": 5.0,
    "_coils": 0.25,
}
"""On which grid a number is moved, by the ending of its key; any other by a hundredth of itself."""

STRIDES: Final = (1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2, 1.0)
"""Shares of the way to half or twice the value at which a number is tried first."""

NOT_MOVED: Final = ("limits",)
ORDER: Final = list(Verdict)
EVERY: Final = tuple(lean.bare if check is lean.lean else check for check in CHECKS)
"""All checks, that of the lean without its remedies."""

NIL: Final = 5e-4
WORKERS: Final = 2
IMPOSSIBLE: Final = "no such tool can be laid out"


@dataclass(frozen=True, slots=True)
class End:
    """Where a rule breaks.

    Attributes:
        value: The last value on the grid before it; NaN where none breaks.
        rule: The check that breaks; "" for none.
    """

    value: float
    rule: str


NO_END: Final = End(float("nan"), "")


@dataclass(frozen=True, slots=True)
class Leeway:
    """How far one number may move.

    Attributes:
        key: The number, dotted as in the messages.
        value: What it is.
        derived: Whether it was derived.
        step: The grid it is moved on.
        warns: Downward and upward, where a check gets worse.
        fails: Downward and upward, where a check fails that did not.
        unit: By how much it is moved to see what it does.
        moves: What that changes of the results, by name; those that move.
    """

    key: str
    value: float
    derived: bool
    step: float
    warns: tuple[End, End]
    fails: tuple[End, End]
    unit: float
    moves: dict[str, float]

    @property
    def tightest(self) -> float:
        """The least share of its value that it may move; infinite for no end."""
        shares = [
            abs(end.value - self.value) / abs(self.value)
            for end in self.warns
            if end.value == end.value
        ]
        return min(shares, default=float("inf"))


def numbers(described: Any, prefix: str = "") -> Iterator[tuple[str, float]]:
    """Yield every number above nil of some parameters, and its dotted key.

    Counts of what the workshop has, speeds and whether it is asked for at all are left out.
    """
    for field in fields(described):
        value, name = getattr(described, field.name), f"{prefix}{field.name}"
        if not prefix and field.name in NOT_MOVED:
            continue
        if is_dataclass(value):
            yield from numbers(value, f"{name}.")
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            for place, each in enumerate(value, 1):
                yield from numbers(each, f"{name}[{place}].")
        elif isinstance(value, float) and isfinite(value) and value > 0:
            yield name, value


def results(tool: Tool) -> dict[str, float]:
    """Return what is told of a tool when a number moves."""
    p, o = tool.parameters, tool.orientations[0]
    out_mm = max(each.projection_compressed_mm for each in tool.orientations)
    return {
        "travel, mm": o.travel_mm,
        "preload, N": o.preload_N,
        "full force, N": o.full_force_N,
        "length, mm": shank_of(p.mount).out_mm + p.body.nose_length_mm + out_mm,
        "lean, deg": max((each.most_deg() for each in leans(tool)), default=float("nan")),
        "found within, mm": max((each.left_mm.most for each in picks(tool)), default=float("nan")),
        "thrust, N": max((each.thrust_N for each in holds(tool)), default=float("nan")),
    }


Broken = dict[str, Verdict]


class _Number:
    """One number and the tools that it makes."""

    def __init__(self, asked: Parameters, key: str, drawn: Broken) -> None:
        self._asked, self._key, self._drawn = asked, key, drawn
        self._found: dict[float, Broken] = {}

    def tool(self, value: float) -> Tool | None:
        """Return the tool with a value; None where it cannot be laid out."""
        try:
            return design(with_value(self._asked, self._key, value))
        except (StandardError, ValueError, ZeroDivisionError, AssertionError):
            return None

    def worse(self, value: float) -> Broken:
        """Return the checks that are worse than on the tool as it is, and their verdicts."""
        if value not in self._found:
            tool = self.tool(value)
            self._found[value] = (
                {IMPOSSIBLE: Verdict.FAIL} if tool is None else dict(_worse(tool, self._drawn))
            )
        return self._found[value]

    def fails(self, value: float) -> Broken:
        """Return the checks that fail and did not."""
        return {name: v for name, v in self.worse(value).items() if v is Verdict.FAIL}


def _worse(tool: Tool, drawn: Broken) -> Iterator[tuple[str, Verdict]]:
    for check in EVERY:
        for finding in check(tool):
            if ORDER.index(finding.verdict) > ORDER.index(drawn.get(finding.check, Verdict.PASS)):
                yield finding.check, finding.verdict


def leeways(asked: Parameters, findings: tuple[Finding, ...]) -> tuple[Leeway, ...]:
    """Return how far every number of a tool may move, in the order of the file.

    Two processes share the numbers, since each takes a score of tools.

    Args:
        asked: The parameters as the file has them.
        findings: What the checks find on the tool as it is.
    """
    drawn = {finding.check: finding.verdict for finding in findings}
    every = tuple(numbers(design(asked).parameters))
    with ProcessPoolExecutor(
        max_workers=WORKERS, mp_context=multiprocessing.get_context("spawn")
    ) as pool:
        found = pool.map(partial(leeway, asked, drawn), every, chunksize=len(every) // 6 + 1)
        return tuple(found)


def leeway(asked: Parameters, drawn: Broken, number: tuple[str, float]) -> Leeway:
    """Return how far one number of a tool may move.

    Args:
        asked: The parameters as the file has them.
        drawn: The verdict of each check on the tool as it is.
        number: Its key, and its value on that tool.
    """
    key, value = number
    tool, step = design(asked), step_of(key, value)
    tried = _Number(asked, key, drawn)
    return Leeway(
        key=key,
        value=value,
        derived=key in tool.derived,
        step=step,
        warns=(_end(tried.worse, value, -step), _end(tried.worse, value, step)),
        fails=(_end(tried.fails, value, -step), _end(tried.fails, value, step)),
        unit=unit_of(value),
        moves=_moves(tool, tried, value),
    )


def unit_of(value: float) -> float:
    """Return by how much a number is moved to see what it does: a tenth of its power of ten.

    Example:
        >>> unit_of(14.5), unit_of(0.8)
        (1.0, 0.01)
    """
    return float(f"1e{floor(log10(value)) - 1}")


def step_of(key: str, value: float) -> float:
    """Return the grid on which a number is moved, no coarser than a twentieth of it.

    Example:
        >>> step_of("slot.length_mm", 14.5), step_of("springs[1].wire_mm", 0.5)
        (0.05, 0.025)
    """
    fitting = [step for ending, step in STEPS.items() if key.endswith(ending)]
    return min(fitting[0] if fitting else value / 100, value / 20)


def _end(broken: Callable[[float], Broken], value: float, step: float) -> End:
    """Return the last value on the grid, one way, at which nothing is broken, and what breaks next.

    Args:
        broken: Returns what a value breaks.
        value: Where to begin; nothing is broken there.
        step: The grid, with the sign of the way.
    """
    most = int((value if step > 0 else value / 2) / abs(step) + 1e-9)
    good = 0

    def at(count: int) -> float:
        return round(value + count * step, 9)

    for share in STRIDES:
        bad = max(1, round(share * most))
        if bad <= good:
            continue
        if not broken(at(bad)):
            good = bad
            continue
        while bad - good > 1:
            middle = (good + bad) // 2
            if broken(at(middle)):
                bad = middle
            else:
                good = middle
        return End(at(good), next(iter(broken(at(bad)))))
    return NO_END


def _moves(tool: Tool, number: _Number, value: float) -> dict[str, float]:
    """Return what one unit more of a number changes of the results, or one less, turned round."""
    for by in (unit_of(value), -unit_of(value)):
        other = number.tool(value + by)
        if other is not None and other.orientations:
            before, after = results(tool), results(other)
            sign = 1 if by > 0 else -1
            moves = {name: sign * (after[name] - before[name]) for name in before}
            return {
                name: more for name, more in moves.items() if isfinite(more) and abs(more) > NIL
            }
    return {}
