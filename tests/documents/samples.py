"""Parts for the tests of the papers, put together by hand, not by the designer."""

from __future__ import annotations

from math import radians, tan

from generator.documents.part_notes import PartNotes, Runout
from generator.documents.title_block import Header
from generator.model.outline import Corner, Outline
from generator.model.part import CrossHole, DriverSlot, HexSocket, Part, Slot, Thread

STEEL = "steel 11SMn30"
DENSITY = 7.85
SLOPE = tan(radians(30))
DRILL_SLOPE = tan(radians(59))


def morse_body(
    *,
    bore: float = 8.0,
    nose: float = 20.0,
    nose_length: float = 24.0,
    screw: float = 16.0,
    extension: float = 0.0,
) -> Part:
    """Return a No. 2 Morse body: 17.780 at the gauge plane, 1:20.020 over 64 (ISO 296)."""
    gauge, end = nose_length + 5.0, nose_length + 69.0
    rate = 1 / 20.020

    def taper(z: float) -> float:
        return (17.780 - rate * (z - gauge)) / 2

    mouth, hole, rear = bore / 2 + 0.5, 8.5 / 2, 5.1
    corners = [
        Corner(0.0, nose / 2 - 1, "front face"),
        Corner(1.0, nose / 2, "nose chamfer"),
        Corner(nose_length, nose / 2, "nose"),
        Corner(nose_length, taper(nose_length), "shoulder"),
        Corner(end, taper(end), "taper"),
    ]
    if extension:
        corners += [Corner(end, 6.5, "rear shoulder"), Corner(end + extension, 6.5, "extension")]
        end += extension
    corners += [
        Corner(end, rear + 0.4, "rear face"),
        Corner(end - 0.3, rear + 0.4, "rear recess"),
        Corner(end - 0.3, rear, "rear recess floor"),
        Corner(end - 0.3 - (rear - hole) / SLOPE, hole, "rear bevel"),
        Corner(end - 27.5, hole, "rear thread"),
    ]
    if bore < 8.5:
        corners.append(
            Corner(end - 27.5 - (hole - bore / 2) / DRILL_SLOPE, bore / 2, "drill point")
        )
    corners += [
        Corner(0.3 + 0.5 / SLOPE, bore / 2, "bore"),
        Corner(0.3, mouth, "front bevel"),
        Corner(0.3, mouth + 0.4, "front recess floor"),
        Corner(0.0, mouth + 0.4, "front recess"),
    ]
    return Part(
        "body",
        "Body",
        Outline(tuple(corners), (("gauge plane", gauge),)),
        STEEL,
        DENSITY,
        (CrossHole("screw hole", screw, 3.3, "M4"),),
        (Thread("rear thread", "M10", "6H", 10.0, 8.376, 23.0, False),),
    )


def straight_body(*, diameter: float = 16.0, length: float = 73.0) -> Part:
    """Return a straight body without recesses or bevels, tapped in its own bore."""
    corners = (
        Corner(0.0, diameter / 2 - 1, "front face"),
        Corner(1.0, diameter / 2, "nose chamfer"),
        Corner(20.0, diameter / 2, "nose"),
        Corner(length - 1, diameter / 2, "shank"),
        Corner(length, diameter / 2 - 1, "rear chamfer"),
        Corner(length, 2.5, "rear face"),
        Corner(length - 12, 2.5, "rear thread"),
        Corner(0.0, 2.5, "bore"),
    )
    return Part(
        "body",
        "Body",
        Outline(corners),
        STEEL,
        DENSITY,
        (CrossHole("screw hole", 13.5, 2.5, "M3"),),
        (Thread("rear thread", "M6", "6H", 6.0, 4.917, 9.0, False),),
    )


def plunger(
    *,
    diameter: float = 8.0,
    length: float = 62.0,
    slot: tuple[float, float, float, float] = (23.75, 14.5, 3.0, 1.6),
    front: str = "point",
    rear: str = "countersink",
) -> Part:
    """Return a plunger with a point, a countersink or a plain end at either end."""
    r = diameter / 2
    ahead, inner_ahead = _end("front", front, r)
    behind, inner_behind = _end("rear", rear, r)
    corners = list(ahead)
    before = "guide"
    for corner in reversed(behind):
        corners.append(Corner(length - corner.z_mm, corner.r_mm, before))
        before = corner.surface
    before = "rear face"
    for corner in reversed(inner_behind):
        corners.append(Corner(length - corner.z_mm, corner.r_mm, before))
        before = corner.surface
    corners += inner_ahead
    return Part(
        "plunger", "Plunger", Outline(tuple(corners)), STEEL, DENSITY, (Slot("slot", *slot),)
    )


