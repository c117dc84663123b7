"""What the parameter file gave, what followed from it, and which limits it changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from typing import Any

from generator.documents.table import Column, Table
from generator.inputs.quantities import is_derived
from generator.model.tool import Tool
from generator.standards.limits import Limit
from generator.units import number, shown


@dataclass(frozen=True, slots=True)
class ChangedLimit:
    """A level of a limit that the file changed.

    Attributes:
        limit: The limit as tabulated.
        level: "warn" or "fail".
        value: The file's value.
    """

    limit: Limit
    level: str
    value: float

    @property
    def replaced(self) -> float:
        """The tabulated value; NaN where the check would have worked one out, or not judged."""
        return float(getattr(self.limit, self.level))

    @property
    def text(self) -> str:
        """The change in a sentence."""
        unit = self.limit.unit
        before = "what the check works out"
        if self.replaced == self.replaced:
            before = shown(self.replaced, unit)
        return (
            f"{self.limit.name} ({self.level}): limit changed in the file: "
            f"{shown(self.value, unit)} in place of {before}"
        )


def changed_limits(tool: Tool) -> tuple[ChangedLimit, ...]:
    """Return every level of a limit that the file changed, in its order."""
    return tuple(
        ChangedLimit(Limit.find(name), level, getattr(change, level))
        for name, change in tool.parameters.limits.items()
        for level in ("warn", "fail")
        if not is_derived(getattr(change, level))
    )


def parameter_values(tool: Tool) -> tuple[tuple[str, Any], ...]:
    """Return every parameter as dotted key and value, limits left out."""
    return tuple(_leaves(tool.parameters, ""))


def _leaves(value: Any, key: str) -> Iterator[tuple[str, Any]]:
    if is_dataclass(value):
        for field in fields(value):
            if not (key == "" and field.name == "limits"):
                dotted = f"{key}.{field.name}" if key else field.name
                yield from _leaves(getattr(value, field.name), dotted)
    elif isinstance(value, tuple) and value and is_dataclass(value[0]):
        for place, entry in enumerate(value, 1):
            yield from _leaves(entry, f"{key}[{place}]")
    else:
        yield key, value


def _text(value: Any) -> str:
    match value:
        case None:
            return "none"
        case float():
            return "\N{EN DASH}" if value != value else number(value, 4)
        case tuple():
            return " to ".join(_text(each) for each in value)
        case _:
            return str(value) or "\N{EN DASH}"


def parameter_table(tool: Tool) -> Table:
    """Return every parameter with its value; and whether it was derived."""
    rows = tuple(
        (key, _text(value), "*" if key in tool.derived else "")
        for key, value in parameter_values(tool)
    )
    return Table("", (Column("key"), Column("value", "number"), Column("")), rows, abreast=2)
