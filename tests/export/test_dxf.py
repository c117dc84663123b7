from pathlib import Path

import ezdxf
import pytest
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import bulge_to_arc

from generator.documents.drawing import STYLES, Drawing, Fill, Profile
from generator.documents.part_notes import PartNotes
from generator.documents.part_sheet import part_sheet
from generator.documents.profiles import slot_profile, turning_profile
from generator.errors import ExportError
from generator.export.dxf import write_drawing, write_profile
from generator.export.dxf_tags import ascii_text
from generator.units import number
from tests.documents.samples import body_notes, header, morse_body, plug, plunger, plunger_notes

SHEETS = {
    "body": lambda: part_sheet([body_notes(morse_body())], header("Body")),
    "plunger": lambda: part_sheet([plunger_notes(plunger())], header("Plunger")),
    "plug": lambda: part_sheet([PartNotes(plug())], header("Plug")),
}


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
        shown = entity.dxf.text.replace("<>", number(entity.get_measurement()))
        assert shown == ascii_text(dimension.text.text)
        assert "<>" in entity.dxf.text
        block = read.blocks.get(entity.dxf.geometry)
        assert ascii_text(dimension.text.text) in [e.dxf.text for e in block.query("TEXT")]


def test_part_is_true_to_size_in_model_space(tmp_path: Path) -> None:
    write_drawing(SHEETS["body"](), tmp_path / "body.dxf")
    space = ezdxf.readfile(tmp_path / "body.dxf").modelspace()
    xs = [x for e in space.query("LINE[layer=='OUTLINE']") for x in (e.dxf.start.x, e.dxf.end.x)]
    assert max(xs) - min(xs) == pytest.approx(93.0)


def test_header_states_units_and_extents(sheet: Drawing, read: ezdxf.document.Drawing) -> None:
    assert read.dxfversion == "AC1024"  # R2010
    assert read.header["$INSUNITS"] == 4  # millimetres
    assert read.header["$PSVPSCALE"] == 1.0
    assert read.header["$EXTMAX"][0] == pytest.approx(sheet.width_mm / sheet.scale)


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
