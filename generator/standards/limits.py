"""The limits of the checks, each at two levels: what warns and what fails."""

from __future__ import annotations

import operator
from dataclasses import dataclass, field
from math import nan
from typing import ClassVar

from generator.standards.rows import Row

HOLDS = {"at least": operator.ge, "at most": operator.le}
SLACK = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit(Row):
    """One limit.

    Attributes:
        name: What is measured, in trade words.
        relation: "at least" or "at most".
        warn: Beyond this a working tool is known to suffer; NaN where no judgement is made or where
            the check works it out.
        fail: Beyond this it cannot be made, put together, moved, held or trusted; NaN likewise.
        unit: Unit of both.
        consequence: What happens beyond the limit.
        changed: Whether the user put his own value in its place.
    """

    FILE: ClassVar[str] = "limits.csv"

    relation: str
    warn: float
    fail: float
    unit: str
    consequence: str
    changed: bool = field(default=False)

    def holds(self, value: float, level: float) -> bool:
        """Tell whether a value respects a level; NaN as a value never does, as a level always."""
        if level != level:
            return True
        give = SLACK if self.relation == "at most" else -SLACK
        return bool(HOLDS[self.relation](value, level + give))

    @property
    def passes(self) -> float:
        """The level that a value must respect to pass: the stricter of both."""
        levels = [level for level in (self.warn, self.fail) if level == level]
        stricter = max if self.relation == "at least" else min
        return stricter(levels, default=nan)


NONE = nan
"""Stands for a level at which a limit does not judge."""
