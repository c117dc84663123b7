"""The command line: all commands in one group."""

from __future__ import annotations

import json
import signal
from typing import Never

import click

from generator.cli.choices import choose_command, compare_command, leeway_command
from generator.cli.judge import actual_command, check, report_command
from generator.cli.new import new_command
from generator.cli.packs import build, lint_command, watch
from generator.version import VERSION


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
    """Design, check and draw spring-loaded centres: for taps, for finding a place, for support."""


@click.command("schema")
@click.option("--workshop", is_flag=True, help="Print that of workshop files.")
def schema_command(workshop: bool) -> None:
    """Print the JSON Schema of parameter files, for editors."""
    from generator.inputs.drawer import Shop
    from generator.inputs.parameters import Parameters
    from generator.inputs.schema import schema

    root = Shop if workshop else Parameters
    click.echo(json.dumps(schema(root), indent=2, ensure_ascii=False, allow_nan=False))


for command in (
    check,
    report_command,
    build,
    watch,
    actual_command,
    choose_command,
    compare_command,
    leeway_command,
    new_command,
    lint_command,
    schema_command,
):
    main.add_command(command)
