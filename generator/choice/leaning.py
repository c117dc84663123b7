"""The lean of each thread that a design would cut; its springs have no part in it."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees, hypot, inf, nan, sqrt
from typing import Final

from generator.checks.lean import CLASSES_DEG
from generator.choice.candidate import Candidate, parameters
from generator.choice.levels import Levels
from generator.inputs.drawer import Shop
from generator.model.tool import design
from generator.use.alignment import Lean, leans
from generator.use.seats import tap_names

NEARLY_ALL: Final = sqrt(1 / (2 * 0.05))
"""Of a sum of vectors, each evenly spread over a disc, at most 5 % are longer than this times the
root of the sum of the squares of the radii: Chebyshev's inequality, since the mean square of each
is half the square of its radius."""


def most_deg(shop: Shop, levels: Levels) -> float:
    """Return the greatest lean that the owner accepts; infinite for any."""
    level_deg = levels.level("lean of the thread", warn=CLASSES_DEG[shop.alignment.accept])
    return min((one for one in (level_deg, shop.demands.lean_deg) if one == one), default=inf)


def chains(shop: Shop, c: Candidate) -> dict[int, Lean]:
    """Return the chain of errors of every tap of the workshop that the design's ends take."""
    tool = design(parameters(shop, replace(c, taps=tuple(range(len(shop.taps))))))
    names = tap_names(tool)
    return {names.index(lean.label): lean for lean in leans(tool)}


def certainly_within(lean: Lean, most_deg: float) -> bool:
    """Tell whether a lean is accepted for sure, without the distribution of its errors."""
    if not lean.known:
        return False
    ways = [term.fixed_mm for term in lean.leaning]
    bias_mm = hypot(sum(x for x, _ in ways), sum(y for _, y in ways))
    free = [term.most_mm for term in lean.leaning if term.way is None]
    spread_mm = min(sum(free), NEARLY_ALL * sqrt(sum(one * one for one in free)))
    return degrees(atan((bias_mm + spread_mm) / lean.arm_mm)) <= most_deg


def leans_deg(found: dict[int, Lean]) -> dict[int, float]:
    """Return what 95 % of the threads of each tap do not exceed; NaN where it is not known."""
    return {place: lean.most_deg() if lean.known else nan for place, lean in found.items()}
