"""Every row of springs that the drawer yields, as arrays: singly, cut down, and up to four.

Within the stroke no spring of a good row is solid, since each must keep a margin; so a row is one
straight line, and compliances and free lengths add up. What a spring bears at most is a force, and
that of a row is the least of them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import floor, inf
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.checks.spring_stress import corrected_limit
from generator.checks.springs import least_margin
from generator.choice.candidate import Piece
from generator.choice.levels import Levels
from generator.formulas import coils
from generator.formulas.stack import Curve
from generator.inputs.drawer import Shop
from generator.inputs.tables import Separator
from generator.model.completion import down, with_coils
from generator.model.springs import CoilSpring, coil_spring, toleranced

MOST_IN_A_ROW: Final = 4
LEAST_COILS: Final = 2
"""A cut leaves more whole active coils than this; with fewer the rate is a guess."""

NOTHING: Final = -1
"""Stands in a row for the place of a spring that is not there."""

Floats = NDArray[np.float64]
Places = NDArray[np.int16]
Which = NDArray[np.intp] | NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Item:
    """A spring that may stand in a row.

    Attributes:
        piece: Which it is.
        kind: Its place in the drawer.
        spring: How it goes in.
        broken: The rule that forbids it in any tool; "" for none.
        most_N: What it bears at full compression, by its own stress and margin.
        weak: Its curve at its weakest.
        stiff: Its curve at its stiffest.
    """

    piece: Piece
    kind: int
    spring: CoilSpring
    broken: str
    most_N: float
    weak: Curve
    stiff: Curve


@dataclass(frozen=True, slots=True)
class Lines:
    """Free length and compliance of springs, each a straight line of force against length.

    Attributes:
        free_mm: Free length.
        give_mm_per_N: How much it gives for each newton.
    """

    free_mm: Floats
    give_mm_per_N: Floats

    def at(self, which: Which) -> Lines:
        """Return some of the lines."""
        return Lines(self.free_mm[which], self.give_mm_per_N[which])

    def force_N(self, length_mm: Floats) -> Floats:
        """Return the force at a length."""
        return (self.free_mm - length_mm) / self.give_mm_per_N


@dataclass(frozen=True, slots=True)
class Rows:
    """Rows of springs, one an entry of every array.

    Attributes:
        items: Shape (n, 4): places in the list of items, -1 for none.
        count: Springs in each row.
        nominal: With all sizes as given, separators between.
        weak: With every spring at its weakest.
        stiff: With every spring at its stiffest.
        shortest_mm: Length that no pressed row may be below: each spring keeps its margin, with
            sizes as given and, as weak among stiff ones, at the ends of their tolerances.
        by_tolerance: Whether the tolerances set it.
        outside_mm: Greatest outside diameter of any of its springs.
    """

    items: Places
    count: Places
    nominal: Lines
    weak: Lines
    stiff: Lines
    shortest_mm: Floats
    by_tolerance: NDArray[np.bool_]
    outside_mm: Floats

    def __len__(self) -> int:
        """Return how many rows there are."""
        return len(self.count)

    def at(self, which: Which) -> Rows:
        """Return some of the rows."""
        return Rows(
            self.items[which],
            self.count[which],
            self.nominal.at(which),
            self.weak.at(which),
            self.stiff.at(which),
            self.shortest_mm[which],
            self.by_tolerance[which],
            self.outside_mm[which],
        )


@dataclass(frozen=True, slots=True)
class Springs:
    """The springs of a drawer and the rows they make.

    Attributes:
        items: Every spring as bought and cut down.
        rows: Every row of sound springs that there are pieces enough for.
        broken: How many rows there would be more, by the rule that forbids one of their springs.
    """

    items: tuple[Item, ...]
    rows: Rows
    broken: Counter[str]


def springs(shop: Shop, levels: Levels, most: int = MOST_IN_A_ROW) -> Springs:
    """Return the springs of a workshop and every row they make.

    So many as bought stand in a row at most; one that is cut down stands alone or beside one as
    bought. The order in a row does not matter: a button lies before it and separators between.
    """
    items = tuple(_items(shop, levels))
    left, broken = list(items), Counter[str]()
    for rule in dict.fromkeys(item.broken for item in items if item.broken):
        before = row_count(shop, left, most)
        left = [item for item in left if item.broken != rule]
        broken[rule] = before - row_count(shop, left, most)
    margin_mm = levels.level("solid margin with tolerances")
    return Springs(
        items=items,
        rows=_summed(items, _places(shop, items, most), margin_mm, shop.assumptions.plug_mm),
        broken=broken,
    )


def _items(shop: Shop, levels: Levels) -> Iterator[Item]:
    shares = {
        "rate_share": shop.assumptions.rate_percent / 100,
        "free_share": shop.assumptions.free_percent / 100,
    }
    for kind, stock in enumerate(shop.springs):
        for piece in (Piece(stock), *_cuts(Piece(stock))):
            yield _item(piece, kind, levels, shares)


def _cuts(bought: Piece) -> Iterator[Piece]:
    """Yield a spring cut down to each whole number of active coils that leaves enough."""
    whole = with_coils(bought.spring)
    pitch_mm = coils.pitch_mm(
        wire_mm=whole.wire_mm,
        free_mm=whole.free_mm,
        active_coils=whole.active_coils,
        ends=whole.ends,
    )
    for left in range(LEAST_COILS + 1, floor(whole.active_coils)):
        cut_mm = down(
            coils.cut_length_mm(
                wire_mm=whole.wire_mm, pitch_mm=pitch_mm, active_coils=left, ends=whole.ends
            ),
            0.1,
        )
        if cut_mm < whole.free_mm:
            yield Piece(bought.stock, cut_mm)


def _item(piece: Piece, kind: int, levels: Levels, shares: dict[str, float]) -> Item:
    asked = piece.spring
    spring = coil_spring(with_coils(asked), asked)
    broken = _broken(spring, levels)
    try:
        weak, stiff = toleranced(spring, **shares)
    except ValueError:
        weak = stiff = spring.own_curve
        broken = broken or "solid margin with tolerances"
    margin_mm = levels.strictest(least_margin(levels, spring))
    most_N = [(spring.free_mm - spring.longest_solid_mm - margin_mm) * spring.rate_N_per_mm]
    share = levels.strictest(corrected_limit(levels, spring))
    if share == share:
        most_N.append(share * spring.strength_MPa / spring.corrected_stress_MPa(1e-3) * 1e-3)
    return Item(piece, kind, spring, broken, min(most_N), weak, stiff)


def _broken(spring: CoilSpring, levels: Levels) -> str:
    """Return the first rule that a spring breaks by itself; "" for none."""
    values = {
        "uncorrected stress when solid": spring.stress_MPa(spring.solid_force_N)
        / spring.strength_MPa,
        "coil index, least": spring.index,
        "coil index, greatest": spring.index,
        "active coils": spring.active_coils,
    }
    return next((name for name, value in values.items() if not levels.holds(name, value)), "")


def row_count(shop: Shop, items: Sequence[Item], most: int = MOST_IN_A_ROW) -> int:
    """Return how many rows some items make, without making them."""
    whole = [item.kind for item in items if item.piece.cut_to_mm is None]
    counts = [int(shop.springs[kind].count) for kind in whole]
    ways = [1] + [0] * most
    for count in counts:
        ways = [sum(ways[n - k] for k in range(min(n, count) + 1)) for n in range(len(ways))]
    several = {kind for kind, count in zip(whole, counts, strict=True) if count > 1}
    beside = Counter(item.kind for item in items if item.piece.cut_to_mm is not None)
    with_cut = sum(
        cuts * (1 + len(whole) - (kind in whole and kind not in several))
        for kind, cuts in beside.items()
    )
    return sum(ways[1:]) + with_cut


def _lines(curves: Sequence[Curve]) -> Lines:
    """Return the lines of some curves of one piece each, and after them one of nothing."""
    free = [*(curve.free_mm for curve in curves), 0.0]
    give = [*((curve.free_mm - curve.end_mm) / curve.end_force_N for curve in curves), 0.0]
    return Lines(np.array(free), np.array(give))


def _places(shop: Shop, items: tuple[Item, ...], most: int) -> Places:
    """Return every row of sound springs that the drawer holds pieces enough for."""
    sound = [(n, item) for n, item in enumerate(items) if not item.broken]
    whole = np.array([n for n, item in sound if item.piece.cut_to_mm is None], np.int16)
    cut = np.array([n for n, item in sound if item.piece.cut_to_mm is not None], np.int16)
    alone = np.full((len(cut), MOST_IN_A_ROW), NOTHING, np.int16)
    alone[:, 0] = cut
    beside = np.repeat(alone, len(whole), axis=0)
    beside[:, 1] = np.tile(whole, len(cut))
    places = np.concatenate([*_whole(whole, most), alone, beside])
    return places[_enough(shop, items, places)]


def _whole(numbers: Places, most: int) -> Iterator[Places]:
    """Yield the choices of one spring, of two, and so on, one kind several times too."""
    last = np.arange(len(numbers))
    block = np.full((len(numbers), MOST_IN_A_ROW), NOTHING, np.int16)
    block[:, 0] = numbers
    yield block
    for place in range(1, most):
        more = len(numbers) - last
        block = np.repeat(block, more, axis=0)
        starts = np.repeat(np.cumsum(more) - more, more)
        last = np.repeat(last, more) + np.arange(more.sum()) - starts
        block[:, place] = numbers[last]
        yield block


def _enough(shop: Shop, items: tuple[Item, ...], places: Places) -> NDArray[np.bool_]:
    """Tell of which rows the drawer holds every piece."""
    kinds = np.array([*(item.kind for item in items), len(shop.springs)], np.int16)[places]
    have = np.array([*(spring.count for spring in shop.springs), MOST_IN_A_ROW])
    enough = np.ones(len(places), bool)
    for place in range(MOST_IN_A_ROW):
        enough &= (kinds == kinds[:, [place]]).sum(1) <= have[kinds[:, place]]
    return enough


def _summed(items: tuple[Item, ...], places: Places, margin_mm: float, plug_mm: float) -> Rows:
    count = (places != NOTHING).sum(1, dtype=np.int16)
    separators_mm = Separator().thickness_mm * (count - 1)
    nominal = _lines([item.spring.own_curve for item in items])
    weak, stiff = (_lines([getattr(item, name) for item in items]) for name in ("weak", "stiff"))

    def row(of: Lines) -> Lines:
        return Lines(of.free_mm[places].sum(1) + separators_mm, of.give_mm_per_N[places].sum(1))

    line, most_N = row(nominal), np.array([*(item.most_N for item in items), inf])
    shortest_mm = line.free_mm - line.give_mm_per_N * most_N[places].min(1)
    by_tolerance = np.zeros(len(places), bool)
    if margin_mm == margin_mm:
        keeps_mm = np.array([*(item.spring.longest_solid_mm + margin_mm for item in items), 0.0])
        worst_mm = _worst_mm(weak, stiff, keeps_mm, row(stiff), places) + plug_mm
        by_tolerance = worst_mm > shortest_mm
        shortest_mm = np.maximum(shortest_mm, worst_mm)
    outside_mm = np.array([*(item.spring.outside_greatest_mm for item in items), 0.0])
    return Rows(
        items=places,
        count=count,
        nominal=line,
        weak=row(weak),
        stiff=row(stiff),
        shortest_mm=shortest_mm,
        by_tolerance=by_tolerance,
        outside_mm=outside_mm[places].max(1),
    )


def _worst_mm(weak: Lines, stiff: Lines, keeps_mm: Floats, row: Lines, places: Places) -> Floats:
    """Return the length of each row at which a spring, weak among stiff ones, has its least.

    Args:
        weak: The springs at their weakest, after them one of nothing.
        stiff: The springs at their stiffest, likewise.
        keeps_mm: Length that each must keep, likewise.
        row: The rows with all springs at their stiffest.
        places: The springs of each row.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        most_N = (weak.free_mm - keeps_mm) / weak.give_mm_per_N
    most_N[NOTHING] = 0.0
    worst_mm = np.full(len(places), -inf)
    for which in places.T:
        free_mm = row.free_mm - (stiff.free_mm - weak.free_mm)[which]
        give = row.give_mm_per_N - (stiff.give_mm_per_N - weak.give_mm_per_N)[which]
        bound_mm = free_mm - give * most_N[which]
        worst_mm = np.where(which != NOTHING, np.maximum(worst_mm, bound_mm), worst_mm)
    return worst_mm
