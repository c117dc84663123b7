"""What matters to the owner: how each wish is measured, and when a difference is one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from generator.inputs.drawer import Matter
from generator.units import number

Floats = NDArray[np.float64]
Integers = NDArray[np.int64]
CLOSE: Final = 1e-6
"""Share of a step that is rounding."""


@dataclass(frozen=True, slots=True)
class Measure:
    """How a wish is measured.

    Attributes:
        title: What is measured, in trade words.
        unit: Its unit; "" for a number.
        step: Least difference that anyone would notice; engineering judgement.
        most: Whether more is better.
        behind: What a design does that is behind another one by an amount.
    """

    title: str
    unit: str
    step: float
    most: bool
    behind: str

    def steps(self, values: Floats) -> Integers:
        """Return values in whole steps, fewer being better; none is told better than it is."""
        exact = -values / self.step if self.most else values / self.step
        whole: Integers = np.ceil(exact - CLOSE).astype(np.int64)
        return whole

    def told(self, value: float) -> int:
        """Return one value in whole steps, fewer being better."""
        return int(self.steps(np.array([value]))[0])

    def shown(self, value: float) -> str:
        """Return a value as it is printed."""
        return number(value, DECIMALS) + (f" {self.unit}" if self.unit else "")


DECIMALS: Final = 2

MEASURES: Final[Mapping[Matter, Measure]] = {
    "taps": Measure("taps served", "", 1.0, most=True, behind="leaves out {} more of the taps"),
    "travel": Measure("travel", "mm", 1.0, most=True, behind="has {} less travel"),
    "preload": Measure("preload", "N", 1.0, most=False, behind="presses {} harder"),
    "length": Measure("length before the spindle", "mm", 1.0, most=False, behind="is {} longer"),
    "lean": Measure("lean of the threads", "deg", 0.01, most=False, behind="leans {} more"),
    "parts": Measure("bought parts", "", 1.0, most=False, behind="has {} more bought parts"),
}


def in_steps(matters: Sequence[Matter], values: Floats) -> Integers:
    """Return values in whole steps, fewer being better.

    Args:
        matters: What matters.
        values: Shape (n, m): n designs by what matters.
    """
    columns = [MEASURES[one].steps(values[:, n]) for n, one in enumerate(matters)]
    return np.stack(columns, axis=1)
