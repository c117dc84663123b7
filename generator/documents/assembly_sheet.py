"""The assembly sheet: the tool in section, what it reaches, its parts list and its forces."""

from __future__ import annotations

from collections.abc import Iterator
from math import isnan
from typing import Final

from generator.documents.annotate import annotate
from generator.documents.asks import Ask, Cluster, Length
from generator.documents.assembly_view import assembly_section, outer_end
from generator.documents.balloons import ABOVE_MM, DOT_ROOM_MM, RADIUS_MM, Balloon, balloon_marks
from generator.documents.bill import total_mass_g
from generator.documents.drawing import Drawing
from generator.documents.layout import bounds
from generator.documents.parts_list import Item, items
from generator.documents.sheet import (
    BLOCK_MM,
    CHOICES,
    SPACE_MM,
    Header,
    Legend,
    composed,
    first_that_fits,
    headed,
    inner_frame,
)
from generator.documents.symbols import HEIGHT_MM, printed
from generator.documents.tables import PAD_MM, Column, table
from generator.documents.text import width_mm
from generator.documents.view import View
from generator.errors import ExportError
from generator.model.tool import Orientation, Tool
from generator.units import DECIMALS, number, shown

NAME: Final = "assembly"
LARGEST_SCALE: Final = 2.0
SMALLEST: Final = (("A3", 0.25), ("A3", 0.2))
LETTERS_MM: Final = {"A4": 2.5, "A3": 3.5}
"""Height of the letters of the tables; small sheets are held nearer."""

LIST_MM: Final = (11.0, 10.0, 28.0, 112.0, 19.0)
"""Widths of the columns of the parts list, together that of the title block."""

FIGURES_SHARES: Final = (1.2, 1.0)
"""Widths of the columns of the small table: the words, then each orientation."""

FIGURES: Final = (
    ("travel", "mm", "travel_mm"),
    ("projection, forward", "mm", "projection_extended_mm"),
    ("projection, home", "mm", "projection_compressed_mm"),
    ("guide length", "mm", "guide_mm"),
    ("preload", "N", "preload_N"),
    ("full force", "N", "full_force_N"),
)
"""What the small table says of each orientation: words, unit, and the value."""


def assembly_sheet(tool: Tool, header: Header) -> Drawing:
    """Return the assembly sheet of a tool.

    Sheet and scale choose themselves: the first of the choices on which all fits.

    Args:
        tool: The tool.
        header: Title block and banner.

    Raises:
        ExportError: If the tool fits on no sheet.
    """
    orientation = tool.orientations[0]
    listed = items(tool, orientation)
    mass = shown(total_mass_g(tool), "g")
    legend = Legend("see parts list", "see parts list", mass, "1")
    views: dict[float, Cluster] = {}

    def tries() -> Iterator[Drawing | None]:
        for size, scale in (*CHOICES, *SMALLEST):
            tables = (_parts_list(listed, size), _figures(tool, size))
            if scale > LARGEST_SCALE or not _may_fit(tool, size, scale, tables):
                continue
            if scale not in views:
                views[scale] = _view(tool, orientation, listed, scale)
            yield composed(NAME, header, legend, (), size, scale, [[views[scale]]], tables)

    drawing = first_that_fits(tries())
    if drawing is None:
        raise ExportError(f"{header.title}: fits no sheet; shorten the tool")
    return drawing


def _may_fit(tool: Tool, size: str, scale: float, tables: tuple[Cluster, ...]) -> bool:
    """Tell whether the bare view has room above the tables, which spares placing dimensions."""
    left, bottom, right, top = inner_frame(size)
    floor = max(bottom + BLOCK_MM[1], *(each.box[3] for each in tables))
    outline = tool.body.outline
    reach = outline.length_mm + tool.orientations[0].projection_extended_mm
    tall = scale * outline.diameter_mm + ABOVE_MM + RADIUS_MM
    return reach * scale < right - left - 2 * SPACE_MM and tall < top - floor - 2 * SPACE_MM


def _view(tool: Tool, orientation: Orientation, listed: tuple[Item, ...], scale: float) -> Cluster:
    """Return the section with its dimensions, balloons and heading.

    All of them keep clear of the box of the section, so its lines need not be looked at again.
    """
    view = assembly_section(tool, orientation, scale)
    marked = tuple(_balloon(item, scale) for item in listed)
    asks = tuple(_lengths(tool, orientation, scale))
    balloons = tuple(balloon_marks(marked, view.box))
    placed = annotate(View(scale, (), view.box), asks, balloons)
    left, bottom, right, top = bounds(view.marks)
    box = (
        min(left, placed.box[0]),
        min(bottom, placed.box[1]),
        max(right, placed.box[2]),
        max(top, placed.box[3]),
    )
    return headed(
        Cluster((*view.marks, *placed.marks), placed.dimensions, box),
        (
            f"Plunger forward, {orientation.name}",
            "phantom lines: plunger pushed home",
        ),
    )


