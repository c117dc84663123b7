"""What the search goes over: every choice that the checks judge by itself, and the lengths."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product
from math import prod
from typing import Final, TypeVar

from generator.choice.candidate import LAYOUTS
from generator.choice.leaning import most_deg
from generator.choice.levels import Levels
from generator.choice.preloads import (
    Rules,
    rules,
)
from generator.choice.rows import MOST_IN_A_ROW, Springs, springs
from generator.choice.sections import (
    Section,
    cutters_mm,
    ends,
    fits,
    holders,
    section,
    slots,
)
from generator.choice.strokes import (
    Strokes,
    settings_rule,
    slots_mm,
    strokes,
)
from generator.inputs.drawer import Shop

Kind = TypeVar("Kind")
UNPAIRED: Final = "no bar for the reamer, or no reamer for the bar"


def levels_of(shop: Shop) -> Levels:
    """Return the levels that the owner asks for."""
    return Levels(frozenset(shop.wishes.accept_warnings), shop.limits)


@dataclass(frozen=True, slots=True)
class Ground:
    """What the search goes over.

    Attributes:
        shop: The workshop.
        levels: What its owner lets pass.
        rules: The rules of springs and preload.
        springs: The springs and their rows.
        strokes: Every section with its strokes.
        most_deg: The greatest lean that he accepts.
        tally: How many combinations each rule excludes.
        each: Combinations in one stroke: all rows, those of broken springs too.
    """

    shop: Shop
    levels: Levels
    rules: Rules
    springs: Springs
    strokes: tuple[Strokes, ...]
    most_deg: float
    tally: Counter[str]
    each: int


def combinations(shop: Shop, each: int) -> int:
    """Return how many combinations a drawer holds.

    Args:
        shop: The workshop.
        each: How many rows its springs make.
    """
    choices = (
        shop.mounts,
        shop.thread_taps,
        shop.reamers,
        shop.bars,
        LAYOUTS,
        shop.set_screws,
        cutters_mm(shop),
        slots_mm(),
    )
    return prod(len(one) for one in choices) * each


@dataclass(frozen=True, slots=True)
class Share:
    """A part of the bores, so that several processes can share the search.

    Attributes:
        place: Which part, from 0.
        of: How many parts there are.
    """

    place: int = 0
    of: int = 1


WHOLE: Final = Share()


def ground(shop: Shop, most_springs: int = MOST_IN_A_ROW, share: Share = WHOLE) -> Ground:
    """Return what the search goes over: all that is left when every choice was judged by itself.

    Args:
        shop: The workshop.
        most_springs: How many springs stand in a row at most.
        share: Which of its bores.
    """
    levels, tally = levels_of(shop), Counter[str]()
    made = springs(shop, levels, most_springs)
    each = len(made.rows) + sum(made.broken.values())
    settings = settings_rule(shop, levels)
    found = tuple(
        strokes(shop, one, levels, settings) for one in _sections(shop, levels, tally, each, share)
    )
    return Ground(
        shop, levels, rules(shop, levels), made, found, most_deg(shop, levels), tally, each
    )


def _sections(
    shop: Shop, levels: Levels, tally: Counter[str], each: int, share: Share
) -> Iterator[Section]:
    """Yield the sections that no rule forbids; count what the others would have held.

    The bores are dealt out by size, so that no share has all the large ones, which take more
    springs; what has no bar belongs to the first.
    """
    stroke = len(slots_mm()) * each
    screws = len(shop.set_screws) * len(cutters_mm(shop))
    mounts = len(shop.mounts) * len(shop.thread_taps)
    fitting = sorted(fits(shop), key=lambda fit: -fit.reamer.diameter_mm)
    if share.place == 0:
        pairs = len(shop.reamers) * len(shop.bars) - len(fitting)
        tally[UNPAIRED] += pairs * mounts * len(LAYOUTS) * screws * stroke
    for fit in fitting[share.place :: share.of]:
        held = _kept(holders(shop, fit, levels), tally, len(LAYOUTS) * screws * stroke)
        slotted = _kept(slots(shop, fit, levels), tally, len(held) * len(LAYOUTS) * stroke)
        ended = _kept(ends(shop, fit, levels), tally, len(held) * len(slotted) * stroke)
        whole = (section(shop, *one) for one in product(held, slotted, ended))
        yield from _kept(whole, tally, stroke)


def _kept(judged: Iterable[Kind | str], tally: Counter[str], weight: int) -> list[Kind]:
    """Return what no rule forbids; count what the others would have held."""
    kept = []
    for one in judged:
        if isinstance(one, str):
            tally[one] += weight
        else:
            kept.append(one)
    return kept
