"""All rules, in their order, over the files of a pack."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import isnan
from pathlib import PurePath
from typing import Final

from generator.lint.complete import lint_parts
from generator.lint.cutting import lint_cutting
from generator.lint.frame import layers_right, units_right, within_frame
from generator.lint.letters import (
    leaders_apart,
    letters_apart,
    letters_ascii,
    letters_clear,
    letters_readable,
)
from generator.lint.measures import numbers_true, points_drawn, rows_ordered
from generator.lint.page import Page, page_of
from generator.lint.profile import Section, section_of
from generator.lint.sheet import Cutting, Fault, Sheet
from generator.lint.views import main_views

SHEET_RULES: Final[tuple[Callable[[Page], Iterator[Fault]], ...]] = (
    units_right,
    letters_ascii,
    layers_right,
    within_frame,
    letters_readable,
    letters_apart,
    letters_clear,
    leaders_apart,
    numbers_true,
    points_drawn,
    rows_ordered,
)


def lint(
    files: Sequence[Sheet | Cutting], beside: Sequence[Sheet | Cutting] = ()
) -> tuple[Fault, ...]:
    """Return every fault of some files.

    Args:
        files: Sheets and cutting profiles.
        beside: Other files of their folders; cutting profiles among them tell what a sheet has to
            show. They are not judged.
    """
    known = [*files, *beside]
    faults: list[Fault] = []
    for file in files:
        if isinstance(file, Cutting):
            faults += lint_cutting(file)
            continue
        page = page_of(file)
        if isnan(file.scale):  # nothing is known of its paper
            faults += units_right(page)
            continue
        for rule in SHEET_RULES:
            faults += rule(page)
        faults += _parts(page, known)
    return tuple(faults)


def _parts(page: Page, known: Sequence[Sheet | Cutting]) -> Iterator[Fault]:
    """Yield the faults of the parts that a sheet shows.

    Those are the part of its own name, and those without a sheet of their own that are found on
    it; a sheet without a part of its name is an assembly.
    """
    path = PurePath(page.sheet.file)
    near = [file for file in known if PurePath(file.file).parent == path.parent]
    sheets = {PurePath(file.file).stem for file in near if isinstance(file, Sheet)}
    sections = [
        section
        for file in near
        if isinstance(file, Cutting) and (section := section_of(file)) is not None
    ]
    own = [section for section in sections if section.name == path.stem]
    if not sections:
        what = "no turning profile lies beside the sheet"
        right = "keep the files of a pack together; nothing is known of missing dimensions"
        yield Fault(page.sheet.file, "view", None, what, right)
    if own:
        yield from lint_parts(page, [*own, *_guests(page, sections, sheets)])


def _guests(page: Page, sections: Sequence[Section], sheets: set[str]) -> Iterator[Section]:
    """Yield the parts that have no sheet of their own and are shown on this one."""
    for section in sections:
        if section.name not in sheets and any(True for _ in main_views(page, section, ())):
            yield section
