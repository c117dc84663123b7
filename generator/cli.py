"""The commands: the only module that prints."""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from shutil import get_terminal_size
from threading import Timer
from time import perf_counter
from typing import Never

import click

from generator.checks.finding import Finding, Verdict, worst
from generator.checks.run import run_checks
from generator.documents.changes import changes
from generator.documents.report import report_data
from generator.documents.unverified import unverified
from generator.errors import GeneratorError, ProfileError, StandardError
from generator.inputs.profile import read_profile
from generator.model.tool import Tool, design
from generator.units import shown
from generator.version import VERSION

GOOD, CHECK_FAILED, FILE_WRONG = 0, 1, 2
COLOURS = {Verdict.PASS: "green", Verdict.WARN: "yellow", Verdict.FAIL: "red"}
PIPED_WIDTH = 120
PATIENCE_S = 1.0

Checked = tuple[Tool, tuple[Finding, ...]]

files = click.argument(
    "files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE..."
)
out_folder = click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("outputs"),
    show_default=True,
    help="Folder that receives a folder for each tool.",
)
despite = click.option(
    "--despite-failures",
    is_flag=True,
    help='Write although checks fail; every sheet then says "FAILED CHECKS".',
)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(VERSION, message="%(version)s")
def main() -> None:
    """Design, check and draw spring-loaded centres that keep a hand tap square."""
    if hasattr(signal, "SIGTERM"):
        signal.signal(signal.SIGTERM, _interrupted)


def _interrupted(*_: object) -> Never:
    raise SystemExit(128 + signal.SIGTERM)


@main.command()
@files
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
def check(files: tuple[Path, ...], as_json: bool) -> None:
    """Hold tools against every rule: exit 0 good, 1 a check fails, 2 a file is wrong."""
    tools = _read_all(files)
    if as_json:
        reports = [report_data(tool, findings) for tool, findings in tools]
        one = reports[0] if len(reports) == 1 else reports
        click.echo(json.dumps(one, indent=2, ensure_ascii=False, allow_nan=False))
    else:
        for tool, findings in tools:
            _print_verdicts(tool, findings)
    sys.exit(CHECK_FAILED if any(map(_failed, tools)) else GOOD)


@main.command()
@files
@out_folder
@despite
def build(files: tuple[Path, ...], out: Path, despite_failures: bool) -> None:
    """Check tools, then write drawings, profiles, solids and report of each."""
    tools = _read_all(files)
    _refuse_twice(tools)
    from generator.export.pack import Packer

    refused = [] if despite_failures else [one for one in tools if _failed(one)]
    for one in refused:
        _print_refusal(*one)
    wanted = [one for one in tools if one not in refused]
    code = CHECK_FAILED if refused else GOOD
    if not wanted:
        sys.exit(code)
    with Packer() as packer, _progress(len(wanted)) as step:
        for tool, findings in wanted:
            try:
                place = packer.write(tool, findings, out, partial(step, tool))
            except GeneratorError as error:
                _complain(str(error))
                code = FILE_WRONG
                continue
            click.echo(f"{place}: {_tally(findings)}")
    sys.exit(code)


@main.command()
@click.argument("file", type=click.Path(path_type=Path))
@out_folder
@despite
def watch(file: Path, out: Path, despite_failures: bool) -> None:
    """Build at every save of FILE and say in a line what changed; end it with Ctrl-C."""
    from watchfiles import watch as saves

    from generator.export.pack import Packer

    if not file.parent.is_dir():
        _read_all((file,))
    former: Tool | None = None
    with Packer() as packer:

        def once() -> None:
            nonlocal former
            start = perf_counter()
            try:
                tool = design(read_profile(file))
                findings = run_checks(tool)
                if worst(findings) is Verdict.FAIL and not despite_failures:
                    _print_refusal(tool, findings)
                    return
                packer.write(tool, findings, out)
            except GeneratorError as error:
                _complain(str(error))
                return
            told = changes(former, tool)
            former = tool
            seconds = perf_counter() - start
            click.echo(f"{told}; {_tally(findings)}; built in {seconds:.2f} s")

        once()
        saved = file.resolve()
        for _ in saves(
            file.parent,
            watch_filter=lambda _, path: Path(path).resolve() == saved,
            recursive=False,
            step=20,
            debounce=200,
            raise_interrupt=False,
        ):
            if file.exists():
                once()


@main.command("schema")
def schema_command() -> None:
    """Print the JSON Schema of the parameter file, for editors."""
    from generator.inputs.schema import schema

    click.echo(json.dumps(schema(), indent=2, ensure_ascii=False, allow_nan=False))


def _read_all(files: tuple[Path, ...]) -> list[Checked]:
    """Return every tool with its findings; end with all the problems of all files otherwise."""
    tools: list[Checked] = []
    problems: list[str] = []
    for file in files:
        try:
            tool = design(read_profile(file))
            tools.append((tool, run_checks(tool)))
        except StandardError as error:
            problems.append(str(ProfileError(str(file), (str(error),))))
        except GeneratorError as error:
            problems.append(str(error))
    if problems:
        _complain("\n".join(problems))
        sys.exit(FILE_WRONG)
    return tools


def _refuse_twice(tools: list[Checked]) -> None:
    """End if two files would write the same pack."""
    names = [tool.name for tool, _ in tools]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        _complain(f"name: two files would both write the pack {', '.join(twice)}")
        sys.exit(FILE_WRONG)


def _failed(one: Checked) -> bool:
    return worst(one[1]) is Verdict.FAIL


def _complain(text: str) -> None:
    click.echo(text, err=True)


def _tally(findings: tuple[Finding, ...]) -> str:
    """Return how many checks passed, warned and failed."""
    counts = {verdict: sum(f.verdict is verdict for f in findings) for verdict in Verdict}
    return (
        f"{counts[Verdict.PASS]} checks pass, {counts[Verdict.WARN]} warn, "
        f"{counts[Verdict.FAIL]} fail"
    )


def _print_verdicts(tool: Tool, findings: tuple[Finding, ...]) -> None:
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
            click.echo(_folded(f"{finding.limit.consequence}: {finding.advice}", indent=9))
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
        click.echo(_folded(f"From memory, unverified; measure before you rely on it: {told}"))
    click.echo(_tally(findings))


def _folded(text: str, indent: int = 0) -> str:
    """Return text broken into lines that fit the terminal, or a wide page where there is none."""
    width = get_terminal_size().columns if sys.stdout.isatty() else PIPED_WIDTH
    edge = " " * indent
    return click.wrap_text(text, max(width, 40), edge, edge)


def _print_refusal(tool: Tool, findings: tuple[Finding, ...]) -> None:
    """Print which checks fail and what would clear each."""
    lines = [f"{tool.name}: not built; {_tally(findings)}"]
    lines += [
        f"  {f.check}: {f.value_text}, must be {f.limit_text}; {f.advice}"
        for f in findings
        if f.verdict is Verdict.FAIL
    ]
    _complain("\n".join(lines))


@contextmanager
def _progress(total: int) -> Iterator[Callable[[Tool, str], None]]:
    """Yield what shows the stage of a pack: on a terminal, a bar once the work lasts."""
    if not sys.stderr.isatty():
        yield lambda _tool, _stage: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    stages = 3
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
