"""Reading a workshop: a TOML file, and the tables of springs that lie beside it.

A table of springs is CSV, so that the lid of a boxed assortment is typed in a spreadsheet or by
hand. Its first line names the columns as the keys of a spring; lengths may be in inches instead.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any, Final

from generator.errors import ProfileError
from generator.inputs.drawer import Shop, SpringTable, StockSpring
from generator.inputs.profile import missing_depth, read_text, read_toml, table_from

COLUMNS: Final = {field.name: field for field in fields(StockSpring)}
IN_INCHES: Final = {name.replace("_mm", "_in"): name for name in COLUMNS if name.endswith("_mm")}
N_PER_MM_PER_LBF_PER_IN: Final = 4.4482216152605 / 25.4
OF_OTHERS: Final = ("purpose", "pick_up", "support")
"""Keys of a parameter file that a workshop has no use for."""
NUMBER: Final = r"[0-9]+(\.[0-9]*)?|\.[0-9]+"


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a table of springs.

    Attributes:
        number: Its number in the file.
        table: Its cells as the keys of a spring.
    """

    number: int
    table: dict[str, Any]


def read_shop(path: Path) -> Shop:
    """Return a workshop with all its springs, those of its tables too.

    Raises:
        ProfileError: If a file cannot be read or holds any problem; all of them are listed.
    """
    table = read_toml(path, "workshop file")
    problems: list[str] = [*_other_purposes(table), *_ejected(table)]
    shop: Shop | None = None
    try:
        known = {key: value for key, value in table.items() if key not in OF_OTHERS}
        shop = table_from(Shop, known, str(path))
    except ProfileError as error:
        problems = [*error.problems, *problems]
    found: list[tuple[str, StockSpring]] = []
    names = table.get("spring_files", ())
    for name in names if isinstance(names, list) else ():
        if isinstance(name, str):
            try:
                found += read_springs(path.parent / name)
            except ProfileError as error:
                problems += [f"{error.path}: {line}" for line in error.problems]
    if shop is not None:
        found = [*((f"springs[{n}]", one) for n, one in enumerate(shop.springs, 1)), *found]
        shop = replace(shop, springs=tuple(one for _, one in found))
        problems += _contradictions(shop, found)
    if problems or shop is None:
        raise ProfileError(str(path), tuple(dict.fromkeys(problems)))
    return shop


def _other_purposes(table: Mapping[str, Any]) -> Iterator[str]:
    """Yield that a workshop is not searched for another tool than a tap follower."""
    asked = [key for key in OF_OTHERS if key in table]
    if asked and table.get("purpose") != "tap follower":
        yield (
            f"{', '.join(asked)}: a workshop is searched for tap followers alone; for a pick-up or "
            "support centre change a shipped profile of one"
        )


def _ejected(table: Mapping[str, Any]) -> Iterator[str]:
    """Yield what the machine must tell of a mount that it ejects."""
    mounts = table.get("mounts")
    for mount in mounts if isinstance(mounts, list) else ():
        yield from missing_depth(mount, table.get("machine"))


def _contradictions(shop: Shop, springs: Sequence[tuple[str, StockSpring]]) -> Iterator[str]:
    """Yield what one part of a workshop has against another."""
    if not springs:
        yield "springs: none; type them here or name a table of them in spring_files"
    matters = shop.wishes.matters
    if len(set(matters)) < len(matters):
        yield "wishes.matters: names the same thing twice"
    if shop.demands.taps > len(shop.taps):
        yield f"demands.taps: must be at most {len(shop.taps)}, the taps of this file, got " + (
            f"{shop.demands.taps:g}"
        )
    if shop.demands.length_mm >= shop.machine.headroom_mm:
        yield (
            "demands.length_mm: must be below machine.headroom_mm, "
            f"{shop.machine.headroom_mm:g}, or no tap fits under the tool, got "
            f"{shop.demands.length_mm:g}"
        )
    yield from _twice([(where, _sizes(one)) for where, one in springs], "add their counts")
    for name in ("mounts", "bars", "reamers", "thread_taps", "set_screws", "taps"):
        entries = enumerate(getattr(shop, name), 1)
        yield from _twice([(f"{name}[{n}]", repr(one)) for n, one in entries], "")


