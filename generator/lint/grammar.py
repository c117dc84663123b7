"""What the rows of a call-out say, as plain values.

Sizes come in the unit of the sheet; `read_row` turns them into millimetres. A row in brackets is
for reference.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

_N: Final = r"(\d*\.?\d+)"
_THREAD: Final = (
    r"(?P<thread>M\d+(?:\.\d+)?(?:x\d*\.?\d+)?|#\d+-\d+ UN[A-Z]*|[\d/ .]+-\d+ UN[A-Z]*)"
    r"(?:-(?P<class>\d[A-Za-z]+))?"
)
_DEVIATION: Final = r"(?: (?:±|\(?[+-]?)[\d./+-]+\)?| [A-Za-z]{1,2}\d{1,2})*"
"""Tolerances behind a number: they change no nominal size."""

_ROWS: Final = tuple(
    (kind, re.compile(rf"(?:{text}){_DEVIATION}"))
    for kind, text in (
        ("chamfer", rf"{_N} x {_N}°( both ends| all edges)?"),
        ("recess", rf"recess Ø{_N} x {_N}"),
        ("bevel", rf"bevel {_N}° to Ø{_N}"),
        ("countersink", rf"{_N}° to Ø{_N}"),
        ("pilot", rf"pilot Ø{_N}, {_N} from face"),
        ("flat", rf"flat Ø{_N}"),
        ("side flat", rf"side flat {_N} from axis x {_N}"),
        ("drill", rf"drill Ø{_N} x {_N}"),
        ("cross drill", rf"(?:drill|ream) Ø{_N} (?:to bore|through)"),
        ("ledge", rf"flat Ø{_N} to ledge {_N}"),
        ("groove", rf"groove Ø{_N} x {_N}"),
        ("tapped in the bore", r"tapped in the bore"),
        ("taper", rf"1:{_N} on dia\."),
        ("half angle", r"half angle (\d+)°(\d+)'(\d+)''"),
        ("angle", rf"{_N}°"),
        ("diameter", rf"Ø{_N}"),
        ("thread", rf"{_THREAD}(?: x {_N})?"),
    )
)
LENGTHS_AT: Final = {
    "chamfer": (0,),
    "recess": (0, 1),
    "bevel": (1,),
    "countersink": (1,),
    "pilot": (0, 1),
    "flat": (0,),
    "side flat": (0, 1),
    "drill": (0, 1),
    "cross drill": (0,),
    "ledge": (0, 1),
    "groove": (0, 1),
    "diameter": (0,),
    "thread": (0,),
}
"""Which numbers of a row are lengths."""
FINISH: Final = re.compile(rf"(?:Ra )?{_N}(?: max)?|[A-Z]")
"""Roughness, the value of a tolerance frame and the letter of a datum: no size of the part."""
_PREFIX: Final = re.compile(r"\d+ ?x (?=Ø|M|drill)|(?:full|other side|far side),? ")


@dataclass(frozen=True, slots=True)
class Statement:
    """What a row says.

    Attributes:
        kind: Such as "chamfer" or "thread".
        numbers: Its numbers in order, lengths in millimetres, angles in degrees.
        half_digits: Half of the last digit of each.
        thread: Designation of a thread, without its class.
        both: Whether it holds at both ends.
        is_reference: Whether it stands in brackets.
        text: The row.
    """

    kind: str
    numbers: tuple[float, ...]
    half_digits: tuple[float, ...]
    thread: str
    both: bool
    is_reference: bool
    text: str


def read_row(text: str, unit_mm: float = 1.0) -> Statement | None:
    """Return what a row says; None where it is not understood.

    Args:
        text: The row.
        unit_mm: Length of the unit that the sheet is dimensioned in.

    Example:
        >>> read_row("bevel 60° to Ø9.5").numbers, read_row("(M10-6H x 22)").is_reference
        ((60.0, 9.5), True)
        >>> read_row("as you like it") is None
        True
    """
    plain = text.strip()
    is_reference = plain.startswith("(") and plain.endswith(")")
    if is_reference:
        plain = plain[1:-1].strip()
    plain = _PREFIX.sub("", plain)
    if FINISH.fullmatch(plain):
        return Statement("finish", (), (), "", False, is_reference, text)
    for kind, pattern in _ROWS:
        found = pattern.fullmatch(plain)
        if found is None:
            continue
        cells = [
            cell
            for n, cell in enumerate(found.groups(), 1)
            if cell and n not in (pattern.groupindex.get("thread"), pattern.groupindex.get("class"))
        ]
        numeric = [cell for cell in cells if re.fullmatch(_N, cell)]
        lengths = LENGTHS_AT.get(kind, ())
        units = [unit_mm if n in lengths else 1.0 for n in range(len(numeric))]
        return Statement(
            kind,
            tuple(float(cell) * unit for cell, unit in zip(numeric, units, strict=True)),
            tuple(
                0.5 * 10.0 ** -len(cell.partition(".")[2]) * unit
                for cell, unit in zip(numeric, units, strict=True)
            ),
            found["thread"] if kind == "thread" else "",
            any(cell in (" both ends", " all edges") for cell in cells),
            is_reference,
            text,
        )
    return None


def thread_major_mm(designation: str) -> float:
    """Return the nominal diameter that a thread designation names.

    Raises:
        ValueError: If it names none.

    Source:
        ISO 261 for M; ASME B1.1: number sizes are 0.060 inch and 0.013 inch for each number.

    Example:
        >>> thread_major_mm("M10x1"), round(thread_major_mm("3/8-16 UNC"), 3)
        (10.0, 9.525)
        >>> round(thread_major_mm("#8-32 UNC"), 4)
        4.1656
    """
    head = designation.strip().split("x")[0].split("-")[0]
    if head.startswith("M"):
        return float(head[1:])
    if head.startswith("#"):
        return (0.060 + 0.013 * float(head[1:])) * 25.4
    inches = 0.0
    for part in head.split():
        top, _, below = part.partition("/")
        inches += float(top) / float(below or 1)
    return inches * 25.4
