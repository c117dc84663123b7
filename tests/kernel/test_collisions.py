"""The proof of motion: against the kernel's plain boolean and distance, and against hand sums."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from math import sqrt
from pathlib import Path
from typing import Any

import cadquery as cq
import pytest
from hypothesis import HealthCheck, given, settings
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Section
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt

from generator.checks.finding import Verdict, worst
from generator.checks.run import run_checks
from generator.errors import ExportError, ProfileError
from generator.inputs.profile import parameters_from, read_profile
from generator.kernel.alike import Firsts, View, metal_about
from generator.kernel.collisions import _contacts, _half_section, prove
from generator.kernel.screw import crossing_contacts
from generator.kernel.shapes import location, solid
from generator.model.assembly import Axis, Placed
from generator.model.contacts import FAR_MM, Contact, Proof
from generator.model.instances import standing
from generator.model.limit_sizes import Sizes, limit_sizes
from generator.model.outline import Outline
from generator.model.part import CrossHole, Part, Slot
from generator.model.section import Section, section, section_of
from generator.model.stroke import POSITIONS, Stand, Stroke, stroke
from generator.model.tool import Tool, design
from tests.strategies import silly_changes
from tests.tools import BASE, changed, screw_of, slot_of, tool

pytestmark = pytest.mark.solid

PROFILES = sorted((Path(__file__).parents[2] / "profiles").glob("*.toml"))
SPRING: Mapping[str, Any] = {
    "wire_mm": 0.8,
    "outside_mm": 7.0,
    "free_mm": 17.0,
    "active_coils": 6.0,
}
TWO_SPRINGS: Mapping[str, Any] = {"springs": [SPRING, SPRING], "separator": {}}
RECESSED: Mapping[str, Any] = {"button.recess_mm": 3.0, "button.vent_mm": 1.5}
BORE_AT_7_99: Mapping[str, Any] = {
    "plunger.diameter_mm": 7.99,
    "plunger.limits_um": [0.0, 0.0],
    "bore.limits_um": [0.0, 0.0],
}


def shape(place: Placed) -> Any:
    return solid(place.part).moved(location(place))


def plain_mm3(first: Any, second: Any) -> float:
    """Return the volume that the kernel's boolean finds on whole solids, nothing cut down."""
    common = cq.Shape.cast(BRepAlgoAPI_Common(first.wrapped, second.wrapped).Shape())
    return float(sum(each.Volume() for each in common.Solids()))


def plain_mm(first: Any, second: Any) -> float:
    return float(BRepExtrema_DistShapeShape(first.wrapped, second.wrapped).Value())


def core(place: Placed, core_mm: float) -> Any:
    """Return what lies within a thread's core, made as a cut, not as the proof makes it."""
    length = place.part.outline.length_mm
    rod = cq.Solid.makeCylinder(core_mm / 2, length + 4, cq.Vector(0, 0, -2))
    big = cq.Solid.makeCylinder(99, length + 2, cq.Vector(0, 0, -1))
    return solid(place.part).cut(big.cut(rod)).moved(location(place))


def first_stroke(made: Tool) -> Stroke:
    return stroke(limit_sizes(made)[0], made.orientations[0])


def told(whole: Stroke) -> dict[str, Contact]:
    return {each.pair: each for each in _contacts(whole, Firsts())}


def found(proof: Proof, pair: str, sizes: str = "nominal") -> Contact:
    (one,) = (each for each in proof.nearest if (each.pair, each.sizes) == (pair, sizes))
    return one


def grown(part: Part, by_mm: float) -> Part:
    """Return a part whose outside is larger in radius."""
    most = part.outline.diameter_mm / 2
    corners = tuple(
        replace(c, r_mm=c.r_mm + by_mm) if c.r_mm > 0.8 * most else c for c in part.outline.corners
    )
    return replace(part, outline=Outline(corners, part.outline.planes))


def moved(whole: Stroke, name: str, by_mm: float) -> Stroke:
    """Return a stroke in which one part stands elsewhere along the axis."""

    def shifted(stand: Stand) -> Stand:
        place = stand.placed[name]
        x, y, z = place.origin_mm
        return replace(
            stand, placed={**stand.placed, name: replace(place, origin_mm=(x, y, z + by_mm))}
        )

    return replace(whole, stands=tuple(shifted(stand) for stand in whole.stands))


