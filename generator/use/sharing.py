"""Which taps one spring can serve, and which it cannot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import permutations
from typing import Final

from generator.use.windows import Window

ONE_HAND: Final = "one hand"
TWO_HANDS: Final = "two hands"


@dataclass(frozen=True, slots=True)
class Apart:
    """Two taps that no one force serves.

    Attributes:
        weak: The tap whose ceiling is too low.
        ceiling_N: Its ceiling.
        strong: The tap whose floor is too high.
        floor_N: Its floor.
    """

    weak: str
    ceiling_N: float
    strong: str
    floor_N: float


@dataclass(frozen=True, slots=True)
class ForceRange:
    """The forces that serve the most taps.

    Attributes:
        least_N: Least force, the highest of their floors.
        greatest_N: Greatest force, the lowest of their ceilings.
        taps: The taps that it serves.
    """

    least_N: float
    greatest_N: float
    taps: tuple[str, ...]


def floor_N(window: Window, hands: str) -> float:
    """Return the floor of a window for one hand or two."""
    return window.one_hand_N if hands == ONE_HAND else window.two_hands_N


def apart(found: Sequence[Window], hands: str) -> tuple[Apart, ...]:
    """Return every pair of taps of which one needs more force than the other takes."""
    return tuple(
        Apart(weak.name, weak.ceiling_N, strong.name, floor_N(strong, hands))
        for weak, strong in permutations(found, 2)
        if floor_N(strong, hands) > weak.ceiling_N
    )


def ranges(found: Iterable[Window], hands: str) -> tuple[ForceRange, ...]:
    """Return the ranges of force that windows share, those for the most taps first.

    The floors are gone through: with a range beginning at a floor, the windows that hold it are
    those that begin no higher and end above. Of ranges for as many taps, the one that spans the
    most, greatest over least, comes first.
    """
    open_ = [w for w in found if floor_N(w, hands) < w.ceiling_N]
    shared = []
    for least_N in sorted({floor_N(w, hands) for w in open_}):
        inside = [w for w in open_ if floor_N(w, hands) <= least_N < w.ceiling_N]
        shared.append(
            ForceRange(
                least_N=least_N,
                greatest_N=min(w.ceiling_N for w in inside),
                taps=tuple(w.name for w in inside),
            )
        )
    return tuple(sorted(shared, key=lambda r: (-len(r.taps), -r.greatest_N / r.least_N)))
