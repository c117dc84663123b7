"""The steps of an operation in the PDF: what to do, and below it tool, speed and dial."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import Any, Final

from generator.documents.document import STEP_COLUMNS, OperationSheet
from generator.documents.table import Column, Table
from generator.export.columns import POINT_MM, SPARE_MM, column_widths_mm, letters_mm, lines_of
from generator.export.pdf_tables import (
    INSET_MM,
    PITCH_EM,
    ROOM_MM,
    height_mm,
    joined,
    plain,
)

STEP_PT: Final = 14.0
"""Letters and figures of the steps: read at arm's length; engineering judgement."""

NUMBER_MM, ACTUAL_MM, TICK_MM = 9.5, 25.0, 11.0
TARGETS_MM: Final = (22.0, 66.0)
"""Least and most width of the column of targets."""

AIR_MM: Final = 0.6
STOP_INSET_MM, STOP_GAP_MM = 2.0, 1.0
WITH_WHAT: Final = (2, 3, 4)
"""Where tool, speed and dial stand in a step."""

LOWER_MM: Final = ROOM_MM - NUMBER_MM
TRIED_MM: Final = 4.0
"""Widths of two or three columns of words are tried in steps of this."""

Row = dict[str, Any]
Lower = tuple[tuple[int, float], ...]
"""The places of a step that its lower storey shows, and the width of each."""


def lines_at(
    text: str, size_pt: float, *, room_mm: float = ROOM_MM, bold: bool = False
) -> tuple[str, ...]:
    """Return text, whatever letters it has, as lines that fit the room."""
    return lines_of(plain(text), room_mm, size_pt, bold=bold)


def lines_mm(lines: tuple[str, ...], size_pt: float) -> float:
    """Return the height of lines."""
    return (1 + PITCH_EM * (len(lines) - 1)) * size_pt * POINT_MM


def groups(sheet: OperationSheet, lower: Lower, target_mm: float) -> list[list[Row]]:
    """Return the rows that stay together: a step, with the warnings before it.

    Args:
        sheet: The operation.
        lower: What the lower storey of its steps shows.
        target_mm: Width of the column of targets.
    """
    found: list[list[Row]] = []
    held: list[Row] = []
    for step in sheet.steps:
        if len(step) == 1:
            held.append(_stop(step[0]))
        else:
            found.append([*held, _step(step, lower, target_mm)])
            held = []
    return [*found, held] if held else found


def target_width_mm(sheet: OperationSheet) -> float:
    """Return the width of the column of targets that makes the upper storeys lowest.

    A size stands beside its limits, or above them; of widths that do equally well the least.
    """
    steps = [step for step in sheet.steps if len(step) > 1 and step[-1]]
    widths_mm = {TARGETS_MM[0]}
    for size, limits in (_target(step[-1]) for step in steps):
        parts_mm = letters_mm(size, STEP_PT, bold=True), letters_mm(f" {limits}", STEP_PT)
        for needed_mm in (max(parts_mm), sum(parts_mm)):
            widths_mm.add(needed_mm + SPARE_MM + 2 * INSET_MM)
    tried = sorted(width for width in widths_mm if TARGETS_MM[0] <= width <= TARGETS_MM[1])
    return min(tried, key=lambda width: sum(len(max(_upper(s, width), key=len)) for s in steps))


def _target(text: str) -> tuple[str, str]:
    """Return a target as a size and its limits."""
    size, bracket, limits = plain(text).partition(" (")
    return size, bracket.strip() + limits