def larger(whole: Stroke, name: str, by_mm: float) -> Stroke:
    """Return a stroke in which one part is larger in radius."""

    def swelled(stand: Stand) -> Stand:
        place = stand.placed[name]
        bigger = replace(place, part=grown(place.part, by_mm))
        return replace(stand, placed={**stand.placed, name: bigger})

    return replace(whole, stands=tuple(swelled(stand) for stand in whole.stands))


WRONG = {
    "body and plunger": lambda whole: larger(whole, "plunger", 0.02),
    "body and button": lambda whole: larger(whole, "button", 0.25),
    "body and separator 1": lambda whole: larger(whole, "separator 1", 0.3),
    "body and spring 1": lambda whole: larger(whole, "spring 1", 0.55),
    "body and plug": lambda whole: moved(whole, "plug", -12.0),
    "plunger and button": lambda whole: moved(whole, "button", -1.0),
    "plunger and spring 1": lambda whole: moved(whole, "spring 1", -6.0),
    "plunger and separator 1": lambda whole: moved(whole, "separator 1", -17.5),
    "plunger and plug": lambda whole: moved(whole, "plug", -17.5),
    "button and spring 1": lambda whole: moved(whole, "spring 1", -0.5),
    "button and separator 1": lambda whole: moved(whole, "separator 1", -8.0),
    "button and plug": lambda whole: moved(whole, "plug", -15.5),
    "spring 1 and separator 1": lambda whole: moved(whole, "separator 1", -0.4),
    "spring 2 and separator 1": lambda whole: moved(whole, "separator 1", 0.4),
    "spring 1 and spring 2": lambda whole: moved(whole, "spring 2", -3.0),
    "separator 1 and plug": lambda whole: moved(whole, "plug", -9.0),
    "spring 2 and plug": lambda whole: moved(whole, "plug", -0.7),
    "plunger and set screw": lambda whole: moved(whole, "set screw", 0.4),
    "body and set screw": lambda whole: moved(whole, "set screw", 0.5),
    "button and set screw": lambda whole: moved(whole, "button", -29.5),
    "spring 1 and set screw": lambda whole: moved(whole, "spring 1", -31.0),
    "plug and set screw": lambda whole: moved(whole, "plug", -53.0),
}
"""For each pair of parts a tool in which they collide."""


@pytest.mark.parametrize("pair", WRONG)
def test_each_pair_that_collides_is_named_with_the_volume_of_the_plain_boolean(pair: str) -> None:
    whole = WRONG[pair](first_stroke(tool(TWO_SPRINGS)))
    assert not any(each.collides for each in told(first_stroke(tool(TWO_SPRINGS))).values())
    contact = told(whole)[_known(pair)]
    assert contact.collides
    assert contact.clearance_mm == 0
    (stand,) = (one for one in whole.stands if one.travel_mm == contact.travel_mm)
    first, second = (stand.placed[name] for name in (contact.first, contact.second))
    threaded = next((p for p in (first, second) if p.name in ("plug", "set screw")), None)
    if threaded is not None and "body" in pair:
        other = first if threaded is second else second
        plain = plain_mm3(shape(other), core(threaded, whole.cores_mm[threaded.name]))
    else:
        plain = plain_mm3(shape(first), shape(second))
    assert contact.volume_mm3 == pytest.approx(plain, rel=0.01)


def _known(pair: str) -> str:
    """Return a pair in the order in which the parts stand in the tool."""
    first, second = pair.split(" and ")
    order = list(standing(tool(TWO_SPRINGS), tool().orientations[0], travel_mm=0.0))
    names = [place.name for place in order]
    if second == "set screw":
        return pair
    return pair if names.index(first) < names.index(second) else f"{second} and {first}"


def test_no_pair_of_the_tool_is_left_out() -> None:
    names = {place.name for place in first_stroke(tool(TWO_SPRINGS)).stands[0].placed.values()}
    far_apart = {"separator 1 and set screw", "spring 2 and set screw", "spring 2 and plunger"}
    pairs = {_known(pair) for pair in WRONG} | far_apart
    assert {name for pair in pairs for name in pair.split(" and ")} == names


