"""Gauge blocks: which of a set make up a height, in whole ten-thousandths of its unit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

MOST: Final = 5
"""Blocks in a stack; each further one adds its own error and a wringing film."""

Stack = tuple[int, ...]
Pairs = dict[int, list[tuple[int, int]]]


def stack(height: int, blocks: Sequence[int]) -> Stack:
    """Return the fewest blocks that make up a height exactly, the largest first.

    Every block is there once. Where several stacks have the fewest, the one whose largest block is
    the largest is taken, then whose next is.

    Args:
        height: Height wanted, a whole number of the same small unit as the blocks.
        blocks: The blocks there are.

    Returns:
        The stack; empty if no five blocks make up the height.

    Raises:
        ValueError: If a block is not above zero, or stands twice.

    Source:
        Exhaustive search. Example: a maker's guide to an 81-piece set: 3.9762 in is 0.1002, 0.126,
        0.750 and 3.000 in.

    Example:
        >>> stack(39762, (1002, 1260, 7500, 30000, 1000, 500))
        (30000, 7500, 1260, 1002)
    """
    if not all(block > 0 for block in blocks) or len(set(blocks)) < len(blocks):
        raise ValueError(f"{blocks=}")
    small = sorted(block for block in blocks if block <= height)
    return _fewest(height, small, _pairs(small))


def nearest_stack(height: float, blocks: Sequence[int], within: int) -> Stack:
    """Return the stack that comes nearest to a height; the lower of two equally near.

    Args:
        height: Height wanted, in the small unit of the blocks.
        blocks: The blocks there are.
        within: How far from the height a stack may be.

    Returns:
        The stack; empty if none comes within.

    Raises:
        ValueError: As for `stack`.

    Source:
        Exhaustive search. The example is worked by hand.

    Example:
        >>> nearest_stack(2497.2, (1000, 1200, 1300, 1005), within=50)
        (1300, 1200)
    """
    middle = round(height)
    near = sorted(range(middle - within, middle + within + 1), key=lambda n: abs(n - height))
    small = sorted(block for block in blocks if block <= middle + within)
    pairs = _pairs(small)
    for whole in near:
        if abs(whole - height) <= within and (found := _fewest(whole, small, pairs)):
            return found
    return ()


def _pairs(blocks: Sequence[int]) -> Pairs:
    """Return all pairs of two blocks by their sum."""
    sums: Pairs = {}
    for n, first in enumerate(blocks):
        for second in blocks[n + 1 :]:
            sums.setdefault(first + second, []).append((first, second))
    return sums


def _fewest(height: int, blocks: Sequence[int], pairs: Pairs) -> Stack:
    for count in range(1, MOST + 1):
        found = {tuple(sorted(one, reverse=True)) for one in _of(count, height, blocks, pairs)}
        if found:
            return max(found)
    return ()


def _of(count: int, height: int, blocks: Sequence[int], pairs: Pairs) -> Iterator[Stack]:
    """Yield the sets of so many different blocks that make up a height, some more than once."""
    if count == 1:
        yield from ((block,) for block in blocks if block == height)
    elif count == 2:
        yield from pairs.get(height, ())
    elif count % 2:
        for block in blocks:
            for rest in _of(count - 1, height - block, blocks, pairs):
                if block not in rest:
                    yield (block, *rest)
    else:
        for total, firsts in pairs.items():
            if 2 * total <= height:
                for rest in pairs.get(height - total, ()):
                    for first in firsts:
                        if len({*first, *rest}) == count:
                            yield (*first, *rest)
