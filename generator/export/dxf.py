"""DXF files: dimensioned sheets and bare cutting profiles. The only module that loads ezdxf."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

import ezdxf
from ezdxf import units
from ezdxf.enums import TextEntityAlignment

from generator.documents.drawing import (
    STYLES,
    Arc,
    Dimension,
    Drawing,
    Fill,
    Line,
    Mark,
    Point,
    Profile,
    Text,
)
from generator.documents.layout import bounds
from generator.documents.text import BOLD, REGULAR
from generator.errors import ExportError

SIGNS: Final = {
    "Ø": "%%c",
    "°": "%%d",
    "±": "%%p",
    "µ": "u",
}
COLOURS: Final = {
    "OUTLINE": 7,
    "THIN": 7,
    "THREAD": 3,
    "HIDDEN": 8,
    "CENTRE": 1,
    "PHANTOM": 6,
    "HATCH": 8,
    "DIMENSION": 5,
    "TEXT": 7,
    "FRAME": 7,
}
"""AutoCAD colour index of each layer."""

LINETYPES: Final = {"hidden": "DASHED2", "centre": "CENTER2", "phantom": "PHANTOM2"}
DIMSTYLE: Final = "SHEET"
DIMENSION_SIZES_MM: Final = (
    ("dimtxt", 3.5),
    ("dimasz", 3.0),
    ("dimexo", 1.0),
    ("dimexe", 1.5),
    ("dimgap", 1.0),
)
DIMENSION_SETTINGS: Final = (
    ("dimscale", 1.0),
    ("dimlfac", 1.0),
    ("dimtad", 1),
    ("dimdec", 3),
    ("dimadec", 3),
    ("dimzin", 8),
    ("dimazin", 2),
    ("dimdsep", ord(".")),
    ("dimtih", 1),
    ("dimtoh", 1),
)
"""For readers that draw dimensions anew; some look in the style, some in the header. Level text
keeps their letters where ours have room."""

LINEAR, ANGULAR, OWN_BLOCK, PLACED_TEXT = 0, 2, 32, 128
ALIGNMENTS: Final = {
    "left": TextEntityAlignment.LEFT,
    "centre": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}


def ascii_text(text: str) -> str:
    r"""Return text in the spelling of DXF: signs as %% codes, other letters by code point.

    Example:
        >>> ascii_text("Ø8 ±0.1, 60°"), ascii_text("für 50 %")
        ('%%c8 %%p0.1, 60%%d', 'f\\U+00FCr 50 %')
    """
    spelled = text.replace("%%", "%%%%%%")
    spelled = "".join(SIGNS.get(letter, letter) for letter in spelled)
    return "".join(each if each.isascii() else f"\\U+{ord(each):04X}" for each in spelled)


@contextmanager
def _fixed_meta_data() -> Iterator[None]:
    """Keep time stamps and identifiers out of the file."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _save(document: Any, path: Path) -> None:
    """Write the file whole.

    Raises:
        ExportError: If it could not be written.
    """
    try:
        document.saveas(path)
    except OSError as error:
        raise ExportError(f"{path}: {error.strerror}") from error
    if not path.is_file() or path.stat().st_size == 0:
        raise ExportError(f"{path}: not written")


def write_drawing(drawing: Drawing, path: Path) -> None:
    """Write a sheet as DXF R2010: the part 1:1 in millimetres, frame and text scaled to suit.

    Every dimension is a DIMENSION entity whose measure is the printed number.

    Args:
        drawing: The sheet.
        path: The file.

    Raises:
        ExportError: If the file could not be written.
    """
    with _fixed_meta_data():
        document = ezdxf.new("R2010", units=units.MM)
        _prepare(document, drawing)
        space = document.modelspace()
        k = 1 / drawing.scale
        _draw(space, drawing.marks, k)
        for dimension in drawing.dimensions:
            _dimension(document, space, dimension, drawing.scale)
        _save(document, path)


def _prepare(document: Any, drawing: Drawing) -> None:
    """Set header, layers, line types and styles."""
    k = 1 / drawing.scale
    header = document.header
    header["$MEASUREMENT"] = 1
    header["$LTSCALE"] = 1.0
    header["$PSVPSCALE"] = 1.0
    corner = (drawing.width_mm * k, drawing.height_mm * k)
    _set_extents(document, (0.0, 0.0), corner)
    header["$LWDISPLAY"] = 1
    for name, style in STYLES.items():
        if style.dashes_mm:
            dashes = [d * k * (-1) ** n for n, d in enumerate(style.dashes_mm)]
            document.linetypes.add(
                LINETYPES[name], [sum(abs(d) for d in dashes), *dashes], description=name
            )
    for name, style in STYLES.items():
        if style.layer not in document.layers:
            document.layers.add(
                style.layer,
                color=COLOURS[style.layer],
                linetype=LINETYPES.get(name, "Continuous"),
                lineweight=round(100 * style.width_mm),
            )
    document.styles.add("REGULAR", font=REGULAR)
    document.styles.add("BOLD", font=BOLD)
    style = document.dimstyles.add(DIMSTYLE)
    style.dxf.dimtxsty = "REGULAR"
    header["$DIMSTYLE"] = DIMSTYLE
    for name, value in (*DIMENSION_SETTINGS, *((n, v * k) for n, v in DIMENSION_SIZES_MM)):
        style.dxf.set(name, value)
        header[f"${name.upper()}"] = value
    document.viewports.get_config("*Active")[0].dxf.center = (
        drawing.width_mm * k / 2,
        drawing.height_mm * k / 2,
    )
    document.viewports.get_config("*Active")[0].dxf.height = drawing.height_mm * k * 1.05


