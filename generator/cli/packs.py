"""The commands that write packs, and the one that reads them back: build, watch, lint."""

from __future__ import annotations

import sys
from contextlib import suppress
from functools import partial
from pathlib import Path
from time import perf_counter

import click

from generator.checks.run import run_checks
from generator.cli.console import complain, print_refusal, progress, tally
from generator.cli.tools import (
    CHECK_FAILED,
    FILE_WRONG,
    GOOD,
    failed,
    files,
    moved,
    read_all,
    refuse_twice,
)
from generator.errors import GeneratorError
from generator.inputs.profile import read_profile
from generator.model.tool import Tool, design

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


@click.command()
@files
@out_folder
@despite
def build(files: tuple[Path, ...], out: Path, despite_failures: bool) -> None:
    """Check tools and their motion, then write drawings, profiles, solids and report of each."""
    tools = read_all(files)
    refuse_twice(files, tools)
    from generator.export.pack import Packer, refuse_unwritable

    refused = [] if despite_failures else [one for one in tools if failed(one[1])]
    for one in refused:
        print_refusal(*one)
    wanted = [one for one in tools if one not in refused]
    code = CHECK_FAILED if refused else GOOD
    if not wanted:
        sys.exit(code)
    try:
        for tool, _ in wanted:
            refuse_unwritable(out, tool.name)
    except GeneratorError as error:
        complain(str(error))
        sys.exit(FILE_WRONG)
    with Packer() as packer, progress(len(wanted)) as step:
        for tool, findings in wanted:
            step(tool, "motion")
            packer.prepare(tool, findings)
            try:
                proof, found = moved(tool)
                findings += found
                if failed(findings) and not despite_failures:
                    print_refusal(tool, findings)
                    code = max(code, CHECK_FAILED)
                    continue
                place = packer.write(tool, findings, proof, out, partial(step, tool))
            except GeneratorError as error:
                complain(str(error))
                code = FILE_WRONG
                continue
            click.echo(f"{place}: {tally(findings)}")
    sys.exit(code)


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@out_folder
@despite
def watch(file: Path, out: Path, despite_failures: bool) -> None:
    """Build at every save of FILE and say in a line what changed; end it with Ctrl-C."""
    from watchfiles import watch as saves

    from generator.documents.changes import changes
    from generator.export.pack import Packer, refuse_unwritable

    if not file.parent.is_dir():
        read_all((file,))
    former: Tool | None = None
    with Packer() as packer:

        def once() -> None:
            nonlocal former
            start = perf_counter()
            try:
                tool = design(read_profile(file))
                findings = run_checks(tool)
                if despite_failures or not failed(findings):
                    refuse_unwritable(out, tool.name)
                    packer.prepare(tool, findings)
                    proof, found = moved(tool)
                    findings += found
                if failed(findings) and not despite_failures:
                    print_refusal(tool, findings)
                    return
                packer.write(tool, findings, proof, out)
            except GeneratorError as error:
                complain(str(error))
                return
            told = changes(former, tool)
            former = tool
            seconds = perf_counter() - start
            click.echo(f"{told}; {tally(findings)}; built in {seconds:.2f} s")

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


@click.command("lint")
@click.argument(
    "files",
    nargs=-1,
    required=True,
    type=click.Path(path_type=Path),
    metavar="FILE_OR_PACK...",
)
def lint_command(files: tuple[Path, ...]) -> None:
    """Look for faults in DXF files: exit 0 clean, 1 findings, 2 a file cannot be read."""
    from generator.export.dxf_reader import read_dxf
    from generator.lint.run import lint

    asked: list[Path] = []
    for file in files:
        asked += sorted(file.glob("*.dxf")) if file.is_dir() else [file]
        if file.is_dir() and not any(file.glob("*.dxf")):
            complain(f"{file}: holds no DXF file; name a drawing, or the folder of a pack")
            sys.exit(FILE_WRONG)
    asked = list(dict.fromkeys(asked))
    folders = dict.fromkeys(path.parent for path in asked)
    others = [path for folder in folders for path in sorted(folder.glob("*.dxf"))]
    read, code = {}, GOOD
    for path in dict.fromkeys((*asked, *others)):
        try:
            read[path] = read_dxf(path)
        except GeneratorError as error:
            if path in asked:
                complain(str(error))
                code = FILE_WRONG
    judged = [read[path] for path in asked if path in read]
    beside = [each for path, each in read.items() if path not in asked]
    faults = lint(judged, beside)
    for fault in faults:
        click.echo(str(fault))
    noun = "finding" if len(faults) == 1 else "findings"
    if judged:
        click.echo(f"{len(judged)} file{'s' * (len(judged) != 1)}, {len(faults)} {noun}")
    sys.exit(code or (CHECK_FAILED if faults else GOOD))
