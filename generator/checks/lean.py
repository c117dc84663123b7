"""Check of the lean of each thread."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from generator.checks.finding import Finding, down_to
from generator.model.tool import Tool
from generator.use.alignment import BY_ZONE, CLEARANCE_KEY, Lean, Term, leans

CLASSES_DEG: Final = {"fine": 0.1, "general": 0.25, "rough": 0.5}
"""How far a thread of each class may lean; engineering judgement. A perpendicularity of 0.2 and 0.4
in 100, 0.11 and 0.23 degrees, is what ISO 2768-2 allows in its classes H and K."""
LEAST_SCALE: Final = 0.25
"""An error is not asked to shrink below this share while another may shrink with it."""
NEARLY: Final = 0.5
"""Where none may stay above that, more errors are asked to shrink only for more than this gain."""
STEPS: Final = 30
CLOSE: Final = 1e-5


def lean(tool: Tool) -> Iterator[Finding]:
    """Check that 95 % of all threads lean no more than their class allows."""
    limit = tool.limit("lean of the thread", warn=CLASSES_DEG[tool.parameters.alignment.accept])
    for each in leans(tool):
        value_deg = each.most_deg()
        passes = value_deg == value_deg and limit.holds(value_deg, limit.passes)
        remedy = "" if passes else _advice(tool, each, limit.passes)
        yield Finding(limit, value_deg, remedy, subject=each.label)


def bare(tool: Tool) -> Iterator[Finding]:
    """Yield the same findings without their remedies, which take most of the time."""
    limit = tool.limit("lean of the thread", warn=CLASSES_DEG[tool.parameters.alignment.accept])
    for each in leans(tool):
        yield Finding(limit, each.most_deg(), "", subject=each.label)


def _advice(tool: Tool, lean: Lean, passes_deg: float) -> str:
    place = lean.seat.key
    if not lean.arm_mm > 0:
        return f"measure {place}.end_mm and look at {place}.lead_threads: nothing is left between"
    if not lean.known:
        return "lengthen plunger.length_mm until the bore guides the plunger"
    ways = [_shrink(lean, passes_deg), _class(tool, lean)]
    return ", or ".join(way for way in ways if way) or (
        f"choose a closer {CLEARANCE_KEY} or bore.tolerance, or a longer tap as {place}.standard"
    )


def _class(tool: Tool, lean: Lean) -> str:
    """Return the nearest class that would accept the lean, if a wider one does."""
    if "lean of the thread" in tool.parameters.limits:
        return ""
    own_deg = CLASSES_DEG[tool.parameters.alignment.accept]
    value_deg = lean.most_deg()
    wider = [name for name, deg in CLASSES_DEG.items() if deg > own_deg and deg >= value_deg]
    return f'set alignment.accept to "{wider[0]}"' if wider else ""


def _shrink(lean: Lean, passes_deg: float) -> str:
    """Return which errors to lower to what: as few as will do, the ones that help most first."""
    free = [each.term for each in lean.contributors if each.term.key not in BY_ZONE]
    scales: list[float] = []
    while len(scales) < len(free) and max(scales, default=0.0) < LEAST_SCALE:
        scales.append(_scale(lean, free[: len(scales) + 1], passes_deg))
    most = max(scales, default=-1.0)
    if most < 0:
        return ""
    enough = LEAST_SCALE if most >= LEAST_SCALE else NEARLY * most
    count, scale = next((n, each) for n, each in enumerate(scales, 1) if each >= enough)
    lowered = (f"{term.key} to {down_to(term.given_at(scale), term.unit)}" for term in free[:count])
    return "lower " + " and ".join(lowered)


def _scale(lean: Lean, terms: list[Term], passes_deg: float) -> float:
    """Return the greatest share of some errors at which the lean passes; -1 for none."""

    def at(scale: float) -> float:
        return lean.most_deg({term.key: scale for term in terms})

    low, below = 0.0, at(0.0) - passes_deg
    high, above = 1.0, at(1.0) - passes_deg
    if not below <= 0:
        return -1.0
    side = 0
    for _ in range(STEPS):  # regula falsi (Illinois); it ends on the side that passes
        if high - low < CLOSE or -CLOSE * passes_deg < below:
            break
        middle = low - below * (high - low) / (above - below)
        error = at(middle) - passes_deg
        if error <= 0:
            low, below, above, side = middle, error, above / (2 if side < 0 else 1), -1
        else:
            high, above, below, side = middle, error, below / (2 if side > 0 else 1), 1
    return low
