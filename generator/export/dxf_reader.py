"""Reading DXF files back as plain values, for the lint: what is drawn, and where."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from math import nan
from pathlib import Path
from typing import Any, Final

import ezdxf
from ezdxf.lldxf.const import DXFError

from generator.documents.drawing import Anchor, Text
from generator.documents.text import BOLD, text_box
from generator.errors import ExportError
from generator.lint.sheet import (
    LOOSE,
    UNITS_MM,
    Bow,
    Chain,
    Cutting,
    Layer,
    Letters,
    Measure,
    Patch,
    Point,
    Sheet,
    Stroke,
    scale_in,
)

CUTTING_ENDINGS: Final = ("-turning", "-milling")
KINDS: Final = (
    "linear",
    "aligned",
    "angular",
    "diameter",
    "radius",
    "angular by points",
    "ordinate",
)
"""Kinds of DIMENSION by the low bits of its code 70."""
ALONG_X: Final = 64
ANCHORS: Final[dict[int, Anchor]] = {0: "left", 1: "centre", 2: "right", 4: "centre"}
MIDDLES: Final = (0.0, None, 0.5, 1.0)
"""How far up a text its point lies, by its vertical alignment; on the base line, as a share of the
height of a capital."""


def read_dxf(path: Path) -> Sheet | Cutting:
    """Return what a DXF file holds: a cutting profile if its name says so, else a sheet.

    Raises:
        ExportError: If the file cannot be read.
    """
    try:
        content = path.read_bytes()
        document = ezdxf.readfile(path)
    except (OSError, DXFError, ValueError, LookupError, TypeError) as error:
        if isinstance(error, OSError) and error.strerror:
            raise ExportError(f"{path}: cannot be read: {error.strerror}") from None
        told = " ".join(str(error).split()).rstrip(".") or type(error).__name__
        reason = "" if "is not a DXF file" in told else f" that can be read: {told}"
        raise ExportError(
            f"{path}: is no DXF file{reason}; name a drawing, or the folder of a pack"
        ) from None
    if path.stem.endswith(CUTTING_ENDINGS):
        return _cutting(document, path, content.isascii())
    return _sheet(document, path, content.isascii())


def _unit_mm(document: Any) -> float:
    return UNITS_MM.get(document.header.get("$INSUNITS", 0), nan)


def _point(vertex: Any, k: float) -> Point:
    return float(vertex[0]) * k, float(vertex[1]) * k


def _cutting(document: Any, path: Path, is_ascii: bool) -> Cutting:
    unit_mm = _unit_mm(document)
    k = 1.0 if unit_mm != unit_mm else unit_mm
    chains: list[Chain] = []
    entities: list[tuple[str, str, Point]] = []
    notes: list[str] = []
    for entity in document.modelspace():
        kind, layer = entity.dxftype(), entity.dxf.layer
        at = (0.0, 0.0)
        if kind == "LWPOLYLINE":
            vertices = tuple(
                (float(x) * k, float(y) * k, float(b)) for x, y, b in entity.get_points("xyb")
            )
            chains.append(Chain(layer, vertices, bool(entity.closed)))
            at = vertices[0][:2] if vertices else at
        elif kind == "TEXT":
            notes.append(entity.plain_text())
            at = _point(entity.dxf.insert, k)
        elif kind == "LINE":
            at = _point(entity.dxf.start, k)
        entities.append((kind, layer, at))
    low, high = (document.header.get(f"$EXT{end}", (nan, nan)) for end in ("MIN", "MAX"))
    return Cutting(
        str(path),
        unit_mm,
        (*_point(low, k), *_point(high, k)),
        tuple(chains),
        tuple(entities),
        tuple(notes),
        is_ascii,
    )


@dataclass(slots=True)
class _Found:
    """Marks as they are found; the factor leads from drawing units to paper."""

    k: float
    bold: frozenset[str]
    letters: list[Letters] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    bows: list[Bow] = field(default_factory=list)
    patches: list[Patch] = field(default_factory=list)
    strange: list[tuple[str, str]] = field(default_factory=list)

    def take(self, entities: Iterable[Any], owner: int) -> None:
        """Take up marks; blocks are taken apart."""
        for entity in entities:
            layer = entity.dxf.layer
            match entity.dxftype():
                case "LINE":
                    ends = _point(entity.dxf.start, self.k), _point(entity.dxf.end, self.k)
                    self.strokes.append(Stroke(*ends, layer, owner))
                case "CIRCLE":
                    self._bow(entity, 0.0, 360.0, owner)
                case "ARC":
                    self._bow(entity, entity.dxf.start_angle, entity.dxf.end_angle, owner)
                case "SOLID":
                    points = tuple(_point(v, self.k) for v in entity.vertices())
                    self.patches.append(Patch(tuple(dict.fromkeys(points)), layer, owner))
                case "TEXT":
                    self.letters.append(self._letters(entity, owner))
                case "INSERT":
                    self.take(entity.virtual_entities(), owner)
                case "LWPOLYLINE":
                    self.take(entity.virtual_entities(), owner)
                case "POINT" if layer == "Defpoints":
                    pass
                case kind:
                    self.strange.append((kind, layer))

    def _bow(self, entity: Any, start_deg: float, end_deg: float, owner: int) -> None:
        centre, radius = _point(entity.dxf.center, self.k), entity.dxf.radius * self.k
        self.bows.append(Bow(centre, radius, start_deg, end_deg, entity.dxf.layer, owner))

    def _letters(self, entity: Any, owner: int) -> Letters:
        dxf, height = entity.dxf, entity.dxf.height * self.k
        anchor = ANCHORS.get(dxf.halign, "left")
        placed = dxf.halign or dxf.valign
        x, y = _point(dxf.align_point if placed else dxf.insert, self.k)
        share = 0.5 if dxf.halign == 4 else MIDDLES[dxf.valign] or 0.0
        upright = abs((dxf.rotation % 180) - 90) < 45
        at = (x + share * height, y) if upright else (x, y - share * height)
        text = entity.plain_text()
        mark = Text(at, text, height, anchor, 90.0 if upright else 0.0, dxf.style in self.bold)
        foot = at[0] if upright else at[1]
        return Letters(text, text_box(mark), height, foot, upright, dxf.layer, owner)


def _sheet(document: Any, path: Path, is_ascii: bool) -> Sheet:
    space = document.modelspace()
    told = scale_in((t.plain_text(), _point(t.dxf.insert, 1.0)) for t in space.query("TEXT"))
    unit_mm = _unit_mm(document)
    k = (told or 1.0) * (1.0 if unit_mm != unit_mm else unit_mm)
    bold = frozenset(s.dxf.name for s in document.styles if s.dxf.font == BOLD)
    found = _Found(k, bold)
    found.take((entity for entity in space if entity.dxftype() != "DIMENSION"), LOOSE)
    measures = tuple(_measures(document, space.query("DIMENSION"), found))
    low, high = document.header.get("$EXTMIN", (0, 0)), document.header.get("$EXTMAX", (0, 0))
    return Sheet(
        str(path),
        nan if told is None else told,
        unit_mm,
        ((high[0] - low[0]) * k, (high[1] - low[1]) * k),
        tuple(found.letters),
        tuple(found.strokes),
        tuple(found.bows),
        tuple(found.patches),
        measures,
        tuple(Layer(e.dxf.name, e.dxf.linetype, e.dxf.lineweight) for e in document.layers),
        tuple(found.strange),
        is_ascii,
    )


def _measures(document: Any, entities: Iterable[Any], found: _Found) -> Iterator[Measure]:
    for number, entity in enumerate(entities):
        dxf = entity.dxf
        before = len(found.letters)
        block = document.blocks.get(dxf.get("geometry", ""))
        if block is not None:
            found.take(block, number)
        shown = found.letters[before:]
        style = document.dimstyles.get(dxf.get("dimstyle", "Standard"))
        override = entity.override() if style is not None else {}
        middle = shown[0].middle if shown else _point(dxf.get("text_midpoint", (0, 0)), found.k)
        points = (
            _point(dxf.get(name, (nan, nan)), found.k)
            for name in ("defpoint", "defpoint2", "defpoint3", "defpoint4", "defpoint5")
        )
        yield Measure(
            number,
            KINDS[min(dxf.dimtype & 7, 6)],
            tuple(points),  # type: ignore[arg-type]  # five, as there are five names
            dxf.get("angle", 0.0),
            bool(dxf.dimtype & ALONG_X),
            _plain(dxf.get("text", "")),
            dxf.get("actual_measurement", nan),
            override.get("dimlfac", 1.0),
            dxf.layer,
            " ".join(each.text for each in shown),
            middle,
        )


def _plain(text: str) -> str:
    """Return text with the letters that %% codes stand for."""
    for code, letter in (("%%c", "Ø"), ("%%d", "°"), ("%%p", "±"), ("%%%", "%")):
        text = text.replace(code, letter).replace(code.upper(), letter)
    return text
