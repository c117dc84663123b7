"""The tools that a command is asked about, with what the checks find."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.checks.finding import Finding, Verdict, worst
from generator.checks.run import run_checks
from generator.cli.console import complain
from generator.errors import GeneratorError, ProfileError, StandardError
from generator.inputs.profile import read_profile
from generator.model.tool import Tool, design

GOOD, CHECK_FAILED, FILE_WRONG = 0, 1, 2

Checked = tuple[Tool, tuple[Finding, ...]]

if TYPE_CHECKING:  # a mere check does without the proof of motion
    from generator.model.contacts import Proof

    Proved = tuple[Tool, tuple[Finding, ...], Proof | None]

files = click.argument(
    "files", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="FILE..."
)


def read_all(files: tuple[Path, ...]) -> list[Checked]:
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
        complain("\n".join(problems))
        sys.exit(FILE_WRONG)
    return tools


def refuse_twice(files: tuple[Path, ...], tools: list[Checked]) -> None:
    """End if several files would write the same pack."""
    named: dict[str, list[str]] = {}
    for file, (tool, _) in zip(files, tools, strict=True):
        named.setdefault(tool.name, []).append(str(file))
    twice = {name: of for name, of in named.items() if len(of) > 1}
    for name, of in twice.items():
        complain(
            f"{', '.join(of)}: would all write the pack {name}; leave all but one away, or give "
            "each a name of its own (the key name)"
        )
    if twice:
        sys.exit(FILE_WRONG)


def moved(tool: Tool) -> tuple[Proof, tuple[Finding, ...]]:
    """Return the proof of motion and what the checks find on it; loads the CAD kernel."""
    from generator.checks.proof import run_proof
    from generator.kernel.load import prove

    proof = prove(tool)
    return proof, run_proof(tool, proof)


def proved(tools: list[Checked], *, motion: bool) -> list[Proved]:
    """Return every tool, with the proof of its motion if that is asked for."""
    if not motion:
        return [(tool, findings, None) for tool, findings in tools]
    proved: list[Proved] = []
    for tool, findings in tools:
        try:
            proof, found = moved(tool)
        except GeneratorError as error:
            complain(str(error))
            sys.exit(FILE_WRONG)
        proved.append((tool, findings + found, proof))
    return proved


def failed(findings: tuple[Finding, ...]) -> bool:
    """Tell whether a check fails."""
    return worst(findings) is Verdict.FAIL
