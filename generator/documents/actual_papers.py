"""What measured sizes make of a tool: for readers as tables, for programs as data."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import isfinite
from typing import Any, Final

from generator.checks.finding import Finding, Verdict
from generator.checks.retention import screw_below_mm
from generator.documents.bench import PAPERS
from generator.documents.document import Chapter, Document
from generator.documents.signs import signed
from generator.documents.table import Column, Section, Table
from generator.documents.tool_sheets import parameters_hash
from generator.making.measured import Actual, Change, Entry
from generator.model.tool import Orientation, Tool
from generator.units import shown
from generator.use.alignment import leans
from generator.version import VERSION

DASH: Final = "\N{EN DASH}"
REACHED: Final = (
    ("travel", "mm", lambda o: o.travel_mm),
    ("stands out, forward", "mm", lambda o: o.projection_extended_mm),
    ("stands out, pushed home", "mm", lambda o: o.projection_compressed_mm),
    ("preload", "N", lambda o: o.preload_N),
    ("full force", "N", lambda o: o.full_force_N),
)
"""What the tool does in each orientation: name, unit, value."""

Row = tuple[str, str, float, float, float]
"""Name, unit; as drawn, as measured, with the changes."""


def actual_report(actual: Actual) -> Document:
    """Return what measured sizes make of a tool, for readers."""
    p = actual.drawn.parameters
    counts = {
        kind: sum(e.verdict.startswith(kind) for e in actual.entries)
        for kind in ("in", "rework", "over", "scrap")
    }
    told = ", ".join(f"{count} {kind}" for kind, count in counts.items())
    return Document(
        title=f"{p.title}: as measured",
        name=actual.drawn.name,
        revision=p.making.revision,
        parameters_hash=parameters_hash(actual.drawn),
        version=VERSION,
        verdict=verdict(actual),
        summary=f"{len(actual.entries)} measured: {told}",
        banner=tuple(_banner(actual)),
        paper=PAPERS[p.making.sheets],
        chapters=(
            Chapter(
                "As measured",
                (
                    Section("Measured", tables=(_measured(actual),)),
                    Section("What to do", tuple(_orders(actual)), tuple(_changes(actual))),
                    Section("Before and after", tables=(_before_after(actual),)),
                    *_worse(actual),
                ),
            ),
        ),
    )


def verdict(actual: Actual) -> Verdict:
    """Return fail where a part is scrap, warn where something is to be done, else pass."""
    if actual.scrap:
        return Verdict.FAIL
    todo = actual.changes or actual.reworks or actual.left
    return Verdict.WARN if todo else Verdict.PASS


def _banner(actual: Actual) -> Iterator[str]:
    if actual.scrap:
        parts = " and ".join(actual.scrap)
        yield f"SCRAP: no remaining cut can pass; make or buy anew: {parts}"


def _measured(actual: Actual) -> Table:
    columns = (
        *(Column("part"), Column("size"), Column("key")),
        *(Column(name, "number") for name in ("drawn", "least", "greatest", "measured")),
        Column("verdict"),
    )
    return Table("", columns, tuple(_entry(entry) for entry in actual.entries))


def _entry(entry: Entry) -> tuple[str, ...]:
    limits, size = entry.size.limits, entry.size
    figures = (
        _figure(each, entry.unit)
        for each in (limits.nominal, limits.least, limits.greatest, entry.value)
    )
    return (size.part, size.what, size.key, *figures, entry.verdict)


def _figure(value: float, unit: str) -> str:
    """Return a measured value; a scale to the gram."""
    return signed(f"{value:.0f} g" if unit == "g" else shown(value, unit))


def _orders(actual: Actual) -> Iterator[str]:
    """Yield what to do in sentences: scrap, rework, notes."""
    if actual.scrap:
        checks = "; ".join(f.check for f in actual.failing if f.verdict is Verdict.FAIL)
        yield (
            f"The {' and the '.join(actual.scrap)} cannot be saved: {checks or 'see below'}. "
            "What follows is for the tool with that made anew as drawn, but for the changes."
        )
    for each in actual.reworks:
        note = f" ({each.note})" if each.note else ""
        yield signed(
            f"Still on: {each.size.part}, {each.size.what} measures {shown(each.value_mm, 'mm')}; "
            f"cut it to {shown(each.to_mm, 'mm')}{note}."
        )
    yield from actual.notes
    if not (actual.scrap or actual.reworks or actual.notes or actual.changes):
        yield "Nothing: go on as drawn."


def _changes(actual: Actual) -> Iterator[Table]:
    if not actual.changes:
        return
    columns = (
        *(Column("part"), Column("size"), Column("key of the profile")),
        *(Column("drawn", "number"), Column("make it", "number"), Column("within")),
    )
    rows = tuple(_change(each) for each in actual.changes)
    yield Table("Change these before you cut, set or buy them", columns, rows)


def _change(change: Change) -> tuple[str, ...]:
    within = ""
    if change.limits is not None:
        low, high = (shown(e, "mm") for e in (change.limits.least, change.limits.greatest))
        within = f"{low} {DASH} {high}"
    was, becomes = (shown(each, "mm") for each in (change.was_mm, change.becomes_mm))
    return change.part, change.what, change.path, was, becomes, within


def rows(actual: Actual) -> tuple[Row, ...]:
    """Return what the tool does: as drawn, as measured, and with everything done."""
    tools = actual.drawn, actual.so_far, actual.after
    found: list[Row] = []
    for o in actual.drawn.orientations:
        for name, unit, value in REACHED:
            found.append((f"{o.name}: {name}", unit, *_three(tools, _in(o, value))))
    for name, pick in (
        ("clearance, least", lambda tool: tool.least_clearance_um),
        ("clearance, greatest", lambda tool: tool.greatest_clearance_um),
    ):
        found.append((name, "um", *_three(tools, pick)))
    if actual.drawn.parameters.screw_and_slot is not None:
        found.append(("set screw below the nose", "mm", *_three(tools, _screw_below_mm)))
    found.append(("spring rate", "N/mm", *_three(tools, lambda tool: tool.rate_N_per_mm)))
    leaning = [{each.label: each.most_deg() for each in leans(tool)} for tool in tools]
    for label in leaning[0]:
        values = (each.get(label, float("nan")) for each in leaning)
        found.append((f"lean, 95 %: {label}", "deg", *values))  # type: ignore[arg-type]  # three
    return tuple(found)


def _screw_below_mm(tool: Tool) -> float:
    both = tool.parameters.screw_and_slot
    assert both is not None  # asked of a tool with a set screw
    return screw_below_mm(tool, *both)


def _three(
    tools: tuple[Tool, Tool, Tool], value: Callable[[Tool], float]
) -> tuple[float, float, float]:
    first, second, third = (value(tool) for tool in tools)
    return first, second, third


def _in(o: Orientation, value: Callable[[Orientation], float]) -> Callable[[Tool], float]:
    """Return what reads a value of the like orientation of a tool."""

    def read(tool: Tool) -> float:
        return next((value(e) for e in tool.orientations if e.which == o.which), float("nan"))

    return read


def _before_after(actual: Actual) -> Table:
    columns = (
        Column("result"),
        *(Column(name, "number") for name in ("as drawn", "as measured", "when all is done")),
    )
    told = tuple(
        (name, *(_value(each, unit) for each in three)) for name, unit, *three in rows(actual)
    )
    return Table("", columns, told)


def _value(value: float, unit: str) -> str:
    return signed(shown(value, unit)) if isfinite(value) else DASH


def _worse(actual: Actual) -> Iterator[Section]:
    """Yield what is graver than on the drawn tool, so far and when all is done."""
    for title, findings in (
        ("Worse than drawn, as measured", actual.failing),
        ("Worse than drawn, when all is done", actual.left),
    ):
        if findings:
            yield Section(title, tables=(_findings(findings),))


def _findings(findings: tuple[Finding, ...]) -> Table:
    columns = (
        Column("verdict", "verdict"),
        Column("check"),
        Column("value", "number"),
        Column("limit"),
        Column("what happens"),
    )
    return Table(
        "",
        columns,
        tuple(
            (
                str(f.verdict),
                f.check,
                signed(f.value_text),
                signed(f.limit_text),
                f.limit.consequence,
            )
            for f in findings
        ),
    )


def actual_data(actual: Actual) -> dict[str, Any]:
    """Return the same as plain data; what cannot be worked out is None."""
    return {
        "name": actual.drawn.name,
        "version": VERSION,
        "verdict": str(verdict(actual)),
        "usable": actual.usable,
        "measured": [
            {
                "key": entry.size.key,
                "part": entry.size.part,
                "unit": entry.unit,
                "drawn": _round(entry.size.limits.nominal),
                "least": _round(entry.size.limits.least),
                "greatest": _round(entry.size.limits.greatest),
                "measured": _round(entry.value),
                "verdict": entry.verdict,
            }
            for entry in actual.entries
        ],
        "rework": [
            {"key": e.size.key, "from_mm": _round(e.value_mm), "to_mm": _round(e.to_mm)}
            for e in actual.reworks
        ],
        "changes": [_change_data(each) for each in actual.changes],
        "notes": list(actual.notes),
        "scrap": list(actual.scrap),
        "results": {
            name: {
                "unit": unit,
                "as_drawn": _round(drawn),
                "as_measured": _round(so_far),
                "after": _round(after),
            }
            for name, unit, drawn, so_far, after in rows(actual)
        },
        "worse_as_measured": [_finding(each) for each in actual.failing],
        "worse_after": [_finding(each) for each in actual.left],
    }


def _change_data(change: Change) -> dict[str, Any]:
    limits = change.limits
    return {
        "key": change.path,
        "part": change.part,
        "from_mm": _round(change.was_mm),
        "to_mm": _round(change.becomes_mm),
        "parameter_mm": _round(change.asked_mm),
        "least_mm": None if limits is None else _round(limits.least),
        "greatest_mm": None if limits is None else _round(limits.greatest),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.check,
        "verdict": str(finding.verdict),
        "value": _round(finding.value),
        "unit": finding.limit.unit,
    }


def _round(value: float) -> float | None:
    return round(value, 9) + 0.0 if isfinite(value) else None
