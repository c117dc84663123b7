"""The figures of judgement that a tool rests on, with what each means."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final

from generator.documents.table import Column, Table
from generator.inputs.profile import explanation
from generator.inputs.quantities import is_derived
from generator.inputs.shop import Assumptions
from generator.model.tool import Tool
from generator.units import number

SOURCE: Final = "engineering judgement"

OF_TAPS: Final = (
    *("one_hand", "two_hands", "cone_friction", "feel_percent", "tap_factor", "worn_factor"),
    *("column_factor", "core_share"),
)
"""The assumptions on which only a tool that follows taps rests."""


@dataclass(frozen=True, slots=True)
class Assumption:
    """A figure of judgement.

    Attributes:
        key: Its key in the parameter file.
        value: The value used; NaN where it differs from tap to tap.
        told: What it means.
        changed: Whether the file gives another value than the one of the program.
    """

    key: str
    value: float
    told: str
    changed: bool


def assumptions(tool: Tool) -> tuple[Assumption, ...]:
    """Return every assumption that the tool rests on, in the order of the parameter file."""
    used, usual = tool.parameters.assumptions, Assumptions()
    return tuple(
        Assumption(
            f"assumptions.{field.name}",
            getattr(used, field.name),
            explanation(Assumptions, field.name),
            _differ(getattr(used, field.name), getattr(usual, field.name)),
        )
        for field in fields(Assumptions)
        if tool.parameters.taps or field.name not in OF_TAPS
    )


def _shown(value: float) -> str:
    return "by tap" if is_derived(value) else number(value, 4)


def _differ(used: float, usual: float) -> bool:
    return used != usual and not (is_derived(used) and is_derived(usual))


def assumption_table(found: tuple[Assumption, ...]) -> Table:
    """Return the assumptions for readers."""
    columns = (Column("key"), Column("value", "number"), Column("what it is"), Column("whose"))
    rows = tuple(
        (each.key, _shown(each.value), each.told, "yours" if each.changed else SOURCE)
        for each in found
    )
    return Table("Assumptions", columns, rows)
