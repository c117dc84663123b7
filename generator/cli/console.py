"""What the commands say of a tool on the terminal, and how far they have come."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from shutil import get_terminal_size
from threading import Timer

import click

from generator.checks.finding import Finding, Verdict
from generator.documents.unverified import unverified
from generator.model.tool import Tool
from generator.units import shown

COLOURS = {Verdict.PASS: "green", Verdict.WARN: "yellow", Verdict.FAIL: "red"}
PIPED_WIDTH = 120
PATIENCE_S = 1.0


def complain(text: str) -> None:
    """Print what is wrong, beside the results."""
    click.echo(text, err=True)


def tally(findings: tuple[Finding, ...]) -> str:
    """Return how many checks passed, warned and failed."""
    counts = {verdict: sum(f.verdict is verdict for f in findings) for verdict in Verdict}
    return (
        f"{counts[Verdict.PASS]} checks pass, {counts[Verdict.WARN]} warn, "
        f"{counts[Verdict.FAIL]} fail"
    )


def print_verdicts(tool: Tool, findings: tuple[Finding, ...]) -> None:
    """Print every verdict of a tool, what to do where one is needed, and what the tool does."""
    click.secho(f"{tool.name}: {tool.parameters.title}", bold=True)
    rows = [
        (f.check, f.value_text, f.limit_text + (" (your limit)" if f.limit.changed else ""))
        for f in findings
    ]
    wide = [max(len(row[column]) for row in rows) for column in range(3)]
    click.echo(f"verdict  {'check':{wide[0]}}  {'value':>{wide[1]}}  limit")
    for finding, (check, value, limit) in zip(findings, rows, strict=True):
        verdict = click.style(f"{finding.verdict:7}", fg=COLOURS[finding.verdict], bold=True)
        click.echo(f"{verdict}  {check:{wide[0]}}  {value:>{wide[1]}}  {limit}")
        if finding.advice:
            click.echo(folded(f"{finding.limit.consequence}: {finding.advice}", indent=9))
    for o in tool.orientations:
        click.echo(
            f"{o.name}: travel {shown(o.travel_mm, 'mm')}, stands out "
            f"{shown(o.projection_extended_mm, 'mm')} to "
            f"{shown(o.projection_compressed_mm, 'mm')}, "
            f"force {shown(o.preload_N, 'N')} to {shown(o.full_force_N, 'N')}"
        )
    doubtful = [f"{each.subject} ({each.text})" for each in unverified(tool, findings)]
    if doubtful:
        told = "; ".join(doubtful)
        click.echo(folded(f"From memory, unverified; measure before you rely on it: {told}"))
    click.echo(tally(findings))


def print_refusal(tool: Tool, findings: tuple[Finding, ...]) -> None:
    """Print which checks fail and what would clear each."""
    lines = [f"{tool.name}: not built; {tally(findings)}"]
    lines += [
        f"  {f.check}: {f.value_text}, must be {f.limit_text}; {f.advice}"
        for f in findings
        if f.verdict is Verdict.FAIL
    ]
    complain("\n".join(lines))


def folded(text: str, indent: int = 0) -> str:
    """Return text broken into lines that fit the terminal, or a wide page where there is none."""
    edge = " " * indent
    return click.wrap_text(text, max(terminal_width(), 40), edge, edge)


def terminal_width() -> int:
    """Return the width of the terminal, or of a wide page where there is none."""
    return get_terminal_size().columns if sys.stdout.isatty() else PIPED_WIDTH


@contextmanager
def progress(total: int) -> Iterator[Callable[[Tool, str], None]]:
    """Yield what shows the stage of a pack: on a terminal, a bar once the work lasts."""
    if not sys.stderr.isatty():
        yield lambda _tool, _stage: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    stages = 4
    bar = Progress(
        TextColumn("{task.description}"),
        BarColumn(),
        TimeElapsedColumn(),
        console=Console(stderr=True),
        transient=True,
    )
    task = bar.add_task("", total=total * stages)

    def step(tool: Tool, stage: str) -> None:
        bar.update(task, description=f"{tool.name}: {stage}", advance=1)

    late = Timer(PATIENCE_S, bar.start)
    late.daemon = True
    late.start()
    try:
        yield step
    finally:
        late.cancel()
        bar.stop()