@pytest.mark.parametrize("place", range(0, POSITIONS, 6))
def test_where_the_plain_distance_is_known_it_is_the_same(place: int) -> None:
    """Every pair on the axis, at some positions, on whole solids."""
    whole = first_stroke(tool({**TWO_SPRINGS, **BORE_AT_7_99}))
    stand = whole.stands[place]
    alone = replace(whole, stands=(stand,))
    contacts = told(alone)
    for first, second in alone.pairs:
        if "body" in (first, second) and second in ("plug", "set screw"):
            continue
        pair = f"{first} and {second}"
        if "set screw" in (first, second):
            pair = f"{second if first == 'set screw' else first} and set screw"
        plain = plain_mm(shape(stand.placed[first]), shape(stand.placed[second]))
        if "set screw" in pair and plain >= FAR_MM:
            assert pair not in contacts or contacts[pair].clearance_mm == FAR_MM
        else:
            assert contacts[pair].clearance_mm == pytest.approx(plain, abs=2e-6), pair


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_half_sections_of_built_solids_are_the_outlines(path: Path) -> None:
    made = design(read_profile(path))
    for o in made.orientations:
        for place in standing(made, o, travel_mm=0.0):
            if place.name == "set screw" or path.stem.startswith("refused"):
                continue
            cut = _half_section(place.part, False)
            outline = section_of(place.part.outline)
            if place.part.name == "plug":  # its drive is cut from the end, on all sides
                assert place.part.volume_mm3 <= cut.volume_mm3 <= outline.volume_mm3 + 1e-6
                continue
            assert cut.volume_mm3 == pytest.approx(outline.volume_mm3, rel=1e-9)
            assert cut.at_mm == pytest.approx(outline.at_mm, abs=1e-9)


def plain_section(part: Part) -> Section:
    """Return the half section that the kernel's own cut of the finished solid makes."""
    plane = gp_Pln(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0))
    met = BRepAlgoAPI_Section(solid(part).wrapped, plane, True)
    edges = cq.Shape.cast(met.Shape()).Edges()
    ends = [sorted((p.y, p.z) for p in (e.startPoint(), e.endPoint())) for e in edges]
    return section((z0, -y0, z1, -y1) for (y0, z0), (y1, z1) in ends if y0 < -1e-9 and y1 < 1e-9)


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_seams_are_where_the_kernel_cuts_the_finished_solid(path: Path) -> None:
    """A part with a drive has seams around more metal; all others around the same."""
    made = design(read_profile(path))
    for part in made.made_parts:
        if part.name == "plug" or path.stem.startswith("refused"):
            continue
        if any(isinstance(c, CrossHole) and c.both for c in part.cuts) or any(
            isinstance(c, Slot) and (c.both or c.through(part.outline)) for c in part.cuts
        ):
            continue  # cut through on the seam's side, too: the seams are those before the cut
        seams, cut = _half_section(part, False), plain_section(part)
        assert seams.at_mm == pytest.approx(cut.at_mm, abs=1e-9)
        for mine, theirs in zip(seams.slices, cut.slices, strict=True):
            for one, other in zip(mine, theirs, strict=True):
                assert one == pytest.approx(other, abs=1e-9)


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_what_looks_alike_is_alike_to_the_kernel(path: Path) -> None:
    """Every stroke of a tool looked at anew, against the first of each kind."""
    made = design(read_profile(path))
    shared_firsts = Firsts()
    for sizes in limit_sizes(made):
        for o in sizes.tool.orientations:
            whole = stroke(sizes, o)
            anew = {each.pair: each for each in crossing_contacts(whole, Firsts())}
            for each in crossing_contacts(whole, shared_firsts):
                alone = anew[each.pair]
                assert each.clearance_mm == pytest.approx(alone.clearance_mm, abs=1e-6)
                assert each.volume_mm3 == pytest.approx(alone.volume_mm3, rel=1e-4, abs=1e-6)


def look(*, part: Part, moved_mm: float = 0.0, axis: Axis = "rear") -> View:
    whole = first_stroke(tool())
    place = replace(whole.stands[0].placed["plunger"], part=part, axis=axis)
    return View(place, whole.stands[0].placed["set screw"], 0.3, 12.0, moved_mm)


