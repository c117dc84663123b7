"""The search through a drawer: exact, since it leaves out only what cannot be the answer.

Choices that the checks judge one by one come first; then lengths; then every row of springs, in
every stroke that could still better a design that was found. Where springs are concerned it goes by
their number, so that four in a row are looked at only where fewer will not do.
"""

from __future__ import annotations

import multiprocessing
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from typing import Final

import numpy as np

from generator.choice.ground import Ground, Share, combinations, ground
from generator.choice.groups import Group, groups
from generator.choice.left import SCREWS, Open, left, opened
from generator.choice.matters import MEASURES
from generator.choice.preloads import (
    TINY,
    cell,
    settled,
)
from generator.choice.rows import MOST_IN_A_ROW
from generator.choice.strokes import (
    STEP_MM,
    slots_mm,
)
from generator.choice.taking import Found, Front, least_lean, take
from generator.inputs.drawer import Matter, Shop

MANY_SPRINGS: Final = 30
"""Kinds of spring from which on a second process is worth its start."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a search found.

    Attributes:
        found: The designs that no other one betters.
        combinations: How many combinations the drawer holds.
        excluded: How many of them each rule excludes.
        surpassed: How many cannot better a design that was found.
        feasible: How many make a design.
    """

    found: tuple[Found, ...]
    combinations: int
    excluded: Counter[str]
    surpassed: int
    feasible: int


def search(g: Ground, *, first: bool = False) -> Outcome:
    """Return the designs that no other one betters.

    Args:
        g: What to go over.
        first: Whether the first designs that are found will do.
    """
    front, surpassed, feasible = Front(g.shop.wishes.matters), 0, 0
    waiting, leans = _open(g), dict[int, int]()
    sorted_rows = groups(g.rules, g.springs.rows, (one.bore_mm for one in waiting))
    for one in waiting:
        for rule, count in g.springs.broken.items():
            g.tally[rule] += count
        entering = sum(len(group.rows) for group in sorted_rows[one.bore_mm].groups)
        g.tally["spring free in the bore"] += len(g.springs.rows) - entering
    for number in range(MOST_IN_A_ROW):
        still = []
        for one in waiting:
            bore = sorted_rows[one.bore_mm]
            if left(one, bore.rest(number), front.matters, front.steps).hopeless:
                surpassed += sum(len(group.rows) for group in bore.groups[number:])
                continue
            still.append(one)
            if first and front.found:
                break
            if number + 1 + SCREWS > g.shop.demands.parts:
                g.tally["demands.parts"] += len(bore.groups[number].rows)
                continue
            works, passed_over = _look(g, one, bore.groups[number], front, leans)
            feasible += works
            surpassed += passed_over
        waiting = still
    return Outcome(
        found=tuple(front.found),
        combinations=combinations(g.shop, g.each),
        excluded=g.tally,
        surpassed=surpassed,
        feasible=feasible,
    )


def _open(g: Ground) -> list[Open]:
    """Return the strokes that may hold a design, the most hopeful first."""
    found = []
    for whole in g.strokes:
        g.tally["travel"] += (len(slots_mm()) - len(whole.slot_mm)) * g.each
        kept: list[Open] = []
        for place in range(len(whole.slot_mm)):
            c = cell(whole, place)
            one = opened(c, g.rules)
            if c.longer_mm < 0:
                g.tally["length of the body"] += g.each
            elif one is None:
                g.tally["taps served"] += g.each
            elif any(_as_good(g.shop.wishes.matters, former, one) for former in kept[-2:]):
                g.tally["no better than a shorter slot"] += g.each
            else:
                kept.append(one)
        found += kept
    return sorted(found, key=lambda one: (-one.held(np.zeros(1)).max(), one.cell.length_mm))


def _as_good(matters: tuple[Matter, ...], former: Open, one: Open) -> bool:
    """Tell whether a shorter stroke of a section is as good as a longer one.

    Less travel makes everything easier; so it is, where its travel counts for as much, it has room
    for as much, and the springs come to lie on the same grid.
    """
    a, b = former.cell, one.cell
    measure = MEASURES["travel"]
    alike = "travel" not in matters or measure.told(a.travel_mm) == measure.told(b.travel_mm)
    apart = (former.short_mm - one.short_mm) / STEP_MM
    return (
        alike
        and abs(apart - round(apart)) < TINY
        and former.short_mm >= one.short_mm - TINY
        and bool((a.strokes.spare_mm[:, a.place] >= b.strokes.spare_mm[:, b.place] - TINY).all())
    )


def _look(
    g: Ground, one: Open, group: Group, front: Front, leans: dict[int, int]
) -> tuple[int, int]:
    """Settle the rows of a group in a stroke, and take in what betters.

    Args:
        g: What the search goes over.
        one: The stroke.
        group: The rows.
        front: The designs found so far.
        leans: The least lean of strokes, by their identity, as far as it was worked out.

    Returns:
        How many rows work, and how many were passed over.
    """
    c = one.cell
    rest = left(one, group, front.matters, front.steps)
    if not rest.hopeless and "lean" in front.matters:
        if id(one) not in leans:
            leans[id(one)] = least_lean(g, one, group)
        rest = left(one, group, front.matters, front.steps, lean=leans[id(one)])
    if rest.hopeless:
        return 0, len(group.rows)
    reach_mm = one.short_mm + c.longer_mm - c.travel_mm + c.near_mm + TINY
    count = group.enough(c.travel_mm)
    near = np.flatnonzero(group.rows.shortest_mm[:count] <= reach_mm)
    wanted = rest.rows(group.rows.at(near), group.kind[near])
    some, passed_over = near[wanted], int(np.count_nonzero(~wanted))
    g.tally.update(group.short_of_travel(c.travel_mm))
    g.tally["room for the springs"] += count - len(near)
    if not len(some):
        return 0, passed_over
    rows = group.rows.at(some)
    shorter = "length" in front.matters
    found, more = settled(c, g.rules, rows, g.tally, shorter=shorter, left=rest)
    works = len(np.unique(found.row))
    if len(found):
        take(g, c, rows, found, front, leans.get(id(one), 0))
    return works, passed_over + more


def searched(shop: Shop, most_springs: int = MOST_IN_A_ROW) -> Outcome:
    """Return the designs of a workshop that no other one betters.

    Of a large drawer two processes search a share each; the second one is spawned, not forked.

    Args:
        shop: The workshop.
        most_springs: How many springs stand in a row at most.
    """
    if len(shop.springs) < MANY_SPRINGS or most_springs < MOST_IN_A_ROW:
        return search(ground(shop, most_springs))
    with ProcessPoolExecutor(1, mp_context=multiprocessing.get_context("spawn")) as pool:
        other = pool.submit(_searched_share, shop, Share(1, 2))
        shares = (_searched_share(shop, Share(0, 2)), other.result())
    found = sorted(
        (one for outcome in shares for one in outcome.found),
        key=lambda one: (one.steps, repr(one.candidate)),
    )
    front = Front(shop.wishes.matters)
    for one in found:
        front.add(one)
    return Outcome(
        found=tuple(front.found),
        combinations=shares[0].combinations,
        excluded=shares[0].excluded + shares[1].excluded,
        surpassed=sum(outcome.surpassed for outcome in shares),
        feasible=sum(outcome.feasible for outcome in shares),
    )


def _searched_share(shop: Shop, share: Share) -> Outcome:
    return search(ground(shop, MOST_IN_A_ROW, share))
