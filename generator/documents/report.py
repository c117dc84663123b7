"""The report of a tool for programs, as plain data."""

from __future__ import annotations

from typing import Any, Final

from generator.checks.finding import Finding, worst
from generator.documents.assumptions import SOURCE, assumptions
from generator.documents.bill import bill
from generator.documents.given import changed_limits
from generator.documents.results import results
from generator.documents.study import NOTHING, Study
from generator.documents.unverified import unverified
from generator.model.tool import Tool
from generator.version import VERSION

DECIMALS: Final = 9
"""Decimals of a number in the data; the digits beyond differ between machines."""


def report_data(
    tool: Tool, findings: tuple[Finding, ...], study: Study = NOTHING
) -> dict[str, Any]:
    """Return the report as plain data: finite numbers, text, null, lists and objects.

    A number that cannot be worked out is null.
    """
    data: dict[str, Any] = {
        "name": tool.name,
        "title": tool.parameters.title,
        "version": VERSION,
        "verdict": str(worst(findings)),
        "results": results(tool),
        "findings": [_finding(finding) for finding in findings],
        "bill_of_materials": [
            {
                "name": item.name,
                "quantity": item.quantity,
                "made": item.made,
                "designation": item.designation,
                "stock": item.stock,
                "stock_mm": item.stock_mm,
                "cut_length_mm": item.cut_length_mm,
                "mass_g": item.mass_g,
            }
            for item in bill(tool)
        ],
        "derived": list(tool.derived),
        "changed_limits": [
            {
                "limit": change.limit.name,
                "level": change.level,
                "value": change.value,
                "replaced": change.replaced,
                "unit": change.limit.unit,
            }
            for change in changed_limits(tool)
        ],
        "unverified": [
            {"subject": each.subject, "values": dict(each.values), "source": each.source}
            for each in unverified(tool, findings)
        ],
        "assumptions": [
            {
                "key": each.key,
                "value": each.value,
                "explanation": each.told,
                "changed": each.changed,
                "source": SOURCE,
            }
            for each in assumptions(tool)
        ],
        **{key: subject.data for key, subject in study.subjects},
    }
    rounded: dict[str, Any] = _rounded(data)
    return rounded


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.limit.name,
        "subject": finding.subject,
        "verdict": str(finding.verdict),
        "value": finding.value,
        "relation": finding.limit.relation,
        "level": finding.level,
        "unit": finding.limit.unit,
        "consequence": finding.limit.consequence,
        "advice": finding.advice,
        "source": finding.limit.source,
        "changed": finding.limit.changed,
    }


def _rounded(value: Any) -> Any:
    """Return data with its numbers rounded; NaN and infinity as None, no negative zero."""
    if isinstance(value, dict):
        return {key: _rounded(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [_rounded(inner) for inner in value]
    if isinstance(value, float):
        short = round(value, DECIMALS) + 0.0
        return short if abs(short) < float("inf") else None
    return value
