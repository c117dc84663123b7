"""The inspection sheets: what is measured, how, and what the gauge should read; room to write."""

from __future__ import annotations

from math import isfinite
from typing import Any, Final

from generator.documents.signs import signed
from generator.documents.table import TICK, WRITE_HERE, Column, Section, Table
from generator.making.inspection import Sheet, acceptance, inspection
from generator.making.line import Line
from generator.model.tool import Tool
from generator.units import DECIMALS, MM_PER_INCH, number
from generator.use.bands import Span

SAME: Final = "= size"
"""The gauge shows the size itself."""

KEYS: Final = (
    "The keys in the order of these sheets, to be filled in: springcentre actual PROFILE --template"
)

DIGITS: Final = {"g": 0, "turns": 2}
INCH_DECIMALS: Final = 4
ACCEPTED: Final = 4
"""Which of the lines of acceptance stands over the assembly, too."""


def inspection_sections(tool: Tool) -> tuple[Section, ...]:
    """Return the inspection sheets, one for each part, then what is bought, then the assembly."""
    sheets = inspection(tool)
    lines = acceptance(tool)
    return tuple(
        Section(
            f"Inspection: {sheet.title[0].lower()}{sheet.title[1:]}",
            (*lines, KEYS)
            if sheet is sheets[0]
            else lines[ACCEPTED:][:1]
            if sheet is sheets[-1]
            else (),
            (_table(tool, sheet),),
        )
        for sheet in sheets
    )


def inspection_data(tool: Tool) -> list[dict[str, Any]]:
    """Return the sheets as plain data, in millimetres; what is right or wrong has no numbers."""
    return [
        {
            "part": sheet.part,
            "lines": [_data(line) for line in sheet.lines],
        }
        for sheet in inspection(tool)
    ]


def _data(line: Line) -> dict[str, Any]:
    return {
        "what": line.what,
        "key": line.key or None,
        "unit": None if line.judged else line.unit,
        **_numbers("", line.limits),
        "how": line.how,
        "reading_unit": None if line.judged else line.reading_unit,
        **_numbers("reading_", line.reads),
    }


def _numbers(prefix: str, span: Span) -> dict[str, float | None]:
    values = {"nominal": span.nominal, "least": span.least, "greatest": span.greatest}
    return {f"{prefix}{key}": each if isfinite(each) else None for key, each in values.items()}


def _table(tool: Tool, sheet: Sheet) -> Table:
    unit = "in" if tool.parameters.making.units == "inch" else "mm"
    columns = (
        Column("what"),
        Column(f"nominal, {unit}", "number"),
        Column("least", "number"),
        Column("greatest", "number"),
        Column("how"),
        Column(f"reads, {unit}", "number"),
        Column("ACTUAL"),
        Column("ok"),
    )
    return Table("", columns, tuple(_row(line, unit) for line in sheet.lines))


def _row(line: Line, unit: str) -> tuple[str, ...]:
    if line.judged:
        return line.what, "", "", "", line.how, "", "", TICK
    nominal, least, greatest = (
        figure(each, line.unit, unit)
        for each in (line.limits.nominal, line.limits.least, line.limits.greatest)
    )
    reads = SAME
    if line.reading is not None:
        ends = line.reading.least, line.reading.greatest
        told = " to ".join(figure(each, line.reading_unit, unit) for each in ends)
        reads = _with_unit(told, line.reading_unit)
    return (
        line.what,
        _with_unit(nominal, line.unit),
        least,
        greatest,
        line.how,
        reads,
        WRITE_HERE,
        TICK,
    )


def _with_unit(text: str, unit: str) -> str:
    """Return a figure with its unit where that is not the one that the heading names."""
    return text if unit == "mm" else signed(f"{text} {unit}")


def figure(value: float, unit: str, length_unit: str = "mm") -> str:
    """Return a number as the sheet prints it, lengths in millimetres or inches.

    Example:
        >>> figure(8.015, "mm"), figure(8.015, "mm", "in"), figure(1227.45, "g")
        ('8.015', '0.3156', '1227')
    """
    if unit == "mm" and length_unit == "in":
        return number(value / MM_PER_INCH, INCH_DECIMALS)
    return number(value, DIGITS.get(unit, DECIMALS.get(unit, 3)))