def _set_extents(document: Any, low: Point, high: Point) -> None:
    """Set extents and limits in header and model space; ezdxf takes an origin for unset."""
    space = document.modelspace()
    space.reset_extents((*low, 0.0), (*high, 0.0))
    space.reset_limits(low, high)
    for name, point in (("MIN", low), ("MAX", high)):
        document.header[f"$EXT{name}"] = (*point, 0.0)
        document.header[f"$LIM{name}"] = point


def _draw(space: Any, marks: Iterable[Mark], k: float) -> None:
    """Add marks to a layout or block, paper millimetres times k."""
    for mark in marks:
        style = STYLES[mark.style]
        attributes: dict[str, Any] = {"layer": style.layer}
        if mark.style == "grid":
            attributes["lineweight"] = round(100 * style.width_mm)
        match mark:
            case Line():
                attributes |= {"start": _by(mark.start, k), "end": _by(mark.end, k)}
                space.new_entity("LINE", attributes)
            case Arc():
                attributes |= {"center": _by(mark.centre, k), "radius": mark.radius_mm * k}
                if mark.end_deg - mark.start_deg == 360:
                    space.new_entity("CIRCLE", attributes)
                else:
                    attributes |= {"start_angle": mark.start_deg, "end_angle": mark.end_deg}
                    space.new_entity("ARC", attributes)
            case Fill():
                space.add_solid(_solid_order([_by(p, k) for p in mark.points]), attributes)
            case Text():
                _text(space, mark, attributes, k)


def _solid_order(points: list[Point]) -> list[Point]:
    """Return the corners in the order of a SOLID, whose third and fourth are exchanged."""
    return [points[0], points[1], points[3], points[2]] if len(points) == 4 else points


def _text(space: Any, mark: Text, attributes: dict[str, Any], k: float) -> None:
    attributes |= {
        "style": "BOLD" if mark.bold else "REGULAR",
        "rotation": mark.rotation_deg,
        "height": mark.height_mm * k,
    }
    text = space.add_text(ascii_text(mark.text), dxfattribs=attributes)
    text.set_placement(_by(mark.at, k), align=ALIGNMENTS[mark.anchor])


def _by(point: Point, k: float) -> Point:
    return point[0] * k, point[1] * k


def _dimension(document: Any, space: Any, dimension: Dimension, scale: float) -> None:
    """Add a DIMENSION with its own block of marks.

    In a view at another scale than the sheet's, the measure is not the printed number, and the
    text is given literally.
    """
    k = 1 / scale
    block = document.blocks.new_anonymous_block(type_char="D")
    _draw(block, dimension.marks, k)
    text = dimension.pattern if dimension.scale == scale else dimension.text.text
    left, bottom, right, top = bounds([dimension.text])
    attributes: dict[str, Any] = {
        "layer": STYLES["dimension"].layer,
        "dimstyle": DIMSTYLE,
        "geometry": block.name,
        "text": ascii_text(text),
        "text_midpoint": ((left + right) / 2 * k, (bottom + top) / 2 * k),
        "attachment_point": 5,
    }
    if dimension.kind == "angular":
        a, b, c, d, arc = (_by(point, k) for point in dimension.points)
        attributes |= {
            "dimtype": ANGULAR | OWN_BLOCK | PLACED_TEXT,
            "defpoint2": a,
            "defpoint3": b,
            "defpoint4": c,
            "defpoint": d,
            "defpoint5": arc,
        }
    else:
        a, b, line = (_by(point, k) for point in dimension.points)
        attributes |= {
            "dimtype": LINEAR | OWN_BLOCK | PLACED_TEXT,
            "defpoint2": a,
            "defpoint3": b,
            "defpoint": line,
            "angle": 90.0 if dimension.kind == "vertical" else 0.0,
        }
        if dimension.kind == "vertical" and dimension.text.rotation_deg == 0:
            attributes["text_rotation"] = 0.0
    entity = space.new_entity("DIMENSION", attributes)
    measure = entity.get_measurement()
    angular = dimension.kind == "angular"
    entity.dxf.actual_measurement = math.radians(measure) if angular else measure


def write_profile(profile: Profile, path: Path) -> None:
    """Write a profile as DXF R2000 for a cutting machine: one closed polyline on its own layer.

    Args:
        profile: The profile, in true millimetres.
        path: The file.

    Raises:
        ExportError: If the file could not be written.
    """
    with _fixed_meta_data():
        document = ezdxf.new("R2000", units=units.MM)
        document.header["$MEASUREMENT"] = 1
        document.layers.add(profile.layer, color=7)
        document.layers.add("AXIS", color=1)
        document.layers.add("TEXT", color=8)
        space = document.modelspace()
        space.add_lwpolyline(
            profile.vertices, format="xyb", close=True, dxfattribs={"layer": profile.layer}
        )
        space.add_line(*profile.axis, dxfattribs={"layer": "AXIS"})
        xs = [x for x, _, _ in profile.vertices]
        ys = [y for _, y, _ in profile.vertices]
        low = min(0.0, *ys) - 6.0
        for n, line in enumerate(profile.notes):
            space.add_text(
                ascii_text(line),
                dxfattribs={"layer": "TEXT", "height": 2.5, "insert": (min(xs), low - 4.0 * n)},
            )
        low -= 4.0 * len(profile.notes)
        _set_extents(document, (profile.axis[0][0], low), (profile.axis[1][0], max(ys)))
        _save(document, path)
