"""The report of a tool: once for programs, as plain data, and once for readers, as tables."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from generator.checks.finding import Finding, Verdict, worst
from generator.documents.assumptions import SOURCE, assumption_table, assumptions
from generator.documents.bill import bill, bill_lines, bill_tables
from generator.documents.cautions import cautions
from generator.documents.equations import equation_lines, equation_tables
from generator.documents.given import changed_limits, parameter_table
from generator.documents.results import results
from generator.documents.signs import signed
from generator.documents.study import NOTHING, Study
from generator.documents.table import Column, Section, Table
from generator.documents.unverified import Unverified, unverified, unverified_table
from generator.model.tool import Tool
from generator.version import VERSION

DECIMALS: Final = 9
"""Decimals of a number in the data; the digits beyond differ between machines."""

PARAMETER_LINES: Final = (
    "Every key of the parameter file with the value used. A star marks a value that the file left "
    "out and that was derived; a dash, one that neither the file gave nor the tool needs.",
)


@dataclass(frozen=True, slots=True)
class Report:
    """The report for readers.

    Attributes:
        title: What the tool is.
        name: Name of its pack.
        revision: Revision of the parameter file.
        version: Version of the generator.
        verdict: The gravest verdict of all checks.
        summary: How many checks passed, warned and failed.
        banner: What must be seen first: failed checks and changed limits, each a line.
        sections: The rest, in order.
    """

    title: str
    name: str
    revision: str
    version: str
    verdict: Verdict
    summary: str
    banner: tuple[str, ...]
    sections: tuple[Section, ...]


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


def report(tool: Tool, findings: tuple[Finding, ...], study: Study = NOTHING) -> Report:
    """Return the report for readers: verdicts and results, the studies, what it is made of."""
    counts = [f"{sum(f.verdict is v for f in findings)} {v}" for v in Verdict]
    failed = [f.check for f in findings if f.verdict is Verdict.FAIL]
    banner = [f"FAILED CHECKS: {'; '.join(failed)}"] if failed else []
    banner += [change.text for change in changed_limits(tool)]
    doubtful = unverified(tool, findings)
    return Report(
        title=tool.parameters.title,
        name=tool.name,
        revision=tool.parameters.making.revision,
        version=VERSION,
        verdict=worst(findings),
        summary=f"{len(findings)} checks: {', '.join(counts)}",
        banner=tuple(banner),
        sections=(
            Section("Checks", tables=tuple(_verdicts(findings))),
            Section("Results", equation_lines(tool), equation_tables(tool)),
            *(subject.section for _, subject in study.subjects),
            Section("Bill of materials", bill_lines(tool), bill_tables(tool)),
            Section("Cautions", cautions(tool), listed=True),
            _doubtful(doubtful, assumption_table(assumptions(tool))),
            Section("Parameters", PARAMETER_LINES, (parameter_table(tool),)),
        ),
    )


def _doubtful(doubtful: tuple[Unverified, ...], assumed: Table) -> Section:
    judged = "The assumptions are engineering judgement; [assumptions] in the file changes them."
    if not doubtful:
        sourced = "None: every tabulated figure used has a source."
        return Section("Unverified values", (sourced, judged), (assumed,))
    return Section(
        "Unverified values",
        (
            "These figures come from memory or from no better source than common practice. "
            "Measure, or read the standard, before metal is cut by them.",
            judged,
        ),
        (unverified_table(doubtful), assumed),
    )


def _verdicts(findings: tuple[Finding, ...]) -> list[Table]:
    """Return the table of what needs a look, if anything does, and the table of all checks."""
    verdict = Column("verdict", "verdict")
    value, limit = Column("value", "number"), Column("limit")
    poor = tuple(
        (
            str(f.verdict),
            f.check,
            _value_text(f),
            _limit_text(f),
            signed(f"{f.limit.consequence}: {f.advice}"),
        )
        for grade in (Verdict.FAIL, Verdict.WARN)
        for f in findings
        if f.verdict is grade
    )
    whole = tuple(
        (str(f.verdict), f.check, _value_text(f), _limit_text(f), f.limit.source) for f in findings
    )
    every = Table(
        "All checks",
        (verdict, Column("check"), value, limit, Column("source of the limit")),
        whole,
    )
    if not poor:
        return [every]
    columns = (verdict, Column("check"), value, limit, Column("what happens, what clears it"))
    return [Table("To be looked at", columns, poor), every]


def _value_text(finding: Finding) -> str:
    return signed(finding.value_text)


def _limit_text(finding: Finding) -> str:
    return signed(finding.limit_text) + (" (your limit)" if finding.limit.changed else "")
