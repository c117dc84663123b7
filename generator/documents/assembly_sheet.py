"""The assembly sheet: the tool in section, what it reaches, its parts list and its forces."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, isnan, log10
from typing import Final

from generator.documents.annotate import annotate
from generator.documents.asks import Ask, Cluster, Length
from generator.documents.assembly_view import assembly_section, outer_end
from generator.documents.balloons import ABOVE_MM, DOT_ROOM_MM, RADIUS_MM, Balloon, balloon_marks
from generator.documents.bill import total_mass_g
from generator.documents.drawing import PLAIN, Drawing, Spelling, Unit
from generator.documents.layout import bounds
from generator.documents.numerals import general, size_text
from generator.documents.parts_list import Item, items, mass_text
from generator.documents.sheet import (
    SHEETS,
    SPACE_MM,
    choices,
    composed,
    first_that_fits,
    headed,
    inner_frame,
)
from generator.documents.symbols import HEIGHT_MM, printed
from generator.documents.tables import PAD_MM, Column, fitted, table
from generator.documents.text import width_mm, wrapped
from generator.documents.title_block import BLOCK_MM, Header, Legend
from generator.documents.view import View
from generator.errors import ExportError
from generator.model import keeping
from generator.model.shank import shank_of
from generator.model.tool import Orientation, Tool
from generator.units import number

NAME: Final = "assembly"
LARGEST_SCALE: Final = 2.0
SMALLEST: Final = (("A3", 0.25), ("A3", 0.2))
LETTERS_MM: Final = (2.5, 3.5)
"""Height of the letters of the tables, on small sheets, which are held nearer, and on large."""
LARGE_MM: Final = 350.0
"""Width from which on a sheet is large."""

LIST_MM: Final = (11.0, 10.0, 28.0, 112.0, 19.0)
"""Widths of the columns of the parts list, together that of the title block."""

LENGTHS: Final = (
    ("travel", 2, "travel_mm"),
    ("projection, forward", 2, "projection_extended_mm"),
    ("projection, home", 2, "projection_compressed_mm"),
    ("guide length", 1, "guide_mm"),
    ("spring, forward", 1, "room_extended_mm"),
    ("spring, home", 1, "room_compressed_mm"),
)
"""What the small table says of each orientation: words, decimals in millimetres, and the value."""

FORCES: Final = (("force, forward", "preload_N"), ("force, home", "full_force_N"))
"""Likewise of forces, to a tenth of a newton on any sheet, as on all other papers."""

FIGURES_MM: Final = 38
"""Widest that the small table may be, in heights of its letters."""

RATE_DIGITS: Final = 3


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
    mass = f"{mass_text(total_mass_g(tool))} g"
    legend = Legend("see parts list", "see parts list", mass, "1")
    views: dict[float, Cluster] = {}

    def tries() -> Iterator[Drawing | None]:
        for size, scale in choices(header, SMALLEST):
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
    p = tool.parameters
    at_mm = p.body.nose_length_mm / 2 if tool.crossing is None else keeping.position_mm(p)
    balloons = tuple(balloon_marks(marked, view.box, -scale * at_mm - PAD_MM))
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
            "phantom lines: plunger pushed home; face of the socket"
            if _gauge_mm(tool)
            else "phantom lines: plunger pushed home",
            *_spare(tool),
        ),
    )


def _spare(tool: Tool) -> Iterator[str]:
    """Yield the line on the tips that lie beside the tool, where there are any."""
    if tool.tips[1:]:
        named = "; ".join(tip.title.lower() for tip in tool.tips[1:])
        yield f"spare, in place of {tool.tips[0].title.lower()}: {named}"


def _balloon(item: Item, scale: float) -> Balloon:
    return Balloon(
        item.number, (-scale * item.z_mm, scale * item.r_mm), scale * item.room_mm >= DOT_ROOM_MM
    )


def _lengths(tool: Tool, orientation: Orientation, scale: float) -> Iterator[Ask]:
    """Yield the dimensions: what reaches out of the nose, and what the machine must take."""
    outline, unit = tool.body.outline, tool.parameters.making.units
    length_mm = outline.length_mm
    tip = outer_end(orientation)[0].r_mm
    out_mm, home_mm = orientation.projection_extended_mm, orientation.projection_compressed_mm
    nose = (0.0, -outline.corners[0].r_mm)
    rear_mm = max(c.r_mm for c in outline.corners if c.z_mm == length_mm)
    places: list[tuple[tuple[float, float], tuple[float, float], str]] = [
        (nose, (-home_mm, -tip), "<>"),
        (nose, (-out_mm, -tip), "<>"),
        ((-home_mm, -tip), (-out_mm, -tip), _told("travel <>", orientation.travel_mm, scale, unit)),
        (nose, (length_mm, -rear_mm), "<>"),
        ((-out_mm, -tip), (length_mm, -rear_mm), "(<>)"),
    ]
    gauge_mm = _gauge_mm(tool)
    known = dict(outline.planes)
    seats = [known[name] for name in ("gauge plane", "shank start") if name in known]
    for z_mm in seats[:1]:
        words = "<> to shank" if gauge_mm is None else f"<> to {_gauge_text(gauge_mm, unit)}"
        edge_mm = outline.radius_at_mm(z_mm, inside=False)
        places.append((nose, (z_mm, -edge_mm), _told(words, z_mm, scale, unit)))
    stop = tool.abutment.outline
    rest_mm = tool.plug_face_mm + stop.length_mm
    if tool.parameters.plug is not None:
        edge_mm = stop.radius_at_mm(stop.length_mm, inside=False)
        places.append(((rest_mm, -edge_mm), (length_mm, -rear_mm), "<>"))
    across_mm = keeping.position_mm(tool.parameters)
    if tool.crossing is not None:
        top = max(c.r_mm for c in outline.corners if c.z_mm <= across_mm)
        edge = outline.corners[0].r_mm
        yield Length(
            (-scale * across_mm, scale * top), (0.0, scale * edge), "above", spelling=spelling(unit)
        )
    for (a, ra), (b, rb), pattern in places:
        if abs(b - a) > 1e-6:
            start, end = (-scale * a, scale * ra), (-scale * b, scale * rb)
            yield Length(start, end, "below", pattern, spelling(unit))


def _gauge_mm(tool: Tool) -> float | None:
    """Return the diameter of the taper at the face of its socket; None for a straight shank."""
    cone = shank_of(tool.parameters.mount).taper
    return None if cone is None else cone.gauge_diameter_mm


def _gauge_text(gauge_mm: float, unit: Unit) -> str:
    """Return the diameter of the taper at the face of its socket."""
    return f"Ø{size_text(gauge_mm, spelling(unit))}"


def _told(pattern: str, measured_mm: float, scale: float, unit: Unit) -> str:
    """Return the text of a dimension with its words, where that has room between the arrows."""
    room_mm = scale * measured_mm - 2 * PAD_MM
    text = printed(pattern, measured_mm, spelling(unit))
    return pattern if width_mm(text, HEIGHT_MM) <= room_mm else "<>"


def spelling(unit: Unit) -> Spelling:
    """Return how lengths of the assembly are written; none of them is cut to."""
    return PLAIN if unit == "mm" else general(unit)


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
            "" if item.mass_g is None else mass_text(item.mass_g),
        )
        for item in listed
    ]
    corner = (right - BLOCK_MM[0], bottom + BLOCK_MM[1])
    return table(columns, rows, corner, _letters_mm(size), upward=True)


def _letters_mm(size: str) -> float:
    return LETTERS_MM[SHEETS[size][0] >= LARGE_MM]


def _figures(tool: Tool, size: str) -> Cluster:
    """Return the table of travel, reach and forces of each orientation."""
    left, bottom, right, _ = inner_frame(size)
    unit = tool.parameters.making.units
    headings = ("plunger", *(_parted(o.name) for o in tool.orientations))
    rows = [
        (words, *(_length(getattr(o, field), decimals, unit) for o in tool.orientations))
        for words, decimals, field in LENGTHS
    ]
    rows += [
        (words, *(_force(getattr(o, field)) for o in tool.orientations)) for words, field in FORCES
    ]
    rate = "mean spring rate" if any(map(tool.bent, tool.orientations)) else "spring rate"
    rows.append((rate, _rate(tool.rate_N_per_mm)))
    gauge_mm = _gauge_mm(tool)
    if gauge_mm is not None:
        rows.append(("at face of socket", _gauge_text(gauge_mm, unit)))
    height = _letters_mm(size)
    room_mm = min(right - left - BLOCK_MM[0], FIGURES_MM * height)
    height, widths = fitted((headings, *rows), room_mm, height)
    columns = [
        Column(heading, width, "right" if n else "left")
        for n, (heading, width) in enumerate(zip(headings, widths, strict=True))
    ]
    return table(columns, rows, (left, bottom), height, upward=False)


def _parted(name: str) -> str:
    """Return the name of an orientation in lines no wider than its longest word."""
    longest = max(width_mm(word, 1.0) for word in name.split())
    return "\n".join(wrapped(name, longest, 1.0))


def _length(value_mm: float, decimals: int, unit: Unit) -> str:
    if unit == "inch":
        return f"{size_text(value_mm, general(unit))} in"
    return f"{number(value_mm, decimals)} mm"


def _force(value_N: float) -> str:
    return "solid" if isnan(value_N) else f"{number(value_N, 1)} N"


def _rate(rate_N_per_mm: float) -> str:
    """Return a spring rate to three digits; springs that stand loose have none."""
    if not rate_N_per_mm > 0:
        return "0 N/mm"
    decimals = max(0, RATE_DIGITS - 1 - floor(log10(rate_N_per_mm)))
    return f"{number(rate_N_per_mm, decimals)} N/mm"
