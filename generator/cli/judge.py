"""The commands that tell what is thought of a tool: check, report, actual."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import click

from generator.cli.console import complain, print_verdicts, terminal_width
from generator.cli.tools import CHECK_FAILED, FILE_WRONG, GOOD, failed, files, proved, read_all
from generator.errors import GeneratorError, ProfileError, StandardError
from generator.inputs.profile import read_profile
from generator.model.tool import design

motion_too = click.option(
    "--motion", is_flag=True, help="Prove on the solids that nothing collides; takes seconds."
)


@click.command()
@files
@click.option("--json", "as_json", is_flag=True, help="Print the report as JSON.")
@motion_too
def check(files: tuple[Path, ...], as_json: bool, motion: bool) -> None:
    """Hold tools against every rule: exit 0 good, 1 a check fails, 2 a file is wrong."""
    tools = proved(read_all(files), motion=motion)
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
            print_verdicts(tool, findings)
    sys.exit(CHECK_FAILED if any(failed(findings) for _, findings, _ in tools) else GOOD)


@click.command("report")
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
    tools = proved(read_all(files), motion=motion)
    from generator.documents.bench import bench
    from generator.documents.subjects import study
    from generator.export.report_text import report_text, sections_named

    texts = []
    for tool, findings, proof in tools:
        told = bench(tool, findings, study(tool, proof))
        try:
            sections = sections_named(told, names) if names else told.sections
        except LookupError as error:
            more = "" if motion else "; and with --motion the proof of motion"
            complain(f"{error.args[0]}{more}")
            sys.exit(FILE_WRONG)
        width, colour = terminal_width(), sys.stdout.isatty()
        texts.append(report_text(told, sections, width=width, colour=colour))
    click.echo("\n".join(texts), nl=False)
    sys.exit(CHECK_FAILED if any(failed(findings) for _, findings, _ in tools) else GOOD)


@click.command("actual")
@click.argument("file", type=click.Path(path_type=Path), metavar="PROFILE")
@click.argument("sizes", type=click.Path(path_type=Path), metavar="MEASURED.toml", required=False)
@click.option("--template", is_flag=True, help="Print an empty file of measured sizes to fill in.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
def actual_command(file: Path, sizes: Path | None, template: bool, as_json: bool) -> None:
    """Say what measured sizes make of a tool, and what to change before the remaining cuts.

    Exit 0: it comes right; 1: a part is scrap; 2: a file is wrong.
    """
    if template == (sizes is not None):
        complain(f"{file}: name a file of measured sizes, or ask for an empty one by --template")
        sys.exit(FILE_WRONG)
    try:
        tool = design(read_profile(file))
        if sizes is None:
            from generator.documents.measured_template import measured_template

            click.echo(measured_template(tool), nl=False)
            return
        from generator.documents.actual_papers import actual_data, actual_report
        from generator.inputs.measured import read_measured
        from generator.making.measured import actual

        found = actual(tool, read_measured(sizes, tool.parameters))
    except StandardError as error:
        complain(str(ProfileError(str(sizes or file), (str(error),))))
        sys.exit(FILE_WRONG)
    except GeneratorError as error:
        complain(str(error))
        sys.exit(FILE_WRONG)
    if as_json:
        click.echo(json.dumps(actual_data(found), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        from generator.export.report_text import report_text

        told = actual_report(found)
        width, colour = terminal_width(), sys.stdout.isatty()
        click.echo(report_text(told, told.sections, width=width, colour=colour), nl=False)
    sys.exit(GOOD if found.usable else CHECK_FAILED)
