"""Which rows of springs work in one stroke of a section, and under which preloads.

Between the rules that want more preload and those that want less, a row may be set to any length on
the grid. A lighter preload is worth having only down to the floor of another tap, and a heavier one
only for a shorter nose; so these lengths alone are looked at.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from math import ceil, floor, inf, isnan
from typing import Final, Protocol

import numpy as np
from numpy.typing import NDArray

from generator.checks.rear import DANGEROUS_J, TURNS_TO_SPARE
from generator.checks.windows import NAME as WINDOW
from generator.choice.levels import Levels
from generator.choice.matters import MEASURES
from generator.choice.rows import Floats, Lines, Rows
from generator.choice.sections import Section
from generator.choice.strokes import STEP_MM, Strokes, raised
from generator.inputs.drawer import Shop
from generator.standards.limits import SLACK, Limit

TINY: Final = 1e-7

Integers = NDArray[np.int64]


class Left(Protocol):
    """What the designs found so far leave to be bettered."""

    def holds(self, preload_N: Floats, full_N: Floats, longer_mm: Floats) -> NDArray[np.bool_]:
        """Tell which preloads could better them, with a nose at least so much longer."""
        ...

    def most_N(self, longer_mm: Floats) -> Floats:
        """Return for each length of nose the preload beyond which it cannot better them."""
        ...


@dataclass(frozen=True, slots=True)
class Rules:
    """The levels that springs and preload must hold; infinite where any value will do.

    Attributes:
        preload_N: Least preload.
        ratio: Greatest full force over preload.
        difference: Greatest difference of the preloads over the larger.
        weak_N: Least preload with springs and plug at their weakest.
        plug_mm: How well the plug is set, plus or minus.
        free_mm: Least room between springs and bore.
        slack: Whether the plug must hold until the springs are slack, at any energy.
        ahead: Whether the thread must reach as far as the weakest springs want the plug.
        clear_mm: Least distance of the plunger, pushed home, from the hole of the rear thread.
        reamer_mm: Least reach of the reamer beyond the bore.
        drill_mm: Least reach of the drill beyond it; minus infinity for half the depth.
        tap_mm: Least reach of the tap beyond the rear thread.
        button_mm: Least thickness of the button.
        window_mm: Length of the stroke that must be in the window; infinite for all of it.
        demanded_N: Most preload that the owner wants.
        taps: Least number of taps that he wants served.
    """

    preload_N: float
    ratio: float
    difference: float
    weak_N: float
    plug_mm: float
    free_mm: float
    slack: bool
    ahead: bool
    clear_mm: float
    reamer_mm: float
    drill_mm: float
    tap_mm: float
    button_mm: float
    window_mm: float
    demanded_N: float
    taps: int


def rules(shop: Shop, levels: Levels) -> Rules:
    """Return the rules of a workshop."""

    def least(name: str) -> float:
        level = levels.level(name)
        return -inf if level != level else level

    def most(name: str) -> float:
        level = levels.level(name)
        return inf if level != level else level

    weak_N = levels.level("preload with tolerances", warn=levels.limit("preload").fail)
    demanded_N = shop.demands.preload_N
    return Rules(
        preload_N=max(least("preload"), 0.0),
        ratio=most("force ratio"),
        difference=most("difference of the preloads") / 100,
        weak_N=-inf if weak_N != weak_N else weak_N,
        plug_mm=shop.assumptions.plug_mm,
        free_mm=least("spring free in the bore"),
        slack="thread left when the springs are slack" not in levels.accepted,
        ahead="thread ahead of the plug" not in levels.accepted,
        clear_mm=least("plunger clear of the rear hole"),
        reamer_mm=least("reamer reach"),
        drill_mm=least("drill reach"),
        tap_mm=least("tap reach"),
        button_mm=least("button thickness"),
        window_mm=min(Limit.find(WINDOW).fail, inf) if WINDOW in levels.accepted else inf,
        demanded_N=inf if demanded_N != demanded_N else demanded_N,
        taps=1 if isnan(shop.demands.taps) else int(shop.demands.taps),
    )


@dataclass(frozen=True, slots=True)
class Cell:
    """One stroke of a section.

    Attributes:
        strokes: The section with all its strokes.
        place: Which of them.
        travel_mm: Travel.
        near_mm: Least that any orientation has more room for the springs than the first.
        far_mm: Greatest likewise.
        inside_mm: Innermost point of the plunger in the first orientation, forward.
        home_mm: The same, pushed home, in the orientation that goes deepest.
        body_mm: Length of the body with the shortest nose.
        length_mm: From the spindle face to the tip, pushed home, with the shortest nose.
        longer_mm: How much longer the nose may be.
    """

    strokes: Strokes
    place: int
    travel_mm: float
    near_mm: float
    far_mm: float
    inside_mm: float
    home_mm: float
    body_mm: float
    length_mm: float
    longer_mm: float

    @property
    def section(self) -> Section:
        """The section."""
        return self.strokes.section


def cell(strokes: Strokes, place: int) -> Cell:
    """Return one of the strokes of a section."""
    room_mm, travel_mm = strokes.section.ended.room_mm, float(strokes.travel_mm[place])
    return Cell(
        strokes=strokes,
        place=place,
        travel_mm=travel_mm,
        near_mm=min(room_mm),
        far_mm=max(room_mm),
        inside_mm=float(strokes.inside_mm[0, place]),
        home_mm=float(strokes.inside_mm[:, place].max()) + travel_mm,
        body_mm=float(strokes.body_mm[place]),
        length_mm=float(strokes.length_mm[place]),
        longer_mm=float(strokes.longer_mm[place]),
    )


@dataclass(frozen=True, slots=True)
class Settled:
    """Rows of springs with their preloads settled, one an entry of every array.

    Attributes:
        row: Which row.
        room_mm: Length of the springs in the first orientation, forward.
        longer_mm: How much longer the nose is than the shortest.
        sunk_mm: Depth of the plug.
        button_mm: Thickness of the button.
        preload_N: Greatest preload of any orientation.
        ratio: Greatest full force over preload.
        served: The taps that are served, a bit each.
    """

    row: Integers
    room_mm: Floats
    longer_mm: Floats
    sunk_mm: Floats
    button_mm: Floats
    preload_N: Floats
    ratio: Floats
    served: Integers

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self.row)

    def at(self, which: Integers | NDArray[np.bool_]) -> Settled:
        """Return some of them."""
        return Settled(*(getattr(self, name)[which] for name in FIELDS))


FIELDS: Final = tuple(field.name for field in fields(Settled))


def _not_one() -> Settled:
    """Return no row at all."""
    none, numbers = np.zeros(0), np.zeros(0, np.int64)
    return Settled(numbers, none, none, none, none, none, none, numbers)


def settled(
    c: Cell,
    r: Rules,
    rows: Rows,
    tally: Counter[str],
    *,
    shorter: bool,
    left: Left,
) -> tuple[Settled, int]:
    """Return the rows that work in one stroke, each with every preload worth having.

    How many rows are passed over, since no preload of theirs is, is returned too.

    Args:
        c: The stroke.
        r: The rules.
        rows: The rows to look at.
        tally: Counts the rows that each rule excludes.
        shorter: Whether a shorter nose is worth a heavier preload.
        left: What the designs found so far leave to be bettered.
    """
    high_mm = _high_mm(c, r, rows)
    light_N = rows.nominal.force_N(high_mm + c.near_mm)
    light = np.flatnonzero(light_N <= left.most_N(np.zeros(1))[0])
    surpassed = len(rows) - len(light)
    low_mm, alive = _low_mm(c, r, rows.at(light), high_mm[light], tally)
    numbers = light[alive]
    if not len(numbers):
        return _not_one(), surpassed
    some, low_mm, high_mm = rows.at(numbers), low_mm[alive], high_mm[numbers]
    rear = c.section.holder
    short_mm = c.body_mm - rear.plug_mm - c.inside_mm - rear.sunk_mm - r.button_mm

    def on_grid(room_mm: Floats) -> Floats:
        """Return the next shorter room that leaves all lengths on the grid."""
        return short_mm + STEP_MM * np.floor((room_mm - short_mm) / STEP_MM + TINY)

    lightest_mm = on_grid(high_mm)
    slack_mm = some.nominal.free_mm - c.near_mm
    which, tried = [np.arange(len(some))], [lightest_mm]
    for floor_mm in _floors_mm(c, r, some):
        gridded_mm = on_grid(floor_mm)
        heavier = np.flatnonzero((gridded_mm < lightest_mm - TINY) & (gridded_mm >= low_mm - TINY))
        which.append(heavier)
        tried.append(gridded_mm[heavier])
    noses_mm = _noses_mm(c, lightest_mm.max() - short_mm, shorter=shorter)
    for longer_mm, most_N in zip(noses_mm, left.most_N(noses_mm), strict=True):
        if most_N < r.preload_N:
            continue
        longer_room_mm = short_mm + longer_mm
        stays = (longer_room_mm < lightest_mm - TINY) & (longer_room_mm >= low_mm - TINY)
        if most_N < inf:
            stays &= slack_mm - longer_room_mm <= most_N * some.nominal.give_mm_per_N
        heavier = np.flatnonzero(stays)
        which.append(heavier)
        tried.append(np.full(len(heavier), longer_room_mm))
    entries, room_mm = np.concatenate(which), np.concatenate(tried)
    line = some.nominal.at(entries)
    light_N = line.force_N(room_mm + c.near_mm)
    full_N = line.force_N(room_mm + c.far_mm - c.travel_mm)
    wanted = left.holds(light_N, full_N, _steps(room_mm - short_mm))
    passed_over = np.zeros(len(some), bool)
    passed_over[entries[~wanted]] = True
    entries, room_mm = entries[wanted], room_mm[wanted]
    found, why = _settle(c, r, some.at(entries), room_mm, low_mm[entries])
    good = np.zeros(len(some), bool)
    good[entries[found.row]] = True
    bad, first = np.unique(entries, return_index=True)
    bad, first = bad[~(good | passed_over)[bad]], first[~(good | passed_over)[bad]]
    for code, name in enumerate(REASONS, 1):
        tally[name] += int(np.count_nonzero(why[first] == code))
    surpassed += int(np.count_nonzero(passed_over & ~good))
    return replace(found, row=numbers[entries[found.row]]), surpassed


def _noses_mm(c: Cell, most_mm: float, *, shorter: bool) -> Floats:
    """Return the longer noses for which a heavier preload is worth looking at.

    The longest that is allowed is always one. Where a shorter nose is worth something, so is the
    longest of each step of the length.
    """
    noses_mm = np.zeros(0)
    if shorter:
        step_mm = MEASURES["length"].step
        spare_mm = step_mm * ceil(c.length_mm / step_mm - TINY) - c.length_mm
        first_mm = STEP_MM * floor(spare_mm / STEP_MM + TINY)
        noses_mm = np.arange(first_mm, min(most_mm, c.longer_mm) - TINY, step_mm)
    if c.longer_mm < most_mm:
        noses_mm = np.append(noses_mm, STEP_MM * floor(c.longer_mm / STEP_MM + TINY))
    return noses_mm


def longest_travel_mm(r: Rules, rows: Rows) -> Floats:
    """Return the longest travel of each row.

    It lies between the shortest length of the row and the one at which the preload is just enough;
    what the stroke of a tool adds to that only shortens it.
    """
    line, weak = rows.nominal, rows.weak
    weak_mm = weak.free_mm - weak.give_mm_per_N * max(r.weak_N, 0.0) - r.plug_mm
    longest_mm = np.minimum(line.free_mm - line.give_mm_per_N * r.preload_N, weak_mm)
    by_ratio_mm = (line.free_mm - rows.shortest_mm) * (1 - 1 / r.ratio)
    return np.asarray(np.minimum(longest_mm - rows.shortest_mm, by_ratio_mm))


def _high_mm(c: Cell, r: Rules, rows: Rows) -> Floats:
    """Return the greatest room of each row: where every rule has preload enough."""
    line, weak = rows.nominal, rows.weak
    high_mm: Floats = np.min(
        (
            line.free_mm - line.give_mm_per_N * r.preload_N - c.far_mm,
            line.free_mm - c.travel_mm / (r.ratio - 1) - c.far_mm,
            weak.free_mm - weak.give_mm_per_N * max(r.weak_N, 0.0) - r.plug_mm - c.far_mm,
            line.free_mm - c.near_mm - (c.far_mm - c.near_mm) / r.difference,
        ),
        axis=0,
    )
    return high_mm


def _low_mm(
    c: Cell, r: Rules, rows: Rows, high_mm: Floats, tally: Counter[str]
) -> tuple[Floats, NDArray[np.bool_]]:
    """Return the least room of each row, and which rows have any.

    The least room is where no rule has too much preload. What a rule excludes is counted.
    """
    line, snap_J = rows.nominal, c.section.slotted.snap_J
    blow_N = 1000 * snap_J / c.travel_mm - c.travel_mm / (2 * line.give_mm_per_N)
    bounds_mm = {
        "solid margin": rows.shortest_mm + c.travel_mm,
        "snap on the screw tip": line.free_mm - line.give_mm_per_N * blow_N,
        "demands.preload_N": line.free_mm - line.give_mm_per_N * r.demanded_N,
    }
    low_mm = np.full(len(rows), -inf)
    alive = np.ones(len(rows), bool)

    def keep(name: str, bound_mm: Floats) -> None:
        low_mm[:] = np.maximum(low_mm, bound_mm - c.near_mm)
        dead = alive & (low_mm > high_mm + TINY)
        tally[name] += int(np.count_nonzero(dead))
        alive[dead] = False

    for name, bound_mm in bounds_mm.items():
        keep(name, bound_mm)
    return low_mm, alive


def _floors_mm(c: Cell, r: Rules, rows: Rows) -> Iterator[Floats]:
    """Yield for each tap the greatest room that holds its end over as much stroke as it must."""
    ended, line = c.section.ended, rows.nominal
    free_mm = c.travel_mm - min(r.window_mm, c.travel_mm)
    for tap in ended.taps:
        if c.strokes.spare_mm[tap.place, c.place] >= 0:
            room_mm = ended.room_mm[tap.orientation]
            yield line.free_mm - line.give_mm_per_N * tap.floor_N + free_mm - room_mm


REASONS: Final = (
    "solid margin",
    "tap reach",
    "room for the springs",
    "reamer reach",
    "drill reach",
    WINDOW,
)


def _settle(
    c: Cell, r: Rules, rows: Rows, room_mm: Floats, low_mm: Floats
) -> tuple[Settled, Integers]:
    """Return the rows that work with a room each, and why each of the others does not.

    The plug lies as deep as it must to hold until the springs are slack, the nose is as much longer
    as springs, plug and thread want it, and the button takes up what is left.
    """
    holder, fit, line, weak = c.section.holder, c.section.fit, rows.nominal, rows.weak
    slack_mm = line.free_mm - room_mm - c.near_mm
    preload_N = slack_mm / line.give_mm_per_N
    hold_mm = slack_mm + TURNS_TO_SPARE * holder.pitch_mm - holder.plug_mm - holder.sunk_mm
    if not r.slack:
        hold_mm = np.where(slack_mm * preload_N / 2000 > DANGEROUS_J, hold_mm, 0.0)
    sunk_mm = holder.sunk_mm + _steps(hold_mm)
    drawn_mm = sunk_mm + holder.plug_mm
    deeper_mm = np.max(
        [
            room_mm
            + more_mm
            - weak.free_mm
            + weak.give_mm_per_N * (line.free_mm - room_mm - more_mm) / line.give_mm_per_N
            for more_mm in (c.near_mm, c.far_mm)
        ],
        axis=0,
    )
    tapped_mm = raised(drawn_mm + deeper_mm, STEP_MM)
    thread_mm = tapped_mm if r.ahead else drawn_mm
    springs_mm = room_mm + drawn_mm + r.button_mm + c.inside_mm
    hole_mm = thread_mm + holder.run_out_mm + holder.drop_mm + r.clear_mm + c.home_mm
    longer_mm = _steps(np.maximum(springs_mm, hole_mm) - c.body_mm)
    body_mm = c.body_mm + longer_mm
    bored_mm = body_mm - (tapped_mm + holder.run_out_mm) * holder.widened
    reamer, drilled_mm = fit.reamer, bored_mm + holder.point_mm
    drill_mm = np.maximum(r.drill_mm, -drilled_mm / 2)
    good = (
        room_mm >= low_mm - TINY,
        thread_mm + holder.pitch_mm + r.tap_mm <= holder.tap_reach_mm + TINY,
        longer_mm <= c.longer_mm + TINY,
        bored_mm + reamer.grip_mm + r.reamer_mm <= reamer.length_mm + TINY,
        drilled_mm + drill_mm <= reamer.drill_reach_mm + TINY,
    )
    why = np.select([~one for one in good], list(range(1, len(good) + 1)), 0)
    these = np.flatnonzero(why == 0)
    served = _served(c, r, line.at(these), room_mm[these], longer_mm[these])
    enough = np.bitwise_count(served) >= r.taps
    why[these[~enough]] = len(REASONS)
    these, served = these[enough], served[enough]
    return Settled(
        row=these,
        room_mm=room_mm[these],
        longer_mm=longer_mm[these],
        sunk_mm=sunk_mm[these],
        button_mm=(body_mm - drawn_mm - c.inside_mm - room_mm)[these],
        preload_N=preload_N[these],
        ratio=_ratio(c, line, room_mm)[these],
        served=served,
    ), why


def _steps(need_mm: Floats) -> Floats:
    """Return lengths raised to the grid, none below nil."""
    return np.maximum(0.0, STEP_MM * np.ceil(need_mm / STEP_MM - TINY))


def _ratio(c: Cell, line: Lines, room_mm: Floats) -> Floats:
    return 1 + c.travel_mm / (line.free_mm - room_mm - c.far_mm)


def _served(c: Cell, r: Rules, line: Lines, room_mm: Floats, longer_mm: Floats) -> Integers:
    """Return the taps that are served: the window lets them be, and they fit under the spindle."""
    served = np.zeros(len(room_mm), np.int64)
    inside_mm = min(r.window_mm, c.travel_mm)
    for tap in c.section.ended.taps:
        spare_mm = c.strokes.spare_mm[tap.place, c.place]
        if spare_mm < 0:
            continue
        more_mm = c.section.ended.room_mm[tap.orientation]
        first_N = (line.free_mm - room_mm - more_mm) / line.give_mm_per_N
        last_N = first_N + c.travel_mm / line.give_mm_per_N
        span_N = np.minimum(last_N, tap.ceiling_N) - np.maximum(first_N, tap.floor_N)
        holds = span_N * line.give_mm_per_N >= inside_mm - SLACK
        served |= (holds & (longer_mm <= spare_mm)).astype(np.int64) << tap.place
    return served
