"""The plan of making for readers and programs: sheets for the bench, the ways compared."""

from __future__ import annotations

from collections.abc import Iterator
from math import isnan, sqrt
from typing import Any, Final

from generator.documents.document import OperationSheet
from generator.documents.part_state import sketch
from generator.documents.table import Column, Section, Table
from generator.making.bench import Bench, bench
from generator.making.operation import Operation, Plan, Route, Step, measured
from generator.model.tool import Tool
from generator.units import number, shown

CLOSE_MM: Final = 0.08
"""Limits closer together than this are told to a thousandth, others to a hundredth."""

STATIONS: Final = {"saw": "Saw", "lathe": "Lathe", "mill": "Mill", "bench": "Bench"}


def operation_sheets(plan: Plan, tool: Tool) -> tuple[OperationSheet, ...]:
    """Return a sheet for each operation, in the order in which they are done."""
    own = bench(tool)
    titles = {part.name: part.title for part in tool.solid_parts}
    return tuple(
        OperationSheet(
            number=str(each.number),
            title=each.title,
            part=titles.get(each.part, each.part.replace("-", " ").capitalize()),
            station=STATIONS[each.station],
            holding=each.holding,
            sketch=sketch(each, inch=own.inch),
            steps=tuple(_lines(each, own)),
            notes=(*each.cautions, *(f"INSTEAD: {line}" for line in each.instead)),
        )
        for each in plan.operations
    )


def _lines(operation: Operation, own: Bench) -> Iterator[tuple[str, ...]]:
    """Yield the lines of a sheet; what must be checked stands alone before its step."""
    for n, step in enumerate(operation.steps, 1):
        if step.stop:
            yield (step.stop,)
        yield str(n), step.do, step.tool, _speed(step), step.dial, _target(step, own)


def _speed(step: Step) -> str:
    turns = "" if isnan(step.rpm) else f"{number(step.rpm, 0)} rpm"
    return ", ".join(part for part in (turns, step.feed) if part)


def _target(step: Step, own: Bench) -> str:
    """Return the size to aim at and its limits, as two numbers."""
    if not measured(step):
        return ""
    sign = "Ø" if step.kind == "diameter" else ""
    decimals = 3 if step.high_mm - step.low_mm < CLOSE_MM else 2
    size, low, high = (
        own.size(each, decimals) for each in (step.set_mm, step.low_mm, step.high_mm)
    )
    return f"{sign}{size} ({low} to {high})"


def likely_mm(route: Route) -> tuple[float, float]:
    """Return the errors at nose and tip that are likely: the root of the squares of the terms."""
    return (
        sqrt(sum(term.nose_mm**2 for term in route.terms)),
        sqrt(sum(term.tip_mm**2 for term in route.terms)),
    )


def enough_runout_mm(route: Route) -> float:
    """Return the least making.runout_mm that covers a route: half at the nose, as much more out."""
    return max(2 * route.error_mm, route.tip_error_mm / 1.5)


def routes_section(plan: Plan, tool: Tool) -> Section:
    """Return the two best ways side by side with their errors, then the others."""
    first, *rest = plan.routes
    tables = [_side_by_side(first, rest[0] if rest else None, plan)]
    if len(rest) > 1:
        tables.append(_others(rest[1:]))
    return Section("Ways of making the body", (*_told(plan, tool),), tuple(tables))


def _told(plan: Plan, tool: Tool) -> Iterator[str]:
    first = plan.routes[0]
    yield f"Planned: {first.name}. {first.why}"
    if first.missing:
        yield f"It asks for what is not in the list: {'; '.join(first.missing)}."
    if first.key == "3-jaw":
        yield (
            "This is how such tools are spoiled: nothing but the jaws makes the ends agree. It is "
            "planned because no better way can be gone with what the workshop lists."
        )
    predicted = f"{_mm(first.error_mm)} at the nose and {_mm(first.tip_error_mm)} at the tip"
    assumed = f"{_mm(plan.assumed_mm)} and {_mm(plan.assumed_tip_mm)}"
    if plan.good_enough:
        yield (
            f"Predicted off the mount's axis, on the radius, every error at its greatest: "
            f"{predicted}. The checks reckon with {assumed}, so the way is good enough."
        )
        return
    yield (
        f"WORSE THAN ASSUMED: predicted {predicted}, on the radius, every error at its greatest; "
        f"the checks reckon with {assumed}. Set making.runout_mm to "
        f"{number(enough_runout_mm(first), 3)} and look at the lean of the threads again."
    )


