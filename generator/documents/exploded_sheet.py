"""The sheet with the tool drawn apart: the view between its heading and the title block."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from generator.documents.asks import Cluster
from generator.documents.assembly_sheet import SMALLEST
from generator.documents.bill import total_mass_g
from generator.documents.drawing import Drawing, Mark, Text
from generator.documents.exploded import bare_width_mm, exploded_view
from generator.documents.exploded_pieces import assembly_order
from generator.documents.layout import Array, as_rows, bounds, moved, runs
from generator.documents.parts_list import mass_text
from generator.documents.sheet import (
    LINE_MM,
    NOTE_MM,
    SPACE_MM,
    choices,
    composed,
    first_that_fits,
    open_frame,
)
from generator.documents.text import Box, text_box
from generator.documents.title_block import BLOCK_MM, Header, Legend
from generator.errors import ExportError
from generator.model.tool import Tool

NAME: Final = "exploded"
LARGEST_SCALE: Final = 2.0
HEIGHTS: Final = 41
"""How many heights on the sheet are tried."""

STEP_MM: Final = 2.0
"""How close the points lie at which a line is held against the title block."""


def exploded_sheet(tool: Tool, header: Header) -> Drawing:
    """Return the sheet with the tool drawn apart.

    Sheet and scale choose themselves: the first of the choices on which all fits.

    Args:
        tool: The tool.
        header: Title block and banner.

    Raises:
        ExportError: If the tool fits on no sheet.
    """
    mass = f"{mass_text(total_mass_g(tool))} g"
    legend = Legend("see parts list", "see parts list", mass, "1")
    views: dict[float, Cluster] = {}

    def tries() -> Iterator[Drawing | None]:
        for size, scale in choices(header, SMALLEST):
            frame = open_frame(header, size)
            if scale > LARGEST_SCALE or bare_width_mm(tool, scale) > frame[2] - frame[0]:
                continue
            if scale not in views:
                views[scale] = exploded_view(tool, scale)
            heading = tuple(_heading(tool, frame))
            shift = _room(views[scale], frame, bounds(heading))
            if shift is not None:
                marks = (*heading, *(moved(mark, *shift) for mark in views[scale].marks))
                placed = Cluster(marks, (), (*frame[:2], *frame[:2]))
                yield composed(NAME, header, legend, (), size, scale, (), [placed])

    drawing = first_that_fits(tries())
    if drawing is None:
        raise ExportError(f"{header.title}: fits no sheet; shorten the tool")
    return drawing


def _heading(tool: Tool, frame: Box) -> Iterator[Text]:
    """Yield the heading in the upper left corner."""
    left, top = frame[0] + SPACE_MM, frame[3] - SPACE_MM - NOTE_MM
    lines = (
        f"Drawn apart, {tool.orientations[0].name}",
        "item numbers as in the parts list of the assembly",
        f"order of assembly: {', '.join(assembly_order(tool))}",
    )
    for n, line in enumerate(lines):
        yield Text((left, top - LINE_MM * n), line, NOTE_MM, bold=n == 0)


def _room(view: Cluster, frame: Box, heading: Box) -> tuple[float, float] | None:
    """Return how a view is moved to stand clear of frame, heading and title block; None if not.

    Of all heights the one is taken that leaves most room about the view.
    """
    left, bottom, right, top = frame
    points = _points(view.marks)
    block = (right - BLOCK_MM[0], bottom + BLOCK_MM[1])
    low, high = bottom - view.box[1], top - view.box[3]
    best, most = None, SPACE_MM
    for dy in np.linspace(low, high, HEIGHTS) if high > low else ():
        x, y = points[:, 0], points[:, 1] + dy
        beside = x[y < block[1] + SPACE_MM]
        under = x[y > heading[1] - SPACE_MM]
        most_dx = min([right - view.box[2], *(block[0] - beside.max(initial=-1e9),)])
        least_dx = max([left - view.box[0], *(heading[2] - under.min(initial=1e9),)])
        room = min((most_dx - least_dx) / 2, dy - low, high - dy)
        if room > most:
            best, most = ((least_dx + most_dx) / 2, float(dy)), room
    return best


def _points(marks: tuple[Mark, ...]) -> Array:
    """Return the corners of all texts, and points along all lines, no farther than a step apart."""
    boxes = [text_box(mark) for mark in marks if isinstance(mark, Text)]
    lines = as_rows([run for mark in marks for run in runs(mark)])
    start, way = lines[:, :2], lines[:, 2:] - lines[:, :2]
    pieces = np.ceil(np.hypot(*way.T) / STEP_MM).astype(int) + 1
    which = np.repeat(np.arange(len(lines)), pieces)
    share = (np.arange(len(which)) - np.repeat(np.cumsum(pieces) - pieces, pieces)) / np.maximum(
        pieces[which] - 1, 1
    )
    along = start[which] + share[:, None] * way[which]
    corners = np.concatenate([along, as_rows(boxes).reshape(-1, 2)])
    across = np.array([(b[0], b[3]) for b in boxes] + [(b[2], b[1]) for b in boxes])
    return np.concatenate([corners, across.reshape(-1, 2)])
