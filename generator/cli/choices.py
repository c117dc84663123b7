"""The commands that help to choose: choose, compare, leeway."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from time import perf_counter
from typing import TYPE_CHECKING, Final

import click

from generator.cli.console import complain, terminal_width
from generator.cli.tools import CHECK_FAILED, FILE_WRONG, GOOD, failed, files, read_all
from generator.errors import GeneratorError, ProfileError, StandardError
from generator.inputs.profile import read_profile

if TYPE_CHECKING:
    from generator.documents.document import Document
    from generator.documents.table import Section

MOST_COMPARED: Final = (2, 6)

out_folder = click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("outputs"),
    show_default=True,
    help="Folder that receives a folder for each workshop.",
)


@click.command("choose")
@click.argument("file", type=click.Path(path_type=Path), metavar="SHOP.toml")
@out_folder
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
def choose_command(file: Path, out: Path, as_json: bool) -> None:
    """Find the best tap followers that a workshop's drawer yields; write a parameter file of each.

    Exit 0: there are designs; 1: nothing fits, and what would help is told; 2: the file is wrong.
    """
    start = perf_counter()
    try:
        from generator.choice.choosing import choose
        from generator.documents.choice_papers import choice_data, choice_files
        from generator.export.choice_files import write_designs
        from generator.inputs.drawer_file import read_shop

        choice = choose(read_shop(file), file.stem)
        place = out / file.stem
        if choice.designs:
            write_designs(choice_files(choice), place)
    except StandardError as error:
        complain(str(ProfileError(str(file), (str(error),))))
        sys.exit(FILE_WRONG)
    except GeneratorError as error:
        complain(str(error))
        sys.exit(FILE_WRONG)
    seconds = perf_counter() - start
    if as_json:
        click.echo(json.dumps(choice_data(choice), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        from generator.documents.choice_papers import choice_sections

        _print(choice_sections(choice))
        click.echo(f"{choice.combinations:.3g} combinations in {seconds:.1f} s")
        for one in choice.designs:
            click.echo(f"{place / f'design-{one.place}.toml'}: {one.parameters.title}")
    sys.exit(GOOD if choice.designs else CHECK_FAILED)


@click.command("compare")
@files
@click.option("--json", "as_json", is_flag=True, help="Print the comparison as JSON.")
@click.option("--pdf", type=click.Path(path_type=Path), help="Write it as a PDF too.")
def compare_command(files: tuple[Path, ...], as_json: bool, pdf: Path | None) -> None:
    """Put two to six tools side by side: what differs, what they do, what the checks say.

    Exit codes as for check.
    """
    if not MOST_COMPARED[0] <= len(files) <= MOST_COMPARED[1]:
        complain(f"{', '.join(map(str, files))}: name two to six files, got {len(files)}")
        sys.exit(FILE_WRONG)
    twice = [str(file) for place, file in enumerate(files) if file in files[:place]]
    if twice:
        complain(f"{twice[0]}: named twice; name each file once")
        sys.exit(FILE_WRONG)
    tools = read_all(files)
    from generator.documents.compare_papers import (
        compare_data,
        compare_document,
        compare_sections,
        compared,
    )

    designs = compared([(str(file), *one) for file, one in zip(files, tools, strict=True)])
    if pdf is not None:
        _write_pdf(lambda: compare_document(designs), pdf)
    if as_json:
        click.echo(json.dumps(compare_data(designs), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        _print(compare_sections(designs))
    sys.exit(CHECK_FAILED if any(failed(findings) for _, findings in tools) else GOOD)


@click.command("leeway")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@click.option("--pdf", type=click.Path(path_type=Path), help="Write it as a PDF with a plot too.")
def leeway_command(file: Path, as_json: bool, pdf: Path | None) -> None:
    """Show how far each number of a tool may move before a rule breaks, and what it moves.

    Exit codes as for check.
    """
    ((tool, findings),) = read_all((file,))
    from generator.choice.leeway import leeways
    from generator.documents.leeway_papers import leeway_data, leeway_document, leeway_sections

    found = leeways(read_profile(file), findings)
    if pdf is not None:
        _write_pdf(lambda: leeway_document(tool, findings, found), pdf)
    if as_json:
        click.echo(json.dumps(leeway_data(found), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        _print(leeway_sections(found))
    sys.exit(CHECK_FAILED if failed(findings) else GOOD)


def _print(sections: Sequence[Section]) -> None:
    from generator.export.report_text import sections_text

    click.echo(
        sections_text(sections, width=terminal_width(), colour=sys.stdout.isatty()), nl=False
    )


def _write_pdf(document: Callable[[], Document], path: Path) -> None:
    """Write a document, or end with what is in the way."""
    from generator.export.pdf import write_pdf

    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_pdf(document(), path)
    except OSError as error:
        complain(f"{path}: cannot be written: {error.strerror or error}")
        sys.exit(FILE_WRONG)
    except GeneratorError as error:
        complain(str(error))
        sys.exit(FILE_WRONG)
