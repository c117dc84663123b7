from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import ezdxf
import pytest
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import bulge_to_arc

from generator.documents.drawing import STYLES, Curve, Drawing, Fill, Profile
from generator.documents.part_notes import PartNotes
from generator.documents.part_sheet import part_sheet
from generator.documents.profiles import slot_profile, turning_profile
from generator.errors import ExportError
from generator.export.dxf import write_drawing, write_profile
from generator.export.dxf_tags import ascii_text
from tests.documents.samples import body_notes, header, morse_body, plug, plunger, plunger_notes

INCHES = {"bore": "H7 (+.0006/-.0000)"}


def inch_body() -> Drawing:
    notes = replace(body_notes(morse_body()), unit="inch", tolerances=INCHES)
    return part_sheet([notes], replace(header("Body"), unit="inch", sheets="US"))


SHEETS: dict[str, Callable[[], Drawing]] = {
    "body": lambda: part_sheet([body_notes(morse_body())], header("Body")),
    "body in inches": inch_body,
    "plunger": lambda: part_sheet([plunger_notes(plunger())], header("Plunger")),
    "plug": lambda: part_sheet([PartNotes(plug())], header("Plug")),
}


def as_shown(read: ezdxf.document.Drawing, entity: Any) -> str:
    """Return what a reader prints that draws a dimension anew by its style."""
    style = read.dimstyles.get(entity.dxf.dimstyle).dxf
    if entity.dimtype == 2:
        value = f"{entity.get_measurement():.{style.dimadec}f}".rstrip("0").rstrip(".")
    else:
        value = f"{entity.get_measurement() * (1 + 1e-9):.{style.dimdec}f}"
        value = value.removeprefix("0") if style.dimzin == 4 else value.rstrip("0").rstrip(".")
    return str(entity.dxf.text).replace("<>", value)


@pytest.fixture(scope="module", params=SHEETS, ids=str)
def sheet(request: pytest.FixtureRequest) -> Drawing:
    return SHEETS[request.param]()


@pytest.fixture
def read(sheet: Drawing, tmp_path: Path) -> ezdxf.document.Drawing:
    write_drawing(sheet, tmp_path / "sheet.dxf")
    return ezdxf.readfile(tmp_path / "sheet.dxf")


def test_sheet_has_no_error(read: ezdxf.document.Drawing) -> None:
    audit = read.audit()
    assert not audit.errors
    assert not audit.fixes


def test_every_dimension_measures_the_printed_number(
    sheet: Drawing, read: ezdxf.document.Drawing
) -> None:
    entities = list(read.modelspace().query("DIMENSION"))
    assert len(entities) == len(sheet.dimensions) > 3
    for entity, dimension in zip(entities, sheet.dimensions, strict=True):
        assert as_shown(read, entity) == ascii_text(dimension.text.text)
        assert "<>" in entity.dxf.text
        block = read.blocks.get(entity.dxf.geometry)
        assert ascii_text(dimension.text.text) in [e.dxf.text for e in block.query("TEXT")]


def test_part_is_true_to_size_in_model_space(tmp_path: Path) -> None:
    write_drawing(SHEETS["body"](), tmp_path / "body.dxf")
    space: Any = ezdxf.readfile(tmp_path / "body.dxf").modelspace()
    lengths = [e.get_measurement() for e in space.query("DIMENSION")]
    ends = {
        round(x, 6)
        for e in space.query("DIMENSION")
        for x in (e.dxf.defpoint2.x, e.dxf.defpoint3.x)
    }
    edges = [e for e in space.query("LINE[layer=='OUTLINE']") if e.dxf.start.x == e.dxf.end.x]
    assert max(lengths) == pytest.approx(93.0)
    assert {min(ends), max(ends)} <= {round(e.dxf.start.x, 6) for e in edges}


def test_sheet_in_inches_measures_in_inches(tmp_path: Path) -> None:
    """No. 2 Morse: gauge diameter .7000 in (published charts), 93 mm over all."""
    write_drawing(inch_body(), tmp_path / "body.dxf")
    read: Any = ezdxf.readfile(tmp_path / "body.dxf")
    printed = {as_shown(read, e): e.get_measurement() for e in read.modelspace().query("DIMENSION")}
    assert printed["%%c.7000 gauge"] == pytest.approx(0.7)
    assert printed["3.661"] == pytest.approx(93.0 / 25.4)
    assert printed["%%c.3150 H7 (+.0006/-.0000)"] == pytest.approx(8.0 / 25.4)


