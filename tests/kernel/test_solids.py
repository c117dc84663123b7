import ast
import importlib.abc
import importlib.util
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from math import radians, tan
from pathlib import Path
from time import perf_counter
from typing import Any

import gmsh
import pytest
from cadquery import Vector
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.errors import ExportError
from generator.kernel import shapes
from generator.kernel.shapes import measured, solid
from generator.kernel.step import STEEL, read_volume_mm3, write_assembly, write_step
from generator.model.assembly import Placed
from generator.model.outline import Corner, Outline
from generator.model.part import (
    CrossHole,
    Cut,
    DriverSlot,
    HexSocket,
    Part,
    SideFlat,
    Slot,
)

pytestmark = pytest.mark.solid


def turned(name: str, corners: Sequence[tuple[float, float]], *cuts: Cut) -> Part:
    """Return a steel part from (z, r) corners."""
    outline = Outline(tuple(Corner(z, r) for z, r in corners))
    return Part(name, name.capitalize(), outline, "steel", 7.85, cuts)


TAPER = 0.04995  # ISO 296, Morse taper 2, as in published dimension charts; gauge diameter 17.780
SMALL_END = (17.780 - 64 * TAPER) / 2
BODY = turned(
    "body",
    [
        *((0.0, 4.0), (0.0, 9.5), (0.5, 10.0), (24.0, 10.0), (24.0, 8.89 + 2.5 * TAPER)),
        *((93.0, SMALL_END), (93.0, 4.25), (64.0, 4.25), (64.0, 4.0)),
    ],
    CrossHole("screw hole", 16.0, 3.3, "M4"),
)
CONE = 3.995 / tan(radians(30))
COUNTERSINK = 2.5 / tan(radians(30))
PLUNGER = turned(
    "plunger",
    [
        *((0.0, 0.0), (0.0, 0.2), (CONE, 3.995), (61.5, 3.995), (62.0, 3.5), (62.0, 2.5)),
        *((62.0 - COUNTERSINK + 2.0, 0.5), (50.0, 0.5), (50.0, 0.0)),
    ],
    Slot("retaining slot", 23.75, 14.5, 3.0, 1.6),
)
PLUG = turned(
    "plug",
    [(0.0, 0.75), (0.0, 5.0), (9.0, 5.0), (10.0, 4.0), (10.0, 1.0), (9.5, 0.75)],
    DriverSlot("driver slot", 1.6, 2.0),
)
BUTTON = turned("button", [(0.0, 0.0), (0.0, 3.9), (2.0, 3.9), (2.0, 0.0)])
SCREW = turned(
    "set screw",
    [(0.0, 0.0), (0.0, 1.25), (2.0, 1.25), (2.0, 1.6), (2.4, 2.0), (8.0, 2.0), (8.0, 0.0)],
    HexSocket("hexagon socket", 2.0, 2.5),
)
SPRING = turned("spring 0.8 x 7", [(0.0, 2.7), (0.0, 3.5), (10.0, 3.5), (10.0, 2.7)])
PARTS = {part.name: part for part in (BODY, PLUNGER, PLUG, BUTTON, SCREW, SPRING)}
each_part = pytest.mark.parametrize("part", PARTS.values(), ids=PARTS)

GREY, BLUE, RED = (0.6, 0.6, 0.6), (0.2, 0.4, 0.8), (0.8, 0.2, 0.2)
PLACED = (
    Placed("body", BODY, (0.0, 0.0, 0.0), "rear", GREY),
    Placed("plunger", PLUNGER, (0.0, 0.0, -21.0), "rear", BLUE),
    Placed("set screw", SCREW, (0.0, 2.5, 16.0), "outward", RED),
    Placed("spring button", BUTTON, (0.0, 0.0, 43.0), "front", BLUE),
    Placed("spring 1", SPRING, (0.0, 0.0, 43.0), "rear", RED),
    Placed("spring 2", SPRING, (0.0, 0.0, 53.0), "rear", RED),
    Placed("plug", PLUG, (0.0, 0.0, 63.0), "rear", GREY),
    Placed("spare screw", SCREW, (0.0, -30.0, 16.0), "inward", RED),
)
SCHEMA = "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING"


