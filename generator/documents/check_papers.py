"""The verdicts of the checks, and the figures that nobody confirmed, for readers."""

from __future__ import annotations

from generator.checks.finding import Finding, Verdict
from generator.documents.assumptions import assumption_table, assumptions
from generator.documents.signs import signed
from generator.documents.table import Column, Section, Table
from generator.documents.unverified import unverified, unverified_table
from generator.model.tool import Tool


def summary(findings: tuple[Finding, ...]) -> str:
    """Return how many checks passed, warned and failed.

    Example:
        >>> summary(())
        '0 checks: 0 pass, 0 warn, 0 fail'
    """
    counts = [f"{sum(f.verdict is v for f in findings)} {v}" for v in Verdict]
    return f"{len(findings)} checks: {', '.join(counts)}"


def poor_table(findings: tuple[Finding, ...]) -> Table | None:
    """Return the table of what needs a look, the gravest first; None if nothing does."""
    rows = tuple(
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
    last = Column("what happens, what clears it")
    return Table("To be looked at", (*_columns(), last), rows) if rows else None


def checks_section(findings: tuple[Finding, ...]) -> Section:
    """Return every check with its value, its limit and where that comes from."""
    rows = tuple(
        (str(f.verdict), f.check, _value_text(f), _limit_text(f), f.limit.source) for f in findings
    )
    table = Table("", (*_columns(), Column("source of the limit")), rows)
    return Section("Checks", tables=(table,))


def _columns() -> tuple[Column, ...]:
    return (
        Column("verdict", "verdict"),
        Column("check"),
        Column("value", "number"),
        Column("limit"),
    )


def _value_text(finding: Finding) -> str:
    return signed(finding.value_text)


def _limit_text(finding: Finding) -> str:
    return signed(finding.limit_text) + (" (your limit)" if finding.limit.changed else "")


def unverified_section(tool: Tool, findings: tuple[Finding, ...]) -> Section:
    """Return the figures that nobody confirmed, and those of judgement."""
    doubtful, assumed = unverified(tool, findings), assumption_table(assumptions(tool))
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