def _upper(step: tuple[str, ...], target_mm: float) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return what to do and the target, as lines; only a target narrows the room for the first."""
    do, target = step[1], step[-1]
    do_mm = ROOM_MM - NUMBER_MM - TICK_MM - (target_mm + ACTUAL_MM if target else 0.0)
    return lines_at(do, STEP_PT, room_mm=do_mm - 2 * INSET_MM), _aim(target, target_mm)


def _aim(target: str, target_mm: float) -> tuple[str, ...]:
    """Return the lines of a target; its limits stand beside the size if they have room."""
    size, limits = _target(target)
    room_mm = target_mm - 2 * INSET_MM
    size_mm = letters_mm(size, STEP_PT, bold=True)
    if size_mm + letters_mm(f" {limits}", STEP_PT) <= room_mm:
        return (f"{size} {limits}".strip(),)
    return (
        *lines_at(size, STEP_PT, room_mm=room_mm, bold=True),
        *(lines_at(limits, STEP_PT, room_mm=room_mm) if limits else ()),
    )


def lower_storey(sheet: OperationSheet) -> Lower:
    """Return what the lower storey shows: tool, speed and dial, as far as any step has one.

    They share the room so that the steps become lowest.
    """
    steps = [step for step in sheet.steps if len(step) > 1]
    used = [p for p in WITH_WHAT if any(step[p] for step in steps)] or [WITH_WHAT[0]]
    room_mm = LOWER_MM - 2 * INSET_MM * len(used)
    cells = [[_words_mm(step[place]) for place in used] for step in steps]
    least_mm = [
        max((max(words) for words in column), default=0.0) for column in zip(*cells, strict=True)
    ]
    if len(used) == 1 or not cells:
        widths_mm: tuple[float, ...] = (room_mm / len(used),) * len(used)
    elif sum(least_mm) > room_mm:
        rows = tuple(tuple(step[place] for place in used) for step in steps)
        table = Table("", tuple(Column(STEP_COLUMNS[place]) for place in used), rows)
        widths_mm = column_widths_mm(table, room_mm, STEP_PT)
    else:
        widths_mm = _lowest(cells, least_mm, room_mm)
    return tuple(
        (place, width_mm + 2 * INSET_MM) for place, width_mm in zip(used, widths_mm, strict=True)
    )


def _words_mm(text: str) -> list[float]:
    return [letters_mm(word, STEP_PT) + SPARE_MM for word in text.split()] or [0.0]


def _lowest(
    cells: list[list[list[float]]], least_mm: list[float], room_mm: float
) -> tuple[float, ...]:
    """Return the widths that give the fewest lines in all, of those the most even.

    Args:
        cells: The widths of the words of each cell of each step.
        least_mm: The widest word of each column.
        room_mm: What the columns share.
    """
    space_mm = letters_mm(" ", STEP_PT)
    columns = list(zip(*cells, strict=True))
    usual_mm = [max(sum(words) + space_mm * len(words) for words in each) for each in columns]
    shares_mm = [room_mm * each / sum(usual_mm) for each in usual_mm]
    counts: dict[tuple[int, float], list[int]] = {}
    best: tuple[float, float, tuple[float, ...]] | None = None
    for widths_mm in _tried(least_mm, shares_mm, room_mm):
        for key in enumerate(widths_mm):
            if key not in counts:
                counts[key] = [_count(words, key[1], space_mm) for words in columns[key[0]]]
        found = [counts[key] for key in enumerate(widths_mm)]
        lines = sum(max(each) for each in zip(*found, strict=True))
        uneven = sum(abs(a - b) for a, b in zip(widths_mm, shares_mm, strict=True))
        if best is None or (lines, uneven) < best[:2]:
            best = (lines, uneven, widths_mm)
    assert best is not None
    return best[2]


def _tried(
    least_mm: list[float], shares_mm: list[float], room_mm: float
) -> Iterator[tuple[float, ...]]:
    """Yield widths that fill the room with no column less than its widest word."""
    spare_mm = room_mm - sum(least_mm)
    tries = [
        [low + TRIED_MM * n for n in range(int(spare_mm / TRIED_MM) + 1)] for low in least_mm[:-1]
    ]
    for firsts in product(*tries):
        last_mm = room_mm - sum(firsts)
        if last_mm >= least_mm[-1]:
            yield (*firsts, last_mm)


def _count(words_mm: Sequence[float], room_mm: float, space_mm: float) -> int:
    """Return how many lines words of such widths take."""
    lines, filled_mm = 1, -space_mm
    for wide_mm in words_mm:
        filled_mm += space_mm + wide_mm
        if filled_mm > room_mm:
            lines, filled_mm = lines + 1, wide_mm
    return lines


def _stop(text: str) -> Row:
    lines = lines_at(text, STEP_PT, room_mm=ROOM_MM - 2 * STOP_INSET_MM - 1.0, bold=True)
    tall_mm = lines_mm(lines, STEP_PT) + 2 * STOP_INSET_MM
    return {"stop": "\n".join(lines), "height": tall_mm, "tall": tall_mm + 2 * STOP_GAP_MM}


def _step(step: tuple[str, ...], lower: Lower, target_mm: float) -> Row:
    """Return a step; one without a target has its whole upper storey for what to do."""
    target = step[-1]
    do, aim = _upper(step, target_mm)
    beside, beside_mm = _beside(step)
    number = lines_at(step[0], STEP_PT, room_mm=NUMBER_MM - 2 * INSET_MM, bold=True)
    below = [
        lines_at(step[place], STEP_PT, room_mm=width_mm - 2 * INSET_MM) for place, width_mm in lower
    ]
    one_mm = height_mm((number, do, aim), STEP_PT) + AIR_MM
    storeys = not beside and any(step[place] for place, _ in lower)
    two_mm = height_mm(below, STEP_PT) + AIR_MM if storeys else 0.0
    aimed_mm = [target_mm, ACTUAL_MM] if target else [beside_mm] if beside else []
    do_mm = ROOM_MM - NUMBER_MM - TICK_MM - sum(aimed_mm)
    size, bracket, limits = "\n".join(aim).partition("(")
    return {
        "no": "\n".join(number),
        "do": "\n".join(do),
        "beside": beside,
        "target": size,
        "limits": bracket + limits,
        "lower": joined(below),
        "storeys": storeys,
        "heights": [one_mm, two_mm],
        "widths": [NUMBER_MM, do_mm, *aimed_mm, TICK_MM],
        "tall": one_mm + two_mm,
    }


def _beside(step: tuple[str, ...]) -> tuple[str, float]:
    """Return what stands beside what to do, and the width of its cell.

    That is the one word of tool, speed and dial, if both have room on a line and nothing is
    measured; else "" and 0.
    """
    _, do, *with_what, target = step
    used = [plain(text) for text in with_what if text]
    if target or len(used) != 1:
        return "", 0.0
    wide_mm = letters_mm(used[0], STEP_PT) + SPARE_MM + 2 * INSET_MM
    do_mm = letters_mm(plain(do), STEP_PT) + SPARE_MM + 2 * INSET_MM
    fits = do_mm + wide_mm <= ROOM_MM - NUMBER_MM - TICK_MM
    return (used[0], wide_mm) if fits else ("", 0.0)
