"""A finding: a value of the tool held against a limit."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import ceil, floor

from generator.standards.limits import Limit
from generator.units import DECIMALS, FLAG, shown


class Verdict(StrEnum):
    """What a finding says, in rising order of weight."""

    PASS = "pass"
    WARN = "warn"
    FAIL = "fail"


@dataclass(frozen=True, slots=True)
class Finding:
    """A value held against a limit; the verdict follows from the numbers alone.

    Attributes:
        limit: What it is held against.
        value: The value measured on the model, in the limit's unit; NaN never passes.
        remedy: The parameter to change and the number that would clear it, should it be needed.
        subject: Which of several it is about, such as an orientation or a tap; "" for the only one.
    """

    limit: Limit
    value: float
    remedy: str
    subject: str = ""

    @property
    def check(self) -> str:
        """The name of the check, with its subject."""
        return f"{self.limit.name}, {self.subject}" if self.subject else self.limit.name

    @property
    def verdict(self) -> Verdict:
        """Pass, warn or fail."""
        if self.value != self.value or not self.limit.holds(self.value, self.limit.fail):
            return Verdict.FAIL
        if not self.limit.holds(self.value, self.limit.warn):
            return Verdict.WARN
        return Verdict.PASS

    @property
    def advice(self) -> str:
        """The remedy, where one is needed; "" where the finding passes."""
        return "" if self.verdict is Verdict.PASS else self.remedy

    @property
    def level(self) -> float:
        """The level that the verdict speaks of: the one breached, else the one nearest to it."""
        warn, fail = self.limit.warn, self.limit.fail
        if self.verdict is Verdict.FAIL and fail == fail:
            return fail
        return warn if warn == warn else fail

    @property
    def limit_text(self) -> str:
        """The limit as the papers print it."""
        level = shown(self.level, self.limit.unit)
        return level if self.limit.unit == FLAG else f"{self.limit.relation} {level}"

    @property
    def value_text(self) -> str:
        """The value as the papers print it."""
        if self.value != self.value:
            return "cannot be worked out"
        return shown(self.value, self.limit.unit)


def up_to(value: float, unit: str = "mm") -> str:
    """Return a value that something is to be raised to, rounded up to what the papers print.

    Example:
        >>> up_to(1.00001), up_to(1.5)
        ('1.001 mm', '1.5 mm')
    """
    step = 10.0 ** -DECIMALS[unit]
    return shown(ceil(value / step - 1e-6) * step, unit)


def down_to(value: float, unit: str = "mm") -> str:
    """Return a value that something is to be lowered to, rounded down to what the papers print.

    Example:
        >>> down_to(1.00099), down_to(1.5)
        ('1 mm', '1.5 mm')
    """
    step = 10.0 ** -DECIMALS[unit]
    return shown(floor(value / step + 1e-6) * step, unit)


def worst(findings: tuple[Finding, ...]) -> Verdict:
    """Return the gravest verdict of all; pass for none."""
    order = list(Verdict)
    return max((f.verdict for f in findings), key=order.index, default=Verdict.PASS)
