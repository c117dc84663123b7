"""What is measured on the body: its mount, its bore, its screw hole, its threads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan, ceil, floor, sin
from typing import Final

from generator.formulas import gauging, taper
from generator.making.line import Line, general, reading, truth
from generator.making.sizes import STAND_OUT_MM, Size, span_of
from generator.model import keeping, parts
from generator.model.milled import key_width, milled, over_flat
from generator.model.shank import shank_of
from generator.model.tool import Tool, trued_mm
from generator.standards.rows import Thread
from generator.units import number, shown
from generator.use.bands import Span

ROLLERS_MM: Final = (3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0)
"""Dowel pins or bearing rollers that serve; common practice, no source."""

TAPER_OFF_MM: Final = 0.01
"""What a taper may be off on the diameter over its length; engineering judgement. Bluing shows
it."""

CLEAR_MM: Final = 1.0
"""What a roller keeps from the ends of the taper."""

BLOCK_STEP_MM: Final = 5.0
SQUARE_MM: Final = 0.1
"""What a pin in the screw hole may lean over 10 mm; engineering judgement."""


@dataclass(frozen=True, slots=True)
class Rollers:
    """How a taper is measured over two rollers, the body on its rear face.

    Attributes:
        roller_mm: Diameter of each roller.
        low_mm: Gauge blocks under both for the first reading.
        high_mm: Gauge blocks for the second.
        gauge_mm: Height of the gauge plane.
        diameter_mm: Diameter at the gauge plane.
        taper: Taper on the diameter.
        length_mm: From the gauge plane to the small end.
    """

    roller_mm: float
    low_mm: float
    high_mm: float
    gauge_mm: float
    diameter_mm: float
    taper: float
    length_mm: float

    def reads_mm(
        self, blocks_mm: float, *, gauge_mm: float, diameter_mm: float, taper_off: float = 0.0
    ) -> float:
        """Return what the micrometer reads over both rollers on blocks of a height."""
        rate = self.taper + taper_off
        at_axes_mm = taper.diameter_at_mm(
            gauge_diameter_mm=diameter_mm,
            taper=rate,
            distance_mm=gauge_mm - blocks_mm - self.roller_mm / 2,
        )
        return gauging.over_rollers_mm(diameter_mm=at_axes_mm, roller_mm=self.roller_mm, taper=rate)


def rollers(tool: Tool) -> Rollers | None:
    """Return rollers and blocks that reach as far along the taper as they can.

    None for a straight shank, and where the taper is too short for two places.
    """
    p = tool.parameters
    shank = shank_of(p.mount)
    cone = shank.taper
    if cone is None:
        return None
    behind_mm = shank.cylinder.length_mm if shank.cylinder else 0.0
    gauge_mm = behind_mm + cone.length_mm
    wanted_mm = cone.gauge_diameter_mm / 2
    roller_mm = max((each for each in ROLLERS_MM if each <= wanted_mm), default=ROLLERS_MM[0])
    dip_mm = roller_mm / 2 * (1 - sin(atan(cone.rate / 2)))
    start_mm = behind_mm + (0.0 if behind_mm else p.body.edge_mm) + CLEAR_MM - dip_mm
    low_mm = max(0.0, ceil(start_mm / BLOCK_STEP_MM) * BLOCK_STEP_MM)
    room_mm = gauge_mm + cone.stand_out_mm - CLEAR_MM - roller_mm
    high_mm = floor(room_mm / BLOCK_STEP_MM) * BLOCK_STEP_MM
    if not high_mm > low_mm:
        return None
    return Rollers(
        roller_mm, low_mm, high_mm, gauge_mm, cone.gauge_diameter_mm, cone.rate, cone.length_mm
    )


def body_lines(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on the body."""
    p = tool.parameters
    shank = shank_of(p.mount)
    yield from _mount(tool, known)
    yield Line.of(known["nose_diameter_mm"], "micrometer")
    step = "shoulder" if p.body.nose_diameter_mm > shank.diameter_mm else "end of the nose"
    if tool.body.outline.has("shoulder") or shank.taper:
        yield Line.of(known["nose_length_mm"], f"depth gauge, nose face to {step}")
    yield Line.of(known["body_length_mm"], "calipers over both faces")
    if p.bush is not None:
        yield from _seat_of_a_bush(tool, known)
    else:
        yield from _bore(tool, known)
    yield from _pocket(tool, known)
    yield from _hole_across(tool, known)
    yield from _rear_thread(tool, known)
    yield from _blind(tool, known)
    yield from _milled(tool)