def test_metal_about_the_screw_tells_apart_what_differs_there_alone() -> None:
    plunger = tool().plunger
    (slot,) = plunger.cuts
    assert isinstance(slot, Slot)
    here, reach_mm = metal_about(look(part=plunger), 3.0), 3.0
    other = {
        "deeper": replace(slot, depth_mm=slot.depth_mm + 1e-6),
        "wider": replace(slot, width_mm=slot.width_mm + 1e-6),
        "nearer": replace(slot, front_mm=slot.front_mm + 1e-6),
    }
    for cut in other.values():
        assert metal_about(look(part=replace(plunger, cuts=(cut,))), reach_mm) != here
    assert metal_about(look(part=plunger, axis="rear, rolled"), reach_mm) != here
    assert metal_about(look(part=plunger, moved_mm=1e-6), reach_mm) != here
    assert metal_about(look(part=grown(plunger, 1e-6)), reach_mm) != here
    assert here.mirrored().mirrored() == here
    firsts, first = Firsts(), look(part=plunger)
    assert firsts.of(first, reach_mm) is first
    assert firsts.of(look(part=plunger), reach_mm) is first
    moved = look(part=plunger, moved_mm=0.5)
    assert firsts.of(moved, reach_mm) is moved
    end = look(part=plunger, moved_mm=12.0)  # the other end of the slot is its mirror image
    assert firsts.of(end, reach_mm) is first


def test_clearances_of_the_worked_tool_by_hand() -> None:
    """M4 with a long dog 2.5 in a slot 3 x 14.5, plunger 7.99 in 8, gap 0.3, button 7.7."""
    proof = prove(tool({**BORE_AT_7_99, **RECESSED}))
    assert not proof.collisions
    assert found(proof, "body and plunger").clearance_mm == pytest.approx(0.005, abs=1e-9)
    assert found(proof, "set screw and floor of the slot").clearance_mm == pytest.approx(0.3)
    assert found(proof, "set screw and sides of the slot").clearance_mm == pytest.approx(0.25)
    assert found(proof, "plunger and set screw").touches  # at both ends of the stroke
    assert found(proof, "body and button").clearance_mm == pytest.approx(0.15)
    # spring 7.0 at rest
    assert found(proof, "body and spring 1").clearance_mm == pytest.approx(0.5)
    # core of M10 8.376 in its tapping hole 8.5; core of M4 3.242 in 3.3: basic minor, ISO 724
    assert found(proof, "body and plug").clearance_mm == pytest.approx(0.062, abs=5e-4)
    assert found(proof, "body and set screw").clearance_mm == pytest.approx(0.029, abs=5e-4)
    assert all(each.touches for each in proof.seats)


def test_limits_of_size_by_hand() -> None:
    """ISO 2768-m: 0.1 to 6, 0.2 to 30; pitch of M4 0.7; spring by the practice of stock springs."""
    made = tool({**BORE_AT_7_99, **RECESSED})
    proof = prove(made)
    tight = "tightest"
    assert found(proof, "set screw and sides of the slot", tight).clearance_mm == pytest.approx(0.2)
    assert found(proof, "set screw and floor of the slot", tight).clearance_mm == pytest.approx(
        0.3 - 0.7 / 8
    )
    assert found(proof, "body and button", tight).clearance_mm == pytest.approx(0.05)
    greatest_mm = made.springs[0].outside_greatest_mm
    assert found(proof, "body and spring 1", tight).clearance_mm == pytest.approx(
        (8.0 - greatest_mm) / 2
    )
    tight_mm, long_mm = (sizes.tool.orientations[0].travel_mm for sizes in limit_sizes(made)[1:])
    assert tight_mm == pytest.approx(12.0 - 0.2)
    assert long_mm == pytest.approx(12.0 + 0.2 + 0.25)  # ISO 4028 M4: dog 2.25 to 2.5


