"""The few answers of a newcomer, in his own words, as tables of the inputs."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Final

from pydantic_core import PydanticCustomError

from generator.errors import ProfileError
from generator.inputs import rules
from generator.inputs.profile import missing_depth, table_from
from generator.inputs.quantities import Checked, length_mm
from generator.inputs.shop import FollowedTap, Machine
from generator.inputs.tables import Mount
from generator.standards.rows import Tap

MOUNTS: Final = 'such as "MT2 draw-bar", "MT2 ejected", "R8" or "straight 16"'
NUMBER: Final = r"[0-9]+(\.[0-9]*)?|\.[0-9]+"
SHANKS: Final = 3.5
"""Length of a straight shank over its diameter; common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What a newcomer has: a machine and taps."""

    mount: Annotated[Mount, Checked(rules.drawbar_thread)]
    machine: Machine
    taps: tuple[Annotated[FollowedTap, Checked(rules.tap_size)], ...]


def answers(mount: str, machine: Mapping[str, str], taps: Sequence[str], where: str) -> Answers:
    """Return the answers as tables of the inputs.

    Args:
        mount: How the machine holds the tool: a taper and how it is held, or "straight" and a size.
        machine: Keys of the machine; a bare number is in millimetres.
        taps: Standard, size and form of the end of each, as "ISO 529 M6 point".
        where: The file that is to be written, for the messages.

    Raises:
        ProfileError: If one of them cannot be understood.
    """
    problems: list[str] = []
    table: dict[str, Any] = {
        "mount": _mount(mount, problems),
        "machine": {key: _number(text) for key, text in machine.items()},
        "taps": list(_taps(taps, problems)),
    }
    problems += missing_depth(table["mount"], table["machine"])
    if problems:
        raise ProfileError(where, tuple(problems))
    return table_from(Answers, table, where)


def _mount(text: str, problems: list[str]) -> dict[str, Any]:
    words = text.split()
    match words:
        case ["straight", *size] if size:
            try:
                size_mm = length_mm(_number(" ".join(size)))
            except PydanticCustomError:
                size_mm = 0.0
            return {"kind": "straight", "diameter_mm": size_mm, "length_mm": SHANKS * size_mm}
        case ["r8" | "R8"]:
            return {"kind": "r8"}
        case [size, "draw-bar" | "ejected" as held]:
            return {"kind": f"morse {held}", "size": size.upper()}
    problems.append(f"mount: expected {MOUNTS}, got {text!r}")
    return {}


def _taps(texts: Sequence[str], problems: list[str]) -> Iterator[dict[str, Any]]:
    standards = sorted({row.standard for row in Tap.rows()}, key=len, reverse=True)
    for text in texts:
        words = text.strip()
        standard = next((one for one in standards if words.upper().startswith(one.upper())), "")
        rest = words[len(standard) :].split()
        if not (standard and 1 <= len(rest) <= 2):
            problems.append(
                f"tap: expected a standard ({', '.join(reversed(standards))}), a size and the form "
                f'of its end, such as "ISO 529 M6 point", got {text!r}'
            )
            continue
        tap: dict[str, Any] = {"standard": standard, "size": rest[0]}
        yield tap | ({"end": rest[1]} if len(rest) == 2 else {})


def _number(text: str) -> float | str:
    """Return a bare number as one; anything else is text with a unit."""
    return float(text) if re.fullmatch(NUMBER, text.strip()) else text
