"""The commands: the only module that prints."""

from __future__ import annotations

import json
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path
from shutil import get_terminal_size
from threading import Timer
from time import perf_counter
from typing import TYPE_CHECKING, Never

import click

from generator.checks.finding import Finding, Verdict, worst
from generator.checks.run import run_checks
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

if TYPE_CHECKING:  # a mere check does without the proof of motion
    from generator.model.contacts import Proof

    Proved = tuple[Tool, tuple[Finding, ...], Proof | None]

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
motion_too = click.option(
    "--motion", is_flag=True, help="Prove on the solids that nothing collides; takes seconds."
)


class _Interruptible(click.Group):
    """Commands that end quietly when they are interrupted.

    An interrupt that arrives while a compiled library loads comes out as an ImportError.
    """

    interrupted_by = 0

    def invoke(self, ctx: click.Context) -> object:
        """Run the command that was asked for."""
        self.interrupted_by = 0
        former = {each: signal.signal(each, self._stop) for each in (signal.SIGINT, signal.SIGTERM)}
        try:
            return super().invoke(ctx)
        except ImportError:
            if self.interrupted_by == signal.SIGINT:
                raise click.Abort from None
            if self.interrupted_by:
                raise SystemExit(128 + self.interrupted_by) from None
            raise
        finally:
            for each, handler in former.items():
                signal.signal(each, handler)

    def _stop(self, number: int, _frame: object) -> Never:
        self.interrupted_by = number
        if number == signal.SIGINT:
            raise KeyboardInterrupt
        raise SystemExit(128 + number)


@click.group(
    cls=_Interruptible,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(VERSION, message="%(version)s")
def main() -> None:
    """Design, check and draw spring-loaded centres that keep a hand tap square."""


@main.command()
@files
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
@motion_too
def check(files: tuple[Path, ...], as_json: bool, motion: bool) -> None:
    """Hold tools against every rule: exit 0 good, 1 a check fails, 2 a file is wrong."""
    tools = _proved(_read_all(files), motion=motion)
    if as_json:
        from generator.documents.report import report_data
        from generator.documents.subjects import study

        reports = [
            report_data(tool, findings, study(tool, proof)) for tool, findings, proof in tools
        ]
        one = reports[0] if len(reports) == 1 else reports
        click.echo(json.dumps(one, indent=2, ensure_ascii=False, allow_nan=False))
    else:
        for tool, findings, _ in tools:
            _print_verdicts(tool, findings)
    sys.exit(CHECK_FAILED if any(_failed(findings) for _, findings, _ in tools) else GOOD)


@main.command("report")
@files
@click.option(
    "--section",
    "names",
    multiple=True,
    metavar="TEXT",
    help="Print only the sections whose titles begin so; may be given several times.",
)
@motion_too
def report_command(files: tuple[Path, ...], names: tuple[str, ...], motion: bool) -> None:
    """Print the whole report as tables of text: exit codes as for check."""
    tools = _proved(_read_all(files), motion=motion)
    from generator.documents.report import report
    from generator.documents.subjects import study
    from generator.export.report_text import report_text, sections_named

    texts = []
    for tool, findings, proof in tools:
        told = report(tool, findings, study(tool, proof))
        try:
            sections = sections_named(told, names) if names else told.sections
        except LookupError as error:
            more = "" if motion else "; and with --motion the proof of motion"
            _complain(f"{error.args[0]}{more}")
            sys.exit(FILE_WRONG)
        width, colour = _terminal_width(), sys.stdout.isatty()
        texts.append(report_text(told, sections, width=width, colour=colour))
    click.echo("\n".join(texts), nl=False)
    sys.exit(CHECK_FAILED if any(_failed(findings) for _, findings, _ in tools) else GOOD)


@main.command()
@files
@out_folder
@despite
def build(files: tuple[Path, ...], out: Path, despite_failures: bool) -> None:
    """Check tools and their motion, then write drawings, profiles, solids and report of each."""
    tools = _read_all(files)
    _refuse_twice(files, tools)
    from generator.export.pack import Packer, refuse_unwritable

    refused = [] if despite_failures else [one for one in tools if _failed(one[1])]
    for one in refused:
        _print_refusal(*one)
    wanted = [one for one in tools if one not in refused]
    code = CHECK_FAILED if refused else GOOD
    if not wanted:
        sys.exit(code)
    try:
        for tool, _ in wanted:
            refuse_unwritable(out, tool.name)
    except GeneratorError as error:
        _complain(str(error))
        sys.exit(FILE_WRONG)
    with Packer() as packer, _progress(len(wanted)) as step:
        for tool, findings in wanted:
            step(tool, "motion")
            packer.prepare(tool, findings)
            try:
                proof, found = _moved(tool)
                findings += found
                if _failed(findings) and not despite_failures:
                    _print_refusal(tool, findings)
                    code = max(code, CHECK_FAILED)
                    continue
                place = packer.write(tool, findings, proof, out, partial(step, tool))
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

    from generator.documents.changes import changes
    from generator.export.pack import Packer, refuse_unwritable

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
                if despite_failures or not _failed(findings):
                    refuse_unwritable(out, tool.name)
                    packer.prepare(tool, findings)
                    proof, found = _moved(tool)
                    findings += found
                if _failed(findings) and not despite_failures:
                    _print_refusal(tool, findings)
                    return
                packer.write(tool, findings, proof, out)
            except GeneratorError as error:
                _complain(str(error))
                return
            told = changes(former, tool)
            former = tool
            seconds = perf_counter() - start
            click.echo(f"{told}; {_tally(findings)}; built in {seconds:.2f} s")

        once()
        saved = file.resolve()
        with suppress(KeyboardInterrupt):
            for _ in saves(
                file.parent,
                watch_filter=lambda _, path: Path(path).resolve() == saved,
                recursive=False,
                step=20,
                debounce=200,
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


def _refuse_twice(files: tuple[Path, ...], tools: list[Checked]) -> None:
    """End if several files would write the same pack."""
    named: dict[str, list[str]] = {}
    for file, (tool, _) in zip(files, tools, strict=True):
        named.setdefault(tool.name, []).append(str(file))
    twice = {name: of for name, of in named.items() if len(of) > 1}
    for name, of in twice.items():
        _complain(
            f"{', '.join(of)}: would all write the pack {name}; leave all but one away, or give "
            "each a name of its own (the key name)"
        )
    if twice:
        sys.exit(FILE_WRONG)


def _moved(tool: Tool) -> tuple[Proof, tuple[Finding, ...]]:
    """Return the proof of motion and what the checks find on it; loads the CAD kernel."""
    from generator.checks.proof import run_proof
    from generator.kernel.load import prove

    proof = prove(tool)
    return proof, run_proof(tool, proof)


def _proved(tools: list[Checked], *, motion: bool) -> list[Proved]:
    """Return every tool, with the proof of its motion if that is asked for."""
    if not motion:
        return [(tool, findings, None) for tool, findings in tools]
    proved: list[Proved] = []
    for tool, findings in tools:
        try:
            proof, found = _moved(tool)
        except GeneratorError as error:
            _complain(str(error))
            sys.exit(FILE_WRONG)
        proved.append((tool, findings + found, proof))
    return proved


def _failed(findings: tuple[Finding, ...]) -> bool:
    return worst(findings) is Verdict.FAIL


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
    edge = " " * indent
    return click.wrap_text(text, max(_terminal_width(), 40), edge, edge)


def _terminal_width() -> int:
    return get_terminal_size().columns if sys.stdout.isatty() else PIPED_WIDTH


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