@cache
def built(name: str) -> Any:
    return solid(PARTS[name])


def write_pack(folder: Path, names: Sequence[str] = tuple(PARTS)) -> None:
    """Write the parts in the given order, and the assembly of them."""
    made = {name: solid(PARTS[name]) for name in names}
    for name in names:
        write_step(PARTS[name], made[name], folder / f"{name}.step")
    write_assembly(PLACED, made, "centre", folder / "centre.step")


@pytest.fixture(scope="module")
def pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pack")
    write_pack(folder)
    return folder


@pytest.fixture(scope="module")
def occ() -> Iterator[Any]:
    """The second reader: gmsh, which brings a CAD kernel of its own."""
    gmsh.initialize(interruptible=False)
    gmsh.option.setNumber("General.Terminal", 0)
    yield gmsh.model.occ
    gmsh.finalize()


def second_reading(occ: Any, path: Path) -> list[int]:
    """Return the tags of the solids that gmsh finds in a file."""
    gmsh.clear()
    found = occ.importShapes(str(path))
    occ.synchronize()
    return [tag for dim, tag in found if dim == 3]


def text(path: Path) -> str:
    """Return a STEP file with each entity on one line."""
    return re.sub(r"(?<!;)\n\s*", "", path.read_text("ascii"))


def numbers(pattern: str, content: str) -> list[float]:
    return [float(found) for found in re.findall(pattern + r"\(([-+.0-9Ee]+)\)", content)]


@each_part
def test_solid_has_the_volume_worked_out(part: Part) -> None:
    shape = built(part.name)
    assert shape.ShapeType() == "Solid"
    assert shape.isValid()
    assert shape.Volume(1e-9) == pytest.approx(part.volume_mm3, rel=1e-9)


@each_part
def test_uncut_solid_is_the_revolved_outline(part: Part) -> None:
    uncut = solid(replace(part, cuts=()))
    assert uncut.Volume() == pytest.approx(part.outline.volume_mm3, rel=1e-12)
    corners = part.outline.corners
    runs = [(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)]
    off_axis = [run for run in runs if max(corner.r_mm for corner in run) > 0]
    assert len(uncut.Faces()) == len(off_axis)


@each_part
def test_solid_fills_the_bounding_box_of_its_part(part: Part) -> None:
    box = built(part.name).BoundingBox(1e-6)
    radius = part.outline.diameter_mm / 2
    assert (box.zmin, box.zmax) == pytest.approx((0.0, part.outline.length_mm), abs=1e-5)
    assert (box.xmin, box.xmax, box.ymin) == pytest.approx((-radius, radius, -radius), abs=1e-5)
    assert box.ymax == pytest.approx(radius, abs=1e-5)


INSIDE = [
    ("body", (0, -7, 16), True),
    ("body", (0, 7, 16), False),
    ("body", (1.64, 7, 16), False),
    ("body", (1.66, 7, 16), True),
    ("body", (0, 7, 17.66), True),
    ("plunger", (0, 2.40, 31), False),  # floor at 7.99 / 2 - 1.6 = 2.395
    ("plunger", (0, 2.39, 31), True),
    ("plunger", (1.49, 3.0, 31), False),
    ("plunger", (1.51, 3.0, 31), True),
    ("plunger", (0, 3.0, 23.76), False),
    ("plunger", (0, 3.0, 23.74), True),
    ("plunger", (0, 3.0, 38.24), False),
    ("plunger", (0, 3.0, 38.26), True),
    ("plunger", (1.4, 3.0, 23.76), True),  # the ends are round
    ("plunger", (0, -3.0, 31), True),
    ("plug", (4.5, 0, 8.01), False),
    ("plug", (4.5, 0, 7.99), True),
    ("plug", (-4.4, 0.79, 9), False),
    ("plug", (-4.4, 0.81, 9), True),
    ("plug", (0, 4.5, 9), True),
    ("set screw", (0, 0.99, 7), False),
    ("set screw", (0, 1.01, 7), True),
    ("set screw", (1.15, 0, 7), False),  # a corner, at 2 / sqrt(3) = 1.155
    ("set screw", (1.16, 0, 7), True),
    ("set screw", (0, 0, 5.51), False),
    ("set screw", (0, 0, 5.49), True),
]


