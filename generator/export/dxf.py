"""DXF files: dimensioned sheets and bare cutting profiles. The only module that loads ezdxf.

ezdxf makes each kind of file once, without entities. The tags of the entities are put in as text:
an object for each of a thousand lines takes some twenty times as long.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from itertools import count
from pathlib import Path
from typing import Any, Final

import ezdxf
from ezdxf import units

from generator.documents.drawing import STYLES, Drawing, Point, Profile, Unit
from generator.documents.numerals import ANGLE_DECIMALS, GENERAL
from generator.documents.text import BOLD, REGULAR
from generator.errors import ExportError
from generator.export.dxf_tags import (
    DIMSTYLE,
    block_record_tags,
    block_tags,
    dimension_tags,
    mark_tags,
    profile_box,
    profile_tags,
    true_length,
)

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
    ("dimadec", ANGLE_DECIMALS),
    ("dimazin", 2),
    ("dimdsep", ord(".")),
    ("dimtih", 1),
    ("dimtoh", 1),
)
"""For readers that draw dimensions anew; some look in the style, some in the header. Level text
keeps their letters where ours have room."""

DIMENSION_ZEROS: Final[dict[Unit, int]] = {"mm": 8, "inch": 4}
"""DIMZIN: no zeros behind a number, or none before the point."""

MEASUREMENT: Final[dict[Unit, tuple[int, int]]] = {"mm": (units.MM, 1), "inch": (units.IN, 0)}
"""$INSUNITS and $MEASUREMENT."""

MOST_DECIMALS: Final = 4

LOW: Final = (-98765.0, -98764.0)
HIGH: Final = (98764.0, 98765.0)
"""Stand for the extents of a profile until it is known."""


@dataclass(frozen=True, slots=True)
class Frame:
    """A file without entities, as text in pieces.

    Attributes:
        pieces: Cut before the next free handle, the number of blocks, the end of the table of
            blocks, the end of the blocks and the end of the entities.
        handle: The next free handle.
        blocks: How many blocks there are.
        table: Handle of the table of blocks.
        space: Handle of model space.
    """

    pieces: tuple[str, ...]
    handle: int
    blocks: int
    table: str
    space: str

    def handles(self) -> Iterator[str]:
        """Return the free handles, in turn."""
        return (f"{number:X}" for number in count(self.handle))

    def filled(self, seed: str, records: list[str], blocks: list[str], entities: list[str]) -> str:
        """Return the text of the whole file; the seed is the first handle not used."""
        number = str(self.blocks + len(records))
        gaps = (seed, number, "".join(records), "".join(blocks), "".join(entities), "")
        return "".join(piece + gap for piece, gap in zip(self.pieces, gaps, strict=True))


@contextmanager
def _fixed_meta_data() -> Iterator[None]:
    """Keep time stamps and identifiers out of the file."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _frame(version: str, prepare: Callable[[Any], None], unit: Unit = "mm") -> Frame:
    """Return a new file after a step that prepares it."""
    with _fixed_meta_data():
        insertion, system = MEASUREMENT[unit]
        document = ezdxf.new(version, units=insertion)
        document.header["$MEASUREMENT"] = system
        prepare(document)
        _order_classes(document)
        stream = io.StringIO()
        document.write(stream)
    text = stream.getvalue()
    seed = _after(text, "$HANDSEED\n  5\n", 0)
    blocks = _after(text, "\n 70\n", _after(text, "\n  2\nBLOCK_RECORD\n", seed))
    seed_end, blocks_end = text.index("\n", seed), text.index("\n", blocks)
    ends = [text.index("  0\nENDTAB\n", blocks)]
    for name in ("BLOCKS", "ENTITIES"):
        ends.append(text.index("  0\nENDSEC\n", _after(text, f"\n  2\n{name}\n", ends[-1]) - 1))
    starts = (0, seed_end, blocks_end, *ends)
    return Frame(
        tuple(text[a:b] for a, b in zip(starts, (seed, blocks, *ends, len(text)), strict=True)),
        int(text[seed:seed_end], 16),
        int(text[blocks:blocks_end]),
        document.block_records.head.dxf.handle,
        document.modelspace().layout_key,
    )


def _order_classes(document: Any) -> None:
    """Put the classes of the file in order of name; ezdxf takes them from a set."""
    document.classes.add_required_classes(document.dxfversion)
    document.classes.classes = dict(sorted(document.classes.classes.items()))


