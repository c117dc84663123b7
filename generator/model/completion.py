"""Filling in what the user left out, each value from the ones before it."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor, isnan, nan, pi
from typing import TypeVar, cast

from generator.formulas import coils, cone, expansion, slot, spring
from generator.inputs.parameters import Parameters
from generator.inputs.quantities import DERIVED_TEXT, SHORTEST_MM, is_derived
from generator.inputs.screwed_tips import OVER_THREAD_MM
from generator.inputs.shop import FollowedTap, TapEnd
from generator.inputs.tables import (
    ArborTaperMount,
    ArborThreadMount,
    BallTip,
    BlankTip,
    CombinedMount,
    CountersinkTip,
    DrawbarMount,
    EjectedMount,
    HalfCentreTip,
    InnerSpring,
    Mount,
    OwnDrawbarMount,
    OwnEjectedMount,
    R8Mount,
    ScrewPoint,
    StraightMount,
    TangMount,
    Tip,
)
from generator.model import bush as bushes
from generator.model import screwed
from generator.model.holder import holder_of
from generator.model.keeping import PIN_SUNK_MM, across_mm, hole_mm, out_mm, position_mm, travel_mm
from generator.model.mouths import CHAMFER_TURNS, RIM_MM, bevel_depth_mm
from generator.model.parts import (
    blind_end_mm,
    front_bevel_mm,
    plug_face_mm,
    plunger_ends,
    pocket_mm,
    second_plug_mm,
)
from generator.model.shank import drawbar_thread_of, shank_of, socket_of, taper_of
from generator.model.springs import used
from generator.standards.bands import SpringWire, TapHandling
from generator.standards.limits import Limit
from generator.standards.mounts import ChuckThread, ShankFlat
from generator.standards.rows import Ball, SetScrew, Tap, Thread, WorkProperties

ROOM_FOR_AIR_MM = 3.0
LOOSE_DISC_MM = 0.3
GRIP_BEHIND_TAP_MM = 25.0
DRIVE_SHARE = 0.25
JAM_SCREW_TURNS = 2.5
DEPTH_DIAMETERS = 1.5
BALL_SHARE = 0.5
PILOT_SHARE = 0.4
"""Of the ball; with a right-angled seat it then clears the pilot hole."""
CLEAR_PITCHES = 2.0
CLEAR_OF_NOSE_MM = 2.0
FREE_OF_SOCKET_MM = 0.6
GRIP_DIAMETERS = 3
BEHIND_GRIP_MM = 2.0
FLAT_DEPTH_SHARE = 0.09
FLAT_LENGTH_SHARE = 0.55
"""Of the shank: what DIN 6535 HB comes to in the middle of its range."""
ZONED_MM = 50.0
"""Up to here zones are tabulated."""
SHORT_NOSE_MM = 8.0
GUIDE_DIAMETERS = 2.5
HEAD_PLAY_MM = 0.3
TAIL_PLAY_MM = 1.0
LEAST_TAIL_MM = 1.0
PIN_SHORT_MM = 0.3
BUSH_TURNS = 6.0
BUSH_PITCH_MM = 1.0
BUSH_CONTACT_MM = 3.0
FLANGE_SEAT_MM = 1.5
FLANGE_SHORT_MM = 2.0
BEHIND_BUSH_MM = 1.0
LEFT_WHEN_GROWN_MM = 1.0
SPIGOT_SHARE = 0.6
LEAST_SPIGOT_MM = 2.0
STUD_DIAMETERS = 1.5
AHEAD_MM = 1.0
FLATS_SHARE = 0.92
FLATS_LENGTH_SHARE = 0.4
READING_MM = {"eye": 0.05, "feel": 0.03, "indicator": 0.01}
"""How far a reading may be off; engineering judgement."""
FORM_MM = {"hole": 0.01, "punch mark": 0.05}
"""How far a rim lies off the place it stands for; engineering judgement."""

Value = TypeVar("Value", float, str)
AnySpring = TypeVar("AnySpring", bound=InnerSpring)


def given(value: Value, otherwise: Value) -> Value:
    """Return a value that the user gave, else the derived one."""
    return otherwise if is_derived(value) else value


def up(value: float, step: float) -> float:
    """Return a value raised to a whole number of steps.

    Example:
        >>> up(12.3, 0.5), up(12.5, 0.5), up(0.1 + 0.2, 0.1)
        (12.5, 12.5, 0.3)
    """
    return round(ceil(value / step - 1e-9) * step, 6)


def down(value: float, step: float) -> float:
    """Return a value lowered to a whole number of steps."""
    return round(floor(value / step + 1e-9) * step, 6)


def complete(p: Parameters) -> Parameters:
    """Return the parameters with every derivable key filled in.

    The order of the steps is the order in which a maker settles them: plunger and bore, screw and
    slot, plunger length, nose, mount, plug, small parts.

    Raises:
        StandardError: If a size is not tabulated.
    """
    for step in (
        _fits,
        _tips,
        _screwed,
        _screw_tip,
        _slot_section,
        _crossing_position,
        _lengths,
        _bush,
        _head,
        _disc,
        _nose,
        _mount,
        _plug,
        _crossing_length,
        _small_parts,
        _springs,
        _tail,
        _tap_reach,
        _taps,
        _holes,
        _found,
        _supported,
        _alignment,
    ):
        p = step(p)
    return p


def _fits(p: Parameters) -> Parameters:
    bore = replace(p.bore, diameter_mm=given(p.bore.diameter_mm, p.plunger.diameter_mm))
    if bore.limits_um is None:
        bore = replace(bore, tolerance=given(bore.tolerance, "H7"))
    plunger = p.plunger
    if plunger.limits_um is None:
        plunger = replace(plunger, tolerance=given(plunger.tolerance, "h8"))
    return replace(p, bore=bore, plunger=plunger)


def _tips(p: Parameters) -> Parameters:
    """Fill in the ends of the plunger, and those of the tips that screw into it."""
    stem_mm, tips = p.plunger.diameter_mm, p.screwed_tips
    front_mm = stem_mm
    if tips is not None:
        front_mm = given(tips.diameter_mm, stem_mm)
        spare = tuple(_formed(tip, front_mm) for tip in tips.spare)
        tips = replace(tips, diameter_mm=front_mm, spare=spare)
    front, rear = _formed(p.plunger.front, front_mm), _formed(p.plunger.rear, stem_mm)
    return replace(p, plunger=replace(p.plunger, front=front, rear=rear), screwed_tips=tips)


def _formed(tip: Tip, diameter_mm: float) -> Tip:
    """Return an end of a diameter with its form filled in."""
    if isinstance(tip, BlankTip):
        sharp_mm = cone.cone_length_mm(diameter_mm=diameter_mm, flat_mm=0.0, angle_deg=60.0)
        return replace(tip, stock_mm=given(tip.stock_mm, up(sharp_mm, 0.5)))
    if isinstance(tip, HalfCentreTip):
        return _relieved(tip, diameter_mm)
    if isinstance(tip, BallTip):
        return _seated(tip, diameter_mm)
    if not isinstance(tip, CountersinkTip):
        return tip
    pilot = given(tip.pilot_mm, max(0.5, down(diameter_mm / 4 + 0.25, 0.5)))
    return replace(
        tip,
        mouth_mm=given(tip.mouth_mm, down(0.87 * diameter_mm, 0.1)),
        pilot_mm=pilot,
        pilot_depth_mm=given(tip.pilot_depth_mm, pilot),
    )


def _screwed(p: Parameters) -> Parameters:
    """Settle the joint of screwed tips, and how long they are: room for the longest of them."""
    asked = p.screwed_tips
    if asked is None:
        return p
    row = Thread.find(asked.thread)
    register_mm = given(asked.register_mm, row.major_mm + OVER_THREAD_MM)
    spigot_mm = given(
        asked.register_length_mm, up(max(LEAST_SPIGOT_MM, SPIGOT_SHARE * register_mm), 0.5)
    )
    turns = screwed.STUD_RUN_OUT_TURNS + CHAMFER_TURNS
    thin_mm = min(p.plunger.diameter_mm, asked.diameter_mm)
    flats_mm = max(down(FLATS_SHARE * thin_mm, 0.5), SHORTEST_MM)
    tips = replace(
        asked,
        register_mm=register_mm,
        register_length_mm=spigot_mm,
        stud_mm=given(asked.stud_mm, up(STUD_DIAMETERS * row.major_mm + turns * row.pitch_mm, 0.5)),
        flats_mm=given(asked.flats_mm, flats_mm),
        flats_length_mm=given(
            asked.flats_length_mm, up(FLATS_LENGTH_SHARE * p.plunger.diameter_mm, 0.5)
        ),
    )
    ends = screwed.tip_ends(replace(p, screwed_tips=tips))
    behind, whole = (
        Limit.find(name).warn
        for name in ("metal behind the hollow of a tip", "round metal before the flats of a tip")
    )
    length_mm = max(
        max(end.inner_mm + behind, end.outer_mm + tips.flats_length_mm + whole) for end in ends
    )
    return replace(
        p,
        screwed_tips=replace(
            tips,
            length_mm=given(asked.length_mm, up(length_mm, 0.5)),
            tapped_mm=given(asked.tapped_mm, up(screwed.stud_deep_mm(tips) + AHEAD_MM, 0.5)),
        ),
    )


def _relieved(tip: HalfCentreTip, diameter_mm: float) -> HalfCentreTip:
    """Return a half centre with its side flat clear of the tip and past the cone."""
    flat_mm = min(tip.flat_mm, diameter_mm)
    cone_mm = cone.cone_length_mm(diameter_mm=diameter_mm, flat_mm=flat_mm, angle_deg=tip.angle_deg)
    relief_mm = up(max(0.1 * diameter_mm, flat_mm / 2 + 0.1), 0.1)
    return replace(
        tip,
        relief_mm=given(tip.relief_mm, relief_mm),
        relief_length_mm=given(tip.relief_length_mm, up(cone_mm + diameter_mm / 4, 0.5)),
    )


def _seated(tip: BallTip, diameter_mm: float) -> BallTip:
    """Return a ball with its seat, whose flank it touches half way from pilot to mouth."""
    row = Ball.largest(BALL_SHARE * diameter_mm)
    ball_mm = given(tip.ball_mm, row.diameter_mm if row else BALL_SHARE * diameter_mm)
    pilot_mm = given(tip.pilot_mm, max(0.5, down(PILOT_SHARE * ball_mm, 0.5)))
    return replace(
        tip,
        ball_mm=ball_mm,
        mouth_mm=given(tip.mouth_mm, ball_mm),
        pilot_mm=pilot_mm,
        pilot_depth_mm=given(tip.pilot_depth_mm, pilot_mm),
    )


def _screw_tip(p: Parameters) -> Parameters:
    asked = p.set_screw
    if asked is None:
        return p
    row = {screw.name: screw for screw in SetScrew.rows()}.get(asked.thread)
    if row is None:
        return p
    tip_mm = row.tip_mm(asked.point) if is_derived(asked.tip_mm) else asked.tip_mm
    major_mm = Thread.find(asked.thread).major_mm
    length_mm = asked.tip_length_mm
    if is_derived(length_mm):
        length_mm = _tip_length_mm(row, asked.point, tip_mm, major_mm)
    return replace(p, set_screw=replace(asked, tip_mm=tip_mm, tip_length_mm=length_mm))


def _tip_length_mm(row: SetScrew, point: ScrewPoint, tip_mm: float, major_mm: float) -> float:
    """Return the shortest tip the standard allows, or the length of a 45 degree flank."""
    match point:
        case "dog short":
            return row.dog_short_least_mm
        case "dog long":
            return row.dog_long_least_mm
        case _:
            return (major_mm - tip_mm) / 2


def _slot_section(p: Parameters) -> Parameters:
    """Settle form, width and depth of the slot."""
    if p.pin_and_slot is not None:
        pin, asked = p.pin_and_slot
        width_mm = given(asked.width_mm, up(pin.diameter_mm + 0.1, 0.1))
        return replace(
            p,
            slot=replace(asked, form="through", width_mm=width_mm, depth_mm=p.plunger.diameter_mm),
        )
    if p.screw_and_slot is None:
        return p
    screw, asked = p.screw_and_slot
    diameter_mm = p.plunger.diameter_mm
    bearing_mm = Limit.find("side engagement of the screw tip").warn
    if given(asked.form, "slot") == "flat":
        depth_mm = given(asked.depth_mm, up(max(screw.gap_mm + bearing_mm, 0.2 * diameter_mm), 0.1))
        chord_mm = slot.chord_mm(diameter_mm=diameter_mm, depth_mm=min(depth_mm, diameter_mm))
        return replace(p, slot=replace(asked, depth_mm=depth_mm, width_mm=chord_mm))
    guess_mm = given(asked.width_mm, up(screw.tip_mm + 0.1, 0.5))
    walls_mm = slot.side_wall_start_mm(diameter_mm=diameter_mm, width_mm=min(guess_mm, diameter_mm))
    depth_mm = given(
        asked.depth_mm,
        up(max(walls_mm + screw.gap_mm + bearing_mm, 0.2 * diameter_mm), 0.1),
    )
    settled = replace(asked, form="slot", width_mm=guess_mm, depth_mm=depth_mm)
    tip_mm = min(across_mm(replace(p, slot=settled)), Thread.find(screw.thread).major_mm)
    width_mm = given(asked.width_mm, up(tip_mm + 0.1, 0.5))
    return replace(p, slot=replace(settled, width_mm=width_mm))


def _crossing_position(p: Parameters) -> Parameters:
    """Settle where the screw or the pin stands, so that the slot stays inside the nose."""
    if p.slot is None:
        return p
    stop_mm = across_mm(p)
    land_mm = Limit.find("land in front of the slot").warn
    place_mm = up(max(travel_mm(p), 0.0) + stop_mm / 2 + land_mm, 0.5)
    screw, pin = p.set_screw, p.cross_pin
    if screw is not None:
        screw = replace(screw, position_mm=given(screw.position_mm, place_mm))
    if pin is not None:
        pin = replace(pin, position_mm=given(pin.position_mm, place_mm))
    return replace(p, set_screw=screw, cross_pin=pin)


def _lengths(p: Parameters) -> Parameters:
    """Settle the length of a plain plunger and where its slot lies.

    The slot lies between ends that are alike, a ball counted in to a quarter of a millimetre.
    """
    asked, (front, rear) = p.slot, plunger_ends(p)
    if asked is None:
        return p
    ball_mm, uneven_mm = (
        round(4 * each) / 4 for each in (front.stands_mm, front.stands_mm - rear.stands_mm)
    )
    if is_derived(p.plunger.length_mm):
        stands_out = max(end.outer_mm + end.stands_mm for end in (front, rear)) + CLEAR_OF_NOSE_MM
        over_mm = up(max(position_mm(p) - across_mm(p) / 2 + stands_out, 1.0), 0.25)
        front_mm = given(asked.front_mm, over_mm - ball_mm)
        length_mm = 2 * front_mm + asked.length_mm + uneven_mm
    else:
        length_mm = p.plunger.length_mm
        front_mm = given(asked.front_mm, (length_mm - asked.length_mm - uneven_mm) / 2)
    return replace(
        p,
        plunger=replace(p.plunger, length_mm=length_mm),
        slot=replace(asked, front_mm=front_mm),
    )


def _bush(p: Parameters) -> Parameters:
    """Settle thread, register and flange of the nose bush."""
    asked = p.bush
    if asked is None or p.shoulder is None:
        return p
    thread = given(asked.thread, _bush_thread(p.shoulder.pocket_mm))
    register_mm = given(asked.register_mm, up(Thread.find(thread).major_mm + 1.0, 0.5))
    long_mm = BUSH_CONTACT_MM + bushes.SPIGOT_EDGE_MM + bevel_depth_mm(p)
    rim_mm = register_mm + p.body.bevel_mm + (2 * RIM_MM if p.body.recess_mm > 0 else 0.0)
    flange_mm = given(asked.flange_diameter_mm, up(rim_mm + 2 * FLANGE_SEAT_MM, 1.0))
    return replace(
        p,
        bush=replace(
            asked,
            thread=thread,
            register_mm=register_mm,
            register_length_mm=given(asked.register_length_mm, up(long_mm, 0.5)),
            flange_diameter_mm=flange_mm,
            flats_mm=given(
                asked.flats_mm, max(down(flange_mm - FLANGE_SHORT_MM, 1.0), SHORTEST_MM)
            ),
        ),
    )


def _bush_thread(pocket_mm: float) -> str:
    """Return the smallest fine thread of a pitch worth cutting in which a pocket is no too wide.

    Of several as large the finest, since it leaves most of the bush.
    """
    fine = [row for row in Thread.rows() if row.series == "fine" and row.pitch_mm >= BUSH_PITCH_MM]
    fitting = [row for row in fine if row.minor_greatest_mm >= pocket_mm] or fine[-1:]
    return min(fitting, key=lambda row: (row.major_mm, row.pitch_mm)).name


def _head(p: Parameters) -> Parameters:
    """Settle head and guide of a shouldered plunger."""
    asked = p.shoulder
    if asked is None:
        return p
    head_mm = given(asked.head_diameter_mm, max(asked.pocket_mm - HEAD_PLAY_MM, SHORTEST_MM))
    guide_mm = GUIDE_DIAMETERS * p.plunger.diameter_mm + front_bevel_mm(p) - bushes.flange_mm(p)
    if p.bush is not None:
        turns_mm = BUSH_TURNS * Thread.find(p.bush.thread).pitch_mm
        edge_mm = bushes.thread_edge_mm(p.bush)
        guide_mm = max(guide_mm, bushes.before_thread_mm(p.bush) + turns_mm + edge_mm)
    return replace(
        p,
        shoulder=replace(
            asked,
            guide_mm=given(asked.guide_mm, up(guide_mm, 0.5)),
            head_diameter_mm=head_mm,
            head_length_mm=given(asked.head_length_mm, up(max(3.0, head_mm / 2), 0.5)),
        ),
    )


def _tail(p: Parameters) -> Parameters:
    """Settle stem, tail and length of a shouldered plunger: the tail meets the plug."""
    asked = p.shoulder
    if asked is None:
        return p
    behind_mm = plug_face_mm(p) - asked.guide_mm - asked.head_length_mm
    if is_derived(asked.travel_mm):
        stroke_mm, tail_mm = behind_mm - asked.tail_length_mm, asked.tail_length_mm
    else:
        stroke_mm, tail_mm = asked.travel_mm, max(behind_mm - asked.travel_mm, SHORTEST_MM)
    in_front_mm = plunger_ends(p)[0].outer_mm if p.screwed_tips is None else 0.0
    out_mm = max(stroke_mm, 0.0) + in_front_mm + CLEAR_OF_NOSE_MM + bushes.flange_mm(p)
    stem_mm = given(asked.stem_mm, up(asked.guide_mm + out_mm, 0.5))
    first = p.springs[0] if p.springs[0].inner is None else p.springs[0].inner
    inside_mm = first.outside_mm - 2 * first.wire_mm
    tail_diameter_mm = given(
        asked.tail_diameter_mm, max(down(inside_mm - TAIL_PLAY_MM, 0.5), LEAST_TAIL_MM)
    )
    return replace(
        p,
        plunger=replace(p.plunger, length_mm=stem_mm + asked.head_length_mm + tail_mm),
        shoulder=replace(
            asked,
            travel_mm=stroke_mm,
            stem_mm=stem_mm,
            tail_length_mm=tail_mm,
            tail_diameter_mm=tail_diameter_mm,
        ),
    )


def _nose(p: Parameters) -> Parameters:
    behind_mm = Limit.find("nose behind the screw hole").warn
    length_mm = up(max(SHORT_NOSE_MM, shank_of(p.mount).diameter_mm / 2), 0.5)
    if p.slot is not None:
        length_mm = up(position_mm(p) + hole_mm(p) / 2 + behind_mm, 0.5)
    shank = shank_of(p.mount)
    wide_mm = up(shank.diameter_mm + 2.0, 1.0)
    if shank.socket is not None:
        wide_mm = shank.diameter_mm
    if p.bush is not None:
        length_mm = max(length_mm, up(bushes.hole_depth_mm(p, p.bush) + BEHIND_BUSH_MM, 0.5))
        wide_mm = max(wide_mm, p.bush.flange_diameter_mm + 2 * p.body.edge_mm)
    return replace(
        p,
        body=replace(
            p.body,
            nose_diameter_mm=given(p.body.nose_diameter_mm, wide_mm),
            nose_length_mm=given(p.body.nose_length_mm, length_mm),
        ),
    )


def _mount(p: Parameters) -> Parameters:
    return replace(p, mount=_filled(p.mount, p))


def _filled(mount: Mount, p: Parameters) -> Mount:
    taper = taper_of(mount)
    small_mm = nan if taper is None else taper.small_diameter_mm
    match mount:
        case DrawbarMount() | OwnDrawbarMount() | R8Mount():
            thread = drawbar_thread_of(mount)
            engaged_mm = up(1.2 * Thread.find(thread).major_mm, 0.5)
            return replace(
                mount,
                drawbar_thread=thread,
                drawbar_engagement_mm=given(mount.drawbar_engagement_mm, engaged_mm),
            )
        case EjectedMount() | OwnEjectedMount():
            assert taper is not None
            deep_mm = Limit.find("rear end past the ejection depth").warn + 2.0
            past_mm = p.machine.ejection_depth_mm + deep_mm - taper.length_mm
            return replace(
                mount,
                extension_diameter_mm=given(
                    mount.extension_diameter_mm, down(small_mm - FREE_OF_SOCKET_MM, 0.1)
                ),
                extension_length_mm=given(mount.extension_length_mm, max(0.0, up(past_mm, 0.5))),
            )
        case CombinedMount():
            shank_mm = given(mount.diameter_mm, down(small_mm - FREE_OF_SOCKET_MM, 0.5))
            grip_mm = given(mount.grip_mm, GRIP_DIAMETERS * shank_mm)
            return replace(
                mount,
                diameter_mm=shank_mm,
                grip_mm=grip_mm,
                length_mm=given(mount.length_mm, up(grip_mm + BEHIND_GRIP_MM, 0.5)),
                tolerance=mount.tolerance or _shank_zone(shank_mm),
            )
        case TangMount():
            return mount
        case ArborTaperMount() | ArborThreadMount():
            if isinstance(mount, ArborThreadMount):
                stubs = {row.name: row.stub_mm for row in ChuckThread.rows()}
                stub_mm = stubs.get(mount.thread, up(Thread.find(mount.thread).major_mm, 1.0))
                mount = replace(mount, thread_length_mm=given(mount.thread_length_mm, stub_mm))
            assert p.disc is not None
            solid_mm = Limit.find("solid metal behind a blind bore").warn
            whole_mm = blind_end_mm(p, p.disc) + solid_mm + socket_of(mount).depth_mm
            length_mm = max(up(whole_mm - p.body.nose_length_mm, 0.5), SHORTEST_MM)
            return replace(mount, length_mm=given(mount.length_mm, length_mm))
        case StraightMount():
            mount = replace(
                mount,
                grip_mm=given(mount.grip_mm, GRIP_DIAMETERS * mount.diameter_mm),
                tolerance=mount.tolerance or _shank_zone(mount.diameter_mm),
            )
            return mount if mount.flats == "none" else _flatted(mount)


def _shank_zone(diameter_mm: float) -> str:
    """Return the zone of a shank that is gripped; "" where none is tabulated."""
    return "h8" if diameter_mm <= ZONED_MM else DERIVED_TEXT


def _flatted(mount: StraightMount) -> StraightMount:
    """Return a straight shank with its flats filled in."""
    size_mm = mount.diameter_mm
    row = next((row for row in ShankFlat.rows() if row.diameter_mm == size_mm), None)
    depth_mm, length_mm, middle_mm = (
        (
            up(FLAT_DEPTH_SHARE * size_mm, 0.1),
            up(FLAT_LENGTH_SHARE * size_mm, 0.5),
            0.5 * mount.grip_mm,
        )
        if row is None
        else (row.depth_mm, row.flat_mm, row.middle_mm)
    )
    return replace(
        mount,
        flat_depth_mm=given(mount.flat_depth_mm, round(depth_mm, 6)),
        flat_length_mm=given(mount.flat_length_mm, length_mm),
        flat_position_mm=given(mount.flat_position_mm, middle_mm),
    )


def _disc(p: Parameters) -> Parameters:
    """Settle how the tool goes together, and the disc of a blind bore; that leaves no plug."""
    asked, way = p.disc, p.body.assembly
    from_nose = asked is not None or p.bush is not None
    body = replace(p.body, assembly=way or ("front-loaded" if from_nose else "rear-loaded"))
    if asked is None:
        return replace(p, body=body)
    behind = isinstance(p.mount, ArborTaperMount | ArborThreadMount)
    disc = replace(
        asked,
        diameter_mm=given(asked.diameter_mm, pocket_mm(p) - LOOSE_DISC_MM),
        vent=asked.vent or ("side" if behind else "rear"),
    )
    return replace(p, body=body, disc=disc, plug=None)


def _plug(p: Parameters) -> Parameters:
    asked = p.plug
    if asked is None:
        return p
    bar = shank_of(p.mount).draw_bar
    if bar is not None:
        thread = given(asked.thread, bar.thread)
        behind_mm = bar.engaged_mm + ROOM_FOR_AIR_MM
    else:
        thread = given(asked.thread, _largest_thread(p))
        behind_mm = 0.5
    row = Thread.find(thread)
    length_mm = given(asked.length_mm, up(0.8 * row.major_mm, 0.5))
    behind_mm += second_plug_mm(replace(p, plug=replace(asked, length_mm=length_mm)))
    share = 0.15 if asked.drive == "slot" else 0.5
    return replace(
        p,
        plug=replace(
            asked,
            thread=thread,
            length_mm=length_mm,
            sunk_mm=given(asked.sunk_mm, behind_mm),
            drive_width_mm=given(asked.drive_width_mm, up(share * row.major_mm, 0.5)),
            drive_depth_mm=given(asked.drive_depth_mm, DRIVE_SHARE * length_mm),
        ),
    )


def _largest_thread(p: Parameters) -> str:
    """Return the largest coarse thread that leaves enough wall, else the smallest over the bore."""
    wall_mm = Limit.find("wall over the rear thread").warn
    shank = shank_of(p.mount)
    jaws_mm = Limit.find("wall under the jaws").warn if shank.gripped else 0.0
    outside_mm = shank.rear_diameter_mm
    coarse = [
        row
        for row in Thread.rows()
        if row.series == "coarse" and row.minor_greatest_mm >= pocket_mm(p)
    ]
    fitting = [
        row
        for row in coarse
        if (outside_mm - row.major_mm) / 2 >= wall_mm
        and (outside_mm - max(row.tapping_drill_mm, pocket_mm(p))) / 2 >= jaws_mm
    ]
    if fitting:
        return max(fitting, key=lambda row: row.major_mm).name
    ladder = coarse or [row for row in Thread.rows() if row.series == "coarse"][-1:]
    return ladder[0].name


def _crossing_length(p: Parameters) -> Parameters:
    """Settle the length of the set screw or of the pin."""
    if p.cross_pin is not None:
        pin = p.cross_pin
        nose_mm = p.body.nose_diameter_mm
        whole_mm = nose_mm - 2 * PIN_SUNK_MM
        if pin.support == "one wall":
            whole_mm = (nose_mm + p.plunger.diameter_mm) / 2 - PIN_SUNK_MM - PIN_SHORT_MM
        length_mm = given(pin.length_mm, max(down(whole_mm, 0.1), SHORTEST_MM))
        return replace(p, cross_pin=replace(pin, length_mm=length_mm))
    if p.screw_and_slot is None:
        return p
    asked, settled = p.screw_and_slot
    row = {screw.name: screw for screw in SetScrew.rows()}.get(asked.thread)
    if row is None or not is_derived(asked.length_mm):
        return p
    wall_mm = (p.body.nose_diameter_mm - p.bore.diameter_mm) / 2
    room_mm = wall_mm + settled.depth_mm - asked.gap_mm
    if asked.locking == "jam screw":
        room_mm -= JAM_SCREW_TURNS * Thread.find(asked.thread).pitch_mm
    stocked = row.lengths_mm(asked.point)
    fitting = [length for length in stocked if length <= room_mm + 1e-9]
    return replace(p, set_screw=replace(asked, length_mm=max(fitting) if fitting else stocked[0]))


def _small_parts(p: Parameters) -> Parameters:
    disc_mm = pocket_mm(p) - LOOSE_DISC_MM
    button, separator = p.button, p.separator
    if button is not None:
        button = replace(button, diameter_mm=given(button.diameter_mm, disc_mm))
    if separator is not None:
        separator = replace(separator, diameter_mm=given(separator.diameter_mm, disc_mm))
    return replace(p, button=button, separator=separator)


def _springs(p: Parameters) -> Parameters:
    springs = (with_coils(asked) for asked in p.springs)
    return replace(
        p,
        springs=tuple(
            each if each.inner is None else replace(each, inner=with_coils(each.inner))
            for each in springs
        ),
    )


def with_coils(asked: AnySpring) -> AnySpring:
    """Return a spring with both counts of coils as bought, and the rate that it has in use."""
    active, total = asked.active_coils, asked.total_coils
    if is_derived(active):
        active = coils.active_coils(total_coils=total, ends=asked.ends)
    else:
        total = coils.total_coils(active_coils=active, ends=asked.ends)
    counted = replace(asked, active_coils=active, total_coils=total)
    if not is_derived(asked.rate_N_per_mm):
        return counted
    rate_N_per_mm = spring.rate_N_per_mm(
        wire_mm=asked.wire_mm,
        mean_mm=asked.outside_mm - asked.wire_mm,
        active_coils=used(counted).active_coils,
        shear_modulus_MPa=SpringWire.shear_modulus_MPa(asked.wire, asked.wire_mm),
    )
    return replace(counted, rate_N_per_mm=rate_N_per_mm)


def _tap_reach(p: Parameters) -> Parameters:
    if p.plug is None:
        return p
    row = Thread.find(p.plug.thread)
    names = (f"ISO 529 {row.name}", f"ASME B94.9 {row.name.rsplit(' ', 1)[0]}")
    taps = {tap.name: tap for tap in Tap.rows()}
    tap = next((taps[name] for name in names if name in taps), None)
    if tap is None or not isnan(p.workshop.tap_reach_mm):
        return p
    passes = tap.shank_mm <= row.minor_mm - 0.2
    reach_mm = tap.overall_mm - GRIP_BEHIND_TAP_MM if passes else tap.thread_length_mm
    return replace(p, workshop=replace(p.workshop, tap_reach_mm=reach_mm))


def _taps(p: Parameters) -> Parameters:
    """Settle the end of a tap whose standard allows but one form."""

    def settled(tap: FollowedTap) -> FollowedTap:
        forms = Tap.find(f"{tap.standard} {tap.size}").shank_ends
        if tap.end or len(forms) > 1:
            return tap
        return replace(tap, end=cast("TapEnd", forms[0]))

    return replace(p, taps=tuple(settled(tap) for tap in p.taps))


def _holes(p: Parameters) -> Parameters:
    """Fill in the hole that each tap cuts, and its wrench."""
    return replace(p, taps=tuple(hole_of(tap) for tap in p.taps))


def hole_of(tap: FollowedTap) -> FollowedTap:
    """Return a tap with its hole and its wrench filled in."""
    thread = Thread.find(Tap.find(f"{tap.standard} {tap.size}").thread)
    usual = TapHandling.at("hand tap", thread.major_mm)
    depth_mm = given(tap.depth_mm, up(DEPTH_DIAMETERS * thread.major_mm, 0.5))
    below_mm = (tap.lead_threads + CLEAR_PITCHES) * thread.pitch_mm
    return replace(
        tap,
        depth_mm=depth_mm,
        drilled_mm=given(tap.drilled_mm, up(depth_mm + below_mm, 0.5)),
        wrench_arm_mm=given(tap.wrench_arm_mm, usual.arm_mm),
        wrench_g=given(tap.wrench_g, usual.wrench_g),
        advised_least_N=given(tap.advised_least_N, usual.force_least_N),
        advised_greatest_N=given(tap.advised_greatest_N, usual.force_greatest_N),
    )


def _found(p: Parameters) -> Parameters:
    """Fill in what the place to be found is like, and how well it is read."""
    asked = p.pick_up
    if asked is None:
        return p
    weak = WorkProperties.find(asked.work).yield_MPa
    return replace(
        p,
        pick_up=replace(
            asked,
            yield_MPa=given(asked.yield_MPa, weak),
            reading_mm=given(asked.reading_mm, READING_MM[asked.read_by]),
            form_mm=given(asked.form_mm, FORM_MM[asked.target]),
        ),
    )


def _supported(p: Parameters) -> Parameters:
    """Fill in the work that is to be steadied, and how far the plunger is pushed in against it."""
    asked = p.support
    if asked is None:
        return p
    row = WorkProperties.find(asked.work)
    volume_mm3 = pi / 4 * asked.diameter_mm**2 * asked.length_mm
    expansion_um_per_m_K = given(asked.expansion_um_per_m_K, row.expansion_um_per_m_K)
    growth_mm = expansion.growth_mm(
        length_mm=asked.length_mm,
        warmer_K=asked.warmer_K,
        expansion_um_per_m_K=expansion_um_per_m_K,
    )
    left_mm = travel_mm(p) - growth_mm - LEFT_WHEN_GROWN_MM
    return replace(
        p,
        support=replace(
            asked,
            mass_g=given(asked.mass_g, up(row.density_g_per_cm3 * volume_mm3 / 1000, 1.0)),
            expansion_um_per_m_K=expansion_um_per_m_K,
            set_mm=given(asked.set_mm, max(0.0, down(left_mm, 0.5))),
        ),
    )


def _alignment(p: Parameters) -> Parameters:
    """Fill in how far the machine and the mount are out of line."""
    asked, machine = p.alignment, p.machine
    upright, same = machine.spindle == "vertical", machine.drilled == "same setting"
    shared = upright and same and p.pick_up is None
    return replace(
        p,
        alignment=replace(
            asked,
            height_mm=given(asked.height_mm, (0.0 if same else 0.05) if upright else 0.04),
            side_mm=given(asked.side_mm, 0.0 if upright else 0.02),
            slope_mm=given(asked.slope_mm, 0.0 if shared else 0.02),
            seat_mm=given(asked.seat_mm, _seat_mm(p)),
            bore_mm=given(asked.bore_mm, p.making.runout_mm / 2),
            bore_slope_mm=given(asked.bore_slope_mm, p.making.runout_mm),
            hole_deg=given(asked.hole_deg, 0.05 if same else 0.3),
        ),
    )


def _seat_mm(p: Parameters) -> float:
    """Return how far off the tool may seat: in its socket, or at its tip by the holder."""
    holder, shank = holder_of(p.mount), shank_of(p.mount)
    if holder is None or shank.gripped is None:
        return 0.05 if shank.held == "gripped" else 0.01
    free_mm = shank.gripped.length_mm - shank.gripped.grip_mm
    if shank.taper is not None:
        free_mm += shank.taper.whole_mm
    return up(holder.off_mm(free_mm + p.body.nose_length_mm + out_mm(p)), 0.001)