@pytest.mark.parametrize(("name", "point", "inside"), INSIDE)
def test_cut_stands_where_it_should(
    name: str, point: tuple[float, float, float], inside: bool
) -> None:
    assert built(name).isInside(Vector(*point)) is inside


@each_part
def test_second_reader_finds_volume_area_and_centroid(part: Part, pack: Path, occ: Any) -> None:
    path = pack / f"{part.name}.step"
    tags = second_reading(occ, path)
    assert len(tags) == 1
    assert occ.getMass(3, tags[0]) == pytest.approx(part.volume_mm3, rel=1e-6)
    content = text(path)
    assert numbers("VOLUME_MEASURE", content) == [pytest.approx(part.volume_mm3, rel=1e-8)]
    area = sum(occ.getMass(2, tag) for _, tag in occ.getEntities(2))
    assert numbers("AREA_MEASURE", content) == [pytest.approx(area, rel=1e-6)]
    assert written_centroids(content) == [pytest.approx(occ.getCenterOfMass(3, tags[0]), abs=1e-5)]


def written_centroids(content: str) -> list[tuple[float, ...]]:
    found = re.findall(r"CARTESIAN_POINT\('centre point',(\(.*?\))\)", content)
    return [tuple(map(float, ast.literal_eval(point))) for point in found]


@each_part
def test_validation_properties_are_named(part: Part, pack: Path) -> None:
    content = text(pack / f"{part.name}.step")
    named = re.findall(r"PROPERTY_DEFINITION\('geometric validation property','(.*?)'", content)
    assert sorted(named) == ["centroid", "surface area", "volume"]


@pytest.mark.parametrize("name", [*PARTS, "centre"])
def test_file_states_schema_unit_and_nothing_of_the_run(name: str, pack: Path) -> None:
    content = text(pack / f"{name}.step")
    header = content[: content.index("DATA;")]
    assert f"FILE_SCHEMA(('{SCHEMA}_MIM_LF {{1 0 10303 442 1 1 4 }}'));" in header
    assert f"FILE_DESCRIPTION(('{name}'),'2;1');" in header
    assert f"FILE_NAME('{name}.step','',(''),(''),'springcentre','springcentre','');" in header
    units = re.findall(r"LENGTH_UNIT\(\) ?NAMED_UNIT\(\*\) ?SI_UNIT\((.*?)\)", content)
    assert set(units) == {".MILLI.,.METRE."}
    assert "Open CASCADE" not in content


@each_part
def test_product_has_the_name_and_colour_of_its_part(part: Part, pack: Path, occ: Any) -> None:
    path = pack / f"{part.name}.step"
    assert re.findall(r"PRODUCT\('(.*?)','(.*?)'", text(path)) == [(part.name, part.name)]
    gmsh.option.setNumber("Geometry.OCCImportLabels", 1)
    (tag,) = second_reading(occ, path)
    assert gmsh.model.getEntityName(3, tag) == f"Shapes/{part.name}"
    assert gmsh.model.getColor(3, tag)[:3] == tuple(round(255 * c) for c in STEEL)


def test_assembly_has_its_instances_with_name_place_and_colour(pack: Path, occ: Any) -> None:
    gmsh.option.setNumber("Geometry.OCCImportLabels", 1)
    tags = second_reading(occ, pack / "centre.step")
    assert len(tags) == len(PLACED)
    for place, tag in zip(PLACED, tags, strict=True):
        name = gmsh.model.getEntityName(3, tag)
        assert name == f"Shapes/centre/{place.name}/{place.part.name}"
        assert occ.getMass(3, tag) == pytest.approx(place.part.volume_mm3, rel=1e-6)
        centroid = place.in_tool_mm(measured(built(place.part.name)).centroid_mm)
        assert occ.getCenterOfMass(3, tag) == pytest.approx(centroid, abs=1e-5)
        assert gmsh.model.getColor(3, tag)[:3] == tuple(round(255 * c) for c in place.colour)