def test_header_states_units_and_extents(sheet: Drawing, read: ezdxf.document.Drawing) -> None:
    assert read.dxfversion == "AC1024"  # R2010
    assert read.header["$INSUNITS"] == {"mm": 4, "inch": 1}[sheet.unit]
    assert read.header["$MEASUREMENT"] == (sheet.unit == "mm")
    assert read.header["$PSVPSCALE"] == 1.0
    true = sheet.scale * {"mm": 1.0, "inch": 25.4}[sheet.unit]
    assert read.header["$EXTMAX"][0] == pytest.approx(sheet.width_mm / true)


def test_text_is_ascii(sheet: Drawing, tmp_path: Path) -> None:
    write_drawing(sheet, tmp_path / "sheet.dxf")
    assert (tmp_path / "sheet.dxf").read_bytes().isascii()


def test_letters_beyond_ascii_are_spelled_by_their_code_points() -> None:
    assert decode_dxf_unicode(ascii_text("Mitläufer 心")) == "Mitläufer 心"


def test_two_writings_are_equal_in_bytes(sheet: Drawing, tmp_path: Path) -> None:
    for name in ("a", "b"):
        write_drawing(sheet, tmp_path / name)
    assert (tmp_path / "a").read_bytes() == (tmp_path / "b").read_bytes()


def test_folder_that_is_not_there_is_an_export_error(sheet: Drawing, tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="No such file"):
        write_drawing(sheet, tmp_path / "none" / "sheet.dxf")


@pytest.mark.parametrize(
    "profile",
    [
        turning_profile(morse_body(), "body"),
        turning_profile(plunger(), "plunger"),
        slot_profile(plunger(), "slot"),
    ],
    ids=lambda profile: profile.name,
)
def test_profile_is_one_closed_polyline_on_its_own_layer(profile: Profile, tmp_path: Path) -> None:
    path = tmp_path / "profile.dxf"
    write_profile(profile, path)
    document = ezdxf.readfile(path)
    assert document.dxfversion == "AC1015"  # R2000
    assert document.header["$INSUNITS"] == 4
    assert not document.audit().errors
    cut = [e for e in document.modelspace() if e.dxf.layer == profile.layer]
    assert [e.dxftype() for e in cut] == ["LWPOLYLINE"]
    assert cut[0].closed
    assert {e.dxf.layer for e in document.modelspace()} == {profile.layer, "AXIS", "TEXT"}
    assert list(cut[0].get_points("xyb")) == [pytest.approx(v) for v in profile.vertices]


def test_ends_of_the_slot_are_half_circles_of_its_width(tmp_path: Path) -> None:
    write_profile(slot_profile(plunger(), "slot"), tmp_path / "slot.dxf")
    line = ezdxf.readfile(tmp_path / "slot.dxf").modelspace().query("LWPOLYLINE").first
    points = list(line.get_points("xyb"))
    for n in (1, 3):
        (x1, y1, bulge), (x2, y2, _) = points[n], points[(n + 1) % 4]
        centre, _, _, radius = bulge_to_arc((x1, y1), (x2, y2), bulge)
        assert radius == pytest.approx(1.5)
        outward = 1.0 if n == 1 else -1.0
        middle = x1 + outward * radius
        assert middle == pytest.approx(-23.75 if n == 1 else -38.25)
        assert centre.x == pytest.approx(x1)


def test_tones_carry_their_colour_and_a_fill_of_five_corners_is_refused(tmp_path: Path) -> None:
    corners = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (5.0, 12.0), (0.0, 9.0))
    marks = (Fill(corners[:4], "warm"), Fill(corners[:3]))
    write_drawing(Drawing("tone", "Tone", 100, 50, 1.0, marks, ()), tmp_path / "tone.dxf")
    read = ezdxf.readfile(tmp_path / "tone.dxf")
    assert not read.audit().errors
    warm, black = read.modelspace().query("SOLID")
    assert warm.rgb == tuple(bytes.fromhex(STYLES["warm"].colour[1:]))
    assert black.rgb is None
    with pytest.raises(ValueError, match="not 5"):
        write_drawing(
            Drawing("tone", "Tone", 100, 50, 1.0, (Fill(corners),), ()), tmp_path / "five.dxf"
        )


def test_a_curve_is_an_open_polyline_on_the_layer_of_its_style(tmp_path: Path) -> None:
    points = ((10.0, 20.0), (20.0, 20.0), (30.12345, 15.0))
    sheet = Drawing("curve", "Curve", 100, 50, 2.0, (Curve(points, "thin"),), ())
    write_drawing(sheet, tmp_path / "curve.dxf")
    read = ezdxf.readfile(tmp_path / "curve.dxf")
    assert not read.audit().errors
    (line,) = read.modelspace()
    assert (line.dxftype(), line.dxf.layer, line.closed) == ("LWPOLYLINE", "THIN", False)
    assert list(line.get_points("xy")) == [(5.0, 10.0), (10.0, 10.0), (15.062, 7.5)]
