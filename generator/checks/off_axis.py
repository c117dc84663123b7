"""What to lower so that a chain of errors comes within a limit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from generator.checks.finding import down_to, up_to
from generator.checks.lean import LEAST_SCALE
from generator.inputs.quantities import LARGEST_ERROR_MM
from generator.standards.rows import once
from generator.use.alignment import CLEARANCE_KEY, Term, figures

STEPS: Final = 30


def lowered(terms: tuple[Term, ...], value_mm: float, passes_mm: float, *, accept: str = "") -> str:
    """Return to what some errors are to be lowered: as few as will do, those that help most first.

    Args:
        terms: The errors; the clearance of the plunger follows from its fit and stays.
        value_mm: What 95 of 100 of their sums do not exceed.
        passes_mm: What that must come to.
        accept: The key that would accept it as it is; "" for none.
    """
    if value_mm != value_mm:
        return "lengthen plunger.length_mm until the bore guides the plunger"
    ways = [_lower(terms, value_mm, passes_mm)]
    if accept and value_mm < LARGEST_ERROR_MM:
        ways.append(f"let a {accept} of {up_to(value_mm)} do")
    return ", or ".join(ways)


def _lower(terms: tuple[Term, ...], value_mm: float, passes_mm: float) -> str:
    given = {term.key: term for term in terms if term.key != CLEARANCE_KEY}
    if not value_mm > passes_mm or _most_mm(terms, tuple(given), 0.0) > passes_mm:
        return "choose a closer plunger.tolerance or bore.tolerance"
    keys = sorted(once(given), key=lambda key: _most_mm(terms, (key,), 0.0))
    count, scale = 0, 0.0
    while count < len(keys) and scale < LEAST_SCALE:
        count += 1
        scale = _scale(terms, keys[:count], passes_mm)
    ways = (
        f"{key} to {down_to(scale * given[key].given, given[key].unit)}" for key in keys[:count]
    )
    return "lower " + " and ".join(ways)


def _scale(terms: tuple[Term, ...], keys: Sequence[str], passes_mm: float) -> float:
    """Return the greatest share of some errors at which all are within the limit; 0 for none."""
    low, high = 0.0, 1.0
    for _ in range(STEPS):
        middle = (low + high) / 2
        if _most_mm(terms, keys, middle) > passes_mm:
            high = middle
        else:
            low = middle
    return low


def _most_mm(terms: tuple[Term, ...], keys: Sequence[str], scale: float) -> float:
    """Return the 95 % with some errors at a share of their size."""
    return figures(
        tuple(
            replace(term, most_mm=scale * term.most_mm) if term.key in keys else term
            for term in terms
        )
    ).most