def test_screw_points_inward_with_its_socket_outside(pack: Path, occ: Any) -> None:
    tags = dict(
        zip((p.name for p in PLACED), second_reading(occ, pack / "centre.step"), strict=True)
    )
    x0, y0, z0, x1, y1, z1 = occ.getBoundingBox(3, tags["set screw"])
    assert (y0, y1, z0, z1) == pytest.approx((2.5, 10.5, 14.0, 18.0), abs=1e-5)
    assert occ.getCenterOfMass(3, tags["plunger"])[1] < 0  # the slot is on the side of the screw
    assert (x0, x1) == pytest.approx((-2.0, 2.0), abs=1e-5)


@pytest.mark.parametrize("axis", ["rear", "front"])
def test_cuts_stay_on_the_side_of_the_screw(axis: Any) -> None:
    place = Placed("plunger", PLUNGER, (0.0, 0.0, 5.0), axis, GREY)
    assert place.in_tool_mm((0.0, 3.0, 2.0)) == (0.0, 3.0, 7.0 if axis == "rear" else 3.0)
    x, y, z = (place.in_tool_mm(unit) for unit in ((1, 0, 0), (0, 1, 0), (0, 0, 1)))
    assert x[0] * y[1] * (z[2] - 5.0) == 1.0


def test_assembly_names_each_product_once_and_numbers_instances_from_one(pack: Path) -> None:
    content = text(pack / "centre.step")
    assert sorted(re.findall(r"PRODUCT\('(.*?)'", content)) == sorted([*PARTS, "centre"])
    used = re.findall(r"NEXT_ASSEMBLY_USAGE_OCCURRENCE\('(.*?)','(.*?)'", content)
    assert used == [(str(k), place.name) for k, place in enumerate(PLACED, start=1)]


def test_assembly_validates_the_whole(pack: Path, occ: Any) -> None:
    tags = second_reading(occ, pack / "centre.step")
    masses = [occ.getMass(3, tag) for tag in tags]
    centres = [occ.getCenterOfMass(3, tag) for tag in tags]
    whole = [
        sum(mass * centre[k] for mass, centre in zip(masses, centres, strict=True)) / sum(masses)
        for k in range(3)
    ]
    content = text(pack / "centre.step")
    volumes = numbers("VOLUME_MEASURE", content)
    assert len(volumes) == len(PARTS) + 1
    assert max(volumes) == pytest.approx(sum(masses), rel=1e-6)
    areas = sum(occ.getMass(2, tag) for _, tag in occ.getEntities(2))
    assert max(numbers("AREA_MEASURE", content)) == pytest.approx(areas, rel=1e-6)
    assert pytest.approx(whole, abs=1e-5) in [list(c) for c in written_centroids(content)]


def test_volume_read_back_counts_every_instance(pack: Path) -> None:
    total = sum(place.part.volume_mm3 for place in PLACED)
    assert read_volume_mm3(pack / "centre.step") == pytest.approx(total, rel=1e-9)


def test_bytes_are_the_same_in_any_order_and_in_another_process(pack: Path, tmp_path: Path) -> None:
    again, other = tmp_path / "again", tmp_path / "other"
    again.mkdir()
    other.mkdir()
    write_pack(again, tuple(reversed(PARTS)))
    script = (
        "import sys; from pathlib import Path; from tests.kernel.test_solids import write_pack;"
        "write_pack(Path(sys.argv[1]))"
    )
    root = Path(__file__).parents[2]
    subprocess.run([sys.executable, "-c", script, str(other)], cwd=root, check=True)
    written = sorted(path.name for path in pack.iterdir())
    assert len(written) == len(PARTS) + 1
    for name in written:
        assert (again / name).read_bytes() == (pack / name).read_bytes()
        assert (other / name).read_bytes() == (pack / name).read_bytes()


