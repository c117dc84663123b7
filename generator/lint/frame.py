"""Rules of the sheet itself: layers, units, scale, and what lies outside the drawing space."""

from __future__ import annotations

from collections.abc import Iterator
from math import isnan
from typing import Final

from generator.lint.page import Page, stroke_box
from generator.lint.sheet import LOOSE, PAPERS_MM, Bow, Box, Fault, Patch, Point, Stroke
from generator.lint.touch import bow_points, drawn, encloses, grown, rows, touched

PAPER_WITHIN_MM: Final = 0.5
DASHED_LAYERS: Final = ("HIDDEN", "CENTRE", "PHANTOM")
DRAWN_LAYERS: Final = frozenset(("OUTLINE", "THREAD", "HATCH", "HIDDEN", "PHANTOM", "DIMENSION"))
SHEET_LAYERS: Final = frozenset((*DRAWN_LAYERS, "CENTRE", "THIN", "TEXT", "FRAME"))
OWN_LAYERS: Final = frozenset(("0", "Defpoints"))
"""Layers that every file has; nothing is drawn on them."""
BAR: Final = "this bar measures"
"""How the text begins that stands below the frame by intent, at the bar that proves the scale."""


def layers_right(page: Page) -> Iterator[Fault]:
    """Yield marks on layers that are not theirs, and layers defined wrongly."""
    sheet = page.sheet
    drawn: tuple[Stroke | Bow | Patch, ...] = (*sheet.strokes, *sheet.bows, *sheet.patches)
    used = {each.layer for each in drawn}
    known = ", ".join(sorted(SHEET_LAYERS))
    for name in sorted(used - SHEET_LAYERS):
        at = next(iter(_places(page, name)), None)
        yield _layer(page, at, f"something lies on layer {name!r}", f"use one of {known}")
    for each in sheet.letters:
        if each.layer != "TEXT":
            what = f"the text {each.text!r} lies on layer {each.layer!r}"
            yield _layer(page, each.middle, what, "put text on TEXT")
    for measure in sheet.measures:
        if measure.layer != "DIMENSION":
            what = f"the dimension {measure.text!r} lies on layer {measure.layer!r}"
            yield _layer(page, measure.at, what, "put dimensions on DIMENSION")
    for stroke in sheet.strokes:
        if stroke.owner != LOOSE and stroke.layer != "DIMENSION":
            what = f"a line of a dimension lies on layer {stroke.layer!r}"
            yield _layer(page, stroke.start, what, "put the lines of dimensions on DIMENSION")
    defined = {layer.name: layer for layer in sheet.layers}
    for name in sorted(set(DASHED_LAYERS) & set(defined)):
        if defined[name].line_type.lower() in ("continuous", "bylayer"):
            yield _layer(page, None, f"layer {name!r} draws whole lines", "give it a line type")
    outline, thin = defined.get("OUTLINE"), defined.get("THIN")
    if outline and thin and outline.width <= thin.width:
        what = f"OUTLINE is {outline.width / 100:g} mm wide, THIN {thin.width / 100:g} mm"
        yield _layer(page, None, what, "draw outlines twice as wide (ISO 128-2)")
    for kind, name in sheet.strange:
        what = f"a {kind} lies on layer {name!r}"
        right = "draw it of lines, arcs, fills, texts and dimensions, which every reader shows"
        yield Fault(sheet.file, "entity", None, what, right)


def _layer(page: Page, at: Point | None, what: str, right: str) -> Fault:
    return Fault(page.sheet.file, "layer", at, what, right)


def _places(page: Page, layer: str) -> Iterator[Point]:
    yield from (s.start for s in page.sheet.strokes if s.layer == layer)
    yield from (b.centre for b in page.sheet.bows if b.layer == layer)
    yield from (p.points[0] for p in page.sheet.patches if p.layer == layer)


def units_right(page: Page) -> Iterator[Fault]:
    """Yield a header without units, a title block without scale, a sheet of no known size."""
    sheet = page.sheet
    if isnan(sheet.unit_mm):
        what, right = "$INSUNITS states no unit", "state 4 for millimetres or 1 for inches"
        yield Fault(sheet.file, "units", None, what, right)
    if isnan(sheet.scale):
        what = "the title block tells no scale"
        yield Fault(sheet.file, "scale", None, what, 'write it below the label "scale", as 2:1')
        return
    wide, tall = sheet.size_mm
    sizes = [size for paper in PAPERS_MM for size in (paper, paper[::-1])]
    if not any(max(abs(wide - w), abs(tall - t)) <= PAPER_WITHIN_MM for w, t in sizes):
        what = f"at the scale told the sheet is {wide:.1f} x {tall:.1f} mm"
        right = "let scale and extents make A4, A3, Letter or Tabloid"
        yield Fault(sheet.file, "scale", None, what, right)


def within_frame(page: Page) -> Iterator[Fault]:
    """Yield what lies outside the drawing space or on a table."""
    sheet = page.sheet
    if page.inner is None:
        yield Fault(sheet.file, "frame", None, "the sheet has no frame", "draw one on FRAME")
        return
    for each in sheet.letters:
        free = each.text.startswith(BAR) and encloses((0.0, 0.0, *sheet.size_mm), each.box)
        if not free and not encloses(page.inner, each.box):
            what = f"{each.text!r} lies outside the frame"
            yield Fault(sheet.file, "frame", each.middle, what, "move it into the drawing space")
    marks: list[tuple[Box, str]] = [(stroke_box(s), s.layer) for s in sheet.strokes]
    rings = [(bow_points(bow), bow.layer) for bow in sheet.bows]
    rings += [(list(patch.points), patch.layer) for patch in sheet.patches]
    for points, layer in rings:
        xs, ys = zip(*points, strict=True)
        marks.append(((min(xs), min(ys), max(xs), max(ys)), layer))
    outside: dict[str, Point] = {}
    for box, layer in marks:
        middle = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
        if layer != "FRAME" and not encloses(page.inner, box, 1e-6):
            outside.setdefault(layer, middle)
    for layer, at in outside.items():
        what = f"marks of layer {layer} lie outside the frame"
        yield Fault(sheet.file, "frame", at, what, "move them into the drawing space")
    for layer, at in _covered(page).items():
        what = f"marks of layer {layer} lie on a table"
        yield Fault(sheet.file, "frame", at, what, "keep the title block and the tables free")
    for each in sheet.letters:
        if any(_on(table, each.box) for table in page.tables) and not page.is_in_table(each.box):
            what = f"{each.text!r} lies across the edge of a table"
            yield Fault(sheet.file, "frame", each.middle, what, "move it off the table")


def _covered(page: Page) -> dict[str, Point]:
    """Return the layers of which something lies on a table, each with the middle of one run."""
    runs, of = drawn(page.sheet)
    _, by = touched(grown(rows(page.tables), -1e-6), runs)
    return {
        of[n][0]: (float(runs[n, ::2].mean()), float(runs[n, 1::2].mean()))
        for n in by
        if of[n][0] in DRAWN_LAYERS
    }


def _on(table: Box, box: Box) -> bool:
    """Tell whether a box reaches into a table."""
    return (
        box[0] < table[2] - 1e-6
        and table[0] < box[2] - 1e-6
        and box[1] < table[3] - 1e-6
        and table[1] < box[3] - 1e-6
    )