def _end(name: str, style: str, r: float) -> tuple[list[Corner], list[Corner]]:
    """Return the outer corners and the inner ones of an end, from its face inward and back."""
    if style == "point":
        return [
            Corner(0.0, 0.2, f"{name} flat"),
            Corner((r - 0.2) / SLOPE, r, f"{name} point"),
        ], [Corner(0.0, 0.0, "axis")]
    outer = [Corner(0.0, r - 0.3, f"{name} face"), Corner(0.3, r, f"{name} chamfer")]
    if style == "plain":
        return outer, [Corner(0.0, 0.0, "axis")]
    mouth, pilot = r - 0.5, r / 3
    cone = (mouth - pilot) / SLOPE
    return outer, [
        Corner(cone + 2 + pilot / DRILL_SLOPE, 0.0, "axis"),
        Corner(cone + 2, pilot, f"{name} pilot point"),
        Corner(cone, pilot, f"{name} pilot"),
        Corner(0.0, mouth, f"{name} countersink"),
    ]


def plug(*, diameter: float = 10.0, length: float = 8.0, hexagon: bool = False) -> Part:
    """Return a plug with a vent and a driver."""
    r, edge, vent = diameter / 2, diameter / 10, diameter / 10
    corners = (
        Corner(0.0, r - edge, "front face"),
        Corner(edge, r, "front chamfer"),
        Corner(length - edge, r, "thread"),
        Corner(length, r - edge, "rear chamfer"),
        Corner(length, vent, "rear face"),
        Corner(0.0, vent, "vent"),
    )
    cut = (
        HexSocket("driver", diameter / 2, length / 2)
        if hexagon
        else DriverSlot("driver", diameter * 0.16, length / 4)
    )
    thread = Thread("thread", "M10", "6g", diameter, 0.85 * diameter, length, True)
    return Part("plug", "Plug", Outline(corners), STEEL, DENSITY, (cut,), (thread,))


def button(*, diameter: float = 7.7, thickness: float = 2.0, recess: float = 0.0) -> Part:
    """Return a spring button with a vent, recessed where asked."""
    corners = [
        Corner(0.0, diameter / 2, "front face"),
        Corner(thickness, diameter / 2, "rim"),
        Corner(thickness, 0.75, "rear face"),
    ]
    if recess:
        corners.append(Corner((recess / 2 - 0.75) / SLOPE, 0.75, "vent"))
        corners.append(Corner(0.0, recess / 2, "recess"))
    else:
        corners.append(Corner(0.0, 0.75, "vent"))
    return Part("button", "Button", Outline(tuple(corners)), STEEL, DENSITY)


def header(title: str, **more: tuple[str, ...]) -> Header:
    """Return the header of a sheet."""
    return Header("MT2 tap follower", title, "B", "0123456789ab", **more)  # type: ignore[arg-type]  # names of the two tuples only


def body_notes(part: Part) -> PartNotes:
    """Return the notes of a body with everything on it that a body can carry."""
    datum = "taper" if part.outline.has("taper") else "shank"
    return PartNotes(
        part,
        "bar Ø22 x 100",
        1,
        {"bore": "H7 (+0.015/0)", "screw hole": "±0.1", "overall": "±0.2"},
        {"bore": 0.8, datum: 0.8},
        {"bore": Runout(0.02, datum)},
        ("Bore after the taper, in the spindle socket.",),
    )


def plunger_notes(part: Part) -> PartNotes:
    """Return the notes of a plunger."""
    ends = [s.surface for s in part.outline.segments() if s.surface.endswith((" point", "sink"))]
    worked = [name for name in ends if "pilot" not in name]
    return PartNotes(
        part,
        "ground bar Ø8 h8 x 64",
        1,
        {"guide": "h8 (0/-0.022)", "slot length": "+0.1/0", "slot depth": "+0.1/0"},
        {"guide": 0.8, **dict.fromkeys(worked, 0.8)},
        {name: Runout(0.02, "guide") for name in worked},
        ("Harden the working ends only, temper straw.",),
    )