def test_names_beyond_ascii_are_spelt_as_step_wants_them(tmp_path: Path, occ: Any) -> None:
    part = replace(BUTTON, name="Körnerspitze 60°")
    path = tmp_path / "körner's.step"
    write_step(part, built("button"), path)
    assert path.read_bytes().isascii()
    gmsh.option.setNumber("Geometry.OCCImportLabels", 1)
    (tag,) = second_reading(occ, path)
    assert gmsh.model.getEntityName(3, tag) == "Shapes/Körnerspitze 60°"


def half(content: str) -> str:
    return content[: len(content) // 2]


def empty(content: str) -> str:
    return content[:0]


def without_a_face(content: str) -> str:
    return content.replace("ADVANCED_FACE(", "UNKNOWN_FACE(", 1)


def without_the_solid(content: str) -> str:
    return content.replace("MANIFOLD_SOLID_BREP(", "UNKNOWN_BREP(")


def without_a_line(content: str) -> str:
    return re.sub(r"#\d+ = LINE\(.*?;\n", "", content, count=1)


DAMAGES = [half, empty, without_a_face, without_the_solid, without_a_line]


@pytest.mark.parametrize("damage", DAMAGES)
def test_damaged_file_is_found_out(
    damage: Any, pack: Path, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "damaged.step"
    path.write_text(damage((pack / "body.step").read_text("ascii")), "ascii")
    with pytest.raises(ExportError, match=r"damaged\.step: (does not read|reads) back"):
        read_volume_mm3(path)
    assert capfd.readouterr() == ("", "")


def test_missing_file_is_found_out(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(ExportError, match="does not read back"):
        read_volume_mm3(tmp_path / "missing.step")
    assert capfd.readouterr() == ("", "")


def test_file_that_cannot_be_written_is_an_error(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(ExportError, match="cannot be written"):
        write_step(BUTTON, built("button"), tmp_path / "no folder" / "button.step")
    assert capfd.readouterr() == ("", "")


def test_writing_says_nothing_on_the_console(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    write_pack(tmp_path)
    assert capfd.readouterr() == ("", "")


def test_file_of_another_volume_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="were worked out"):
        write_step(BUTTON, built("plug"), tmp_path / "button.step")
    made = {name: built(name) for name in PARTS} | {"button": built("plug")}
    with pytest.raises(ExportError, match="were worked out"):
        write_assembly(PLACED, made, "centre", tmp_path / "centre.step")


BAD = {
    "crossing outline": turned("bow", [(0, 1), (10, 5), (10, 1), (0, 5)]),
    "slot as long as wide": replace(PLUNGER, cuts=(Slot("slot", 30.0, 3.0, 3.0, 1.6),)),
    "slot wider than the part": replace(PLUNGER, cuts=(Slot("slot", 20.0, 20.0, 9.0, 1.6),)),
    "hole wider than the bore": replace(BODY, cuts=(CrossHole("hole", 16.0, 8.5, "M10"),)),
    "driver slot through the part": replace(PLUG, cuts=(DriverSlot("slot", 1.6, 10.0),)),
    "slot over the cone": replace(PLUNGER, cuts=(Slot("slot", 3.0, 14.5, 3.0, 1.6),)),
    "flat outline": turned("flat", [(0, 0), (0, 5), (0, 2)]),
}


@pytest.mark.parametrize("part", BAD.values(), ids=BAD)
def test_part_that_makes_no_true_solid_is_an_error(part: Part) -> None:
    with pytest.raises(ExportError, match=rf"^{part.name}: "):
        solid(part)


class WithoutLibrary(importlib.abc.MetaPathFinder):
    """Fails to import cadquery as a bare server does."""

    def __init__(self, reason: str) -> None:
        self.reason = reason

    def find_spec(self, fullname: str, path: object, target: object = None) -> None:
        if fullname == "cadquery":
            raise ImportError(self.reason)


@pytest.mark.parametrize(
    ("reason", "message"),
    [
        (
            "libGL.so.1: cannot open shared object file: No such file or directory",
            r"libGL\.so\.1: install libgl1 \(Debian, Ubuntu\) or mesa-libGL \(Fedora\)$",
        ),
        ("libX.so: no such file", r"cadquery, which cannot be loaded: libX\.so: no such file$"),
    ],
)
def test_missing_library_is_named(
    reason: str, message: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    spec = importlib.util.spec_from_file_location("solids_on_a_bare_server", shapes.__file__)
    assert spec is not None
    assert spec.loader is not None
    monkeypatch.delitem(sys.modules, "cadquery")
    monkeypatch.setattr(sys, "meta_path", [WithoutLibrary(reason), *sys.meta_path])
    with pytest.raises(ExportError, match=message):
        spec.loader.exec_module(importlib.util.module_from_spec(spec))


def cuts_for(outside: float, bore: float, length: float) -> st.SearchStrategy[Cut]:
    """Return cuts that fit a tube 3 mm clear of its ends."""
    share = st.floats(0.05, 0.95)
    hole = st.builds(
        lambda d, z: CrossHole("hole", 20 + z * (length - 40), d * 2 * bore, "M"),
        *(share, share),
    )
    slot = st.builds(
        lambda w, extra, t: Slot("slot", 15.0, (w + extra) * bore, w * bore, t * (outside - bore)),
        *(share, share, share),
    )
    driver = st.builds(
        lambda w, t: DriverSlot("driver slot", w * 2 * bore, t * 5), share, st.floats(0.05, 1.0)
    )
    socket = st.builds(
        lambda f, t: HexSocket("socket", f * 2 * bore, t * 5), st.floats(1.05, 1.6), share
    )
    flats = st.builds(
        lambda t, w: SideFlat("flats", 0.0, 5.0 + t * 5, bore + w * (outside - bore), both=True),
        share,
        share,
    )
    return st.one_of(hole, slot, driver, socket, flats)


@st.composite
def tubes(draw: st.DrawFn) -> Part:
    """Return a tube with a shoulder, a tapered nose and one cut."""
    bore = draw(st.floats(1.0, 8.0))
    outside = bore * draw(st.floats(2.0, 4.0))
    length = draw(st.floats(60.0, 150.0))
    nose = draw(st.floats(0.1, 0.9)) * (outside - bore) + bore
    front, shoulder = draw(st.floats(0.5, 6.0)), draw(st.floats(0.0, 3.0))
    corners = [(0.0, bore), (0.0, nose), (front, outside), (length, outside), (length, bore)]
    if shoulder > 0.1:
        corners[2:3] = [(front, outside + shoulder), (10.0, outside + shoulder), (10.0, outside)]
    cut = draw(cuts_for(outside, bore, length))
    if isinstance(cut, Slot):  # a slot is milled into a solid bar
        corners = [(0.0, 0.0), *corners[1:-1], (length, 0.0)]
    return turned("tube", corners, cut)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(tubes())
def test_any_good_part_makes_a_valid_solid_of_its_volume(part: Part) -> None:
    shape = solid(part)
    assert shape.isValid()
    assert shape.Volume(1e-9) == pytest.approx(part.volume_mm3, rel=1e-6)
    box = shape.BoundingBox(1e-6)
    assert box.zmax - box.zmin == pytest.approx(part.outline.length_mm, abs=1e-5)


@pytest.mark.benchmarks
def test_time_for_one_tool() -> None:
    parts = (BODY, PLUNGER, PLUG, BUTTON)
    placed = [place for place in PLACED if place.part in parts] * 2
    times = []
    for _ in range(10):
        measured.cache_clear()
        solid.cache_clear()
        with tempfile.TemporaryDirectory() as folder:
            start = perf_counter()
            built_now = {part.name: solid(part) for part in parts}
            made = perf_counter()
            for part in parts:
                write_step(part, built_now[part.name], Path(folder, f"{part.name}.step"))
            single = perf_counter()
            write_assembly(placed, built_now, "centre", Path(folder, "centre.step"))
            end = perf_counter()
        times.append((end - start, made - start, single - made, end - single))
    total, *steps = min(times)
    print(f"one tool {total:.3f} s: solids, part files, assembly", *(f"{t:.3f}" for t in steps))  # noqa: T201 -- the figure is the result
    assert total > 0