def _balloon(item: Item, scale: float) -> Balloon:
    return Balloon(
        item.number, (-scale * item.z_mm, scale * item.r_mm), scale * item.room_mm >= DOT_ROOM_MM
    )


def _lengths(tool: Tool, orientation: Orientation, scale: float) -> Iterator[Ask]:
    """Yield the dimensions: what reaches out of the nose, and what the machine must take."""
    outline = tool.body.outline
    length_mm = outline.length_mm
    tip = outer_end(orientation)[0].r_mm
    out_mm, home_mm = orientation.projection_extended_mm, orientation.projection_compressed_mm
    nose = (0.0, -outline.corners[0].r_mm)
    rear_mm = max(c.r_mm for c in outline.corners if c.z_mm == length_mm)
    places: list[tuple[tuple[float, float], tuple[float, float], str]] = [
        (nose, (-home_mm, -tip), "<>"),
        (nose, (-out_mm, -tip), "<>"),
        ((-home_mm, -tip), (-out_mm, -tip), _travel_pattern(orientation, scale)),
        (nose, (length_mm, -rear_mm), "<>"),
        ((-out_mm, -tip), (length_mm, -rear_mm), "(<>)"),
    ]
    for _, z_mm in outline.planes[:1]:
        places.append((nose, (z_mm, -outline.radius_at_mm(z_mm, inside=False)), "<>"))
    sunk_mm = tool.parameters.plug.sunk_mm
    plug = tool.plug.outline
    edge_mm = plug.radius_at_mm(plug.length_mm, inside=False)
    places.append(((length_mm - sunk_mm, -edge_mm), (length_mm, -rear_mm), "<>"))
    for (a, ra), (b, rb), pattern in places:
        if abs(b - a) > 1e-6:
            yield Length((-scale * a, scale * ra), (-scale * b, scale * rb), "below", pattern)


def _travel_pattern(orientation: Orientation, scale: float) -> str:
    """Return the text of the travel: with its name, where that has room between the arrows."""
    room_mm = scale * orientation.travel_mm - 2 * PAD_MM
    text = printed("travel <>", orientation.travel_mm)
    return "travel <>" if width_mm(text, HEIGHT_MM) <= room_mm else "<>"


def _parts_list(listed: tuple[Item, ...], size: str) -> Cluster:
    """Return the parts list, which stands on the title block."""
    _, bottom, right, _ = inner_frame(size)
    columns = (
        Column("item", LIST_MM[0], "centre"),
        Column("off", LIST_MM[1], "centre"),
        Column("name", LIST_MM[2]),
        Column("material or standard", LIST_MM[3]),
        Column("g each", LIST_MM[4], "right"),
    )
    rows = [
        (
            str(item.number),
            str(item.quantity),
            item.name,
            item.designation,
            "" if item.mass_g is None else number(item.mass_g, DECIMALS["g"]),
        )
        for item in listed
    ]
    corner = (right - BLOCK_MM[0], bottom + BLOCK_MM[1])
    return table(columns, rows, corner, LETTERS_MM[size], upward=True)


def _figures(tool: Tool, size: str) -> Cluster:
    """Return the table of travel, reach and forces of each orientation."""
    left, bottom, right, _ = inner_frame(size)
    height = LETTERS_MM[size]
    words_share, share = FIGURES_SHARES
    room = min(right - left - BLOCK_MM[0], 38 * height)
    unit_mm = room / (words_share + 2 * share)
    columns = (
        Column("plunger", words_share * unit_mm, even=True),
        *(Column(o.name, share * unit_mm, "right") for o in tool.orientations),
    )
    rows = [
        (words, *(_figure(getattr(o, field), unit) for o in tool.orientations))
        for words, unit, field in FIGURES
    ]
    rate = "mean spring rate" if any(map(tool.bent, tool.orientations)) else "spring rate"
    rows.append((rate, shown(tool.rate_N_per_mm, "N/mm")))
    return table(columns, rows, (left, bottom), height, upward=False)


def _figure(value: float, unit: str) -> str:
    return "solid" if isnan(value) else shown(value, unit)
