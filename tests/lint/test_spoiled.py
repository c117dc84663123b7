"""A good file spoiled by one edit has the one finding that tells of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from ezdxf.math import Vec3

from generator.errors import ExportError
from generator.export.dxf_reader import read_dxf
from generator.lint.run import lint
from generator.lint.sheet import Cutting, Fault, Sheet

Edit = Callable[[Any], object]


def faults(path: Path) -> list[Fault]:
    """Return the findings of a file, the files beside it not judged."""
    beside = [read_dxf(other) for other in sorted(path.parent.glob("*.dxf")) if other != path]
    return list(lint([read_dxf(path)], beside))


@pytest.fixture(scope="module")
def pack(demo: Path) -> dict[str, Sheet | Cutting]:
    """Return the files of the demo by name."""
    return {path.name: read_dxf(path) for path in sorted(demo.glob("*.dxf"))}


@pytest.fixture(scope="module")
def known(pack: dict[str, Sheet | Cutting]) -> set[str]:
    """Return what the lint finds in the demo as it is."""
    return {str(each) for each in lint(list(pack.values()))}


@pytest.fixture
def spoil(
    demo: Path, pack: dict[str, Sheet | Cutting], known: set[str], tmp_path: Path
) -> Callable[[str, Edit], list[Fault]]:
    """Return what edits a file of the demo and tells what the lint finds that it did not."""

    def spoilt(name: str, edit: Edit) -> list[Fault]:
        document = ezdxf.readfile(demo / name)
        edit(document)
        document.saveas(tmp_path / name)
        changed = replace(read_dxf(tmp_path / name), file=pack[name].file)
        beside = [file for each, file in pack.items() if each != name]
        found = lint([changed], beside)
        return [each for each in found if str(each) not in known]

    return spoilt


def text(document: Any, wanted: str) -> Any:
    """Return the loose text that reads so."""
    (found,) = (t for t in document.modelspace().query("TEXT") if t.plain_text() == wanted)
    return found


def dimension(document: Any, wanted: str) -> Any:
    """Return the dimension whose text reads so."""
    (found,) = (
        each
        for each in document.modelspace().query("DIMENSION")
        if [t.plain_text() for t in block_of(document, each).query("TEXT")] == [wanted]
    )
    return found


def block_of(document: Any, entity: Any) -> Any:
    return document.blocks.get(entity.dxf.geometry)


def reworded(document: Any, entity: Any, text: str) -> None:
    """Let a dimension print another text, literally."""
    entity.dxf.text = text
    block_of(document, entity).query("TEXT").first.dxf.text = text


def moved(entity: Any, dx: float, dy: float) -> None:
    entity.translate(dx, dy, 0)


def line(document: Any, a: tuple[float, float], b: tuple[float, float], layer: str) -> None:
    document.modelspace().add_line(a, b, dxfattribs={"layer": layer})


def struck(document: Any, wanted: str, layer: str) -> None:
    """Draw a line through a text."""
    at, height = text(document, wanted).dxf.insert, text(document, wanted).dxf.height
    ends = (at.x + height, at.y - height / 2), (at.x + 2 * height, at.y + height * 1.1)
    line(document, *ends, layer)


def onto(document: Any, wanted: str, other: str) -> None:
    """Put one text on another."""
    way = text(document, other).dxf.insert - text(document, wanted).dxf.insert
    moved(text(document, wanted), way.x + 1.0, way.y)


def onto_extension_line(document: Any, wanted: str, of: str) -> None:
    """Put a text on an extension line of a dimension, far from the part."""
    lines = block_of(document, dimension(document, of)).query("LINE")
    upright = [each for each in lines if abs(each.dxf.start.x - each.dxf.end.x) < 1e-6]
    low = min(
        (end for each in upright for end in (each.dxf.start, each.dxf.end)),
        key=lambda end: (end.x, end.y),
    )
    way = low - text(document, wanted).dxf.insert
    moved(text(document, wanted), way.x - 3.0, way.y + 3.0)


def shifted_point(document: Any, wanted: str, dx: float, new: str) -> None:
    """Move what a dimension measures from, with its number, past anything drawn."""
    entity = dimension(document, wanted)
    for name in ("defpoint2", "defpoint3"):
        if abs(entity.dxf.get(name).x - entity.dxf.defpoint.x) > 1.0:
            old = entity.dxf.get(name)
            entity.dxf.set(name, old + Vec3(dx, 0))
            for each in block_of(document, entity).query("LINE"):
                if abs(each.dxf.start.x - old.x) < 0.01 and abs(each.dxf.end.x - old.x) < 0.01:
                    moved(each, dx, 0.0)
    del entity.dxf.actual_measurement
    reworded(document, entity, new)


def exchanged_rows(document: Any) -> None:
    """Let the dimension lines of two lengths change places."""
    inner, outer = dimension(document, "20.5"), dimension(document, "25.5")
    apart = outer.dxf.defpoint.y - inner.dxf.defpoint.y
    for entity, dy in ((inner, apart), (outer, -apart)):
        row_moved(document, entity, dy)


def row_moved(document: Any, entity: Any, dy: float) -> None:
    """Move the dimension line of a length and leave its extension lines."""
    entity.dxf.defpoint = entity.dxf.defpoint + Vec3(0, dy)
    for each in block_of(document, entity):
        if each.dxftype() != "LINE" or abs(each.dxf.start.y - each.dxf.end.y) < 1e-6:
            moved(each, 0.0, dy)


def doubled(document: Any, wanted: str, dy: float) -> None:
    """Give a length once more, in another row."""
    entity = dimension(document, wanted)
    block = document.blocks.new_anonymous_block(type_char="D")
    for each in block_of(document, entity):
        block.add_entity(each.copy())
    again = entity.copy()
    document.modelspace().add_entity(again)
    again.dxf.geometry = block.name
    row_moved(document, again, dy)


def crossed_leaders(document: Any) -> None:
    """Add two call-outs in a free place whose leaders cross."""
    space, plain = document.modelspace(), {"layer": "DIMENSION"}
    for tip, elbow, end in (((150, 84), (160, 94), 180), ((160, 85), (150, 95), 130)):
        x, y = tip
        way = Vec3(elbow[0] - x, elbow[1] - y).normalize()
        back, side = Vec3(x, y) + 3 * way, way.orthogonal() * 0.5
        space.add_solid([(x, y), back + side, back - side], dxfattribs=plain)
        space.add_line(tip, elbow, dxfattribs=plain)
        space.add_line(elbow, (end, elbow[1]), dxfattribs=plain)
        at = (min(end, elbow[0]) + 2.0, elbow[1] + 1.3)
        attributes = {"layer": "TEXT", "insert": at, "style": "REGULAR"}
        space.add_text("Ra 1.6", height=3.5, dxfattribs=attributes)


SHEET_EDITS: dict[str, tuple[str, Edit, set[str]]] = {
    "text on text": (
        "body.dxf",
        lambda d: onto(d, "Body", "Tap follower MT2, 8 mm plunger"),
        {"text on text"},
    ),
    "note on a note": (
        "body.dxf",
        lambda d: moved(text(d, "nose beside it."), 0.0, 4.0),
        {"text on text"},
    ),
    "text on a dimension": (
        "body.dxf",
        lambda d: onto_extension_line(d, "nose beside it.", "89.5"),
        {"text on line"},
    ),
    "line through a call-out": (
        "plunger.dxf",
        lambda d: struck(d, "flat Ø0.4", "THIN"),
        {"text on line"},
    ),
    "text on hatch": (
        "body.dxf",
        lambda d: struck(d, "steel 11SMn30", "HATCH"),
        {"text on line", "frame"},
    ),
    "empty text": (
        "body.dxf",
        lambda d: d.modelspace().add_text(
            " ", height=3.5, dxfattribs={"layer": "TEXT", "insert": (50, 90)}
        ),
        {"empty text"},
    ),
    "small text": (
        "body.dxf",
        lambda d: text(d, "drill Ø8.5 x 28").dxf.set("height", 2.0),
        {"small text"},
    ),
    "text of a dimension too small": (
        "plunger.dxf",
        lambda d: block_of(d, dimension(d, "60.5")).query("TEXT").first.dxf.set("height", 1.2),
        {"small text"},
    ),
    "another number": ("body.dxf", lambda d: reworded(d, dimension(d, "20.5"), "21"), {"number"}),
    "rounded to nothing": (
        "body.dxf",
        lambda d: reworded(d, dimension(d, "(Ø14.58)"), "(%%c15)"),
        {"number"},
    ),
    "no number": ("body.dxf", lambda d: reworded(d, dimension(d, "20.5"), "long"), {"number"}),
    "a factor that a reader applies": (
        "body.dxf",
        lambda d: [style.dxf.set("dimlfac", 2.0) for style in d.dimstyles],
        {"number"},
    ),
    "a measure stated wrongly": (
        "body.dxf",
        lambda d: dimension(d, "89.5").dxf.set("actual_measurement", 80.0),
        {"number"},
    ),
    "limits in the wrong order": (
        "body.dxf",
        lambda d: reworded(d, dimension(d, "Ø8 H7 (+0.015/0)"), "%%c8 H7 (0/+0.015)"),
        {"limits"},
    ),
    "a point beside the edge": (
        "body.dxf",
        lambda d: shifted_point(d, "20.5", -0.7, "21.2"),
        {"point", "missing"},
    ),
    "rows out of order": ("body.dxf", exchanged_rows, {"rows"}),
    "a dimension upon another": (
        "body.dxf",
        lambda d: doubled(d, "20.5", 0.3),
        {"rows", "text on text", "doubled"},
    ),
    "a dimension given twice": ("plunger.dxf", lambda d: doubled(d, "60.5", -3.5), {"doubled"}),
    "a dimension left out": (
        "body.dxf",
        lambda d: d.modelspace().delete_entity(dimension(d, "20.5")),
        {"missing"},
    ),
    "depth of the slot left out": (
        "plunger.dxf",
        lambda d: d.modelspace().delete_entity(dimension(d, "1.6 ±0.1")),
        {"missing"},
    ),
    "depth of the driver left out": (
        "plug.dxf",
        lambda d: [
            d.modelspace().delete_entity(each)
            for each in d.modelspace().query("DIMENSION")
            if each.dxf.text == "<>" and abs(each.dxf.actual_measurement - 2) < 1e-9
        ],
        {"edge", "missing"},
    ),
    "a bracket that holds the only size": (
        "body.dxf",
        lambda d: reworded(d, dimension(d, "89.5"), "(89.5)"),
        {"missing"},
    ),
    "a call-out that tells another size": (
        "body.dxf",
        lambda d: text(d, "bevel 60° to Ø9.5").dxf.set("text", "bevel 60%%d to %%c9.6"),
        {"call-out"},
    ),
    "a call-out of another thread": (
        "body.dxf",
        lambda d: text(d, "M10-6H x 23.5").dxf.set("text", "M12-6H x 23.5"),
        {"call-out"},
    ),
    "a call-out that nobody understands": (
        "body.dxf",
        lambda d: text(d, "1 x 45°").dxf.set("text", "as usual"),
        {"unread", "missing"},
    ),
    "leaders that cross": (
        "body.dxf",
        crossed_leaders,
        {"leaders"},
    ),
    "something on layer 0": ("body.dxf", lambda d: line(d, (60, 90), (70, 90), "0"), {"layer"}),
    "a text on another layer": (
        "body.dxf",
        lambda d: text(d, "Body").dxf.set("layer", "FRAME"),
        {"layer"},
    ),
    "a dimension on another layer": (
        "body.dxf",
        lambda d: dimension(d, "20.5").dxf.set("layer", "OUTLINE"),
        {"layer"},
    ),
    "a dashed layer drawn whole": (
        "body.dxf",
        lambda d: d.layers.get("CENTRE").dxf.set("linetype", "Continuous"),
        {"layer"},
    ),
    "outlines as thin as the rest": (
        "body.dxf",
        lambda d: d.layers.get("OUTLINE").dxf.set("lineweight", 25),
        {"layer"},
    ),
    "a spline": (
        "body.dxf",
        lambda d: d.modelspace().add_spline(
            [(60, 90), (65, 95), (70, 90)], dxfattribs={"layer": "OUTLINE"}
        ),
        {"entity"},
    ),
    "no units": ("body.dxf", lambda d: d.header.__setitem__("$INSUNITS", 0), {"units"}),
    "no scale": ("plunger.dxf", lambda d: text(d, "2:1").dxf.set("text", "none"), {"scale"}),
    "another scale": ("plunger.dxf", lambda d: text(d, "2:1").dxf.set("text", "3:1"), {"scale"}),
    "a line over the frame": (
        "body.dxf",
        lambda d: line(d, (280, 150), (292, 150), "THIN"),
        {"frame"},
    ),
    "a text over the frame": (
        "body.dxf",
        lambda d: moved(text(d, "nose beside it."), -25.0, 60.0),
        {"frame", "text on line"},
    ),
    "a line on the title block": (
        "body.dxf",
        lambda d: line(d, (200, 46), (200, 55), "OUTLINE"),
        {"frame"},
    ),
    "no frame": (
        "plunger.dxf",
        lambda d: [
            d.modelspace().delete_entity(each)
            for each in d.modelspace().query("LINE[layer=='FRAME']")
            if abs((each.dxf.end - each.dxf.start).magnitude) > 80
        ],
        {"frame", "small text"},
    ),
}


@pytest.mark.parametrize("case", SHEET_EDITS, ids=str)
def test_spoiled_sheet_is_found_out(case: str, spoil: Callable[[str, Edit], list[Fault]]) -> None:
    name, edit, wanted = SHEET_EDITS[case]
    found = spoil(name, edit)
    assert {fault.rule for fault in found} == wanted, [str(each) for each in found]


def test_bytes_beyond_ascii_are_found(demo: Path, tmp_path: Path) -> None:
    for path in demo.glob("*.dxf"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    path = tmp_path / "body.dxf"
    path.write_bytes(path.read_bytes().replace(b"nose beside it.", b"nose b\xc3\xa9side it."))
    assert [fault.rule for fault in faults(path)] == ["not ASCII"]


def test_a_profile_that_no_view_shows_is_found(demo: Path, tmp_path: Path) -> None:
    for path in demo.glob("*.dxf"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    (tmp_path / "body-turning.dxf").write_bytes((demo / "plunger-turning.dxf").read_bytes())
    found = faults(tmp_path / "body.dxf")
    assert [fault.rule for fault in found] == ["view"]


def test_a_sheet_without_its_profile_is_told(demo: Path, tmp_path: Path) -> None:
    (tmp_path / "body.dxf").write_bytes((demo / "body.dxf").read_bytes())
    (fault,) = faults(tmp_path / "body.dxf")
    assert fault.rule == "view"
    assert "no turning profile" in str(fault)


def points(document: Any) -> Any:
    (found,) = document.modelspace().query("LWPOLYLINE")
    return found


def with_points(change: Callable[[list[Any]], list[Any]]) -> Edit:
    """Return an edit of the vertices of a profile."""

    def edit(document: Any) -> None:
        with points(document).points("xyb") as vertices:
            changed = change(list(map(tuple, vertices)))
            vertices.clear()
            vertices.extend(changed)

    return edit


def ends_met(document: Any) -> None:
    """Let a profile end where it begins, and yet not be marked as closed."""
    with_points(lambda v: [*v, v[0]])(document)
    points(document).closed = False


def mirrored(vertices: list[Any]) -> list[Any]:
    return [(x, -y, b) for x, y, b in vertices]


PROFILE_EDITS: dict[str, tuple[Edit, str]] = {
    "open": (lambda d: setattr(points(d), "closed", False), "open by"),
    "open with its ends together": (ends_met, "not marked as closed"),
    "a move of no length": (with_points(lambda v: [v[0], *v]), "0 mm long"),
    "a line there and back": (with_points(lambda v: [*v[:3], v[1], v[2], *v[3:]]), "drawn twice"),
    "two corners exchanged": (
        with_points(lambda v: [*v[:2], v[4], v[3], v[2], *v[5:]]),
        "crosses itself",
    ),
    "an arc": (
        with_points(lambda v: [v[0], (*v[1][:2], 0.4), *v[2:]]),
        "an arc stands where the part has none",
    ),
    "below the axis": (with_points(mirrored), "below the axis"),
    "origin elsewhere": (
        with_points(lambda v: [(x - 1.0, y, b) for x, y, b in v]),
        "finished face lies at X-1",
    ),
    "beyond its extents": (
        with_points(lambda v: [(x, 10 * y, b) for x, y, b in v]),
        "leaves the extents",
    ),
    "no units": (lambda d: d.header.__setitem__("$INSUNITS", 0), "states no unit"),
    "a spline": (
        lambda d: d.modelspace().add_spline(
            [(0, 0), (5, 5), (9, 0)], dxfattribs={"layer": "PROFILE_HALF"}
        ),
        "a SPLINE lies on layer",
    ),
    "on another layer": (lambda d: points(d).dxf.set("layer", "0"), "lies on layer '0'"),
    "two outlines": (
        lambda d: d.modelspace().add_entity(points(d).copy()),
        "holds 2 polylines",
    ),
}


@pytest.mark.parametrize("case", PROFILE_EDITS, ids=str)
def test_spoiled_profile_is_found_out(case: str, spoil: Callable[[str, Edit], list[Fault]]) -> None:
    edit, told = PROFILE_EDITS[case]
    found = spoil("body-turning.dxf", edit)
    assert any(told in fault.what for fault in found), [str(each) for each in found]
    assert {fault.rule for fault in found} == {"profile"}


def test_what_is_no_dxf_file_is_refused(tmp_path: Path) -> None:
    (tmp_path / "no.dxf").write_text("no drawing")
    with pytest.raises(ExportError, match=r"no\.dxf: is no DXF file"):
        read_dxf(tmp_path / "no.dxf")
    with pytest.raises(ExportError, match="No such file"):
        read_dxf(tmp_path / "none.dxf")
    (tmp_path / "cut.dxf").write_text("  0\nSECTION\n  2\nENTITIES\n  0\nLINE\n 10\nx\n")
    with pytest.raises(ExportError, match="cut"):
        read_dxf(tmp_path / "cut.dxf")
