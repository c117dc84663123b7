import re
from collections import Counter
from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import dist, isclose
from pathlib import Path
from typing import Any, Final

import pytest

from generator.documents.assembly_sheet import assembly_sheet
from generator.documents.assembly_view import assembly_section
from generator.documents.balloons import PITCH_MM, RADIUS_MM, spread
from generator.documents.clip import visible
from generator.documents.drawing import Arc, Drawing, Line, Mark, Text
from generator.documents.layout import bounds, collisions
from generator.documents.parts_list import items
from generator.documents.sheet import inner_frame
from generator.documents.spring_view import place_mm, spring_section
from generator.documents.title_block import Header
from generator.documents.view import View
from generator.inputs.profile import read_profile
from generator.model.instances import instances
from generator.model.keeping import position_mm
from generator.model.parts import pocket_mm
from generator.model.springs import CoilSpring
from generator.model.tool import Tool, design
from tests import tools
from tests.tools import screw_of, slot_of

BOUGHT = ("set screw", "jam screw", "spring", "inner spring")
FOLDER = Path(__file__).parents[2] / "profiles"
SPRING = tools.BASE["springs"][0]
CHANGES: Final[dict[str, dict[str, Any]]] = {
    "no button": {"button": tools.REMOVED},
    "spring in the countersink": {"button": tools.REMOVED, "springs.0.outside_mm": 5.5},
    "spring on the point": {
        "button": tools.REMOVED,
        "plunger.front": {"style": "countersink"},
        "plunger.rear": {"style": "point"},
    },
    "only the rear end follows": {
        "plunger.front": {"style": "plain"},
        "plunger.rear": {"style": "countersink"},
    },
    "recessed button": {
        "button.recess_mm": 4.0,
        "button.thickness_mm": 4.0,
        "plunger.front": {"style": "countersink"},
        "plunger.rear": {"style": "point"},
    },
    "locked by screws": {
        "set_screw.locking": "jam screw",
        "body.nose_diameter_mm": 26.0,
        "plug.locking": "second plug",
        "plug.drive": "hexagon",
    },
    "unlike springs": {
        "springs": [
            {**SPRING, "free_mm": 12.0, "active_coils": 3.0},
            {**SPRING, "free_mm": 12.0, "active_coils": 4.0, "ends": "open"},
            {**SPRING, "free_mm": 12.0, "active_coils": 3.0},
        ],
        "separator": {"thickness_mm": 0.8},
    },
    "nested springs": {
        "springs": [
            {
                **SPRING,
                "hand": "left",
                "inner": {"wire_mm": 0.5, "outside_mm": 4, "free_mm": 36, "active_coils": 20},
            }
        ]
    },
    "cut spring": {"springs.0.cut_to_mm": 30.0, "springs.0.ends": "closed"},
    "cup point": {"set_screw.point": "cup"},
    "cone point": {"set_screw.point": "cone"},
    "loose spring": {"springs.0.free_mm": 15.0},
    "spring too long": {"springs.0.free_mm": 60.0, "springs.0.active_coils": 60.0},
    "large": {"mount.size": "MT6", "body.nose_length_mm": 60.0, "body.nose_diameter_mm": 70.0},
}
PROFILES = sorted(path.stem for path in FOLDER.glob("*.toml"))
CUT_PROFILE = "straight-16"
NAMES = [*PROFILES, *CHANGES]


@cache
def tool(name: str) -> Tool:
    if name in CHANGES:
        return tools.tool(CHANGES[name])
    return design(read_profile(FOLDER / f"{name}.toml"))


SLOTTED = [name for name in NAMES if tool(name).parameters.slot is not None]
SCREWED = [name for name in NAMES if tool(name).parameters.set_screw is not None]


def header(failed: tuple[str, ...] = ()) -> Header:
    return Header("Tap follower", "Assembly", parameters_hash="0123456789ab", failed=failed)


@cache
def sheet(name: str) -> Drawing:
    return assembly_sheet(tool(name), header())


@cache
def section(name: str, scale: float = 2.0) -> View:
    return assembly_section(tool(name), tool(name).orientations[0], scale)


def lines(marks: tuple[Mark, ...], style: str) -> list[Line]:
    return [mark for mark in marks if isinstance(mark, Line) and mark.style == style]


def texts(drawing: Drawing) -> list[Text]:
    return [mark for mark in drawing.marks if isinstance(mark, Text)]


@pytest.mark.parametrize("name", NAMES)
def test_nothing_touches(name: str) -> None:
    assert collisions(sheet(name)) == ()


