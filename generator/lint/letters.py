"""Rules of letters: nothing lies on them, and they are large enough to be read."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist
from typing import Final

import numpy as np

from generator.lint.page import Page
from generator.lint.sheet import LOOSE, Fault, Letters
from generator.lint.touch import crossing, drawn, encloses, grown, overlaps, rows, touched

CLEAR_MM: Final = 0.2
"""Least distance from a letter to a line; common practice, no source. ISO 3098-1, from memory and
unverified, asks for two line widths, 0.5 mm, between letters and lines."""
SAME_MM: Final = 0.5
"""Leaders whose tips lie closer point at the same spot."""
DIMENSION_TEXT_MM: Final = 3.0
NOTE_TEXT_MM: Final = 2.5
LABEL_TEXT_MM: Final = 1.8
"""Least heights of letters. The last two are the smallest and the second of the series 1.8, 2.5,
3.5, ... of ISO 3098-1 (from memory, unverified); a dimension has to be read at arm's length over a
lathe (engineering judgement)."""


def letters_clear(page: Page) -> Iterator[Fault]:
    """Yield text on lines, arrowheads, leaders, frames and hatch."""
    sheet = page.sheet
    boxes = grown(rows([each.box for each in sheet.letters]), CLEAR_MM)
    runs, of = drawn(sheet)
    if not len(boxes) or not len(runs):
        return
    which, by = touched(boxes, runs)
    for n in np.unique(which):
        each = sheet.letters[n]
        layers = sorted({_kind(of[m], each) for m in by[which == n]})
        yield Fault(
            sheet.file,
            "text on line",
            each.middle,
            f"{each.text!r} lies on {', '.join(layers)}",
            f"keep letters {CLEAR_MM:g} mm clear of lines",
        )


def _kind(of: tuple[str, int], letters: Letters) -> str:
    """Return what a run is to a text that lies on it."""
    layer, owner = of
    if layer == "HATCH":
        return "hatch"
    if owner == LOOSE:
        return f"a line of layer {layer}"
    return "its own dimension" if owner == letters.owner else "another dimension"


def letters_apart(page: Page) -> Iterator[Fault]:
    """Yield text on text."""
    sheet = page.sheet
    boxes = rows([each.box for each in sheet.letters])
    if not len(boxes):
        return
    deep = overlaps(boxes, boxes)
    for n, m in zip(*np.nonzero(np.triu(deep > 0, 1)), strict=True):
        one, other = sheet.letters[n], sheet.letters[m]
        yield Fault(
            sheet.file,
            "text on text",
            one.middle,
            f"{one.text!r} lies on {other.text!r}",
            f"move one of them {deep[n, m]:.1f} mm",
        )


def leaders_apart(page: Page) -> Iterator[Fault]:
    """Yield leaders that cross each other."""
    runs = rows([(*leader.tip, *leader.elbow) for leader in page.leaders])
    if len(runs) < 2:
        return
    for n, m in zip(*np.nonzero(np.triu(crossing(runs)[0], 1)), strict=True):
        one, other = page.leaders[n], page.leaders[m]
        if dist(one.tip, other.tip) > SAME_MM:
            what = f"the leader of {one.rows[0].text!r} crosses that of {other.rows[0].text!r}"
            right = "move one of the call-outs to the other side"
            yield Fault(page.sheet.file, "leaders", one.tip, what, right)


def letters_readable(page: Page) -> Iterator[Fault]:
    """Yield text that is too small, and text that says nothing."""
    sheet = page.sheet
    for each in sheet.letters:
        if not each.text.strip():
            at = each.middle
            yield Fault(sheet.file, "empty text", at, "a text holds no letter", "leave it out")
            continue
        least, kind = _least(each, page)
        if each.height_mm < least - 1e-6:
            yield Fault(
                sheet.file,
                "small text",
                each.middle,
                f"{each.text!r}, {kind}, is {each.height_mm:.2f} mm high",
                f"write it {least:g} mm high or more",
            )


def _least(each: Letters, page: Page) -> tuple[float, str]:
    if each.owner != LOOSE or page.is_on_leader(each):
        return DIMENSION_TEXT_MM, "a dimension"
    inside = page.inner is None or encloses(page.inner, each.box)
    if not inside or page.is_in_table(each.box):
        return LABEL_TEXT_MM, "a label"
    return NOTE_TEXT_MM, "a note"


def letters_ascii(page: Page) -> Iterator[Fault]:
    """Yield a file with bytes beyond ASCII."""
    sheet = page.sheet
    if not sheet.is_ascii:
        yield Fault(
            sheet.file,
            "not ASCII",
            None,
            "the file holds letters that some readers take for others",
            "write signs as %%c, %%d and %%p, other letters by code point",
        )