def test_the_screw_touches_both_ends_of_the_slot_and_shares_nothing() -> None:
    whole = first_stroke(tool(BORE_AT_7_99))
    for end in (whole.stands[0], whole.stands[-1]):
        contact = told(replace(whole, stands=(end,)))["plunger and set screw"]
        assert contact.touches
        assert contact.volume_mm3 < 1e-6
    middle = replace(whole, stands=(whole.stands[POSITIONS // 2],))
    assert told(middle)["plunger and set screw"].clearance_mm == pytest.approx(0.25)


def test_a_screw_past_the_end_of_the_slot_collides_by_the_lens_it_bites() -> None:
    """0.1 beyond the end; hand sum for a cylinder in a cylinder's end, by the plain boolean."""
    whole = first_stroke(tool(BORE_AT_7_99))
    beyond = moved(whole, "plunger", 0.1)
    contact = told(beyond)["plunger and set screw"]
    assert contact.collides
    assert contact.travel_mm == pytest.approx(12.0)
    places = beyond.stands[-1].placed
    plain = plain_mm3(shape(places["plunger"]), shape(places["set screw"]))
    assert contact.volume_mm3 == pytest.approx(plain, rel=0.01)


@pytest.mark.parametrize("path", PROFILES, ids=lambda path: str(path.stem))
def test_no_shipped_tool_collides_at_any_size(path: Path) -> None:
    made = design(read_profile(path))
    if worst(run_checks(made)) is Verdict.FAIL:
        assert {each.pair for each in prove(made).collisions} == {
            "plunger and set screw",
            "body and spring 1",
        }
        return
    proof = prove(made)
    assert not proof.collisions
    assert proof.positions >= 24
    assert len(proof.sizes) == 3
    assert proof.orientations == tuple(o.name for o in made.ways)
    assert proof.stands == proof.positions * 3 * len(made.ways)
    for each in proof.rolled:
        assert each.volume_mm3 > 1.0
        assert each.kept_out_mm == pytest.approx(
            slot_of(made.parameters).depth_mm - screw_of(made.parameters).gap_mm
        )
    for one in proof.deep:
        assert one.free_mm == pytest.approx(screw_of(made.parameters).gap_mm)
        assert one.volume_mm3 > 0.1


def test_a_plunger_turned_half_round_keeps_the_screw_out_by_its_reach() -> None:
    """A dog of radius 1.25 driven 1.3 into a round of radius 4, by the plain boolean."""
    made = tool({"plunger.limits_um": [0.0, 0.0]})
    (rolled, _) = prove(made).rolled
    assert rolled.kept_out_mm == pytest.approx(1.3)
    dog = cq.Solid.makeCylinder(1.25, 9.0, cq.Vector(0, 2.7, 0), cq.Vector(0, 1, 0))
    rod = cq.Solid.makeCylinder(4.0, 40.0, cq.Vector(0, 0, -20))
    assert rolled.volume_mm3 == pytest.approx(plain_mm3(dog, rod), rel=1e-4)


def test_a_shallow_slot_lets_the_screw_in_over_a_plunger_turned_half_round() -> None:
    made = tool({"slot.depth_mm": 0.35, "set_screw.gap_mm": 0.3})
    assert all(each.kept_out_mm == pytest.approx(0.05) for each in prove(made).rolled)


def test_the_shoulder_of_a_short_dog_meets_the_plunger_before_the_floor() -> None:
    """Shoulder of radius 2 over a slot 3 wide in a round of 4: it meets the edges of the slot.

    Tip 1.35 long, reach 1.3: the shoulder starts 0.05 above the crown and meets the metal beside
    the slot first, where that is sqrt(16 - 1.5^2) high: 0.05 + 4 - 3.708 = 0.342 down. The floor
    is 0.5 down.
    """
    made = tool(
        {
            "slot.depth_mm": 1.8,
            "set_screw.gap_mm": 0.5,
            "set_screw.tip_length_mm": 1.35,
        }
    )
    (deep, _) = prove(made).deep
    assert deep.floor_mm == pytest.approx(0.5)
    assert deep.shoulder_first
    assert deep.free_mm == pytest.approx(0.05 + 4.0 - sqrt(16.0 - 1.5**2), abs=1e-3)
    assert deep.volume_mm3 > 0


@settings(max_examples=12, suppress_health_check=list(HealthCheck))
@given(silly_changes())
def test_a_silly_tool_is_proved_or_refused_but_crashes_nothing(changes: dict[str, Any]) -> None:
    try:
        made = design(parameters_from(changed(BASE, changes), "case"))
    except ProfileError:
        return
    try:
        proof = prove(made)
    except ExportError:
        return
    assert proof.stands == POSITIONS * 3 * len(made.orientations)
    assert len({each.pair for each in proof.collisions}) == len(proof.collisions)
    assert all(each.volume_mm3 > 0 for each in proof.collisions)


def test_equal_tools_give_equal_proofs() -> None:
    path = next(path for path in PROFILES if path.stem == "straight-16")
    table = tomllib.loads(path.read_text("utf-8"))
    once, again = (
        prove(design(parameters_from({**table, "name": "case"}, "case"))) for _ in range(2)
    )
    assert once == again


def test_sizes_are_named_once() -> None:
    names = [each.name for each in limit_sizes(tool())]
    assert len(set(names)) == len(names) == 3
    assert isinstance(limit_sizes(tool())[0], Sizes)