def _bore(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on the reamed bore of the body."""
    p, bore = tool.parameters, known["bore_mm"]
    through = "goes right through" if p.disc is None else "goes in to the bottom"
    if p.shoulder is not None:
        through = "goes in to the pocket"
    yield Line.of(
        bore,
        f"pin {number(bore.limits.least)} {through}, pin {number(bore.limits.greatest)} "
        "goes in nowhere; else the finished bar itself",
    )
    if p.body.bevel_mm > 0:
        mouth_mm = p.bore.diameter_mm + p.body.bevel_mm
        yield Line("mouth of the front bevel", general(p, mouth_mm), "calipers, magnifier")
    yield from run_out(tool, known)


def _seat_of_a_bush(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured in a nose that takes a bush."""
    p, register = tool.parameters, known["register_mm"]
    assert p.bush is not None
    yield Line.of(
        register,
        f"pin or plug gauge {number(register.limits.least, 3)} goes in to the floor, "
        f"{number(register.limits.greatest, 3)} goes in nowhere; else the finished spigot",
    )
    yield Line.of(known["register_depth_mm"], "depth gauge from the nose face")
    row, full = Thread.find(p.bush.thread), known["nose_thread_mm"]
    yield Line.of(
        full,
        "a depth gauge past the last full turn; or the turns that the bush goes in, and what is "
        "left before it",
        Span(
            *(
                each / row.pitch_mm
                for each in (full.limits.least, full.limits.nominal, full.limits.greatest)
            )
        ),
        reading_unit="turns",
    )
    if p.body.bevel_mm > 0:
        mouth_mm = p.bush.register_mm + p.body.bevel_mm
        yield Line("mouth of the front bevel", general(p, mouth_mm), "calipers, magnifier")
    yield Line(
        "run-out of the register",
        Span(0.0, 0.0, trued_mm(tool)),
        "body in its mount, lever indicator in the register, spindle turned by hand: the whole "
        "swing",
    )
    yield truth("nose face square", "blued flange turned on it: blue all round")


def _milled(tool: Tool) -> Iterator[Line]:
    """Yield what is measured on the flats of a shank, or on the slot for a key."""
    p, cut, over, wide = tool.parameters, milled(tool), over_flat(tool), key_width(tool)
    if cut is None:
        return
    rear_mm = tool.body.outline.length_mm - cut.rear_mm
    if over is not None:
        far = "other flat" if cut.both else "far side"
        yield Line(f"flat to {far}", span_of(over), "micrometer")
        yield Line("flat, length", general(p, cut.length_mm), "calipers between its ends")
        yield Line("flat, from the rear face", general(p, rear_mm), "calipers, to its near end")
        yield truth("flat clear", "no burr: the shank slides through a ring or its own collet")
    if wide is not None:
        yield Line("key slot, width", span_of(wide), "gauge blocks or the key: slides, no rock")
        deep_mm = 2 * cut.floor_mm(tool.body.outline) + cut.depth_mm
        yield Line(
            "key slot, floor to far side",
            general(p, deep_mm),
            "micrometer over a rod lying in the slot, less the rod",
        )
        yield Line("key slot, length", general(p, cut.length_mm), "calipers from the rear face")
        yield truth("key slot clear", "no burr: the body slides into a ring or into its spindle")


def _mount(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    if "shank_diameter_mm" in known:
        yield Line.of(known["shank_diameter_mm"], "micrometer, at both ends and across")
    if "stand_out_mm" not in known:
        return
    yield from _over_rollers(tool)
    yield truth(
        "taper by bluing",
        "thin blue in its own socket, an eighth of a turn: blue over three quarters of the length "
        "or more, heavier at the large end, never at the small end alone",
    )
    yield Line.of(
        known["stand_out_mm"],
        "knocked home in its socket: gauge blocks or feelers between the socket's face and the "
        "shoulder",
    )
    behind = shank_of(tool.parameters.mount).cylinder
    if behind is not None and behind.surface == "parallel body" and behind.limits is not None:
        yield Line(
            "parallel body, diameter", span_of(behind.limits), "micrometer, at both ends and across"
        )
    if "extension_diameter_mm" in known:
        yield Line.of(known["extension_diameter_mm"], "micrometer")


def _over_rollers(tool: Tool) -> Iterator[Line]:
    """Yield the two readings over rollers and their difference, which is the angle."""
    setup = rollers(tool)
    if setup is None:
        return
    off_mm = STAND_OUT_MM * setup.taper
    diameter = Span(setup.diameter_mm - off_mm, setup.diameter_mm, setup.diameter_mm + off_mm)
    height = general(tool.parameters, setup.gauge_mm)
    half_deg = taper.half_angle_deg(taper=setup.taper)
    for name, blocks_mm in (("low", setup.low_mm), ("high", setup.high_mm)):
        at_mm = setup.gauge_mm - blocks_mm - setup.roller_mm / 2
        span = Span(
            *(
                taper.diameter_at_mm(gauge_diameter_mm=each, taper=setup.taper, distance_mm=at_mm)
                for each in (diameter.least, diameter.nominal, diameter.greatest)
            )
        )
        stands = f"on {number(blocks_mm)} mm of gauge blocks" if blocks_mm else "on the plate"
        yield Line(
            f"taper, {name} down" if name == "low" else "taper, high up",
            span,
            f"body on its rear face, a roller of {number(setup.roller_mm)} mm either side "
            f"{stands}; micrometer over both",
            reading(
                lambda gauge_mm, diameter_mm, at=blocks_mm: setup.reads_mm(
                    at, gauge_mm=gauge_mm, diameter_mm=diameter_mm
                ),
                gauge_mm=height,
                diameter_mm=diameter,
            ),
        )
    apart_mm = setup.high_mm - setup.low_mm
    rate_off = TAPER_OFF_MM / setup.length_mm

    def gained_mm(taper_off: float) -> float:
        low_mm, high_mm = (
            setup.reads_mm(
                each,
                gauge_mm=setup.gauge_mm,
                diameter_mm=setup.diameter_mm,
                taper_off=taper_off,
            )
            for each in (setup.low_mm, setup.high_mm)
        )
        return high_mm - low_mm

    gained = reading(gained_mm, taper_off=Span(-rate_off, 0.0, rate_off))
    angles = (
        gauging.half_angle_over_rollers_deg(
            apart_mm=apart_mm, low_mm=setup.diameter_mm, high_mm=setup.diameter_mm + each
        )
        for each in (gained.least, gained.nominal, gained.greatest)
    )
    yield Line(
        "taper, half angle",
        Span(*angles),
        f"the difference of the two readings, {shown(apart_mm, 'mm')} apart; "
        f"{number(half_deg, 4)}° is right",
        gained,
        unit="deg",
    )


def run_out(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield the run-out of the bore that guides: that of the body, or of the bush screwed home."""
    held = (
        "in collet or chuck" if shank_of(tool.parameters.mount).taper is None else ("in its socket")
    )
    how = f"tool {held}, close pin in the bore, indicator on the pin, spindle turned by hand"
    yield Line.of(known["runout_nose_mm"], f"{how}, at the nose: the whole swing")
    yield Line.of(known["runout_50_mm"], "the same 50 mm out of the nose")


def _pocket(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on the pocket behind a step, or behind a nose bush."""
    if "pocket_mm" not in known:
        return
    pocket = known["pocket_mm"]
    if tool.bush is not None:
        yield Line.of(
            pocket,
            f"pin {number(pocket.limits.least)} goes in from the nose as far as the plug; else the "
            "head itself, free",
        )
        return
    yield Line.of(
        pocket,
        f"pin {number(pocket.limits.least)} goes in from the rear to the step; else the head "
        "itself, free",
    )
    yield Line.of(
        known["guide_length_mm"],
        "a bar in from the rear against the step, marked at the nose face, out and measured; or "
        "depth gauge from both ends",
    )
    yield truth("step square and sharp", "blued head turned against it: blue all round")


def _hole_across(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on the hole for the screw or the pin."""
    p = tool.parameters
    if p.slot is None:
        return
    if p.set_screw is not None:
        row = Thread.find(p.set_screw.thread)
        pin_mm, size = row.tapping_drill_mm, known["screw_position_mm"]
        hole, shank = "screw hole", f"shank of a {number(pin_mm)} mm drill in the tapped hole"
    else:
        pin_mm, size = keeping.hole_mm(p), known["pin_position_mm"]
        hole, shank = "pin hole", "the pin, or a drill's shank of its size, in the hole"
    yield Line.of(
        size,
        f"{shank}, pushed away from the nose face; calipers over nose face and shank",
        reading(lambda place_mm: place_mm + pin_mm / 2, place_mm=size.limits),
    )
    yield Line(
        f"{hole} square",
        Span(0.0, 0.0, SQUARE_MM),
        "the same shank against a small square on the nose: gap over 10 mm",
    )
    if p.set_screw is not None:
        yield truth("screw thread", f"a bought {row.name} screw enters by hand, all the way")
    else:
        yield truth("pin hole, size", "the pin enters by light taps, not by hand and not by blows")


def _rear_thread(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    p = tool.parameters
    if p.plug is None:
        return
    row = Thread.find(p.plug.thread)
    hole_mm = parts.rear_hole_depth_mm(p)
    size = known["rear_thread_mm"]
    full = size.limits
    yield Line.of(
        size,
        f"a bought {row.name} screw enters by hand; count its turns",
        Span(*(each / row.pitch_mm for each in (full.least, full.nominal, full.greatest))),
        reading_unit="turns",
    )
    if tool.body.outline.has("drill point"):
        yield Line("hole for the rear thread", general(p, hole_mm), "depth gauge, to the full bore")


def _blind(tool: Tool, known: dict[str, Size]) -> Iterator[Line]:
    """Yield what is measured on a blind bore, on the tang or on the socket behind it."""
    p, shank = tool.parameters, shank_of(tool.parameters.mount)
    if p.disc is None:
        return
    yield Line.of(known["bottom_mm"], "the disc itself on a rod, pushed home; less its thickness")
    what = "air blows through from the bore" if p.disc.vent == "rear" else "a wire meets the bore"
    yield truth("vent", f"drill shank Ø{number(p.disc.vent_mm)} goes in; {what}")
    if shank.tang is not None:
        thick_mm = shank.tang.thickness_mm
        least_mm = thick_mm - shank.tang.thickness_tolerance_mm
        yield Line("thickness of the tang", Span(least_mm, thick_mm, thick_mm), "micrometer")
        yield truth("tang", "its middle on the axis: turned half round on the plate it reads alike")
    socket = shank.socket
    if socket is None:
        return
    if socket.thread is None:
        yield truth(
            "socket by bluing",
            "thin blue on the arbor, an eighth of a turn: blue over three quarters of the length "
            "or more, heavier at the mouth",
        )
        yield truth("arbor's end", "clear of the socket's floor: a dab of grease there stays whole")
    else:
        yield truth("arbor thread", "goes on by hand to the shoulder, and sits there without rock")
    if socket.register_mm > 0:
        yield Line("register", general(p, socket.register_mm), "the arbor's own register slides in")
