"""The level of each limit that a chosen design must hold: its warning, unless that is accepted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.checks.finding import Finding, Verdict
from generator.inputs.shop import LimitChange
from generator.model.tool import limit_of
from generator.standards.limits import NONE, Limit


@dataclass(frozen=True, slots=True)
class Levels:
    """What the owner of the workshop lets pass.

    Attributes:
        accepted: Names of the limits whose warnings he accepts.
        changes: His own values of limits.
    """

    accepted: frozenset[str]
    changes: Mapping[str, LimitChange]

    def limit(self, name: str, *, warn: float = NONE, fail: float = NONE) -> Limit:
        """Return a limit as the checks have it; see `limit_of`."""
        return limit_of(self.changes, name, warn=warn, fail=fail)

    def level(self, name: str, *, warn: float = NONE, fail: float = NONE) -> float:
        """Return the level that must be held; NaN where any value will do."""
        return self.strictest(self.limit(name, warn=warn, fail=fail))

    def strictest(self, limit: Limit) -> float:
        """Return the level of a limit that must be held; NaN where any value will do."""
        return limit.fail if limit.name in self.accepted else limit.passes

    def holds(self, name: str, value: float, *, warn: float = NONE, fail: float = NONE) -> bool:
        """Tell whether a value is good enough for a limit."""
        limit = self.limit(name, warn=warn, fail=fail)
        return limit.holds(value, self.strictest(limit))

    def passes(self, finding: Finding) -> bool:
        """Tell whether a finding is good enough."""
        if finding.verdict is Verdict.WARN:
            return finding.limit.name in self.accepted
        return finding.verdict is Verdict.PASS