@pytest.mark.parametrize("name", NAMES)
def test_everything_is_within_the_frame(name: str) -> None:
    drawing = sheet(name)
    size = {297.0: "A4", 420.0: "A3"}[drawing.width_mm]
    left, bottom, right, top = inner_frame(size)
    trimming = [mark for mark in drawing.marks if mark.style != "frame"]
    inside = bounds([*trimming, *(m for each in drawing.dimensions for m in each.marks)])
    assert inside[0] >= left
    assert inside[1] >= bottom
    assert inside[2] <= right
    assert inside[3] <= top


@pytest.mark.parametrize("name", NAMES)
def test_dimensions_are_the_numbers_of_the_tool(name: str) -> None:
    drawing, made = sheet(name), tool(name)
    o = made.orientations[0]
    length_mm = made.body.outline.length_mm
    expected = [
        o.projection_extended_mm,
        o.projection_compressed_mm,
        o.travel_mm,
        length_mm,
        length_mm + o.projection_extended_mm,
        *([] if made.parameters.plug is None else [made.parameters.plug.sunk_mm]),
        *([] if made.crossing is None else [position_mm(made.parameters)]),
        *(
            z_mm
            for name, z_mm in made.body.outline.planes[:1]
            if name in ("gauge plane", "shank start")
        ),
    ]
    measured = [
        abs(each.points[0][0] - each.points[1][0]) / drawing.scale for each in drawing.dimensions
    ]
    assert sorted(measured) == pytest.approx(sorted(expected), abs=1e-9)
    assert all(each.scale == drawing.scale for each in drawing.dimensions)
    assert [each.pattern for each in drawing.dimensions].count("(<>)") == 1


@pytest.mark.parametrize("name", NAMES)
def test_every_row_of_the_parts_list_has_one_balloon(name: str) -> None:
    drawing = sheet(name)
    rings = [m for m in drawing.marks if isinstance(m, Arc) and m.radius_mm == RADIUS_MM]
    balloons = []
    for ring in rings:
        [text] = [t.text for t in texts(drawing) if dist(t.at, ring.centre) < RADIUS_MM]
        balloons.append((ring.centre[0], text))
    listed = [str(item.number) for item in items(tool(name), tool(name).orientations[0])]
    assert [text for _, text in sorted(balloons)] == listed
    assert listed == [str(n) for n in range(1, len(listed) + 1)]
    assert len({ring.centre[1] for ring in rings}) == 1


def kind(name: str) -> str:
    """Return what the parts list calls a part, such as "inner spring" for "spring 2 inner"."""
    plain = name.removesuffix(" inner").rstrip(" 0123456789")
    return f"inner {plain}" if name.endswith(" inner") else plain


@pytest.mark.parametrize("name", NAMES)
def test_parts_list_counts_every_part_in_its_place(name: str) -> None:
    made = tool(name)
    o = made.orientations[0]
    placed = Counter(kind(each.name) for each in instances(made, o, compressed=False))
    listed: Counter[str] = Counter()
    for item in items(made, o):
        listed[item.name.lower() if item.name[:3] != "Tip" else "tip"] += item.quantity
    assert listed == placed
    written = [text.text for text in texts(sheet(name))]
    for item in items(made, o):
        assert item.designation in written
        assert (item.mass_g is None) == (item.name.lower() in BOUGHT)


@pytest.mark.parametrize("name", NAMES)
def test_leaders_do_not_cross_and_end_on_the_tool(name: str) -> None:
    made = tool(name)
    points = [(item.z_mm, item.r_mm) for item in items(made, made.orientations[0])]
    assert [z for z, _ in points] == sorted((z for z, _ in points), reverse=True)
    length_mm, out_mm = made.body.outline.length_mm, made.orientations[0].projection_extended_mm
    for z_mm, r_mm in points:
        before_mm = out_mm if made.tips else made.orientations[0].before_mm
        assert -before_mm < z_mm < length_mm
        assert abs(r_mm) <= section(name).box[3] / 2