def _sizes(spring: StockSpring) -> str:
    """Return what makes two springs the same: all but label and count."""
    return repr(replace(spring, label="", count=1.0))


def _twice(entries: Sequence[tuple[str, str]], advice: str) -> Iterator[str]:
    """Yield the entries that are the same."""
    first: dict[str, str] = {}
    for where, what in entries:
        if what in first:
            more = f" and {advice}" if advice else ""
            yield f"{where}: is the same as {first[what]}; leave one away{more}"
        first.setdefault(what, where)


def read_springs(path: Path) -> list[tuple[str, StockSpring]]:
    """Return the springs of a table, each with its file and line.

    Raises:
        ProfileError: If the file cannot be read or holds any problem; all of them are listed.
    """
    lines, problems = _lines(read_text(path, "table of springs"))
    table = {"springs": [line.table for line in lines]}
    springs: tuple[StockSpring, ...] = ()
    try:
        springs = table_from(SpringTable, table, str(path)).springs
    except ProfileError as error:
        problems += [_by_line(problem, lines) for problem in error.problems]
    if problems:
        raise ProfileError(str(path), tuple(problems))
    return [
        (f"{path.name} line {line.number}", spring)
        for line, spring in zip(lines, springs, strict=True)
    ]


def _by_line(problem: str, lines: Sequence[Line]) -> str:
    """Return a problem of a table with the number of its line in place of that of the entry."""
    found = re.match(r"springs\[([0-9]+)\]\.?", problem)
    if not found:
        return "holds no spring" if problem.startswith("springs: expected") else problem
    rest = problem[found.end() :].removeprefix(": ")
    return f"line {lines[int(found[1]) - 1].number}: {rest}"


def _lines(text: str) -> tuple[list[Line], list[str]]:
    """Return the lines of a table, and what is wrong with its columns."""
    rows = [
        (number, row)
        for number, row in enumerate(text.splitlines(), 1)
        if row.strip(" ,;\t") and not row.lstrip().startswith("#")
    ]
    if not rows:
        return [], ["is empty; its first line names the columns, such as wire_mm,outside_mm"]
    separator = ";" if ";" in rows[0][1] else ","
    heads, problems = _heads(rows[0][1], separator)
    lines = []
    for number, row in rows[1:]:
        cells = [cell.strip() for cell in next(csv.reader([row], delimiter=separator))]
        if any(cells[len(heads) :]):
            problems.append(
                f"line {number}: has {len(cells)} cells, the first line has {len(heads)}"
            )
            continue
        told = {head: cell for head, cell in zip(heads, cells, strict=False) if head and cell}
        lines.append(
            Line(number, dict(_cell(*one, comma=separator == ";") for one in told.items()))
        )
    return lines, problems


def _heads(row: str, separator: str) -> tuple[list[str], list[str]]:
    """Return the names of the columns, "" for one that is not known, and what is wrong."""
    heads = [cell.strip() for cell in next(csv.reader([row], delimiter=separator))]
    known = (*COLUMNS, *IN_INCHES, "rate_lbf_per_in")
    problems = []
    for place, head in enumerate(heads):
        if not head:
            continue
        if head not in known:
            close = get_close_matches(head, known, n=1)
            hint = f"did you mean {close[0]}?" if close else f"there are {', '.join(known)}"
            problems.append(f"line 1: unknown column {head!r}; {hint}")
            heads[place] = ""
        elif heads.index(head) < place:
            problems.append(f"line 1: column {head} twice")
    return heads, problems


def _cell(head: str, cell: str, *, comma: bool) -> tuple[str, Any]:
    """Return the key and the value of a cell; a text that is no number stays one."""
    key = IN_INCHES.get(head, head)
    text = cell.replace(",", ".") if comma and head not in ("label", "ends", "wire") else cell
    if head in IN_INCHES:
        return key, f"{text} in"
    number = float(text) if re.fullmatch(NUMBER, text) else None
    if head == "rate_lbf_per_in":
        return "rate_N_per_mm", text if number is None else number * N_PER_MM_PER_LBF_PER_IN
    textual = head in ("label", "ends", "hand", "wire")
    return key, text if number is None or textual else number