def _mm(value_mm: float) -> str:
    return shown(value_mm, "mm")


def _side_by_side(first: Route, second: Route | None, plan: Plan) -> Table:
    pair = [route for route in (first, second) if route is not None]
    most = max(len(route.terms) for route in pair)
    rows = [("why", *(route.why for route in pair))]
    for n in range(most):
        rows.append((f"error {n + 1}, nose / tip, mm", *(_term(route, n) for route in pair)))
    rows += [
        (
            "all at their greatest, mm",
            *(f"{number(r.error_mm)} / {number(r.tip_error_mm)}" for r in pair),
        ),
        (
            "likely (root of squares), mm",
            *(" / ".join(number(each) for each in likely_mm(route)) for route in pair),
        ),
        (
            "the checks reckon with, mm",
            *(f"{number(plan.assumed_mm)} / {number(plan.assumed_tip_mm)}" for _ in pair),
        ),
        ("lacking", *("; ".join(route.missing) or "nothing" for route in pair)),
    ]
    names = (f"planned: {first.name}", *(route.name for route in pair[1:]))
    return Table("", (Column(""), *(Column(name) for name in names)), tuple(rows))


def _term(route: Route, n: int) -> str:
    if n >= len(route.terms):
        return ""
    term = route.terms[n]
    return f"{term.name}: {number(term.nose_mm)} / {number(term.tip_mm)} ({term.source})"


def _others(routes: list[Route]) -> Table:
    columns = (
        Column("other way"),
        Column("nose, mm", "number"),
        Column("tip, mm", "number"),
        Column("lacking"),
    )
    rows = tuple(
        (
            route.name,
            number(route.error_mm),
            number(route.tip_error_mm),
            "; ".join(route.missing) or "nothing",
        )
        for route in routes
    )
    return Table("Other ways", columns, rows)


def plan_data(plan: Plan) -> dict[str, Any]:
    """Return the plan for programs: numbers, text, lists and objects; NaN where nothing is set."""
    return {
        "assumed_nose_mm": plan.assumed_mm,
        "assumed_tip_mm": plan.assumed_tip_mm,
        "good_enough": plan.good_enough,
        "routes": [
            {
                "key": route.key,
                "name": route.name,
                "why": route.why,
                "nose_error_mm": route.error_mm,
                "tip_error_mm": route.tip_error_mm,
                "likely_nose_error_mm": likely_mm(route)[0],
                "likely_tip_error_mm": likely_mm(route)[1],
                "terms": [
                    {
                        "name": term.name,
                        "nose_mm": term.nose_mm,
                        "tip_mm": term.tip_mm,
                        "source": term.source,
                    }
                    for term in route.terms
                ],
                "missing": list(route.missing),
            }
            for route in plan.routes
        ],
        "operations": [_operation_data(each) for each in plan.operations],
    }


def _operation_data(operation: Operation) -> dict[str, Any]:
    return {
        "number": operation.number,
        "part": operation.part,
        "title": operation.title,
        "station": operation.station,
        "holding": operation.holding,
        "features": list(operation.features),
        "needs": [
            ask.what if isnan(ask.size_mm) else f"{ask.what} {number(ask.size_mm, 4)} mm"
            for ask in operation.asks
        ],
        "cautions": list(operation.cautions),
        "instead": list(operation.instead),
        "steps": [
            {
                "do": step.do,
                "tool": step.tool,
                "rpm": step.rpm,
                "feed": step.feed,
                "dial": step.dial,
                "measures": step.kind if measured(step) else None,
                "set_mm": step.set_mm,
                "low_mm": step.low_mm,
                "high_mm": step.high_mm,
                "stop": step.stop,
            }
            for step in operation.steps
        ],
    }