@pytest.mark.parametrize("name", NAMES)
def test_phantom_end_stands_at_the_compressed_projection(name: str) -> None:
    o = tool(name).orientations[0]
    socket = {-2 * z_mm for plane, z_mm in tool(name).body.outline.planes if plane == "gauge plane"}
    phantom = [
        line for line in lines(section(name).marks, "phantom") if line.start[0] not in socket
    ]
    assert bounds(phantom)[2] == pytest.approx(2 * o.projection_compressed_mm, abs=1e-9)
    assert bounds(phantom)[3] == pytest.approx(o.outer.diameter_mm, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_plunger_as_drawn_ends_at_the_extended_projection(name: str) -> None:
    o = tool(name).orientations[0]
    outline = lines(section(name).marks, "outline")
    assert bounds(outline)[2] == pytest.approx(2 * o.projection_extended_mm, abs=1e-9)


@pytest.mark.parametrize("name", SCREWED)
def test_gap_under_the_screw_is_drawn_true(name: str) -> None:
    made = tool(name)
    p = made.parameters
    x = -2 * screw_of(p).position_mm
    flat = [
        line
        for line in lines(section(name).marks, "outline")
        if isclose(line.start[1], line.end[1]) and min(line.start[0], line.end[0]) < x
    ]
    across = [line for line in flat if max(line.start[0], line.end[0]) > x and line.start[1] > 0]
    tip = [m for m in across if isclose(abs(m.end[0] - m.start[0]), 2 * screw_of(p).tip_mm)]
    floor = [m for m in across if isclose(abs(m.end[0] - m.start[0]), 2 * slot_of(p).length_mm)]
    assert len(floor) == 1
    gap_mm = (min(line.start[1] for line in tip) - floor[0].start[1]) / 2
    assert gap_mm == pytest.approx(screw_of(p).gap_mm, abs=1e-9)


@pytest.mark.parametrize("name", SLOTTED)
def test_slot_is_where_the_screw_stops_it(name: str) -> None:
    made = tool(name)
    p, o = made.parameters, made.orientations[0]
    rear_mm = o.slot_mm + slot_of(p).length_mm - o.projection_extended_mm
    assert rear_mm == pytest.approx(position_mm(p) + made.across_mm / 2, abs=1e-9)
    walls = [
        line
        for line in lines(section(name).marks, "outline")
        if line.start[0] == line.end[0] and isclose(line.start[0], -2 * rear_mm, abs_tol=1e-9)
    ]
    assert walls


def wire_cuts(marks: tuple[Mark, ...], wire_mm: float, *, upper: bool) -> float:
    """Return how many cuts of a wire are drawn above or below the axis, part of one as a part."""
    return sum(
        0.5 if (arc.end_deg - arc.start_deg) < 359 else 1.0
        for arc in marks
        if isinstance(arc, Arc) and isclose(arc.radius_mm, wire_mm) and (arc.centre[1] > 0) == upper
    )


@pytest.mark.parametrize("name", [name for name in PROFILES if name != CUT_PROFILE])
def test_each_side_shows_every_coil_of_ground_springs(name: str) -> None:
    made = tool(name)
    assert {s.ends for s in made.springs} == {"closed and ground"}
    coils = sum(spring.total_coils for spring in made.springs)
    for upper in (True, False):
        drawn = wire_cuts(section(name).marks, made.springs[0].wire_mm, upper=upper)
        assert drawn == pytest.approx(coils)


@pytest.mark.parametrize("name", [CUT_PROFILE, "cut spring"])
def test_a_cut_spring_shows_its_coils_to_a_part_of_one(name: str) -> None:
    """Its last coil ends where the cut fell, so a side may lack it."""
    (spring,) = tool(name).springs
    assert spring.bought is not None
    for upper in (True, False):
        drawn = wire_cuts(section(name).marks, spring.wire_mm, upper=upper)
        assert spring.total_coils - 1 <= drawn <= spring.total_coils + 1


@pytest.mark.parametrize(
    "name",
    [*PROFILES, "unlike springs", "no button", "loose spring", "nested springs", "cut spring"],
)
def test_springs_stay_within_their_space(name: str) -> None:
    made = tool(name)
    o = made.orientations[0]
    bore_mm = pocket_mm(made.parameters)
    wires = {spring.wire_mm for spring in made.springs}
    arcs = [
        mark
        for mark in section(name).marks
        if isinstance(mark, Arc) and any(isclose(mark.radius_mm, wire) for wire in wires)
    ]
    left, bottom, right, top = bounds(arcs)
    assert left >= -2 * made.plug_face_mm - 1e-9
    assert right <= -2 * (made.plug_face_mm - o.room_extended_mm) + 1e-9
    assert top < bore_mm
    assert bottom > -bore_mm


def coil(**changes: object) -> CoilSpring:
    return replace(tools.tool().springs[0], **changes)  # type: ignore[arg-type]


def test_solid_spring_lies_coil_on_coil() -> None:
    # EN 13906-1: closed and ground ends, solid length = total coils times wire.
    spring = coil(total_coils=9.0, wire_mm=1.0)
    places = [place_mm(spring, 9.0, n) for n in range(10)]
    assert places == pytest.approx(range(10))


def test_open_spring_has_one_pitch_throughout() -> None:
    # EN 13906-1: open ends not ground, free length = turns times pitch plus wire.
    spring = coil(total_coils=5.0, wire_mm=1.0, ends="open")
    places = [place_mm(spring, 21.0, n) for n in range(6)]
    assert places == pytest.approx([0.5, 4.5, 8.5, 12.5, 16.5, 20.5])


def test_left_hand_spring_is_the_mirror_image() -> None:
    right, left = (
        [
            mark.centre
            for mark in spring_section(coil(hand=hand), 20.0, 2.0)
            if isinstance(mark, Arc)
        ]
        for hand in ("right", "left")
    )
    assert left == [(x, -y) for x, y in right]


def test_cut_spring_shows_its_open_end_toward_the_plunger() -> None:
    """The open end leaves at the pitch; the ground end lies flat, cut at the wire's middle."""
    spring = coil(total_coils=9.0, wire_mm=1.0, ends="open / closed and ground")
    places = [place_mm(spring, 20.5, n) for n in range(10)]
    assert places[0] == 0.5
    assert places[-2:] == pytest.approx([19.5, 20.5])
    assert places[1] - places[0] == pytest.approx((19.5 - 0.5) / 8)


def test_inner_spring_is_seen_before_the_outer_one() -> None:
    """The half turns of the outer spring, which cross the axis behind it, are hidden."""
    made = tool("nested springs")
    (outer,) = made.springs
    assert outer.inner is not None
    alone = tools.tool({"springs": [{**SPRING, "hand": "left"}]})
    plain = assembly_section(alone, alone.orientations[0], 2.0)
    placed = {e.name: e for e in instances(made, made.orientations[0], compressed=False)}
    front = placed["spring 1"].origin_mm[2]
    assert placed["spring 1 inner"].origin_mm[2] == front
    rear = front + placed["spring 1 inner"].part.outline.length_mm
    crossing = [
        line
        for line in lines(plain.marks, "thin")
        if line.start[1] * line.end[1] < 0
        and all(front < -x / 2 < rear for x, _ in (line.start, line.end))
    ]
    assert len(crossing) > outer.active_coils
    assert not set(crossing) & set(lines(section("nested springs").marks, "thin"))
    for each in outer.nested:
        cuts = [
            wire_cuts(section("nested springs").marks, each.wire_mm, upper=upper)
            for upper in (True, False)
        ]
        assert cuts == pytest.approx([each.total_coils] * 2)


@pytest.mark.parametrize("turns", [4.0, 5.5, 7.25, 9.75])
@pytest.mark.parametrize("ends", ["closed and ground", "closed", "open", "open and ground"])
def test_any_spring_is_drawn_within_its_length(turns: float, ends: str) -> None:
    spring = coil(total_coils=turns, ends=ends)
    left, bottom, right, top = bounds(spring_section(spring, 20.0, 2.0))
    assert left >= -40.0 - 1e-9
    assert right <= 1e-9
    assert top == pytest.approx(spring.outside_mm)
    assert bottom >= -spring.outside_mm - 1e-9


@pytest.mark.parametrize("name", SLOTTED)
def test_nothing_of_the_body_is_seen_through_the_plunger(name: str) -> None:
    made = tool(name)
    o, slot = made.orientations[0], slot_of(made.parameters)
    floor_mm = made.parameters.plunger.diameter_mm / 2 - slot.depth_mm
    ends = [o.slot_mm - o.projection_extended_mm + along for along in (0.0, slot.length_mm)]
    ends += [position_mm(made.parameters) + side * made.across_mm / 2 for side in (-1, 1)]
    front_mm = o.outer.outer_mm + o.outer.inner_mm - o.projection_extended_mm
    inner_mm = o.inner_extended_mm - o.inner.outer_mm - o.inner.inner_mm
    for line in lines(section(name).marks, "outline"):
        if line.start[0] == line.end[0] and abs(line.start[1] + line.end[1]) < 1e-9:
            z_mm = -line.start[0] / 2
            if slot.form == "through" and any(isclose(z_mm, end) for end in ends):
                continue  # an end of the slot itself, or a side of the pin
            reaches = max(abs(line.start[1]), abs(line.end[1])) / 2 > floor_mm
            assert not (front_mm + 4 < z_mm < inner_mm - 4 and reaches)


@pytest.mark.parametrize("name", PROFILES)
def test_table_tells_both_orientations(name: str) -> None:
    made = tool(name)
    written = Counter(text.text for text in texts(sheet(name)))
    for word, count in Counter(w for o in made.orientations for w in o.name.split()).items():
        assert sum(text.split().count(word) for text in written) >= count
    forces = Counter(f"{o.preload_N:.1f}".removesuffix(".0") + " N" for o in made.orientations)
    assert all(written[force] >= count for force, count in forces.items())


@pytest.mark.parametrize("name", PROFILES)
def test_gauge_diameter_is_told_and_drawn_where_the_socket_ends(name: str) -> None:
    """The taper's radius at the plane is half the diameter that the table tells."""
    outline = tool(name).body.outline
    planes = dict(outline.planes)
    told = [t.text for t in texts(sheet(name)) if t.text.startswith("Ø")]
    if "gauge plane" not in planes:
        assert not told
        return
    diameter_mm = 2 * outline.radius_at_mm(planes["gauge plane"], inside=False)
    in_inches = tool(name).parameters.making.units == "inch"
    unit_mm, within = (25.4, 0.0005) if in_inches else (1.0, 1e-6)
    assert [float(text.removeprefix("Ø")) for text in told] == [
        pytest.approx(diameter_mm / unit_mm, abs=within)
    ]
    x = -2 * planes["gauge plane"]
    assert [
        line.start[1]
        for line in lines(section(name).marks, "phantom")
        if line.start[0] == line.end[0] == x
    ] == [pytest.approx(diameter_mm)]


@pytest.mark.parametrize("name", PROFILES)
def test_no_figure_is_finer_than_a_vernier_reads(name: str) -> None:
    written = [t.text for t in texts(sheet(name)) if re.fullmatch(r"[\d.]+ (mm|in|N)", t.text)]
    assert len(written) == 8 * len(tool(name).orientations)
    for text in written:
        fraction = text.split()[0].partition(".")[2]
        assert len(fraction) <= {"mm": 2, "in": 3, "N": 1}[text.split()[1]]


def test_a_rate_has_three_digits() -> None:
    rates = {
        name: next(t.text for t in texts(sheet(name)) if t.text.endswith(" N/mm"))
        for name in ("mt2-drawbar-8", "compact-long-travel-8", "loose spring")
    }
    assert rates == {
        "mt2-drawbar-8": "1.46 N/mm",
        "compact-long-travel-8": "0.0814 N/mm",
        "loose spring": "0 N/mm",
    }


@pytest.mark.parametrize("name", SLOTTED)
def test_no_leader_crosses_the_dimension_of_the_screw(name: str) -> None:
    drawing = sheet(name)
    [above] = [
        each
        for each in drawing.dimensions
        if each.points[2][1] > max(each.points[0][1], each.points[1][1])
    ]
    left = min(x for x, _ in above.points[:2])
    rings = [m for m in drawing.marks if isinstance(m, Arc) and m.radius_mm == RADIUS_MM]
    assert all(ring.centre[0] + RADIUS_MM < left for ring in rings)


def test_springs_that_would_be_crushed_have_no_force() -> None:
    assert [t.text for t in texts(sheet("spring too long"))].count("solid") == 4


def test_failed_checks_stand_across_the_top() -> None:
    drawing = assembly_sheet(tool("refused-three-faults"), header(("wall over the rear thread",)))
    banner = next(t for t in texts(drawing) if t.text.startswith("FAILED CHECKS"))
    assert "wall over the rear thread" in banner.text
    assert banner.at[1] > drawing.height_mm - 20
    assert collisions(drawing) == ()


def test_same_tool_gives_the_same_sheet() -> None:
    assert assembly_sheet(tool(PROFILES[0]), header()) == sheet(PROFILES[0])


def test_what_stands_in_front_hides_lines_within_and_along_it() -> None:
    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    through, along, beside = Line((-2, 2), (6, 2)), Line((-1, 4), (3, 4)), Line((5, 0), (5, 4))
    kept = visible([through, along, beside], [square])
    assert kept == [
        Line((-2.0, 2.0), (0.0, 2.0)),
        Line((4.0, 2.0), (6.0, 2.0)),
        Line((-1.0, 4.0), (0.0, 4.0)),
        beside,
    ]


def test_what_stands_in_front_may_have_a_notch() -> None:
    notched = [(0, 0), (6, 0), (6, 4), (4, 4), (4, 2), (2, 2), (2, 4), (0, 4)]
    kept = visible([Line((-1, 3), (7, 3))], [notched])
    assert [(k.start[0], k.end[0]) for k in kept if isinstance(k, Line)] == [
        (-1, 0),
        (2, 4),
        (6, 7),
    ]


def test_balloons_keep_their_order_and_their_distance() -> None:
    places = spread([0.0, 1.0, 2.0, 50.0, 49.0])
    gaps = [b - a for a, b in pairwise(places)]
    assert min(gaps) >= PITCH_MM - 1e-9
    assert sum(places) == pytest.approx(102.0)
