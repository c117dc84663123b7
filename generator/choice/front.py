"""The designs that no other one betters: a Pareto front in whole steps of what matters."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Steps = NDArray[np.int64]
"""Shape (n, m): n designs by m matters, in whole steps; fewer are better."""


def distinct(steps: Steps) -> tuple[Steps, NDArray[np.intp]]:
    """Return the different rows of steps in rising order, and for each design which is its own.

    Each row is packed into one number, since sorting numbers is many times as fast.

    Example:
        >>> kinds, kind = distinct(np.array([[2, 2], [1, 5], [2, 2]]))
        >>> kinds.tolist(), kind.tolist()
        ([[1, 5], [2, 2]], [1, 0, 1])
    """
    if not len(steps):
        return steps, np.zeros(0, np.intp)
    least = steps.min(0)
    widths = steps.max(0) - least + 1
    weights = np.cumprod([1, *widths[:0:-1]])[::-1]
    _, first, kind = np.unique((steps - least) @ weights, return_index=True, return_inverse=True)
    return steps[first], kind


def unbettered(kinds: Steps) -> NDArray[np.intp]:
    """Return the places of the rows that no other equals or betters in everything.

    Args:
        kinds: Different rows in rising order, so that what betters a row comes before it.

    Example:
        >>> unbettered(np.array([[1, 5], [2, 2], [2, 5], [5, 1]])).tolist()
        [0, 1, 3]
    """
    kept: list[int] = []
    for place, one in enumerate(kinds):
        if not np.any(np.all(kinds[kept] <= one, axis=1)):
            kept.append(place)
    return np.array(kept, np.intp)


def bettered(steps: Steps, by: Steps) -> NDArray[np.bool_]:
    """Tell which designs another one equals or betters in everything.

    Args:
        steps: The designs.
        by: The others.
    """
    no_worse = np.all(by[None, :, :] <= steps[:, None, :], axis=2)
    return np.asarray(np.any(no_worse, axis=1), np.bool_)