def _after(text: str, mark: str, start: int) -> int:
    """Return where the text goes on behind a mark."""
    return text.index(mark, start) + len(mark)


@cache
def _sheet_frame(width_mm: float, height_mm: float, k: float, unit: Unit) -> Frame:
    """Return a sheet without entities; a millimetre of paper is worth k of the unit."""
    return _frame("R2010", lambda document: _prepare(document, width_mm, height_mm, k, unit), unit)


@cache
def _profile_frame(layer: str) -> Frame:
    """Return the file of a profile on that layer, without entities and extents."""

    def prepare(document: Any) -> None:
        for name, colour in ((layer, 7), ("AXIS", 1), ("TEXT", 8)):
            document.layers.add(name, color=colour)
        _set_extents(document, LOW, HIGH)

    return _frame("R2000", prepare)


def _prepare(document: Any, width_mm: float, height_mm: float, k: float, unit: Unit) -> None:
    """Set header, layers, line types and styles."""
    header = document.header
    header["$LTSCALE"] = 1.0
    header["$PSVPSCALE"] = 1.0
    corner = (width_mm * k, height_mm * k)
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
    settings = {
        **dict(DIMENSION_SETTINGS),
        **{name: value * k for name, value in DIMENSION_SIZES_MM},
        "dimzin": DIMENSION_ZEROS[unit],
    }
    for decimals in range(MOST_DECIMALS + 1):
        style = document.dimstyles.add(f"{DIMSTYLE}{decimals}")
        style.dxf.dimtxsty = "REGULAR"
        for name, value in {**settings, "dimdec": decimals}.items():
            style.dxf.set(name, value)
    usual = GENERAL[unit]
    header["$DIMSTYLE"] = f"{DIMSTYLE}{usual}"
    for name, value in {**settings, "dimdec": usual}.items():
        header[f"${name.upper()}"] = value
    document.viewports.get_config("*Active")[0].dxf.center = (width_mm * k / 2, height_mm * k / 2)
    document.viewports.get_config("*Active")[0].dxf.height = height_mm * k * 1.05


def _set_extents(document: Any, low: Point, high: Point) -> None:
    """Set extents and limits in header and model space; ezdxf takes an origin for unset."""
    space = document.modelspace()
    space.reset_extents((*low, 0.0), (*high, 0.0))
    space.reset_limits(low, high)
    for name, point in (("MIN", low), ("MAX", high)):
        document.header[f"$EXT{name}"] = (*point, 0.0)
        document.header[f"$LIM{name}"] = point


def _save(text: str, path: Path) -> None:
    """Write the file whole.

    Raises:
        ExportError: If it could not be written.
    """
    try:
        path.write_text(text, encoding="ascii", newline="\n")
    except OSError as error:
        raise ExportError(f"{path}: {error.strerror or error}") from error


def write_drawing(drawing: Drawing, path: Path) -> None:
    """Write a sheet as DXF R2010: the part 1:1 in the sheet's unit, frame and text scaled to suit.

    Every dimension is a DIMENSION entity whose measure is the printed number.

    Args:
        drawing: The sheet.
        path: The file.

    Raises:
        ExportError: If the file could not be written.
    """
    k = true_length(drawing)
    frame = _sheet_frame(drawing.width_mm, drawing.height_mm, k, drawing.unit)
    handles = frame.handles()
    entities = [mark_tags(drawing.marks, k, frame.space, handles)]
    records: list[str] = []
    blocks: list[str] = []
    for number, dimension in enumerate(drawing.dimensions, 1):
        name, record = f"*D{number}", next(handles)
        records.append(block_record_tags(name, record, frame.table))
        content = mark_tags(dimension.marks, k, record, handles)
        blocks.append(block_tags(name, content, record, handles))
        entities.append(dimension_tags(dimension, drawing, name, frame.space, next(handles)))
    _save(frame.filled(next(handles), records, blocks, entities), path)


def write_profile(profile: Profile, path: Path) -> None:
    """Write a profile as DXF R2000 for a cutting machine: one closed polyline on its own layer.

    Args:
        profile: The profile, in true millimetres.
        path: The file.

    Raises:
        ExportError: If the file could not be written.
    """
    frame = _profile_frame(profile.layer)
    handles = frame.handles()
    entities = [profile_tags(profile, frame.space, handles)]
    text = frame.filled(next(handles), [], [], entities)
    for stand_in, value in zip((*LOW, *HIGH), profile_box(profile), strict=True):
        text = text.replace(f"\n{stand_in}\n", f"\n{value}\n")
    _save(text, path)
