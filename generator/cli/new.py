"""The command that writes a first parameter file from a few answers."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from generator.cli.console import complain
from generator.cli.tools import CHECK_FAILED, FILE_WRONG
from generator.errors import GeneratorError, ProfileError, StandardError

if TYPE_CHECKING:
    from generator.inputs.drawer import Shop

MOUNT = "How does the machine hold the tool (such as MT2 draw-bar, MT2 ejected, R8, straight 16)?"
HEADROOM = "How far is it from spindle or barrel to the work, in millimetres?"
EJECTION = "How deep in the socket does the barrel's screw end, wound right back?"
TAPS = "Which taps (such as ISO 529 M6 point, DIN 352 M8 centre)?"
SPINDLE = "Is the spindle vertical or horizontal?"


@click.command("new")
@click.argument("file", type=click.Path(path_type=Path), metavar="PROFILE.toml")
@click.option("--mount", help='Such as "MT2 draw-bar", "MT2 ejected", "R8", "straight 16".')
@click.option("--headroom", help="From spindle or barrel to the work, in mm or as text.")
@click.option("--ejection-depth", help="Depth of the barrel's screw; for an ejected taper.")
@click.option("--spindle", type=click.Choice(["vertical", "horizontal"]), help="Of the machine.")
@click.option(
    "--tap",
    "taps",
    multiple=True,
    help='Such as "ISO 529 M6 point"; may be given several times.',
)
def new_command(
    file: Path,
    mount: str | None,
    headroom: str | None,
    ejection_depth: str | None,
    spindle: str | None,
    taps: tuple[str, ...],
) -> None:
    """Write a first parameter file of a tap follower that passes, from a few answers.

    What is not given as an option is asked for on a terminal. For a pick-up or support centre
    change a shipped profile of one.
    """
    if file.exists():
        complain(f"{file}: is there already; name another file, or move it away")
        sys.exit(FILE_WRONG)
    mount = _answer("--mount", mount, MOUNT)
    headroom = _answer("--headroom", headroom, HEADROOM)
    spindle = _answer("--spindle", spindle, SPINDLE)
    if "ejected" in mount:
        ejection_depth = _answer("--ejection-depth", ejection_depth, EJECTION)
    if not taps:
        taps = tuple(_answer("--tap", None, TAPS).split(","))
    try:
        shop = _shop(file, mount, headroom, ejection_depth, spindle, taps)
        text = _text(shop, file)
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, "utf-8")
    except StandardError as error:
        complain(str(ProfileError(str(file), (str(error),))))
        sys.exit(FILE_WRONG)
    except GeneratorError as error:
        complain(str(error))
        sys.exit(FILE_WRONG)
    except OSError as error:
        complain(f"{file}: cannot be written: {error.strerror or error}")
        sys.exit(FILE_WRONG)
    click.echo(f"{file}: passes every check; put in your own springs, bars and reaches")


def _answer(option: str, given: str | None, question: str) -> str:
    """Return what was given, or what is answered on a terminal."""
    if given:
        return given
    if not sys.stdin.isatty():
        complain(f"{option}: missing; {question[0].lower()}{question[1:]}")
        sys.exit(FILE_WRONG)
    return str(click.prompt(question))


def _shop(
    file: Path,
    mount: str,
    headroom: str,
    ejection_depth: str | None,
    spindle: str,
    taps: tuple[str, ...],
) -> Shop:
    """Return the workshop that the answers describe.

    Raises:
        ProfileError: If an answer cannot be understood.
    """
    from generator.choice.starting import starting_shop
    from generator.inputs.answers import answers

    machine: dict[str, Any] = {"headroom_mm": headroom, "spindle": spindle}
    if ejection_depth:
        machine["ejection_depth_mm"] = ejection_depth
    told = answers(mount, machine, taps, str(file))
    return starting_shop(
        title=file.stem[:40], mount=told.mount, machine=told.machine, taps=told.taps
    )


def _text(shop: Shop, file: Path) -> str:
    """Return the parameter file; end with what is in the way where there is none."""
    from generator.choice.choosing import choose
    from generator.documents.choice_papers import starting_text
    from generator.use.seats import tap_names

    choice = choose(shop, file.stem, most_springs=2, explain=False)
    if not choice.designs:
        wishes = replace(shop.wishes, matters=("taps",))
        demands = replace(shop.demands, taps=1.0)
        some = choose(
            replace(shop, wishes=wishes, demands=demands), file.stem, most_springs=2, explain=False
        )
        told = "no tool of usual parts serves any of these taps"
        if some.designs:
            names = ", ".join(tap_names(some.designs[0].tool))
            told = f"no tool of usual parts serves all these taps; one could serve {names}"
        complain(f"{file}: {told}")
        sys.exit(CHECK_FAILED)
    return starting_text(choice)
